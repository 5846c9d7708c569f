"""What differs between sheets, what of it is a cause, and which build is which."""

from __future__ import annotations

import pytest
from hypothesis import given

from core.setup import (
    Reading,
    Sheet,
    apply,
    build_key,
    build_letters,
    changes,
    fitted,
    main_changes,
    says_same,
    slot_of,
    slot_order,
)
from tests.core.setup.making import MOTH, changed, sheet_of, sheets


def causes(a: Sheet, b: Sheet) -> list[str]:
    return [change.slot for change in main_changes(changes(a, b))]


@given(sheets(), sheets())
def test_applying_the_changes_gives_the_other_sheet(a: Sheet, b: Sheet) -> None:
    made = changes(a, b)
    assert says_same(apply(made, a), b)
    for change in made:
        assert apply(made, a).readings.get(change.slot) == b.readings.get(change.slot)


@given(sheets(), sheets())
def test_there_and_back(a: Sheet, b: Sheet) -> None:
    there, back = changes(a, b), changes(b, a)
    assert [(c.slot, c.before, c.after, c.noted) for c in there] == [
        (c.slot, c.after, c.before, c.noted) for c in back
    ]
    assert says_same(apply(back, apply(there, a)), a)


@given(sheets(), sheets())
def test_only_what_differs_is_listed_in_the_order_of_the_sheet(a: Sheet, b: Sheet) -> None:
    listed = [change.slot for change in changes(a, b)]
    assert listed == sorted(set(listed), key=slot_order)
    untouched = (a.readings.keys() | b.readings.keys()) - set(listed)
    for slot in untouched:
        assert says_same(
            Sheet(readings={slot: a.readings[slot]}), Sheet(readings={slot: b.readings[slot]})
        )


@given(sheets(), sheets())
def test_same_key_exactly_if_there_is_no_cause(a: Sheet, b: Sheet) -> None:
    assert (build_key(a) == build_key(b)) == (not main_changes(changes(a, b)))


@given(sheets(), sheets())
def test_causes_are_some_of_the_changes_and_never_measured(a: Sheet, b: Sheet) -> None:
    made = changes(a, b)
    found = main_changes(made)
    assert set(found) <= set(made)
    slots = {change.slot for change in found}
    for change in found:
        slot = slot_of(change.slot)
        assert slot.role != "measured"
        assert not slot.condition
        assert slots.isdisjoint(slot.follows)


def test_a_sheet_does_not_differ_from_itself() -> None:
    assert changes(MOTH, MOTH) == ()


def test_teeth_chain_and_links_fold_into_their_sprocket() -> None:
    other = changed(
        MOTH, final_sprocket="66t", final_sprocket_teeth="66", chain="longer", chain_links="106"
    )
    assert [c.slot for c in changes(MOTH, other)] == [
        "final_sprocket",
        "final_sprocket_teeth",
        "chain",
        "chain_links",
    ]
    assert causes(MOTH, other) == ["final_sprocket"]


def test_a_chain_of_its_own_is_a_cause() -> None:
    assert causes(MOTH, changed(MOTH, chain="narrow")) == ["chain"]


def test_teeth_alone_stand_for_the_sprocket() -> None:
    a = sheet_of(final_sprocket_teeth="60", chain="c60")
    b = sheet_of(final_sprocket_teeth="66", chain="c66")
    assert causes(a, b) == ["final_sprocket_teeth"]


def test_clutch_and_sprocket_are_two() -> None:
    other = changed(MOTH, engagement_rpm="2900", final_sprocket="66t", final_sprocket_teeth="66")
    assert causes(MOTH, other) == ["engagement_rpm", "final_sprocket"]


def test_engagement_folds_into_other_clutch_springs() -> None:
    assert causes(MOTH, changed(MOTH, clutch_springs="stiff", engagement_rpm="2900")) == [
        "clutch_springs"
    ]


def test_rockers_take_lash_and_pushrods_with_them() -> None:
    other = changed(
        MOTH, rockers="thistle", rocker_ratio="1.25", lash_intake="0.10", pushrods="short"
    )
    assert causes(MOTH, other) == ["rockers"]
    assert causes(MOTH, changed(MOTH, lash_intake="0.10")) == ["lash_intake"]


