"""Speeds in another unit than their column says: asked, told, and never put right in silence."""

from __future__ import annotations

import numpy as np
import pytest

from core.errors import AmbiguousInputError
from core.trace import Columns
from tests.core.trace.conftest import Read
from tests.core.trace.synthetic import csv_text, positions, recorded, season_day

FACTORS = {"km/h": 3.6, "mph": 3.6 / 1.609344, "m/s": 1.0, "kn": 3600 / 1852}


def with_positions(said: str, really: str) -> str:
    rng = np.random.default_rng(8)
    times, speed, heading = recorded(season_day(1, rng)[0], 10, 0.05, rng)
    lat, lon = positions(times, speed, heading)
    rows = [f"Time (s),Speed ({said}),Lat,Lon"]
    rows += [
        f"{t:.2f},{v * FACTORS[really]:.3f},{a:.7f},{b:.7f}"
        for t, v, a, b in zip(times, speed, lat, lon, strict=True)
    ]
    return "\n".join(rows) + "\n"


def without_positions(said: str, really: str, top: float) -> str:
    times = np.arange(0, 60, 0.1)
    speed = np.minimum(times, 30) / 30 * top / 3.6
    return csv_text(times, speed, header=f"Time (s),Speed ({said})", factor=FACTORS[really])


@pytest.mark.parametrize("unit", list(FACTORS))
def test_unit_that_agrees_with_the_positions_is_taken(read: Read, unit: str) -> None:
    assert read(with_positions(unit, unit)).findings[0].kind == "no clock"


@pytest.mark.parametrize(
    ("said", "really"), [("mph", "km/h"), ("km/h", "mph"), ("m/s", "km/h"), ("kn", "km/h")]
)
def test_unit_that_positions_contradict_is_asked(read: Read, said: str, really: str) -> None:
    with pytest.raises(AmbiguousInputError, match=f"said to be {said}; together with") as asked:
        read(with_positions(said, really))
    assert asked.value.choices == (said, really)


def test_confirmed_unit_is_taken_and_the_doubt_is_told(read: Read) -> None:
    columns = Columns(
        "Time (s)", "seconds", "Speed (mph)", "mph", lat="Lat", lon="Lon", confirmed=True
    )
    trace = read(with_positions("mph", "km/h"), columns=columns)
    assert trace.findings[0].kind == "unit"
    assert "taken as mph, as confirmed" in trace.findings[0].sentence
    answered = Columns(
        "Time (s)", "seconds", "Speed (mph)", "km/h", lat="Lat", lon="Lon", confirmed=True
    )
    right = read(with_positions("mph", "km/h"), columns=answered)
    assert float(trace.speed.max()) == pytest.approx(1.609344 * float(right.speed.max()))


def test_without_positions_a_top_speed_that_is_not_likely_is_asked(read: Read) -> None:
    """77 km/h in a column called mph would be 124 km/h."""
    with pytest.raises(AmbiguousInputError, match="by their size they look like km/h"):
        read(without_positions("mph", "km/h", 77))
    assert read(without_positions("mph", "mph", 77)).rows == 600
    assert read(without_positions("km/h", "km/h", 130)).rows == 600


def test_speeds_that_agree_in_no_unit_are_told(read: Read) -> None:
    text = with_positions("km/h", "km/h")
    rows = [row.split(",") for row in text.splitlines()]
    for row in rows[1:]:
        row[1] = f"{float(row[1]) * 1.3:.3f}"
    trace = read("\n".join(map(",".join, rows)) + "\n")
    assert [f.kind for f in trace.findings] == ["no clock", "disagree"]
    assert "0.77 times as fast" in trace.findings[1].sentence
