"""Pages of sessions, comparisons, lists and the log's health, on the invented season."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import pytest

from core.checks import CAUTION
from core.errors import NotFoundError
from core.report import Report, as_text
from core.report.changing import changed_between, changed_data, changed_page
from core.report.comparing import comparison_data, comparison_page
from core.report.health import health_data, health_of, health_page
from core.report.importing import import_data, import_page
from core.report.listing import list_data, list_page, list_rows
from core.report.session_data import session_data
from core.report.session_pages import session_page, session_sheet
from core.report.verdicts import verdict_sentence
from core.report.width import visible, width_of
from core.session import Book, Session, note
from core.verdict import compare_sessions
from tests.core.exchange.samples import empty, only_session, read_in, row, rows
from tests.tui.season import HOSTILE


def flat(report: Report) -> str:
    """Return the text of a report with single blanks, whatever the lines are."""
    return " ".join(as_text(report).split())


def everything(book: Book) -> list[Report]:
    """Return every page that a log gives."""
    sessions = [book.session(head.id) for head in book.sessions()]
    pages = [page(book, s) for s in sessions for page in (session_page, session_sheet)]
    return [*pages, list_page(list_rows(book)), health_page(health_of(book))]


def test_every_page_of_the_season_fits_80_columns(season: Book) -> None:
    for report in everything(season):
        for ascii_only in (False, True):
            lines = as_text(report, ascii_only=ascii_only).split("\n")
            assert [line for line in lines if width_of(line) > 80] == []
            assert [line for line in lines if line != visible(line)] == []


def test_the_sheet_has_all_there_is_to_know(season: Book) -> None:
    text = flat(session_sheet(season, season.session("S07")))
    for said in (
        "S07: Low Badger, 80m at Quillowmere lane",
        "Has the Badger kept its time",
        "smallest gain 0.15 s",
        "final sprocket teeth 60T",
        "swept volume 207.8 cm³",  # 0.7854 x 70² x 54 = 207.8
        "overall ratio 5.00:1",  # 60 / 12
        "Lowest limit you entered: 6,500 (rod)",
        "throttle return springs: 1 spring -> 2 springs",
        "emergency number cleared: 112",
        "10:38 20 1015 55 0.3",
        "○ 7 11:06 out 13.10 s struck: CHAIN (came off at 60 m)",
        "● 8 11:12 out 9.65 s",
        "4 pairs 9.52 s",
        "decision keep",
        CAUTION,
    ):
        assert said in text
    assert "safe rpm" not in text


def test_only_what_was_recorded_stands_on_the_sheet(season: Book) -> None:
    text = flat(session_sheet(season, season.session("S02")))
    assert "chamber volume" not in text
    assert "compression ratio" not in text


def test_the_page_says_verdict_changes_and_builds(season: Book) -> None:
    text = flat(session_page(season, season.session("S05")))
    assert "S05:B is 0.96 s slower than S05:A" in text
    assert "Swap from A to B: - final sprocket: 66T -> 60T" in text
    assert "A 0-50 6 pairs 7.31 s" in text
    assert "B 0-50 3 pairs 8.27 s" in text
    assert "Predicted 0.75 s slower; got 0.96 s slower" in text
    assert "From S04: - engine hours: 7.5 h -> 7.9 h" in text


def test_a_session_stopped_by_a_check_is_told_without_reproach(season: Book) -> None:
    session = season.session("S06")
    assert verdict_sentence(season, session).endswith("no attempts. It is a full record.")
    text = flat(session_page(season, session))
    assert "state stopped: brake pedal reaches its stop" in text
    assert "not cleared" in text


def test_a_comparison_as_page_and_as_data(season: Book) -> None:
    made = compare_sessions(season, "S01", "S03", gain=0.2)
    text = flat(comparison_page(made))
    assert text.startswith(f"S03 against S01, 0-50 ===================== {made.sentence}")
    assert "clutch engagement: 2,100 rpm -> 2,900 rpm" in text
    assert "Smallest gain worth having: 0.20 s." in text
    data = comparison_data(made)
    needed = [
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
    ]
    assert set(needed) <= data.keys()
    assert (data["unit"], data["n_a"], data["n_b"], data["gain"]) == ("s", 4, 4, 0.2)
    assert (data["verdict"], data["sentence"]) == ("quicker", made.sentence)
    assert data["low"] <= data["difference"] <= data["high"] < 0
    assert data["difference"] == pytest.approx(data["mean_b"] - data["mean_a"])
    causes = {c["slot"] for c in data["changed"] if c["is_cause"]}
    assert causes == {"engagement_rpm", "final_sprocket"}
    assert {cap["id"] for cap in data["caps"]} == {cap.id for cap in made.caps}
    assert no_nan(data)


def no_nan(data: Any) -> bool:
    """Tell whether data can be written as strict JSON."""
    text = json.dumps(data, allow_nan=False)
    return math.isfinite(len(text))


def test_nothing_to_compare_has_nulls_and_no_nan(season: Book) -> None:
    data = comparison_data(compare_sessions(season, "S02", "S06"))
    assert (data["difference"], data["low"], data["mean_b"], data["n_b"]) == (None, None, None, 0)
    assert "no attempts to compare" in data["sentence"]
    assert no_nan(data)


def test_every_session_as_data(season: Book) -> None:
    for head in season.sessions():
        data = session_data(season, season.session(head.id))
        assert no_nan(data)
        assert data["label"] == head.label
        assert len(data["attempts"]) == len(head.attempts)
    data = session_data(season, season.session("S07"))
    assert (data["machine"], data["place"]) == ("Low Badger", "Quillowmere lane")
    assert data["attempts"][6]["struck"] == "CHAIN"
    assert data["sheets"][0]["derived"]["swept_volume"]["value"] == pytest.approx(207.8, abs=0.05)


@pytest.mark.parametrize(
    ("a", "b", "causes"),
    [
        ("S03", "S05:B", ["final_sprocket"]),
        ("S01", "S03", ["engagement_rpm", "final_sprocket"]),
        ("S03", "S04", []),
    ],
)
def test_changes(season: Book, a: str, b: str, causes: list[str]) -> None:
    found = changed_between(season, a, b)
    assert [change.slot for change in found.causes] == causes
    data = changed_data(found)
    assert [c["slot"] for c in data["changed"] if c["is_cause"]] == causes
    text = flat(changed_page(found))
    assert text.startswith(f"From {a} to {b} =")
    assert all(change.words in text for change in found.all)
    assert ("Nothing that was recorded differs." in text) is (not found.all)


def test_changes_of_what_is_not_there(season: Book) -> None:
    with pytest.raises(NotFoundError):
        changed_between(season, "S03", "S05:Z")
    with pytest.raises(NotFoundError):
        changed_between(season, "S99", "S05")


@pytest.mark.parametrize(
    ("words", "labels"),
    [
        ([], ["S10", "S09", "S08", "Bench", "S07", "S06", "S05", "S04", "S03", "S02", "S01"]),
        (["BADGER"], ["S07", "S06", "S02"]),
        (["quillowmere", "chain"], ["S07"]),
        (["stopped"], ["S06"]),
        (["2026-08"], ["S09", "S08"]),
        (["40-65"], ["S09"]),
        (["badger moth"], []),
    ],
)
def test_the_list_and_its_filter(season: Book, words: list[str], labels: list[str]) -> None:
    assert [found.head.label for found in list_rows(season, words)] == labels


def test_rows_of_the_list(season: Book) -> None:
    data = {row["label"]: row for row in list_data(list_rows(season))}
    assert data["S01"]["mean"] == pytest.approx(8.39, abs=0.005)  # mean of its four pairs
    assert (data["S05"]["mean"], data["S05"]["sheets"]) == (None, 3)
    assert (data["S06"]["attempts"], data["S06"]["mean"]) == (0, None)
    text = as_text(list_page(list_rows(season, ["S05"])))
    assert "3 sheets" in text
    assert as_text(list_page(())) == "No session yet.\n"


def test_health_of_a_sound_log(season: Book) -> None:
    health = health_of(season)
    assert health.is_sound
    data = health_data(health)
    assert (data["sound"], data["documents"]["sessions"], data["problems"]) == (True, 11, [])
    assert "Every document can be read." in flat(health_page(health))


def test_health_finds_what_is_broken_and_what_cannot_be(tmp_path: Path) -> None:
    with empty(tmp_path) as book:
        read_in(book, rows(row(value="7.26"), row(value="7.31", session="S02")))
        first, second = (book.log.get(Session, head.id) for head in book.sessions())
        folder = book.log.folder / "sessions"
    text = (folder / f"{first.id}.json").read_text(encoding="utf-8")
    (folder / f"{first.id}.json").write_text(text[: len(text) // 2], encoding="utf-8")
    text = (folder / f"{second.id}.json").read_text(encoding="utf-8")
    changed = text.replace('"test": "0-50"', '"test": "0-0"').replace(second.machine, "gone")
    (folder / f"{second.id}.json").write_text(changed, encoding="utf-8")
    with Book.open(tmp_path / "log", read_only=True, create=False) as book:
        health = health_of(book)
    files = [problem.file for problem in health.problems]
    assert files.count(f"sessions/{first.id}.json") == 1
    said = flat(health_page(health))
    assert "3 problems" in said
    assert "“0-0” is not a test I know" in said
    assert "its machine is not in the log" in said
    assert not health_data(health)["sound"]


@pytest.mark.parametrize("hostile", [h for h in HOSTILE if "\ud800" not in h])
def test_hostile_notes_are_shown_and_never_sent(tmp_path: Path, hostile: str) -> None:
    with empty(tmp_path) as book:
        read_in(book, rows(row(value="7.26")))
        session = book.act(only_session(book), lambda s: note(s, hostile, book.clock()))
        for page in (session_page, session_sheet):
            text = as_text(page(book, session))
            assert all(line == visible(line) for line in text.split("\n"))
            assert all(width_of(line) <= 80 for line in text.split("\n"))


def test_what_became_of_files(tmp_path: Path) -> None:
    with empty(tmp_path) as book:
        made = read_in(book, rows(row(value="7.26"), *[row(value="x")] * 45))
    text = flat(import_page([made]))
    assert "a.csv: 1 row in, 45 rejected." in text
    assert "line 3: the value “x” is not a number." in text
    assert "and 5 more; --json lists all of them" in text
    (data,) = import_data([made])
    assert (data["rows_in"], data["rows_rejected"], len(data["rejected"])) == (1, 45, 45)
    assert data["machines_new"] == ["Kettle Moth"]
