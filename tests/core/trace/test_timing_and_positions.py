"""Crossings, positions and sentences: Monte Carlo, libraries, and lines that are garbled."""

from __future__ import annotations

import math
import random
import statistics

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core import trace
from core.errors import InputError, OutOfRangeError, UnknownInputError
from core.trace import formats

PLACES = st.tuples(st.floats(-80, 80), st.floats(-179, 179))
RMC = "GPRMC,123519.20,A,4807.0380,N,01131.0000,E,022.4,084.4,230394,003.1,W"


def ramp(
    noise: float, seed: int, a: float = 1.5, rate: float = 10
) -> tuple[list[float], list[float]]:
    draw = random.Random(seed)
    times = [i / rate for i in range(int(8 * rate))]
    return times, [2.0 + a * t + draw.gauss(0, noise) for t in times]


@given(a=st.floats(0.2, 5), start=st.floats(0, 3), share=st.floats(0.05, 0.95))
def test_crossing_of_a_straight_line(a: float, start: float, share: float) -> None:
    times = [0.1 * i for i in range(60)]
    speeds = [start + a * t for t in times]
    threshold = start + share * a * times[-1]
    wanted = (threshold - start) / a
    assert trace.crossing(times, speeds, threshold).time == pytest.approx(wanted, abs=1e-9)
    assert trace.fitted_crossing(times, speeds, threshold).time == pytest.approx(wanted, abs=1e-9)


def test_error_of_an_interpolated_crossing_by_simulation() -> None:
    """Noise on the two samples about the threshold only: 4,000 draws."""
    draw = random.Random(5)
    found = []
    for _ in range(4000):
        speeds = [12.0, 12.9 + draw.gauss(0, 0.02), 13.2 + draw.gauss(0, 0.02), 14.0]
        found.append(trace.crossing([0, 0.2, 0.3, 0.4], speeds, 13.0).time)
    stated = trace.crossing([0, 0.2, 0.3, 0.4], [12.0, 12.9, 13.2, 14.0], 13.0, 0.02).sd
    assert stated == pytest.approx(statistics.stdev(found), rel=0.05)


def test_first_crossing_comes_early_and_the_fitted_one_does_not() -> None:
    """a 0.5 m/s², noise 0.1 m/s, 10 Hz: -0.09 s (simulated elsewhere), the line within 0.02 s."""
    traces = [ramp(0.1, seed, a=0.5, rate=10) for seed in range(800)]
    first = statistics.mean(trace.crossing(t, v, 4.0).time for t, v in traces) - 4.0
    fitted = [trace.fitted_crossing(t, v, 4.0, samples=30).time for t, v in traces]
    assert first == pytest.approx(-0.09, abs=0.02)
    assert statistics.mean(fitted) - 4.0 == pytest.approx(0, abs=0.02)


def test_fitted_crossing_states_its_error() -> None:
    """noise/(a sqrt n): 0.1/(1.5 sqrt 6) = 0.027 s; by simulation within 25 %."""
    found = [trace.fitted_crossing(*ramp(0.1, seed), 8.0, 0.1) for seed in range(800)]
    assert statistics.mean(one.sd for one in found) == pytest.approx(0.027, rel=0.15)
    assert statistics.stdev(one.time for one in found) == pytest.approx(0.027, rel=0.25)


@pytest.mark.parametrize(
    ("times", "speeds", "threshold", "error", "words"),
    [
        ([0, 1], [5, 6], 7, UnknownInputError, "never reaches 25.2 km/h"),
        ([0, 1], [8, 9], 7, InputError, "starts at 28.8 km/h, not below"),
        ([0, 0], [5, 9], 7, InputError, "must increase"),
        ([0, 1, 2], [5, 9], 7, InputError, "3 times and 2 speeds"),
        ([0, 1], [5, math.nan], 7, InputError, "not a number"),
    ],
)
def test_traces_without_a_crossing(
    times: list[float],
    speeds: list[float],
    threshold: float,
    error: type[Exception],
    words: str,
) -> None:
    with pytest.raises(error, match=words):
        trace.crossing(times, speeds, threshold)


@given(x=st.floats(0.05, 2), a=st.floats(0.3, 8))
def test_rollout_by_the_other_equation(x: float, a: float) -> None:
    found = trace.rollout(x, a)
    assert found.speed == pytest.approx(a * found.time)
    assert found.speed * found.time / 2 == pytest.approx(x)


def test_hand_watch_by_simulation() -> None:
    """One press N(0.11 s, 0.07 s), the interval's mean of four: 4,000 draws."""
    draw = random.Random(9)
    means = [
        statistics.mean(draw.gauss(0.11, 0.07) - draw.gauss(0.11, 0.07) for _ in range(4))
        for _ in range(4000)
    ]
    assert trace.hand_watch(4).mean_sd == pytest.approx(statistics.stdev(means), rel=0.05)
    assert statistics.mean(means) == pytest.approx(trace.hand_watch(4).bias, abs=0.004)
    with pytest.raises(InputError, match="one interval or more"):
        trace.hand_watch(0)


