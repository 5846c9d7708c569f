"""When two readings say the same, which numbers sums may use, and how readings are kept."""

from __future__ import annotations

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.setup import (
    SLOTS,
    Reading,
    Sheet,
    State,
    carry_over,
    confirm,
    fitted,
    known_value,
    same_reading,
    with_reading,
)
from tests.core.setup.making import HOUR, MOTH, NOON, readings_for, sheets

_any = st.none() | st.one_of(*(readings_for(SLOTS[s]) for s in ("bore", "rod", "governor")))


@given(_any, _any, _any)
def test_saying_the_same_is_an_equivalence(
    a: Reading | None, b: Reading | None, c: Reading | None
) -> None:
    assert same_reading(a, a)
    assert same_reading(a, b) == same_reading(b, a)
    if same_reading(a, b) and same_reading(b, c):
        assert same_reading(a, c)


@pytest.mark.parametrize(
    ("a", "b"),
    [
        (Reading(state="measured", value=1.1), Reading(state="stated", value=1.1, text="1.1 mm")),
        (Reading(state="unknown", text="?"), Reading(state="unknown", text="unknown")),
        (Reading(state="not fitted", text="-"), Reading(state="not fitted")),
        (fitted("p1", "63T", NOON), fitted("p1", "63T alu")),
        (Reading(state="set", text="Held "), Reading(state="set", text="held")),
        (Reading(state="measured", value=22.5, stale=True), Reading(state="measured", value=22.5)),
    ],
)
def test_how_and_when_does_not_matter(a: Reading, b: Reading) -> None:
    assert same_reading(a, b)


@pytest.mark.parametrize(
    ("a", "b"),
    [
        (None, Reading(state="unknown")),
        (None, Reading(state="measured", value=0.0)),
        (Reading(state="not fitted"), Reading(state="unknown")),
        (Reading(state="bounded", value=2.0, bound=">"), Reading(state="measured", value=2.0)),
        (
            Reading(state="bounded", value=2.0, bound=">"),
            Reading(state="bounded", value=2.0, bound="<"),
        ),
        (fitted("p1", "63T"), fitted("p2", "63T")),
        (Reading(state="set", text="95"), Reading(state="set", text="95 x100mm")),
    ],
)
def test_these_are_different(a: Reading | None, b: Reading) -> None:
    assert not same_reading(a, b)


@pytest.mark.parametrize("state", ["measured", "stated", "estimated", "set"])
def test_known_states_go_into_sums(state: State) -> None:
    assert known_value(Reading(state=state, value=1.5)) == 1.5


@pytest.mark.parametrize(
    "reading",
    [
        None,
        Reading(state="unknown"),
        Reading(state="not fitted"),
        Reading(state="bounded", value=2.0, bound=">"),
        Reading(state="measured", value=22.5, stale=True),
        Reading(state="set", text="held"),
    ],
)
def test_nothing_else_goes_into_sums(reading: Reading | None) -> None:
    assert known_value(reading) is None


@given(sheets())
def test_a_sheet_survives_being_written_and_read(sheet: Sheet) -> None:
    assert msgspec.json.decode(msgspec.json.encode(sheet), type=Sheet) == sheet


def test_carrying_over_says_from_where_and_changes_nothing_else() -> None:
    second = carry_over(MOTH, "s1", NOON)
    third = carry_over(second, "s2", NOON + HOUR)
    assert {r.carried for r in third.readings.values()} == {"s1"}  # where it was really taken
    assert third.readings["bore"].value == MOTH.readings["bore"].value
    assert third.started == NOON + HOUR


def test_a_slot_can_be_taken_off_the_sheet() -> None:
    without = with_reading(MOTH, "bore", None)
    assert "bore" not in without.readings
    assert "bore" in MOTH.readings
    assert with_reading(without, "bore", None) == without


def test_confirming_makes_a_value_todays() -> None:
    old = Reading(
        state="measured",
        value=22.5,
        carried="s1",
        copied=True,
        stale=True,
        stale_because="milling",
        stale_since=NOON,
        stale_by=0.3,
    )
    assert confirm(old, NOON + HOUR) == Reading(state="measured", value=22.5, at=NOON + HOUR)
