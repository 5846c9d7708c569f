"""The terminal as Textual drives it; when it goes away, what is still to be drawn is let go."""

from __future__ import annotations

from typing import IO, Any

from textual.drivers.linux_driver import LinuxDriver

__all__ = ["TerminalDriver"]


class _UntilItIsGone:
    """Standard error, which the screen is drawn on; after the first refusal it takes anything.

    A closed window answers every write with an error. The thread that writes would end by it, and
    the app, which hands it its last words, would wait for it without end.

    Args:
        file: what is written to.
    """

    def __init__(self, file: IO[str]) -> None:
        self._file = file
        self._is_gone = False

    def write(self, text: str) -> int:
        """Write it, if there is still somebody to read it; return its length."""
        if not self._is_gone:
            try:
                self._file.write(text)
            except (OSError, ValueError):
                self._is_gone = True
        return len(text)

    def flush(self) -> None:
        """Send what was written, if there is still somebody to read it."""
        if not self._is_gone:
            try:
                self._file.flush()
            except (OSError, ValueError):
                self._is_gone = True

    def __getattr__(self, name: str) -> Any:
        """Return all else as the file has it."""
        return getattr(self._file, name)


class TerminalDriver(LinuxDriver):
    """Textual's own driver for Linux and macOS, which outlives the window it draws on."""

    def __init__(self, *arguments: Any, **options: Any) -> None:
        super().__init__(*arguments, **options)
        self._file: Any = _UntilItIsGone(self._file)
