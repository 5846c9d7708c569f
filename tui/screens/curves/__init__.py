"""The curves of one valve and the piston over the crank angle."""

from tui.screens.curves.screen import CurvesScreen

__all__ = ["CurvesScreen"]
