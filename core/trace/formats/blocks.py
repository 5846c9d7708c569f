"""A file in blocks of whole lines, hashed on the way; bounded in memory whatever it holds."""

from __future__ import annotations

import hashlib
import os
import stat
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Final

from core.errors import InputError
from core.trace.formats.rejects import Rejects

__all__ = ["LARGEST", "FileBlocks", "Progress"]

Progress = Callable[[int, int], None]
"""Told from time to time how many bytes of how many are read."""

LARGEST: Final = 500_000_000
"""Bytes of the largest file that is read: some 70 hours of sentences at 25 per second."""

_BLOCK: Final = 1 << 20
_LONGEST_LINE: Final = 1 << 16  # bytes; no recording has a longer one
_ENDS: Final = (b"\n", b"\r")


class FileBlocks:
    """One file to be read once, from its start to its end.

    Args:
        path: the file.
        progress: told how far it is, once a block.

    Raises:
        InputError: there is no such file, it is none, is empty or larger than `LARGEST`, or it may
            not be read.
    """

    def __init__(self, path: Path, progress: Progress | None = None) -> None:
        self.path = path
        self.name = str(path)
        self.size = _checked_size(path)
        self.ends_open = False
        """Whether the last line has no line end; known once the lines are read."""
        self._progress = progress
        self._hash = hashlib.sha256()

    @property
    def sha256(self) -> str:
        """Of the bytes read so far; of the whole file once it is read."""
        return self._hash.hexdigest()

    def head(self, count: int = _LONGEST_LINE) -> bytes:
        """Return the first bytes.

        Raises:
            InputError: it cannot be read.
        """
        try:
            with self.path.open("rb") as file:
                return file.read(count)
        except OSError as error:
            raise _unreadable(self.path, error) from error

    def raw(self) -> Iterator[bytes]:
        """Yield the bytes block by block.

        Raises:
            InputError: it cannot be read, or grows while it is read.
        """
        done = 0
        try:
            with self.path.open("rb") as file:
                while block := file.read(_BLOCK):
                    done += len(block)
                    if done > LARGEST:
                        raise InputError(f"{self.name} is longer than it said it was.")
                    self._hash.update(block)
                    yield block
                    if self._progress is not None:
                        self._progress(done, self.size)
        except OSError as error:
            raise _unreadable(self.path, error) from error
        self.size = done

    def lines(self, rejects: Rejects) -> Iterator[tuple[bytes, int]]:
        """Yield blocks that end with a line end, each with the number of its first line.

        Line ends are ``\\n``, ``\\r`` or both, also mixed. A line longer than any recording has is
        left out.

        Args:
            rejects: takes the lines that are too long.
        """
        rest, number, skipping = b"", 1, False
        for block in self.raw():
            data = rest + block
            cut = _last_end(data)
            if cut == 0:
                if len(data) > _LONGEST_LINE and not skipping:
                    rejects.add("too long", number, "The line is longer than any recording has.")
                    skipping = True
                rest = b"" if skipping else data
                continue
            whole, rest = data[:cut], data[cut:]
            if skipping:
                first = _first_end(whole)
                whole, skipping, number = whole[first:], False, number + 1
            if whole:
                yield whole, number
                number += _count(whole)
        self.ends_open = bool(rest) and not rest.endswith(b"\r")
        if rest and not skipping:
            yield rest + b"\n", number


def _checked_size(path: Path) -> int:
    try:
        status = path.stat()
    except FileNotFoundError:
        raise InputError(f"There is no file {path}.", "Check the path.") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", "") or str(error)
        raise InputError(f"{path} cannot be read ({reason}).") from error
    if stat.S_ISDIR(status.st_mode):
        raise InputError(f"{path} is a folder, and a file is wanted.")
    if not stat.S_ISREG(status.st_mode):
        raise InputError(f"{path} is a pipe or a device, and a file is wanted.")
    if status.st_size == 0:
        raise InputError(f"{path} is empty.")
    if status.st_size > LARGEST:
        raise InputError(
            f"{path} has {status.st_size // 1_000_000:,} MB, more than any recording:"
            " nothing was read.",
            f"Up to {LARGEST // 1_000_000} MB are read.",
        )
    return status.st_size


def _unreadable(path: Path, error: OSError) -> InputError:
    return InputError(f"{path} cannot be read ({error.strerror or os.strerror(error.errno or 5)}).")


def _last_end(data: bytes) -> int:
    """Where the last whole line ends; a ``\\r`` at the very end may be half of a line end."""
    cut = max(data.rfind(end, 0, len(data) - 1 if end == b"\r" else len(data)) for end in _ENDS)
    if cut + 1 < len(data) and data[cut : cut + 2] == b"\r\n":
        cut += 1
    return cut + 1


def _first_end(data: bytes) -> int:
    """Where the second line begins."""
    found = [place for end in _ENDS if (place := data.find(end)) >= 0]
    cut = min(found)
    return cut + 2 if data[cut : cut + 2] == b"\r\n" else cut + 1


def _count(data: bytes) -> int:
    """How many line ends a block has."""
    import numpy as np  # lazy: 0.1 s; counts a hundred times faster than bytes do

    block = np.frombuffer(data, np.uint8)
    feeds, returns = block == 10, block == 13
    pairs = np.count_nonzero(returns[:-1] & feeds[1:])
    return int(np.count_nonzero(feeds) + np.count_nonzero(returns) - pairs)
