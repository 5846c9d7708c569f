"""What holds for every test: no home folder, no colours taken away, nothing of the user's own."""

from __future__ import annotations

from pathlib import Path

import pytest

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


@pytest.fixture(autouse=True)
def _nobody_at_home(
    tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Put every folder of the user's into a temporary one, and take settings away."""
    home: Path = tmp_path_factory.mktemp("home")
    for name in ("HOME", "USERPROFILE", "APPDATA", "LOCALAPPDATA"):
        monkeypatch.setenv(name, str(home))
    for name in ("CONFIG", "CACHE", "DATA", "STATE", "RUNTIME"):
        suffix = "DIR" if name == "RUNTIME" else "HOME"
        monkeypatch.setenv(f"XDG_{name}_{suffix}", str(home / name.lower()))
    for name in _TAKEN_AWAY:
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.setenv("COLORTERM", "truecolor")
