"""Words of the command line, and what is said when they are off: one line, no traceback."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tests.tui.cli.conftest import Call
from tui.verbs import VERBS


def test_options_before_or_after_the_verb(call: Call, season: Path) -> None:
    after = call("list", "S07", "--json", "--log", season)
    assert call("--log", season, "--json", "list", "S07").out == after.out
    assert call("--json", "list", "--log", season, "S07").out == after.out


def test_the_environment_names_the_log(
    call: Call, season: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("BACKTOBACK_LOG", str(season))
    assert "S10" in call("list").out
    assert call("list", "--log", tmp_path / "none").code == 1


def test_the_default_log_is_the_users_own(
    call: Call, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    said = call("list")
    assert (said.code, said.out) == (1, "")
    assert said.err.startswith("backtoback: There is no log yet (")
    file = tmp_path / "a.csv"
    file.write_text(
        "session,started,machine,test,value\nS1,2026-01-01,M,top,70\n", encoding="utf-8"
    )
    assert call("import", file).code == 0
    assert "S1" in call("list").out
    monkeypatch.setenv("BACKTOBACK_LOG", "")
    assert "S1" in call("list").out


@pytest.mark.parametrize(
    ("words", "code", "sentence"),
    [
        (["bogus"], 2, "There is no command “bogus”. (One of: demo, list,"),
        (["show"], 2, "The following arguments are required: SESSION."),
        (["compare", "S01"], 2, "The following arguments are required: B."),
        (["list", "--colour"], 2, "Unrecognized arguments: --colour."),
        (["--js", "list"], 2, "Unrecognized arguments: --js."),
        (["import"], 2, "The following arguments are required: FILE."),
        (["export", "--csv", "--lines"], 2, "not allowed with argument"),
        (["export", "--json"], 2, "“export” has no --json."),
        (["--json"], 2, "The app has no --json."),
        (["--print-completion", "cmd"], 2, "invalid choice: 'cmd'"),
        (["show", "S99"], 2, "There is no session “S99”."),
        (["show", "S"], 2, "fits 10 sessions"),
        (["show", ""], 2, "Which session?"),
        (["show", "S05:Z"], 2, "S05 has no build Z"),
        (["sheet", "\x1b[31m"], 2, "There is no session “·[31m”."),
        (["changes", "S01", "S99"], 2, "There is no session “S99”."),
        (["compare", "S01", "S99"], 2, "There is no session “S99”."),
        (["compare", "S01", "S05:Z"], 2, "S05 has no build Z"),
        (["compare", "S01", "S03", "--gain", "x"], 2, "--gain: “x” is not a number."),
        (["compare", "S01", "S03", "--gain", "0"], 2, "must be above zero"),
        (["compare", "S01", "S03", "--test", "quarter mile"], 2, "is not a test"),
        (["compare", "S01", "S02"], 1, "different tests cannot be compared"),
        (["compare", "S01", "6.9"], 1, "has no session behind it"),
        (["compare", "S01", "S01"], 1, "against itself says nothing"),
    ],
)
def test_refusals(call: Call, season: Path, words: list[str], code: int, sentence: str) -> None:
    said = call("--log", season, *words)
    assert (said.code, said.out) == (code, "")
    assert said.err.startswith("backtoback: ")
    assert sentence in said.err
    assert said.err.count("\n") == 1


@pytest.mark.parametrize("verb", ["list", "health", "export"])
def test_logs_that_are_none(call: Call, tmp_path: Path, verb: str) -> None:
    (tmp_path / "file").write_text("x", encoding="utf-8")
    (tmp_path / "other").mkdir()
    (tmp_path / "other" / "letter.txt").write_text("x", encoding="utf-8")
    (tmp_path / "newer").mkdir()
    (tmp_path / "newer" / "log.json").write_text('{"format": 99, "id": "x"}', encoding="utf-8")
    for name, sentence in (
        ("none", "There is no log folder"),
        ("file", "is a file, and a log is a folder"),
        ("other", "holds other files"),
        ("newer", "has format 99"),
        ("x" * 400, "cannot be used"),
    ):
        said = call(verb, "--log", tmp_path / name)
        assert (said.code, said.out) == (1, "")
        assert sentence in said.err
        assert said.err.count("\n") == 1
    assert not (tmp_path / "none").exists()


def test_reading_leaves_no_trace(call: Call, season: Path) -> None:
    before = {p: p.stat().st_mtime_ns for p in season.rglob("*")}
    for words in (["list"], ["show", "S03"], ["compare", "S01", "S03"], ["health"], ["export"]):
        assert call(*words, "--log", season).code == 0
    assert {p: p.stat().st_mtime_ns for p in season.rglob("*")} == before


def test_a_session_that_contradicts_itself_is_a_sentence(call: Call, own_season: Path) -> None:
    (file,) = (own_season / "sessions").glob("20260503*.json")
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace('"test": "0-50"', '"test": "0-0"'), encoding="utf-8")
    for words in (["show", "S03"], ["sheet", "S03"]):
        said = call(*words, "--log", own_season)
        assert (said.code, said.out) == (1, "")
        assert "S03 cannot be shown: “0-0” is not a test I know" in said.err
    assert call("list", "--log", own_season).code == 0
    assert call("health", "--log", own_season).code == 1
    exported = call("export", "--log", own_season)
    assert exported.code == 1
    assert "S03 is left out" in exported.err
    assert "\nS03," not in exported.out
    assert "\nS04," in exported.out


def test_a_blank_log_is_not_the_users_own(call: Call, tmp_path: Path) -> None:
    """An empty variable of a script must not write into the log at home."""
    file = tmp_path / "a.csv"
    file.write_text("session,started,machine,test,value\nS1,2026-04-12,Moth,0-50,7.26\n")
    for words in (["list"], ["export"], ["demo", "--text"], ["import", file]):
        for blank in ("", "  "):
            said = call(*words, "--log", blank)
            assert (said.code, said.out) == (2, "")
            assert "--log: which folder?" in said.err


def test_help_names_every_verb(call: Call) -> None:
    said = call("--help")
    assert said.code == 0
    for verb in VERBS:
        assert f"    {verb.name} " in said.out
        assert call(verb.name, "--help").code == 0
    names = [verb.name for verb in VERBS]
    assert len(set(names)) == len(names)
    assert {
        "demo", "list", "show", "changes", "compare", "sheet", "import", "export", "health",
    } <= set(names)  # fmt: skip


def test_version(call: Call) -> None:
    said = call("--version")
    assert said.code == 0
    assert said.out.startswith("backtoback ")


@pytest.mark.parametrize("shell", ["bash", "zsh", "tcsh"])
def test_completion(call: Call, shell: str) -> None:
    said = call("--print-completion", shell)
    assert (said.code, said.err) == (0, "")
    assert all(verb.name in said.out for verb in VERBS)
    assert "check-only" in said.out


def test_no_terminal_no_app(call: Call, season: Path) -> None:
    said = call("--log", season)
    assert (said.code, said.out) == (2, "")
    assert "needs a terminal" in said.err


def test_interrupted(call: Call, season: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def interrupted(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("tui.verbs.list.list_rows", interrupted)
    said = call("list", "--log", season)
    assert (said.code, said.out, said.err) == (130, "", "")


def test_a_fault_of_the_program_is_admitted_in_words(
    call: Call, season: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def faulty(*_: object) -> None:
        raise RuntimeError("wires crossed")

    monkeypatch.setattr("tui.verbs.list.list_rows", faulty)
    said = call("list", "--log", season)
    assert (said.code, said.out) == (1, "")
    assert "a fault of its own (RuntimeError)" in said.err
    assert "Traceback" not in said.err
    details = Path(said.err.rpartition("mends it: ")[2].strip())
    assert "wires crossed" in details.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    "edit",
    [
        {"sheets": [], "attempts": [], "checks": [], "trail": []},
        {"machine": "20990101-000000-aaaaaaaa", "place": "nowhere", "came_from": "nowhere"},
        {"started": "2026-05-03T10:05:00"},
        {"started": "0001-01-01T00:00:00+14:00"},
        {"attempts": [{"n": 1, "value": 7.3, "sheet": 9}]},
        {"attempts": [{"n": 10**30, "value": 1e300}]},
        {"attempts": [{"n": 1, "value": 7.3, "direction": "up"}], "directions": ["W", "W"]},
        {"sheets": [{"readings": {"bore": {"state": "measured", "value": 1e300}}}]},
        {"sheets": [{"readings": {"lash_in": {"state": "measured", "value": -0.1}}}]},
        {"prediction": {"value": 1e300, "against": "../../log"}},
        {"label": "S05"},
        {"label": "S03\n\x1b[2J\u202e", "question": "[/b]\x9b31m"},
        {"notes": ["x" * 1_000_000, "\x1b]0;title\x07", "\u202e"]},
    ],
)
def test_a_document_edited_by_hand_stops_no_command(
    call: Call, own_season: Path, edit: dict[str, Any]
) -> None:
    """The session it holds may be refused; the others work, and nothing is at fault."""
    (file,) = (own_season / "sessions").glob("20260503*.json")
    fields = json.loads(file.read_text(encoding="utf-8")) | edit
    file.write_text(json.dumps(fields), encoding="utf-8")
    for words in (
        "list", "health", "export", "export --lines", "show S03", "sheet S03", "changes S01 S03",
        "compare S01 S03", "compare S03 S04", "reckon compression_ratio --sheet S03",
    ):  # fmt: skip
        said = call(*words.split(), "--log", own_season)
        assert said.code in (0, 1, 2)
        assert said.code == 0 or said.err or said.out
        assert "fault of its own" not in said.err
        shown = said.err if words.startswith("export") else said.out + said.err
        assert not {"\x1b", "\x9b", "\u202e"} & {*shown}
    assert call("show", "S04", "--log", own_season).code == 0
    assert call("compare", "S01", "S08", "--log", own_season).code == 0
