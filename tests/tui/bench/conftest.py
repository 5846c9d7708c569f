"""The demo season, built once for each test process and copied for each test."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

import demo


@pytest.fixture(scope="session")
def _season(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("season") / "log"
    demo.build(folder)
    return folder


@pytest.fixture
def season(_season: Path, tmp_path: Path) -> Path:
    """Return a fresh copy of the season's log."""
    return Path(shutil.copytree(_season, tmp_path / "log"))
