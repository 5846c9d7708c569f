"""``before`` and several sides of ``compare`` on the invented season."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from tests.tui.cli.conftest import Call, Said


def data(said: Said) -> Any:
    """Return what was printed as JSON."""
    assert said.code == 0, said.err
    return json.loads(said.out)


def test_the_day_is_planned(call: Call, season: Path) -> None:
    """What the test cannot see comes first, then the order, then days; question and prediction."""
    said = call("before", "S08", "--log", season)
    assert said.code == 0
    for words in (
        "ends at 4,324 rpm; rockers should act above 4,500",
        "Run A-B-A on one day, 3 pairs in each: 18 attempts",
        "0.10 s quicker, locked 2026-08-02 09:50",
        "What do 1.25 rockers give",
    ):
        assert words in " ".join(said.out.split())
    found = data(call("before", "S09", "--gain", "0.1", "--json", "--log", season))
    assert (found["order"], found["kind"], found["blind"]) == (["A", "B", "A"], "pair", "")
    assert found["half"] < 0.1


def test_what_cannot_be_planned_is_a_sentence(call: Call, season: Path) -> None:
    """No gain, a gain that is none, a slot that is none."""
    bare = call("before", "Bench", "--log", season)
    assert (bare.code, bare.out) == (1, "")
    assert "says no smallest gain worth having" in bare.err
    assert call("before", "S08", "--gain", "0", "--log", season).code == 2
    assert "No slot is called" in call("before", "S08", "--changed", "rokcet", "--log", season).err


def test_several_are_laid_side_by_side(call: Call, season: Path) -> None:
    """All against the first, each with its sentence; the same numbers as one by one."""
    said = call("compare", "S03", "S04", "S05:A", "S08", "--log", season)
    assert said.code == 0
    assert "All are held against S03" in said.out
    found = data(call("compare", "S03", "S04", "S05:A", "--json", "--log", season))
    alone = data(call("compare", "S03", "S04", "--json", "--log", season))
    first, second = found["comparisons"]
    assert (first["net"], first["difference"]) == (alone["net"], alone["difference"])
    assert second["b"]["label"] == "S05:A"
    assert alone["net"]["difference"] < alone["difference"]
    assert alone["allowance"]["air"]["low"] > 0.2
