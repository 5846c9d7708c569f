"""What the setup sheet and the day say against an answer, so that it does not clear unread."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from types import MappingProxyType

from core.checks.rules import Rule
from core.checks.standing import run_out_needed
from core.setup.limits import FACTORY_RPM, LIMITS, lowest_limit
from core.setup.readings import known_value
from core.setup.sheets import Sheet

__all__ = ["Around", "objection", "remark"]

COLD_AFTER = timedelta(hours=2)  # common practice, no source
DRAGS_WITHIN = 300.0  # rpm between idle and engagement; common practice, no source
_KMH = 3.6  # km/h in a m/s
_SPEEDS = (40, 60, 75)  # km/h, for the run-out sentence


@dataclass(frozen=True)
class Around:
    """What is known besides the sheet."""

    rpm_factory: float = FACTORY_RPM  # governed speed of this machine as built, rpm
    last_ran: datetime | None = None  # when the engine last ran, aware
    top_speed: float | None = None  # expected here, km/h
    own: float | None = None  # the user's own requirement, in the rule's unit


Numbers = tuple[float, ...]
_Look = Callable[[Sheet, Numbers, Around], str]


def _planned_above_limit(sheet: Sheet, _: Numbers, around: Around) -> str:
    planned = known_value(sheet.readings.get("planned_rpm"))
    if planned is None:
        return ""
    return _above_limit("Planned", planned, sheet, around)


def _top_above_limit(sheet: Sheet, numbers: Numbers, around: Around) -> str:
    return _above_limit("At top speed", numbers[0], sheet, around)


def _above_limit(what: str, rpm: float, sheet: Sheet, around: Around) -> str:
    limit = lowest_limit(sheet, around.rpm_factory)
    if rpm <= limit.rpm:
        return ""
    said = f"{what} {rpm:,.0f} rpm is above the lowest limit, {limit.rpm:,.0f}"
    if limit.entered is not None and limit.entered == limit.rpm:
        return f"{said} ({limit.entered_for})."
    names = ", ".join(LIMITS[slot] for slot in limit.not_entered) or "none entered"
    return f"{said} (not entered, counted so: {names})."


def _counted_differently(*slots: str) -> _Look:
    def look(sheet: Sheet, numbers: Numbers, _: Around) -> str:
        for slot, counted in zip(slots, numbers, strict=True):
            on_sheet = known_value(sheet.readings.get(slot))
            if on_sheet is not None and on_sheet != counted:
                return (
                    f"{counted:g} teeth counted, {on_sheet:g} on the sheet: "
                    "count again, or put the sheet right."
                )
        return ""

    return look


def _run_out_short(_: Sheet, numbers: Numbers, around: Around) -> str:
    if around.top_speed is None:
        return ""
    needed = run_out_needed(around.top_speed / _KMH)
    if numbers[0] >= needed:
        return ""
    return (
        f"{numbers[0]:g} m is less than twice the stopping distance from "
        f"{around.top_speed:g} km/h, {needed:.0f} m."
    )


OBJECTIONS: Mapping[str, _Look] = MappingProxyType(
    {
        "planned_rpm": _planned_above_limit,
        "rpm_at_top": _top_above_limit,
        "teeth_engine": _counted_differently("engine_sprocket_teeth"),
        "teeth_jackshaft": _counted_differently("jackshaft_in_teeth", "jackshaft_out_teeth"),
        "teeth_final": _counted_differently("final_sprocket_teeth"),
        "run_out": _run_out_short,
    }
)
"""By rule: a sentence when sheet or day contradict the answer, which then does not clear."""


def _planned_unknown(sheet: Sheet, _: Numbers, __: Around) -> str:
    if known_value(sheet.readings.get("planned_rpm")) is not None:
        return ""
    return "Planned rpm is not on the sheet, so this was not worked out for you."


def _limits_missing(sheet: Sheet, _: Numbers, around: Around) -> str:
    missing = lowest_limit(sheet, around.rpm_factory).not_entered
    if not missing:
        return ""
    names = ", ".join(LIMITS[slot] for slot in missing)
    return f"Not entered: {names}; counted as {around.rpm_factory:,.0f} rpm."


def _idle_near(slot: str) -> _Look:
    def look(sheet: Sheet, numbers: Numbers, _: Around) -> str:
        other = known_value(sheet.readings.get(slot))
        if other is None or abs(numbers[0] - other) > DRAGS_WITHIN:
            return ""
        idle, takes_up = sorted((numbers[0], other))
        return f"Idle {idle:,.0f} and engagement {takes_up:,.0f} rpm are within 300: it may drag."

    return look


def _run_out_sums(_: Sheet, __: Numbers, around: Around) -> str:
    if around.top_speed is not None:
        return ""
    sums = ", ".join(f"{run_out_needed(v / _KMH):.0f} m from {v} km/h" for v in _SPEEDS)
    return f"No speed was told; twice the stopping distance is {sums}."


REMARKS: Mapping[str, _Look] = MappingProxyType(
    {
        "planned_rpm": _planned_unknown,
        "limits_entered": _limits_missing,
        "engagement": _idle_near("idle_rpm"),
        "idle_engagement": _idle_near("engagement_rpm"),
        "run_out": _run_out_sums,
    }
)
"""By rule: a sentence worth reading beside an answer that clears."""


def objection(rule: Rule, sheet: Sheet | None, numbers: Numbers, around: Around) -> str:
    """Return what contradicts the answer, as a sentence; empty when nothing does."""
    return _look(OBJECTIONS, rule, sheet, numbers, around)


def remark(rule: Rule, sheet: Sheet | None, numbers: Numbers, around: Around, at: datetime) -> str:
    """Return what is worth reading beside the answer; empty when there is nothing.

    Args:
        rule: the rule answered.
        sheet: the sheet it is answered for.
        numbers: as entered, in the rule's unit.
        around: what is known besides.
        at: time of the answer, aware.
    """
    if rule.cold and around.last_ran is not None and at - around.last_ran < COLD_AFTER:
        minutes = max(0, round((at - around.last_ran).total_seconds() / 60))
        return f"The engine ran {minutes} min ago: this is not the cold lash yet."
    return _look(REMARKS, rule, sheet, numbers, around)


def _look(
    table: Mapping[str, _Look],
    rule: Rule,
    sheet: Sheet | None,
    numbers: Numbers,
    around: Around,
) -> str:
    look = table.get(rule.id)
    return "" if look is None else look(sheet or Sheet(), numbers, around)
