"""Everything that follows from one sheet, before or after a plan."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from core.bench import ClayOnFile, LiftTables
from core.checks import CheckRecord
from core.engine import ValveAngles
from core.errors import BackToBackError
from core.ranged import Ranged
from core.reckon.answer import ranged_words
from core.reckon.gaps import UPRIGHT, Gap, gaps_on
from core.setup import (
    Derived,
    LowestLimit,
    Sheet,
    derived,
    known_value,
    lowest_limit,
    over_speed_words,
    rpm_at_speed,
    same_reading,
)

__all__ = ["SLIP", "BuildSide", "Margin", "build_side", "reckoned_retainer"]

SLIP = 0.03
"""Share of slip up to which rpm at a road speed is shown; common practice, no source."""

_STACK = ("springs", "retainers", "keepers", "head", "valves_intake", "valves_exhaust")


@dataclass(frozen=True)
class Margin:
    """The margin between retainer and guide at full lift."""

    value: Ranged | None = None  # mm; None: not known
    how: str = ""  # ``as read`` or ``reckoned from the reading``
    unknown: str = ""  # why nothing can be said; empty: something can

    @property
    def words(self) -> str:
        """What is known, as read out."""
        if self.value is None:
            return f"cannot say: {self.unknown}"
        at_least = "at least " if self.how.startswith("reckoned") else ""
        return f"{at_least}{ranged_words(self.value, 'mm', 2)}, {self.how}"


@dataclass(frozen=True)
class BuildSide:
    """What follows from one sheet."""

    label: str  # ``before``, ``after``, or what makes an alternative
    sheet: Sheet
    derived: tuple[Derived, ...]
    gaps: tuple[Gap, Gap]  # intake, exhaust
    retainer: Margin
    limit: LowestLimit
    over_speed: str  # limits and load in words, never that a speed is safe
    rpm_at_top: Ranged | None = None  # at the expected top speed, without slip up to with slip
    due: tuple[CheckRecord, ...] = ()  # checks that the plan makes due

    def value(self, name: str) -> Derived:
        """Return one derived value by its id.

        Raises:
            KeyError: there is none.
        """
        return {one.id: one for one in self.derived}[name]


def build_side(
    label: str,
    sheet: Sheet,
    *,
    rpm_factory: float,
    halves: Mapping[str, float],
    clay: ClayOnFile | None,
    tables: LiftTables | None,
    retainer: Margin,
    top_speed: float | None = None,
    angles: ValveAngles = UPRIGHT,
    own_gap: float | None = None,
    due: tuple[CheckRecord, ...] = (),
) -> BuildSide:
    """Return everything that follows from a sheet.

    Args:
        label: what the side is called.
        sheet: any.
        rpm_factory: governed speed of the machine as its maker built it, rpm.
        halves: give or take of the sheet's values by slot, in the slot's unit.
        clay: reading on file.
        tables: lift tables of the cam.
        retainer: margin at the guide, as read or reckoned.
        top_speed: expected at the place, km/h; None: not told.
        angles: of valve stems and crown.
        own_gap: the user's own least valve-to-piston gap, mm.
        due: checks that come due with this sheet.
    """
    return BuildSide(
        label=label,
        sheet=sheet,
        derived=derived(sheet, rpm_factory, halves),
        gaps=gaps_on(sheet, clay, tables, halves=halves, angles=angles, own=own_gap),
        retainer=retainer,
        limit=lowest_limit(sheet, rpm_factory),
        over_speed=over_speed_words(sheet, rpm_factory),
        rpm_at_top=_rpm_at(sheet, top_speed),
        due=due,
    )


def _rpm_at(sheet: Sheet, top_speed: float | None) -> Ranged | None:
    if top_speed is None:
        return None
    try:
        bare, slipping = rpm_at_speed(sheet, top_speed), rpm_at_speed(sheet, top_speed, SLIP)
    except BackToBackError:  # teeth or circumference not known: said where they are asked for
        return None
    return Ranged(bare, bare, slipping)


def reckoned_retainer(
    before: Sheet, after: Sheet, lifts: tuple[tuple[Derived, Derived], ...], half: float
) -> tuple[Margin, Margin]:
    """Return the margin at the guide before and after a plan.

    The reading is the smaller of two valves and does not say of which; so what either valve's
    lift gains may come off it.

    Args:
        before: sheet with the reading.
        after: sheet of the plan.
        lifts: valve lift before and after, intake then exhaust.
        half: give or take of the reading, mm.
    """
    reading, now = before.readings.get("retainer_margin"), after.readings.get("retainer_margin")
    value = known_value(reading)
    if value is None:
        none = Margin(unknown="the margin at the guide was not measured.")
        return none, none if known_value(now) is None else _read(after, half)
    old = _read(before, half)
    if not same_reading(reading, now) or (now is not None and not now.stale):
        return old, _read(after, half)
    changed = [s for s in _STACK if not same_reading(before.readings.get(s), after.readings.get(s))]
    gains = [_gain(one, two) for one, two in lifts]
    known = [gain for gain in gains if gain is not None]
    if changed or len(known) < len(gains):
        why = "valve lift is not known." if not changed else "what stands on the valve changed."
        return old, Margin(unknown=why)
    worst = max(known)
    moved = Ranged(value - worst, value - half - worst, value + half - worst)
    return old, Margin(moved, "reckoned from the reading")


def _read(sheet: Sheet, half: float) -> Margin:
    value = known_value(sheet.readings.get("retainer_margin"))
    if value is None:
        return Margin(unknown="the margin at the guide is not known.")
    return Margin(Ranged.within(value, half), "as read")


def _gain(before: Derived, after: Derived) -> float | None:
    if before.value is None or after.value is None:
        return None
    return after.value - before.value
