"""One command: what it is called, which keys call it and what it does, in words."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["Command"]


@dataclass(frozen=True)
class Command:
    """One thing the user can do, declared once."""

    id: str
    """Group and name, such as ``log.new``; also the name of its binding and its key-map entry."""
    keys: tuple[str, ...]
    """Keys as Textual names them; the first one is the one shown."""
    label: str
    """One to three words, for the key line and the palette."""
    help: str
    """One sentence: what it does."""
    foot: bool = False
    """Whether it is shown in the key line, while there is room."""
    action: str = ""
    """Name of the action with its arguments; empty: the name in the id."""
    also: str = ""
    """Other words that the palette finds it by."""

    @property
    def group(self) -> str:
        """The group it belongs to."""
        return self.id.partition(".")[0]

    @property
    def call(self) -> str:
        """The action that a screen or widget has a method ``action_...`` for."""
        return self.action or self.id.partition(".")[2].replace("-", "_")
