"""Text of a CSV cell that no spreadsheet takes for a formula, and back."""

from __future__ import annotations

import re

__all__ = ["defused", "restored"]

_NUMBER = re.compile(r"[+\-]?(\d+([.,]\d*)?|[.,]\d+)")
_RISKY = re.compile(r"'*[=+\-@\t\r]")
_DEFUSED = re.compile(r"''*[=+\-@\t\r]")


def defused(text: str) -> str:
    """Return the text with an apostrophe in front if a spreadsheet could take it for a formula.

    That is text that begins with ``=``, ``+``, ``-``, ``@``, a tab or a carriage return; plain
    numbers are not touched. Text that looks defused already gets one apostrophe more, so that
    `restored` gives back exactly what was there.

    **Source:** OWASP, CSV Injection (from memory).

    >>> defused("=1+1"), defused("-0.5"), defused("bogged")
    ("'=1+1", '-0.5', 'bogged')
    """
    return f"'{text}" if _RISKY.match(text) and not _NUMBER.fullmatch(text) else text


def restored(cell: str) -> str:
    """Return what a cell said before it was defused.

    >>> restored("'=1+1"), restored("'tis"), restored(defused("'-x"))
    ('=1+1', "'tis", "'-x")
    """
    return cell[1:] if _DEFUSED.match(cell) else cell
