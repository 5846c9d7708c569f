"""Finding slots by a few letters."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.setup import SLOTS
from core.setup.seeking import match_slots


@pytest.mark.parametrize(
    ("letters", "first"),
    [
        ("squ", "piston_to_head_gap"),
        ("lash", "lash_intake"),
        ("fin", "final_sprocket"),
        ("fin te", "final_sprocket_teeth"),
        ("muff", "silencer"),
        ("Rocker", "rockers"),
        ("planned", "planned_rpm"),
        ("pipe", "exhaust"),
    ],
)
def test_two_or_three_letters_are_enough(letters: str, first: str) -> None:
    """Of the label or of a trade name, whatever their case."""
    assert first in [slot.id for slot in match_slots(letters)][:4]


def test_no_letters_are_every_slot_in_order() -> None:
    """Blanks as well; letters of nothing find nothing."""
    assert match_slots("  ") == tuple(SLOTS.values())
    assert match_slots("qqq") == ()


@given(slot=st.sampled_from(list(SLOTS.values())), share=st.floats(0.1, 1.0))
def test_any_head_of_a_label_finds_its_slot(slot: object, share: float) -> None:
    """And a whole label comes before all that only hold it."""
    label = slot.label  # type: ignore[attr-defined]
    head = label[: max(1, round(len(label) * share))]
    found = match_slots(head)
    assert slot in found
    assert found[0].label.casefold().startswith(head.casefold().strip())
