"""The lines over the entry: what may be typed now, and what should be known before the next run."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from core.attempts import STRIKES, TAGS, StrikeReason, TagKind, air_due, wind_beyond
from core.errors import NotFoundError
from core.report.words import clock_words
from core.session import attempt_numbered
from core.session.live import long_break, look_prompt
from tui.screens.session.desk import Desk

__all__ = ["air_words", "banner_lines", "legend_words", "packed"]

_ROOM = 60  # cells from which letters are explained in full


def legend_words(desk: Desk, text: str, marked: int | None, width: int) -> str:
    """Return what helps with the line that is being typed; empty for a plain attempt.

    Args:
        desk: the session.
        text: as typed so far.
        marked: number of the attempt that is marked; None: the last one.
        width: cells there are.
    """
    head = text[:1].casefold()
    if head not in ("x", "t"):
        return ""
    digits = "".join(c for c in text[1:] if c.isdigit())
    who = _attempt_words(desk, int(digits) if digits else marked)
    if head == "x":
        letters = packed((f"{s.letter} {_name(s, width)}" for s in STRIKES), width)
        return f"Strike {who}: what was wrong with the test?\n{letters}"
    letters = packed((f"{t.letter} {_name(t, width)}" for t in TAGS), width)
    return f"Tag {who}: what did the machine do?\n{letters}"


def _name(row: StrikeReason | TagKind, width: int) -> str:
    """Return the words of a letter, or its code where there is little room."""
    return row.words if width >= _ROOM else row.code.casefold()


def packed(items: Iterable[str], width: int) -> str:
    """Return items on as few lines as they fit on, none of them broken.

    >>> packed(["y yes", "n no, it stays"], 12)
    'y yes\\nn no, it stays'
    """
    lines = [""]
    for item in items:
        longer = f"{lines[-1]}   {item}" if lines[-1] else item
        if len(longer) > width and lines[-1]:
            lines.append(item)
        else:
            lines[-1] = longer
    return "\n".join(lines)


def _attempt_words(desk: Desk, n: int | None) -> str:
    attempts = desk.session.attempts
    if not attempts:
        return "an attempt (there is none yet)"
    try:
        attempt = attempts[-1] if n is None else attempt_numbered(desk.session, n)
    except NotFoundError:
        return f"attempt {n} (there is none)"
    value = attempt.kind if attempt.value is None else f"{attempt.value:g} {desk.test.unit}"
    return " ".join(filter(None, (f"attempt {attempt.n}", attempt.direction, value)))


def air_words(desk: Desk) -> str:
    """Return the newest air on one line with its age; empty when there is none."""
    session = desk.session
    if not session.air:
        return ""
    due = air_due(session.air, desk.now())
    newest = max(session.air, key=lambda reading: reading.observed)
    parts = [
        f"{value:g} {unit}"
        for value, unit in (
            (newest.temperature, "°C"),
            (newest.pressure, "hPa"),
            (newest.humidity, "%"),
        )
        if value is not None
    ]
    if newest.wind is not None:
        parts.append(" ".join(filter(None, (f"wind {newest.wind:g} m/s", newest.wind_from))))
    if newest.gust is not None:
        parts.append(f"gust {newest.gust:g}")
    if wind_beyond(newest):
        parts.append("▲ not for comparing")
    minutes = int(due.age.total_seconds() // 60) if due.age is not None else 0
    return f"Air {'  '.join(parts)}  at {clock_words(newest.observed)}, {minutes} min ago"


def banner_lines(desk: Desk) -> Iterator[str]:
    """Yield what should be known before the next run; what bars attempts stands alone."""
    session = desk.session
    if desk.barred:
        yield f"▲ {desk.barred}{' c goes to it.' if desk.may_write else ''}"
        return
    odd = desk.odd_unasked()
    if odd is not None:
        yield f"◆ {odd.sentence} o answers."
    if long_break(session, desk.now()):
        yield "△ Over 30 min since the last attempt: e asks the checks of a break again."
    due = air_due(session.air, desk.now())
    if due.state != "fresh":
        yield f"△ {due.words} a takes it down."
    look = look_prompt(session)
    if look:
        yield f"△ {look}"
