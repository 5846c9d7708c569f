"""Three pictures of the two screens that are read: everything else is tested as text."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from textual.pilot import Pilot

from core.session import Book
from tests.tui.compare.going import app_of, press, session_id, settle
from tests.tui.driving import NOW, preferences, until_read
from tui.app import BackToBackApp
from tui.screens.routes import make_screen

pytestmark = pytest.mark.xdist_group("season")

Compare = Callable[..., bool]


@pytest.mark.parametrize(
    ("theme", "size", "route", "labels", "keys"),
    [
        ("sun", (80, 24), "compare", ("S05", "S08"), ()),
        ("dusk", (120, 40), "compare", ("S01", "S03"), ("f",)),
        ("sun", (120, 40), "review", ("S05",), ("5",)),
    ],
    ids=["comparison", "comparison-wide", "review-wide"],
)
def test_it_looks_as_it_did(
    snap_compare: Compare,
    season: Path,
    theme: str,
    size: tuple[int, int],
    route: str,
    labels: tuple[str, ...],
    keys: tuple[str, ...],
) -> None:
    """A comparison small and large, and the attempts of a session beside their picture."""
    ids = [session_id(season, label) for label in labels]
    wishes = preferences(theme=theme)
    app = BackToBackApp(
        lambda: Book.open(season, read_only=True, clock=lambda: NOW), wishes, lambda: NOW
    )

    async def drive(pilot: Pilot[None]) -> None:
        await until_read(pilot)
        app_of(pilot).push_screen(make_screen(route, *ids))
        await settle(pilot)
        await press(pilot, *keys)

    assert snap_compare(app, terminal_size=size, run_before=drive)
