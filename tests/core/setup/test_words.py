"""Readings in words: in the slot's unit, the one typed, or the one the user chose."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import InputError
from core.setup import SLOTS, Reading, find_slot, number_words, reading_words, state_words
from core.setup.typed import cut_short, take_apart
from tests.core.setup.making import readings_for


@pytest.mark.parametrize(
    ("slot", "value", "unit", "words"),
    [
        ("rear pressure", 165.474, "", "165 kPa"),
        ("rear pressure", 165.474175, "psi", "24 psi"),
        ("gasket thickness", 1.2192, "in", "0.048 in"),
        ("gasket thickness", 1.1, "mm", "1.10 mm"),
        ("final teeth", 66, "", "66T"),
        ("rocker ratio", 1.25, "", "1.25:1"),
        ("planned rpm", 6500, "", "6,500 rpm"),
        ("idle rpm", 950, "", "950 rpm"),
        ("deck", -0.0, "", "0.00 mm"),
        ("needle clip", 3, "", "3"),
        ("chain pitch", 7.774, "", "7.774 mm"),
        ("throttle springs", 1, "", "1 spring"),
        ("fuel ethanol", 10, "", "10 %"),
    ],
)
def test_numbers(slot: str, value: float, unit: str, words: str) -> None:
    assert number_words(find_slot(slot), value, unit) == words


def test_a_unit_of_another_kind_is_refused() -> None:
    with pytest.raises(InputError, match="cannot be turned into"):
        number_words(find_slot("bore"), 70, "kg")


@pytest.mark.parametrize(
    ("reading", "words"),
    [
        (None, "not recorded"),
        (Reading(state="unknown", text="?"), "unknown"),
        (Reading(state="not fitted", text="-"), "not fitted"),
        (Reading(state="bounded", value=2.0, bound=">", text=">2.0"), "> 2.00 mm"),
        (Reading(state="measured", value=1.1, text="1,1"), "1.10 mm"),
        (Reading(state="measured", value=1.1, text="from another program"), "1.10 mm"),
        (Reading(state="measured", value=1.1, text="1.1 furlong"), "1.10 mm"),
    ],
)
def test_readings(reading: Reading | None, words: str) -> None:
    assert reading_words(find_slot("gasket thickness"), reading) == words


@given(
    st.sampled_from(list(SLOTS)).flatmap(lambda s: st.tuples(st.just(s), readings_for(SLOTS[s])))
)
def test_every_reading_has_words(pair: tuple[str, Reading]) -> None:
    slot, reading = pair
    assert reading_words(SLOTS[slot], reading)
    assert all(state_words(reading))


@pytest.mark.parametrize(
    ("reading", "words"),
    [
        (None, ()),
        (Reading(state="set", value=1), ()),
        (Reading(state="stated", value=1), ("stated by maker",)),
        (Reading(state="measured", value=1, stale=True), ("stale",)),
        (
            Reading(state="estimated", value=1, stale=True, stale_because="milling", copied=True),
            ("estimated", "from before milling", "copied, not measured"),
        ),
    ],
)
def test_how_it_is_known(reading: Reading | None, words: tuple[str, ...]) -> None:
    assert state_words(reading) == words


@given(st.text(max_size=80))
def test_quoted_text_is_short_and_harmless(text: str) -> None:
    shown = cut_short(text)
    assert shown.isprintable()
    assert len(shown) <= 40


@pytest.mark.parametrize(
    ("text", "mark", "number", "unit"),
    [
        ("≥ 3 mm", ">", "3", "mm"),
        ("<=0,5", "<", "0,5", ""),
        ("≈1.1", "~", "1.1", ""),
        ("1e-3 m", "", "1e-3", "m"),
        ("70 edu", "", "70", "edu"),
        (".048in", "", ".048", "in"),
    ],
)
def test_taking_apart(text: str, mark: str, number: str, unit: str) -> None:
    typed = take_apart(text)
    assert (typed.mark, typed.number, typed.unit) == (mark, number, unit)
