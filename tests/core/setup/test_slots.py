"""The table of slots: complete, consistent, and found under any name."""

from __future__ import annotations

import csv
import re
from graphlib import TopologicalSorter
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.engine import find_instrument
from core.errors import InputError, NotFoundError
from core.setup import GROUPS, SLOTS, Slot, find_slot, own_slot, slot_of, slot_order
from core.setup.names import SYNONYMS, spellings
from core.setup.typed import COUNT_WORDS
from core.units import find_unit

_DATA = Path(__file__).parents[2] / "data" / "setup_slots.csv"
_ROWS = list(csv.DictReader(_DATA.open(encoding="utf-8")))

PART_SLOTS = (
    "engine_block", "crank", "rod", "piston", "rings", "head", "head_gasket", "valves_intake",
    "valves_exhaust", "springs", "retainers", "keepers", "rockers", "pushrods", "cam",
    "lifters", "coil", "rev_limiter", "plug", "carb", "air_filter", "intake_adapter",
    "exhaust", "flywheel", "side_cover", "engine_bearings", "engine_seals", "clutch",
    "clutch_springs", "engine_sprocket", "jackshaft_in", "jackshaft_out", "final_sprocket",
    "chain", "tyre_front", "tyre_rear", "wheel_front", "wheel_rear", "axle", "hubs",
    "wheel_bearings", "brake", "frame", "engine_mount", "engine_plate", "mount_bolts", "tank",
    "tank_mount", "throttle", "throttle_cable", "kill_switch",
)  # fmt: skip
CHOICE_SLOTS = {
    "governor": ("active", "held", "removed"),
    "clutch_kind": ("drum clutch", "disc clutch", "belt variator"),
    "rider_position": ("upright", "tucked", "seat mark"),
    "fuel_feed": ("gravity", "pulse pump"),
    "oil_sensor": ("live", "disconnected"),
    "tube_rear": ("tube", "tubeless"),
}


def _range(low: str, high: str) -> tuple[float, float] | None:
    return (float(low), float(high)) if low else None


@pytest.mark.parametrize("row", _ROWS, ids=[row["slot"] for row in _ROWS])
def test_ranges_and_units_are_those_of_the_trade(row: dict[str, str]) -> None:
    # common practice, no source: the list in tests/data, written down apart from the table
    slot = SLOTS[row["slot"]]
    assert slot.kind == "number"
    assert slot.unit == row["unit"]
    assert slot.typical == _range(row["typical_low"], row["typical_high"])
    assert slot.hard == _range(row["hard_low"], row["hard_high"])


@pytest.mark.parametrize("name", PART_SLOTS)
def test_every_part_of_the_machine_has_a_slot(name: str) -> None:
    assert (SLOTS[name].kind, SLOTS[name].role) == ("part", "part")


@pytest.mark.parametrize(("name", "choices"), CHOICE_SLOTS.items())
def test_choices(name: str, choices: tuple[str, ...]) -> None:
    assert SLOTS[name].choices == choices


def test_chain_pitch_comes_from_a_list() -> None:
    assert SLOTS["chain_pitch"].steps == (6.35, 7.774, 9.525, 12.70, 15.875)


@pytest.mark.parametrize("slot", SLOTS.values(), ids=list(SLOTS))
def test_a_row_does_not_contradict_itself(slot: Slot) -> None:
    assert re.fullmatch(r"[a-z][a-z0-9]*(_[a-z0-9]+)*", slot.id)
    assert slot.group in GROUPS
    assert (slot.kind == "part") == (slot.role == "part")
    assert (slot.kind == "choice") == bool(slot.choices)
    assert (slot.kind == "number") == (slot.hard is not None)
    if slot.typical and slot.hard:
        assert slot.hard[0] <= slot.typical[0] <= slot.typical[1] <= slot.hard[1]
    assert all(name in SLOTS for name in slot.follows)
    assert slot.id not in slot.follows
    if slot.of:
        assert SLOTS[slot.of].kind == "part"
    if slot.unit not in COUNT_WORDS:
        assert find_unit(slot.unit).symbol == slot.unit
    if slot.instrument:
        assert find_instrument(slot.instrument).repeatability > 0


