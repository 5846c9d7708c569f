"""A page of drawn lines that scrolls, with sections that can be gone to; one widget for it all."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import ClassVar, Final

from rich.segment import Segment
from rich.style import Style as RichStyle
from textual import events
from textual.binding import BindingType
from textual.geometry import Size
from textual.scroll_view import ScrollView
from textual.strip import Strip
from textual.style import Style

from tui.commands import bindings_for
from tui.widgets.picture_plot import Line
from tui.widgets.tones import TONES

__all__ = ["MakePage", "Page", "PageView"]

_MARGIN: Final = 1  # blank cells left and right of the lines


@dataclass(frozen=True)
class Page:
    """Lines that were laid out for one width."""

    lines: tuple[Line, ...]
    anchors: tuple[tuple[str, int], ...] = ()
    """Name of each section and the index of its first line, from the top down."""


MakePage = Callable[[int, int], Page]
"""Lays a page out for so many cells and lines."""


class PageView(ScrollView, can_focus=True, inherit_bindings=False):
    """Shows a page; only the lines in view are drawn.

    Args:
        came: called with the name of a section when it comes to the top.
    """

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("list")
    DEFAULT_CSS = """
    PageView {
        height: 1fr;
        overflow-x: hidden;
        scrollbar-size-vertical: 1;
        scrollbar-gutter: stable;
    }
    """

    def __init__(self, came: Callable[[str], None] = lambda section: None) -> None:
        super().__init__()
        self._came = came
        self._make: MakePage = lambda width, height: Page(())
        self._page = Page(())
        self._made_for = (0, 0)
        self._section = ""
        self._place = ("", 0)  # section and line within it that the reader is at
        self._styles: dict[str, RichStyle] = {}

    # -- what it shows -------------------------------------------------------------------------

    @property
    def page(self) -> Page:
        """The page as it is laid out now."""
        return self._page

    @property
    def section(self) -> str:
        """Name of the section at the top."""
        return self._section

    def show(self, make: MakePage) -> None:
        """Show a page; the section at the top stays at the top."""
        self._make = make
        self._made_for = (0, 0)
        self._lay_out()

    def _lay_out(self) -> None:
        width, height = self.scrollable_content_region.size
        if (width, height) == self._made_for or width < 1:
            return
        self._made_for = (width, height)
        self._page = self._make(max(1, width - 2 * _MARGIN), height)
        self.virtual_size = Size(width, len(self._page.lines))
        self.refresh()
        self.call_after_refresh(self._return)

    def _return(self) -> None:
        """Go back to the line that was at the top before the page was laid out anew."""
        section, line = self._place
        self.scroll_to(y=dict(self._page.anchors).get(section, 0) + line, animate=False, force=True)
        self._tell()

    def go_to(self, section: str) -> None:
        """Bring the first line of a section to the top, as far as the page reaches."""
        if self._made_for == (0, 0):  # gone there once there is room to lay the page out
            self._place = (section, 0)
        at = dict(self._page.anchors).get(section)
        if at is not None:
            self.scroll_to(y=at, animate=False, force=True)
            self._place = (section, 0)
            self._tell(section)

    def _keep_place(self) -> None:
        """Remember section and line that are at the top, to come back to after a change."""
        top = round(self.scroll_y)
        passed = [(name, top - at) for name, at in self._page.anchors if at <= top]
        self._place = passed[-1] if passed else ("", top)
        self._tell(self._place[0])

    def _tell(self, section: str = "") -> None:
        """Tell which section is at the top, if it is another one now.

        A call and not a message, so that both are drawn in the same frame.
        """
        section = section or self._place[0] or next((n for n, _ in self._page.anchors), "")
        if section != self._section:
            self._section = section
            self._came(section)

    # -- moving --------------------------------------------------------------------------------

    def _scroll(self, lines: int) -> None:
        self.scroll_to(y=round(self.scroll_y) + lines, animate=False, force=True)
        self._keep_place()

    def action_up(self) -> None:
        """Scroll one line up."""
        self._scroll(-1)

    def action_down(self) -> None:
        """Scroll one line down."""
        self._scroll(1)

    def action_page_up(self) -> None:
        """Scroll one screen up, less one line."""
        self._scroll(-max(1, self.size.height - 1))

    def action_page_down(self) -> None:
        """Scroll one screen down, less one line."""
        self._scroll(max(1, self.size.height - 1))

    def action_first(self) -> None:
        """Go to the top."""
        self._scroll(-len(self._page.lines))

    def action_last(self) -> None:
        """Go to the end."""
        self._scroll(len(self._page.lines))

    def on_mouse_scroll_down(self, event: events.MouseScrollDown) -> None:
        """Scroll by the wheel."""
        event.stop()
        self._scroll(3)

    def on_mouse_scroll_up(self, event: events.MouseScrollUp) -> None:
        """Scroll by the wheel."""
        event.stop()
        self._scroll(-3)

    def on_resize(self, event: events.Resize) -> None:
        """Lay the page out for the new room."""
        self._lay_out()

    # -- drawing -------------------------------------------------------------------------------

    def notify_style_update(self) -> None:
        """Forget styles when the theme changes them."""
        self._styles.clear()
        super().notify_style_update()

    def _style(self, tone: str) -> RichStyle:
        if tone not in self._styles:
            added = Style.parse(TONES[tone], self.app.theme_variables)
            self._styles[tone] = (self.visual_style + added).rich_style
        return self._styles[tone]

    def render_line(self, y: int) -> Strip:
        """Draw one line of the view."""
        width, base = self.size.width, self._style("plain")
        index = y + round(self.scroll_y)
        if index >= len(self._page.lines):
            return Strip.blank(width, base)
        segments = [Segment(" " * _MARGIN, base)]
        segments += [Segment(text, self._style(tone)) for text, tone in self._page.lines[index]]
        return Strip(segments).adjust_cell_length(width, base)
