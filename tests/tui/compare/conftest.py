"""The demo season, built once for all tests of these screens."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest


@pytest.fixture(scope="session")
def season(built_season: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the log of the demo season; nothing may be written to it."""
    folder = tmp_path_factory.mktemp("season") / "log"
    return Path(shutil.copytree(built_season, folder))


@pytest.fixture
def own_season(season: Path, tmp_path: Path) -> Path:
    """Return a copy of the demo season that may be written to."""
    folder = tmp_path / "log"
    shutil.copytree(season, folder)
    return folder
