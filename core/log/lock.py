"""One writer at a time: a lock file that says which process on which computer it is."""

from __future__ import annotations

import contextlib
import errno
import os
import time
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import msgspec

from core.clock import Clock
from core.log.processes import is_running, start_mark

__all__ = ["LOCK_NAME", "Owner", "WriterLock"]

LOCK_NAME: Final = "log.lock"

_SETTLED: Final = 10.0  # s; a lock unreadable for longer was cut off by a crash, not just begun
_TRIES: Final = 20  # with a pause of 10 ms each: a lock that is being written or passed on
_PAUSE: Final = 0.01  # s


class _Written(msgspec.Struct):
    """What stands in a lock file."""

    pid: int
    host: str
    started: str
    since: str
    mark: str


@dataclass(frozen=True)
class Owner:
    """Who writes to a log."""

    pid: int
    """Number of the process; 0 if the lock cannot be read."""
    host: str
    """Name of the computer."""
    started: str
    """What tells the process from a later one of the same number; empty if unknown."""
    since: str
    """When it took the lock, local time with offset (ISO 8601)."""

    @property
    def sentence(self) -> str:
        """One sentence that says who has the log open."""
        if not self.pid:
            return f"Another process seems to have the log open (its {LOCK_NAME} is unreadable)."
        where = "this computer" if self.host == _host() else f"the computer {self.host}"
        when = self.since.replace("T", " ")[:16]
        return f"Process {self.pid} on {where} has had the log open since {when}."

    @property
    def hint(self) -> str:
        """What can be done about it."""
        if self.pid and self.host == _host():
            return "Close it there, then open the log again."
        return f"If nothing there has the log open any more, delete {LOCK_NAME} in its folder."


class WriterLock:
    """The lock of one log folder, held or not.

    Args:
        folder: the log folder.
        clock: tells since when.
    """

    def __init__(self, folder: Path, clock: Clock) -> None:
        self._path = folder / LOCK_NAME
        self._clock = clock
        self._ours = b""
        self.was_stale = False
        """Whether the lock was taken over from a writer that ended without giving it back."""

    def take(self) -> Owner | None:
        """Take the lock; return who has it if it is held, nothing if it is ours now.

        Raises:
            OSError: the folder cannot be written to.
        """
        ours = self._statement()
        for _ in range(_TRIES):
            if self._create(ours):
                self._ours = ours
                return None
            held = self._read()
            if held is None:
                continue
            owner = _owner(held)
            if owner is not None and not _is_stale(owner):
                return owner
            if owner is not None or self._is_settled():
                self._push_aside(held)
                self.was_stale = True
            else:
                time.sleep(_PAUSE)
        return Owner(0, "", "", "")

    def still_ours(self) -> bool:
        """Tell whether the lock is ours; one that was deleted by hand is taken again.

        Raises:
            OSError: the folder cannot be read or written to.
        """
        held = self._read()
        if held is None and self._ours:
            return self._create(self._ours)
        return bool(self._ours) and held == self._ours

    def release(self) -> None:
        """Give the lock back if it is ours."""
        with contextlib.suppress(OSError):
            if self._ours and self._read() == self._ours:
                self._path.unlink()
        self._ours = b""

    def _statement(self) -> bytes:
        """Return the text that says this process holds the lock."""
        pid = os.getpid()
        since = self._clock().isoformat(timespec="seconds")
        written = _Written(pid, _host(), start_mark(pid), since, mark=os.urandom(4).hex())
        return msgspec.json.encode(written) + b"\n"

    def _create(self, ours: bytes) -> bool:
        """Make the lock file if there is none; tell whether it was made."""
        try:
            handle = os.open(self._path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666)
        except FileExistsError:
            return False
        try:
            if os.write(handle, ours) < len(ours):
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
            os.fsync(handle)
        except OSError:
            self._path.unlink(missing_ok=True)
            raise
        finally:
            os.close(handle)
        return True

    def _read(self) -> bytes | None:
        """Return what stands in the lock file; nothing if there is none."""
        try:
            return self._path.read_bytes()
        except FileNotFoundError:
            return None

    def _is_settled(self) -> bool:
        """Tell whether the lock file has not been touched for a while."""
        try:
            return time.time() - self._path.stat().st_mtime > _SETTLED
        except FileNotFoundError:
            return False

    def _push_aside(self, stale: bytes) -> None:
        """Remove the lock that was judged stale, and no other that came in its place meanwhile."""
        grave = self._path.with_name(f"{LOCK_NAME}.{os.urandom(4).hex()}")
        with contextlib.suppress(FileNotFoundError):
            self._path.rename(grave)
            if grave.read_bytes() == stale:
                grave.unlink()
            else:
                grave.rename(self._path)


def _owner(held: bytes) -> Owner | None:
    """Return who wrote a lock; nothing if it cannot be read."""
    try:
        written = msgspec.json.decode(held, type=_Written)
    except (msgspec.DecodeError, UnicodeDecodeError):
        return None
    return Owner(written.pid, written.host, written.started, written.since)


def _is_stale(owner: Owner) -> bool:
    """Tell whether the owner is gone: its process ended, or its number belongs to another now."""
    if owner.host != _host():
        return False
    if not is_running(owner.pid):
        return True
    now = start_mark(owner.pid)
    return bool(owner.started and now) and owner.started != now


def _host() -> str:
    """Return the name of this computer."""
    uname = getattr(os, "uname", None)  # Windows has none
    return str(uname().nodename) if uname else os.environ.get("COMPUTERNAME", "")
