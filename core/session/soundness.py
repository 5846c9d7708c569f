"""What no session can say, whoever wrote its file: numbers that are none, sheets that are gone."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from core.session.documents import Session

__all__ = ["impossible"]

_MOST = 1e6  # of any unit that a test is read in; far above a time or speed of a small machine


def impossible(session: Session) -> str:
    """Return what cannot be in a session, without a full stop; nothing when it can be.

    All that works on sessions rests on these: an attempt has its sheet, a value is a time or
    speed. Words that no table has (a test, a tag) are another matter: later ones may.
    """
    sheets = len(session.sheets)
    if session.gain is not None and not 0 < session.gain < _MOST:
        return "the smallest gain worth having is not above zero, or without end"
    if any(not 0 <= check.sheet < sheets for check in session.checks):
        return "a check belongs to a setup sheet that is not there"
    for attempt in session.attempts:
        if not 0 <= attempt.sheet < sheets:
            return f"attempt {attempt.n}: its setup sheet is not there"
        if attempt.value is not None and not 0 < attempt.value < _MOST:
            return f"attempt {attempt.n}: its value is not above zero, or without end"
    return ""
