"""What a comparison and the two screens that are read cost over a log of 5,000 sessions.

All sessions are of one machine on one test, so that every one of them counts. Measured with
``pytest tests/speed -n 0 --benchmark-enable``; skipped otherwise. The figures to hold are the
project's own.
"""

from __future__ import annotations

import asyncio
import os
import statistics
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

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
T = TypeVar("T")
PAIRS = (("S0101", "S4002"), ("S1000", "S4501"), ("S2503", "S4999"))


@pytest.fixture(scope="module")
def log(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a log of many sessions, where something is being measured."""
    in_parallel = "PYTEST_XDIST_WORKER" in os.environ
    if in_parallel or not request.config.getoption("benchmark_enable"):
        pytest.skip("measured with: pytest tests/speed -n 0 --benchmark-enable")
    return one_machine(tmp_path_factory.mktemp("one"), MANY)


def _yardstick() -> None:
    """Plain work that takes 112 ms on the machine the figures were set on, and scales with it."""
    total = 0
    for number in range(2_000_000):
        total += number * number


def _in_yardstick_ms(benchmark: Any, action: Callable[[], T], rounds: int) -> tuple[T, float]:
    """Run an action in turn with the yardstick; return its result and its time in scaled ms.

    Times are those of the processor, so that other work on the machine counts little.
    """
    own: list[float] = []
    rod: list[float] = []

    def timed(work: Callable[[], T], into: list[float]) -> T:
        start = time.thread_time()
        done = work()
        into.append(time.thread_time() - start)
        return done

    result = benchmark.pedantic(
        lambda: timed(action, own),
        setup=lambda: timed(_yardstick, rod),  # type: ignore[arg-type]
        rounds=rounds,
        warmup_rounds=1,
    )
    scaled = 112.0 * statistics.median(own) / statistics.median(rod)
    benchmark.extra_info.update(ms=1000 * benchmark.stats.stats.median, ms_scaled=scaled)
    return result, scaled


@pytest.mark.parametrize(("first", "second"), PAIRS)
def test_two_sessions_are_compared_within_a_fifth_of_a_second(
    benchmark: Any, log: Path, first: str, second: str
) -> None:
    """After imports; nothing is kept from one comparison to the next."""
    with Book.open(log, read_only=True) as book:
        a, b = book.session(first), book.session(second)
        made, ms = _in_yardstick_ms(benchmark, lambda: compare_documents(book, a, b), 15)
        pool = pool_of(book.sessions(), b.machine, b.test, b.timing)
    assert pool.sessions == MANY
    assert made.difference is not None
    assert ms <= 200


def test_a_running_session_is_added_to_what_the_others_say_at_once(
    benchmark: Any, log: Path
) -> None:
    """At each attempt, within a frame."""
    with Book.open(log, read_only=True) as book:
        session = book.session("S4999")
        others = pool_of(
            book.sessions(), session.machine, session.test, session.timing, leave_out=session.id
        )
        _, ms = _in_yardstick_ms(benchmark, lambda: others.with_session(session), 30)
    assert ms <= 16


def test_what_the_log_says_of_a_session_is_found_in_time(benchmark: Any, log: Path) -> None:
    """Its natural partner, the verdict, what stands apart, its picture: in a thread."""
    with Book.open(log, read_only=True) as book:
        session = book.session("S4999")
        found, ms = _in_yardstick_ms(benchmark, lambda: found_by(book, session), 7)
    assert found.made is not None
    assert ms <= 500


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
