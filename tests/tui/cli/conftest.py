"""The command as it is called, and the invented season as a log to call it on."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from tui.cli import main


@dataclass(frozen=True)
class Said:
    """What one call came to."""

    code: int
    out: str
    err: str


Call = Callable[..., Said]


@pytest.fixture
def call(capfd: pytest.CaptureFixture[str]) -> Call:
    """Run the command in this process with these words."""

    def run(*words: str | Path) -> Said:
        capfd.readouterr()
        code = main([str(word) for word in words])
        found = capfd.readouterr()
        return Said(code, found.out, found.err)

    return run


@pytest.fixture(scope="session")
def season(built_season: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of the season's log; nobody writes to it."""
    folder = tmp_path_factory.mktemp("season") / "log"
    return Path(shutil.copytree(built_season, folder))


@pytest.fixture
def own_season(season: Path, tmp_path: Path) -> Path:
    """A copy of the season's log that may be written to."""
    return Path(shutil.copytree(season, tmp_path / "own"))
