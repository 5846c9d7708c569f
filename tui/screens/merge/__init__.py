"""Two logs made one: what is new, and each conflict side by side for the user to decide."""

from tui.screens.merge.screen import MergeScreen

__all__ = ["MergeScreen"]
