"""Columns share the width: what matters stays, what is left is used, nothing overlaps."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from tui.widgets.columns import GAP, Column, share_width, widths_needed

COLUMNS = (
    Column("Label", 5, 14),
    Column("Date", 9, 9, right=True, rank=2),
    Column("Mean", 9, 26, right=True, rank=1),
    Column("Question", 20, 60, rank=3),
)


def used(given_widths: tuple[int, ...]) -> int:
    """Cells taken by the columns that are kept, with the gaps between them."""
    kept = [width for width in given_widths if width]
    return sum(kept) + GAP * (len(kept) - 1)


def test_the_highest_rank_gives_way_first() -> None:
    """Question, then date, then mean; the label never."""
    wishes = (widths_needed(COLUMNS, []),)
    kept = {
        width: tuple(bool(w) for w in share_width(COLUMNS, wishes, width))
        for width in (60, 40, 20, 3)
    }
    assert kept == {
        60: (True, True, True, True),
        40: (True, True, True, False),
        20: (True, False, True, False),
        3: (True, False, False, False),
    }


def test_room_that_is_left_goes_to_what_needs_it() -> None:
    """By rank, up to what the texts need; the rest stays blank."""
    rows = [("S01", "12 Apr 26", "8.39 s", "What makes it quicker from a standing start?")]
    assert share_width(COLUMNS, (widths_needed(COLUMNS, rows),), 200) == (5, 9, 9, 44)


def test_an_extra_column_waits_until_the_others_have_what_they_wish() -> None:
    """It never makes a name be cut."""
    columns = (Column("Name", 4, 20), Column("Aside", 10, 40, rank=1, extra=True))
    wishes = ((12, 30),)
    assert share_width(columns, wishes, 23) == (12, 0)
    assert share_width(columns, wishes, 24) == (12, 10)


def test_second_wishes_come_after_all_first_ones() -> None:
    """A text with a stand-in is spelt out only where every other column has what it needs."""
    short, whole = (5, 9, 9, 40), (5, 9, 22, 40)
    assert share_width(COLUMNS, (short, whole), 70) == (5, 9, 10, 40)
    assert share_width(COLUMNS, (short, whole), 90) == (5, 9, 22, 40)


@given(
    st.lists(st.tuples(st.integers(1, 20), st.integers(0, 5)), min_size=1, max_size=8),
    st.integers(0, 200),
)
def test_columns_never_need_more_than_there_is(rows: list[tuple[int, int]], width: int) -> None:
    """Only a single column may be wider than the screen, where nothing else can be done."""
    columns = [Column("x", least, least + 10, rank=rank) for least, rank in rows]
    wishes = (tuple(c.most for c in columns),)
    shared = share_width(columns, wishes, width)
    assert used(shared) <= width or sum(1 for w in shared if w) == 1
