"""Everything that is shown of a comparison, read in one go from a real log."""

from __future__ import annotations

from pathlib import Path

import msgspec
import pytest

from core.attempts import Strike
from core.errors import InputError, NotFoundError
from core.report.comparison_view import Asked, view_of
from core.session import Book, Session
from core.stats import Verdict
from tests.making import bare_session, new_book

BEFORE = "W7.54 E7.15 W7.49 E7.14 W7.46 E7.04 W7.50 E7.12"
AFTER = "W7.00 E6.60 W7.01 E6.58 W7.03 E6.61 W6.99 E6.60"
S60, S66 = {"final_sprocket_teeth": 60.0}, {"final_sprocket_teeth": 66.0}


@pytest.fixture
def book(tmp_path: Path) -> Book:
    """A log of one machine with two sessions, and one that ran two builds."""
    book, _ = new_book(tmp_path)
    machine = book.add_machine("Kettle Moth")

    def made(label: str, blocks: list[str], **more: object) -> Session:
        session = bare_session(label, blocks, machine=machine.id, place="", **more)  # type: ignore[arg-type]
        return msgspec.structs.replace(session, gain=0.15)

    book.save(
        made("S01", [BEFORE], sheets=(S60,)),
        made("S02", [AFTER], sheets=(S66,), day=3),
        made("S03", [BEFORE, AFTER], sheets=(S60, S66), day=6),
    )
    return book


def asked(book: Book, first: str, second: str, **more: object) -> Asked:
    """What a screen would ask, by labels."""
    return Asked(book.session(first).id, book.session(second).id, **more)  # type: ignore[arg-type]


def test_all_parts_agree_with_the_comparison(book: Book) -> None:
    """Facts, pictures, causes and names."""
    view = view_of(book, asked(book, "S01", "S02"))
    made = view.made
    assert made.difference is not None
    assert view.machine == "Kettle Moth"
    assert view.test.name == "0-50"
    assert (view.causes, view.rest) == (("final sprocket teeth: 60T -> 66T",), ())
    (seen,) = view.seen
    sides, difference = seen.sides, seen.difference
    assert [row.label for row in sides.rows] == ["1 S01", "2 S02"]
    assert [dot.value for dot in sides.rows[1].dots] == list(made.b.values)
    bar = difference.rows[0].bar
    assert bar is not None
    assert (bar.middle, bar.low, bar.high) == (
        made.difference.value,
        made.difference.low,
        made.difference.high,
    )
    assert (difference.gain, difference.ends) == (0.15, ("quicker", "slower"))
    facts = dict(view.facts)
    assert facts["S01"].startswith("mean 7.31 s, 4 pairs, 12 Apr 2026, logger-10hz")
    assert facts["smallest gain"] == "0.15 s, as said in S02"
    assert "day to day" in facts


def test_swapping_twice_asks_the_same(book: Book) -> None:
    """Builds go with their sessions."""
    question = asked(book, "S01", "S03", first_build="A", second_build="B")
    assert question.swapped.swapped == question
    there, back = view_of(book, question).made, view_of(book, question.swapped).made
    assert there.difference is not None
    assert back.difference is not None
    assert there.difference.value == pytest.approx(-back.difference.value)


def test_what_was_chosen_by_itself_is_filled_in(book: Book) -> None:
    """The first two builds of one session, and the nearest of another."""
    within = view_of(book, asked(book, "S03", "S03"))
    assert (within.asked.first_build, within.asked.second_build) == ("A", "B")
    assert within.builds == (("A", "B"), ("A", "B"))
    across = view_of(book, asked(book, "S02", "S03"))
    assert across.asked.second_build == "B"
    assert across.asked.test == "0-50"
    assert across.tests == ("0-50",)


def test_a_gain_that_is_typed_is_said_to_be_not_saved(book: Book) -> None:
    """And it is what the verdict is about."""
    view = view_of(book, asked(book, "S01", "S02", gain=9.0))
    assert view.made.gain == 9.0
    assert view.made.verdict is Verdict.NO_DIFFERENCE
    assert dict(view.facts)["smallest gain"] == "9 s, typed for this look, not saved"
    assert book.session("S02").gain == 0.15


def test_nothing_to_compare_has_no_pictures_and_no_sums(book: Book) -> None:
    """All struck."""
    session = book.session("S02")
    strike = Strike(code="GUST")
    tries = tuple(msgspec.structs.replace(a, strike=strike) for a in session.attempts)
    book.save(msgspec.structs.replace(session, attempts=tries))
    view = view_of(book, asked(book, "S01", "S02"))
    assert view.seen == ()
    assert set(dict(view.facts)) == {"S01", "S02", "smallest gain"}
    assert dict(view.facts)["S02"].startswith("nothing that counts")
    assert "nothing to compare" in view.made.sentence


def test_a_look_with_struck_ones_draws_them_hollow(book: Book) -> None:
    """As struck dots among those that count."""
    session = book.session("S02")
    tries = tuple(
        msgspec.structs.replace(a, strike=Strike(code="LATE")) if a.n == 1 else a
        for a in session.attempts
    )
    book.save(msgspec.structs.replace(session, attempts=tries))
    view = view_of(book, asked(book, "S01", "S02"))
    looks = {seen.look.id: seen for seen in view.seen}
    marks = [dot.mark for dot in looks["with struck"].sides.rows[1].dots]
    assert marks.count("struck") == 1
    rows = {row.label: row.role for row in looks["with struck"].difference.rows}
    assert rows.pop("with struck") == "main"
    assert set(rows.values()) == {"beside"}


def test_what_cannot_be_compared_is_refused(book: Book) -> None:
    """With the sentence of the core."""
    with pytest.raises(InputError, match="against itself"):
        view_of(book, asked(book, "S01", "S01"))
    with pytest.raises(NotFoundError):
        view_of(book, asked(book, "S01", "S02", first_build="Z"))
    with pytest.raises(NotFoundError):
        view_of(book, Asked("20200101-000000-nonenone", book.session("S01").id))
