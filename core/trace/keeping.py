"""Recordings kept beside the log by what they hold: written once, checked, never altered."""

from __future__ import annotations

import contextlib
import hashlib
import os
import time
from pathlib import Path
from typing import TYPE_CHECKING, Final

from core.errors import InputError, LogError
from core.log.durable import explain, make_folder, sync_folder, write_durably, writer_mark
from core.trace.documents import TRACE_KIND, TraceDocument, TraceKind

if TYPE_CHECKING:
    from core.trace.traces import Trace

__all__ = ["is_kept_whole", "keep_bytes", "keep_file", "kept_path"]

_BLOCK: Final = 1 << 20
_SUFFIX: Final = ".keeping"  # of a copy that is being made
_ABANDONED: Final = 3600.0  # s after which such a copy was left behind


def kept_path(log: Path, document: TraceDocument | Trace) -> Path:
    """Return where the file of a recording is kept.

    Args:
        log: the log folder.
        document: of the recording, or the recording itself.
    """
    form = document.form if isinstance(document, TraceDocument) else document.kind
    return log / TRACE_KIND.folder / f"{document.sha256}.{form}"


def keep_file(log: Path, source: Path, trace: Trace) -> Path:
    """Copy a recording beside the log, if it is not there yet; return after it is on disk.

    Args:
        log: the log folder.
        source: the file that was read.
        trace: what was read from it.

    Returns:
        Where it is kept.

    Raises:
        InputError: the file has changed since it was read, or cannot be read any more.
        LogError: it cannot be written.
    """
    place = kept_path(log, trace)
    if place.is_file() and _hash_of(place) == trace.sha256:
        return place
    temporary = place.with_name(f".{place.name}.{os.getpid()}{_SUFFIX}")
    try:
        if not place.parent.is_dir():
            make_folder(place.parent)
        _sweep(place.parent)
        _copy(source, temporary, trace.sha256)
        temporary.replace(place)
        sync_folder(place.parent)
    except OSError as error:
        raise explain(error, f"{source.name} was not kept") from error
    finally:
        with contextlib.suppress(OSError):
            temporary.unlink(missing_ok=True)
    return place


def keep_bytes(log: Path, data: bytes, form: TraceKind) -> str:
    """Keep the bytes of a recording beside the log; return their SHA-256.

    Args:
        log: the log folder.
        data: of the whole file.
        form: of the recording.

    Raises:
        LogError: it cannot be written.
    """
    sha256 = hashlib.sha256(data).hexdigest()
    place = log / TRACE_KIND.folder / f"{sha256}.{form}"
    try:
        if not place.parent.is_dir():
            make_folder(place.parent)
        if not place.is_file() or _hash_of(place) != sha256:
            write_durably(place, data, writer_mark())
    except OSError as error:
        raise explain(error, f"{place.name} was not kept") from error
    return sha256


def _copy(source: Path, target: Path, sha256: str) -> None:
    """Copy a file and wait for the disk; refuse one whose content is another than was read."""
    digest = hashlib.sha256()
    try:
        file = source.open("rb")
    except OSError as error:
        raise InputError(f"{source} cannot be read any more ({error.strerror}).") from error
    with file, target.open("wb") as copy:
        while block := file.read(_BLOCK):
            digest.update(block)
            copy.write(block)
        copy.flush()
        os.fsync(copy.fileno())
    if digest.hexdigest() != sha256:
        raise InputError(f"{source} has changed since it was read.", "Read it again.")


def _sweep(folder: Path) -> None:
    """Remove copies that a process which ended in the middle left behind."""
    for left in folder.glob(f".*{_SUFFIX}"):
        with contextlib.suppress(OSError):
            if time.time() - left.stat().st_mtime > _ABANDONED:
                left.unlink()


def is_kept_whole(log: Path, document: TraceDocument | Trace) -> bool:
    """Tell whether the file of a recording is there and holds what it held.

    Args:
        log: the log folder.
        document: of the recording, or the recording itself.
    """
    try:
        return _hash_of(kept_path(log, document)) == document.sha256
    except LogError:
        return False


def _hash_of(path: Path) -> str:
    try:
        with path.open("rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except OSError as error:
        raise explain(error, f"{path.name} cannot be looked at") from error
