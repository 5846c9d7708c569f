"""Jets with and without a number system."""

from __future__ import annotations

import pytest

from core.errors import UnknownInputError
from core.setup import Reading, find_slot, jet_step, read_jet, read_reading, same_reading

MAIN = find_slot("main jet")


def jet(text: str) -> Reading:
    return read_reading(MAIN, text).reading


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("95 x100mm", "95 x100mm"),
        ("95x100", "95 x100mm"),
        ("95 × 100 mm", "95 x100mm"),
        ("95 1/100 mm", "95 x100mm"),
        ("97,5 x100mm", "97.5 x100mm"),
        ("38 thou", "38 thou"),
        ("98 FLOW", "98 flow"),
        ("flow no. 98", "98 flow"),
    ],
)
def test_a_jet_is_kept_with_its_system(typed: str, kept: str) -> None:
    assert jet(typed).text == kept
    assert jet(typed).value is None  # never a bare number that sums might take
    assert same_reading(jet(typed), jet(kept))


@pytest.mark.parametrize("typed", ["95", "#95", "95 of the blue box", "stock"])
def test_without_a_system_it_is_words_with_a_reminder(typed: str) -> None:
    entered = read_reading(MAIN, typed)
    assert entered.band == "unusual"
    assert "no number system" in entered.question
    assert entered.reading.text == typed
    assert read_jet(MAIN, typed) is None


def test_steps_within_one_system() -> None:
    assert jet_step(MAIN, jet("92 x100mm"), jet("95x100")) == 3
    assert jet_step(MAIN, jet("38 thou"), jet("37 thou")) == -1


@pytest.mark.parametrize(("a", "b"), [("95 x100mm", "98 flow"), ("95", "98"), ("38 thou", "38")])
def test_no_comparison_across_systems_or_without_one(a: str, b: str) -> None:
    with pytest.raises(UnknownInputError, match=r"not compared|no number system"):
        jet_step(MAIN, jet(a), jet(b))


def test_the_same_number_in_two_systems_is_not_the_same_jet() -> None:
    assert not same_reading(jet("65 x100mm"), jet("65 flow"))
