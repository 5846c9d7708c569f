"""The close-out: a verdict, four lines, and the end; and everything that is open in all stages."""

from __future__ import annotations

from pathlib import Path

import msgspec

from tests.tui.session.strip import MORNING, Strip, at_the_strip, new_session, on_disk


async def _eight(strip: Strip) -> None:
    for value in ("765", "731", "759", "735", "762", "733", "758", "729"):
        await strip.enter(value)


async def test_close_out_in_a_few_keys(season: Path) -> None:
    """Learnt, decision, because, next; then back to the list."""
    async with at_the_strip(season) as strip:
        await _eight(strip)
        await strip.go_to("Close-out")
        assert "S11 against S10" in strip.text
        assert "8 attempts, mean 7.47 s" in strip.flat
        await strip.press("enter")
        await strip.type_in("63T costs nothing here")
        await strip.press("enter", "1", "enter")
        await strip.type_in("no difference")
        await strip.press("enter", "enter")
        await strip.type_in("other strip")
        await strip.press("enter")
        made = strip.saved.close_out
        assert made is not None
        assert (made.learnt, made.decision) == ("63T costs nothing here", "keep")
        assert (made.because, made.next) == ("no difference", "other strip")
        assert made.compared_with
        await strip.press("f")
        assert "● closed" in strip.text
        assert strip.saved.close_out == msgspec.structs.replace(made, at=strip.clock())


async def test_the_verdict_comes_with_and_without_strikes(season: Path) -> None:
    """Both results are kept."""
    async with at_the_strip(season, size=(120, 40)) as strip:
        await _eight(strip)
        await strip.enter("1310 x l")
        await strip.go_to("Close-out")
        assert "1 struck and left out" in strip.flat
        assert "With the 1 struck: mean" in strip.flat
        assert "With the struck attempts counted:" in strip.flat


async def test_a_swap_is_judged_within_the_session_too(season: Path) -> None:
    """Both comparisons, each with its name."""
    async with at_the_strip(season, size=(120, 50)) as strip:
        for value in ("765", "731", "759", "735"):
            await strip.enter(value)
        await strip.press("s")
        await strip.type_in("final spr")
        await strip.press("enter")
        await strip.type_in("66T")
        await strip.press("enter")
        await strip.clear_checks()
        await strip.go_to("Attempts")
        for value in ("702", "668", "705"):
            await strip.enter(value)
        await strip.clear_checks()
        await strip.enter("671")
        await strip.go_to("Close-out")
        assert "S11:B against S11:A" in strip.text
        assert "quicker than S11:A" in strip.flat


async def test_everything_struck_says_so(season: Path) -> None:
    """Nothing to compare, and no sum of nothing."""
    async with at_the_strip(season) as strip:
        await strip.enter("765 x l")
        await strip.go_to("Close-out")
        assert "All attempts are struck: nothing to compare." in strip.flat
        assert "nan" not in strip.text.lower()


async def test_closing_without_words_is_asked_about(season: Path) -> None:
    """One key goes back to writing."""
    async with at_the_strip(season, stage="Close-out") as strip:
        await strip.press("f")
        assert "without learnt and decision?" in strip.flat
        await strip.press("n")
        assert strip.saved.closed is None
        await strip.press("f", "y")
        assert strip.saved.state == "closed"


async def test_a_stopped_session_is_opened_again_with_a_note(season: Path) -> None:
    """Only with one."""
    async with at_the_strip(season) as strip:
        await strip.press("h", "enter")
        assert strip.saved.stopped_because == "accident"
        await strip.go_to("Close-out")
        await strip.press("o", "enter")
        assert "Say why it is opened again." in strip.flat
        await strip.type_in("all are well, one more look")
        await strip.press("enter")
        assert strip.saved.state == "open"
        assert strip.saved.notes[-1] == "opened again: all are well, one more look"


async def test_stop_and_help_shows_the_plan_and_no_numbers(season: Path) -> None:
    """One key sets the time mark; esc goes back without one."""
    async with at_the_strip(season) as strip:
        await strip.enter("765")
        await strip.press("h")
        assert "STOP AND HELP" in strip.text
        assert "Emergency number: told" in strip.text
        assert "7.65" not in strip.text
        await strip.press("escape")
        assert strip.saved.state == "open"
        await strip.press("h", "enter")
        assert strip.saved.notes[-1] == f"accident at {strip.clock():%H:%M:%S}"
        assert strip.saved.stopped_because == "accident"


async def test_ending_early_asks_for_the_reason(season: Path) -> None:
    """Without guilt, and with what was done kept."""
    async with at_the_strip(season) as strip:
        await strip.enter("765")
        await strip.press("z", "enter")
        assert "Say why it was stopped" in strip.flat
        await strip.type_in("rain")
        await strip.press("enter")
        assert (strip.saved.state, strip.saved.stopped_because) == ("stopped", "rain")
        assert len(strip.saved.attempts) == 1


async def test_a_note_is_kept_as_typed(season: Path) -> None:
    """From any stage with n."""
    async with at_the_strip(season) as strip:
        await strip.press("n")
        await strip.type_in("left [/] low")
        await strip.press("enter")
        assert strip.saved.notes == ("left [/] low",)


async def test_left_anywhere_and_resumed_where_it_was(season: Path) -> None:
    """The stage and the words tell where; the state comes from disk."""
    session_id = new_session(season)
    async with at_the_strip(season, session_id) as strip:
        for value in ("765", "731", "759"):
            await strip.enter(value)
        await strip.press("d", "escape")
        assert "○ open" in strip.text
        strip.clock.advance(minutes=23)
        strip.app.open_session(session_id)
        await strip.press()
        assert strip.screen.stage.NAME == "Attempts"
        said = "You left off after attempt 3 W, 23 min ago; warm-up state unknown."
        assert strip.said == said
        await strip.enter("770")
        assert [a.direction for a in strip.saved.attempts] == ["W", "E", "W", "W"]


async def test_all_stages_are_one_key_apart(season: Path) -> None:
    """Tab goes on and round, shift+tab back."""
    async with at_the_strip(season, stage="Setup") as strip:
        seen = []
        for _ in range(4):
            await strip.press("tab")
            seen.append(strip.screen.stage.NAME)
        assert seen == ["Checks", "Attempts", "Close-out", "Setup"]
        await strip.press("shift+tab")
        assert strip.screen.stage.NAME == "Close-out"


async def test_a_read_only_log_shows_everything_and_says_why_not(season: Path) -> None:
    """Nothing is changed on disk by trying."""
    session_id = new_session(season)
    before = on_disk(season, session_id)
    async with at_the_strip(season, session_id, read_only=True) as strip:
        await strip.enter("765")
        assert "Nothing can be entered." in strip.flat
        assert strip.entry == "765"
        await strip.go_to("Setup")
        await strip.press("down", "enter")
        assert "Nothing can be entered." in strip.flat
        await strip.press("escape")
        await strip.go_to("Checks")
        await strip.press("d")
        assert "Nothing can be entered." in strip.flat
        await strip.press("escape")
        await strip.go_to("Close-out")
        await strip.press("1")
        assert "Nothing can be entered." in strip.flat
    assert on_disk(season, session_id) == before


async def test_the_morning_is_the_one_of_the_test(season: Path) -> None:
    """No clock but the one handed in."""
    async with at_the_strip(season) as strip:
        assert strip.saved.started == MORNING
