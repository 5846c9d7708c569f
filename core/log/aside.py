"""Puts files out of the way under their own names, so that nothing is overwritten or deleted."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import chain, count
from pathlib import Path
from typing import Final

from core.log.documents import Problem
from core.log.durable import make_folder, sync_folder, write_durably

__all__ = ["ASIDE_FOLDER", "copy_aside", "keep_beside", "move_aside", "put_aside"]

ASIDE_FOLDER: Final = "aside"

_GONE: Final = (
    "was put aside, as it could not be read, and is not in the log."
    " Mend it and put it back, or delete it."
)


def move_aside(root: Path, file: Path) -> str:
    """Move a file of the log to the same place under ``aside``; return its new path in the log.

    Raises:
        OSError: it cannot be moved and is where it was.
    """
    target = _free_place(root, file)
    file.rename(target)
    sync_folder(target.parent)
    sync_folder(file.parent)
    return target.relative_to(root).as_posix()


def copy_aside(root: Path, file: Path, data: bytes, mark: str) -> str:
    """Keep bytes that a file held under ``aside``; return their path in the log.

    Raises:
        OSError: they cannot be written.
    """
    target = _free_place(root, file)
    write_durably(target, data, mark)
    return target.relative_to(root).as_posix()


def keep_beside(file: Path, data: bytes, found: int, mark: str) -> None:
    """Keep bytes of an older format beside their file: ``<id>.json.format1``.

    Raises:
        OSError: they cannot be written.
    """
    first = file.with_name(f"{file.name}.format{found}")
    later = (file.with_name(f"{first.name}.{number}") for number in count(2))
    for target in chain([first], later):
        if not target.exists():
            write_durably(target, data, mark)
            return
        if target.read_bytes() == data:
            return


def put_aside(root: Path, known: Iterable[Problem] = ()) -> tuple[Problem, ...]:
    """Return a problem for each file that was put aside at some time and has none in its place.

    Args:
        root: the log folder.
        known: problems that are told anyway; what they name is not told again.
    """
    aside = root / ASIDE_FOLDER
    try:
        files = sorted(path for path in aside.rglob("*.json") if path.is_file())
    except OSError:
        return ()
    told = " ".join(problem.sentence for problem in known)
    inner = [path.relative_to(aside) for path in files]
    names = [f"{ASIDE_FOLDER}/{path.as_posix()}" for path in inner if not (root / path).exists()]
    return tuple(Problem(name, "", f"{name} {_GONE}") for name in names if name not in told)


def _free_place(root: Path, file: Path) -> Path:
    """Return a path under ``aside`` that no file has, in a folder that is there."""
    inner = file.relative_to(root)
    folder = root / ASIDE_FOLDER
    for part in ("", *inner.parent.parts):
        folder /= part
        make_folder(folder)
    first = folder / inner.name
    later = (folder / f"{inner.name}.{number}" for number in count(2))
    return next(place for place in chain([first], later) if not place.exists())
