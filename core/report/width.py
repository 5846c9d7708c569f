"""Text made fit for a terminal: no control codes, known width, wrapped, plain ASCII if need be."""

from __future__ import annotations

import unicodedata
from typing import Final

__all__ = ["STAND_IN", "cut", "fill", "to_ascii", "visible", "width_of", "wrapped"]

STAND_IN: Final = "·"
"""What stands where a control character was."""

_STACK_LIMIT = 3  # combining marks on one letter; living scripts need no more
_VARIATION_SELECTORS = "\ufe0e\ufe0f"  # terminals disagree on the width they give

_ASCII: Final = {
    ord(sign): plain
    for signs, plain in (
        ("“”„«»", '"'),
        ("‘’‚", "'"),
        ("−–—", "-"),
        ("·•", "."),
        ("…", "..."),
        ("×", "x"),
        ("±", "+/-"),
        ("°", "deg "),
        ("²", "2"),
        ("³", "3"),
        ("○", "o"),
        ("●", "*"),
        ("→", "->"),
        ("ß", "ss"),
        ("øØ", "o"),
        ("æÆ", "ae"),
        ("łŁ", "l"),
    )
    for sign in signs
}


def visible(text: str) -> str:
    """Return the text in one line that any terminal shows as it is.

    Control, format, private and unassigned characters and lone surrogates become ``·``, every kind
    of blank a plain one; variation selectors and piled-up combining marks are left out.

    >>> visible("left\\x1b[31m low")
    'left·[31m low'
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


def width_of(text: str) -> int:
    """Return how many cells of a terminal a visible text takes.

    >>> width_of("Moth"), width_of("火"), width_of("e\\u0301")
    (4, 2, 1)
    """
    if text.isascii():
        return len(text)
    return sum(_cells(character) for character in text)


def _cells(character: str) -> int:
    if unicodedata.category(character) in ("Mn", "Me", "Cf"):
        return 0
    return 2 if unicodedata.east_asian_width(character) in "WF" else 1


def cut(text: str, width: int) -> str:
    """Return the visible text, cut with ``…`` if it needs more cells than there are.

    >>> cut("Vennimoor", 6), cut("Vennimoor", 9), cut("Vennimoor", 0)
    ('Venni…', 'Vennimoor', '')
    """
    line = visible(text)
    if width < 1:
        return ""
    if width_of(line) <= width:
        return line
    kept, _ = _split(line, width - 1)
    return kept + "…"


def fill(text: str, width: int, *, right: bool = False) -> str:
    """Return a visible text with blanks up to so many cells; a longer one stays as it is.

    >>> fill("S01", 5) + "|", fill("8.39", 6, right=True)
    ('S01  |', '  8.39')
    """
    blanks = " " * max(0, width - width_of(text))
    return blanks + text if right else text + blanks


def wrapped(text: str, width: int, *, whole_paths: bool = False) -> list[str]:
    """Return the text broken at blanks into lines of at most so many cells.

    Args:
        text: anything; its own line ends are kept, blanks at the ends of lines are not.
        width: cells, at least 2; a longer word is broken.
        whole_paths: a longer word with a slash in it sticks out, so that it can be copied.

    >>> wrapped("a bog and a spin", 9)
    ['a bog and', 'a spin']
    """
    lines: list[str] = []
    for paragraph in text.replace("\r\n", "\n").split("\n"):
        line = ""
        for word in visible(paragraph).split():
            longer = f"{line} {word}" if line else word
            if width_of(longer) <= width:
                line = longer
                continue
            if line:
                lines.append(line)
            line = word
            while width_of(line) > width and not (whole_paths and _is_path(word)):
                head, line = _split(line, width)
                lines.append(head)
        lines.append(line)
    return lines


def _is_path(word: str) -> bool:
    return "/" in word or "\\" in word


def _split(text: str, width: int) -> tuple[str, str]:
    """Split after as many characters as fit."""
    used = 0
    for index, character in enumerate(text):
        used += _cells(character)
        if used > width:
            return text[:index], text[index:]
    return text, ""


def to_ascii(text: str) -> str:
    """Return the text in plain ASCII: signs by their nearest, letters without their marks, else ?.

    >>> to_ascii("“Größe” 8.4 ± 0.1 °C, −3 … 火")
    '"Grosse" 8.4 +/- 0.1 deg C, -3 ... ?'
    """
    if text.isascii():
        return text
    plain = unicodedata.normalize("NFKD", text.translate(_ASCII))
    kept = (c for c in plain if not unicodedata.combining(c))
    return "".join(kept).encode("ascii", "replace").decode("ascii")
