"""Machines and places under other names: what finds them, what stays readable."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from core.session import Book
from tests.core.exchange.samples import row, rows
from tests.tui.cli.conftest import Call


def test_a_place_typed_in_three_ways_is_one_place(
    call: Call, own_season: Path, tmp_path: Path
) -> None:
    """The other ways to write it are its further names, also for files that are read in."""
    log = ("--log", own_season)
    assert call("names", "vennimoor strip", "--also", "Venni moor", *log).code == 0
    said = call("names", "Vennimoor strip", "--rename", "Vennimoor", *log)
    assert said.out == "Vennimoor strip is called Vennimoor now.\n"
    notes = tmp_path / "a.csv"
    notes.write_text(
        rows(*(
            row(value="7.26", session=f"T{i}", place=name)
            for i, name in enumerate(("venni  moor", "Vennimoor strip", "VENNIMOOR"))
        )),
        encoding="utf-8",
    )  # fmt: skip
    assert call("import", notes, *log).code == 0
    (found,) = json.loads(call("names", "venni", "--json", *log).out)
    assert (found["what"], found["name"]) == ("place", "Vennimoor")
    assert found["also"] == ["Venni moor", "Vennimoor strip"]
    # seven sessions of the season ran there, and the three of the file
    assert found["sessions"] == 10


def test_a_machine_is_put_away_and_its_sessions_stay(call: Call, own_season: Path) -> None:
    """Nothing deletes a machine: it leaves the lists to pick from, and comes back by a word."""
    log = ("--log", own_season)
    before = call("show", "S02", *log).out
    assert "is put away" in call("names", "Low Badger", "--archive", *log).out
    assert "machine, put away" in call("names", *log).out
    assert call("show", "S02", *log).out == before
    with Book.open(own_season, read_only=True) as book:
        assert [h.name for h in book.machines() if not h.archived] == ["Kettle Moth"]
    assert call("names", "badger", "--back", *log).code == 2  # no name begins so
    assert "in the lists again" in call("names", "low", "--back", *log).out
    with Book.open(own_season, read_only=True) as book:
        assert not any(h.archived for h in book.machines())


@pytest.mark.parametrize(
    ("words", "code", "sentence"),
    [
        (["Low Badger", "--rename", "kettle  moth"], 1, "another machine called kettle moth"),
        (["Low Badger", "--rename", " "], 1, "at least one letter"),
        (["Vennimoor", "--archive"], 1, "only a machine is put away"),
        (["Otter"], 2, "no machine and no place “Otter”"),
        (["--archive"], 2, "Which machine or place?"),
        (["Low", "--archive", "--back"], 2, "not allowed with"),
    ],
)
def test_refusals(call: Call, own_season: Path, words: list[str], code: int, sentence: str) -> None:
    before = {p: p.read_bytes() for p in own_season.rglob("*.json")}
    said = call("names", *words, "--log", own_season)
    assert (said.code, said.out) == (code, "")
    assert sentence in said.err
    assert {p: p.read_bytes() for p in own_season.rglob("*.json")} == before
