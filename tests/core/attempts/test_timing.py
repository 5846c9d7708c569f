"""Names and steps of timing gear."""

from __future__ import annotations

import pytest

from core.attempts import TIMINGS, find_timing, resolution_of
from core.errors import NotFoundError


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("hand", "hand"),
        ("Stopwatch", "hand"),
        ("logger-10hz", "logger-10hz"),
        ("Logger 10 Hz", "logger-10hz"),
        ("1hz", "logger-1hz"),
        ("GATES", "gates"),
        ("trace", "trace"),
    ],
)
def test_timing_gear_is_found_by_name(typed: str, name: str) -> None:
    assert find_timing(typed).name == name


def test_unknown_timing_gear_lists_the_known_names() -> None:
    with pytest.raises(NotFoundError) as caught:
        find_timing("sundial")
    assert all(t.name in caught.value.hint for t in TIMINGS)


def test_a_watch_that_only_shows_tenths_is_noticed() -> None:
    assert resolution_of("hand", "s", [7.3, 7.3, 7.3]) == 0.1
    assert resolution_of("hand", "s", [7.3, 7.31, 7.3]) == 0.01
    assert resolution_of("hand", "s", [7.3, 7.3]) == 0.01  # two could be chance
    assert resolution_of("hand", "s", [7.0, 8.0, 7.0]) == 1.0


def test_speeds_have_a_step_of_their_own() -> None:
    assert resolution_of("logger-10hz", "km/h", [77.1, 77.4, 76.9]) == 0.1
    assert resolution_of("logger-10hz", "km/h", [77.0, 78.0, 76.0]) == 1.0
    assert resolution_of("", "km/h") > 0
