"""Older formats are brought up on reading and kept beside on saving; newer ones are refused."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import msgspec
import pytest

from core.errors import BrokenDocumentError, NewerFormatError
from core.log import Document, Kind, Log
from tests.core.log.samples import clock, write_file


class Note(Document, frozen=True, kw_only=True):
    """A document in its third format."""

    lines: tuple[str, ...]
    author: str = ""


class NoteHead(msgspec.Struct, frozen=True):
    """Its head."""

    id: str
    lines: tuple[str, ...]


def _text_to_lines(fields: dict[str, Any]) -> dict[str, Any]:
    return {
        **{name: value for name, value in fields.items() if name != "text"},
        "lines": fields["text"].splitlines(),
    }


def _writer_to_author(fields: dict[str, Any]) -> dict[str, Any]:
    return {
        **{name: value for name, value in fields.items() if name != "writer"},
        "author": fields.get("writer", ""),
    }


NOTES = Kind(
    name="note",
    folder="notes",
    type=Note,
    head=NoteHead,
    version=3,
    migrations=(_text_to_lines, _writer_to_author),
)
FIRST = '{"format": 1, "id": "n1", "text": "a\\nb", "writer": "me"}'
SECOND = '{"format": 2, "id": "n2", "lines": ["c"], "writer": "you"}'


def _open(folder: Path, **options: Any) -> Log:
    return Log.open(folder, [NOTES], clock=clock(), **options)


@pytest.fixture
def old(folder: Path) -> Path:
    """Return a log with notes in the first and second format."""
    write_file(folder / "log.json", '{"format": 1, "id": "20260412-083000-aaaaaaaa"}')
    write_file(folder / "notes/n1.json", FIRST)
    write_file(folder / "notes/n2.json", SECOND)
    return folder


def test_older_formats_are_read_as_todays(old: Path) -> None:
    with _open(old) as log:
        assert log.heads(Note) == [NoteHead("n1", ("a", "b")), NoteHead("n2", ("c",))]
        assert log.get(Note, "n1") == Note(id="n1", lines=("a", "b"), author="me")
        assert log.get(Note, "n2") == Note(id="n2", lines=("c",), author="you")
        assert log.problems == ()


def test_reading_writes_nothing(old: Path) -> None:
    with _open(old) as log:
        log.all(Note)
    assert (old / "notes/n1.json").read_text() == FIRST
    assert sorted(path.name for path in (old / "notes").iterdir()) == ["n1.json", "n2.json"]


def test_the_old_file_is_kept_beside_when_its_document_is_saved(old: Path) -> None:
    with _open(old) as log:
        log.save(msgspec.structs.replace(log.get(Note, "n1"), author="both"))
        log.save(msgspec.structs.replace(log.get(Note, "n1"), author="all"))
    assert json.loads((old / "notes/n1.json").read_text())["format"] == 3
    assert (old / "notes/n1.json.format1").read_text() == FIRST
    assert (old / "notes/n2.json").read_text() == SECOND
    names = sorted(path.name for path in (old / "notes").iterdir())
    assert names == ["n1.json", "n1.json.format1", "n2.json"]
    with _open(old) as log:
        assert log.get(Note, "n1").author == "all"
        assert log.problems == ()


def test_saving_an_old_document_unchanged_still_keeps_its_file(old: Path) -> None:
    with _open(old) as log:
        log.save(log.get(Note, "n2"))
    assert (old / "notes/n2.json.format2").read_text() == SECOND


def test_a_file_kept_earlier_is_not_overwritten(old: Path) -> None:
    write_file(old / "notes/n1.json.format1", "kept earlier")
    with _open(old) as log:
        log.save(Note(id="n1", lines=("new",)))
    assert (old / "notes/n1.json.format1").read_text() == "kept earlier"
    assert (old / "notes/n1.json.format1.2").read_text() == FIRST


def test_a_read_only_log_brings_up_and_never_writes(old: Path) -> None:
    with _open(old, read_only=True) as log:
        assert log.get(Note, "n1").author == "me"
    assert sorted(path.name for path in old.rglob("*")) == [
        "log.json",
        "n1.json",
        "n2.json",
        "notes",
    ]


@pytest.mark.parametrize(
    "text",
    [
        '{"format": 1, "id": "n1", "writer": "me"}',  # the migration fails
        '{"format": 1, "id": "n1", "text": 3}',
        '{"format": 2, "id": "n1", "lines": "c"}',  # what comes out of it does not fit
    ],
)
def test_what_cannot_be_brought_up_stays_where_it_is(old: Path, text: str) -> None:
    write_file(old / "notes/n1.json", text)
    with _open(old) as log:
        assert log.ids(Note) == ["n2"]
        assert "cannot be brought from format" in log.problems[0].sentence
        with pytest.raises(BrokenDocumentError, match=r"notes/n1\.json cannot be brought"):
            log.get(Note, "n1")
        with pytest.raises(BrokenDocumentError, match="cannot be brought"):
            log.save(Note(id="n1", lines=()))
    assert (old / "notes/n1.json").read_text() == text
    assert not (old / "aside").exists()


def test_a_document_of_a_newer_format_is_refused_and_never_rewritten(old: Path) -> None:
    newer = '{"format": 4, "id": "n1", "pages": []}'
    write_file(old / "notes/n1.json", newer)
    with _open(old) as log:
        assert log.ids(Note) == ["n2"]
        assert [problem.file for problem in log.problems] == ["notes/n1.json"]
        assert "has format 4" in log.problems[0].sentence
        with pytest.raises(NewerFormatError, match=r"n1\.json has format 4, .* up to 3"):
            log.get(Note, "n1")
        with pytest.raises(NewerFormatError, match="has format 4"):
            log.save(Note(id="n1", lines=()))
        assert [note.id for note in log.all(Note)] == ["n2"]
    assert (old / "notes/n1.json").read_text() == newer


@pytest.mark.parametrize("read_only", [False, True])
def test_a_log_of_a_newer_format_is_refused_and_nothing_in_it_changes(
    old: Path, read_only: bool
) -> None:
    newer = '{"format": 2, "id": "20260412-083000-aaaaaaaa", "shelves": 3}'
    write_file(old / "log.json", newer)
    with pytest.raises(NewerFormatError, match="has format 2, and this version reads up to 1"):
        _open(old, read_only=read_only)
    assert (old / "log.json").read_text() == newer
    assert sorted(path.name for path in old.iterdir()) == ["log.json", "notes"]
