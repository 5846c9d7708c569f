"""JSON lines: by id, nothing overwritten, every bad line named."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import msgspec
import pytest

from core.errors import InputError, NewerFormatError
from core.exchange import export_lines, import_lines
from core.session import Book, Session, say
from core.setup import Machine
from tests.core.exchange.samples import empty, only_session, read_in, row, rows


@pytest.fixture
def book(tmp_path: Path) -> Book:
    made = empty(tmp_path / "one")
    read_in(made, rows(row(value="7.26", direction="W"), row(value="7.31", direction="E")))
    return made


def lines(book: Book) -> list[dict[str, Any]]:
    """Return the lines of a log, decoded."""
    return [json.loads(line) for line in export_lines(book)]


def text(documents: list[dict[str, Any]]) -> str:
    """Return decoded lines as a file, with the count put right."""
    documents[0]["documents"] = len(documents) - 1
    return "".join(json.dumps(document) + "\n" for document in documents)


def test_what_is_written(book: Book) -> None:
    header, *documents = lines(book)
    assert header == {"backtoback": 1, "documents": 3}
    assert [d["kind"] for d in documents] == ["machine", "place", "session"]
    assert all(list(d)[:3] == ["kind", "format", "id"] for d in documents)
    assert documents[2]["machine"] == documents[0]["id"]


def test_twice_is_the_same_as_once(book: Book, tmp_path: Path) -> None:
    with empty(tmp_path / "two") as other:
        first = import_lines(other, text(lines(book)), "a")
        again = import_lines(other, text(lines(book)), "a")
        assert (first.went_in, again.went_in, again.there) == (3, 0, 3)
        assert first.sessions_new == ("S01",)
        assert other.log.all(Session) == book.log.all(Session)


def test_other_content_under_the_same_id_is_a_conflict(book: Book) -> None:
    before = only_session(book)
    changed = lines(book)
    changed[3]["question"] = "Another one?"
    made = import_lines(book, text(changed), "a")
    (conflict,) = made.conflicts
    assert conflict.what == f"session S01 ({before.id})"
    assert (
        conflict.reason
        == "line 4: the file and the log differ in question; the log stays as it is."
    )
    assert (made.there, made.contradicting, made.is_clean) == (2, 1, False)
    assert only_session(book) == before


def test_an_older_copy_is_a_conflict_too(book: Book) -> None:
    old = text(lines(book))
    session = only_session(book)
    book.act(session, lambda s: say(s, book.clock(), question="What now?"))
    assert len(import_lines(book, old, "a").conflicts) == 1


@pytest.mark.parametrize(
    ("line", "reason"),
    [
        ('{"kind": "session", "id": "x", "label', "not JSON; it may be cut off"),
        ('{"kind": "rocket", "id": "x"}', "no kind of document that I know"),
        ('"text"', "no kind of document"),
        ('{"kind": "machine", "id": "../x", "name": "a"}', "no id that can be a file name"),
        ('{"kind": "machine", "name": "a"}', "no id that can be a file name"),
        ('{"kind": "machine", "id": "x"}', "name is missing"),
        ('{"kind": "machine", "id": "x", "name": 5}', "name should be text"),
        ('{"kind": "machine", "id": "x", "name": "a", "wings": 2}', "wings is not a known field"),
        ('{"kind": "machine", "id": "x", "format": 99, "name": "a"}', "has format 99"),
        ("[" * 5000, "not JSON"),
        ("\ud800", "not JSON"),
    ],
)
def test_bad_lines_are_named_and_the_others_go_in(tmp_path: Path, line: str, reason: str) -> None:
    good = '{"kind": "machine", "id": "m1", "name": "Moth"}'
    with empty(tmp_path) as book:
        made = import_lines(book, f'{{"backtoback": 1}}\n{line}\n\n{good}\n', "a")
        assert [m.name for m in book.log.all(Machine)] == ["Moth"]
        (rejected,) = made.rejected
        assert (rejected.line, made.went_in, made.is_clean) == (2, 1, False)
        assert reason in rejected.reason


@pytest.mark.parametrize(
    ("fields", "reason"),
    [
        ({"test": "quarter mile"}, "not a test I know"),
        ({"timing": "sundial"}, "not timing gear"),
        ({"label": " "}, "no label"),
        ({"gain": -1}, "smallest gain"),
        ({"directions": ["W"]}, "two directions or none"),
        ({"sheets": []}, "its setup sheet is not there"),
        ({"attempts": [{"n": 1, "value": 7.2}, {"n": 1, "value": 7.2}]}, "is there twice"),
        ({"attempts": [{"n": 1, "value": -7.2}]}, "not above zero"),
        ({"attempts": [{"n": 1, "value": 7.2, "tags": ["X"]}]}, "not a tag"),
        ({"attempts": [{"n": 1, "value": 7.2, "strike": {"code": "X"}}]}, "not a reason"),
        ({"attempts": [{"n": 1, "value": 7.2, "kind": "aborted"}]}, "aborted and has a value"),
        (
            {"attempts": [{"n": 1, "value": 7.2, "direction": "up"}]},
            "direction is not one of W and E",
        ),
        ({"checks": [{"rule": "lash", "sheet": 7}]}, "a setup sheet that is not there"),
    ],
)
def test_sessions_that_contradict_themselves(
    book: Book, tmp_path: Path, fields: dict[str, Any], reason: str
) -> None:
    changed = lines(book)
    changed[3] |= fields
    with empty(tmp_path / "two") as other:
        made = import_lines(other, text(changed), "a")
        assert reason in made.rejected[0].reason
        assert (made.went_in, other.log.all(Session)) == (2, [])


def test_the_same_id_twice_in_a_file(tmp_path: Path) -> None:
    one = {"kind": "machine", "id": "m1", "name": "Moth"}
    with empty(tmp_path) as book:
        made = import_lines(book, text([{"backtoback": 1}, one, one, one | {"name": "Owl"}]), "a")
        assert (made.went_in, made.there, len(made.conflicts)) == (1, 1, 1)
        assert [m.name for m in book.log.all(Machine)] == ["Moth"]


def test_a_file_cut_between_lines(book: Book, tmp_path: Path) -> None:
    whole = b"".join(export_lines(book)).decode()
    cut = "".join(whole.splitlines(keepends=True)[:-1])
    with empty(tmp_path / "two") as other:
        made = import_lines(other, cut, "a")
        assert made.rejected[0].reason == "it tells of 3 documents and 2 follow: cut off?"


def test_newer_format_and_no_header(tmp_path: Path) -> None:
    with empty(tmp_path) as book:
        with pytest.raises(NewerFormatError, match="reads up to 1"):
            import_lines(book, '{"backtoback": 2}\n', "a")
        with pytest.raises(InputError, match="no header"):
            import_lines(book, '{"backtoback": "yes"}\n', "a")


def test_times_keep_their_offset(book: Book, tmp_path: Path) -> None:
    with empty(tmp_path / "two") as other:
        import_lines(other, text(lines(book)), "a")
        assert only_session(other).started.isoformat() == "2026-04-12T10:05:00+02:00"
        assert msgspec.json.encode(only_session(other)) == msgspec.json.encode(only_session(book))
