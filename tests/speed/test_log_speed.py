"""What the log costs at 5,000 documents of 11 KB, as ratios within one run.

Measured with ``pytest tests/speed -n 0 --benchmark-enable``; skipped otherwise. The figures to hold
are the project's own.
"""

from __future__ import annotations

import gc
import os
import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import msgspec
import pytest

from core.log import Log
from core.log.durable import write_durably
from core.log.headcache import CACHE_VARIABLE
from tests.speed.many_documents import VISIT_KIND, Visit, make_log, numbered_id, visits, write_many

MANY, FEW = 5000, 10
ROOT = Path(__file__).parents[2]
HEADS = """
import sys
from pathlib import Path
from core.log import Log
from tests.speed.many_documents import VISIT_KIND

def resident():
    fields = dict(line.split(":", 1) for line in open("/proc/self/status"))
    return int(fields["VmRSS"].split()[0]) / 1024

with Log.open(Path(sys.argv[1]), [VISIT_KIND], read_only=True) as log:
    before = resident()
    heads = log.heads(VISIT_KIND)
    print(len(heads), resident() - before, resident())
"""


@pytest.fixture(scope="module")
def logs(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> dict[int, Path]:
    """Return a log of few documents and one of many, where something is being measured."""
    in_parallel = "PYTEST_XDIST_WORKER" in os.environ
    if in_parallel or not request.config.getoption("benchmark_enable"):
        pytest.skip("measured with: pytest tests/speed -n 0 --benchmark-enable")
    made = {}
    for count in (FEW, MANY):
        made[count] = tmp_path_factory.mktemp("speed") / f"log{count}"
        make_log(made[count], [VISIT_KIND])
        assert write_many(made[count], VISIT_KIND, visits(count)) == count
    return made


@pytest.fixture(autouse=True)
def cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return an empty cache of heads."""
    monkeypatch.setenv(CACHE_VARIABLE, str(tmp_path / "cache"))
    return tmp_path / "cache"


def _seconds(action: Callable[[], object]) -> float:
    """Return how long an action takes, in seconds."""
    start = time.perf_counter()
    action()
    return time.perf_counter() - start


def _saver(log: Log) -> Callable[[], None]:
    """Return an action that saves a document of a log as an entry in it would."""
    document = log.get(Visit, numbered_id(5))
    turn = iter(range(10**6))

    def save() -> None:
        log.save(msgspec.structs.replace(document, label=f"turn {next(turn)}"))

    return save


def test_a_durable_save_costs_the_same_at_10_and_at_5000(
    benchmark: Any, logs: dict[int, Path], tmp_path: Path
) -> None:
    small: list[float] = []
    bare: list[float] = []
    with Log.open(logs[FEW], [VISIT_KIND]) as few, Log.open(logs[MANY], [VISIT_KIND]) as many:
        assert (len(few.heads(VISIT_KIND)), len(many.heads(VISIT_KIND))) == (FEW, MANY)
        save_few, save_many = _saver(few), _saver(many)
        data = (logs[FEW] / "visits" / f"{numbered_id(5)}.json").read_bytes()

        def others() -> None:
            small.append(_seconds(save_few))
            bare.append(_seconds(lambda: write_durably(tmp_path / "bare.json", data, "0badcafe")))

        benchmark.pedantic(save_many, setup=others, rounds=200, warmup_rounds=3)
    median, median_small, median_bare = (
        benchmark.stats.stats.median,
        statistics.median(small),
        statistics.median(bare),
    )
    benchmark.extra_info.update(
        ms=1000 * median, ms_at_10=1000 * median_small, ms_bare=1000 * median_bare
    )
    assert median <= 1.5 * median_small
    assert median <= max(0.010, 3 * median_bare)  # the latter where the disk itself is that slow


def test_a_scan_is_quicker_with_the_cache_than_without(
    benchmark: Any, logs: dict[int, Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = logs[MANY]
    named = os.environ[CACHE_VARIABLE]

    def heads() -> None:
        with Log.open(folder, [VISIT_KIND], read_only=True) as log:
            assert len(log.heads(VISIT_KIND)) == MANY

    cold: list[float] = []

    def without_cache() -> None:
        gc.collect()
        monkeypatch.setenv(CACHE_VARIABLE, "off")
        cold.append(_seconds(heads))
        monkeypatch.setenv(CACHE_VARIABLE, named)

    heads()
    benchmark.pedantic(heads, setup=without_cache, rounds=15, warmup_rounds=1)
    warm = benchmark.stats.stats.median
    benchmark.extra_info.update(ms_warm=1000 * warm, ms_cold=1000 * statistics.median(cold))
    assert warm <= 0.5 * statistics.median(cold)


def test_opening_a_log_does_not_depend_on_its_size(benchmark: Any, logs: dict[int, Path]) -> None:
    small: list[float] = []

    def opens(count: int) -> None:
        Log.open(logs[count], [VISIT_KIND]).close()

    benchmark.pedantic(
        lambda: opens(MANY),
        setup=lambda: small.append(_seconds(lambda: opens(FEW))),
        rounds=60,
        warmup_rounds=3,
    )
    ratio = benchmark.stats.stats.median / statistics.median(small)
    benchmark.extra_info.update(ratio=ratio, ms=1000 * benchmark.stats.stats.median)
    assert ratio <= 1.5


@pytest.mark.skipif(sys.platform != "linux", reason="reads the process status of Linux")
def test_the_memory_of_5000_heads(benchmark: Any, logs: dict[int, Path]) -> None:
    said = benchmark.pedantic(
        lambda: (
            subprocess.run(
                [sys.executable, "-c", HEADS, str(logs[MANY])],
                cwd=ROOT,
                env={**os.environ, "PYTHONPATH": str(ROOT)},
                capture_output=True,
                text=True,
                check=True,
            ).stdout
        ),
        rounds=1,
    )
    count, grown, whole = (float(word) for word in said.split())
    benchmark.extra_info.update(mb_grown=grown, mb_whole=whole)
    assert count == MANY
    assert grown <= 50
