"""What a planned change needs: every supply names real slots, and the shelf tells what is here."""

from __future__ import annotations

from core.checks import RULES
from core.setup import INTERVALS, SLOTS, SUPPLIES, new_part, shopping, supply_part


def test_every_supply_and_interval_names_what_there_is() -> None:
    assert not [s for row in SUPPLIES for s in row.slots if s not in SLOTS]
    assert not [s for row in INTERVALS for s in row.slots if s not in SLOTS]
    assert not [r for row in INTERVALS for r in row.rules if r not in RULES]
    assert all(row.meter in ("", *SLOTS) for row in INTERVALS)
    assert all(row.hours or row.attempts or row.days or row.uses for row in INTERVALS)


def test_rockers_need_clay_and_a_cover_gasket() -> None:
    clay = next(row for row in SUPPLIES if row.id == "clay")
    shelf = [new_part("1.25", "rockers", "p1"), supply_part(clay, "p2")]
    found = {row.what: row.status for row in shopping(["rockers"], shelf)}
    assert found == {
        "rockers": "here",
        "rocker cover gasket": "not on the shelf",
        "modelling clay": "wanted",
    }


def test_a_head_gasket_is_not_asked_for_twice() -> None:
    assert [r.what for r in shopping(["head_gasket"], [])].count("head gasket") == 1


def test_the_part_picked_is_named() -> None:
    shelf = [new_part("63T", "final_sprocket", "a"), new_part("66T", "final_sprocket", "b")]
    assert shopping(["final_sprocket"], shelf, ["b"])[0].what == "66T"
