"""The parts that only a session needs: large letters, armed entry, board, stage line."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from textual.app import App, ComposeResult
from textual.events import Key, Paste

from tui.commands import bindings_for
from tui.widgets.big_text import big_lines, big_style, can_be_big
from tui.widgets.entry_line import EntryLine
from tui.widgets.stage_line import StageLine
from tui.widgets.time_board import Board, TimeBoard

_LETTERS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ.:-? "


@given(st.text(_LETTERS, min_size=1, max_size=8))
def test_large_letters_fill_a_rectangle(text: str) -> None:
    """In every style, so that nothing beside them moves."""
    for style, rows in (("half", 3), ("full", 5), ("ascii", 5)):
        lines = big_lines(text, style)  # type: ignore[arg-type]
        assert len(lines) == rows
        assert len({len(line) for line in lines}) == 1
    assert len(big_lines(text, "full")[0]) == 2 * len(big_lines(text, "half")[0])


def test_no_two_large_letters_are_alike() -> None:
    """O and 0, I and 1, S and 5 may be; they never stand in one place."""
    alike = {frozenset("O0"), frozenset("S5")}
    drawn: dict[tuple[str, ...], str] = {}
    for letter in _LETTERS:
        lines = big_lines(letter)
        if lines in drawn:
            assert frozenset(letter + drawn[lines]) in alike
        drawn[lines] = letter


@pytest.mark.parametrize(
    ("terminal", "tall", "style"),
    [
        ("xterm-256color", False, "half"),
        ("xterm-256color", True, "full"),
        ("linux", False, "half"),
        ("vt220", True, "ascii"),
        ("vt100-am", False, "ascii"),
    ],
)
def test_the_style_follows_terminal_and_room(terminal: str, tall: bool, style: str) -> None:
    """Blocks where there are any."""
    assert big_style(tall=tall, terminal=terminal) == style


def test_words_that_cannot_be_large() -> None:
    """Nothing, other scripts, signs."""
    assert not can_be_big("")
    assert not can_be_big("gate→")
    assert can_be_big("out")


class _Entry(App[None]):
    """An app with nothing but an entry."""

    BINDINGS = bindings_for("noting")

    def __init__(self) -> None:
        super().__init__()
        self.seconds = 0.0
        self.happened: list[str] = []
        self.entry = EntryLine(self._take, starters="x", clock=lambda: self.seconds)

    def compose(self) -> ComposeResult:
        """Yield it."""
        yield self.entry

    def _take(self, line: str) -> None:
        self.happened.append(line)
        self.entry.put(line if line.startswith("?") else "", waiting=True)

    def action_note(self) -> None:
        """Stand for a command of one key."""
        self.happened.append("note")


async def test_lines_and_commands_come_in_the_order_of_their_keys() -> None:
    """However quickly they are pressed: a burst is what a slow terminal makes of it."""
    app = _Entry()
    async with app.run_test() as pilot:
        for key in ("7", "enter", "n", "8", "enter", "x", "n", "enter", "N", "9"):
            app.seconds += 1
            app.entry.post_message(_key(key))
        await pilot.pause()
        await pilot.pause()
        assert app.happened == ["7", "note", "8", "xn", "note"]
        assert app.entry.value == "9"


def _key(key: str) -> Key:
    return Key(key, key if len(key) == 1 else ("\r" if key == "enter" else None))


@pytest.mark.parametrize(("gap", "taken"), [(0.1, 1), (0.49, 1), (0.5, 2), (2.0, 2)])
async def test_a_second_enter_within_half_a_second_is_a_bounce(gap: float, taken: int) -> None:
    """Unless another key came in between."""
    app = _Entry()
    async with app.run_test() as pilot:
        await pilot.press("7", "enter")
        app.seconds += gap
        await pilot.press("enter")
        assert len(app.happened) == taken
        await pilot.press("8", "enter")
        assert len(app.happened) == taken + 1


async def test_a_line_that_waits_is_replaced_by_the_next_and_stays_for_commands() -> None:
    """And can be mended with the arrows."""
    app = _Entry()
    async with app.run_test() as pilot:
        app.entry.put("?12", waiting=True)
        assert app.entry.is_free
        await pilot.press("n")
        assert (app.happened, app.entry.value) == (["note"], "?12")
        await pilot.press("7")
        assert app.entry.value == "7"
        app.entry.put("?12", waiting=True)
        await pilot.press("right", "backspace")
        assert app.entry.value == "?1"


async def test_a_question_takes_its_keys_only() -> None:
    """Others are answered with a word, and nothing is typed."""
    app = _Entry()
    said: list[str] = []
    async with app.run_test() as pilot:
        app.entry.ask(("y", "escape"), said.append)
        await pilot.press("7", "enter", "n", "Y")
        assert said == ["", "", "", "y"]
        assert not app.entry.is_asking
        assert app.entry.value == ""
        assert app.happened == []


async def test_pasted_lines_become_one_that_can_be_shown() -> None:
    """No control codes, no line ends."""
    app = _Entry()
    async with app.run_test() as pilot:
        app.entry.post_message(Paste("7\x1b[31m26\n8 b\r\n"))
        await pilot.pause()
        assert app.entry.value == "7·[31m26 8 b"


class _Shown(App[None]):
    """An app with a board and a stage line."""

    def compose(self) -> ComposeResult:
        """Yield them."""
        yield StageLine()
        yield TimeBoard()


@pytest.mark.parametrize("width", [20, 40, 60, 80, 120])
async def test_the_board_never_is_wider_than_its_room(width: int) -> None:
    """Whatever names directions have, and however long a time is."""
    app = _Shown()
    async with app.run_test(size=(width, 10)):
        board = app.query_one(TimeBoard)
        for direction in ("W", "back", "the far gate by the oak", "門"):
            for height in (1, 3, 5):
                board.styles.height = height
                board.show(
                    Board(
                        value="1234.567",
                        unit="km/h",
                        lines=("attempt 123  W  10:05", "“one two three”", "so far 1 to 2"),
                        coming="attempt 124",
                        direction=direction,
                        directions=("W", direction),
                        since="last 1:02:03 ago",
                    )
                )
                lines = board.render().plain.split("\n")
                assert all(len(line) <= width for line in lines)


async def test_the_next_way_is_in_words_where_it_cannot_be_large() -> None:
    """Names of one's own are not cut away."""
    app = _Shown()
    async with app.run_test(size=(80, 10)):
        board = app.query_one(TimeBoard)
        board.styles.height = 3
        board.show(Board(coming="attempt 1", direction="hedge-side", directions=("a", "b")))
        assert "next  hedge-side" in board.render().plain


@pytest.mark.parametrize("width", [20, 34, 40, 60, 80])
async def test_the_stage_line_keeps_the_names(width: int) -> None:
    """Notes go first, then blanks; the present stage keeps its sign."""
    app = _Shown()
    stages = [("Setup", "2 changes"), ("Checks", "43 open"), ("Attempts", "12"), ("Close-out", "")]
    async with app.run_test(size=(width, 10)):
        line = app.query_one(StageLine)
        line.show(stages, 1)
        shown = line.render().plain
        assert len(shown) <= width
        assert "▸Checks" in shown
        if width >= 40:
            assert all(name in shown for name, _ in stages)
