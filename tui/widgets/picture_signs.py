"""The signs that pictures are drawn with: one table of usual ones, one of plain ASCII."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

__all__ = ["ASCII_SIGNS", "USUAL_SIGNS", "Signs", "signs_for"]


@dataclass(frozen=True, slots=True)
class Signs:
    """One cell each; a shape stands for what it says, colour only repeats it."""

    counts: str  # an attempt that counts
    shapes: str  # the same for several directions on one line, first to last
    struck: str  # one that does not count
    odd: str  # one that counts and stands apart
    both: str  # counted and struck ones on the same cell
    more: str  # ten or more on the same cell
    off_left: str  # struck, too far to the left for the axis
    off_right: str
    main_bar: tuple[str, str, str, str]  # start, line, mean, end: of what it is about
    beside_bar: tuple[str, str, str, str]  # the same of what it is held against
    zero: str
    band: str  # within the smallest gain worth having
    grid: str  # above a tick of the axis
    axis: str
    tick: str
    left: str  # points to what lies left of zero
    right: str
    plus_minus: str
    times: str
    cut: str
    holds_back: str  # before what holds an answer back


USUAL_SIGNS: Final = Signs(
    counts="●",
    shapes="●■▲",
    struck="○",
    odd="◆",
    both="◉",
    more="+",
    off_left="‹",
    off_right="›",
    main_bar=("┣", "━", "╋", "┫"),
    beside_bar=("├", "─", "┼", "┤"),
    zero="│",
    band="░",
    grid="·",
    axis="─",
    tick="┴",
    left="◂",
    right="▸",
    plus_minus="±",
    times="×",
    cut="…",
    holds_back="▲",
)

ASCII_SIGNS: Final = Signs(
    counts="*",
    shapes="*x^",
    struck="o",
    odd="#",
    both="%",
    more="&",
    off_left="<",
    off_right=">",
    main_bar=("[", "=", "+", "]"),
    beside_bar=("(", "-", "+", ")"),
    zero="|",
    band=":",
    grid=".",
    axis="-",
    tick="+",
    left="<",
    right=">",
    plus_minus="+/-",
    times="x",
    cut="~",
    holds_back="^",
)


def signs_for(*, ascii_only: bool) -> Signs:
    """Return the table to draw with."""
    return ASCII_SIGNS if ascii_only else USUAL_SIGNS
