"""The three fixed lines of every screen: title on top, what was said last and the keys below."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import ClassVar, Final

from rich.cells import cell_len
from textual.content import Content
from textual.geometry import Size
from textual.screen import Screen
from textual.widget import Widget

from tui.commands import COMMANDS, key_name
from tui.text import cut, fit, wrapped

__all__ = ["KeyLine", "StatusLine", "TitleLine"]

_KEYS_AT_MOST: Final = 5  # what 80 cells hold; the rest is in the help
_BETWEEN: Final = "   "  # two entries
_SAID_AT_MOST: Final = 3  # lines of what was said last
_LOW: Final = 18  # lines of the terminal below which one has to do


class TitleLine(Widget):
    """What this screen shows, on the left, and what it is about, on the right."""

    def __init__(self, left: str = "", right: str = "") -> None:
        super().__init__()
        self._left = left
        self._right = right

    def say(self, left: str, right: str = "") -> None:
        """Show these two texts; the right one gives way first."""
        self._left, self._right = left, right
        self.refresh()

    def render(self) -> Content:
        """Draw the line."""
        width = self.content_size.width
        left = cut(self._left, width)
        room = width - cell_len(left) - 2
        if not self._right or room < 8:
            return Content(left)
        return Content(left) + Content.styled("  " + fit(self._right, room, right=True), "not bold")


class StatusLine(Widget):
    """What was done last, or what stands in the way; it grows so that all of it can be read."""

    def __init__(self) -> None:
        super().__init__()
        self._text = ""
        self._usual = ""
        self._drawn = 1  # lines when it was laid out last

    @property
    def text(self) -> str:
        """What it says now."""
        return self._text or self._usual

    def say(self, text: str) -> None:
        """Say this once; empty goes back to the usual line."""
        self._text = text
        self._anew()

    def usually(self, text: str) -> None:
        """Say this whenever there is nothing newer."""
        self._usual = text
        self._anew()

    def _anew(self) -> None:
        """Draw it anew; the screen is laid out anew only when it needs more or fewer lines."""
        needed = len(self._lines(self.content_size.width))
        self.refresh(layout=needed != self._drawn)

    def _lines(self, width: int) -> list[str]:
        """Break the text between words; what is beyond the room is cut, with a mark."""
        most = _SAID_AT_MOST if self.app.size.height >= _LOW else 1
        if width < 1 or most == 1:
            return [cut(self.text, width)]
        lines = wrapped(self.text, width)
        rest = " ".join(lines[most - 1 :])
        return [cut(line, width) for line in (*lines[: most - 1], *([rest] if rest else []))]

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """Return the lines that it needs."""
        self._drawn = len(self._lines(width))
        return self._drawn

    def render(self) -> Content:
        """Draw the lines."""
        return Content("\n".join(self._lines(self.content_size.width)))


class KeyLine(Widget):
    """The keys that matter most here, as many as fit; Help always stays."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {"key-line--key"}

    def __init__(self) -> None:
        super().__init__()
        self._left_out: frozenset[str] = frozenset()
        self._instead: tuple[tuple[str, str], ...] = ()

    def leave_out(self, ids: Collection[str]) -> None:
        """Show no command of these ids, as those that are no answer here; their keys still work."""
        if self._left_out != frozenset(ids):
            self._left_out = frozenset(ids)
            self.refresh()

    def instead(self, entries: Sequence[tuple[str, str]]) -> None:
        """Show these keys and words alone while a question is open; none: the usual ones."""
        if self._instead != tuple(entries):
            self._instead = tuple(entries)
            self.refresh()

    def on_mount(self) -> None:
        """Follow the bindings of the screen."""
        self.screen.bindings_updated_signal.subscribe(self, self._bindings_changed)

    def _bindings_changed(self, screen: Screen[object]) -> None:
        self.refresh()

    def entries(self) -> list[tuple[str, str]]:
        """Return keys and labels that fit the width, in the order of the command table."""
        if self._instead:
            return self._asked()
        found: dict[str, tuple[str, str]] = {}
        for key, active in self.screen.active_bindings.items():
            binding = active.binding
            shown = binding.show and active.enabled and binding.id not in self._left_out
            if shown and binding.id and not self._is_typed(key):
                found.setdefault(binding.id, (key_name(key), binding.description))
        wanted = {row.id: found[row.id] for row in COMMANDS if row.id in found}
        last = wanted.pop("app.help", None)
        room = self.content_size.width + len(_BETWEEN) - (_size(last) if last else 0)
        kept: list[tuple[str, str]] = []
        for entry in list(wanted.values())[: _KEYS_AT_MOST - (1 if last else 0)]:
            if _size(entry) > room:
                break
            room -= _size(entry)
            kept.append(entry)
        return [*kept, last] if last else kept

    def _asked(self) -> list[tuple[str, str]]:
        """Return the answers that are waited for, with their words where these fit."""
        room = self.content_size.width + len(_BETWEEN)
        if sum(map(_size, self._instead)) <= room:
            return list(self._instead)
        *answers, last = self._instead
        return [(" ".join(key for key, _ in answers), "answers"), last]

    def _is_typed(self, key: str) -> bool:
        """Tell whether a key would be typed into the field that has the focus."""
        name, field = key_name(key), self.screen.focused
        return field is not None and len(name) == 1 and field.check_consume_key(key, name)

    def render(self) -> Content:
        """Draw the line."""
        key_style = self.get_visual_style("key-line--key")
        parts: list[Content | str] = []
        for key, label in self.entries():
            parts += [_BETWEEN if parts else "", Content.styled(key, key_style), f" {label}"]
        return Content.assemble(*parts).truncate(self.content_size.width)


def _size(entry: tuple[str, str]) -> int:
    return cell_len(entry[0]) + 1 + cell_len(entry[1]) + len(_BETWEEN)
