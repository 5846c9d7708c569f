"""The one gate for user and file text: no markup, no control codes, cut safely by cell width."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable

from rich.cells import cell_len, get_character_cell_size
from textual.content import Content

__all__ = [
    "CUT_MARK",
    "STAND_IN",
    "cut",
    "fit",
    "fitting",
    "plain",
    "safe",
    "safe_lines",
    "wrapped",
]

STAND_IN = "·"
"""What stands where a control character was."""

CUT_MARK = "…"
"""What stands where a text was cut."""

_STACK_LIMIT = 3  # combining marks on one letter; living scripts need no more
_VARIATION_SELECTORS = "\ufe0e\ufe0f"  # terminals disagree on the width they give


def plain(text: str) -> str:
    """Return the text in one line that any terminal shows as it is.

    Control, format, private and unassigned characters and lone surrogates become ``·``, every kind
    of blank a plain one; variation selectors and piled-up combining marks are left out.

    >>> plain("left [/] low\\x1b[31m")
    'left [/] low·[31m'
    """
    if text.isascii() and text.isprintable():
        return text
    shown: list[str] = []
    stacked = 0
    for character in text:
        kind = unicodedata.category(character)
        stacked = stacked + 1 if kind in ("Mn", "Me") else 0
        if stacked > _STACK_LIMIT or character in _VARIATION_SELECTORS:
            continue
        if kind == "Zs":
            shown.append(" ")
        else:
            shown.append(character if character.isprintable() else STAND_IN)
    return "".join(shown)


def safe(text: str, style: str = "") -> Content:
    """Return user or file text as content that is never read as markup.

    Args:
        text: anything.
        style: a style for the whole of it, such as ``bold`` or ``$text-muted``.
    """
    return Content.styled(plain(text), style) if style else Content(plain(text))


def safe_lines(text: str) -> Content:
    """Return several lines as content, each one made safe by itself."""
    return Content("\n").join(safe(line) for line in text.split("\n"))


def cut(text: str, width: int) -> str:
    """Return the plain text, cut with ``…`` if it needs more cells than there are.

    Args:
        text: anything.
        width: cells; below 1 gives nothing.

    >>> cut("Vennimoor", 6), cut("Vennimoor", 9)
    ('Venni…', 'Vennimoor')
    """
    line = plain(text)
    if width < 1:
        return ""
    if cell_len(line) <= width:
        return line
    used, kept = 0, 0
    for character in line:
        size = get_character_cell_size(character)
        if used + size > width - 1:
            break
        used += size
        kept += 1
    return line[:kept] + CUT_MARK


def fit(text: str, width: int, *, right: bool = False) -> str:
    """Return the plain text cut or filled with blanks to exactly this many cells.

    Args:
        text: anything.
        width: cells.
        right: True to set it flush right.
    """
    line = cut(text, width)
    blanks = " " * max(0, width - cell_len(line))
    return blanks + line if right else line + blanks


def wrapped(text: str, width: int, indent: int = 0) -> list[str]:
    """Return the plain text broken between words.

    Args:
        text: anything.
        width: cells; a word that needs more stands alone and is not broken.
        indent: cells by which every line but the first is set in.

    >>> wrapped("nothing is lost", 10, 2)
    ['nothing is', '  lost']
    """
    lines = [""]
    for word in plain(text).split(" "):
        longer = f"{lines[-1]} {word}" if lines[-1].strip() else lines[-1] + word
        if cell_len(longer) > width and lines[-1].strip():
            lines.append(" " * indent + word)
        else:
            lines[-1] = longer
    return lines


def fitting(lines: Iterable[str], width: int, rows: int) -> str:
    """Return the first lines, broken between words, that fit these rows whole; one at least."""
    kept: list[str] = []
    for line in lines:
        broken = wrapped(line, max(20, width), 2)
        if kept and len(kept) + len(broken) > rows:
            break
        kept += broken
    return "\n".join(kept)
