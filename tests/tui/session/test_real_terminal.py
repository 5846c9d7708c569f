"""The whole story in the real program: from the last sheet to the close-out, then a kill.

The command runs in a terminal of its own, typed at and looked at as a person would; nothing of it
is replaced. Only the log it starts on is made beforehand: one earlier session of ten attempts.
"""

from __future__ import annotations

import contextlib
import os
import sys
import time
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from core.clock import ManualClock, local_now
from core.session import Book, CloseOut, Session, close, fill, merged, put_on
from core.setup import find_slot
from tests.making import ready_session, typed
from tests.tui.session.terminal import (
    Terminal,
    environment,
    program,
    ready_home,
    wait_for_end,
)

pytestmark = [
    pytest.mark.skipif(sys.platform == "win32", reason="there is no pty to run it in"),
    pytest.mark.timeout(300),
]

_SHEET = {
    "bore": "70",
    "stroke": "54",
    "rod": "forged rod",
    "rod_rpm_limit": "6500 stated",
    "flywheel": "steel flywheel",
    "flywheel_rpm_limit": "8000 stated",
    "planned_rpm": "6500",
    "valve_train_rpm_limit": "6800 stated",
    "clutch": "Pepper",
    "clutch_rpm_limit": "7000 stated",
    "engine_sprocket": "12T",
    "final_sprocket": "60T",
    "circumference": "1.06",
    "throttle_springs": "2",
}
_HELD = 0.4  # s from one answer to the next: the same key sooner is taken for a held one
_BACK_AND_FORTH = (
    ("850", "W"), ("831", "E"), ("846", "W"), ("828", "E"),
    ("852", "W"), ("835", "E"), ("910", "W"), ("827", "E"),
)  # fmt: skip


def _last_week(folder: Path) -> Path:
    """Make a log with one closed session of ten attempts on a sheet of fourteen slots."""
    clock = ManualClock(local_now() - timedelta(days=7))
    folder.mkdir()
    with Book.open(folder / "log", clock=clock) as book:
        session = ready_session(book, clock)
        readings = session.sheets[-1].readings
        filled = merged(
            tuple(
                fill(book, session.machine, readings, find_slot(slot).id, text)
                for slot, text in _SHEET.items()
            )
        )
        session = put_on(book, session, filled)
        times = (8.42, 8.21, 8.39, 8.25, 8.45, 8.22, 8.40, 8.19, 8.41, 8.24)
        session = typed(session, clock, times)
        book.save(close(session, CloseOut(learnt="baseline", decision="keep"), clock()))
    return folder / "log"


@pytest.fixture
def terminal(tmp_path: Path) -> Iterator[Terminal]:
    """Start the command on that log, in a terminal of 80 x 24."""
    log = _last_week(tmp_path / "season")
    started = Terminal(program(log, environment(ready_home(tmp_path / "home"))))
    yield started
    with contextlib.suppress(ProcessLookupError):
        started.kill()
    wait_for_end()
    started.close()


def _only(log: Path, label: str) -> Session:
    """Read a session from the files."""
    with Book.open(log, read_only=True) as book:
        assert not book.log.problems
        return book.session(label)


def _answer_checks(terminal: Terminal) -> int:
    """Answer check after check as each one asks, until no stop is open; return how many."""
    answers = 0
    while "● no stop check is open" not in (shown := terminal.rest()):
        before = shown.partition(" stop check")[0][-3:]
        if "enter, then words" in shown:
            terminal.type_in("\r")
            terminal.wait_for("s as last time: told")
            terminal.type_in("s")
        elif "type the number" in shown:
            number = "60" if "teeth counted" in shown and "(teeth)" in shown else "200"
            number = "66" if "Teeth of the final sprocket" in shown else number
            number = "5900" if "(rpm)" in shown else "10" if "(mm)" in shown else number
            terminal.type_in(number)
            terminal.wait_for(f"{number} enter Take it")
            terminal.type_in("\r")
        else:
            terminal.type_in("d")
        answers += 1
        _wait_for_other(terminal, before)
        time.sleep(_HELD / 2)
        assert answers < 90, terminal.screen.text
    return answers


def _wait_for_other(terminal: Terminal, before: str) -> None:
    """Wait until the number of open stops is another one."""
    until = time.monotonic() + 20
    while time.monotonic() < until:
        shown = terminal.look(0.02)
        if shown.partition(" stop check")[0][-3:] != before:
            return
    raise AssertionError(terminal.screen.text)


