"""User and file text comes out in one line of exactly the cells it was given, without codes."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rich.cells import cell_len

from tests.tui.season import HOSTILE
from tui.text import cut, fit, plain, safe, safe_lines

ANYTHING = st.text(st.characters(), max_size=60)


@given(ANYTHING)
def test_plain_text_holds_nothing_that_moves_the_cursor(text: str) -> None:
    """Whatever is in it: no control code, no line end, nothing that turns the line round."""
    shown = plain(text)
    assert all(c.isprintable() for c in shown)
    shown.encode("utf-8")


@given(ANYTHING, st.integers(1, 40))
def test_a_cut_text_never_needs_more_cells_than_there_are(text: str, width: int) -> None:
    """Wide characters count two cells, combining marks none."""
    assert cell_len(cut(text, width)) <= width


@given(ANYTHING, st.integers(1, 40), st.booleans())
def test_a_fitted_text_fills_its_cells_exactly(text: str, width: int, right: bool) -> None:
    """Columns stay aligned whatever is in them."""
    assert cell_len(fit(text, width, right=right)) == width


@settings(max_examples=50)
@given(st.text("[]/\\abc =@$#{}()'\"", max_size=30))
def test_markup_stays_as_it_was_typed(text: str) -> None:
    """Brackets are text."""
    assert safe(text).plain == text
    assert safe(text).spans == []


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text_keeps_its_readable_characters(text: str) -> None:
    """Letters and digits are not lost with the codes around them."""
    letters = [c for c in text if c.isascii() and c.isalnum()]
    assert [c for c in plain(text) if c.isascii() and c.isalnum()] == letters


def test_control_codes_are_shown_as_dots() -> None:
    """One dot for each, so that a note with codes is seen to have them."""
    assert plain("a\x1b[31mb\nc\x7f") == "a·[31mb·c·"


def test_marks_piled_on_a_letter_are_thinned_out() -> None:
    """Three on one letter is more than any living script needs."""
    assert plain("e" + "\u0301" * 40 + "x") == "e" + "\u0301" * 3 + "x"


def test_a_wide_character_that_does_not_fit_is_left_out() -> None:
    """Half of one cannot be drawn."""
    assert cut("表示する", 6) == "表示…"
    assert fit("表示する", 6) == "表示… "


def test_lines_stay_lines() -> None:
    """Several sentences under each other stay so; each one is made safe by itself."""
    assert safe_lines("one\ntwo\x07").plain == "one\ntwo·"
