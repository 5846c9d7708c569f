"""Blocks laid out as lines, and the one widget that shows them."""

from __future__ import annotations

import string

from hypothesis import example, given, settings
from hypothesis import strategies as st
from textual.app import App, ComposeResult

from core.report.document import Block, Bullets, Column, Facts, Heading, Paragraph, Table
from core.report.pictures import Picture
from tests.tui.compare.models import dot, one_row
from tests.tui.driving import settle
from tests.tui.seeing import lines
from tui.themes import THEMES
from tui.widgets.page import Page, PageView
from tui.widgets.page_layout import beside, cropped, flowed, line_width, lines_of, text_lines
from tui.widgets.picture import PictureView
from tui.widgets.picture_plot import Line
from tui.widgets.tones import TONES

WORDS = st.text(string.ascii_letters + " " * 6 + "é火\x1b\n", max_size=60)


@st.composite
def tables(draw: st.DrawFn) -> Table:
    """A table of one to four columns, one of which gives way."""
    count = draw(st.integers(1, 4))
    cells = st.tuples(*(WORDS for _ in range(count)))
    columns = tuple(Column(draw(WORDS), right=i == 1, flexible=True) for i in range(count))
    return Table(columns, tuple(draw(st.lists(cells, max_size=4))), wraps=draw(st.booleans()))


BLOCKS: st.SearchStrategy[list[Block]] = st.lists(
    st.one_of(
        WORDS.map(Heading),
        WORDS.map(Paragraph),
        st.lists(WORDS, max_size=3).map(lambda items: Bullets(tuple(items))),
        st.lists(st.tuples(WORDS, WORDS), max_size=3).map(lambda rows: Facts(tuple(rows))),
        tables(),
    ),
    max_size=6,
)


def plain(line: Line) -> str:
    """A line as text."""
    return "".join(text for text, _ in line)


NARROW = Table(
    tuple(Column(title, flexible=True) for title in ("AAA", "", "AAAAA")), (("", "AAAAAA", ""),)
)


@given(blocks=BLOCKS, width=st.integers(36, 200), columns=st.integers(1, 3))
@example(blocks=[NARROW], width=36, columns=3)
@example(blocks=[Heading(""), Heading(""), NARROW], width=36, columns=2)
@settings(max_examples=60, deadline=None)
def test_every_line_fits_and_has_a_tone_of_the_table(
    blocks: list[Block], width: int, columns: int
) -> None:
    """In one column, and side by side."""
    for line in (*lines_of(blocks, width), *flowed(blocks, width, columns)):
        assert line_width(line) <= width
        for text, tone in line:
            assert text.isprintable()
            assert tone in TONES


@given(blocks=BLOCKS, width=st.integers(80, 200))
@settings(max_examples=60, deadline=None)
def test_nothing_is_lost_when_it_wraps(blocks: list[Block], width: int) -> None:
    """Every letter of headings, paragraphs and lists is there, in one column and in two."""
    kept = [b for b in blocks if isinstance(b, (Heading, Paragraph, Bullets))]
    told = [i for b in kept for i in (b.items if isinstance(b, Bullets) else (b.text,))]
    wanted = sorted(c for text in told for c in text if c.isalpha())
    for laid in (lines_of(kept, width), flowed(kept, width, 2)):
        assert sorted(c for line in laid for c in plain(line) if c.isalpha()) == wanted


def test_tables_with_the_same_columns_are_equally_wide() -> None:
    """Also where headings stand between them."""
    columns = (Column(""), Column("", flexible=True))
    one, other = Table(columns, (("a", "short"),)), Table(columns, (("a long name", "x"),))
    laid = [plain(line) for line in lines_of([one, Heading("between"), other], 60)]
    assert laid[0].index("short") == laid[-1].index("x") == len("a long name") + 2


def test_a_mark_gives_its_row_its_tone() -> None:
    """Hollow rows are quiet, odd ones warn."""
    table = Table((Column(""), Column("")), (("●", "a"), ("○", "b"), ("◆", "c"), ("×", "d")))
    tones = [line[0][1] for line in lines_of([table], 40)]
    assert tones == ["plain", "quiet", "warn", "bad"]


def test_two_stacks_stand_side_by_side() -> None:
    """The right one starts in one column; what is too wide on the left is cut."""
    left: list[Line] = [(("a" * 30, "plain"),), (("b", "strong"),)]
    joined = beside(left, text_lines("x y z", 3), 10, 2)
    assert [plain(line) for line in joined] == ["aaaaaaaaa…  x y", "b           z"]
    assert cropped((("abc", "plain"), ("def", "warn")), 4) == (("abc", "plain"), ("…", "warn"))


