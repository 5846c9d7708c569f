"""Keys: how they are written for a person, and whether the user's own key map can be used."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from textual.binding import Binding, InvalidBinding
from textual.keys import Keys, format_key

from tui.commands.command import Command
from tui.commands.table import COMMANDS, SCENES, commands_in
from tui.text import cut

__all__ = ["CheckedKeys", "checked_keys", "key_name", "keys_of", "unfit_key"]

_NAMES: Final = {
    "escape": "esc",
    "pageup": "PgUp",
    "pagedown": "PgDn",
    "home": "Home",
    "end": "End",
    "enter": "enter",
}

_TAKEN: Final = {
    "ctrl+m": "terminals send it for enter",
    "ctrl+j": "terminals send it for enter",
    "ctrl+h": "terminals send it for backspace",
    "ctrl+i": "terminals send it for tab",
    "ctrl+left_square_bracket": "terminals send it for esc",
    "ctrl+[": "terminals send it for esc",
    "ctrl+z": "it puts a program to sleep",
    "ctrl+s": "it can stop the terminal's output",
}
"""Keys that no command may have, and why."""


def key_name(key: str) -> str:
    """Return a key as it is written for a person.

    >>> key_name("question_mark"), key_name("escape"), key_name("ctrl+q")
    ('?', 'esc', 'ctrl+q')
    """
    *held, last = key.split("+")
    return "+".join((*held, _NAMES.get(last) or format_key(last)))


@dataclass(frozen=True)
class CheckedKeys:
    """What of a user's key map can be used."""

    keys: Mapping[str, str]
    """By command id: keys with commas between them."""
    complaints: tuple[str, ...]
    """One sentence for each entry that is left out."""


_KNOWN: Final = {key.value.rpartition("+")[2] for key in Keys}


def unfit_key(key: str, row: Command) -> str:
    """Return why a command cannot have this key, or nothing."""
    if key in _TAKEN:
        return _TAKEN[key]
    last = key.rpartition("+")[2]
    if last not in _KNOWN and len(format_key(last)) != 1:
        return "there is no key of that name"
    if "alt+" in key:
        return "with alt it would be typed into a field"
    if row.id == "app.quit" and "+" not in key:
        return "it would leave from within a field or dialog"
    return ""


def keys_of(row: Command, own: Mapping[str, str]) -> tuple[str, ...]:
    """Return the keys of a command under a checked key map."""
    return tuple(own[row.id].split(",")) if row.id in own else row.keys


def _read(text: str) -> tuple[str, ...]:
    """Return the keys of one entry by Textual's names; raises InvalidBinding when empty."""
    return tuple(b.key for b in Binding.make_bindings([Binding(text, "none")]))


def _clash(own: Mapping[str, str], row: Command) -> str:
    """Return what else has a key of this command where both are open, or nothing."""
    mine = set(keys_of(row, own))
    for scene, groups in SCENES.items():
        if row.group not in groups:
            continue
        for other in commands_in(scene):
            shared = mine.intersection(keys_of(other, own)) if other.id != row.id else None
            if shared:
                return f"{key_name(min(shared))} is “{other.label}” there"
    return ""


def _complaint(own: Mapping[str, str], row: Command) -> str:
    reasons: Iterable[str] = (unfit_key(key, row) for key in keys_of(row, own))
    return next(filter(None, reasons), "") or _clash(own, row)


def checked_keys(wanted: Mapping[str, str]) -> CheckedKeys:
    """Return the entries of a key map that can be used, with a sentence for each other one.

    Args:
        wanted: by command id: keys with commas between them, as the preferences hold them.
    """
    rows = {row.id: row for row in COMMANDS}
    own: dict[str, str] = {}
    complaints: list[str] = []
    for name, text in wanted.items():
        if name not in rows:
            complaints.append(f"Key map: there is no command “{cut(name, 30)}”.")
            continue
        try:
            own[name] = ",".join(_read(text))
        except InvalidBinding:
            complaints.append(f"Key map: “{name}” has no key; its usual one is kept.")
    while unfit := next(((n, r) for n in own if (r := _complaint(own, rows[n]))), None):
        name, reason = unfit  # leaving one out gives its usual key back, which may clash in turn
        text = cut(wanted[name], 20)
        complaints.append(f"Key map: {text} is not used for “{rows[name].label}”: {reason}.")
        del own[name]
    return CheckedKeys(own, tuple(complaints))
