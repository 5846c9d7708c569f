"""One session from its setup sheet to its close-out, in four stages."""

from tui.screens.session.screen import SessionScreen

__all__ = ["SessionScreen"]
