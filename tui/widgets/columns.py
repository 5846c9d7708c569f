"""How the columns of a list share the width there is."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from rich.cells import cell_len

__all__ = ["GAP", "Column", "share_width", "widths_needed"]

GAP = 2
"""Blank cells between two columns."""


@dataclass(frozen=True)
class Column:
    """One column of a list."""

    title: str
    """What stands above it."""
    least: int
    """Cells below which it is no use."""
    most: int
    """Cells it never needs more than."""
    right: bool = False
    """Whether it is set flush right, as numbers are."""
    rank: int = 0
    """Importance: the highest rank gives way first; 0 never does."""
    extra: bool = False
    """Whether it is shown only where all the others have what they modestly wish."""


def widths_needed(columns: Sequence[Column], rows: Iterable[Sequence[str]]) -> tuple[int, ...]:
    """Return how many cells each column would use for these rows, title included."""
    needed = [cell_len(column.title) for column in columns]
    for row in rows:
        for index, cell in enumerate(row):
            size = len(cell) if cell.isascii() else cell_len(cell)
            needed[index] = max(needed[index], size)
    return tuple(
        min(max(size, column.least), column.most)
        for column, size in zip(columns, needed, strict=True)
    )


def share_width(
    columns: Sequence[Column], wishes: Sequence[Sequence[int]], width: int
) -> tuple[int, ...]:
    """Return the cells that each column gets; 0 leaves it out.

    Columns of the highest rank go first until the rest has room at its least; what is left is
    given out by rank, up to the first wishes of all columns, then up to the second.

    Args:
        columns: the columns, left to right.
        wishes: cells that each one could use, the modest wishes first.
        width: cells there are.
    """
    modest = sum(wishes[0][i] + GAP for i, c in enumerate(columns) if not c.extra) if wishes else 0
    kept = {i for i, c in enumerate(columns) if not c.extra or modest + c.least <= width}

    def used() -> int:
        return sum(columns[i].least for i in kept) + GAP * max(0, len(kept) - 1)

    while len(kept) > 1 and used() > width:
        kept.remove(max(kept, key=lambda i: (columns[i].rank, i)))
    given = [columns[i].least if i in kept else 0 for i in range(len(columns))]
    left = width - used()
    for wish in wishes:
        for index in sorted(kept, key=lambda i: (columns[i].rank, i)):
            more = max(0, min(left, wish[index] - given[index]))
            given[index] += more
            left -= more
    return tuple(given)
