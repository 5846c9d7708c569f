"""What reading recordings costs: an hour of sentences at 25 a second, a CSV of a million rows.

Measured with ``pytest tests/speed -n 0 --benchmark-enable``; otherwise the same is done once with
little data. The figures to hold are the project's own; ratios are of processor time within one run.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import pynmea2
import pytest

from core.trace import Wanted
from core.trace.reading import read_trace
from core.trace.runs import find_runs
from tests.core.trace.synthetic import csv_text, nmea_text, recorded, season_day

ROOT = Path(__file__).parents[2]
RATE, ROWS = 25, 90_000
RUNS = 24  # in the hour; a half-day has 8 to 20
MILLION = 1_000_000
TO_50 = Wanted("0-50", "standing", to_speed=50 / 3.6)
MEMORY = """
import sys
from pathlib import Path
from core.trace import Wanted
from core.trace.reading import read_trace
from core.trace.runs import find_runs
trace = read_trace(Path(sys.argv[1]))
runs = find_runs(trace, Wanted("0-50", "standing", to_speed=50 / 3.6)).runs
status = dict(line.split(":", 1) for line in open("/proc/self/status"))
print(trace.rows, len(runs), int(status["VmHWM"].split()[0]) / 1024)
"""


@pytest.fixture(scope="module")
def measuring(request: pytest.FixtureRequest) -> bool:
    """Tell whether times are taken; several processes at once would only disturb each other."""
    in_parallel = hasattr(request.config, "workerinput")
    return not in_parallel and bool(request.config.getoption("benchmark_enable"))


@pytest.fixture
def _only_measured(measuring: bool) -> None:
    """Leave out what says nothing without a measure."""
    if not measuring:
        pytest.skip("measured with: pytest tests/speed -n 0 --benchmark-enable")


@dataclass(frozen=True)
class Hour:
    """A recording, and what is in it."""

    path: Path
    rows: int
    runs: int


@pytest.fixture(scope="module")
def hour(tmp_path_factory: pytest.TempPathFactory, measuring: bool) -> Hour:
    """An hour of RMC sentences at 25 a second, about 7 MB, with 24 runs; else some minutes."""
    rng = np.random.default_rng(1)
    rows, runs = (ROWS, RUNS) if measuring else (5_000, 1)
    drive, _ = season_day(runs, rng, pause=135.0)
    drive.stand(max(0.0, rows / RATE + 100.0 - drive.length))
    times, speed, heading = (column[:rows] for column in recorded(drive, RATE, 0.05, rng))
    path = tmp_path_factory.mktemp("hour") / "hour.nmea"
    path.write_text(nmea_text(times, speed, heading), newline="")
    return Hour(path, rows, runs)


def by_library(path: Path, *, fields: bool) -> int:
    """Read line by line with pynmea2 alone; return how many fixes there are."""
    count = 0
    with path.open(encoding="ascii") as file:
        for line in file:
            message = pynmea2.parse(line, check=True)
            if fields:
                values = (message.datetime, message.latitude, message.longitude)
                count += values[0] is not None and message.spd_over_grnd is not None
            else:
                count += 1
    return count


def cpu(action: Callable[[], object]) -> float:
    """Return the processor time of an action, s."""
    begun = time.process_time()
    action()
    return time.process_time() - begun


def test_an_hour_is_read_and_cut_into_runs(benchmark: Any, hour: Hour, measuring: bool) -> None:
    own: list[float] = []

    def read() -> None:
        def action() -> None:
            trace = read_trace(hour.path)
            assert trace.rows == hour.rows
            assert len(find_runs(trace, TO_50).runs) == hour.runs

        own.append(cpu(action))

    benchmark.pedantic(read, rounds=7, warmup_rounds=1)
    if not measuring:
        return
    mine = statistics.median(own)
    whole = cpu(lambda: by_library(hour.path, fields=True))
    bare = cpu(lambda: by_library(hour.path, fields=False))
    benchmark.extra_info.update(
        mb=hour.path.stat().st_size / 1e6,
        cpu_s=mine,
        times_faster_than_pynmea2_with_fields=whole / mine,
        times_faster_than_pynmea2_parse_alone=bare / mine,
    )
    assert benchmark.stats.stats.median < 1.5
    assert whole / mine >= 5
    assert bare / mine >= 5


@pytest.mark.usefixtures("_only_measured")
@pytest.mark.skipif(sys.platform != "linux", reason="reads the process status of Linux")
def test_an_hour_needs_little_memory(benchmark: Any, hour: Hour) -> None:
    """The whole process, Python and NumPy with it."""
    said = benchmark.pedantic(
        lambda: (
            subprocess.run(
                [sys.executable, "-c", MEMORY, str(hour.path)],
                cwd=ROOT,
                env={**os.environ, "PYTHONPATH": str(ROOT)},
                capture_output=True,
                text=True,
                check=True,
            ).stdout
        ),
        rounds=1,
    )
    rows, runs, megabytes = said.split()
    benchmark.extra_info.update(mb=float(megabytes))
    assert (int(rows), int(runs)) == (hour.rows, hour.runs)
    assert float(megabytes) < 150


@pytest.fixture(scope="module")
def million(tmp_path_factory: pytest.TempPathFactory, measuring: bool) -> dict[str, Path]:
    """A million rows of four columns, with seconds and with moments; else some thousand."""
    folder = tmp_path_factory.mktemp("million")
    rng = np.random.default_rng(2)
    times = np.arange(MILLION if measuring else 5_000) / 25
    speed = np.abs(8 + 6 * np.sin(times / 60) + rng.normal(0, 0.05, len(times)))
    plain = folder / "seconds.csv"
    rows = csv_text(times, speed).split("\n")
    plain.write_text("\n".join([f"{rows[0]},RPM,Temp", *(f"{r},4100,81.5" for r in rows[1:-1])]))
    dated = folder / "moments.csv"
    stamps = np.datetime_as_string(
        np.datetime64("2026-04-12T08:00:00.000") + (times * 1000).astype("timedelta64[ms]")
    )
    body = (
        f"{s}Z;{v:.3f};4100".replace(".", ",") for s, v in zip(stamps, speed * 3.6, strict=True)
    )
    dated.write_text("Time;Speed (km/h);RPM\n" + "\n".join(body) + "\n")
    return {"seconds": plain, "moments": dated}


@pytest.mark.parametrize("kind", ["seconds", "moments"])
def test_a_csv_of_a_million_rows(
    benchmark: Any, million: dict[str, Path], measuring: bool, kind: str
) -> None:
    path, rows = million[kind], MILLION if measuring else 5_000

    def read() -> None:
        assert read_trace(path).rows == rows

    benchmark.pedantic(read, rounds=3, warmup_rounds=1)
    if measuring:
        benchmark.extra_info.update(mb=path.stat().st_size / 1e6)
        assert benchmark.stats.stats.median < 5