def test_from_the_last_sheet_to_the_close_out_and_through_a_kill(
    terminal: Terminal, tmp_path: Path
) -> None:
    """New session, one part swapped, its checks, eight attempts, strike, odd one, verdict, end."""
    log = tmp_path / "season" / "log"
    terminal.wait_for("● closed")
    terminal.type_in("n")
    terminal.wait_for("Starts on a copy of the setup sheet of S01.")
    terminal.type_in("\r")
    terminal.wait_for("Nothing changed since S01.")

    terminal.type_in("f")
    time.sleep(_HELD)  # as long as a finger takes to the next key
    terminal.type_in("fin")
    terminal.wait_for("▸ final sprocket")
    terminal.type_in("\r")
    terminal.wait_for("which one is on? Now 60T, carried from S01.")
    terminal.type_in("66T")
    terminal.wait_for("+ 66T")
    terminal.type_in("\r")
    terminal.wait_for("1 change since S01.")

    terminal.type_in("\t")
    terminal.wait_for("stop checks open")
    assert "final sprocket, teeth counted" in terminal.look()
    assert _answer_checks(terminal) > 40

    terminal.type_in("\t")
    terminal.wait_for("▸Attempts")
    for number, (digits, way) in enumerate(_BACK_AND_FORTH, 1):
        terminal.type_in(f"{digits}\r")
        terminal.wait_for(f"Attempt {number} {way} {int(digits) / 100:.2f} s is saved.")
        if "stop check" in terminal.look(0.1):
            terminal.type_in("c")
            terminal.wait_for("▸Checks")
            _answer_checks(terminal)
            terminal.type_in("\t")
            terminal.wait_for("▸Attempts")
    terminal.type_in("x5 l\r")
    terminal.wait_for("Attempt 5 is struck: LATE")
    terminal.wait_for("Attempt 7 W 9.10 s stands apart")
    terminal.type_in("o")
    terminal.wait_for("l leave it: no reason known, it stays")
    terminal.type_in("l")
    terminal.wait_for("Attempt 7 stays in the numbers as it is.")

    terminal.type_in("\t")
    terminal.wait_for("S02 against S01")
    terminal.wait_for("slower")
    terminal.type_in("\r")
    terminal.wait_for("What was learnt, in one line?")
    terminal.type_in("66T is slower here\r")
    terminal.wait_for("● learnt")
    terminal.type_in("2")
    terminal.wait_for("● 2 revert")
    terminal.type_in("f")
    terminal.wait_for("2 sessions")

    closed = _only(log, "S02")
    assert (closed.state, closed.sheets[0].readings["final_sprocket"].text) == ("closed", "66T")
    assert [a.value for a in closed.attempts] == [int(d) / 100 for d, _ in _BACK_AND_FORTH]
    assert [a.n for a in closed.attempts if a.strike] == [5]
    assert closed.attempts[6].note == "stands apart, no reason known"
    assert closed.close_out is not None
    assert closed.close_out.decision == "revert"

    _killed_and_resumed(terminal, log, tmp_path)


def _killed_and_resumed(terminal: Terminal, log: Path, tmp_path: Path) -> None:
    """Start another session, kill the program in the middle of it, and go on where it was."""
    terminal.type_in("n")
    terminal.wait_for("Starts on a copy of the setup sheet of S02.")
    terminal.type_in("\r")
    terminal.wait_for("Nothing changed since S02.")
    terminal.type_in("\t")
    terminal.wait_for("stop checks open")
    for left in range(5):
        before = terminal.look().partition(" stop check")[0][-3:]
        terminal.type_in("d")
        _wait_for_other(terminal, before)
        time.sleep(_HELD)
        assert left < 5
    answered = [r.rule for r in _only(log, "S03").checks if r.answer == "cleared"]
    terminal.kill()
    wait_for_end()

    again = Terminal(program(log, environment(tmp_path / "home")))
    try:
        again.wait_for("○ open")
        again.type_in("\r")
        shown = again.wait_for("You left off")
        assert "▸Checks" in shown
        kept = [r.rule for r in _only(log, "S03").checks if r.answer == "cleared"]
        assert kept == answered
        assert len(kept) == 5
        again.type_in("\x11")  # ctrl+q
        wait_for_end(again)
        assert not _is_running(again.pid)
    finally:
        again.close()


def _is_running(pid: int) -> bool:
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    return True
