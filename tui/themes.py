"""The two looks of the app: black on white for the sun, light on black for the dusk."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from textual.theme import Theme

__all__ = ["DUSK", "SUN", "THEMES", "other_theme"]


@dataclass(frozen=True)
class _Paints:
    """The colours of a look; every ink keeps at least 7:1 on paper and on bar."""

    paper: str
    ink: str
    quiet: str
    bar: str
    blue: str
    rust: str
    good: str
    warn: str
    bad: str


def _theme(name: str, paints: _Paints, *, dark: bool) -> Theme:
    """Return the theme of these colours."""
    return Theme(
        name=name,
        dark=dark,
        background=paints.paper,
        surface=paints.paper,
        panel=paints.bar,
        foreground=paints.ink,
        primary=paints.blue,
        secondary=paints.rust,
        accent=paints.blue,
        success=paints.good,
        warning=paints.warn,
        error=paints.bad,
        variables={
            variable: getattr(paints, paint)
            for paint, variables in _VARIABLES.items()
            for variable in variables
        }
        | {"block-cursor-text-style": "bold"},
    )


_VARIABLES: Final[Mapping[str, tuple[str, ...]]] = {
    "ink": (
        "text",
        "block-cursor-background",
        "block-cursor-blurred-foreground",
        "border",
        "input-cursor-background",
        "input-selection-foreground",
        "scrollbar-hover",
        "scrollbar-active",
    ),
    "paper": ("block-cursor-foreground", "input-cursor-foreground"),
    "quiet": (
        "text-muted",
        "text-disabled",
        "foreground-muted",
        "foreground-disabled",
        "border-blurred",
        "scrollbar",
    ),
    "bar": (
        "block-cursor-blurred-background",
        "block-hover-background",
        "input-selection-background",
        "scrollbar-background",
        "scrollbar-background-hover",
        "scrollbar-background-active",
        "scrollbar-corner-color",
    ),
    "blue": ("text-primary", "text-accent"),
    "rust": ("text-secondary",),
    "good": ("text-success",),
    "warn": ("text-warning",),
    "bad": ("text-error",),
}
"""By colour: the names that style sheets know it by."""


SUN: Final = _theme(
    "sun",
    dark=False,
    paints=_Paints(
        paper="#ffffff",
        ink="#000000",
        quiet="#3f3f3f",
        bar="#e6e6e6",
        blue="#0b3c6f",
        rust="#6d2200",
        good="#0a4a1e",
        warn="#5f3200",
        bad="#850015",
    ),
)

DUSK: Final = _theme(
    "dusk",
    dark=True,
    paints=_Paints(
        paper="#0c0c0c",
        ink="#f3ebdd",
        quiet="#c9c1b3",
        bar="#262626",
        blue="#8fc7ff",
        rust="#ffb77a",
        good="#8fdc9e",
        warn="#ffcf5c",
        bad="#ffa39b",
    ),
)

THEMES: Final = (SUN, DUSK)


def other_theme(name: str) -> str:
    """Return the name of the theme that the one key changes to."""
    return DUSK.name if name == SUN.name else SUN.name
