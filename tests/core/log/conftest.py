"""Each test of the log has an empty cache of heads of its own; logs that many tests start from."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import msgspec
import pytest

from core.log import Kind
from core.log.codec import decode_head
from core.log.headcache import CACHE_VARIABLE
from tests.core.log.samples import MANY_LABELS, open_log, write_visit


@pytest.fixture(autouse=True)
def cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return the folder of cached heads of this test."""
    folder = tmp_path / "cache"
    monkeypatch.setenv(CACHE_VARIABLE, str(folder))
    return folder


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return where a log may be made."""
    return tmp_path / "log"


@pytest.fixture
def many(folder: Path) -> Path:
    """Return a log of many visits."""
    open_log(folder).close()
    for number, label in enumerate(MANY_LABELS):
        write_visit(folder, number, label)
    return folder


@pytest.fixture
def decoded(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Return the list of ids whose heads were read from their files."""
    seen: list[str] = []

    def noting(kind: Kind[Any], id_: str, data: bytes) -> msgspec.Struct:
        seen.append(id_)
        return decode_head(kind, id_, data)

    monkeypatch.setattr("core.log.files.decode_head", noting)
    return seen
