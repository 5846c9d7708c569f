"""What a picture of attempts or of a difference shows, in numbers: rows of dots and bars."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from core.report.scale import widened
from core.stats import Spread, half_width
from core.units import format_number

__all__ = ["Bar", "Dot", "Mark", "Picture", "PictureRow", "Role", "bar_of", "bar_words"]

Mark = Literal["counts", "struck", "odd"]
"""``odd``: it counts and stands apart; ``struck``: it does not count and is still shown."""

Role = Literal["way", "main", "beside"]
"""``way``: attempts of one direction; ``main``: what it is about; ``beside``: to hold against."""

_LEAST = 10  # the axis is never shorter than so many of the last decimal's steps
_NEAR = 0.1  # share of the value within which a struck attempt is on the axis in any case


@dataclass(frozen=True, slots=True)
class Dot:
    """One attempt, or one pair's mean."""

    value: float
    """In the picture's unit."""
    mark: Mark
    attempts: tuple[int, ...]
    """Numbers of the attempts behind it."""


@dataclass(frozen=True, slots=True)
class Bar:
    """A mean or difference with the range it lies in with 95 in 100."""

    middle: float
    """In the picture's unit."""
    low: float | None
    """Lower end; None: no range is known."""
    high: float | None
    """Upper end; None: no range is known."""


@dataclass(frozen=True, slots=True)
class PictureRow:
    """One line of a picture."""

    label: str
    """What it is, in one short word: a direction, a block, a session."""
    role: Role
    note: str = ""
    """What it rests on, such as ``4 pairs``; gives way where there is no room."""
    dots: tuple[Dot, ...] = ()
    bar: Bar | None = None
    said: str = ""
    """What it comes to, in words: ``7.39 ±0.08``."""
    block: str = ""
    """Rows with the same one belong together and may be drawn on one line."""


@dataclass(frozen=True, slots=True)
class Picture:
    """Rows on one axis."""

    rows: tuple[PictureRow, ...]
    unit: str
    decimals: int
    """Of values as they are written."""
    is_difference: bool = False
    """Whether the axis has a zero line, with better and worse beside it."""
    gain: float | None = None
    """Smallest gain worth having, drawn either side of zero; None: not said."""
    ends: tuple[str, str] = ("", "")
    """What lies to the left and to the right of zero: ``quicker`` and ``slower``."""

    @property
    def span(self) -> tuple[float, float] | None:
        """Lowest and highest value the axis must hold; None when there is nothing to draw.

        What counts is always on it; a struck attempt only when it is no further out than a tenth
        of its size or half the others' reach, so that one chain that came off does not squeeze the
        rest into a corner.
        """
        needed = [*self._needed()]
        struck = [dot.value for row in self.rows for dot in row.dots if dot.mark == "struck"]
        if not needed and not struck:
            return None
        least = _LEAST * 10.0**-self.decimals
        if not needed:
            return widened(struck, least)
        low, high = widened(needed, least)
        reach = max((high - low) / 2.0, _NEAR * abs(low + high) / 2.0)
        near = [value for value in struck if low - reach <= value <= high + reach]
        return widened([low, high, *near], least)

    @property
    def off_scale(self) -> tuple[Dot, ...]:
        """Struck attempts that are too far out for the axis."""
        span = self.span
        if span is None:
            return ()
        low, high = span
        return tuple(dot for row in self.rows for dot in row.dots if not low <= dot.value <= high)

    def _needed(self) -> Iterator[float]:
        for row in self.rows:
            yield from (dot.value for dot in row.dots if dot.mark != "struck")
            if row.bar is not None:
                ends = (row.bar.low, row.bar.middle, row.bar.high)
                yield from (end for end in ends if end is not None)
        if self.is_difference and self.rows:
            yield 0.0
            if self.gain is not None:
                yield from (-self.gain, self.gain)


def bar_of(mean: float | None, n: int, spread: Spread | None) -> Bar | None:
    """Return a mean with the range that the true mean of that day lies in with 95 in 100.

    Args:
        mean: of the observations; None: there are none.
        n: how many observations.
        spread: pooled spread of one observation, in the mean's unit; None: not known yet.
    """
    if mean is None or n < 1:
        return None
    if spread is None:
        return Bar(mean, None, None)
    half = half_width(1.0 / n, spread)
    return Bar(mean, mean - half, mean + half)


def bar_words(bar: Bar | None, decimals: int) -> str:
    """Return a bar in words: ``7.39 ±0.08``."""
    if bar is None:
        return ""
    middle = format_number(bar.middle, decimals)
    if bar.high is None:
        return middle
    return f"{middle} ±{format_number(bar.high - bar.middle, decimals)}"
