"""What is on the screen: its lines as text, and every cell with its two colours."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from rich.style import Style
from textual.app import App
from textual.strip import Strip

__all__ = ["Cell", "cells", "lines", "text"]


@dataclass(frozen=True)
class Cell:
    """One character on the screen."""

    character: str
    style: Style
    line: int
    column: int


def _strips(app: App[Any]) -> list[Strip]:
    return app.screen._compositor.render_strips(app.size)


def lines(app: App[Any]) -> list[str]:
    """Return the lines of the screen without trailing blanks."""
    return [strip.text.rstrip() for strip in _strips(app)]


def text(app: App[Any]) -> str:
    """Return the whole screen as text."""
    return "\n".join(lines(app))


def cells(app: App[Any]) -> Iterator[Cell]:
    """Yield every character of the screen with its style."""
    for number, strip in enumerate(_strips(app)):
        column = 0
        for segment in strip:
            for character in segment.text:
                yield Cell(character, segment.style or Style.null(), number, column)
                column += 1
