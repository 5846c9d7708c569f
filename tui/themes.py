"""The two looks of the app: black on white for the sun, light on black for the dusk."""

from __future__ import annotations

from typing import Final

from textual.theme import Theme

__all__ = ["DUSK", "SUN", "THEMES", "other_theme"]


def _theme(
    name: str,
    *,
    dark: bool,
    paper: str,
    ink: str,
    quiet: str,
    bar: str,
    blue: str,
    rust: str,
    good: str,
    warn: str,
    bad: str,
) -> Theme:
    """Return a theme from eleven colours; every ink keeps at least 7:1 on paper and on bar."""
    return Theme(
        name=name,
        dark=dark,
        background=paper,
        surface=paper,
        panel=bar,
        foreground=ink,
        primary=blue,
        secondary=rust,
        accent=blue,
        success=good,
        warning=warn,
        error=bad,
        variables={
            "text": ink,
            "text-muted": quiet,
            "text-disabled": quiet,
            "foreground-muted": quiet,
            "foreground-disabled": quiet,
            "text-primary": blue,
            "text-secondary": rust,
            "text-accent": blue,
            "text-success": good,
            "text-warning": warn,
            "text-error": bad,
            "block-cursor-background": ink,
            "block-cursor-foreground": paper,
            "block-cursor-text-style": "bold",
            "block-cursor-blurred-background": bar,
            "block-cursor-blurred-foreground": ink,
            "block-hover-background": bar,
            "border": ink,
            "border-blurred": quiet,
            "input-cursor-background": ink,
            "input-cursor-foreground": paper,
            "input-selection-background": bar,
            "input-selection-foreground": ink,
            "scrollbar": quiet,
            "scrollbar-hover": ink,
            "scrollbar-active": ink,
            "scrollbar-background": bar,
            "scrollbar-background-hover": bar,
            "scrollbar-background-active": bar,
            "scrollbar-corner-color": bar,
        },
    )


SUN: Final = _theme(
    "sun",
    dark=False,
    paper="#ffffff",
    ink="#000000",
    quiet="#3f3f3f",
    bar="#e6e6e6",
    blue="#0b3c6f",
    rust="#6d2200",
    good="#0a4a1e",
    warn="#5f3200",
    bad="#850015",
)

DUSK: Final = _theme(
    "dusk",
    dark=True,
    paper="#0c0c0c",
    ink="#f3ebdd",
    quiet="#c9c1b3",
    bar="#262626",
    blue="#8fc7ff",
    rust="#ffb77a",
    good="#8fdc9e",
    warn="#ffcf5c",
    bad="#ffa39b",
)

THEMES: Final = (SUN, DUSK)


def other_theme(name: str) -> str:
    """Return the name of the theme that the one key changes to."""
    return DUSK.name if name == SUN.name else SUN.name
