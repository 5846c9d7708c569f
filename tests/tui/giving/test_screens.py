"""The log gives back in the app: questions in three keys at most, the season, the shelf."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from core.ask import QUESTIONS
from core.session import Book
from core.setup import Part
from tests.tui.driving import Driven, opened, press, settle, type_in
from tests.tui.season import empty_log
from tests.tui.seeing import text

pytestmark = pytest.mark.xdist_group("giving")
LARGE = (110, 60)


@pytest.fixture(scope="module")
def season(built_season: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The invented season, to be copied where it is written to."""
    folder = tmp_path_factory.mktemp("giving") / "log"
    return Path(shutil.copytree(built_season, folder))


def flat(app: object) -> str:
    """Return what is on the screen with single blanks."""
    return " ".join(text(app).split())  # type: ignore[arg-type]


async def come(pilot: Driven) -> None:
    """Wait for what a thread works out, and for the screen to show it."""
    for _ in range(200):
        running = [w for w in pilot.app.workers if w.group in ("report", "shelf")]
        if not running:
            break
        await pilot.app.workers.wait_for_complete(running)
    await settle(pilot)


def keys_for(number: int) -> tuple[str, ...]:
    """Return the keys that answer a question from the log list."""
    digits = tuple(str(number))
    return ("a", *digits, "enter") if number in (1, 2) else ("a", *digits)


def test_three_keys_at_most() -> None:
    """By the table, whatever the questions are."""
    assert all(len(keys_for(q.number)) <= 3 for q in QUESTIONS)


async def test_questions_are_answered_by_their_keys(season: Path) -> None:
    """From the log list and back to it; what each answers is tested without a screen."""
    async with opened(season, size=LARGE) as pilot:
        for question in (q for q in QUESTIONS if q.number in (2, 7, 20)):
            await press(pilot, *keys_for(question.number))
            await come(pilot)
            shown = flat(pilot.app)
            assert f"{question.number}. {question.words[:40]}" in shown
            assert "Looking through the log" not in shown
            await press(pilot, "escape", "escape")
        assert "Back to Back" in text(pilot.app)


async def test_an_answer_about_something_else_and_written_to_a_file(
    season: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A part is named; the page is written where the command was started."""
    monkeypatch.chdir(tmp_path)
    async with opened(season, size=LARGE) as pilot:
        await press(pilot, "a", "5")
        await come(pilot)
        assert "steps changed one thing only" in flat(pilot.app)
        await press(pilot, "w")
        await type_in(pilot, "clutch")
        await press(pilot, "enter")
        await come(pilot)
        assert "never changed on its own: each time with final sprocket" in flat(pilot.app)
        await press(pilot, "p", "enter")
        await come(pilot)
        assert "never changed on its own" in (tmp_path / "answer.html").read_text(encoding="utf-8")
        await press(pilot, "escape", "slash")
        await type_in(pilot, "drum")
        await press(pilot, "enter")
        await come(pilot)
        assert "Clutch drum 118 °C" in flat(pilot.app)
        await press(pilot, "escape", "9", "9")
        await come(pilot)
        await press(pilot, "m")
        await come(pilot)
        assert "Low Badger, 80m:" in flat(pilot.app)


async def test_the_season_goes_from_test_to_test(season: Path) -> None:
    """And is drawn."""
    async with opened(season, size=LARGE) as pilot:
        await press(pilot, "t")
        await come(pilot)
        shown = flat(pilot.app)
        assert "Kettle Moth, 0-50: the season" in shown
        assert "clutch engagement: 2,100 rpm -> 2,900 rpm" in shown
        await press(pilot, "t")
        await come(pilot)
        assert "Kettle Moth, 40-65: the season" in flat(pilot.app)


async def test_parts_are_found_read_and_changed(season: Path, tmp_path: Path) -> None:
    """Each change is on the disk when it is said."""
    own = Path(shutil.copytree(season, tmp_path / "own"))
    async with opened(own, size=LARGE) as pilot:
        await press(pilot, "s")
        await come(pilot)
        assert "23 parts" in flat(pilot.app)
        await press(pilot, "slash")
        await type_in(pilot, "pep")
        await press(pilot, "tab")
        await come(pilot)
        assert "1 of 23 parts" in flat(pilot.app)
        await press(pilot, "enter")
        await come(pilot)
        assert "times fitted 1" in flat(pilot.app)
        await press(pilot, "escape", "c", "x")
        await type_in(pilot, "worn")
        await press(pilot, "enter")
        await come(pilot)
        assert "retired while fitted" in flat(pilot.app)
        await press(pilot, "d")
        await come(pilot)
        assert "rod bolts" in flat(pilot.app)
        await press(pilot, "escape", "i")
        await type_in(pilot, "oil=x")
        await press(pilot, "enter")
        assert "is no figure of an interval" in flat(pilot.app)
    with Book.open(own, read_only=True, create=False) as book:
        pepper = next(p for p in book.log.all(Part) if p.name == "Pepper")
    assert (pepper.status, pepper.retired_because) == ("retired", "worn")


async def test_an_empty_log_gives_back_sentences(tmp_path: Path) -> None:
    """And no fault."""
    async with opened(empty_log(tmp_path)) as pilot:
        await press(pilot, "a", "1", "1")
        await come(pilot)
        assert "The log is empty" in flat(pilot.app)
        await press(pilot, "escape", "escape", "t")
        await come(pilot)
        assert "has no attempts yet" in flat(pilot.app)
        await press(pilot, "escape", "s", "enter")
        assert "There is no part under the cursor." in flat(pilot.app)


async def test_a_conflict_copy_is_decided_side_by_side(season: Path, tmp_path: Path) -> None:
    """The version that did not win is kept, and the copy is put away."""
    own = Path(shutil.copytree(season, tmp_path / "own"))
    part = next(p for p in (own / "parts").glob("*.json") if '"63T"' in p.read_text())
    copy = part.with_name(f"{part.stem} (copy of the other laptop).json")
    copy.write_text(part.read_text().replace('"63T"', '"63T worn"'))
    async with opened(own, size=LARGE) as pilot:
        await press(pilot, "m")
        await come(pilot)
        shown = flat(pilot.app)
        assert "conflict 1 of 1" in shown
        assert "name 63T 63T worn" in shown
        await press(pilot, "b")
        assert "cannot be kept twice" in flat(pilot.app)
        await press(pilot, "enter", "t")
        await come(pilot)
        assert "the other log's version is taken" in flat(pilot.app)
        assert "No conflict copy lies in this log" in flat(pilot.app)
    assert '"63T worn"' in part.read_text()
    assert not copy.exists()
    kept = [p.read_text() for p in (own / "aside" / "parts").iterdir()]
    assert any('"name": "63T"' in text for text in kept)
