"""Gearing, chain, stopping and the sprocket table: inverses, a drawn chain, and refusals."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core import drive
from core.errors import InputError, UnknownInputError

TEETH = st.integers(8, 90)
RATIOS = st.floats(2, 20)
ROUND = st.floats(0.7, 2.0)


@given(v=st.floats(0, 60), ratio=RATIOS, c=ROUND, slip=st.floats(-0.1, 0.2))
def test_speed_and_rpm_are_inverse(v: float, ratio: float, c: float, slip: float) -> None:
    assert drive.speed(drive.rpm(v, ratio, c, slip), ratio, c, slip) == pytest.approx(v, abs=1e-9)


@given(n=st.floats(500, 9000), ratio=RATIOS, c=ROUND, slip=st.floats(0, 0.2))
def test_slip_is_found_again(n: float, ratio: float, c: float, slip: float) -> None:
    seen = drive.apparent_slip(drive.speed(n, ratio, c, slip), n, ratio, c)
    assert seen == pytest.approx(slip, abs=1e-12)


def test_growth_looks_like_slip_below_zero() -> None:
    grown = drive.speed(5000, 6.0, 1.50)
    assert drive.apparent_slip(grown, 5000, 6.0, 1.47) == pytest.approx(
        -drive.tyre_growth(1.47, 1.50)
    )


@given(stages=st.lists(st.tuples(TEETH, TEETH), min_size=1, max_size=4))
def test_stages_multiply(stages: list[tuple[int, int]]) -> None:
    whole = math.prod(drive.overall_ratio([stage]) for stage in stages)
    assert drive.overall_ratio(stages) == pytest.approx(whole)
    back = [(driven, driver) for driver, driven in stages]
    assert drive.overall_ratio(stages) * drive.overall_ratio(back) == pytest.approx(1)


def test_kmh_by_the_bench_rule() -> None:
    """km/h = rpm / ratio x circumference x 0.06: common practice, no source."""
    assert drive.speed(3600, 6, 1.47) * 3.6 == pytest.approx(3600 / 6 * 1.47 * 0.06)


@given(pitch=st.floats(0.006, 0.02), teeth=TEETH)
def test_pitch_diameter_is_a_polygon(pitch: float, teeth: int) -> None:
    """Corners on a circle of that diameter stand one pitch apart."""
    radius, turn = drive.pitch_diameter(pitch, teeth) / 2, 2 * math.pi / teeth
    apart = math.dist((radius, 0), (radius * math.cos(turn), radius * math.sin(turn)))
    assert apart == pytest.approx(pitch)


@given(
    driver=st.integers(9, 20),
    driven=st.integers(30, 80),
    gap=st.floats(1.05, 2.5),
    pitch=st.sampled_from([0.0127, 0.007774]),
)
def test_chain_length_against_the_textbook_series(
    driver: int, driven: int, gap: float, pitch: float
) -> None:
    """2C/p + (N1 + N2)/2 + (N2 - N1)² p/(4 pi² C): any catalogue of chains (from memory)."""
    radii = (drive.pitch_diameter(pitch, driver) + drive.pitch_diameter(pitch, driven)) / 2
    centres = gap * radii
    series = (
        2 * centres / pitch
        + (driver + driven) / 2
        + (driven - driver) ** 2 * pitch / (4 * math.pi**2 * centres)
    )
    assert drive.chain_length(pitch, driver, driven, centres) == pytest.approx(series, rel=0.012)


def test_chain_between_equal_sprockets_is_two_straights_and_one_sprocket() -> None:
    found = drive.chain_length(0.0127, 15, 15, 0.5)
    assert found == pytest.approx(2 * 0.5 / 0.0127 + 15)


@given(driver=st.integers(9, 20), driven=st.integers(30, 80), centres=st.floats(0.3, 0.9))
def test_links_are_even_and_taut_where_they_say(driver: int, driven: int, centres: float) -> None:
    found = drive.chain_links(0.0127, driver, driven, centres)
    assert found.links % 2 == 0
    assert 0 <= found.links - found.exact < 2
    assert drive.chain_length(0.0127, driver, driven, found.centres) == pytest.approx(found.links)
    assert found.movement >= 0


@pytest.mark.parametrize(("kmh", "metres"), [(20, 11), (40, 32), (60, 63), (75, 93)])
def test_stopping_distance_table(kmh: float, metres: int) -> None:
    """1 s and 3 m/s²: common practice, no source."""
    assert round(drive.stopping_distance(kmh / 3.6)) == metres


def test_stopping_distance_by_stepping() -> None:
    v, x, step = 16.0, 16.0, 1e-4
    while v > 0:
        x, v = x + v * step, v - 3 * step
    assert drive.stopping_distance(16.0) == pytest.approx(x, rel=1e-4)


def table(**change: float | None) -> tuple[drive.SprocketRow, ...]:
    given_: dict[str, float | None] = {
        "circumference": 1.47,
        "trap_speed": 14.0,
        "limit": 3600.0,
        "run_out": 90.0,
    }
    return drive.sprocket_table([10, 12], [60, 72], **(given_ | change))  # type: ignore[arg-type]


def test_sprocket_table_marks_what_is_over_the_limit() -> None:
    rows = table()
    assert [row.ratio for row in rows] == sorted(row.ratio for row in rows)
    for row in rows:
        assert row.over_limit == (row.rpm_at_trap > 3600)
        assert row.over_limit == (row.speed_at_limit < 14.0)
    assert {row.over_limit for row in rows} == {True, False}


def test_run_out_unknown_or_short_is_marked() -> None:
    """14 m/s: 46.7 m to stop, twice that is 93 m."""
    assert all(row.run_out_short for row in table())
    assert all(row.run_out_short for row in table(run_out=None))
    assert not any(row.run_out_short for row in table(run_out=94.0))


def test_unknown_limit_counts_as_3600() -> None:
    assert drive.lowest_limit({"rod": 6500.0, "flywheel": None}) == ("flywheel", 3600.0)
    assert drive.lowest_limit({"rod": 3000.0, "flywheel": None}) == ("rod", 3000.0)
    with pytest.raises(UnknownInputError, match="no rpm limit is entered"):
        drive.lowest_limit({})


def test_further_stage_counts() -> None:
    one = drive.closest_pairs([12], [72], 3600, 1.47, 10.0)[0].speed
    two = drive.closest_pairs([12], [72], 3600, 1.47, 10.0, further=[(15, 30)])[0].speed
    assert two == pytest.approx(one / 2)


@pytest.mark.parametrize(
    ("stages", "words"),
    [
        ([(0, 72)], "Tooth count of the driver is 0"),
        ([(12, -72)], "Tooth count of the driven is -72"),
        ([(12, 72.5)], "teeth come whole"),
        ([], "No stage is given"),
    ],
)
def test_stages_that_are_none(stages: list[tuple[float, float]], words: str) -> None:
    with pytest.raises(InputError, match=words):
        drive.overall_ratio(stages)


@pytest.mark.parametrize(
    ("links", "half", "words"),
    [
        (105, False, "an odd chain closes only with a half link"),
        (104.5, False, "whole links"),
        (4, False, "8 or more"),
        (-106, True, "8 or more"),
    ],
)
def test_link_counts_that_are_none(links: float, half: bool, words: str) -> None:
    with pytest.raises(InputError, match=words):
        drive.check_links(links, half)


def test_odd_chain_with_a_half_link() -> None:
    assert drive.check_links(105, half_link=True) == 105


def test_sprockets_that_would_touch() -> None:
    with pytest.raises(InputError, match="the sprockets would touch"):
        drive.chain_length(0.0127, 12, 72, 0.1)


def test_engine_that_stands_has_no_slip() -> None:
    with pytest.raises(InputError, match="Engine speed is 0 rpm"):
        drive.apparent_slip(10.0, 0.0, 6.0, 1.47)
    with pytest.raises(InputError, match="Slip is 100 %"):
        drive.speed(3000, 6.0, 1.47, 1.0)
