"""How well the letters on a screen stand out from what is behind them.

Source: Web Content Accessibility Guidelines (WCAG) 2.1, W3C 2018, "relative luminance" and
"contrast ratio"; 7:1 is its enhanced level (success criterion 1.4.6).
"""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from typing import Any

from rich.color import Color
from rich.style import Style
from textual.app import App

from tests.tui.seeing import Cell, cells

__all__ = ["AT_LEAST", "Worst", "assert_readable", "contrast", "luminance", "worst"]

AT_LEAST = 7.0


def luminance(red: int, green: int, blue: int) -> float:
    """Return the relative luminance of an sRGB colour, 0 to 1.

    WCAG 2.1: L = 0.2126 R + 0.7152 G + 0.0722 B, each from c = C/255 as c/12.92 up to 0.03928,
    else ((c + 0.055)/1.055)^2.4.
    """

    def linear(channel: int) -> float:
        share = channel / 255
        return share / 12.92 if share <= 0.03928 else ((share + 0.055) / 1.055) ** 2.4

    return 0.2126 * linear(red) + 0.7152 * linear(green) + 0.0722 * linear(blue)


def contrast(one: tuple[int, int, int], other: tuple[int, int, int]) -> float:
    """Return the contrast ratio of two colours, 1 to 21: (L1 + 0.05) / (L2 + 0.05)."""
    lighter, darker = sorted((luminance(*one), luminance(*other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


@dataclass(frozen=True)
class Worst:
    """The cell with the poorest contrast."""

    ratio: float
    cell: Cell | None

    def __str__(self) -> str:
        if self.cell is None:
            return "no letters"
        place = f"line {self.cell.line}, column {self.cell.column}"
        return f"{self.ratio:.1f}:1 for {self.cell.character!r} at {place}"


def _is_letter(character: str) -> bool:
    """Tell whether a character says something: not a blank, a line or a block."""
    drawing = "\u2500" <= character <= "\u259f"
    return not drawing and unicodedata.category(character)[0] in "LNPS"


def _rgb(color: Color | None) -> tuple[int, int, int]:
    assert color is not None, "a colour is left to the terminal"
    assert not color.is_default, "a colour is left to the terminal"
    red, green, blue = color.get_truecolor()
    return red, green, blue


def _ratio(style: Style) -> float:
    ink, paper = _rgb(style.color), _rgb(style.bgcolor)
    if style.dim:  # terminals draw it about half way to the paper
        ink = tuple((a + b) // 2 for a, b in zip(ink, paper, strict=True))  # type: ignore[assignment]
    return contrast(ink, paper)


def worst(app: App[Any]) -> Worst:
    """Return the letter with the poorest contrast on the screen as it is now."""
    found = Worst(21.0, None)
    known: dict[Style, float] = {}
    for cell in cells(app):
        if not _is_letter(cell.character):
            continue
        if cell.style not in known:
            known[cell.style] = _ratio(cell.style)
        if known[cell.style] < found.ratio or found.cell is None:
            found = Worst(known[cell.style], cell)
    return found


def assert_readable(app: App[Any]) -> None:
    """Fail unless there are letters on the screen and all have a contrast of 7:1 or more."""
    found = worst(app)
    assert found.cell is not None, "there is nothing to read"
    assert found.ratio >= AT_LEAST, str(found)
