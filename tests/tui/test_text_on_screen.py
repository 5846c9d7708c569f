"""Hostile notes and names on every widget: never markup, and no code reaches the screen."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import msgspec
import pytest
from rich.cells import cell_len
from textual.app import App

from core.session import Book
from tests.making import bare_session
from tests.tui.driving import opened, press, settle
from tests.tui.season import HOSTILE, small_season
from tests.tui.seeing import lines, text
from tui.dialogs import ChoiceDrawer, Drawer, MessageDrawer, Option, PickDrawer, PickRow, TextDrawer
from tui.screens.base import HouseScreen
from tui.text import plain
from tui.widgets.line_input import LineInput


def assert_sound(app: App[Any]) -> None:
    """Fail if a control code is on the screen or a line is wider than it."""
    for line in lines(app):
        assert all(c.isprintable() for c in line)
        assert cell_len(line) <= app.size.width


def hostile_season(folder: Path) -> Path:
    """Make a log with each hostile text as label, machine, place, question and reason."""
    sessions = []
    with Book.open(small_season(folder)) as book:
        for day, hostile in enumerate(HOSTILE):
            text = hostile.encode(
                "utf-8", "replace"
            ).decode()  # a file cannot hold a lone surrogate
            machine, place = book.add_machine("x"), book.add_place("x")
            book.save(msgspec.structs.replace(machine, name=text))
            book.save(msgspec.structs.replace(place, name=text))
            session = bare_session(f"H{day}", ["W8.00"], day=200 + day)
            words = dict.fromkeys(("label", "question", "stopped_because"), text)
            names = {"machine": machine.id, "place": place.id, "state": "stopped"}
            sessions.append(msgspec.structs.replace(session, **words, **names))
        book.save(*sessions)
        return book.log.folder


async def test_a_log_full_of_it_is_listed_picked_from_and_filtered(tmp_path: Path) -> None:
    """As names of all kinds, on a wide screen with the card of every session."""
    async with opened(hostile_season(tmp_path), size=(150, 30)) as pilot:
        assert "left [/] low" in text(pilot.app)
        assert_sound(pilot.app)
        for _ in HOSTILE:
            await press(pilot, "down")
            assert_sound(pilot.app)
        await press(pilot, "slash", "left_square_bracket", "slash")
        assert_sound(pilot.app)
        await press(pilot, "escape", "n", "1")
        assert_sound(pilot.app)


async def test_title_and_status_show_it_as_text(tmp_path: Path) -> None:
    """Cut to the width, whatever it holds."""
    async with opened(small_season(tmp_path)) as pilot:
        screen = pilot.app.screen
        assert isinstance(screen, HouseScreen)
        for hostile in HOSTILE:
            screen.entitle(hostile, hostile)
            screen.say(hostile)
            await settle(pilot)
            assert_sound(pilot.app)
            title, *_, status, _ = lines(pilot.app)
            assert title.strip().startswith(plain(hostile)[:12].strip())
            assert status.strip().startswith(plain(hostile)[:12].strip())


@pytest.mark.parametrize("kind", ["message", "choice", "pick", "typing"])
async def test_drawers_show_it_as_text(tmp_path: Path, kind: str) -> None:
    """As title, sentence, hint, answers, rows, value and complaint."""
    every = "\n".join(HOSTILE)
    drawers: dict[str, Drawer[Any]] = {
        "message": MessageDrawer(HOSTILE[0], every, every),
        "choice": ChoiceDrawer(HOSTILE[1], [Option(str(i), h) for i, h in enumerate(HOSTILE)]),
        "pick": PickDrawer(HOSTILE[2], [PickRow(str(i), h, h) for i, h in enumerate(HOSTILE)]),
        "typing": TextDrawer(HOSTILE[0], sentence=every, value=every, hint=every),
    }
    async with opened(small_season(tmp_path), size=(100, 40)) as pilot:
        drawer = drawers[kind]
        pilot.app.push_screen(drawer)
        drawer.call_after_refresh(drawer.complain, every)
        await settle(pilot)
        assert_sound(pilot.app)
        shown = text(pilot.app)
        for hostile in HOSTILE[:4]:
            assert plain(hostile)[:12].strip() in shown
        await press(pilot, "down", "escape")
        assert "6 sessions" in text(pilot.app)


async def test_a_field_takes_it_as_it_was_typed(tmp_path: Path) -> None:
    """What is kept is what was typed, up to a length; only what is shown is made safe."""
    async with opened(small_season(tmp_path)) as pilot:
        drawer = TextDrawer("Note")
        pilot.app.push_screen(drawer)
        await settle(pilot)
        field = drawer.query_one(LineInput)
        for hostile in HOSTILE:
            field.value = ""
            field.insert_text_at_cursor(hostile)
            await settle(pilot)
            assert field.value == hostile[:2_000]
            assert_sound(pilot.app)
            await press(pilot, "home", "right", "delete", "end", "backspace")
            assert_sound(pilot.app)
