"""Picking, making, renaming and retiring parts."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import InputError, NotFoundError
from core.setup import (
    Machine,
    Part,
    PartHead,
    PartStatus,
    archive,
    fit,
    is_sprocket,
    known_value,
    match_parts,
    new_part,
    part_readings,
    rename,
    retire,
)
from tests.core.setup.making import NOON


def part(name: str, slot: str = "final_sprocket", status: PartStatus = "here") -> Part:
    return Part(id=name.casefold(), name=name, slot=slot, status=status)


SHELF = (
    part("60T"),
    part("63T alu"),
    part("66T"),
    part("Thistle 1.25", "rockers"),
    part("Stock rockers", "rockers"),
    part("Old thistle", "rockers", "retired"),
    part("Späth carb", "carb"),
)


@pytest.mark.parametrize(
    ("letters", "slot", "names"),
    [
        ("thi", "", ["Thistle 1.25"]),
        ("6", "final_sprocket", ["60T", "63T alu", "66T"]),
        ("al", "final_sprocket", ["63T alu"]),
        ("ro", "rockers", ["Stock rockers"]),
        ("st", "rockers", ["Stock rockers", "Thistle 1.25"]),  # the start of a name comes first
        ("spa", "", ["Späth carb"]),
        ("", "rockers", ["Stock rockers", "Thistle 1.25"]),
        ("zz", "", []),
    ],
)
def test_a_few_letters_pick_a_part(letters: str, slot: str, names: list[str]) -> None:
    assert [p.name for p in match_parts(SHELF, letters, slot)] == names


def test_rows_of_a_list_and_former_names_do_as_well() -> None:
    row = PartHead(id="p", name="63T alu", slot="final_sprocket", aliases=("Middle one",))
    assert match_parts([row], "midd") == (row,)


@given(st.text(max_size=8))
def test_any_letters_give_parts_of_the_shelf_without_retired_ones(letters: str) -> None:
    found = match_parts(SHELF, letters)
    assert set(found) <= set(SHELF)
    assert all(p.status != "retired" for p in found)


@pytest.mark.parametrize(
    ("name", "slot", "teeth"),
    [
        ("63T", "final sprocket", 63),
        ("alu 63 t", "rear_sprocket", 63),
        ("12 teeth", "engine_sprocket", 12),
        ("T63", "final_sprocket", None),
        ("0T", "final_sprocket", None),
        ("Thistle 25T", "rockers", None),
    ],
)
def test_teeth_are_read_off_the_name(name: str, slot: str, teeth: int | None) -> None:
    assert new_part(name, slot, "p1", NOON).teeth == teeth


def test_sprockets_are_known() -> None:
    assert is_sprocket("final_sprocket")
    assert not is_sprocket("rockers")


def test_a_new_part_says_where_it_fits() -> None:
    made = new_part("  Big\nPepper ", "clutch", "p1", NOON)
    assert (made.id, made.name, made.slot, made.status) == ("p1", "Big Pepper", "clutch", "here")
    with pytest.raises(InputError, match="that is a value"):
        new_part("x", "bore", "p1")
    with pytest.raises(NotFoundError):
        new_part("x", "warp coil", "p1")


@pytest.mark.parametrize("name", ["", "  ", "\x00", "x" * 81])
def test_a_name_is_needed(name: str) -> None:
    with pytest.raises(InputError):
        new_part(name, "clutch", "p1")
    with pytest.raises(InputError):
        rename(SHELF[0], name)


def test_a_part_brings_its_teeth_and_its_limit() -> None:
    sprocket = part_readings(new_part("63T", "final_sprocket", "p1"), NOON)
    assert sprocket["final_sprocket"].part == "p1"
    assert known_value(sprocket["final_sprocket_teeth"]) == 63
    rod = Part(id="r", name="Forged", slot="rod", rpm_limit=6500.0)
    limit = part_readings(rod, NOON)["rod_rpm_limit"]
    assert (limit.state, limit.value) == ("stated", 6500)
    assert set(part_readings(part("Cast", "rod"))) == {"rod"}


@pytest.mark.parametrize(
    ("slot", "limit"),
    [
        ("rod", "rod_rpm_limit"),
        ("flywheel", "flywheel_rpm_limit"),
        ("springs", "valve_train_rpm_limit"),
        ("clutch", "clutch_rpm_limit"),
    ],
)
def test_every_limit_has_its_part(slot: str, limit: str) -> None:
    assert set(part_readings(Part(id="p", name="n", slot=slot, rpm_limit=7000.0))) == {slot, limit}


def test_renaming_keeps_id_and_former_names() -> None:
    first = part("Thistle")
    third = rename(rename(first, "Nettle"), "Bramble")
    assert (third.id, third.name, third.aliases) == (first.id, "Bramble", ("Thistle", "Nettle"))
    back = rename(third, "Thistle")
    assert (back.name, back.aliases) == ("Thistle", ("Nettle", "Bramble"))
    assert rename(back, " Thistle ") == back


@given(st.lists(st.sampled_from(["a", "b", "c", "d"]), max_size=12))
def test_circles_of_names_lose_none_and_repeat_none(names: list[str]) -> None:
    now = part("start")
    for name in names:
        now = rename(now, name)
    assert {now.name, *now.aliases} == {"start", *names}
    assert now.name not in now.aliases
    assert len(now.aliases) == len(set(now.aliases))


def test_machines_are_renamed_and_archived_never_deleted() -> None:
    moth = Machine(id="m", name="Moth")
    gone = archive(rename(moth, "Kettle Moth"))
    assert (gone.id, gone.name, gone.aliases, gone.archived) == (
        "m",
        "Kettle Moth",
        ("Moth",),
        True,
    )


def test_retiring_needs_a_reason_and_takes_the_part_off() -> None:
    on = fit(part("Cast", "rod"), "moth", NOON).parts[0]
    gone = retire(on, " hairline at\nthe beam ")
    assert (gone.status, gone.machine, gone.since) == ("retired", "", None)
    assert gone.retired_because == "hairline at the beam"
    with pytest.raises(InputError, match="Why"):
        retire(on, " ")
