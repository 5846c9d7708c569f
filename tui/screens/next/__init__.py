"""What to test next: every swap that could be made, and the plan of one of them."""

from tui.screens.next.screen import NextScreen

__all__ = ["NextScreen"]
