"""What holds for tests of the app: no blinking, and no waiting for a process that sleeps anyway."""

from __future__ import annotations

import asyncio

import pytest
from textual.widgets import Input

_TURNS = 4  # of the event loop: a key, its action, its messages, their repaint


async def _brief_idle(min_sleep: float = 0.0, max_sleep: float = 1.0) -> None:
    """Let everything that is ready run; workers in threads have to be awaited by themselves."""
    for _ in range(_TURNS):
        await asyncio.sleep(0)
    await asyncio.sleep(0.001)


@pytest.fixture(autouse=True)
def _quick_pilot(monkeypatch: pytest.MonkeyPatch) -> None:
    """Replace the pilot's wait for an idle process, which costs 60 ms a key, nearly all sleep."""
    monkeypatch.setattr("textual.app.wait_for_idle", _brief_idle)
    monkeypatch.setattr("textual.pilot.wait_for_idle", _brief_idle)
    monkeypatch.setattr(Input, "cursor_blink", False)
