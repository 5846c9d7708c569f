"""Commands are declared once, and everything that is said of them elsewhere is true."""

from __future__ import annotations

import importlib
import pkgutil
from collections import Counter
from itertools import combinations
from pathlib import Path

import pytest
from textual.binding import Binding
from textual.dom import DOMNode

import tui
from tests.tui.driving import opened, preferences, press, settle, type_in
from tests.tui.season import small_season
from tests.tui.seeing import lines, text
from tui.commands import COMMANDS, SCENES, Command, bindings_for, commands_in
from tui.commands.keymap import unfit_key
from tui.screens.base import HouseScreen

IDS = [row.id for row in COMMANDS]


def house_classes() -> list[type[DOMNode]]:
    """Every screen and widget of the app, after importing all of its modules."""
    for found in pkgutil.walk_packages(tui.__path__, "tui."):
        if not found.name.endswith("__main__"):
            importlib.import_module(found.name)
    todo, seen = [DOMNode], set[type[DOMNode]]()
    while todo:
        for cls in todo.pop().__subclasses__():
            if cls not in seen:
                seen.add(cls)
                todo.append(cls)
    return sorted((c for c in seen if c.__module__.startswith("tui.")), key=lambda c: c.__name__)


def own_bindings(cls: type[DOMNode]) -> list[Binding]:
    """Return the bindings that a class itself declares."""
    return [b for b in vars(cls).get("BINDINGS", []) if isinstance(b, Binding)]


def test_every_command_has_an_id_of_its_own() -> None:
    """Of a group and a name."""
    assert [name for name, count in Counter(IDS).items() if count > 1] == []
    assert all((row.group and row.call.isidentifier()) or "(" in row.call for row in COMMANDS)


@pytest.mark.parametrize("row", COMMANDS, ids=IDS)
def test_every_command_is_explained_and_has_keys_that_terminals_send(row: Command) -> None:
    """In one sentence; no alt, no key that is another one in disguise, no letter that leaves."""
    assert row.help.endswith((".", "…"))
    assert 1 <= len(row.label.split()) <= 4
    assert row.keys
    assert [unfit_key(key, row) for key in row.keys if unfit_key(key, row)] == []


def test_every_group_is_open_somewhere_and_every_scene_has_groups_with_commands() -> None:
    """No dead rows in either table."""
    groups = {row.group for row in COMMANDS}
    assert {group for scene in SCENES.values() for group in scene} == groups


@pytest.mark.parametrize("scene", SCENES)
def test_a_key_means_one_thing_at_a_time(scene: str) -> None:
    """No two commands that are open together share a key."""
    rows = commands_in(scene)
    shared = [
        (a.id, b.id, sorted(both))
        for a, b in combinations(rows, 2)
        if (both := set(a.keys) & set(b.keys))
    ]
    assert shared == []


def test_every_binding_of_the_app_is_a_command_with_an_action_that_exists() -> None:
    """No type checker sees a misspelt action; keys outside the table are in no help."""
    wrong, bound = [], set()
    for cls in house_classes():
        inherited = {b.key for base in cls.__mro__[1:] for b in own_bindings_of(base)}
        for binding in own_bindings(cls):
            if binding.id is None and binding.key in inherited:
                continue  # taken over from the framework's own field
            name = binding.action.partition("(")[0].rpartition(".")[2]
            if binding.id not in IDS or not hasattr(cls, f"action_{name}"):
                wrong.append((cls.__name__, binding.key, binding.action, binding.id))
            bound.add(binding.id)
    assert wrong == []
    assert bound == set(IDS)


def own_bindings_of(cls: type) -> list[Binding]:
    """Return the bindings of any class, of the framework's too."""
    return [b for b in vars(cls).get("BINDINGS", []) if isinstance(b, Binding)]


def test_only_leaving_goes_before_what_is_typed() -> None:
    """A letter that did would fire through a dialog."""
    bindings = [b for group in {row.group for row in COMMANDS} for b in bindings_for(group)]
    first = [b.id for b in bindings if isinstance(b, Binding) and b.priority]
    assert first == ["app.quit"]


def test_every_screen_names_a_scene_whose_first_group_is_its_own() -> None:
    """So that help and key map know what is open on it."""
    screens = [c for c in house_classes() if issubclass(c, HouseScreen) and c is not HouseScreen]
    nameless = [
        c.__name__
        for c in screens
        if c.SCENE not in SCENES and c.scene is HouseScreen.scene and not _leaves_out(c)
    ]
    assert nameless == []


def _leaves_out(screen: type) -> bool:
    """Tell whether a class leaves something to those that stand on it, and is never shown."""
    return any(getattr(part, "__isabstractmethod__", False) for part in vars(screen).values())


async def test_the_key_line_shows_five_at_most_and_help_always(tmp_path: Path) -> None:
    """Whatever the width; what is left out is in the help."""
    folder = small_season(tmp_path)
    for width in (80, 60, 40):
        async with opened(folder, size=(width, 24)) as pilot:
            line = lines(pilot.app)[-1]
            assert "? Help" in line
            assert len(line.split("   ")) <= 5
            assert line.startswith(" enter Open")


async def test_the_help_lists_every_command_of_the_screen(tmp_path: Path) -> None:
    """With its keys, under headings."""
    async with opened(small_season(tmp_path), size=(100, 60)) as pilot:
        await press(pilot, "question_mark")
        shown = " ".join(text(pilot.app).split())
        said = {row.id: f"{row.label}: {row.help}" for row in commands_in("log")}
        assert [name for name, words in said.items() if words not in shown] == []
        assert [shown.count(h) for h in ("The log list", "In every list", "Everywhere")] == [1] * 3
        await press(pilot, "escape")
        assert "Kettle Moth" in text(pilot.app)


async def test_the_palette_finds_a_command_and_runs_it(tmp_path: Path) -> None:
    """By a few letters of its words, or of what else it may be called."""
    async with opened(small_season(tmp_path)) as pilot:
        for typed in ("them", "light", "dark", "sun", "dusk"):
            await press(pilot, "ctrl+p")
            await type_in(pilot, typed)
            for _ in range(40):
                if "Sun or dusk" in text(pilot.app):
                    break
                await pilot.pause(0.05)
            else:
                raise AssertionError(f"{typed} does not find it")
            await press(pilot, "enter" if typed == "dusk" else "escape")
            if typed != "dusk":
                await press(pilot, "escape")
        await settle(pilot)
        assert pilot.app.theme == "dusk"


async def test_the_users_own_key_is_shown_and_works(tmp_path: Path) -> None:
    """In key line and help, and the usual one is free."""

    wishes = preferences(keys={"log.new": "g"})
    async with opened(small_season(tmp_path), wishes=wishes) as pilot:
        assert "g New" in lines(pilot.app)[-1]
        await press(pilot, "n")
        assert "New session" not in text(pilot.app)
        await press(pilot, "g")
        assert "New session S07" in text(pilot.app)
