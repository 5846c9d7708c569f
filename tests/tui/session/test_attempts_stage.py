"""The attempts stage: an entry that is always armed, and everything that is saved by it."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.tui.seeing import lines
from tests.tui.session.strip import at_the_strip, new_session
from tui.screens.session.attempts_stage import AttemptsStage
from tui.widgets.entry_line import EntryLine
from tui.widgets.time_board import TimeBoard


async def test_digits_and_enter_are_one_attempt(season: Path) -> None:
    """Direction, number and clock come by themselves; the time is on disk when it is shown."""
    async with at_the_strip(season) as strip:
        await strip.enter("765")
        await strip.enter("731")
        first, second = strip.saved.attempts
        assert (first.value, first.direction, second.value, second.direction) == (
            7.65,
            "W",
            7.31,
            "E",
        )
        assert second.at == strip.clock()
        assert strip.said == "Attempt 2 E 7.31 s is saved."
        board = strip.screen.query_one(TimeBoard).board
        assert (board.value, board.coming, board.direction) == ("7.31", "attempt 3", "W")
        assert strip.entry == ""


async def test_the_board_counts_the_seconds_since_the_last_attempt(season: Path) -> None:
    """By the clock that was handed in, drawn by the tick of a second."""
    async with at_the_strip(season) as strip:
        await strip.enter("765")
        strip.clock.advance(seconds=187)
        strip.screen.stage.show()
        assert strip.screen.query_one(TimeBoard).board.since == "last 3:07 ago"


async def test_a_tag_a_doubt_and_a_warm_up_on_the_line(season: Path) -> None:
    """Typed behind the time, in any order."""
    async with at_the_strip(season) as strip:
        await strip.enter("765 b")
        await strip.enter("731 ?")
        await strip.enter("759 warm")
        tagged, unsure, warm = strip.saved.attempts
        assert tagged.tags == ("BOG",)
        assert unsure.unsure
        assert warm.kind == "warm-up"


@pytest.mark.parametrize("typed", ["x l", "X L", "xl", "x late", "x1 l"])
async def test_a_strike_is_two_letters_and_enter(season: Path, typed: str) -> None:
    """The struck time stays on the screen, hollow, with its reason."""
    async with at_the_strip(season, size=(120, 40)) as strip:
        await strip.enter("765")
        await strip.enter(typed, after=5)
        (attempt,) = strip.saved.attempts
        assert attempt.strike is not None
        assert (attempt.strike.code, attempt.strike.late) == ("LATE", True)
        assert "○" in strip.text
        assert "LATE" in strip.text
        assert "7.65" in strip.text


async def test_the_letters_of_strikes_are_shown_while_one_is_typed(season: Path) -> None:
    """With the attempt that it is about."""
    async with at_the_strip(season) as strip:
        await strip.enter("765")
        await strip.type_in("x")
        await strip.press()
        assert "Strike attempt 1 W 7.65 s" in strip.flat
        assert "l watch started or stopped late" in strip.flat
        await strip.press("enter")
        assert strip.entry == "x"
        assert strip.said == "Which reason? Type its letter, then enter."
        await strip.press("escape")
        assert strip.entry == ""
        assert strip.saved.attempts[0].strike is None


async def test_a_strike_on_the_line_itself_is_not_late(season: Path) -> None:
    """The code came with the time."""
    async with at_the_strip(season) as strip:
        await strip.enter("1310 x h")
        (attempt,) = strip.saved.attempts
        assert attempt.strike is not None
        assert (attempt.strike.code, attempt.strike.late) == ("CHAIN", False)


async def test_a_lost_chain_opens_the_chain_checks_and_bars_attempts(season: Path) -> None:
    """And c goes to the first of them."""
    async with at_the_strip(season) as strip:
        await strip.enter("1310 x h")
        await strip.enter("765")
        assert len(strip.saved.attempts) == 1
        assert "stop checks are open" in strip.flat
        assert strip.entry == "765"
        await strip.press("c")
        assert strip.screen.stage.NAME == "Checks"
        assert "chain" in strip.flat
        await strip.go_to("Attempts")
        assert strip.entry == "765"


async def test_a_tagged_attempt_is_struck_only_after_the_question(season: Path) -> None:
    """Would the other build have been let off for this?"""
    async with at_the_strip(season) as strip:
        await strip.enter("765 b")
        await strip.enter("x l", after=5)
        assert "Would the other build have been let off for this?" in strip.flat
        await strip.press("n")
        assert strip.saved.attempts[0].strike is None
        await strip.enter("x l", after=5)
        await strip.press("y")
        assert strip.saved.attempts[0].strike is not None


async def test_a_question_waits_for_one_of_its_keys(season: Path) -> None:
    """Nothing else is typed meanwhile, and esc takes nothing."""
    async with at_the_strip(season) as strip:
        await strip.enter("765")
        await strip.enter("72.6")
        assert "7.26 or 72.6?" in strip.flat
        await strip.press("9", "enter", "d")
        assert len(strip.saved.attempts) == 1
        assert strip.said == "▲ Nothing is taken yet. The question first: c, k, or esc."
        assert lines(strip.app)[-1].strip() == "c change to 7.26 s   k keep 72.60 s   esc back"
        await strip.press("escape")
        assert strip.said == "Nothing was taken."
        assert lines(strip.app)[-1].strip().startswith("x Strike")
        assert strip.entry == "72.6"
        await strip.press("enter", "c")
        assert strip.saved.attempts[-1].value == 7.26


async def test_what_was_refused_or_left_gives_way_to_the_next_line(season: Path) -> None:
    """Its words go with it; none of it gets into the line that is typed instead."""
    async with at_the_strip(season) as strip:
        await strip.enter("765")
        await strip.enter("9:99")
        assert strip.said.startswith("▲")
        await strip.type_in("7")
        await strip.press()
        assert (strip.entry, strip.said) == ("7", "")
        await strip.press("backspace")
        await strip.enter("72.6")
        await strip.press("escape")
        await strip.enter("731")
        assert [a.value for a in strip.saved.attempts] == [7.65, 7.31]
        assert strip.said == "Attempt 2 E 7.31 s is saved."
        await strip.enter("x")
        assert strip.said == "Which reason? Type its letter, then enter."
        await strip.press("escape")
        assert strip.said == ""


async def test_a_part_that_is_swapped_is_found_by_its_own_name(season: Path) -> None:
    """Without knowing what the tool calls the place it goes to."""
    async with at_the_strip(season) as strip:
        await strip.enter("765")
        await strip.press("s")
        await strip.type_in("66")
        await strip.press("enter")
        reading = strip.saved.sheets[-1].readings["final_sprocket"]
        assert (len(strip.saved.sheets), reading.text) == (2, "66T")
        assert strip.screen.stage.NAME == "Checks"


async def test_digits_without_a_clear_point_are_asked_about(season: Path) -> None:
    """With one digit for each reading."""
    async with at_the_strip(season) as strip:
        await strip.enter("765")
        await strip.enter("78 b")
        assert "7.80" in strip.text
        await strip.press("1")
        last = strip.saved.attempts[-1]
        assert (last.value, last.tags) == (7.8, ("BOG",))


async def test_undo_says_what_it_takes_back_before_it_does(season: Path) -> None:
    """As often as there is something to take back."""
    async with at_the_strip(season) as strip:
        await strip.enter("765")
        await strip.enter("731")
        await strip.press("u")
        assert "Take back: attempt 2 E 7.31 s?" in strip.flat
        await strip.press("enter")
        assert [a.value for a in strip.saved.attempts] == [7.65]
        await strip.press("u", "u")
        assert strip.saved.attempts == ()
        assert [line.action for line in strip.saved.trail[-2:]] == ["undo", "undo"]


async def test_one_key_commands(season: Path) -> None:
    """Turn round, warm-up and broken off; each is saved at once."""
    async with at_the_strip(season) as strip:
        await strip.press("d")
        assert strip.saved.next_direction == "E"
        assert strip.said == "Next: E."
        await strip.press("w")
        assert strip.saved.next_kind == "warm-up"
        await strip.enter("765")
        await strip.press("w", "b")
        warm, broken = strip.saved.attempts
        assert (warm.kind, warm.direction, broken.kind) == ("warm-up", "E", "aborted")


async def test_capital_letters_and_blanks_do_no_harm(season: Path) -> None:
    """Caps lock is on with gloves; a stopwatch that was started unawares is dropped."""
    async with at_the_strip(season) as strip:
        strip.screen.query_one(AttemptsStage).watch_clock = lambda: 100.0
        await strip.press("space", "space", "escape", "D")
        assert strip.saved.next_direction == "E"
        assert strip.entry == ""


async def test_a_point_reads_the_last_attempt_back(season: Path) -> None:
    """In words for the helper."""
    async with at_the_strip(season) as strip:
        await strip.enter("706")
        await strip.press("full_stop")
        assert strip.said == "Read back attempt 1: “seven zero six, west”."


async def test_up_marks_an_earlier_attempt_for_tags_and_strikes(season: Path) -> None:
    """And the next attempt marks the last one again."""
    async with at_the_strip(season) as strip:
        for value in ("765", "731", "759"):
            await strip.enter(value)
        await strip.press("up", "up")
        await strip.enter("t f", after=2)
        await strip.enter("772")
        await strip.enter("t h", after=2)
        assert [a.tags for a in strip.saved.attempts] == [("FADE",), (), (), ("HOT",)]


async def test_a_refused_line_stays_and_the_next_one_replaces_it(season: Path) -> None:
    """One plain line says why; nothing is lost and nothing has to be deleted."""
    async with at_the_strip(season) as strip:
        await strip.enter("7x")
        assert strip.said.startswith("▲ ")
        assert strip.entry == "7x"
        await strip.enter("765")
        assert [a.value for a in strip.saved.attempts] == [7.65]


async def test_the_same_time_at_once_is_asked_about(season: Path) -> None:
    """Within two seconds; later it is simply the same time again."""
    async with at_the_strip(season) as strip:
        await strip.enter("765")
        await strip.enter("765", after=1)
        assert len(strip.saved.attempts) == 1
        await strip.press("n")
        assert len(strip.saved.attempts) == 1
        await strip.enter("765", after=1)
        assert "right after attempt 1" not in strip.flat
        assert len(strip.saved.attempts) == 2


async def test_air_is_asked_for_and_grows_old(season: Path) -> None:
    """The banner never blocks an attempt."""
    async with at_the_strip(season) as strip:
        assert "Air not read yet." in strip.text
        await strip.press("a")
        await strip.type_in("18C 1012hPa 55% 0.5m/s W gust 2")
        await strip.press("enter")
        (air,) = strip.saved.air
        assert (air.temperature, air.pressure, air.wind) == (18.0, 1012.0, 0.5)
        assert "Air 18 °C" in strip.text
        await strip.enter("765", after=46 * 60)
        assert "Air was read 46 min ago: read it again." in strip.text
        assert len(strip.saved.attempts) == 1


async def test_a_pressure_that_may_be_reduced_is_asked_about(season: Path) -> None:
    """1.5 % off what the elevation gives; typing it again keeps what was typed."""
    async with at_the_strip(season) as strip:
        await strip.press("a")
        await strip.type_in("18C 955hPa")
        await strip.press("enter")
        assert "read here, or reduced to sea level?" in strip.flat
        await strip.press("t")
        assert "18C 955hPa" in strip.text
        assert not strip.saved.air
        await strip.press("enter", "h")
        assert [air.pressure for air in strip.saved.air] == [955.0]


async def test_air_read_earlier_keeps_its_own_time(season: Path) -> None:
    """Observation and entry are two times."""
    async with at_the_strip(season) as strip:
        await strip.press("a")
        await strip.type_in("18C 1012hPa at 9:40")
        await strip.press("enter")
        (air,) = strip.saved.air
        assert f"{air.observed:%H:%M}" == "09:40"
        assert air.entered == strip.clock()


async def test_a_look_is_asked_for_every_three_attempts(season: Path) -> None:
    """And gone with the next one."""
    async with at_the_strip(season) as strip:
        for value in ("765", "731", "759"):
            await strip.enter(value)
        assert "3 attempts: look at" in strip.text
        await strip.enter("735")
        assert "attempts: look at" not in strip.text


async def test_an_odd_attempt_is_questioned_and_may_be_left(season: Path) -> None:
    """A question, never a deletion; the answer is kept with the attempt."""
    async with at_the_strip(season) as strip:
        for value in ("765", "731", "759", "735", "850"):
            await strip.enter(value)
        assert "Attempt 5 W 8.50 s stands apart" in strip.flat
        await strip.press("o", "l")
        attempt = strip.saved.attempts[-1]
        assert attempt.note == "stands apart, no reason known"
        assert attempt.strike is None
        assert "What happened?" not in strip.flat


@pytest.mark.parametrize(("key", "letter"), [("t", "b"), ("x", "l")])
async def test_an_odd_attempt_is_tagged_or_struck(season: Path, key: str, letter: str) -> None:
    """The line begins by itself with its number, whatever was entered since."""
    async with at_the_strip(season) as strip:
        for value in ("765", "731", "759", "735", "850", "733"):
            await strip.enter(value)
        await strip.press("o", key)
        assert strip.entry == f"{key}5 "
        await strip.type_in(letter)
        await strip.press("enter")
        attempt = strip.saved.attempts[-2]
        assert attempt.n == 5
        assert (attempt.tags == ("BOG",)) == (key == "t")
        assert (attempt.strike is not None) == (key == "x")


async def test_the_baseline_stands_beside(season: Path) -> None:
    """The natural partner, with its mean and what was changed."""
    async with at_the_strip(season, size=(120, 40)) as strip:
        await strip.enter("765")
        assert "7.66 ±" in strip.text
        assert "changed against S10: nothing" in strip.flat


async def test_a_swap_starts_a_sheet_and_its_checks_come_first(season: Path) -> None:
    """And the way back to A is offered by itself."""
    async with at_the_strip(season) as strip:
        for value in ("765", "731"):
            await strip.enter(value)
        await strip.press("s")
        await strip.type_in("final spr")
        await strip.press("enter")
        await strip.type_in("66T")
        await strip.press("enter")
        assert len(strip.saved.sheets) == 2
        assert strip.screen.stage.NAME == "Checks"
        assert strip.said.startswith("Build B from here: final sprocket 66T.")
        await strip.go_to("Attempts")
        await strip.enter("702")
        assert len(strip.saved.attempts) == 2
        await strip.press("s")
        assert "back to A" in strip.text
        assert "final sprocket: 66T -> 63T" in strip.text


async def test_going_back_to_a_brings_its_parts_back(season: Path) -> None:
    """Shelf and sheet both."""
    session_id = new_session(season)
    async with at_the_strip(season, session_id) as strip:
        for value in ("765", "731"):
            await strip.enter(value)
        for way in ("final spr", "back"):
            await strip.press("s")
            await strip.type_in(way)
            await strip.press("enter")
            if way != "back":
                await strip.type_in("66T")
                await strip.press("enter")
            await strip.go_to("Attempts")
            await strip.clear_checks()
            await strip.enter("702")
        sheets = strip.saved.sheets
        parts = [sheet.readings["final_sprocket"].text for sheet in sheets]
        teeth = [sheet.readings["final_sprocket_teeth"].value for sheet in sheets]
        assert (parts, teeth) == (["63T", "66T", "63T"], [63.0, 66.0, 63.0])
        shelf = {head.name: head.status for head in strip.app.book.parts()}
        assert (shelf["63T"], shelf["66T"]) == ("fitted", "here")


async def test_attempts_under_the_wrong_build_are_moved(season: Path) -> None:
    """The swap was forgotten: from one attempt on they go to the other sheet."""
    async with at_the_strip(season) as strip:
        for value in ("765", "731"):
            await strip.enter(value)
        await strip.press("m")
        assert "There is only one setup sheet" in strip.flat
        await strip.press("escape", "s")
        await strip.type_in("final spr")
        await strip.press("enter")
        await strip.type_in("66T")
        await strip.press("enter")
        await strip.go_to("Attempts")
        await strip.press("up", "m", "2")
        assert [a.sheet for a in strip.saved.attempts] == [1, 1]
        assert strip.saved.trail[-1].action == "move"


async def test_direction_kind_doubt_and_second_timer_are_put_right(season: Path) -> None:
    """The time itself stays as it was typed."""
    async with at_the_strip(season) as strip:
        await strip.enter("765")
        for keys in (("d",), ("q",), ("w",)):
            await strip.press("p", *keys)
        await strip.press("p", "y")
        await strip.type_in("771")
        await strip.press("enter", "p", "n")
        await strip.type_in("soft launch")
        await strip.press("enter")
        (attempt,) = strip.saved.attempts
        assert (attempt.direction, attempt.unsure, attempt.kind) == ("E", True, "warm-up")
        assert (attempt.second, attempt.note, attempt.value) == (7.71, "soft launch", 7.65)


async def test_a_break_of_half_an_hour_offers_its_checks_again(season: Path) -> None:
    """By a banner and one key; the attempt that was made is not kept out by it."""
    async with at_the_strip(season) as strip:
        await strip.enter("765")
        strip.clock.advance(minutes=31)
        strip.screen.refresh_stages()
        await strip.press("d")
        assert "Over 30 min since the last attempt" in strip.text
        await strip.press("e", "b", "enter")
        assert not strip.screen.desk.stops, "no is the answer that enter gives"
        await strip.press("e", "b", "y")
        assert strip.screen.stage.NAME == "Checks"
        assert "A break of more than 30 minutes: its 12 checks are due again." in strip.said
        assert "There was a break of more than 30 minutes: strip, people" in strip.flat


async def test_a_second_enter_at_once_is_swallowed(season: Path) -> None:
    """Also where a question has come up in between."""
    async with at_the_strip(season) as strip:
        strip.screen.stage.query_one(EntryLine).clock = lambda: 100.0
        await strip.type_in("765")
        await strip.press("enter", "enter")
        assert len(strip.saved.attempts) == 1
        assert strip.said == "Attempt 1 W 7.65 s is saved."


async def test_three_same_digits_are_a_real_time(season: Path) -> None:
    """Digits are never taken for bounces."""
    async with at_the_strip(season) as strip:
        await strip.enter("777")
        assert strip.saved.attempts[0].value == 7.77


async def test_help_shows_the_keys_of_the_stage(season: Path) -> None:
    """On ? while nothing is typed."""
    async with at_the_strip(season) as strip:
        await strip.press("question_mark")
        assert "Strike" in strip.text
        assert "Put right" in strip.text
