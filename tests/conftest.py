"""What holds for every test: no home folder, no colours taken away, nothing of the user's own."""

from __future__ import annotations

import gc
import itertools
import os
import shutil
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

settings.register_profile(
    "brief",
    deadline=None,  # how quick a machine is, is no matter of these tests
    suppress_health_check=[HealthCheck.too_slow],
    max_examples=40,
)
settings.register_profile("long", settings.get_profile("brief"), max_examples=1000)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "brief"))

_IN_MEMORY = Path("/dev/shm")  # noqa: S108  a file system in memory, where there is one
_ROOM = 2**30  # bytes that must be free there

if os.access(_IN_MEMORY, os.W_OK) and shutil.disk_usage(_IN_MEMORY).free > _ROOM:
    os.environ.setdefault("PYTEST_DEBUG_TEMPROOT", str(_IN_MEMORY))

_TAKEN_AWAY = (
    "BACKTOBACK_LOG",
    "BACKTOBACK_CACHE",
    "FORCE_COLOR",
    "NO_COLOR",
    "TEXTUAL",
    "TEXTUAL_ANIMATIONS",
    "TEXTUAL_COLOR_SYSTEM",
    "TEXTUAL_THEME",
)


_numbers = itertools.count(1)


_LONGEST = ("test_kill.py", "test_real_terminal.py", "test_whole_session.py")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Begin with what takes longest, so that both workers end at the same time."""
    items.sort(key=lambda item: item.path.name not in _LONGEST)


def pytest_collection_finish() -> None:
    """What is loaded by now stays until the end: the collector need not look at it again."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(20_000, 20, 20)


@pytest.fixture(scope="session")
def _homes(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """One folder for all of them, so that the next number is not looked for among thousands."""
    return tmp_path_factory.mktemp("homes")


@pytest.fixture(scope="session")
def built_season(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The log of the invented season, built once for each process; it is copied, never opened."""
    import demo

    folder = tmp_path_factory.mktemp("built") / "log"
    demo.build(folder)
    return folder


@pytest.fixture(autouse=True)
def _nobody_at_home(_homes: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Put every folder of the user's into a temporary one, and take settings away."""
    home = _homes / str(next(_numbers))
    home.mkdir()
    for name in ("HOME", "USERPROFILE", "APPDATA", "LOCALAPPDATA"):
        monkeypatch.setenv(name, str(home))
    for name in ("CONFIG", "CACHE", "DATA", "STATE", "RUNTIME"):
        suffix = "DIR" if name == "RUNTIME" else "HOME"
        monkeypatch.setenv(f"XDG_{name}_{suffix}", str(home / name.lower()))
    for name in _TAKEN_AWAY:
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.setenv("COLORTERM", "truecolor")
