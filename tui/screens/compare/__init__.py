"""The comparison of two sessions or builds: asked for by keys, worked out in a thread."""

from tui.screens.compare.screen import CompareScreen

__all__ = ["CompareScreen"]
