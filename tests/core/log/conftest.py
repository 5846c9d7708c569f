"""Each test of the log has an empty cache of heads of its own."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.log.headcache import CACHE_VARIABLE


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
