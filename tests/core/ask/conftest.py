"""The invented season, read once for all questions, on the day of its last decision."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest

from core.session import Book
from demo.season import build

LAST_DAY = datetime.fromisoformat("2026-09-07T20:00:00+02:00")


@pytest.fixture(scope="session")
def season_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of the season; nobody writes to it."""
    folder = tmp_path_factory.mktemp("asked") / "log"
    build(folder)
    return folder


@pytest.fixture(scope="session")
def asked_season(season_folder: Path) -> Iterator[Book]:
    """The season, open to read."""
    with Book.open(season_folder, clock=lambda: LAST_DAY, read_only=True) as book:
        yield book
