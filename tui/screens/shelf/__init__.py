"""The shelf: every part in a list, its card, what is due, and what happened to one."""

from tui.screens.shelf.pages import CardScreen
from tui.screens.shelf.screen import ShelfScreen

__all__ = ["CardScreen", "ShelfScreen"]
