"""The 32 road tests of 1974 that the plausibility model is held against."""

from __future__ import annotations

import csv
from pathlib import Path

_FILE = Path(__file__).parents[2] / "data" / "reference" / "road_tests_1974.csv"
_POUND, _HORSEPOWER = 0.45359237, 745.6998715822702  # kg, W; NIST SP 811 appendix B


def road_tests() -> tuple[list[float], list[float], list[float]]:
    """Return mass (kg), rated power (W) and time over a quarter mile (s) of each test."""
    lines = [line for line in _FILE.read_text("utf-8").splitlines() if not line.startswith("#")]
    rows = list(csv.DictReader(lines))
    return (
        [float(row["wt"]) * 1000 * _POUND for row in rows],
        [float(row["hp"]) * _HORSEPOWER for row in rows],
        [float(row["qsec"]) for row in rows],
    )
