"""The commands of the present screen in the ctrl+p palette."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from typing import Final

from textual.command import CommandPalette, DiscoveryHit, Hit, Hits, Provider
from textual.dom import DOMNode

from tui.commands.command import Command
from tui.commands.keymap import key_name
from tui.commands.table import command

__all__ = ["CommandProvider", "Palette"]

_NOT_HERE: Final = ("list", "dialog")  # moving about is quicker by the keys themselves
_NAMED: Final = 100.0  # score of a command one of whose other words begins like that


class Palette(CommandPalette):
    """The palette in the looks of the app."""

    CSS_PATH = "palette.tcss"

    def __init__(self) -> None:
        super().__init__(placeholder="a few letters of a command")


class CommandProvider(Provider):
    """Finds the commands that are open on the screen below the palette."""

    def _open(self) -> Iterator[tuple[Command, str, Callable[[], None]]]:
        """Yield each open command with its first key and what runs it."""
        seen = {"app.palette"}
        for key, active in self.screen.active_bindings.items():
            name = active.binding.id
            if name is None or name in seen or not active.enabled:
                continue
            seen.add(name)
            row = command(name)
            if row.group not in _NOT_HERE:
                yield row, key_name(key), partial(self._run, active.binding.action, active.node)

    def _run(self, action: str, node: DOMNode) -> None:
        """Run an action as if its key had been pressed on the screen."""
        self.screen.call_later(self.app.run_action, action, node)

    async def discover(self) -> Hits:
        """Yield all of them, in the order of the keys."""
        for row, key, run in self._open():
            yield DiscoveryHit(_words(row, key), run, row.label, row.help)

    async def search(self, query: str) -> Hits:
        """Yield those whose words fit."""
        matcher = self.matcher(query)
        for row, key, run in self._open():
            words = _words(row, key)
            score = max(matcher.match(words), matcher.match(row.help) / 2, _named(row, query))
            if score > 0:
                yield Hit(score, matcher.highlight(words), run, words, row.help)


def _words(row: Command, key: str) -> str:
    return f"{row.label}  ({key})"


def _named(row: Command, query: str) -> float:
    sought = query.strip().casefold()
    begins = sought and any(word.startswith(sought) for word in row.also.split())
    return _NAMED if begins else 0.0
