"""The app is refused with a sentence where it cannot be shown."""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from tui.terminal import UnfitTerminalError, need_terminal


@dataclass
class FakeStream:
    """A stream that says of itself what it is told to."""

    encoding: str | None = "utf-8"
    terminal: bool = True

    def isatty(self) -> bool:
        """Tell whether it plays a terminal."""
        return self.terminal


class ClosedStream(FakeStream):
    """A stream that was closed."""

    def isatty(self) -> bool:
        """Refuse, as closed files do."""
        raise ValueError("I/O operation on closed file")


GOOD = FakeStream()


@pytest.mark.parametrize(
    ("stdin", "stdout", "environment", "words"),
    [
        (FakeStream(terminal=False), GOOD, {}, "needs a terminal"),
        (GOOD, FakeStream(terminal=False), {}, "needs a terminal"),
        (None, GOOD, {}, "needs a terminal"),
        (ClosedStream(), GOOD, {}, "needs a terminal"),
        (GOOD, GOOD, {"TERM": "dumb"}, "TERM=dumb"),
        (GOOD, FakeStream(encoding="ascii"), {"TERM": "xterm"}, "encoding is ascii"),
        (GOOD, FakeStream(encoding=None), {"TERM": "xterm"}, "encoding is not known"),
        (GOOD, FakeStream(encoding="latin-1"), {}, "UTF-8"),
    ],
)
def test_an_unfit_terminal_is_refused_in_one_sentence(
    stdin: FakeStream | None,
    stdout: FakeStream | None,
    environment: dict[str, str],
    words: str,
) -> None:
    """With exit code 2 and a hint what to do instead."""
    with pytest.raises(UnfitTerminalError, match=words) as caught:
        need_terminal(stdin, stdout, GOOD, environment)
    assert caught.value.exit_code == 2
    assert caught.value.hint


@pytest.mark.parametrize("encoding", ["utf-8", "UTF8", "utf_8"])
@pytest.mark.parametrize("term", ["xterm-256color", "linux", ""])
def test_a_usual_terminal_is_taken(encoding: str, term: str) -> None:
    """Windows sets no TERM at all."""
    environment = {"TERM": term} if term else {}
    need_terminal(GOOD, FakeStream(encoding=encoding), GOOD, environment)


@pytest.mark.parametrize("stderr", [None, FakeStream(terminal=False)])
def test_a_redirected_standard_error_is_refused(stderr: FakeStream | None) -> None:
    """The screen is drawn there: a file would fill with it and the terminal stay empty."""
    with pytest.raises(UnfitTerminalError, match="standard error"):
        need_terminal(GOOD, GOOD, stderr, {})