def test_no_two_slots_have_the_same_label() -> None:
    labels = [slot.label for slot in SLOTS.values()]
    assert len(labels) == len(set(labels)) > 150


def test_consequences_never_run_in_a_circle() -> None:
    order = list(TopologicalSorter({s.id: s.follows for s in SLOTS.values()}).static_order())
    assert set(order) == set(SLOTS)


@pytest.mark.parametrize(("slot", "names"), SYNONYMS.items())
def test_every_synonym_finds_its_slot(slot: str, names: tuple[str, ...]) -> None:
    assert [find_slot(name).id for name in names] == [slot] * len(names)


@given(
    st.sampled_from(list(SLOTS.values())),
    st.booleans(),
    st.sampled_from([" ", "_", "-", "  "]),
    st.sampled_from([str.upper, str.lower, str.title]),
)
def test_spelling_does_not_matter(slot: Slot, by_label: bool, gap: str, case: object) -> None:
    words = re.split(r"[ _]", slot.label if by_label else slot.id)
    spelt = gap.join(words)
    assert callable(case)
    assert find_slot(f" {case(spelt)} ").id == slot.id


@pytest.mark.parametrize(
    ("typed", "slot"),
    [
        ("rear_sprocket", "final_sprocket"),
        ("front sprocket", "engine_sprocket"),
        ("Rear-Sprocket Teeth", "final_sprocket_teeth"),
        ("jet", "main_jet"),
        ("tire pressure rear", "tyre_pressure_rear"),
        ("lash in", "lash_intake"),
        ("ex lash", "lash_exhaust"),
        ("carburetor", "carb"),
        ("conrod", "rod"),
        ("springs", "springs"),
        ("rolling circumference", "circumference"),
    ],
)
def test_trade_names(typed: str, slot: str) -> None:
    assert find_slot(typed).id == slot


def test_jackshaft_in_is_not_an_intake() -> None:
    assert find_slot("jackshaft in").id == "jackshaft_in"


@pytest.mark.parametrize(
    ("typed", "near"),
    [("gaskit", "head gasket"), ("sprocket", "final sprocket"), ("lobe lift", "intake lobe lift")],
)
def test_an_unknown_or_open_name_gets_the_nearest_ones(typed: str, near: str) -> None:
    with pytest.raises(NotFoundError, match=near):
        find_slot(typed)


@given(st.text(max_size=30))
def test_any_name_is_found_or_refused_in_one_sentence(name: str) -> None:
    refusal, found = "", None
    try:
        found = find_slot(name)
    except (NotFoundError, InputError) as refused:
        refusal = refused.message
    assert bool(refusal) != (found is not None)
    assert refusal.isprintable()


@pytest.mark.parametrize(
    ("typed", "slot"),
    [
        ("Seat foam", "own:seat_foam"),
        ("own:Seat-Foam", "own:seat_foam"),
        ("Größe 2", "own:größe_2"),
    ],
)
def test_own_slots(typed: str, slot: str) -> None:
    made = own_slot(typed)
    assert (made.id, made.kind, made.group) == (slot, "text", GROUPS[-1])
    assert find_slot(slot) == made == slot_of(slot)


@pytest.mark.parametrize("name", ["", "  ", "own:", "!?", "x" * 61])
def test_own_slot_needs_a_name(name: str) -> None:
    with pytest.raises(InputError):
        own_slot(name)


def test_a_slot_of_a_later_version_is_words() -> None:
    slot = slot_of("turbo_whine")
    assert (slot.id, slot.label, slot.kind) == ("turbo_whine", "turbo whine", "text")


def test_order_is_the_sheets_with_own_slots_last() -> None:
    names = ["own:b", "circumference", "own:a", "bore", "engine_block"]
    expected = ["engine_block", "bore", "circumference", "own:a", "own:b"]
    assert sorted(names, key=slot_order) == expected


def test_no_two_slots_are_spelt_alike() -> None:
    said: dict[str, str] = {}
    for slot in SLOTS.values():
        for name in {slot.id, slot.label}:
            assert said.setdefault(spellings(name)[0], slot.id) == slot.id
