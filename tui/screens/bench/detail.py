"""The lines under the bench list: how to answer a check, what it is about, what was read."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from core.bench import gauge_figures
from core.checks import find_rule, reason_lines
from core.session import Session, check_record
from core.setup import slot_of
from core.units import format_number
from tui.screens.bench.rows import LIFT_SIDES, VALUE, entry_lines
from tui.screens.bench.taken import CHECK
from tui.subject import Subject
from tui.text import plain

__all__ = ["detail_words"]

_MOST = 5  # readings shown; h shows all
_LIFT = (
    "Lift over crank degrees by degree wheel and dial gauge, typed row by row or from a file."
    " With it the gap is exact within its geometry, without it only two bounds are known."
)
_CLAY = "enter takes a clay reading in whatever state the clay came out."


def detail_words(
    subject: Subject, session: Session | None, key: str, labels: Mapping[str, str]
) -> str:
    """Return everything about one line of the bench.

    Args:
        subject: whose.
        session: its open session; None: there is none.
        key: id of the line.
        labels: of sessions by id.
    """
    return "\n".join(plain(line) for line in _lines(subject, session, key, labels))


def _lines(
    subject: Subject, session: Session | None, key: str, labels: Mapping[str, str]
) -> Iterator[str]:
    if key.startswith(CHECK) and session is not None:
        rule = find_rule(key.removeprefix(CHECK))
        yield rule.question
        yield from reason_lines(check_record(session, rule.id))
        yield f"A reading taken from this line clears this check of {session.label}."
    elif key in LIFT_SIDES:
        yield _LIFT
    elif key.startswith(VALUE):
        yield "It follows from readings: y shows the formula, what went in, and the source."
    else:
        yield _CLAY if key == "clay" else _read_with(subject, key)
        yield from _history(subject, key, labels)


def _read_with(subject: Subject, key: str) -> str:
    slot = slot_of(key)
    gauge = subject.past.gauges.get(slot.instrument)
    if gauge is None:
        return f"{slot.label}: no instrument is told for it."
    step, spread, unit = gauge_figures(gauge)
    figures = f"step {format_number(step)}, repeats within {format_number(spread)} {unit}"
    return f"{slot.label}: usually read with {gauge.words} ({figures})."


def _history(subject: Subject, key: str, labels: Mapping[str, str]) -> Iterator[str]:
    lines = entry_lines(subject, key, labels)
    yield from lines[:_MOST]
    if len(lines) > _MOST:
        yield f"h shows all {len(lines)}."
    if not lines:
        yield "Nothing was read here yet."
