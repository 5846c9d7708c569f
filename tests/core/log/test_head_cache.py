"""Heads kept between runs in a cache that is never trusted."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

import msgspec
import pytest

from core.log import Kind, Log, headcache
from tests.core.log.samples import (
    MANY,
    MANY_LABELS,
    Visit,
    VisitHead,
    clock,
    labels,
    open_log,
    visit_file,
    write_file,
    write_visit,
)


class OtherHead(msgspec.Struct, frozen=True):
    """Another head of the same documents."""

    id: str
    note: str = ""


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
    path = write_visit(many, 0, "S0")
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
    os.utime(write_visit(many, 3, "changed"), ns=(10**18, 10**18 + 999))
    visit_file(many, 4).unlink()
    with open_log(many) as log:
        assert labels(log) == [*MANY_LABELS[:3], "changed", *MANY_LABELS[5:]]
    assert decoded == ["v003"]


def test_a_replaced_file_of_equal_size_and_time_is_read_again(
    many: Path, decoded: list[str]
) -> None:
    with open_log(many) as log:
        log.heads(Visit)
    decoded.clear()
    status = visit_file(many, 3).stat()
    text = visit_file(many, 3).read_text().replace("S3", "T3")
    incoming = write_file(many / "incoming", text)
    os.utime(incoming, ns=(status.st_atime_ns, status.st_mtime_ns))
    incoming.replace(visit_file(many, 3))
    with open_log(many) as log:
        assert labels(log)[3] == "T3"
    assert decoded == ["v003"]


def test_a_file_that_has_just_changed_is_not_cached(many: Path, decoded: list[str]) -> None:
    os.utime(visit_file(many, 5))
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
        assert labels(log) == MANY_LABELS
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
            assert labels(log) == MANY_LABELS
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
