"""What the lines of a list are made of."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple, Protocol

from rich.cells import cell_len

from tui.text import fit

__all__ = ["Cell", "Line", "Record", "Toned", "text_of"]


class Toned(NamedTuple):
    """A cell with a tone, or with words that stand in where there is no room for it."""

    text: str
    tone: str = "plain"
    """``plain``, ``quiet``, ``strong``, ``good``, ``warn`` or ``bad``."""
    short: str = ""
    """What is shown where the text would be cut; empty: it is cut."""

    def fitted(self, width: int, right: bool) -> str:
        """Return the text, or what stands in for it, in so many cells."""
        fits = not self.short or cell_len(self.text) <= width
        return fit(self.text if fits else self.short, width, right=right)


Cell = str | Toned
"""One text of a line, plain or toned."""


class Record(Protocol):
    """What a line of a list needs."""

    @property
    def id(self) -> str:
        """Name of the record, unlike any other's."""

    @property
    def cells(self) -> Sequence[Cell]:
        """One text for each column."""


@dataclass(frozen=True)
class Line:
    """A record that is no more than its id and its texts."""

    id: str
    cells: tuple[Cell, ...]


def text_of(cell: Cell, *, short: bool = False) -> str:
    """Return the words of a cell, or the ones that stand in for them where there are any."""
    if isinstance(cell, Toned):
        return cell.short if short and cell.short else cell.text
    return cell
