"""Every verb through the command: what it prints, as text and as JSON, and its exit code."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

import pytest

from core.session import Book
from tests.core.exchange.samples import row, rows
from tests.tui.cli.conftest import Call, Said


def data(said: Said) -> Any:
    """Return what was printed as JSON; NaN is none."""
    assert said.code == 0, said.err

    def refuse(name: str) -> None:
        raise AssertionError(name)

    return json.loads(said.out, parse_constant=refuse)


def flat(text: str) -> str:
    """Return the text with single blanks."""
    return " ".join(text.split())


def test_list(call: Call, season: Path) -> None:
    said = call("list", "--log", season)
    assert (said.code, said.err) == (0, "")
    lines = said.out.splitlines()
    assert lines[0].split() == ["session", "day", "machine", "test", "n", "mean", "what"]
    assert [line.split()[0] for line in lines[2:] if line[0] != " "][:3] == ["S10", "S09", "S08"]
    assert all(len(line) <= 80 for line in lines)


def test_list_filtered(call: Call, season: Path) -> None:
    found = data(call("list", "badger", "80m", "--json", "--log", season))
    assert [session["label"] for session in found] == ["S07", "S06", "S02"]
    none = call("list", "no", "such", "thing", "--log", season)
    assert none.code == 1
    assert flat(none.out).startswith("No session holds “no such thing”.")
    assert json.loads(call("list", "zzz", "--json", "--log", season).out) == []


@pytest.mark.parametrize("word", ["S03", "s03", "20260503", "S03:A"])
def test_show_by_any_name(call: Call, season: Path, word: str) -> None:
    said = call("show", word, "--log", season)
    assert said.code == 0
    assert said.out.startswith("S03: Kettle Moth, 0-50 at Vennimoor strip\n")
    assert "S03 is 1.19 s quicker than S01" in flat(said.out)
    assert data(call("show", word, "--log", season, "--json"))["label"] == "S03"


def test_sheet(call: Call, season: Path) -> None:
    said = call("sheet", "S07", "--log", season)
    assert (said.code, said.err) == (0, "")
    for part in ("Setup", "Worked out", "What changed", "Checks", "Air and wind", "Attempts",
                 "Summary", "Close-out", "Caution"):  # fmt: skip
        assert f"\n{part}\n{'-' * len(part)}\n" in said.out
    assert "It does not make a run safe" in flat(said.out)


def test_changes(call: Call, season: Path) -> None:
    said = call("changes", "S03", "S05:B", "--log", season)
    assert "- final sprocket: 66T -> 60T" in said.out
    found = data(call("changes", "S03", "S05:B", "--json", "--log", season))
    assert [c["slot"] for c in found["changed"] if c["is_cause"]] == ["final_sprocket"]


def test_compare(call: Call, season: Path) -> None:
    said = call("compare", "S01", "S03", "--log", season)
    assert said.code == 0
    assert "S03 is 1.19 s quicker than S01" in flat(said.out)
    found = data(call("compare", "S01", "S03", "--json", "--log", season))
    assert {
        "unit",
        "difference",
        "low",
        "high",
        "n_a",
        "n_b",
        "verdict",
        "changed",
        "caps",
        "sentence",
        "gain",
        "mean_a",
        "mean_b",
        "kind_of_observation",
        "spread",
        "same_day",
        "odd",
        "without_odd",
        "with_struck",
        "settle",
    } <= set(found)
    assert (found["verdict"], found["kind_of_observation"]) == ("quicker", "pair")


def test_compare_with_a_gain_and_a_test(call: Call, season: Path) -> None:
    words = ("compare", "S09:A", "S09:B", "--json", "--log", season)
    assert data(call(*words))["gain"] == 0.15
    found = data(call(*words, "--gain", "0,05", "--test", "40-65"))
    assert (found["gain"], found["below_gain"], found["test"]) == (0.05, False, "40-65")


def test_compare_with_a_session_without_attempts(call: Call, season: Path) -> None:
    found = data(call("compare", "S02", "S06", "--json", "--log", season))
    assert (found["difference"], found["n_b"], found["mean_b"]) == (None, 0, None)


def test_health(call: Call, own_season: Path) -> None:
    assert data(call("health", "--json", "--log", own_season))["sound"]
    (own_season / "machines" / "x.json").write_text("{", encoding="utf-8")
    said = call("health", "--log", own_season)
    assert said.code == 1
    assert "machines/x.json" in said.out
    listed = call("list", "--log", own_season)
    assert listed.code == 0


def test_demo_without_a_terminal_tells_the_season(call: Call, season: Path) -> None:
    for said in (call("demo"), call("demo", "--text")):
        assert (said.code, said.err) == (0, "")
        assert said.out.startswith("S01 12 Apr 2026 Kettle Moth")
        assert "S03 is 1.19 s quicker than S01" in flat(said.out)
        assert all(len(line) <= 80 for line in said.out.splitlines())


def test_demo_can_be_kept_and_overwrites_nothing(call: Call, tmp_path: Path, season: Path) -> None:
    assert call("demo", "--text", "--log", tmp_path / "kept").code == 0
    assert len(data(call("list", "--json", "--log", tmp_path / "kept"))) == 11
    said = call("demo", "--text", "--log", tmp_path)
    assert (said.code, said.out) == (2, "")
    assert "holds something already" in said.err


def test_export_and_import_come_round(call: Call, season: Path, tmp_path: Path) -> None:
    for name in ("season.csv", "season.jsonl"):
        first, log, again = tmp_path / name, tmp_path / f"log-{name}", tmp_path / f"again-{name}"
        assert call("export", first, "--log", season).code == 0
        said = call("import", first, "--log", log)
        assert (said.code, said.err) == (0, "")
        assert "0 rejected." in said.out
        assert call("export", again, "--log", log).code == 0
        assert again.read_bytes() == first.read_bytes()
        twice = call("import", first, "--log", log, "--json")
        assert data(twice)[0]["rows_in"] == 0
        once_more = tmp_path / f"more-{name}"
        call("export", once_more, "--log", log)
        assert once_more.read_bytes() == first.read_bytes()


def test_verdicts_are_the_same_after_a_round_by_csv(
    call: Call, season: Path, tmp_path: Path
) -> None:
    """The table holds attempts and sheets, no air: what rests on the air is left out of it."""
    on_air = {"allowance", "allowance_notes", "net", "situations", "sentence", "more", "decides"}
    on_days = {
        "with_struck",
        "without_odd",
        "day_spread",
        "low",
        "high",
        "settle",
        "verdict",
        "raw_verdict",
        "below_gain",
    }
    call("export", tmp_path / "a.csv", "--log", season)
    call("import", tmp_path / "a.csv", "--log", tmp_path / "log")
    for words in (("S01", "S03"), ("S05:A", "S05:B"), ("S02", "S07"), ("S09:A", "S09:B")):
        found = [
            data(call("compare", *words, "--gain", "0.15", "--json", "--log", log))
            for log in (season, tmp_path / "log")
        ]
        for side in (one[key] for one in found for key in ("a", "b")):
            del side["session"]
        for odd in (odd for one in found for odd in one["odd"]):
            del odd["session"]
        out = on_air if found[0]["same_day"] else on_air | on_days
        before, after = ({k: v for k, v in one.items() if k not in out} for one in found)
        assert before == after


def test_export_to_standard_output(call: Call, season: Path, tmp_path: Path) -> None:
    plain = call("export", "--log", season)
    assert plain.out.startswith("session,started,machine,place,test,timing,direction,value,unit,")
    assert call("export", "--csv", "--log", season).out == plain.out
    assert call("export", "-", "--log", season).out == plain.out
    assert json.loads(call("export", "--lines", "--log", season).out.splitlines()[0]) == {
        "backtoback": 1,
        "documents": 39,
    }
    call("export", tmp_path / "a.json", "--csv", "--log", season)
    assert (tmp_path / "a.json").read_text(encoding="utf-8") == plain.out


def test_what_cannot_be_read_is_told_wherever_it_would_have_counted(
    call: Call, own_season: Path, tmp_path: Path
) -> None:
    (file,) = (own_season / "sessions").glob("20260503*.json")
    file.write_text('{"format": 1, "id": "2026', encoding="utf-8")
    for words in ("list", "show S04", "sheet S04", "compare S01 S04", "export", "export --lines"):
        said = call(*words.split(), "--log", own_season)
        assert said.code == (1 if words.startswith("export") else 0)
        assert said.err.count(f"sessions/{file.name} cannot be read: it ends in the middle") == 1
        assert said.out
    refused = call("show", "S03", "--log", own_season)
    assert refused.code == 2
    assert "There is no session “S03”" in refused.err
    assert f"sessions/{file.name} cannot be read" in refused.err


@pytest.mark.skipif(sys.platform == "win32", reason="links need a permission of their own there")
def test_export_through_a_link(call: Call, season: Path, tmp_path: Path) -> None:
    (tmp_path / "link.csv").symlink_to(tmp_path / "real.csv")
    assert call("export", tmp_path / "link.csv", "--log", season).code == 0
    assert (tmp_path / "link.csv").is_symlink()
    assert (tmp_path / "real.csv").read_text(encoding="utf-8").startswith("session,")


def test_export_replaces_a_file_wholly(call: Call, season: Path, tmp_path: Path) -> None:
    file = tmp_path / "a.csv"
    file.write_text("x" * 1_000_000, encoding="utf-8")
    file.chmod(0o640)
    said = call("export", file, "--log", season).out
    assert "".join(said.split()) == f"95rowswrittento{file}."  # a long name is broken over lines
    assert file.read_text(encoding="utf-8").count("\n") == 96
    assert file.stat().st_mode & 0o777 == 0o640
    assert [path.name for path in tmp_path.iterdir()] == ["a.csv"]


@pytest.mark.parametrize(
    ("name", "code"), [("none/a.csv", 1), (".", 2), ("log/a.csv", 2), ("log/sub/a.csv", 2)]
)
def test_export_that_cannot_be_written(
    call: Call, own_season: Path, tmp_path: Path, name: str, code: int
) -> None:
    own_season.rename(tmp_path / "log")
    said = call("export", tmp_path / name, "--log", tmp_path / "log")
    assert (said.code, said.out) == (code, "")
    assert said.err.startswith("backtoback: ")


def test_import_of_several_files(call: Call, tmp_path: Path) -> None:
    good, bad = tmp_path / "good.csv", tmp_path / "bad.csv"
    good.write_text(rows(row(value="7.26")), encoding="utf-8")
    bad.write_text(rows(row(value="7.3", session="S02"), row(value="x")), encoding="utf-8")
    said = call("import", bad, tmp_path / "none", good, "--log", tmp_path / "log")
    assert said.code == 1
    assert f"{bad}:1rowin,1rejected." in "".join(said.out.split())
    assert f"{good}: 1 row in, 0 rejected." in flat(said.out)
    assert said.err == f"backtoback: There is no file {tmp_path / 'none'}. (Check the path.)\n"
    assert len(data(call("list", "--json", "--log", tmp_path / "log"))) == 2


def test_import_as_data(call: Call, tmp_path: Path) -> None:
    file = tmp_path / "a.csv"
    file.write_text(rows(row(value="7.26"), row(value="726")), encoding="utf-8")
    said = call("import", file, "--json", "--log", tmp_path / "log")
    assert said.code == 1
    (found,) = json.loads(said.out)
    assert (found["rows_in"], found["rows_rejected"], found["rejected"][0]["line"]) == (1, 1, 3)
    assert (found["sessions_new"], found["machines_new"]) == (["S01"], ["Kettle Moth"])


def test_import_check_only(call: Call, tmp_path: Path, own_season: Path) -> None:
    file = tmp_path / "a.csv"
    file.write_text(rows(row(value="7.26", session="S77")), encoding="utf-8")
    for log in (tmp_path / "log", own_season):
        said = call("import", file, "--check-only", "--log", log)
        assert (said.code, said.err) == (0, "")
        assert "1 row would go in, 0 rejected." in flat(said.out)
    assert not (tmp_path / "log").exists()
    assert "S77" not in call("list", "--log", own_season).out


def test_import_refused_as_a_whole(call: Call, tmp_path: Path) -> None:
    file = tmp_path / "a.csv"
    file.write_text("a,b\n1,2\n", encoding="utf-8")
    said = call("import", file, "--log", tmp_path / "log")
    assert (said.code, said.out) == (1, "")
    assert "neither a CSV of attempts nor a log in JSON lines" in said.err
    assert not (tmp_path / "log").exists()


def test_import_waits_for_no_other_process(call: Call, own_season: Path, tmp_path: Path) -> None:
    file = tmp_path / "a.csv"
    file.write_text(rows(row(value="7.26", session="S77")), encoding="utf-8")
    with Book.open(own_season):
        said = call("import", file, "--log", own_season)
        assert (said.code, said.out) == (1, "")
        assert "has had the log open since" in said.err
        assert "Close it there" in said.err
        assert call("list", "S07", "--log", own_season).code == 0
        assert call("import", file, "--check-only", "--log", own_season).code == 0
    assert call("import", file, "--log", own_season).code == 0


def test_hostile_names_reach_the_screen_as_text(call: Call, tmp_path: Path) -> None:
    hostile = "=1+1\x1b[31m\x9b"
    line = row(value="7.26", machine=f'"{hostile}"', note=f'"{hostile}\nnext"')
    file = tmp_path / "a.csv"
    file.write_text(rows(line), encoding="utf-8")
    log = tmp_path / "log"
    for words in (("import", file), ("list",), ("show", "S01"), ("sheet", "S01"), ("health",)):
        said = call(*words, "--log", log)
        assert said.code == 0
        assert "\x1b" not in said.out
        assert "\x9b" not in said.out
    said = call("show", "S01", "--json", "--log", log)
    assert said.out.isascii()
    assert all(character.isprintable() or character == "\n" for character in said.out)
    assert data(said)["machine"] == hostile
    assert data(said)["attempts"][0]["note"] == f"{hostile}\nnext"
    exported = call("export", "--log", log).out
    assert f"'{hostile}" in exported