@given(place=PLACES, north=st.floats(-0.01, 0.01), east=st.floats(-0.01, 0.01))
def test_distance_by_radii_of_curvature(
    place: tuple[float, float], north: float, east: float
) -> None:
    """Flat triangle with the meridian and the prime-vertical radius at the middle: within 1e-5."""
    a, b = place, (place[0] + north, place[1] + east)
    e2, phi = 0.00669437999014, math.radians(place[0] + north / 2)
    w = 1 - e2 * math.sin(phi) ** 2
    across = 6_378_137 / math.sqrt(w) * math.cos(phi) * math.radians(east)
    up = 6_378_137 * (1 - e2) / w**1.5 * math.radians(north)
    assert trace.distance(a, b) == pytest.approx(math.hypot(across, up), rel=1e-5, abs=1e-6)
    assert trace.distance(a, b) == trace.distance(b, a)


@given(place=PLACES, north=st.floats(-0.5, 0.5), east=st.floats(-0.5, 0.5))
def test_distance_against_a_library(place: tuple[float, float], north: float, east: float) -> None:
    """GeographicLib (Karney 2013): within 1e-6 up to some 80 km, and 0.1 mm."""
    geodesic = pytest.importorskip("geographiclib.geodesic").Geodesic.WGS84
    b = (place[0] + north, place[1] + east)
    wanted = geodesic.Inverse(*place, *b)["s12"]
    assert trace.distance(place, b) == pytest.approx(wanted, rel=1e-6, abs=1e-4)


def test_path_is_the_sum_of_its_steps() -> None:
    places = [(51.5, -0.1), (51.5009, -0.1), (51.5018, -0.1)]
    assert trace.path_length(places) == pytest.approx(trace.distance(places[0], places[2]))
    assert trace.path_length(places[:1]) == 0.0


def test_position_off_the_globe() -> None:
    with pytest.raises(OutOfRangeError, match="Latitude is 95"):
        trace.distance((95.0, 0.0), (51.0, 0.0))


@given(body=st.text(st.characters(min_codepoint=33, max_codepoint=126, exclude_characters="$*")))
def test_sentence_with_its_own_checksum_is_taken(body: str) -> None:
    fields = formats.checked_fields(f"${body}*{formats.checksum(body)}")
    assert ",".join(fields) == body


@given(place=st.integers(0, len(RMC) - 1), shift=st.integers(1, 5))
def test_one_garbled_character_is_noticed(place: int, shift: int) -> None:
    garbled = RMC[:place] + chr(ord(RMC[place]) + shift) + RMC[place + 1 :]
    with pytest.raises(InputError):
        formats.checked_fields(f"${garbled}*{formats.checksum(RMC)}")


def test_fix_against_a_library() -> None:
    pynmea2 = pytest.importorskip("pynmea2")
    sentence = f"${RMC}*{formats.checksum(RMC)}"
    wanted, found = pynmea2.parse(sentence, check=True), formats.read_rmc(sentence)
    assert found.latitude == pytest.approx(wanted.latitude, abs=1e-9)
    assert found.longitude == pytest.approx(wanted.longitude, abs=1e-9)
    assert found.speed == pytest.approx(wanted.spd_over_grnd * 1852 / 3600)


@pytest.mark.parametrize(
    ("body", "error", "words"),
    [
        (RMC.replace(",A,", ",V,"), UnknownInputError, "had no fix"),
        ("GPRMC,123519.20,A,,,,,,,230394,,", UnknownInputError, "had no fix"),
        (RMC.replace("GPRMC", "GPGGA"), InputError, "not a whole RMC"),
        (RMC.replace("022.4", "x"), InputError, "Speed “x” is not a number"),
        (RMC.replace("4807.0380", "48"), InputError, "not degrees and minutes"),
        (RMC.replace("4807.0380", "9907.0380"), InputError, "off the globe"),
        (RMC.replace("4807.0380", "4867.0380"), InputError, "not degrees and minutes"),
    ],
)
def test_sentences_without_a_fix(body: str, error: type[Exception], words: str) -> None:
    with pytest.raises(error, match=words):
        formats.read_rmc(f"${body}*{formats.checksum(body)}")


@pytest.mark.parametrize("sentence", ["", "$", RMC, f"${RMC}", f"${RMC}*4", f"{RMC}*46"])
def test_no_sentence(sentence: str) -> None:
    with pytest.raises(InputError, match="Not a whole NMEA sentence"):
        formats.checked_fields(sentence)


def test_south_and_west_are_below_zero() -> None:
    body = RMC.replace(",N,", ",S,").replace(",E,", ",W,")
    found = formats.read_rmc(f"${body}*{formats.checksum(body)}")
    assert found.latitude == pytest.approx(-48.1173)
    assert found.longitude == pytest.approx(-11.516667, abs=1e-6)
