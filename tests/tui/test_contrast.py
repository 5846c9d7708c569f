"""Every letter on every screen stands out by 7:1 or more, in both looks.

A screen is added by one line in ``PLACES``: its name, and the keys that lead to it.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.tui.contrast import AT_LEAST, assert_readable, contrast, luminance, worst
from tests.tui.driving import opened, preferences, press
from tests.tui.season import empty_log, small_season
from tui.preferences import PreferencesFile
from tui.themes import THEMES

PLACES: dict[str, tuple[str, ...]] = {
    "log list": (),
    "log list, a mark": ("space",),
    "log list, filter": ("slash", "m", "o"),
    "log list, filter, nothing typed": ("slash",),
    "help": ("question_mark",),
    "palette": ("ctrl+p",),
    "palette, searching": ("ctrl+p", "t", "h"),
    "units": ("ctrl+u",),
    "new session": ("n",),
    "pick": ("n", "1"),
    "choice": ("n", "2", "z", "enter"),
    "typing": ("n", "5"),
    "typing, refused": ("n", "6", "x", "enter"),
    "message": ("x",),
}


@pytest.mark.parametrize("theme", [theme.name for theme in THEMES])
@pytest.mark.parametrize("place", PLACES)
async def test_every_letter_stands_out(tmp_path: Path, place: str, theme: str) -> None:
    """At 80 x 24."""
    async with opened(small_season(tmp_path), wishes=preferences(theme=theme)) as pilot:
        await press(pilot, *PLACES[place])
        assert_readable(pilot.app)


@pytest.mark.parametrize("theme", [theme.name for theme in THEMES])
async def test_every_letter_stands_out_on_the_first_run(tmp_path: Path, theme: str) -> None:
    """Units, caution, and the empty log after them."""
    wishes = PreferencesFile()
    wishes.change(theme=theme)
    async with opened(empty_log(tmp_path), wishes=wishes) as pilot:
        for _ in range(3):
            assert_readable(pilot.app)
            await press(pilot, "enter")


@pytest.mark.parametrize("theme", [theme.name for theme in THEMES])
async def test_the_wide_screen_stands_out_as_well(tmp_path: Path, theme: str) -> None:
    """With the card beside the list."""
    wishes = preferences(theme=theme)
    async with opened(small_season(tmp_path), wishes=wishes, size=(150, 45)) as pilot:
        assert_readable(pilot.app)


async def test_without_colour_letters_stand_out_and_nothing_is_said_by_colour(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """NO_COLOR leaves greys; states, marks and the cursor are signs and words."""
    monkeypatch.setenv("NO_COLOR", "1")
    async with opened(small_season(tmp_path)) as pilot:
        await press(pilot, "space")
        assert_readable(pilot.app)
        found = worst(pilot.app)
        assert found.cell is not None
        ink = found.cell.style.color
        assert ink is not None
        red, green, blue = ink.get_truecolor()
        assert red == green == blue


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [
        # black on white is 21:1 and a colour on itself 1:1, by definition (WCAG 2.1)
        ((0, 0, 0), (255, 255, 255), 21.0),
        ((7, 7, 7), (7, 7, 7), 1.0),
        # #767676 on white is the lightest grey that reaches 4.5:1, #595959 that reaches 7:1
        # Source: follows from the formula; W3C, Understanding success criterion 1.4.3 and 1.4.6
        ((0x76, 0x76, 0x76), (255, 255, 255), 4.54),
        ((0x59, 0x59, 0x59), (255, 255, 255), 7.0),
    ],
)
def test_the_measure_itself_is_right(
    one: tuple[int, int, int], other: tuple[int, int, int], ratio: float
) -> None:
    """Either way round."""
    assert contrast(one, other) == pytest.approx(ratio, abs=0.01)
    assert contrast(other, one) == contrast(one, other)


def test_pure_colours_have_the_weights_of_the_standard() -> None:
    """Red 0.2126, green 0.7152, blue 0.0722."""
    assert (luminance(255, 0, 0), luminance(0, 255, 0), luminance(0, 0, 255)) == pytest.approx(
        (0.2126, 0.7152, 0.0722)
    )


async def test_the_measure_finds_a_letter_that_does_not_stand_out(tmp_path: Path) -> None:
    """Else all of the above would say nothing."""
    async with opened(small_season(tmp_path)) as pilot:
        title = pilot.app.screen.query("TitleLine").first()
        title.styles.color = "#666666"
        await press(pilot)
        found = worst(pilot.app)
        assert found.ratio < AT_LEAST
        assert found.cell is not None
        assert found.cell.line == 0
