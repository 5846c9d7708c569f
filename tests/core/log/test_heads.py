"""Heads: read without the rest, kept between runs in a cache that is never trusted."""

from __future__ import annotations

import functools
import os
import threading
from pathlib import Path
from typing import Any

import msgspec
import pytest

from core.errors import BrokenDocumentError
from core.log import Document, Kind, Log, headcache
from core.log.codec import decode_head
from tests.core.log.samples import VISITS, Visit, VisitHead, clock, open_log, write_file

MANY = 100  # more than it takes to write a cache


class OtherHead(msgspec.Struct, frozen=True):
    """Another head of the same documents."""

    id: str
    note: str = ""


def _file(folder: Path, number: int) -> Path:
    return folder / "visits" / f"v{number:03d}.json"


def _write(folder: Path, number: int, label: str) -> Path:
    """Write a visit's file as an hour-old one; return it."""
    text = f'{{\n  "format": 1,\n  "id": "v{number:03d}",\n  "label": "{label}"\n}}\n'
    path = write_file(_file(folder, number), text)
    os.utime(path, ns=(10**18, 10**18 + number))
    return path


def _labels(log: Log) -> list[str]:
    return [head.label for head in log.heads(Visit)]


@pytest.fixture
def decoded(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Return the list of ids whose heads were read from their files."""
    seen: list[str] = []

    def noting(kind: Kind[Any], id_: str, data: bytes) -> msgspec.Struct:
        seen.append(id_)
        return decode_head(kind, id_, data)

    monkeypatch.setattr("core.log.files.decode_head", noting)
    return seen


@pytest.fixture
def many(folder: Path) -> Path:
    """Return a log of many visits."""
    open_log(folder).close()
    for number in range(MANY):
        _write(folder, number, f"S{number}")
    return folder


LABELS = [f"S{number}" for number in range(MANY)]


def test_opening_reads_no_document(many: Path, decoded: list[str]) -> None:
    with open_log(many) as log:
        assert decoded == []
        assert len(log.heads(VISITS)) == MANY
        assert len(decoded) == MANY
        log.heads(VISITS)
        assert len(decoded) == MANY


def test_the_second_run_reads_no_file_and_shows_the_same(many: Path, decoded: list[str]) -> None:
    with open_log(many) as log:
        cold = log.heads(Visit)
    decoded.clear()
    with open_log(many) as log:
        warm = log.heads(Visit)
    assert warm == cold
    assert decoded == []
    assert all(type(head) is VisitHead for head in warm)


def test_the_local_offset_of_a_time_survives_the_cache(many: Path) -> None:
    path = _write(many, 0, "S0")
    text = '{"format": 1, "id": "v000", "started": "2026-04-12T10:30:00+02:00"}'
    path.write_text(text)
    os.utime(path, ns=(10**18, 10**18))
    starts = []
    for _ in range(2):
        with open_log(many) as log:
            starts.append(log.heads(Visit)[0].started.isoformat())
    assert starts == ["2026-04-12T10:30:00+02:00"] * 2


def test_a_changed_file_is_read_again_and_a_removed_one_forgotten(
    many: Path, decoded: list[str]
) -> None:
    with open_log(many) as log:
        log.heads(Visit)
    decoded.clear()
    os.utime(_write(many, 3, "changed"), ns=(10**18, 10**18 + 999))
    _file(many, 4).unlink()
    with open_log(many) as log:
        assert _labels(log) == [*LABELS[:3], "changed", *LABELS[5:]]
    assert decoded == ["v003"]


def test_a_replaced_file_of_equal_size_and_time_is_read_again(
    many: Path, decoded: list[str]
) -> None:
    with open_log(many) as log:
        log.heads(Visit)
    decoded.clear()
    status = _file(many, 3).stat()
    text = _file(many, 3).read_text().replace("S3", "T3")
    incoming = write_file(many / "incoming", text)
    os.utime(incoming, ns=(status.st_atime_ns, status.st_mtime_ns))
    incoming.replace(_file(many, 3))
    with open_log(many) as log:
        assert _labels(log)[3] == "T3"
    assert decoded == ["v003"]


def test_a_file_that_has_just_changed_is_not_cached(many: Path, decoded: list[str]) -> None:
    os.utime(_file(many, 5))
    with open_log(many) as log:
        log.heads(Visit)
    decoded.clear()
    with open_log(many) as log:
        log.heads(Visit)
    assert decoded == ["v005"]


@pytest.mark.parametrize("what", ["head", "version", "folder"])
def test_a_cache_of_another_declaration_or_place_is_not_used(
    many: Path, decoded: list[str], what: str
) -> None:
    with open_log(many) as log:
        log.heads(Visit)
    decoded.clear()
    changes: dict[str, dict[str, Any]] = {
        "head": {"head": OtherHead},
        "version": {"version": 2, "migrations": (dict,)},
        "folder": {},
    }
    kind: Kind[Visit] = Kind(
        **{"name": "visit", "folder": "visits", "type": Visit, "head": VisitHead, **changes[what]}
    )
    if what == "folder":
        many = many.rename(many.with_name("moved"))
    with Log.open(many, [kind], clock=clock()) as log:
        assert len(log.heads(kind)) == MANY
        assert all(type(head) is kind.head for head in log.heads(kind))
    assert len(decoded) == MANY


@pytest.mark.parametrize("data", [b"", b"\x00", b"key\n{}", None])
def test_a_damaged_cache_is_passed_over(
    many: Path, cache: Path, decoded: list[str], data: bytes | None
) -> None:
    with open_log(many) as log:
        log.heads(Visit)
        kept = cache / "heads" / log.id / "visits.json"
    decoded.clear()
    kept.write_bytes(kept.read_bytes()[:-20] if data is None else data)
    with open_log(many) as log:
        assert _labels(log) == LABELS
    assert len(decoded) == MANY


@pytest.mark.parametrize("setting", ["off", "a-file", "unwritable"])
def test_without_a_cache_everything_works(
    many: Path, tmp_path: Path, setting: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    place = write_file(tmp_path / "a-file", "x")
    where = {"off": "off", "a-file": str(place), "unwritable": "/proc/none"}[setting]
    monkeypatch.setenv(headcache.CACHE_VARIABLE, where)
    for _ in range(2):
        with open_log(many) as log:
            assert _labels(log) == LABELS
    assert place.read_text() == "x"


def test_the_platforms_cache_folder_is_used_by_default(
    many: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv(headcache.CACHE_VARIABLE)
    asked = []

    def user_cache_path(app: str, *, appauthor: bool) -> Path:
        asked.append((app, appauthor))
        return tmp_path / "platform"

    monkeypatch.setattr("platformdirs.user_cache_path", user_cache_path)
    with open_log(many) as log:
        log.heads(Visit)
        assert (tmp_path / "platform/heads" / log.id / "visits.json").exists()
    assert set(asked) == {("backtoback", False)}


def test_few_documents_are_not_worth_a_cache(folder: Path, cache: Path) -> None:
    with open_log(folder) as log:
        log.save(Visit(id="v"))
        log.heads(Visit)
    assert not cache.exists()


def test_nothing_derived_is_in_the_log_folder(many: Path) -> None:
    before = sorted(many.rglob("*"))
    with open_log(many) as log:
        log.heads(Visit)
    assert sorted(many.rglob("*")) == before


def test_heads_follow_saves(folder: Path) -> None:
    with open_log(folder) as log:
        log.save(Visit(id="b", label="before the first look"))
        assert _labels(log) == ["before the first look"]
        log.save(Visit(id="a", label="new"))
        assert _labels(log) == ["new", "before the first look"]
        log.save(Visit(id="b", label="changed"))
        assert _labels(log) == ["new", "changed"]


def test_refresh_sees_what_another_program_brought(many: Path) -> None:
    with open_log(many, read_only=True) as log:
        assert not log.refresh()
        log.heads(Visit)
        assert not log.refresh()
        _write(many, MANY, "brought")
        _file(many, 0).unlink()
        assert len(log.heads(Visit)) == MANY
        assert log.refresh()
        assert _labels(log) == [*LABELS[1:], "brought"]
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
        scanner = threading.Thread(target=lambda: result.extend(_labels(log)))
        scanner.start()
        assert begun.wait(30)
        log.save(Visit(id="v000", label="saved"), Visit(id="v999", label="new"))
        go_on.set()
        scanner.join(30)
        assert result == ["saved", *LABELS[1:], "new"] == _labels(log)


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
