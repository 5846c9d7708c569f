"""TinyDB over the folders: whole documents by text id, and changes that cost what they touch."""

from __future__ import annotations

import builtins
import io
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from tinydb import TinyDB, where

from core.log.folder import DocumentFolder
from core.log.headcache import HeadCache
from core.log.store import DocumentBase, DocumentTable, StoredDocument
from tests.core.log.samples import KINDS, Visit, open_log, write_file


@pytest.fixture
def table(folder: Path) -> DocumentTable:
    """Return the table of visits, with two in it."""
    open_log(folder).close()
    cache = HeadCache(folder, "")
    base = DocumentBase({k.name: DocumentFolder(folder, k, "0badcafe", cache) for k in KINDS})
    assert isinstance(base, TinyDB)
    found = base.documents("visit")
    found.put("a", {"id": "a", "label": "one", "note": "n"})
    found.put("b", {"id": "b", "label": "two"})
    return found


def test_a_put_replaces_the_whole_document(table: DocumentTable) -> None:
    table.put("a", {"id": "a", "label": "three"})
    assert table.take("a") == {"id": "a", "label": "three"}
    assert table.take("c") is None


def test_tinydbs_own_words_work_with_text_ids(table: DocumentTable) -> None:
    assert len(table) == 2
    assert {str(document.doc_id) for document in table} == {"a", "b"}
    assert [document["id"] for document in table.search(where("label") == "two")] == ["b"]
    table.update({"note": "changed"}, where("label") == "two")
    assert [document["id"] for document in table.search(where("note") == "changed")] == ["b"]
    table.update(lambda document: document.update(label="five"), doc_ids=["a"])  # type: ignore[list-item]
    assert table.take("a") == {"id": "a", "label": "five", "note": "n"}
    table.insert(StoredDocument({"id": "c", "label": "six"}, "c"))
    assert len(table) == 3
    with pytest.raises(ValueError, match="already exists"):
        table.insert(StoredDocument({"id": "c"}, "c"))


def test_nothing_is_ever_deleted(table: DocumentTable, folder: Path) -> None:
    for delete in (
        lambda: table.remove(doc_ids=["a"]),  # type: ignore[list-item]
        lambda: table.remove(where("label") == "two"),
        lambda: table.truncate(),
    ):
        with pytest.raises(TypeError, match="deletes nothing"):
            delete()
    assert sorted(path.name for path in (folder / "visits").iterdir()) == ["a.json", "b.json"]


def test_an_update_that_fails_half_way_changes_nothing(table: DocumentTable) -> None:
    def fail(document: Any) -> None:
        document["label"] = "half"
        raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        table.update(fail, doc_ids=["a"])  # type: ignore[list-item]
    assert table.take("a") == {"id": "a", "label": "one", "note": "n"}


def test_what_is_taken_out_is_not_what_is_kept(table: DocumentTable) -> None:
    taken = table.take("a")
    assert taken is not None
    taken["label"] = "changed in hand"
    assert table.take("a") == {"id": "a", "label": "one", "note": "n"}


def _calls_of(monkeypatch: pytest.MonkeyPatch, action: Callable[[], object]) -> list[str]:
    """Return which calls to the system an action made, in order."""
    calls: list[str] = []

    def counting(name: str, real: Callable[..., Any]) -> Callable[..., Any]:
        def call(*arguments: Any, **options: Any) -> Any:
            calls.append(name)
            return real(*arguments, **options)

        return call

    with monkeypatch.context() as patch:
        for name in ("open", "write", "stat", "fsync", "replace", "scandir", "listdir"):
            patch.setattr(os, name, counting(name, getattr(os, name)))
        for module in (builtins, io):
            patch.setattr(module, "open", counting("file", io.open))
        action()
    return calls


def test_a_save_does_the_same_in_a_small_log_and_in_a_large_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    calls = []
    for count in (10, 500):
        folder = tmp_path / str(count)
        open_log(folder).close()
        for number in range(count):
            id_ = f"v{number:03d}"
            write_file(folder / f"visits/{id_}.json", f'{{"format": 1, "id": "{id_}"}}')
        with open_log(folder) as log:
            assert len(log.heads(Visit)) == count
            before = log.get(Visit, "v005")
            after = Visit(id=before.id, label="changed")
            calls.append(_calls_of(monkeypatch, lambda log=log, after=after: log.save(after)))  # type: ignore[misc]
    small, large = calls
    assert small == large
    assert small.count("fsync") == 2
    assert small.count("replace") == 1
    assert "scandir" not in small
    assert "listdir" not in small
