"""What each part did on a machine and test: a picture, a table, and what was never apart."""

from tui.screens.effects.screen import EffectsScreen

__all__ = ["EffectsScreen"]
