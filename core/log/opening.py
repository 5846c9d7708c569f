"""Opens a log folder or refuses: is it there, is it a log, what does its ``log.json`` say."""

from __future__ import annotations

import random
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

import msgspec

from core.clock import Clock
from core.errors import LogError, LogFolderError, NewerFormatError
from core.log.aside import ASIDE_FOLDER, move_aside
from core.log.documents import Problem
from core.log.durable import explain, make_folder, sync_folder, write_durably, writer_mark
from core.log.ids import new_id
from core.log.lock import LOCK_NAME, Owner, WriterLock

__all__ = ["FOLDER_FORMAT", "LOG_FILE", "Opened", "open_folder"]

LOG_FILE: Final = "log.json"

FOLDER_FORMAT: Final = 1
"""Format of the folder as a whole that is written today; each kind of document has its own."""

_ANYWAY: Final = "the documents are used anyway"
_CHOOSE: Final = "Choose an empty or a new folder for a new log, or the folder of an old one."


class _LogFile(msgspec.Struct, frozen=True):
    """What stands in ``log.json``."""

    format: int
    id: str


@dataclass
class Opened:
    """What came of opening a log folder."""

    id: str = ""
    """Name of the log, the same in all its copies; empty if its ``log.json`` cannot be read."""
    lock: WriterLock | None = None
    """The writer's lock, if it is ours."""
    owner: Owner | None = None
    """Who else has it."""
    reason: str = ""
    """Why nothing can be saved; empty if it can."""
    hint: str = ""
    """What can be done about that."""
    problems: list[Problem] = field(default_factory=list)
    """What was found wrong with the folder."""


def open_folder(
    folder: Path,
    kinds: Sequence[str],
    clock: Clock,
    rng: random.Random | None,
    *,
    read_only: bool,
    create: bool,
    parents: bool,
) -> Opened:
    """Open a log folder to write, or to read only when it has to be or is asked for.

    Args:
        folder: the log folder.
        kinds: names of the folders in it.
        clock: tells the time.
        rng: source of the tail of a new log's id; None: the system's own.
        read_only: take no lock and write nothing.
        create: make the log if it is missing.
        parents: make the folders above it as well.

    Raises:
        LogFolderError: missing, not a log, or no permission.
        NewerFormatError: written by a newer version.
        LogFullError: there is no room to make it.
    """
    create = create and not read_only
    _make_folder(folder, create=create, parents=parents)
    said, problem = _read_log_file(folder)
    if said is None and problem is None:
        problem = _look_without_log_file(folder, kinds)
        if problem is None and not create:
            raise LogFolderError(f"There is no log in {folder}.", "Check the path.")
    opened = Opened(said.id if said else "", problems=[problem] if problem else [])
    if read_only:
        opened.reason = "The log was opened to read only."
        return opened
    _take_lock(folder, clock, opened, must_write=said is None and problem is None)
    if said is None and opened.lock is not None:
        try:
            opened.id = _make_log_file(folder, kinds, new_id(clock, rng))
        except LogError:
            opened.lock.release()
            raise
    return opened


def _take_lock(folder: Path, clock: Clock, opened: Opened, *, must_write: bool) -> None:
    """Take the writer's lock, or say why the log is open to read only."""
    lock = WriterLock(folder, clock)
    try:
        opened.owner = lock.take()
    except OSError as error:
        refusal = explain(error, "the log is open to read only")
        if must_write:
            raise explain(error, f"no log was made in {folder}") from error
        opened.reason, opened.hint = refusal.message, refusal.hint
        return
    if opened.owner is None:
        opened.lock = lock
    else:
        opened.reason, opened.hint = opened.owner.sentence, opened.owner.hint


def _make_folder(folder: Path, *, create: bool, parents: bool) -> None:
    """See to it that a log folder is there.

    Args:
        folder: where.
        create: make it if it is missing.
        parents: make the folders above as well.

    Raises:
        LogFolderError: it is missing, is a file, or cannot be made.
    """
    try:
        if folder.is_dir():
            return
        if folder.exists():
            raise LogFolderError(f"{folder} is a file, and a log is a folder.", _CHOOSE)
        if not create:
            raise LogFolderError(f"There is no log folder {folder}.", "Check the path.")
        if parents:
            folder.parent.mkdir(parents=True, exist_ok=True)
        elif not folder.parent.is_dir():
            raise LogFolderError(
                f"There is no folder {folder.parent} to make the log folder {folder.name} in.",
                "Check the path and that the disk or stick is in place, or make that folder first.",
            )
        make_folder(folder)
    except OSError as error:
        raise _no_folder(folder, error) from error


def _read_log_file(folder: Path) -> tuple[_LogFile | None, Problem | None]:
    """Return what ``log.json`` says, or what is wrong with it; neither if there is none.

    Raises:
        NewerFormatError: the log was written by a newer version.
        LogFolderError: it may not be read.
    """
    try:
        data = (folder / LOG_FILE).read_bytes()
    except FileNotFoundError:
        return None, None
    except OSError as error:
        raise _no_folder(folder, error) from error
    try:
        said = msgspec.json.decode(data, type=_LogFile)
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError):
        said = _LogFile(0, "")
    if said.format > FOLDER_FORMAT:
        upto = f"this version reads up to {FOLDER_FORMAT}"
        raise NewerFormatError(
            f"The log in {folder} has format {said.format}, and {upto}.",
            "Nothing was changed. A newer version of the tool opens it.",
        )
    if said.format == FOLDER_FORMAT and said.id:
        return said, None
    return None, Problem(LOG_FILE, "", f"{LOG_FILE} cannot be read; {_ANYWAY}.")


def _look_without_log_file(folder: Path, kinds: Iterable[str]) -> Problem | None:
    """Return the problem that a log has lost its ``log.json``; nothing for an empty folder.

    Raises:
        LogFolderError: the folder holds other things than a log does.
    """
    try:
        names = {path.name for path in folder.iterdir() if not path.name.startswith(".")}
    except OSError as error:
        raise _no_folder(folder, error) from error
    if names.intersection(kinds):
        return Problem(LOG_FILE, "", f"{LOG_FILE} is missing; {_ANYWAY}.")
    if names - {LOCK_NAME, ASIDE_FOLDER}:
        raise LogFolderError(f"{folder} holds other files and no {LOG_FILE}: no log.", _CHOOSE)
    return None


def _make_log_file(folder: Path, kinds: Iterable[str], id_: str) -> str:
    """Write ``log.json`` and make the folders of the kinds; return the log's id.

    If another process made it in the meantime, that stands; one that cannot be read is put aside.

    Raises:
        LogError: it cannot be written.
    """
    said, _ = _read_log_file(folder)
    if said is not None:
        return said.id
    said, path = _LogFile(FOLDER_FORMAT, id_), folder / LOG_FILE
    try:
        for name in kinds:
            if not (folder / name).exists():
                (folder / name).mkdir()
        sync_folder(folder)
        if path.exists():
            move_aside(folder, path)
        write_durably(path, msgspec.json.format(msgspec.json.encode(said)) + b"\n", writer_mark())
    except OSError as error:
        raise explain(error, f"{LOG_FILE} was not written in {folder}") from error
    return said.id


def _no_folder(folder: Path, error: OSError) -> LogError:
    """Return the refusal of a folder that the system will not let us use."""
    known = explain(error, f"the log folder {folder} cannot be used")
    if isinstance(error, PermissionError):
        return LogFolderError(f"There is no permission to use the log folder {folder}.", known.hint)
    return known
