"""The demo season, built once for all tests of these screens."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

import demo


@pytest.fixture(scope="session")
def season(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the log of the demo season; nothing may be written to it."""
    folder = tmp_path_factory.mktemp("season") / "log"
    demo.build(folder)
    return folder


@pytest.fixture
def own_season(season: Path, tmp_path: Path) -> Path:
    """Return a copy of the demo season that may be written to."""
    folder = tmp_path / "log"
    shutil.copytree(season, folder)
    return folder
