"""What a comparison and the two screens that are read cost over a log of 5,000 sessions.

All sessions are of one machine on one test, so that every one of them counts. Measured with
``pytest tests/speed -n 0 --benchmark-enable``; skipped otherwise. The figures to hold are the
project's own.
"""

from __future__ import annotations

import asyncio
import os
import statistics
from pathlib import Path
from typing import Any

import pytest

from core.report.review import found_by
from core.session import Book
from core.verdict import compare_documents, pool_of
from tests.speed.one_machine import one_machine
from tests.speed.test_app_speed import _seconds_to_repaint
from tests.tui.compare.going import app_of, settle
from tests.tui.driving import opened
from tui.screens.routes import make_screen

MANY = 5000
PAIRS = (("S0101", "S4002"), ("S1000", "S4501"), ("S2503", "S4999"))


@pytest.fixture(scope="module")
def log(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a log of many sessions, where something is being measured."""
    in_parallel = "PYTEST_XDIST_WORKER" in os.environ
    if in_parallel or not request.config.getoption("benchmark_enable"):
        pytest.skip("measured with: pytest tests/speed -n 0 --benchmark-enable")
    return one_machine(tmp_path_factory.mktemp("one"), MANY)


@pytest.mark.parametrize(("first", "second"), PAIRS)
def test_two_sessions_are_compared_within_a_fifth_of_a_second(
    benchmark: Any, log: Path, first: str, second: str
) -> None:
    """After imports; nothing is kept from one comparison to the next."""
    with Book.open(log, read_only=True) as book:
        a, b = book.session(first), book.session(second)
        made = benchmark.pedantic(lambda: compare_documents(book, a, b), rounds=15, warmup_rounds=1)
        pool = pool_of(book.sessions(), b.machine, b.test, b.timing)
    assert pool.sessions == MANY
    assert made.difference is not None
    benchmark.extra_info.update(ms=1000 * benchmark.stats.stats.median)
    assert benchmark.stats.stats.median <= 0.2


def test_a_running_session_is_added_to_what_the_others_say_at_once(
    benchmark: Any, log: Path
) -> None:
    """At each attempt, within a frame."""
    with Book.open(log, read_only=True) as book:
        session = book.session("S4999")
        others = pool_of(
            book.sessions(), session.machine, session.test, session.timing, leave_out=session.id
        )
        benchmark.pedantic(lambda: others.with_session(session), rounds=30, warmup_rounds=2)
    assert benchmark.stats.stats.median <= 0.016


def test_what_the_log_says_of_a_session_is_found_in_time(benchmark: Any, log: Path) -> None:
    """Its natural partner, the verdict, what stands apart, its picture: in a thread."""
    with Book.open(log, read_only=True) as book:
        session = book.session("S4999")
        found = benchmark.pedantic(lambda: found_by(book, session), rounds=5, warmup_rounds=1)
    assert found.made is not None
    assert benchmark.stats.stats.median <= 0.5


async def _medians(log: Path, route: str, labels: tuple[str, ...]) -> dict[str, float]:
    """Return the medians of keys on a screen, in ms."""
    async with opened(log, opener=lambda: Book.open(log, read_only=True)) as pilot:
        app = app_of(pilot)
        ids = [app.book.session(label).id for label in labels]
        app.push_screen(make_screen(route, *ids))
        await settle(pilot)
        pairs = {
            "compare": (("down", "up"), ("f", "f"), ("end", "home")),
            "review": (("down", "up"), ("5", "1"), ("pagedown", "pageup")),
        }[route]
        found: dict[str, float] = {}
        for pair in pairs:
            seconds = [await _seconds_to_repaint(app, key) for _ in range(9) for key in pair]
            found[" ".join(pair)] = 1000 * statistics.median(seconds)
    return found


@pytest.mark.parametrize(
    ("route", "labels"), [("compare", ("S0101", "S4002")), ("review", ("S4000",))]
)
def test_keys_are_repainted_within_two_frames(
    benchmark: Any, log: Path, route: str, labels: tuple[str, ...]
) -> None:
    """On both screens, frames of 16 ms included."""
    found = benchmark.pedantic(lambda: asyncio.run(_medians(log, route, labels)), rounds=1)
    benchmark.extra_info.update({f"ms_{name}": value for name, value in found.items()})
    assert max(found.values()) <= 30
