"""A session file that says what cannot be is told and left alone, and the rest of the log works."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import msgspec
import pytest

from core.attempts import Attempt
from core.errors import BrokenDocumentError, NotFoundError
from core.session import Book, Plan, Session
from core.session.soundness import impossible
from tests.making import new_book

Edit = Callable[[dict[str, Any]], None]


def _attempt(field: str, value: object) -> Edit:
    return lambda fields: fields["attempts"][0].update({field: value})


EDITS: dict[str, tuple[Edit, str]] = {
    "a sheet that is not there": (_attempt("sheet", 7), "attempt 1: its setup sheet is not there"),
    "a sheet before the first": (_attempt("sheet", -1), "attempt 1: its setup sheet is not there"),
    "no sheet at all": (
        lambda fields: fields.update(sheets=[], checks=[]),
        "setup sheet is not there",
    ),
    "zero": (_attempt("value", 0), "attempt 1: its value is not above zero"),
    "below zero": (_attempt("value", -7.26), "attempt 1: its value is not above zero"),
    "without end": (_attempt("value", 1e308), "attempt 1: its value is not above zero, or without"),
    "a gain below zero": (lambda fields: fields.update(gain=-0.15), "gain worth having is not"),
    "a check of no sheet": (
        lambda fields: fields.update(checks=[{"rule": "lash", "sheet": 3}]),
        "a check belongs to a setup sheet that is not there",
    ),
    "a start without offset": (
        lambda fields: fields.update(started="2026-05-03T10:05:00"),
        "started should be a time with its offset from UTC",
    ),
    "an attempt without offset": (
        _attempt("at", "2026-05-03T10:05:00"),
        "attempts[0].at should be a time with its offset from UTC",
    ),
}


@pytest.fixture
def book(tmp_path: Path) -> Book:
    """A log with two sessions of an attempt each, S01 and S02."""
    book, _ = new_book(tmp_path)
    machine = book.add_machine("Kettle Moth")
    for label in ("S01", "S02"):
        session = book.start(Plan(machine=machine.id, test="0-50", label=label))
        book.save(msgspec.structs.replace(session, attempts=(Attempt(n=1, value=7.26),)))
    return book


def _edit(book: Book, label: str, edit: Edit) -> Path:
    id_ = book.session(label).id
    file = book.log.folder / "sessions" / f"{id_}.json"
    fields = json.loads(file.read_text(encoding="utf-8"))
    edit(fields)
    file.write_text(json.dumps(fields), encoding="utf-8")
    return file


@pytest.mark.parametrize("what", EDITS)
def test_the_rest_of_the_log_works(book: Book, what: str) -> None:
    edit, said = EDITS[what]
    file = _edit(book, "S01", edit)
    with Book.open(book.log.folder, read_only=True) as again:
        assert [head.label for head in again.sessions()] == ["S02"]
        (problem,) = again.log.problems
        assert said in problem.sentence
        assert problem.file == f"sessions/{file.name}"
        with pytest.raises(NotFoundError, match="There is no session “S01”") as refused:
            again.session("S01")
        assert problem.sentence in refused.value.hint
        assert again.session("S02").attempts[0].value == 7.26


def test_such_a_file_stays_where_it_is_for_a_person_to_mend(book: Book) -> None:
    file = _edit(book, "S01", _attempt("sheet", 7))
    folder = book.log.folder
    book.close()
    with Book.open(folder) as again:
        assert len(again.sessions()) == 1
        assert file.exists()
    fields = json.loads(file.read_text(encoding="utf-8"))
    fields["attempts"][0]["sheet"] = 0
    file.write_text(json.dumps(fields), encoding="utf-8")
    with Book.open(folder) as mended:
        assert (len(mended.sessions()), mended.log.problems) == (2, ())


def test_it_is_not_saved_either(book: Book) -> None:
    session = book.session("S01")
    bent = msgspec.structs.replace(session, attempts=(Attempt(n=1, value=7.26, sheet=3),))
    with pytest.raises(BrokenDocumentError, match=r"Nothing was saved\. .* sheet is not there"):
        book.save(bent)
    assert book.session("S01") == session


def test_what_no_table_has_is_another_matter(book: Book) -> None:
    """Another version may know a test or a tag that this one does not."""
    session = book.session("S01")
    strange = msgspec.structs.replace(session, test="50-100furlong", timing="sundial")
    assert impossible(session) == impossible(strange) == ""
    book.save(strange)
    assert isinstance(book.log.get(Session, session.id), Session)
