"""What the app costs over a log of 5,000 sessions, as ratios within one run where that is possible.

Measured with ``pytest tests/speed -n 0 --benchmark-enable``; skipped otherwise. The figures to hold
are the project's own.
"""

from __future__ import annotations

import asyncio
import os
import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from textual import events

from core.clock import ManualClock
from core.session import Book
from tests.tui.driving import NOW, opened
from tests.tui.season import many_sessions
from tui.app import BackToBackApp
from tui.log_rows import read_state
from tui.preferences import PreferencesFile

MANY = 5000
ROOT = Path(__file__).parents[2]
_QUIET = 0.08  # s without a repaint after which a key's work is done

EMPTY_APP = """
import time
from textual.app import App

class Empty(App):
    def on_ready(self):
        self.call_after_refresh(self.painted)

    def painted(self):
        print(time.time(), flush=True)
        self.exit()

Empty().run(headless=True, size=(80, 24))
"""

REAL_APP = """
import sys, time
from pathlib import Path
from tui.app import BackToBackApp
from tui.preferences import PreferencesFile

def opener():
    from core.session.book import Book
    return Book.open(Path(sys.argv[1]), read_only=True)

def resident():
    fields = dict(line.split(":", 1) for line in open("/proc/self/status"))
    return int(fields["VmRSS"].split()[0]) / 1024

class Real(BackToBackApp):
    def on_ready(self):
        self.call_after_refresh(lambda: print(time.time(), flush=True))

    def on_log_read(self, message):
        super().on_log_read(message)
        self.call_after_refresh(self.shown)

    def shown(self):
        print(time.time(), flush=True)
        print(resident(), flush=True)
        self.exit()

wishes = PreferencesFile()
wishes.change(cautions_seen=True)
Real(opener, wishes).run(headless=True, size=(80, 24))
"""


@pytest.fixture(scope="module")
def log(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a log of many sessions, where something is being measured."""
    in_parallel = "PYTEST_XDIST_WORKER" in os.environ
    if in_parallel or not request.config.getoption("benchmark_enable"):
        pytest.skip("measured with: pytest tests/speed -n 0 --benchmark-enable")
    return many_sessions(tmp_path_factory.mktemp("app"), MANY)


@pytest.fixture(autouse=True)
def _compiled_once(
    tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Let Python keep what it compiled, as it does for an installed program."""
    monkeypatch.delenv("PYTHONDONTWRITEBYTECODE", raising=False)
    monkeypatch.setenv("PYTHONPYCACHEPREFIX", str(tmp_path_factory.getbasetemp() / "compiled"))


def run(script: str, *arguments: str) -> list[float]:
    """Run an app in a process of its own; return what it printed, moments as s since the start."""
    started = time.time()
    done = subprocess.run(
        [sys.executable, "-c", script, *arguments],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=True,
    )
    numbers = [float(word) for word in done.stdout.split()]
    return [n - started if n > 1e9 else n for n in numbers]


@pytest.mark.skipif(sys.platform != "linux", reason="reads the process status of Linux")
def test_the_first_picture_takes_no_longer_than_that_of_an_empty_app(
    benchmark: Any, log: Path
) -> None:
    """At most one and a half times as long; memory once the log is shown at most 250 MB."""
    empty: list[float] = []
    real: list[list[float]] = []
    run(EMPTY_APP)  # fills the caches: compiled modules, heads, the system's own
    run(REAL_APP, str(log))
    benchmark.pedantic(
        lambda: real.append(run(REAL_APP, str(log))),
        setup=lambda: empty.append(run(EMPTY_APP)[0]),
        rounds=15,
    )
    first, shown, memory = (statistics.median(each) for each in zip(*real, strict=True))
    ratio = first / statistics.median(empty)
    benchmark.extra_info.update(
        ratio=ratio,
        ms_first=1000 * first,
        ms_empty=1000 * statistics.median(empty),
        ms_log_shown=1000 * shown,
        mb=memory,
    )
    assert ratio <= 1.5
    assert memory <= 250


async def _seconds_to_repaint(app: BackToBackApp, key: str) -> float:
    """Press a key; return the time until the last repaint that it leads to."""
    painted: list[float] = []
    display: Callable[..., None] = app._display

    def watched(*arguments: Any) -> None:
        display(*arguments)
        painted.append(time.perf_counter())

    app._display = watched  # type: ignore[method-assign, assignment]
    start = time.perf_counter()
    app.post_message(events.Key(key, key if len(key) == 1 else None))
    while not painted or time.perf_counter() - painted[-1] < _QUIET:
        await asyncio.sleep(0.002)
        assert time.perf_counter() - start < 5
    app._display = display  # type: ignore[method-assign]
    return painted[-1] - start


async def _medians(log: Path) -> dict[str, float]:
    """Return the medians of the keys, in ms."""
    clock = ManualClock(NOW)
    opener = lambda: Book.open(log, clock=clock, read_only=True)  # noqa: E731 - one line
    async with opened(log, opener=opener) as pilot:
        app = pilot.app
        assert isinstance(app, BackToBackApp)
        down = [await _seconds_to_repaint(app, "down") for _ in range(25)]
        page = [await _seconds_to_repaint(app, "pagedown") for _ in range(15)]
        await pilot.press("slash")
        typed = [
            await _seconds_to_repaint(app, key)
            for _ in range(5)
            for key in (*"moth", *["backspace"] * 4)
        ]
    each = {"down": down, "page": page, "filter": typed}
    return {name: 1000 * statistics.median(values) for name, values in each.items()}


def test_keys_are_repainted_quickly(benchmark: Any, log: Path) -> None:
    """A move within 30 ms, a letter of the filter within 50 ms; frames of 16 ms included."""
    found = benchmark.pedantic(lambda: asyncio.run(_medians(log)), rounds=1)
    benchmark.extra_info.update({f"ms_{name}": value for name, value in found.items()})
    assert found["down"] <= 30
    assert found["page"] <= 30
    assert found["filter"] <= 50


def test_coming_back_to_the_list_costs_little(benchmark: Any, log: Path) -> None:
    """The rows of sessions that did not change are taken over: at most a frame or two."""
    with Book.open(log, read_only=True) as book:
        first = read_state(book)
        again = benchmark.pedantic(lambda: read_state(book, first), rounds=20, warmup_rounds=2)
    assert len(again.rows) == MANY
    assert benchmark.stats.stats.median <= 0.05


def test_preferences_are_no_cost(benchmark: Any, log: Path, tmp_path: Path) -> None:
    """A change is saved within a frame."""
    kept = PreferencesFile(tmp_path / "preferences.json")
    benchmark.pedantic(lambda: kept.change(theme="dusk"), rounds=50, warmup_rounds=2)
    assert benchmark.stats.stats.median <= 0.016
