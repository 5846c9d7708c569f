"""Margins, clay states, instruments, and lift tables read from text."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core import engine
from core.engine import ClayReading, ClayState
from core.errors import InputError, NotFoundError, UnknownInputError

MM = 1e-3


@given(
    installed=st.floats(20 * MM, 40 * MM),
    solid=st.floats(8 * MM, 19 * MM),
    lift=st.floats(0, 10 * MM),
    ratio=st.floats(1.01, 1.5),
)
def test_margins_shrink_by_the_lift_gained(
    installed: float, solid: float, lift: float, ratio: float
) -> None:
    spring = engine.coil_bind_margin(installed, solid, lift)
    assert engine.coil_bind_margin(installed, solid, lift * ratio) == pytest.approx(
        spring - lift * (ratio - 1), abs=1e-12
    )
    retainer = engine.retainer_margin(installed, lift)
    assert retainer + lift == pytest.approx(installed)


def test_coil_bind_is_shown_below_zero() -> None:
    assert engine.coil_bind_margin(24 * MM, 18 * MM, 7 * MM) == pytest.approx(-1 * MM)


@pytest.mark.parametrize(
    ("installed", "solid", "lift", "words"),
    [
        (18 * MM, 24 * MM, 6 * MM, "not above the solid height 24 mm"),
        (24 * MM, 0.0, 6 * MM, "must be above zero"),
        (24 * MM, 16 * MM, -1 * MM, "cannot be below zero"),
    ],
)
def test_springs_that_are_none(installed: float, solid: float, lift: float, words: str) -> None:
    with pytest.raises(InputError, match=words):
        engine.coil_bind_margin(installed, solid, lift)


def test_pushrod_that_does_not_fit() -> None:
    assert engine.pushrod_rub_margin(9 * MM, 6 * MM, 2 * MM) == pytest.approx(-0.5 * MM)
    with pytest.raises(InputError, match="does not fit"):
        engine.pushrod_rub_margin(6 * MM, 6.5 * MM, 0.0)


def test_pushrod_follows_the_head() -> None:
    """Thinner gasket and a milled head: both bring the rocker nearer to the cam."""
    assert engine.pushrod_length_change(-0.3 * MM, 0.5 * MM, 0.1 * MM) == pytest.approx(-0.9 * MM)
    assert engine.pushrod_length_change(0.3 * MM, 0.0) == pytest.approx(0.3 * MM)


def test_usual_minimums_say_where_they_come_from() -> None:
    assert {one.source for one in engine.USUAL_MINIMUMS} == {"common practice, no source"}
    assert all(0 < one.low <= one.high < 5 * MM for one in engine.USUAL_MINIMUMS)


def test_clay_that_was_touched() -> None:
    reading = ClayReading(ClayState.TOUCHED, 2.06 * MM, 6 * MM)
    assert reading.gap == 2.06 * MM
    assert reading.clears
    assert not reading.is_bound
    assert reading.text() == "2.1 mm"


def test_clay_not_touched_is_a_bound_that_does_not_clear() -> None:
    reading = ClayReading(ClayState.NOT_TOUCHED, applied=6 * MM)
    assert reading.is_bound
    assert not reading.clears
    assert reading.gap == 6 * MM
    assert reading.text() == "at least 6.0 mm (not touched)"


def test_clay_touched_but_not_measured_is_unknown() -> None:
    reading = ClayReading(ClayState.TOUCHED_UNMEASURED)
    assert not reading.clears
    assert reading.text().startswith("unknown")
    with pytest.raises(UnknownInputError) as caught:
        _ = reading.gap
    assert caught.value.missing == ("thinnest clay",)


def test_torn_clay_is_contact() -> None:
    reading = ClayReading(ClayState.TORN)
    assert reading.gap == 0.0
    assert not reading.clears
    assert reading.text() == "contact (torn)"


@pytest.mark.parametrize(
    ("state", "thinnest", "applied", "words"),
    [
        (ClayState.TOUCHED, None, 6 * MM, "thinnest value is needed"),
        (ClayState.TOUCHED, 0.0, None, "Thinnest clay is 0 mm"),
        (ClayState.TOUCHED, 7 * MM, 6 * MM, "above the applied"),
        (ClayState.NOT_TOUCHED, None, None, "how thick it was put on"),
        (ClayState.NOT_TOUCHED, 2 * MM, 6 * MM, "has no thinnest value"),
        (ClayState.TORN, 1 * MM, None, "has no thinnest value"),
        (ClayState.NOT_TOUCHED, None, -1 * MM, "must be above zero"),
    ],
)
def test_readings_that_contradict_themselves(
    state: ClayState, thinnest: float | None, applied: float | None, words: str
) -> None:
    with pytest.raises(InputError, match=words):
        ClayReading(state, thinnest, applied)


def test_reading_range_of_three_pours() -> None:
    """0.2 cm³ over three pours with a 0.1 cm³ burette: sqrt(0.04/3 + 0.01/12) = 0.119."""
    burette = engine.find_instrument("burette")
    found = engine.reading_range(22.5e-6, burette, 3)
    assert (found.high - found.value) * 1e6 == pytest.approx(0.119, abs=5e-4)
    once = engine.reading_range(22.5e-6, burette)
    assert once.high - once.low > found.high - found.low


def test_instruments_have_one_key_each() -> None:
    keys = [one.key for one in engine.INSTRUMENTS]
    assert len(keys) == len(set(keys))
    with pytest.raises(NotFoundError, match="not an instrument"):
        engine.find_instrument("eye")


@pytest.mark.parametrize(
    ("text", "lifts"),
    [
        ("0 0.1\n10 0.5\n20 0.5\n30 0.1", (0.1e-3, 0.5e-3, 0.5e-3, 0.1e-3)),
        ("deg;mm\n0;0,1\n10;0,5", (0.1e-3, 0.5e-3)),
        ("crank angle, lift in\n0,0.010\n10,0.020", (0.254e-3, 0.508e-3)),
        ("degrees\tthou\n0\t10\n10\t20\n", (0.254e-3, 0.508e-3)),
        ("\ufeff# cam A\n\n0, 0.1\n10, 0.5\n", (0.1e-3, 0.5e-3)),
    ],
)
def test_lift_rows_from_text(text: str, lifts: tuple[float, ...]) -> None:
    found = engine.read_lift_rows(text)
    assert found.lifts == pytest.approx(lifts)
    assert found.rejected == ()


def test_lines_that_are_no_rows_are_kept_with_a_reason() -> None:
    found = engine.read_lift_rows("0 0.1\n10\n20 x\n30 0.2 0.3\n40 0.4")
    assert found.angles == (0.0, 40.0)
    assert [line for line, _ in found.rejected] == [2, 3, 4]
    assert found.rejected[1][1] == "not two numbers"


def test_rows_become_a_table_or_are_refused() -> None:
    rows = engine.read_lift_rows("0 0\n10 1\n20 2\n30 1\n40 0")
    assert rows.table().peak == pytest.approx(2e-3)
    with pytest.raises(InputError, match="0 rows"):
        engine.read_lift_rows("nothing here").table()
    with pytest.raises(InputError, match="none of mm, in, thou"):
        engine.read_lift_rows("0 0", "furlong")
