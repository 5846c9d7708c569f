"""What it costs to tell what each part did, on 5,000 sessions and 200 parts.

Measured with ``pytest tests/speed -n 0 --benchmark-enable``; skipped otherwise. The figures to
hold are the project's own: three times NumPy's bare least squares on the same matrix (it gives
neither ranges nor the spread of days), and a second for the whole question after imports.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parents[2]
RATIO, WHOLE = 3.0, 1.0  # times; s of processor time


def _timed() -> dict[str, float]:
    alone = {f"{name}_NUM_THREADS": "1" for name in ("OMP", "OPENBLAS", "MKL")}
    done = subprocess.run(
        [sys.executable, "-m", "tests.speed.effects_timing"],
        cwd=ROOT,
        env=os.environ | alone,
        capture_output=True,
        text=True,
        check=True,
        timeout=110,
    )
    found: dict[str, float] = json.loads(done.stdout)
    return found


def test_effects_cost_at_most_three_times_bare_least_squares(benchmark: Any) -> None:
    """With the ranges of all 180 contrasts and the day spread integrated."""
    if benchmark.disabled:
        pytest.skip("measured with: pytest tests/speed -n 0 --benchmark-enable")
    found = benchmark.pedantic(_timed, rounds=1)
    benchmark.extra_info.update(found)
    assert found["columns"] == 200
    assert found["effects"] <= RATIO * found["least_squares"]
    assert found["sessions"] == 5000
    assert found["told"] > 150
    assert found["log"] <= WHOLE
