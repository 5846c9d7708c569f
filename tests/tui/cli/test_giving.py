"""The verbs by which the log gives back: ask, season, shelf, report, merge."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from tests.tui.cli.conftest import Call


def test_ask_lists_answers_and_searches(call: Call, season: Path) -> None:
    listed = call("ask")
    assert [line.split()[0] for line in listed.out.splitlines() if line[:2].strip().isdigit()] == [
        str(n) for n in range(1, 21)
    ]
    answer = call("ask", "5", "clutch", "--log", season)
    assert "never changed on its own" in answer.out
    data = json.loads(call("ask", "5", "clutch", "--json", "--log", season).out)
    assert data["number"] == 5
    assert data["rows"][0]["sides"] == "S03 against S01"
    found = json.loads(call("ask", "drum", "118", "--json", "--log", season).out)
    assert [hit["kind"] for hit in found] == ["note"]
    assert "Nothing in the log holds" in call("ask", "zzz", "--log", season).out
    for number in ("0", "21", "99999999999999999999"):
        refused = call("ask", number, "--log", season)
        assert (refused.code, refused.out) == (2, "")
        assert "There is no question" in refused.err


def test_season_and_shelf(call: Call, own_season: Path) -> None:
    told = json.loads(call("season", "moth", "--json", "--log", own_season).out)
    assert (told["test"], len(told["results"])) == ("0-50", 7)
    assert told["predictions"]["made"] == 5
    assert "ran no test" in call("season", "badger", "0-50", "--log", own_season).err
    assert len(json.loads(call("shelf", "--json", "--log", own_season).out)) == 23
    card = json.loads(call("shelf", "63T", "--json", "--log", own_season).out)
    assert [use["label"] for use in card["uses"]] == ["S10"]
    assert "modelling clay" in call("shelf", "--shopping", "rockers", "--log", own_season).out
    assert "rod bolts" in call("shelf", "moth", "--due", "--log", own_season).out


def test_a_part_is_changed_from_the_command_line(call: Call, own_season: Path) -> None:
    def shelf(*words: str) -> str:
        said = call("shelf", *words, "--log", own_season)
        return f"{said.code} {said.out}{said.err}"

    assert "0 58T is on the shelf as here" in " ".join(
        shelf("58T", "--new", "rear sprocket").split()
    )
    assert "is called Small one now" in shelf("58T", "--rename", "Small one")
    assert "Small one is on Kettle Moth" in shelf("small one", "--move", "moth")
    assert "retired while fitted" in shelf("small one", "--retire", "bent teeth")
    assert "2 backtoback: There is no part" in shelf("wings", "--order")
    assert "2 backtoback: Which part?" in shelf("--order")
    assert "second rod is a part of its own" in " ".join(
        shelf("forged rod", "--split", "second rod", "--since", "2026-08-01").split()
    )
    assert "60T was 66T all along" in shelf("60T", "--same-as", "66T")
    assert "oil: 4 hours." in shelf("--interval", "oil=4h")
    assert "1 backtoback: engine oil: hours must be above zero." in shelf("--interval", "oil=0h")


@pytest.mark.parametrize(
    ("suffix", "starts"),
    [("html", "<!doctype html>"), ("md", "# S05"), ("csv", "report,"), ("txt", "S05:")],
)
def test_the_ending_of_a_file_tells_its_form(
    call: Call, season: Path, tmp_path: Path, suffix: str, starts: str
) -> None:
    path = tmp_path / f"s05.{suffix}"
    said = call("report", "session", "S05", "--out", path, "--log", season)
    assert (said.code, said.err) == (0, "")
    assert path.read_text(encoding="utf-8").startswith(starts)


def test_reports_are_listed_hidden_and_refused(call: Call, season: Path, tmp_path: Path) -> None:
    assert "session" in call("report").out
    hidden = call("report", "session", "S05", "--as", "md", "--hide", "--log", season)
    assert "Vennimoor" not in hidden.out
    assert "66T" in hidden.out
    assert "no form" in call("report", "blank", "--as", "docx", "--log", season).err
    assert "There is no report" in call("report", "wish", "--log", season).err
    gone = call("report", "blank", "--out", tmp_path / "no" / "a.md", "--log", season)
    assert "was not written" in gone.err


def test_merge_until_nothing_is_open(call: Call, own_season: Path, tmp_path: Path) -> None:
    other = Path(shutil.copytree(own_season, tmp_path / "other"))
    for log, name in ((own_season, "63T steel"), (other, "63T worn")):
        call("shelf", "63T", "--rename", name, "--log", log)
    looked = call("merge", other, "--check-only", "--log", own_season)
    assert looked.code == 1
    assert "63T steel" in looked.out
    assert "63T worn" in looked.out
    left = json.loads(call("merge", other, "--json", "--log", own_season).out)
    (clash,) = left["conflicts"]
    done = call("merge", other, "--here", clash["id"], "--log", own_season)
    assert (done.code, done.err) == (0, "")
    again = call("merge", other, "--log", own_season)
    assert (again.code, "decided before" in again.out) == (0, True)
    assert "very log" in call("merge", own_season, "--log", own_season).err
    assert "twice" in call("merge", other, "--here", "a", "--there", "a", "--log", own_season).err
    assert (
        "decides nothing"
        in call("merge", other, "--check-only", "--here", "a", "--log", own_season).err
    )
    assert "nothing to merge" in call("merge", "--log", own_season).out
