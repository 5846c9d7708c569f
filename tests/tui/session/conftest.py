"""The invented season, copied for each test."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest


@pytest.fixture
def season(built_season: Path, tmp_path: Path) -> Path:
    """Return a fresh copy of the season's log."""
    return Path(shutil.copytree(built_season, tmp_path / "log"))
