"""Whether there is a terminal that can show the app; asked before the screen is taken over."""

from __future__ import annotations

import codecs
from collections.abc import Mapping
from typing import Protocol

from core.errors import UsageError

__all__ = ["UnfitTerminalError", "need_terminal"]

_DUMB = ("dumb", "unknown")  # TERM of terminals that know no cursor movement


class UnfitTerminalError(UsageError):
    """The app cannot be shown here; the commands that print text still work."""

    title = "No screen for the app"


class Stream(Protocol):
    """What is asked of standard input and output."""

    @property
    def encoding(self) -> str | None:
        """Name of the encoding."""

    def isatty(self) -> bool:
        """Tell whether a terminal is at the other end."""


_HINT = "The commands list, show, compare and sheet print plain text."


def need_terminal(
    stdin: Stream | None,
    stdout: Stream | None,
    stderr: Stream | None,
    environment: Mapping[str, str],
) -> None:
    """Return if a full screen can be shown.

    Args:
        stdin: standard input; None when it is closed.
        stdout: standard output; None when it is closed.
        stderr: standard error, which the screen is drawn on; None when it is closed.
        environment: the variables of the process, for ``TERM``.

    Raises:
        UnfitTerminalError: no terminal, one without cursor movement, or one that is not UTF-8.
    """
    if not all(_is_terminal(stream) for stream in (stdin, stdout, stderr)):
        raise UnfitTerminalError(
            "The app needs a terminal: input, output or standard error is not one.", _HINT
        )
    if environment.get("TERM", "").lower() in _DUMB:
        name = environment["TERM"]
        raise UnfitTerminalError(f"This terminal (TERM={name}) cannot move its cursor.", _HINT)
    encoding = (stdout.encoding if stdout else "") or ""
    if not _is_utf8(encoding):
        raise UnfitTerminalError(
            f"The terminal's encoding is {encoding or 'not known'}, and the app needs UTF-8.",
            "Set LANG to a UTF-8 locale such as C.UTF-8, or PYTHONUTF8=1.",
        )


def _is_terminal(stream: Stream | None) -> bool:
    try:
        return stream is not None and stream.isatty()
    except ValueError:  # closed in the meantime
        return False


def _is_utf8(encoding: str) -> bool:
    try:
        return codecs.lookup(encoding).name == "utf-8"
    except LookupError:
        return False
