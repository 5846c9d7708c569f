"""Pages of the shelf: the card of a part, what is due on each machine, a shopping list."""

from __future__ import annotations

from typing import ClassVar, Literal

from textual.binding import BindingType

from core.report import Heading, Report
from core.report.document import Block
from core.report.shelf_pages import due_page, part_card, shopping_blocks
from core.session import Book
from core.setup import Part, shopping
from core.shelf import due_of, history_of, slot_ids
from tui.commands import bindings_for
from tui.screens.report_page import ReportScreen

__all__ = ["CardScreen"]

What = Literal["part", "due", "shopping"]


class CardScreen(ReportScreen):
    """One page about the shelf.

    Args:
        what: a part's card, what is due, or a shopping list.
        about: id of the part, or slots with commas between them.
    """

    SCENE = "card"
    NAME = "shelf"
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("card")

    def __init__(self, what: What, about: str = "") -> None:
        super().__init__()
        self._what = what
        self._about = about

    def make_report(self, book: Book) -> Report:
        """Return the page."""
        if self._what == "part":
            return part_card(book, history_of(book, self._about))
        if self._what == "shopping":
            rows = shopping(slot_ids(self._about), book.log.all(Part))
            return Report("To buy or have at hand", tuple(shopping_blocks(rows)))
        return Report("Worn or due", tuple(_due(book)))


def _due(book: Book) -> list[Block]:
    """What is due on every machine that ran, the one that ran last first."""
    ran = dict.fromkeys(head.machine for head in reversed(book.sessions()))
    blocks: list[Block] = []
    for machine in ran:
        blocks.append(Heading(book.name_of(machine) or machine))
        blocks += due_page("", due_of(book, machine)).blocks
    return blocks
