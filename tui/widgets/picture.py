"""A picture of attempts or of a difference, as lines of text and as a widget that shows one."""

from __future__ import annotations

from textual.content import Content
from textual.widget import Widget

from core.report.pictures import Picture
from tui.widgets.big_text import big_style
from tui.widgets.picture_drawing import draw
from tui.widgets.tones import as_content

__all__ = ["PictureView", "ascii_wanted", "picture_lines"]


def ascii_wanted() -> bool:
    """Tell whether this terminal has no signs beyond ASCII."""
    return big_style() == "ascii"


def picture_lines(
    model: Picture,
    width: int,
    ascii: bool = False,  # noqa: A002 - the word for it
    height: int | None = None,
) -> list[Content]:
    """Return a picture as lines of text, each of at most ``width`` cells.

    Args:
        model: what to draw.
        width: cells, 1 or more.
        ascii: draw with nothing but ASCII.
        height: lines there are; None: as many as it takes.
    """
    return [as_content(line) for line in draw(model, width, ascii_only=ascii, height=height)]


class PictureView(Widget):
    """Shows one picture in whatever room it is given; drawn anew only when it changes."""

    DEFAULT_CSS = "PictureView { height: auto; width: 1fr; }"

    def __init__(self, picture: Picture | None = None, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self._picture = picture

    @property
    def picture(self) -> Picture | None:
        """What it shows now."""
        return self._picture

    def show(self, picture: Picture | None) -> None:
        """Show this picture; nothing happens when it is the one that is shown already."""
        if picture != self._picture:
            self._picture = picture
            self.refresh(layout=self.styles.is_auto_height)

    def render(self) -> Content:
        """Draw the lines that fit."""
        width, height = self.content_size
        if self._picture is None or width < 1 or height < 1:
            return Content("")
        lines = picture_lines(self._picture, width, ascii_wanted(), height)
        return Content("\n").join(lines)

    def get_content_height(self, container: object, viewport: object, width: int) -> int:
        """Return the lines it takes when there is room for all of them."""
        if self._picture is None or width < 1:
            return 0
        return len(draw(self._picture, width, ascii_only=ascii_wanted()))
