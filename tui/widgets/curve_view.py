"""A widget that shows curves in whatever room it is given."""

from __future__ import annotations

from textual.content import Content
from textual.widget import Widget

from tui.widgets.curve_drawing import CurvePlot, draw_curves
from tui.widgets.picture import ascii_wanted
from tui.widgets.tones import as_content

__all__ = ["CurveView"]


class CurveView(Widget):
    """Shows a plot; nothing without one."""

    DEFAULT_CSS = "CurveView { height: 1fr; width: 1fr; padding: 0 1; }"

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 - the base names it so
        super().__init__(id=id)
        self._plot: CurvePlot | None = None

    def show(self, plot: CurvePlot | None) -> None:
        """Show this plot."""
        self._plot = plot
        self.refresh()

    def render(self) -> Content:
        """Draw what fits."""
        width, height = self.content_size
        if self._plot is None or width < 1 or height < 1:
            return Content("")
        lines = draw_curves(self._plot, width, height, ascii_only=ascii_wanted())
        return Content("\n").join(as_content(line) for line in lines[:height])
