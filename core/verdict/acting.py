"""Where in the engine's range a change acts, and whether a test runs there at all."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from core.attempts import Test
from core.errors import BackToBackError
from core.setup import Sheet, known_value, rpm_at_speed, slot_of

__all__ = ["ACTING", "Acting", "Span", "cannot_see", "rpm_span"]

_BREATHES = 4500.0  # 1/min from which breathing is what holds a small pushrod single back


@dataclass(frozen=True)
class Acting:
    """Where the change of a slot acts. Source of every row: common practice, no source."""

    slots: tuple[str, ...]
    where: Literal["above", "slipping"]  # above an engine speed, or only while the clutch slips
    rpm: float = 0.0  # 1/min, for ``above``


ACTING: tuple[Acting, ...] = (
    Acting(("rockers", "rocker_ratio"), "above", _BREATHES),
    Acting(("valves_intake", "valves_exhaust"), "above", _BREATHES),
    Acting(("valve_diameter_intake", "valve_diameter_exhaust"), "above", _BREATHES),
    Acting(("springs", "spring_rate", "spring_shims", "retainers"), "above", _BREATHES),
    Acting(("rev_limiter", "limiter_rpm"), "above", 5000.0),
    Acting(("clutch_springs", "engagement_rpm"), "slipping"),
)
"""Slots not in here act everywhere, or nobody knows where."""


@dataclass(frozen=True)
class Span:
    """The engine speeds that a test runs through."""

    low: float  # 1/min
    high: float | None  # 1/min; None: not known
    lock: float | None  # 1/min at which the clutch locks; None: not known
    standing: bool  # from a standing start, so that the clutch slips


def rpm_span(test: Test, sheet: Sheet) -> Span | None:
    """Return the engine speeds a test runs through; None where the sheet does not tell.

    Args:
        test: any; only tests between two speeds have an end.
        sheet: for gearing and clutch.
    """
    lock = known_value(sheet.readings.get("engagement_rpm"))
    standing = test.shape in ("standing", "distance")
    if test.to_speed is None or test.shape == "coast":
        return Span(lock or 0.0, None, lock, standing) if standing else None
    try:
        high = rpm_at_speed(sheet, test.to_speed)
        low = rpm_at_speed(sheet, test.from_speed) if test.from_speed else (lock or 0.0)
    except BackToBackError:
        return None
    return Span(max(low, lock or 0.0), high, lock, standing)


def cannot_see(test: Test, sheet: Sheet, slots: Iterable[str]) -> str | None:
    """Return a sentence if a test misses where all of these changes act; None if it does not.

    Args:
        test: the one that is or was run.
        sheet: the setup sheet it runs on.
        slots: ids of the slots that are changed.
    """
    changed = tuple(slots)
    rows = [row for slot in changed for row in ACTING if slot in row.slots]
    span = rpm_span(test, sheet)
    if not changed or len(rows) < len(changed) or span is None:
        return None
    said = [_missed(row, span) for row in rows]
    if not all(said):
        return None
    names = " and ".join(dict.fromkeys(slot_of(slot).label for slot in changed))
    acts = " and ".join(dict.fromkeys(_where(row) for row in rows))
    return (
        f"{test.name} on this gearing {said[0]}; {names} should act {acts}. "
        "This test cannot answer that."
    )


def _where(row: Acting) -> str:
    return f"above {row.rpm:,.0f}" if row.where == "above" else "only while the clutch slips"


def _missed(row: Acting, span: Span) -> str:
    """What the test does instead, where it misses the row's range; empty: it does not miss it."""
    if row.where == "above":
        short = span.high is not None and span.high < row.rpm
        return f"ends at {span.high:,.0f} rpm" if short else ""
    beyond = not span.standing and span.lock is not None and span.low >= span.lock
    return f"starts at {span.low:,.0f} rpm, with the clutch locked" if beyond else ""
