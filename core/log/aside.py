"""Puts files out of the way under their own names, so that nothing is overwritten or deleted."""

from __future__ import annotations

from itertools import chain, count
from pathlib import Path
from typing import Final

from core.log.durable import make_folder, sync_folder, write_durably

__all__ = ["ASIDE_FOLDER", "copy_aside", "keep_beside", "missing_since", "move_aside"]

ASIDE_FOLDER: Final = "aside"


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


def missing_since(root: Path) -> tuple[str, ...]:
    """Return the paths in the log of files that were put aside and have no other in their place."""
    aside = root / ASIDE_FOLDER
    try:
        files = sorted(path for path in aside.rglob("*.json") if path.is_file())
    except OSError:
        return ()
    inner = (path.relative_to(aside) for path in files)
    return tuple(f"{ASIDE_FOLDER}/{p.as_posix()}" for p in inner if not (root / p).exists())


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