SECTIONS = ("one", "two", "three")


def numbered(width: int, height: int) -> Page:
    """A page of three sections of ten lines each; narrow ones take twice as many."""
    times = 2 if width < 40 else 1
    made: list[Line] = []
    anchors = []
    for name in SECTIONS:
        anchors.append((name, len(made)))
        made += [((f"{name} {i}", "plain"),) for i in range(10 * times)]
    return Page(tuple(made), tuple(anchors))


def top(app: App[None]) -> str:
    """The line at the top, without the scrollbar."""
    return lines(app)[0].rstrip("▁▂▃▄▅▆▇█ ").strip()


class Showing(App[None]):
    """One page and nothing else."""

    def __init__(self) -> None:
        super().__init__()
        self.came: list[str] = []
        for theme in THEMES:
            self.register_theme(theme)
        self.theme = "sun"

    def compose(self) -> ComposeResult:
        """Yield the page."""
        yield PageView(self.came.append)

    def on_mount(self) -> None:
        """Show it."""
        page = self.query_one(PageView)
        page.show(numbered)
        page.focus()


async def test_a_page_scrolls_by_line_screen_and_section() -> None:
    """And never beyond its ends."""
    app = Showing()
    async with app.run_test(size=(60, 8)) as pilot:
        page = app.query_one(PageView)

        async def top_after(*keys: str) -> str:
            await pilot.press(*keys)
            await settle(pilot)
            return top(app)

        assert await top_after("up") == "one 0"
        assert await top_after("down", "j") == "one 2"
        assert await top_after("pagedown") == "one 9"
        assert await top_after("down") == "two 0"
        assert await top_after("pageup", "k") == "one 2"
        assert await top_after("end") == "three 2"
        assert await top_after("home") == "one 0"
        page.go_to("two")
        assert await top_after() == "two 0"
        assert page.section == "two"
        assert app.came == ["one", "two", "one", "three", "one", "two"]


async def test_the_line_that_was_read_stays_when_the_room_changes() -> None:
    """Section and line, although the page has twice as many lines now."""
    app = Showing()
    async with app.run_test(size=(60, 8)) as pilot:
        page = app.query_one(PageView)
        page.go_to("two")
        await pilot.press("down", "down")
        for size in ((30, 8), (60, 8), (30, 20), (60, 6)):
            await pilot.resize_terminal(*size)
            await settle(pilot)
            assert top(app) == "two 2"
        page.show(numbered)
        await settle(pilot)
        assert top(app) == "two 2"


async def test_a_page_that_is_empty_or_gone_to_wrongly_is_no_fault() -> None:
    """Nothing happens."""
    app = Showing()
    async with app.run_test(size=(60, 8)) as pilot:
        page = app.query_one(PageView)
        page.go_to("nowhere")
        page.show(lambda width, height: Page(()))
        await pilot.press("down", "end", "pageup")
        await settle(pilot)
        assert "".join(lines(app)).strip() == ""


class Drawing(App[None]):
    """One picture and nothing else."""

    def compose(self) -> ComposeResult:
        """Yield the widget."""
        yield PictureView(id="picture")


async def test_a_picture_is_drawn_anew_only_when_it_changes() -> None:
    """The same picture again costs nothing; another one shows at once and takes its height."""
    app = Drawing()
    async with app.run_test(size=(60, 12)) as pilot:
        view = app.query_one(PictureView)
        drawn: list[Picture | None] = []
        render = view.render

        def watched() -> object:
            drawn.append(view.picture)
            return render()

        view.render = watched  # type: ignore[method-assign, assignment]
        first = one_row(dot(7.2), dot(7.5))
        view.show(first)
        await settle(pilot)
        assert "●" in "".join(lines(app))
        assert view.size.height == 3
        before = len(drawn)
        view.show(one_row(dot(7.2), dot(7.5)))
        await settle(pilot)
        assert len(drawn) == before
        view.show(one_row(dot(7.2), dot(7.5, "odd")))
        await settle(pilot)
        assert len(drawn) > before
        assert view.size.height == 4
        view.show(None)
        await settle(pilot)
        assert "".join(lines(app)).strip() == ""


async def test_a_picture_in_a_fixed_room_fits_it() -> None:
    """What matters least is left out."""
    app = Drawing()
    async with app.run_test(size=(60, 12)) as pilot:
        view = app.query_one(PictureView)
        view.styles.height = 2
        view.show(one_row(dot(7.2), dot(7.5, "odd")))
        await settle(pilot)
        shown = [line for line in lines(app) if line]
        assert len(shown) == 2
        assert "◆" in shown[0]
        assert "7.3" in shown[1]
