"""What follows from the sheet, beside it: changes first, then ratios, lift, margins and limits."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from typing import Final

from core.session.live import left_off_words
from core.setup import Derived, Part, derived, elsewhere, over_speed_words
from tui.screens.session.desk import Desk
from tui.screens.session.slot_rows import change_lines
from tui.text import cut, fit, wrapped

__all__ = ["fact_page", "fact_pairs", "facts_text", "moved_away", "opening_words"]

_JUST_NOW: Final = timedelta(minutes=1)

_SHORT: Final = {
    "swept_volume": "swept",
    "compression_ratio": "compression",
    "head_gap": "piston to head",
    "valve_lift_intake": "lift intake",
    "valve_lift_exhaust": "lift exhaust",
    "spring_margin_intake": "spring in",
    "spring_margin_exhaust": "spring ex",
    "mean_piston_speed": "piston speed",
    "relative_rod_load": "rod load",
    "overall_ratio": "overall ratio",
    "speed_per_1000": "at 1,000 rpm",
    "total_mass": "mass",
}
"""Labels as they fit beside the sheet."""

_LABEL: Final = 14  # cells of a label
_COLUMN: Final = 26  # cells that label and value need


def fact_pairs(desk: Desk) -> Iterator[tuple[str, Derived]]:
    """Yield each derived value that something on the sheet goes into, with its short label."""
    for found in derived(desk.sheet, desk.rpm_factory):
        if any(slot in desk.sheet.readings for slot in found.inputs) and found.id in _SHORT:
            yield _SHORT[found.id], found


def facts_text(desk: Desk, width: int, height: int) -> str:
    """Return changes, derived values and limits in so many cells and lines.

    Args:
        desk: the session.
        width: cells.
        height: lines; with few of them, values stand in columns and changes are cut short.
    """
    made = list(change_lines(desk))
    facts = list(fact_pairs(desk))
    limits = wrapped(over_speed_words(desk.sheet, desk.rpm_factory), width)
    full = [
        line
        for label, found in facts
        for line in wrapped(f"{fit(label, _LABEL)} {found.words}", width, _LABEL + 1)
    ]
    lines = [line for change in made for line in wrapped(change, width, 2)]
    lines = [*lines, "", *full, *([""] if full else []), *limits]
    if len(lines) > height:
        made = [made[0], *(["; ".join(line.strip(" ≠") for line in made[1:])] if made[1:] else [])]
        short = [f"{fit(label, _LABEL)} {_bare(found)}" for label, found in facts]
        lines = [*made, *limits, *_in_columns(short, max(1, width // _COLUMN), width)]
    return "\n".join(cut(line, width) for line in lines[:height])


def _bare(found: Derived) -> str:
    """Return a value without its range; what is unknown only says so."""
    if found.value is None:
        return "unknown"
    return f"{'~' if found.estimated else ''}{found.words.partition(' (')[0]}"


def _in_columns(cells: list[str], columns: int, width: int) -> list[str]:
    """Set cells in columns, filled downwards."""
    rows = -(-len(cells) // columns)
    size = width // columns
    return ["".join(fit(cell, size) for cell in cells[row::rows]).rstrip() for row in range(rows)]


def fact_page(desk: Desk) -> str:
    """Return everything on one page: all changes, each value with the sum behind it, the limits."""
    lines = [*change_lines(desk), ""]
    for found in derived(desk.sheet, desk.rpm_factory):
        lines += [f"{found.label}: {found.words}", f"   {found.formula}"]
    return "\n".join((*lines, "", over_speed_words(desk.sheet, desk.rpm_factory)))


def opening_words(desk: Desk) -> str:
    """Return what to say when a session is opened: how to begin, or where it was left."""
    session, now = desk.session, desk.now()
    if session.state != "open":
        return ""
    untouched = not session.attempts and all(r.answer == "open" for r in desk.checks)
    if not untouched or now - session.started > _JUST_NOW:
        return left_off_words(session, now)
    if desk.base_sheet is None:
        return "A first sheet is empty: / finds a slot by a few letters, such as bore."
    return f"All is as in {desk.label_of(session.came_from)}: change only what you touched."


def moved_away(desk: Desk) -> tuple[str, ...]:
    """Return a question for each part of the sheet that the log has on another machine by now."""
    names = {head.id: head.name for head in desk.book.machines()}
    parts = desk.book.log.all(Part)
    found = elsewhere(desk.sheet, desk.session.machine, parts, names)
    return tuple(f"△ {question.question} Enter on it answers." for question in found)
