"""One line on a terminal that says how far a long file is read, and goes away again."""

from __future__ import annotations

import contextlib
import time
from typing import Final, TextIO

from core.report.width import cut, visible

__all__ = ["ProgressLine"]

_PATIENCE: Final = 0.5  # s before anything is shown
_EVERY: Final = 0.1  # s from one change of the line to the next
_WIDTH: Final = 79


class ProgressLine:
    """Told how many bytes of how many are read; shows it where somebody can see it.

    Args:
        stream: standard error; None or no terminal: nothing is ever shown.
        name: of the file.
    """

    def __init__(self, stream: TextIO | None, name: str) -> None:
        self._stream = stream if _is_terminal(stream) else None
        self._name = name
        self._began = self._last = time.monotonic()
        self._shown = False

    def __call__(self, done: int, total: int) -> None:
        """Show how far it is, when it takes long."""
        now = time.monotonic()
        if self._stream is None or now - self._began < _PATIENCE or now - self._last < _EVERY:
            return
        self._last = now
        share = f"{100 * done // max(total, 1)} %"
        self._write(cut(visible(f"Reading {self._name}: {share}"), _WIDTH).ljust(_WIDTH))
        self._shown = True

    def clear(self) -> None:
        """Take the line away."""
        if self._shown:
            self._write(" " * _WIDTH)
            self._write("")
            self._shown = False

    def _write(self, line: str) -> None:
        if self._stream is None:
            return
        with contextlib.suppress(OSError, UnicodeEncodeError):
            self._stream.write(f"\r{line}")
            self._stream.flush()


def _is_terminal(stream: TextIO | None) -> bool:
    try:
        return stream is not None and stream.isatty()
    except ValueError:  # closed in the meantime
        return False
