"""The sections of a session's page, without a screen."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import msgspec
import pytest

import demo
from core.report import Report, as_text
from core.report.document import Block, Heading, Paragraph, Table
from core.report.review import SECTIONS, found_by, review_sections
from core.session import Book, Prediction, Session
from tests.making import bare_session, new_book

BEFORE = "W7.54 E7.15 W7.49 E7.14 W7.46 E7.04 W7.50 E7.12"
AFTER = "W7.00 E6.60 W7.01 E6.58 W7.03 E6.61 W6.99 E6.60"


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Book]:
    """The demo season."""
    folder = tmp_path_factory.mktemp("season") / "log"
    demo.build(folder)
    with Book.open(folder, read_only=True) as opened:
        yield opened


def blocks(book: Book, label: str, section: str) -> tuple[Block, ...]:
    """The blocks of one section."""
    found = {s.id: s.blocks for s in review_sections(book, book.session(label))}
    return {str(name): made for name, made in found.items()}[section]


def told(made: tuple[Block, ...]) -> str:
    """Blocks as running text."""
    return " ".join(as_text(Report("", made)).split())


def test_every_session_has_every_section_in_order(book: Book) -> None:
    """None is empty."""
    for head in book.sessions():
        sections = review_sections(book, book.session(head.label))
        assert [(s.id, s.title) for s in sections] == list(SECTIONS)
        assert all(s.blocks for s in sections)


def test_a_reading_says_where_it_comes_from(book: Book) -> None:
    """Entered today, or carried over from the session that entered it."""
    setup = told(blocks(book, "S03", "setup"))
    assert "● final sprocket 66T today" in setup
    assert "· bore 70.00 mm S01" in setup
    later = told(blocks(book, "S08", "setup"))
    assert "· clutch engagement 2,900 rpm S03" in later
    first = told(blocks(book, "S01", "setup"))
    assert "first sheet of its kind" in first
    assert "● bore 70.00 mm today" in first


def test_only_what_differs_follows_from_a_later_build(book: Book) -> None:
    """The swept volume is told once, the ratio for each."""
    setup = told(blocks(book, "S05", "setup"))
    assert setup.count("swept volume") == 1
    assert setup.count("overall ratio") == 2
    assert setup.count("Lowest limit you entered") == 1


def test_what_is_open_stands_before_what_is_settled(book: Book) -> None:
    """Of the session that was stopped by its checks."""
    made = blocks(book, "S06", "checks")
    headings = [block.text for block in made if isinstance(block, Heading)]
    assert headings[0] == "Not cleared"
    first = made[0]
    assert isinstance(first, Paragraph)
    assert "not cleared" in first.text
    assert "stop checks" in first.text
    rows = next(block for block in made if isinstance(block, Table)).rows
    assert {row[0] for row in rows} <= {"○", "×"}
    settled = told(blocks(book, "S03", "checks"))
    assert "all cleared or not applying" in settled
    assert "Done: " in settled


def test_an_odd_attempt_is_marked_and_others_are_not(book: Book) -> None:
    """Only those that are named."""
    session = book.session("S08")
    for odd in ((), (5,)):
        attempts = next(s for s in review_sections(book, session, odd=odd) if s.id == "attempts")
        table = next(block for block in attempts.blocks if isinstance(block, Table))
        marked = [row[1] for row in table.rows if row[0] == "◆"]
        assert marked == [str(n) for n in odd]
        assert ("stands apart" in told(attempts.blocks)) == bool(odd)


def test_the_numbers_of_each_build_are_told(book: Book) -> None:
    """With directions, best, strikes and tags."""
    shown = told(blocks(book, "S05", "attempts"))
    assert "build A 6 pairs, mean 7.31 s" in shown
    assert "build B 3 pairs, mean 8.27 s" in shown
    assert "1 struck" in told(blocks(book, "S07", "attempts"))


def test_the_trail_is_told_day_by_day(book: Book) -> None:
    """Every line of it."""
    session = book.session("S07")
    made = blocks(book, "S07", "trail")
    rows = [row for block in made if isinstance(block, Table) for row in block.rows]
    assert [row[-1] for row in rows] == [line.words for line in session.trail]
    assert [block.text for block in made if isinstance(block, Heading)] == ["19 Jul 2026"]


def test_what_the_log_says_agrees_with_the_comparison(book: Book) -> None:
    """Verdict, odd attempts, prediction and picture of one and the same session."""
    found = found_by(book, book.session("S08"))
    assert found.made is not None
    assert {odd.n for odd in found.made.odd if odd.session == found.made.b.session} == found.odd
    assert "still open" in found.prediction
    assert [row.role for row in found.picture.rows][-1] == "beside"
    first = found_by(book, book.session("S01"))
    assert (first.made, first.prediction, first.odd) == (None, "", frozenset())


def test_a_prediction_is_held_against_the_session_it_names(tmp_path: Path) -> None:
    """Also when the session itself ran two builds, and when there is nothing to compare."""
    book, _ = new_book(tmp_path)
    machine = book.add_machine("Kettle Moth").id

    def made(label: str, blocks: list[str], day: int, **more: object) -> Session:
        session = bare_session(label, blocks, machine=machine, place="", day=day)
        return msgspec.structs.replace(session, **more)

    first = made("S01", [BEFORE], 0)
    other = made("T01", [BEFORE], 1, test="40-65")
    empty = made("S02", [], 2)
    book.save(first, other, empty)
    cases = (
        (first.id, "got 0.50 s quicker"),
        (other.id, "different tests cannot be compared"),
        (empty.id, ""),
    )
    for number, (against, words) in enumerate(cases):
        prediction = Prediction(value=-0.5, against=against)
        session = made(f"P0{number}", [AFTER], 5, prediction=prediction)
        book.save(session)
        said = found_by(book, session).prediction
        assert words in said
        assert bool(said) == bool(words)
    book.close()
