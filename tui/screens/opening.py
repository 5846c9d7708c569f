"""Going to the bench and to a plan on paper, from anywhere."""

from __future__ import annotations

import asyncio
from typing import TYPE_CHECKING

from tui.screens.routes import make_screen
from tui.subject import read_subject

if TYPE_CHECKING:
    from tui.app import BackToBackApp

__all__ = ["open_bench", "open_what_if"]


async def open_bench(house: BackToBackApp, machine: str = "") -> None:
    """Go to the bench; without a machine it is asked for.

    Args:
        house: the app.
        machine: id; empty: it is asked for, and a loose engine can be made.
    """
    machine = machine or await _which(house)
    if machine:
        await house.push_screen_wait(make_screen("bench", machine))


async def open_what_if(house: BackToBackApp, machine: str = "") -> None:
    """Change slots on paper; without a machine it is asked for.

    Args:
        house: the app.
        machine: id; empty: it is asked for.
    """
    machine = machine or await _which(house)
    if machine:
        subject = await asyncio.to_thread(read_subject, house.book, machine)
        await house.push_screen_wait(make_screen("what-if", subject))


async def _which(house: BackToBackApp) -> str:
    from tui.screens.bench.choosing import ask_subject  # the bench's own screens lead here too

    return await ask_subject(house, house.book)
