"""``effects`` and ``next`` on the command line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.tui.cli.conftest import Call
from tests.tui.season import empty_log


def test_effects_of_the_season_as_a_page_and_as_data(season: Path, call: Call) -> None:
    """The sprocket was told alone on one day; chains are counted with it."""
    said = call("effects", "Kettle Moth", "--log", season)
    assert said.code == 0
    assert "60T -> 66T" in said.out
    assert "0.96 s quicker" in said.out
    assert "Counted with what they follow: chain." in said.out
    data = json.loads(call("effects", "Kettle Moth", "--json", "--log", season).out)
    told = {(row["slot"], row["after"]): row for row in data["effects"]}
    sprocket = told["final_sprocket", "66T"]
    assert -1.17 < sprocket["difference"] < -0.76
    assert sprocket["how"] == "alone, on one day"
    assert told["final_sprocket", "63T"]["how"] == "by subtraction"
    assert data["sessions"] == 6
    raw = json.loads(call("effects", "Kettle Moth", "--raw", "--json", "--log", season).out)
    assert raw["day_spread"] > 1.4 * data["day_spread"]  # the hot day is explained
    assert "Raw: nothing is allowed for air or rider." in raw["notes"]


def test_what_next_on_the_season_about_one_slot(season: Path, call: Call) -> None:
    said = call("next", "kettle", "0-50", "--about", "clutch", "--log", season)
    assert said.code == 0
    assert "clutch engagement: 2,900 rpm -> 2,100 rpm, A-B-A on one day" in said.out
    assert "A 2,900 rpm, B 2,100 rpm, A 2,900 rpm again: 4 pairs each" in said.out
    data = json.loads(call("next", "--json", "--log", season).out)
    assert data["about"] is None
    assert {row["slot"] for row in data["proposals"]} >= {"final_sprocket", "rockers"}


def test_refusals_are_one_line(season: Path, tmp_path: Path, call: Call) -> None:
    empty = empty_log(tmp_path)
    for words in (
        ("effects", "--log", empty),
        ("next", "--log", empty),
        ("effects", "Nobody", "--log", season),
        ("effects", "Kettle Moth", "plug", "--log", season),
        ("effects", "Kettle Moth", "warp", "--log", season),
        ("next", "Kettle Moth", "--about", "warp drive", "--log", season),
    ):
        said = call(*words)
        assert said.code > 0
        assert said.out == ""
        assert said.err.count("\n") == 1
        assert "Traceback" not in said.err


def test_the_season_goes_out_as_tables_and_a_club_reads_them(
    season: Path, tmp_path: Path, call: Call
) -> None:
    """Two files in a folder; the effects over them are those of the log."""
    pytest.importorskip("duckdb", reason="the extra [fleet] is not installed")
    said = call("export", "--parquet", tmp_path / "out", "--log", season)
    assert said.code == 0
    assert sorted(p.name for p in (tmp_path / "out").iterdir()) == [
        "attempts.parquet",
        "blocks.parquet",
    ]
    told = json.loads(call("club", "0-50", tmp_path, "--json").out)
    own = json.loads(call("effects", "all", "0-50", "--json", "--log", season).out)
    assert [row["after"] for row in told["effects"]] == [row["after"] for row in own["effects"]]
    for ours, theirs in zip(told["effects"], own["effects"], strict=True):
        assert ours["difference"] == pytest.approx(theirs["difference"], abs=1e-9)
    for words in (
        ("export", "--parquet", "--log", season),
        ("export", "--parquet", season / "in", "--log", season),
        ("club", "0-50", tmp_path / "nowhere"),
        ("club", "plug", tmp_path),
    ):
        refused = call(*words)
        assert refused.code > 0
        assert refused.err.count("\n") == 1
