"""What a change takes the ground from, and what is copied from another machine."""

from __future__ import annotations

import pytest
from hypothesis import given

from core.setup import (
    SLOTS,
    Reading,
    Sheet,
    copy_from_machine,
    derived_value,
    mark_stale,
    says_same,
    state_words,
    with_reading,
)
from tests.core.setup.making import HOUR, MOTH, NOON, changed, sheet_of, sheets


def stale(sheet: Sheet) -> set[str]:
    return {slot for slot, reading in sheet.readings.items() if reading.stale}


def after(**typed: str) -> Sheet:
    return mark_stale(MOTH, changed(MOTH, **typed))


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ({"head_milled": "0.3"}, {"chamber_volume", "lash_intake", "lash_exhaust"}),
        ({"head_milled": "0"}, set()),
        ({"block_decked": "0.2"}, {"deck", "lash_intake", "lash_exhaust"}),
        ({"rockers": "thistle", "rocker_ratio": "1.25"}, {"lash_intake", "lash_exhaust"}),
        ({"rockers": "thistle", "lash_intake": "0.15"}, {"rocker_ratio", "lash_exhaust"}),
        ({"final_sprocket": "66t"}, {"final_sprocket_teeth"}),
        ({"final_sprocket": "66t", "final_sprocket_teeth": "66"}, set()),
        ({"clutch": "salt"}, {"clutch_rpm_limit", "engagement_rpm"}),
        ({"rod": "cast"}, {"rod_rpm_limit", "deck"}),
        ({"springs": "soft"}, {"valve_train_rpm_limit"}),
        ({"flywheel": "cast"}, {"flywheel_rpm_limit"}),
        ({"chain": "narrow"}, {"chain_links"}),
        ({"rider_mass": "84", "fuel_amount": "1"}, set()),
        ({"plug": "new one"}, set()),
    ],
)  # fmt: skip
def test_what_goes_stale(typed: dict[str, str], expected: set[str]) -> None:
    assert stale(after(**typed)) == expected


def test_why_since_when_and_by_how_much() -> None:
    chamber = after(head_milled="0.3").readings["chamber_volume"]
    assert (chamber.stale_because, chamber.stale_since, chamber.stale_by) == (
        "milling",
        NOON + HOUR,
        0.3,
    )
    assert state_words(chamber) == ("from before milling",)
    lash = after(rockers="thistle").readings["lash_intake"]
    assert lash.stale_because == "the change of rockers"


def test_milled_twice_adds_up() -> None:
    once = after(head_milled="0.3")
    twice = mark_stale(once, changed(once, head_milled="0.5"))
    chamber = twice.readings["chamber_volume"]
    assert (chamber.stale_by, chamber.stale_because) == (0.5, "milling")
    low, high = _ends(twice)
    assert low == pytest.approx(_ends(once)[0])
    assert high > _ends(once)[1]


def _ends(sheet: Sheet) -> tuple[float, float]:
    ratio = derived_value(sheet, "compression_ratio")
    assert ratio.low is not None
    assert ratio.high is not None
    return ratio.low, ratio.high


def test_no_estimate_when_the_head_is_another_one() -> None:
    base = changed(MOTH, head="one")
    swapped = mark_stale(base, changed(base, head="two"))
    chamber = swapped.readings["chamber_volume"]
    assert (chamber.stale_because, chamber.stale_by) == ("the change of head", None)
    milled = mark_stale(swapped, changed(swapped, head_milled="0.3"))
    assert milled.readings["chamber_volume"].stale_by is None
    assert derived_value(milled, "compression_ratio").low is None


def test_writing_down_for_the_first_time_takes_nothing_away() -> None:
    bare = sheet_of(rocker_ratio="1.0", lash_intake="0.10", bore="70")
    named = mark_stale(bare, changed(bare, rockers="stock", engine_block="block one"))
    assert stale(named) == set()


def test_a_limit_counts_only_for_the_part_it_was_stated_for() -> None:
    bare = sheet_of(rod_rpm_limit="6500", rod_length="84")
    assert stale(mark_stale(bare, changed(bare, rod="cast"))) == {"rod_rpm_limit"}


def test_entering_it_again_makes_it_good_even_with_the_same_number() -> None:
    milled = after(head_milled="0.3")
    again = mark_stale(milled, changed(milled, chamber_volume="22.5"))
    assert "chamber_volume" not in stale(again)


@given(sheets(), sheets())
def test_staleness_changes_no_value(a: Sheet, b: Sheet) -> None:
    marked = mark_stale(a, b)
    assert says_same(marked, b)
    assert mark_stale(b, b) == b
    parts = {slot for slot in marked.readings if slot in SLOTS and SLOTS[slot].kind == "part"}
    assert parts.isdisjoint(stale(marked) - stale(b))


def test_copied_values_are_said_to_be_copied() -> None:
    copied = copy_from_machine(MOTH, NOON)
    assert all(r.copied for r in copied.readings.values())
    assert state_words(copied.readings["deck"]) == ("copied, not measured",)
    assert derived_value(copied, "compression_ratio").estimated
    # a part is on one machine only; masses and hours are the other machine's own
    assert {"rod", "final_sprocket", "rider_mass"}.isdisjoint(copied.readings)
    assert copied.started == NOON


def test_carried_marks_do_not_come_along() -> None:
    carried = with_reading(MOTH, "deck", Reading(state="measured", value=0.25, carried="s1"))
    assert copy_from_machine(carried).readings["deck"].carried == ""
