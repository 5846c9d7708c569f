"""Pictures as text: every line fits, every sign stands where its value is."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rich.cells import cell_len

from core.report.pictures import Bar, Picture, PictureRow
from core.report.scale import Scale
from tests.tui.compare.models import difference_pictures, dot, one_row, pictures
from tui.widgets.picture import picture_lines
from tui.widgets.picture_drawing import draw
from tui.widgets.picture_plot import plot_of
from tui.widgets.picture_signs import ASCII_SIGNS, USUAL_SIGNS

ANY = st.one_of(pictures(), difference_pictures())
AXIS_FEWEST = 16


def texts(picture: Picture, width: int, *, ascii_only: bool = False) -> list[str]:
    """The lines of a picture."""
    lines = draw(picture, width, ascii_only=ascii_only)
    return ["".join(text for text, _ in line) for line in lines]


def scale_of(picture: Picture, cells: int) -> Scale:
    """The scale that a picture is drawn on, as wide as its first and last cell."""
    plot = plot_of(picture, cells, USUAL_SIGNS)
    assert plot is not None
    return plot.scale


@given(picture=ANY, width=st.integers(1, 200), height=st.one_of(st.none(), st.integers(1, 20)))
@settings(max_examples=200, deadline=None)
def test_every_line_fits_whatever_room_there_is(
    picture: Picture, width: int, height: int | None
) -> None:
    """In cells, and in number; nothing that a terminal could take for a code is in it."""
    for ascii_only in (False, True):
        lines = draw(picture, width, ascii_only=ascii_only, height=height)
        assert lines
        assert height is None or len(lines) <= height
        for line in lines:
            text = "".join(part for part, _ in line)
            assert cell_len(text) <= width
            assert text.isprintable()


@given(picture=difference_pictures(), width=st.integers(20, 120))
@settings(max_examples=50, deadline=None)
def test_the_plain_form_is_plain(picture: Picture, width: int) -> None:
    """Nothing but ASCII where the words themselves are."""
    assert all(text.isascii() for text in texts(picture, width, ascii_only=True))


def test_both_forms_are_different_signs_of_one_cell() -> None:
    """Within one form no two signs of dots are the same, and each is one cell wide."""
    for signs in (USUAL_SIGNS, ASCII_SIGNS):
        dots = [signs.struck, signs.odd, signs.both, *signs.shapes]
        assert len(set(dots)) == len(dots)
        for sign in (*dots, *signs.main_bar, *signs.beside_bar, signs.zero, signs.band, signs.grid):
            assert cell_len(sign) == 1


@given(
    values=st.lists(st.floats(5.0, 99.0), min_size=1, max_size=12),
    width=st.integers(AXIS_FEWEST, 200),
)
@settings(max_examples=100, deadline=None)
def test_each_dot_stands_within_half_a_cell_of_its_value(values: list[float], width: int) -> None:
    """Read back from the drawn line, with the scale of its ends."""
    picture = one_row(*(dot(value, n=n) for n, value in enumerate(values, 1)))
    scale = scale_of(picture, width)
    row = texts(picture, width)[0]
    assert len(row) == width
    found = [column for column, sign in enumerate(row) if sign not in " ·"]
    for column in found:
        middle = scale.low + column * scale.step
        assert min(abs(middle - value) for value in values) <= scale.step * 0.5 * (1 + 1e-6)
    for value in values:
        assert min(abs(scale.low + c * scale.step - value) for c in found) <= scale.step * 0.50001
    counted = sum(1 if row[c] == "●" else 10 if row[c] == "+" else int(row[c]) for c in found)
    assert counted == len(values) or "+" in row


@given(values=st.lists(st.floats(6.0, 9.0), min_size=2, max_size=8), width=st.integers(20, 160))
@settings(max_examples=60, deadline=None)
def test_a_higher_value_is_never_further_left(values: list[float], width: int) -> None:
    """One row for each value, lowest first: the columns never go backwards."""
    rows = tuple(PictureRow("", "way", dots=(dot(value),)) for value in sorted(values))
    columns = [line.index("●") for line in texts(Picture(rows, "s", 2), width)[: len(rows)]]
    assert columns == sorted(columns)


@given(
    middle=st.floats(-1.0, 1.0),
    half=st.floats(0.0, 1.5),
    gain=st.floats(0.01, 1.0),
    width=st.integers(60, 160),
)
@settings(max_examples=100, deadline=None)
def test_a_bar_that_crosses_zero_is_seen_to(
    middle: float, half: float, gain: float, width: int
) -> None:
    """Ends and zero line stand in the order of their values."""
    bar = Bar(middle, middle - half, middle + half)
    row = PictureRow("", "main", bar=bar)
    picture = Picture((row,), "s", 2, is_difference=True, gain=gain, ends=("quicker", "slower"))
    head, line, *_ = texts(picture, width)
    zero = head.index("│")
    step = scale_of(picture, width).step
    for end, value in ((line.find("┣"), middle - half), (line.find("┫"), middle + half)):
        if end >= 0 and abs(value) > step:
            assert (end > zero) == (value > 0)
    assert line[zero] in "│╋┣┫"


def test_the_axis_has_round_ticks_and_its_unit() -> None:
    """Labels under their ticks."""
    rows = (PictureRow("W", "way", dots=(dot(7.0), dot(8.0)), said="7.50"),)
    row, rule, labels, *_ = texts(Picture(rows, "s", 2), 60)
    for label in ("7.0", "7.4", "8.0"):
        if label in labels:
            assert rule[labels.index(label) + 1] == "┴"
    assert labels.count(".") >= 3
    assert labels.rstrip().endswith(" s")
    assert "●" in row


def test_the_same_value_twice_shows_a_count() -> None:
    """Two as 2, eleven as +."""
    assert "2" in texts(one_row(dot(7.26), dot(7.26)), 40)[0]
    assert "+" in texts(one_row(*(dot(7.26) for _ in range(11))), 40)[0]


@pytest.mark.parametrize("width", [40, 80, 200])
def test_one_value_and_no_spread_are_drawn(width: int) -> None:
    """A single time, equal times, and a mean without a range."""
    for picture in (
        one_row(dot(7.26)),
        one_row(dot(7.2), dot(7.2), dot(7.2), bar=Bar(7.2, 7.2, 7.2)),
        one_row(dot(7.2), bar=Bar(7.2, None, None)),
    ):
        shown = "\n".join(texts(picture, width))
        assert "7.2" in shown
        assert "nan" not in shown


def test_nothing_yet_and_words_only_are_said() -> None:
    """No empty axis."""
    assert texts(Picture((), "s", 2), 60) == ["No timed attempts yet."]
    assert texts(Picture((), "", 0), 60) == ["This test gives words, no numbers."]


def test_a_struck_attempt_is_hollow_and_explained() -> None:
    """Also when all are."""
    shown = texts(one_row(dot(7.2), dot(7.6, "struck")), 60)
    assert shown[0].count("○") == 1
    assert "○ struck" in shown[-1]
    assert texts(one_row(dot(7.2, "struck"), dot(7.6, "struck")), 60)[0].count("○") == 2


def test_a_struck_attempt_on_top_of_one_that_counts_is_not_lost() -> None:
    """Both are seen in one sign."""
    shown = texts(one_row(dot(7.2), dot(7.2, "struck"), dot(7.6)), 60)
    assert shown[0].count("◉") == 1
    assert "◉ struck beside one that counts" in shown[-1]


def test_a_struck_attempt_far_out_squeezes_nothing() -> None:
    """The chain came off: 13.10 is pointed to, and told."""
    shown = texts(one_row(dot(9.3), dot(9.7), dot(13.1, "struck")), 60)
    assert shown[0].rstrip().endswith("›")
    assert "› 13.10 struck, off the scale" in shown[-1]
    without = texts(one_row(dot(9.3), dot(9.7)), 60)
    apart = shown[0].rindex("●") - shown[0].index("●")
    assert apart >= (without[0].rindex("●") - without[0].index("●")) * 0.9


def test_an_odd_attempt_has_a_sign_of_its_own() -> None:
    """It wins over all others on its cell."""
    shown = texts(one_row(dot(7.2), dot(7.98, "odd"), dot(7.98), dot(7.98, "struck")), 60)
    assert shown[0].count("◆") == 1
    assert "◆ stands apart" in shown[-1]


def test_little_height_joins_directions_then_leaves_bars() -> None:
    """Every block stays to be seen as long as there is a line for it."""
    rows = []
    for block in ("A1", "B", "A2"):
        for way, value in (("W", 7.5), ("E", 7.1)):
            label = f"{block} {way}"
            rows.append(PictureRow(label, "way", "×1", (dot(value),), said="7.5", block=block))
        rows.append(PictureRow(block, "main", "1 pair", (), Bar(7.3, 7.1, 7.5), "7.30", block))
    picture = Picture(tuple(rows), "s", 2)
    heights = {height: draw(picture, 80, height=height) for height in (12, 8, 5, 2)}
    counts = {
        height: sum("╋" in "".join(t for t, _ in line) for line in lines)
        for height, lines in heights.items()
    }
    assert counts == {12: 3, 8: 3, 5: 3, 2: 1}
    joined = "".join(text for line in heights[8] for text, _ in line)
    assert "■" in joined
    assert "●W ■E" in joined


def test_the_lines_become_content_with_the_tones_of_the_theme() -> None:
    """The text is the same."""
    picture = one_row(dot(7.2), dot(7.6, "odd"))
    contents = picture_lines(picture, 60)
    assert [content.plain for content in contents] == texts(picture, 60)
    assert any("warning" in str(span.style) for content in contents for span in content.spans)