def test_what_is_measured_or_varies_by_the_day_is_no_cause() -> None:
    other = changed(
        MOTH,
        chamber_volume="22.3",
        rider_mass="84",
        machine_mass="64",
        fuel_amount="1.2",
        oil_hours="3",
        circumference="1.05",
        rod_rpm_limit="7000",
    )
    assert len(changes(MOTH, other)) == 7
    assert causes(MOTH, other) == []


def test_writing_down_a_property_of_a_part_that_stayed_is_no_cause() -> None:
    noted = changed(MOTH, rod_length="84", final_sprocket_teeth="61")
    assert all(change.noted for change in changes(MOTH, noted))
    assert causes(MOTH, noted) == []
    assert build_key(MOTH) == build_key(noted)


def test_unknown_is_no_more_than_not_recorded() -> None:
    asked = changed(MOTH, exhaust="?", needle_clip="?")
    assert len(changes(MOTH, asked)) == 2
    assert causes(MOTH, asked) == []
    assert causes(MOTH, changed(MOTH, exhaust="pipe")) == ["exhaust"]


def test_letters_come_back_with_the_build() -> None:
    other = changed(MOTH, final_sprocket="66t", final_sprocket_teeth="66")
    third = changed(other, rockers="thistle")
    refuelled = changed(MOTH, fuel_amount="2")
    sheets_run = [MOTH, other, refuelled, third, other]
    assert build_letters(sheets_run) == ("A", "B", "A", "C", "B")
    assert build_letters([]) == ()


def test_letters_go_on_after_z() -> None:
    many = [sheet_of(final_sprocket_teeth=str(10 + n)) for n in range(28)]
    letters = build_letters(many)
    assert (letters[0], letters[25], letters[26], letters[27]) == ("A", "Z", "AA", "AB")


@given(sheets())
def test_key_does_not_depend_on_the_order_of_entry(sheet: Sheet) -> None:
    turned = Sheet(readings=dict(reversed(sheet.readings.items())))
    assert build_key(turned) == build_key(sheet)


@pytest.mark.parametrize(
    ("before", "after", "words"),
    [
        (
            {"final_sprocket": fitted("p1", "60T")},
            {"final_sprocket": fitted("p2", "66T")},
            "final sprocket: 60T -> 66T",
        ),
        (
            {},
            {"lash_intake": Reading(state="set", value=0.1016, text=".004in")},
            "intake lash: not recorded -> .004 in (0.1016 mm)",
        ),
        (
            {"valve_gap_intake": Reading(state="unknown")},
            {"valve_gap_intake": Reading(state="bounded", value=2.0, bound=">", text=">2.0")},
            "intake valve-to-piston gap: unknown -> > 2.0 mm",
        ),
        (
            {"deck": Reading(state="measured", value=0.25)},
            {"deck": Reading(state="measured", value=0.254)},
            "deck (piston below +): 0.25 mm -> 0.254 mm",
        ),
        (
            {"planned_rpm": Reading(state="set", value=6500)},
            {"planned_rpm": Reading(state="not fitted", text="-")},
            "planned max rpm: 6,500 rpm -> not fitted",
        ),
        (
            {"own:seat_foam": Reading(state="set", text="20 mm")},
            {},
            "seat foam: 20 mm -> not recorded",
        ),
    ],
)
def test_words(before: dict[str, Reading], after: dict[str, Reading], words: str) -> None:
    (change,) = changes(Sheet(readings=before), Sheet(readings=after))
    assert change.words == words


def test_a_part_prints_under_the_name_of_then() -> None:
    a = Sheet(readings={"rockers": fitted("p1", "Stock")})
    b = Sheet(readings={"rockers": fitted("p2", "Thistle 1.25")})
    renamed = Sheet(readings={"rockers": fitted("p1", "Old Stock")})
    assert changes(a, renamed) == ()
    (change,) = changes(a, b)
    assert change.words == "rockers: Stock -> Thistle 1.25"
