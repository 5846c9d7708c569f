"""Heads: read without the rest, and always what the files say."""

from __future__ import annotations

import functools
import os
import threading
from pathlib import Path
from typing import Any

import msgspec
import pytest

from core.errors import BrokenDocumentError
from core.log import Document, Kind, Log
from core.log.codec import decode_head
from tests.core.log.samples import (
    MANY,
    MANY_LABELS,
    VISITS,
    Visit,
    clock,
    labels,
    open_log,
    visit_file,
    write_file,
    write_visit,
)


def test_opening_reads_no_document(many: Path, decoded: list[str]) -> None:
    with open_log(many) as log:
        assert decoded == []
        assert len(log.heads(VISITS)) == MANY
        assert len(decoded) == MANY
        log.heads(VISITS)
        assert len(decoded) == MANY


def test_heads_follow_saves(folder: Path) -> None:
    with open_log(folder) as log:
        log.save(Visit(id="b", label="before the first look"))
        assert labels(log) == ["before the first look"]
        log.save(Visit(id="a", label="new"))
        assert labels(log) == ["new", "before the first look"]
        log.save(Visit(id="b", label="changed"))
        assert labels(log) == ["new", "changed"]


def test_refresh_sees_what_another_program_brought(many: Path) -> None:
    with open_log(many, read_only=True) as log:
        assert not log.refresh()
        log.heads(Visit)
        assert not log.refresh()
        write_visit(many, MANY, "brought")
        visit_file(many, 0).unlink()
        assert len(log.heads(Visit)) == MANY
        assert log.refresh()
        assert labels(log) == [*MANY_LABELS[1:], "brought"]
        write_file(many / "visits/v001 (copy).json", "{}")
        assert log.refresh()
        assert [problem.file for problem in log.problems] == ["visits/v001 (copy).json"]
        (many / "visits/v001 (copy).json").unlink()
        assert log.refresh()
        assert log.problems == ()


def test_a_save_does_not_wait_for_a_scan_and_is_in_its_result(
    many: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    begun, go_on = threading.Event(), threading.Event()
    scanner: threading.Thread

    def slowly(kind: Kind[Any], id_: str, data: bytes) -> msgspec.Struct:
        if threading.current_thread() is scanner:
            begun.set()
            assert go_on.wait(30)
        return decode_head(kind, id_, data)

    monkeypatch.setattr("core.log.files.decode_head", slowly)
    result: list[str] = []
    with open_log(many) as log:
        scanner = threading.Thread(target=lambda: result.extend(labels(log)))
        scanner.start()
        assert begun.wait(30)
        log.save(Visit(id="v000", label="saved"), Visit(id="v999", label="new"))
        go_on.set()
        scanner.join(30)
        assert result == ["saved", *MANY_LABELS[1:], "new"] == labels(log)


def test_threads_that_read_and_one_that_saves(many: Path) -> None:
    failures: list[BaseException] = []
    stop = threading.Event()

    def read(log: Log) -> None:
        try:
            while not stop.is_set():
                assert len(log.heads(Visit)) >= MANY
                assert log.get(Visit, "v000").id == "v000"
                log.refresh()
        except BaseException as error:  # noqa: BLE001 - handed to the main thread
            failures.append(error)

    with open_log(many) as log:
        readers = [threading.Thread(target=read, args=(log,)) for _ in range(3)]
        for reader in readers:
            reader.start()
        for number in range(60):
            log.save(Visit(id="v000", label=str(number)), Visit(id=f"w{number:03d}"))
            assert log.get(Visit, "v000").label == str(number)
        stop.set()
        for reader in readers:
            reader.join()
        assert failures == []
        assert log.problems == ()
        assert len(log.heads(Visit)) == MANY + 60


def test_a_head_that_does_not_fit_good_documents_is_a_mistake_of_the_program(
    folder: Path,
) -> None:
    class Counted(Document, frozen=True, kw_only=True):
        count: float

    class CountedHead(msgspec.Struct, frozen=True):
        id: str
        count: int

    kind = Kind(name="counted", folder="counted", type=Counted, head=CountedHead)
    with Log.open(folder, [kind], clock=clock()) as log:
        write_file(folder / "counted/c.json", '{"format": 1, "id": "c", "count": 1.5}')
        with pytest.raises(TypeError, match="head does not fit"):
            log.heads(kind)
    assert (folder / "counted/c.json").exists()


class Counted(Document, frozen=True, kw_only=True):
    """A document whose head is worked out."""

    values: tuple[float, ...] = ()


class CountedHead(msgspec.Struct, frozen=True):
    """What comes of it."""

    id: str
    mean: float


def _mean(document: Counted) -> CountedHead:
    return CountedHead(document.id, sum(document.values) / len(document.values))


def _total(factor: int, document: Counted) -> CountedHead:
    return CountedHead(document.id, factor * sum(document.values))


COUNTED = Kind(name="counted", folder="counted", type=Counted, head=CountedHead, make_head=_mean)


def test_a_head_may_be_worked_out_from_the_whole_document(folder: Path) -> None:
    with Log.open(folder, [COUNTED], clock=clock()) as log:
        log.save(Counted(id="a", values=(1.0, 2.0)))
        write_file(folder / "counted/b.json", '{"id": "b", "format": 1, "values": [4, 5]}')
        write_file(folder / "counted/c.json", '{"id": "c", "format": 1, "values": ["4"]}')
        assert log.heads(COUNTED) == [CountedHead("a", 1.5), CountedHead("b", 4.5)]
        log.save(Counted(id="a", values=(2.0, 3.0)))
        assert log.heads(COUNTED)[0] == CountedHead("a", 2.5)
        assert [problem.field for problem in log.problems] == ["values[0]"]
    assert (folder / "aside/counted/c.json").exists()
    with Log.open(folder, [COUNTED], clock=clock()) as log:
        assert log.heads(COUNTED) == [CountedHead("a", 2.5), CountedHead("b", 4.5)]


def test_a_document_whose_head_cannot_be_worked_out_does_not_hide_the_rest(folder: Path) -> None:
    text = '{\n  "format": 1,\n  "id": "none"\n}\n'
    with Log.open(folder, [COUNTED], clock=clock()) as log:
        log.save(Counted(id="a", values=(1.0,)))
        path = write_file(folder / "counted/none.json", text)
        assert log.ids(Counted) == ["a"]
        assert "none.json cannot be listed" in log.problems[0].sentence
        assert log.get(Counted, "none") == Counted(id="none")
        with pytest.raises(BrokenDocumentError, match="cannot be listed"):
            log.save(Counted(id="other"))
    assert path.read_text() == text


def test_another_edition_of_worked_out_heads_voids_the_cache(folder: Path) -> None:
    open_log(folder).close()
    for number in range(MANY):
        text = f'{{"format": 1, "id": "c{number}", "values": [1, 2]}}'
        path = write_file(folder / f"counted/c{number}.json", text)
        os.utime(path, ns=(10**18, 10**18))
    means = []
    for edition, factor in (("1", 1), ("1", 2), ("2", 2)):
        kind = Kind(
            name="counted",
            folder="counted",
            type=Counted,
            head=CountedHead,
            make_head=functools.partial(_total, factor),
            head_edition=edition,
        )
        with Log.open(folder, [kind], clock=clock()) as log:
            means.append({head.mean for head in log.heads(kind)})
    assert means == [{3.0}, {3.0}, {6.0}]
