"""Several sessions side by side, all against the first: worked out in a thread, then laid out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import ClassVar, Final

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.message import Message

from core.errors import BackToBackError, BlockedError
from core.report.document import Bullets
from core.report.side_by_side import Laid, laid_out, laid_page, laid_picture
from core.session import Session
from tui.commands import bindings_for
from tui.dialogs import Option, ask_choice, asking
from tui.screens.base import HouseScreen
from tui.screens.compare.page import refusal_page, waiting_page
from tui.screens.routes import make_screen
from tui.widgets.page import Page, PageView
from tui.widgets.page_layout import block_lines, text_lines
from tui.widgets.picture import ascii_wanted
from tui.widgets.picture_drawing import draw
from tui.widgets.picture_plot import Line

__all__ = ["LaidScreen"]

_WIDEST: Final = 110
_BLANK: Final[Line] = ()


class LaidScreen(HouseScreen[None]):
    """Two sessions or more, all held against the first.

    Args:
        session_ids: ids, the one to hold against first.
    """

    SCENE = "laid"
    AUTO_FOCUS = "PageView"
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("laid")

    @dataclass
    class LaidOut(Message):
        """All were held against the first, or that was refused."""

        laid: Laid | None
        error: BackToBackError | None

    def __init__(self, *session_ids: str) -> None:
        super().__init__()
        self._ids = session_ids
        self._laid: Laid | None = None

    def compose_body(self) -> ComposeResult:
        """Yield the page."""
        yield PageView()

    def on_mount(self) -> None:
        """Show the frame at once; the sums come from a thread."""
        self.entitle("Side by side")
        self.query_one(PageView).show(lambda width, _: waiting_page("Comparing …", width))
        self.run_worker(self._work, name="laid", group="compare", thread=True, exclusive=True)

    def _work(self) -> None:
        book = self.house.book
        try:
            chosen = [(book.log.get(Session, id_), "") for id_ in self._ids]
            answer = self.LaidOut(laid_out(book, chosen), None)
        except BackToBackError as error:
            answer = self.LaidOut(None, error)
        self.post_message(answer)

    def on_laid_screen_laid_out(self, message: LaidOut) -> None:
        """Show what came back."""
        view, laid, error = self.query_one(PageView), message.laid, message.error
        self._laid = laid
        if laid is not None:
            labels = ", ".join(side.label for side in laid.sides)
            self.entitle(f"Side by side: {labels}", laid.first.test)
            view.show(lambda width, _: _page(laid, width))
        elif error is not None:
            self.entitle("Side by side", "not possible")
            view.show(lambda width, _: refusal_page(error, width))

    def action_back(self) -> None:
        """Go back to the screen below."""
        self.dismiss(None)

    @asking
    async def action_compare(self) -> None:
        """Compare one of them with the first, with everything."""
        if self._laid is None:
            raise BlockedError("There is nothing to look at yet.")
        others = self._laid.made
        options = tuple(Option(str(n), made.b.label) for n, made in enumerate(others[:9], 1))
        answer = await ask_choice(self.app, "Which one against the first?", options)
        if answer is not None:
            made = others[int(answer.key) - 1]
            sides = (made.a.session, made.b.session, made.a.build, made.b.build)
            self.app.push_screen(make_screen("compare", *sides))


def _page(laid: Laid, width: int) -> Page:
    room = min(width, _WIDEST)
    table, *rest = laid_page(laid).blocks[1:]
    lines = [
        _BLANK,
        *text_lines(
            f"All against {laid.first.label}. Dots: as clocked; net: in the conditions of "
            f"{laid.first.label}.", room, "quiet",
        ),
        _BLANK,
        *draw(laid_picture(laid), room, ascii_only=ascii_wanted()),
        _BLANK,
        *block_lines(table, room),
        *(line for block in rest for line in _spaced(block_lines(block, room))),
        *_changes(laid, room),
    ]  # fmt: skip
    return Page(tuple(lines), (("top", 0),))


def _spaced(lines: Iterator[Line] | list[Line]) -> Iterator[Line]:
    yield _BLANK
    yield from lines


def _changes(laid: Laid, width: int) -> Iterator[Line]:
    """What changed, beside each."""
    for made in laid.made:
        yield _BLANK
        yield from text_lines(f"What changed, {made.a.label} to {made.b.label}", width, "strong")
        words = tuple(change.words for change in made.causes)
        yield from block_lines(Bullets(words or ("nothing that could be a cause",)), width)
