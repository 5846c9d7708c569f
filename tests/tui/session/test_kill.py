"""Killed at 200 random moments of an entry run: what was acknowledged on the screen is in the log.

What is killed is the program itself, in a terminal of its own, by SIGKILL: 184 times forked from a
process that has loaded its modules already (see `Zygote`), 16 times started afresh as a shell
would. The rest of the log must open every time, without a broken document.
"""

from __future__ import annotations

import os
import random
import re
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from datetime import timedelta
from pathlib import Path

import pytest

from core.clock import ManualClock, local_now
from core.session import Book, Session
from tests.making import ready_session
from tests.tui.session.terminal import (
    PATIENCE,
    Terminal,
    Zygote,
    environment,
    program,
    ready_home,
    wait_for_end,
)

pytestmark = [
    pytest.mark.skipif(sys.platform == "win32", reason="there is no pty to run it in"),
    pytest.mark.timeout(600),
]

GROUPS = 4
LOGS, KILLS = 5, 10  # in each group, and in each log
FRESH = 4  # logs in each group whose first kill is of a program that was started afresh
_LONGEST = 4.0  # times as long as the first attempt took, from its being acknowledged to the kill
_PACE = 0.4  # times as long between two lines
_ROW = re.compile(r"● +(\d+) +(?:\d\d:\d\d +)?[WE] +(\d+\.\d\d)\b")
_SAID = re.compile(r"Attempt (\d+) [WE] (\d+\.\d\d) s is saved\.")

Shown = dict[int, float]
"""Values by the number of the attempt."""


def _new_log(folder: Path) -> Path:
    """Make a log with one open session, every check cleared; return its folder."""
    clock = ManualClock(local_now() - timedelta(hours=1))
    folder.mkdir()
    with Book.open(folder / "log", clock=clock) as book:
        ready_session(book, clock)
    return folder / "log"


def _attempts(log: Path) -> Shown:
    """Read what is in the log; nothing in it may be broken."""
    with Book.open(log, create=False) as book:
        (session,) = book.log.all(Session)
        assert not book.log.problems
        return {a.n: a.value for a in session.attempts if a.value is not None}


def _acknowledged(terminal: Terminal) -> Shown:
    """Return the attempts that the screen says are taken, in the list or in words."""
    text = terminal.screen.text
    return {int(n): float(value) for n, value in (*_ROW.findall(text), *_SAID.findall(text))}


def _run_until_killed(
    start: Callable[[str], int], rng: random.Random, values: Iterator[int]
) -> Shown:
    """Type attempts until a random moment, kill the program; return what it acknowledged.

    The first is waited for, so that every run has something to lose; from then on lines come
    quicker than any hand types, and the kill falls somewhere among them.
    """
    terminal = Terminal(start)
    try:
        terminal.wait_for("○ open")
        terminal.type_in("\r")
        terminal.wait_for("digits, then enter")
        started = time.monotonic()
        terminal.type_in(f"{next(values)}\r")
        terminal.wait_for("is saved.")
        seen = _acknowledged(terminal)
        following = time.monotonic()
        first = following - started
        end = following + rng.uniform(0.0, _LONGEST) * first
        while (now := time.monotonic()) < end:
            if now >= following:
                terminal.type_in(f"{next(values)}\r")
                following = now + _PACE * first
            terminal.look(max(0.0, min(following, end) - now))
            seen |= _acknowledged(terminal)
        terminal.kill()
        _wait_until_gone(terminal.pid)
        terminal.look()
        return seen | _acknowledged(terminal)
    finally:
        terminal.close()


def _wait_until_gone(pid: int) -> None:
    """Wait until the system has no such process any more."""
    wait_for_end()
    until = time.monotonic() + PATIENCE
    while time.monotonic() < until:
        try:
            os.kill(pid, 0)
        except ProcessLookupError:
            return
        time.sleep(0.002)
    raise AssertionError(f"process {pid} is still there")


@pytest.mark.parametrize("group", range(GROUPS))
def test_what_was_acknowledged_survives_the_kill(tmp_path: Path, group: int) -> None:
    """Fifty moments in each group, with a seed of its own."""
    rng = random.Random(20260920 + group)
    home = ready_home(tmp_path / "home")
    zygote = Zygote(home)
    acknowledged = 0
    try:
        for part in range(LOGS):
            log = _new_log(tmp_path / f"part{part}")
            fresh = program(log, environment(home))
            starts = [*([fresh] if part < FRESH else []), *[zygote.program(log)] * KILLS]
            acknowledged += _killed_again_and_again(log, starts[:KILLS], rng)
    finally:
        zygote.close()
    assert acknowledged > LOGS * KILLS, "hardly anything was acknowledged: nothing was shown"


def _killed_again_and_again(
    log: Path, starts: Sequence[Callable[[str], int]], rng: random.Random
) -> int:
    """Kill a run on this log for each start; return how many attempts were acknowledged."""
    values = iter(range(600, 6000))  # a new time for each line, so that none is asked about
    before: Shown = {}
    count = 0
    for number, start in enumerate(starts):
        acknowledged = _run_until_killed(start, rng, values)
        kept = _attempts(log)
        assert acknowledged.items() <= kept.items(), f"kill {number} in {log}"
        assert before.items() <= kept.items(), f"kill {number} in {log}"
        count += len(acknowledged.keys() - before.keys())
        before = kept
    return count
