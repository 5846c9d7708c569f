"""The tones that drawn lines name, as styles of the theme; a tone only repeats what is said."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import Final

from textual.content import Content

from tui.widgets.picture_plot import Line

__all__ = ["TONES", "as_content"]

TONES: Final[Mapping[str, str]] = MappingProxyType(
    {
        "plain": "",
        "quiet": "$text-muted",
        "strong": "bold",
        "mark": "bold $primary",
        "key": "bold $primary",
        "heading": "bold underline",
        "big": "bold",
        "good": "bold $success",
        "warn": "bold $warning",
        "bad": "bold $error",
    }
)
"""By tone: a style in the theme's own colours."""


def as_content(line: Iterable[tuple[str, str]] | Line) -> Content:
    """Return one drawn line as content."""
    return Content.assemble(*(Content.styled(text, TONES[tone]) for text, tone in line))
