"""A broken document is put aside by name, told in one line, and the rest of the log opens."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import msgspec
import pytest

from core.errors import BrokenDocumentError, LogError
from core.log import Kind, Log, Problem
from core.log.codec import decode_head
from tests.core.log.samples import Bench, Reading, Visit, open_log, write_file

GOOD = '{"format": 1, "id": "good"}'
BAD_HEADS: dict[str, tuple[bytes, str, str]] = {
    # what: (bytes of visits/bad.json, field, part of the sentence)
    "half": (b'{\n  "format": 1,\n  "id": "bad",\n  "label": "S', "", "ends in the middle"),
    "half a letter": ('{\n  "format": 1,\n  "id": "bad", "note": "ö'.encode()[:-1], "", "middle"),
    "empty": (b"", "", "is empty"),
    "blank": (b" \n", "", "is empty"),
    "binary": (b"\x00\x01\x02\xff" * 50, "", "not JSON"),
    "nulls after power loss": (b"\x00" * 4096, "", "not JSON"),
    "not UTF-8": (b'{"format": 1, "id": "bad", "label": "\xff"}', "", "UTF-8"),
    "two in one": (b'{"format": 1, "id": "bad"}{"format": 1, "id": "bad"}', "", "not JSON"),
    "a list": (b"[1, 2]", "", "should be a group of fields and is a list"),
    "nested": (b'{"format": 1, "id": "bad", "note": ' + b"[" * 90_000, "", ""),
    "no format": (b'{"id": "bad"}', "format", "format is missing"),
    "format as text": (b'{"format": "1", "id": "bad"}', "format", "a whole number and is text"),
    "format 0": (b'{"format": 0, "id": "bad"}', "format", "no format 0"),
    "no id": (b'{"format": 1}', "id", "id is missing"),
    "other id": (b'{"format": 1, "id": "good"}', "id", "the id in it is 'good'"),
    "wrong type": (
        b'{"format": 1, "id": "bad", "label": 3}',
        "label",
        "text and is a whole number",
    ),
    "no time": (b'{"format": 1, "id": "bad", "started": "soon"}', "started", "started"),
}
BAD_RESTS: dict[str, tuple[bytes, str]] = {
    "text for a number": (b'"tries": [{"value": 7.2}, {"value": "7.3"}]', "tries[1].value"),
    "missing": (b'"tries": [{"text": "726"}]', "tries[0].value"),
    "unknown field": (b'"colour": "red"', "colour"),
    "null": (b'"note": null', "note"),
}


@pytest.fixture
def folder(folder: Path) -> Path:
    """Return an empty log."""
    open_log(folder).close()
    return folder


def _write(folder: Path, data: bytes) -> bytes:
    write_file(folder / "visits/good.json", GOOD)
    write_file(folder / "visits/bad.json", data)
    return data


def _only_problem(log: Log) -> Problem:
    assert len(log.problems) == 1, log.problems
    assert "\n" not in log.problems[0].sentence
    return log.problems[0]


@pytest.mark.parametrize("what", BAD_HEADS)
def test_a_broken_document_is_put_aside_when_the_kind_is_looked_through(
    folder: Path, what: str
) -> None:
    data, field, said = BAD_HEADS[what]
    _write(folder, data)
    with open_log(folder) as log:
        assert log.ids(Visit) == ["good"]
        assert [visit.id for visit in log.all(Visit)] == ["good"]
        problem = _only_problem(log)
    assert (problem.file, problem.field) == ("visits/bad.json", field)
    assert said in problem.sentence
    assert "aside/visits/bad.json" in problem.sentence
    assert not (folder / "visits/bad.json").exists()
    assert (folder / "aside/visits/bad.json").read_bytes() == data


@pytest.mark.parametrize("what", BAD_HEADS)
def test_asked_for_directly_it_is_refused_with_file_and_field(folder: Path, what: str) -> None:
    data, field, said = BAD_HEADS[what]
    _write(folder, data)
    with open_log(folder) as log:
        with pytest.raises(BrokenDocumentError, match=r"visits/bad\.json") as caught:
            log.get(Visit, "bad")
        assert log.ids(Visit) == ["good"]
    assert caught.value.field == field
    assert said in str(caught.value)
    assert "aside/visits/bad.json" in caught.value.hint
    assert (folder / "aside/visits/bad.json").read_bytes() == data


@pytest.mark.parametrize("what", BAD_RESTS)
def test_a_good_head_with_a_broken_rest_is_put_aside_when_it_is_read(
    folder: Path, what: str
) -> None:
    rest, field = BAD_RESTS[what]
    data = _write(folder, b'{\n  "format": 1,\n  "id": "bad",\n  ' + rest + b"}")
    with open_log(folder) as log:
        assert [head.id for head in log.heads(Visit)] == ["bad", "good"]
        assert log.problems == ()
        with pytest.raises(BrokenDocumentError) as caught:
            log.get(Visit, "bad")
        assert [head.id for head in log.heads(Visit)] == log.ids(Visit) == ["good"]
        assert _only_problem(log).field == caught.value.field == field
    assert (folder / "aside/visits/bad.json").read_bytes() == data


def test_all_skips_a_broken_rest_and_tells_it(folder: Path) -> None:
    _write(folder, b'{"format": 1, "id": "bad", "tries": 3}')
    with open_log(folder) as log:
        assert [visit.id for visit in log.all(Visit)] == ["good"]
        assert _only_problem(log).sentence == (
            "visits/bad.json cannot be read: tries should be a list and is a whole number. "
            "It was put aside as aside/visits/bad.json."
        )


def test_an_entry_of_a_mapping_is_named(folder: Path) -> None:
    text = '{"format": 1, "id": "b", "slots": {"jet": {"value": 95}, "air": {"value": "two"}}}'
    write_file(folder / "bench/b.json", text)
    with open_log(folder) as log, pytest.raises(BrokenDocumentError) as caught:
        log.get(Bench, "b")
    assert caught.value.field == "slots[air].value"


@pytest.mark.parametrize(
    "rest",
    [
        '"red\\u001b[31m\\nname": 1',
        '"slots": {"jet\\u0007\\r\\n": {"value": "two"}}',
        '"slots": {"' + "long" * 500 + '": {"value": "two"}}',
    ],
)
def test_what_a_file_says_is_harmless_on_a_screen(folder: Path, rest: str) -> None:
    write_file(folder / "bench/b.json", '{"format": 1, "id": "b", ' + rest + "}")
    with open_log(folder) as log:
        with pytest.raises(BrokenDocumentError) as caught:
            log.get(Bench, "b")
        for text in (str(caught.value), caught.value.field, _only_problem(log).sentence):
            assert text.isprintable()
            assert len(text) < 400


def test_to_read_only_it_is_left_where_it_is(folder: Path) -> None:
    data = _write(folder, b"half")
    with open_log(folder, read_only=True) as log:
        assert log.ids(Visit) == ["good"]
        assert "left where it is" in _only_problem(log).sentence
        with pytest.raises(BrokenDocumentError):
            log.get(Visit, "bad")
        assert not log.refresh()
        assert log.ids(Visit) == ["good"]
        _only_problem(log)
    assert (folder / "visits/bad.json").read_bytes() == data
    assert not (folder / "aside").exists()


def test_a_broken_one_of_the_same_id_is_never_overwritten(folder: Path) -> None:
    for number in (1, 2):
        data = _write(folder, b"half %d" % number)
        with open_log(folder) as log:
            log.save(Visit(id="bad", label=f"new {number}"))
            assert log.get(Visit, "bad").label == f"new {number}"
            assert _only_problem(log).file == "visits/bad.json"
        name = "bad.json" if number == 1 else "bad.json.2"
        assert (folder / "aside/visits" / name).read_bytes() == data


def test_one_with_a_broken_rest_is_not_overwritten_either(folder: Path) -> None:
    data = _write(folder, b'{"format": 1, "id": "bad", "tries": [{"value": "7.3"}]}')
    with open_log(folder) as log:
        log.save(Visit(id="bad", label="new"))
    assert (folder / "aside/visits/bad.json").read_bytes() == data


def test_when_it_cannot_be_moved_it_stays_and_is_not_overwritten(folder: Path) -> None:
    data = _write(folder, b"half")
    write_file(folder / "aside", "a file where the folder should be")
    with open_log(folder) as log:
        assert log.ids(Visit) == ["good"]
        assert "left where it is" in _only_problem(log).sentence
        with pytest.raises(LogError):
            log.save(Visit(id="bad"))
        log.save(Visit(id="other"))
        assert log.ids(Visit) == ["good", "other"]
    assert (folder / "visits/bad.json").read_bytes() == data


@pytest.mark.parametrize(
    "name",
    [
        "good (conflicted copy 2026-04-13).json",
        "good.sync-conflict-20260413-081500-ABCDEFG.json",
        "good-old-laptop.json",  # a proper id, and yet a copy: it holds the id it begins with
        "good.json (1)",
        "Good.JSON",
    ],
)
def test_copies_of_file_synchronisers_are_told_and_left_alone(folder: Path, name: str) -> None:
    write_file(folder / "visits/good.json", GOOD)
    write_file(folder / "visits" / name, GOOD)
    with open_log(folder) as log:
        assert log.ids(Visit) == ["good"]
        assert _only_problem(log).file in (f"visits/{name}", "visits/Good.JSON")
    assert (folder / "visits" / name).read_text() == GOOD


def test_other_files_are_neither_told_nor_touched(folder: Path) -> None:
    names = ("notes.txt", ".hidden", "good.json.format1", ".good.json.tmp")
    for name in names:
        write_file(folder / "visits" / name, "x")
    with open_log(folder) as log:
        assert log.ids(Visit) == []
        assert log.problems == ()
    assert sorted(path.name for path in (folder / "visits").iterdir()) == sorted(names)


def test_a_folder_named_like_a_document_is_told_and_left_alone(folder: Path) -> None:
    (folder / "visits/odd.json").mkdir(parents=True)
    with open_log(folder) as log:
        assert log.ids(Visit) == []
        assert "is a folder" in _only_problem(log).sentence
        with pytest.raises(LogError):
            log.save(Visit(id="odd"))
    assert (folder / "visits/odd.json").is_dir()


def test_a_file_in_place_of_a_kinds_folder_does_not_keep_the_rest_from_opening(
    folder: Path,
) -> None:
    (folder / "visits").rmdir()
    write_file(folder / "visits", "not a folder")
    with open_log(folder) as log:
        log.save(Bench(id="b", slots={"jet": Reading(value=95.0)}))
        assert log.heads(Visit) == []
        assert _only_problem(log).file == "visits"
        with pytest.raises(LogError, match="not as it should be"):
            log.save(Visit(id="v"))
        assert log.ids(Bench) == ["b"]
    assert (folder / "visits").read_text() == "not a folder"


def test_a_mark_at_the_start_of_utf_8_text_is_no_harm(folder: Path) -> None:
    _write(folder, b"\xef\xbb\xbf" + b'{"format": 1, "id": "bad", "label": "edited by hand"}')
    with open_log(folder) as log:
        assert [head.label for head in log.heads(Visit)] == ["edited by hand", ""]
        assert log.get(Visit, "bad").label == "edited by hand"
        assert log.problems == ()


def test_a_good_one_that_came_in_its_place_meanwhile_is_not_put_aside(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    _write(folder, b"half")
    path = folder / "visits/bad.json"

    def replaced_meanwhile(kind: Kind[Any], id_: str, data: bytes) -> msgspec.Struct:
        if data == b"half":
            whole = '{"format": 1, "id": "bad", "label": "whole"}'
            write_file(folder / "incoming", whole).replace(path)
        return decode_head(kind, id_, data)

    monkeypatch.setattr("core.log.files.decode_head", replaced_meanwhile)
    with open_log(folder) as log:
        log.heads(Visit)
        assert log.problems == ()
        log.refresh()
        assert [head.label for head in log.heads(Visit)] == ["whole", ""]
    assert not (folder / "aside").exists()
