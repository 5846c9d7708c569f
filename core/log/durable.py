"""Files that are either wholly there or not at all, and still there after a power cut."""

from __future__ import annotations

import contextlib
import errno
import os
import re
import sys
import time
from collections.abc import Iterable
from pathlib import Path
from typing import Final

from core.errors import LogError, LogFolderError, LogFullError, LogReadOnlyError

if sys.platform == "darwin":
    import fcntl

__all__ = [
    "Stamp",
    "explain",
    "make_folder",
    "read_stamped",
    "stamp_of",
    "sweep",
    "sync_folder",
    "write_durably",
    "writer_mark",
]

Stamp = tuple[int, int, int]
"""What tells one state of a file from another: time of change in ns, size in bytes, inode."""

_FULL: Final = {errno.ENOSPC, errno.EFBIG, getattr(errno, "EDQUOT", errno.ENOSPC)}
_BARRED: Final = {errno.EROFS, errno.EACCES, errno.EPERM}
_MISPLACED: Final = {errno.ENOENT, errno.ENOTDIR, errno.EISDIR, errno.EEXIST, errno.ENODEV}
_TEMPORARY: Final = re.compile(r"\.[a-z0-9_.-]+\.(?P<mark>[0-9a-f]{8})\.saving")
_SYNCS_FOLDERS: Final = os.name != "nt"  # Windows makes names durable by itself
_MAY_BE_HELD: Final = os.name == "nt"  # a virus scanner may hold a fresh file there for a moment
_HOLD: Final = 0.02  # s, between two tries to replace a file that is held
_TRIES: Final = 10
_BINARY: Final[int] = getattr(os, "O_BINARY", 0)  # Windows: no translation of line ends


def writer_mark() -> str:
    """Return the mark that one writer puts in the names of its temporary files."""
    return os.urandom(4).hex()


def explain(error: OSError, what: str) -> LogError:
    """Return the refusal that says in plain words why the system would not do it.

    Args:
        error: what the system answered.
        what: what did not happen: ``sessions/x.json was not saved``.
    """
    reason = error.strerror or str(error)
    if error.errno in _FULL:
        return LogFullError(
            f"The disk is full: {what}.",
            "What was saved before is untouched. Make room, then do it again.",
        )
    if error.errno in _BARRED or isinstance(error, PermissionError):
        return LogReadOnlyError(
            f"The log cannot be written to: {what} ({reason}).",
            "Check the write-protect switch and the permissions of the log folder.",
        )
    if error.errno in _MISPLACED:
        return LogFolderError(
            f"The log folder is not as it should be: {what} ({reason}).",
            "Check that the disk or stick is in place and that no file stands in a folder's stead.",
        )
    return LogError(f"The disk answers with an error: {what} ({reason}).")


def write_durably(path: Path, data: bytes, mark: str) -> None:
    """Write a whole file so that it is on the disk when this returns.

    Temporary file in the same folder, flush, sync, replace, sync of the folder. When it fails, the
    file that stood there before is untouched.

    Raises:
        OSError: as the system gave it; see `explain`.
    """
    temporary = path.with_name(f".{path.name}.{mark}.saving")
    try:
        _write_synced(temporary, data)
        _replace(temporary, path)
    except OSError:
        with contextlib.suppress(OSError):
            temporary.unlink(missing_ok=True)
        raise
    sync_folder(path.parent)


def read_stamped(path: Path) -> tuple[bytes, Stamp]:
    """Return the bytes of a file and the stamp of exactly these bytes."""
    with path.open("rb") as file:
        stamp = stamp_of(os.fstat(file.fileno()))
        return file.read(), stamp


def stamp_of(status: os.stat_result) -> Stamp:
    """Return the stamp within a file's status; Windows tells the inode only now and then."""
    inode = 0 if os.name == "nt" else status.st_ino
    return status.st_mtime_ns, status.st_size, inode


def make_folder(folder: Path) -> None:
    """Make a folder (its parent must be there) that survives a power cut."""
    folder.mkdir(exist_ok=True)
    sync_folder(folder.parent)


def sync_folder(folder: Path) -> None:
    """Make the names within a folder durable."""
    if not _SYNCS_FOLDERS:
        return
    try:
        handle = os.open(folder, os.O_RDONLY)
    except PermissionError:
        return  # a folder above the log that may be passed through but not listed
    try:
        os.fsync(handle)
    except OSError as error:
        if error.errno not in {errno.EINVAL, errno.ENOTSUP}:  # some network shares cannot
            raise
    finally:
        os.close(handle)


def sweep(folder: Path, names: Iterable[str], mark: str) -> None:
    """Remove temporary files that a writer other than the one of this mark left behind.

    Args:
        folder: where they are.
        names: of files in it, temporary or not.
        mark: of the writer that is at work now.
    """
    for name in names:
        found = _TEMPORARY.fullmatch(name)
        if found and found["mark"] != mark:
            with contextlib.suppress(OSError):
                (folder / name).unlink()


def _write_synced(path: Path, data: bytes) -> None:
    """Write a file and wait until the disk has it."""
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC | _BINARY, 0o666)
    try:
        rest = memoryview(data)
        while rest:
            rest = rest[os.write(handle, rest) :]
        _flush(handle)
    finally:
        os.close(handle)


def _flush(handle: int) -> None:
    """Wait until the disk has an open file; on macOS only F_FULLFSYNC empties the disk's cache."""
    if sys.platform == "darwin":
        with contextlib.suppress(OSError):  # not every file system knows it
            fcntl.fcntl(handle, fcntl.F_FULLFSYNC)
            return
    os.fsync(handle)


def _replace(source: Path, target: Path) -> None:
    """Put a file in another's place in one step."""
    for left in reversed(range(_TRIES)):
        try:
            source.replace(target)
        except PermissionError:
            if not _MAY_BE_HELD or left == 0:
                raise
            time.sleep(_HOLD)
        else:
            return
