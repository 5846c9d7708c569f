"""Values that follow from the sheet: shown, never typed, and unknown when an input is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import msgspec

from core.engine import find_instrument, reading_range
from core.errors import InputError
from core.ranged import Ranged, carry
from core.setup.limits import FACTORY_RPM, lowest_limit
from core.setup.readings import Reading, known_value
from core.setup.sheets import Sheet
from core.setup.slots import slot_of
from core.setup.sums import SUMS, Sum, si_scale
from core.units import format_number

__all__ = ["ESTIMATE_TIMES", "Derived", "derived", "derived_value", "usual_half"]

_LOWEST = "lowest_rpm_limit"
_USUAL: Mapping[str, float] = MappingProxyType({})

ESTIMATE_TIMES = 3.0
"""An estimate is taken to be so many times as far out as a reading; own rule."""


@dataclass(frozen=True)
class Derived:
    """One value that follows from the sheet."""

    id: str
    label: str
    value: float | None  # in ``unit``; None: unknown
    unit: str
    decimals: int
    low: float | None  # lower end of where it may lie, when an input is in doubt
    high: float | None
    inputs: tuple[str, ...]  # slot ids
    missing: tuple[str, ...]  # slot ids of inputs that are not known, or no longer hold
    formula: str  # in words
    estimated: bool  # an input is an estimate or was copied from another machine
    was: str  # what it came to with a value that no longer holds: ``was 8.47 before milling``
    refused: str = ""  # why known inputs give no value, as a sentence

    @property
    def words(self) -> str:
        """The value as read out, with its range or with what is missing."""
        span = self._span()
        if self.value is None:
            told = "; ".join(word for word in (self.was, span and f"estimate {span}") if word)
            reason = told or self.refused or self._missing_words()
            return f"unknown ({reason})" if reason else "unknown"
        number = f"{self._shown(self.value)} {self.unit}".replace(" :1", ":1").rstrip()
        also = ("estimate" if self.estimated else "", self._missing_words())
        extra = "; ".join(word for word in (span, *also) if word)
        return f"{number} ({extra})" if extra else number

    def _span(self) -> str:
        if self.low is None or self.high is None:
            return ""
        low, high = self._shown(self.low), self._shown(self.high)
        return f"{low} to {high}" if low != high else ""

    def _missing_words(self) -> str:
        names = ", ".join(slot_of(slot).label for slot in self.missing)
        return f"not known: {names}" if names else ""

    def _shown(self, value: float) -> str:
        if self.unit == "rpm":
            return f"{value:,.0f}"
        return format_number(value, self.decimals)


def derived(
    sheet: Sheet, rpm_factory: float = FACTORY_RPM, halves: Mapping[str, float] = _USUAL
) -> tuple[Derived, ...]:
    """Return everything that follows from a sheet, in the order it is shown.

    Args:
        sheet: any; inputs that are unknown, bounded or stale make a value unknown.
        rpm_factory: governed speed of the machine as its maker built it, rpm; an rpm limit that
            was not entered counts as this.
        halves: give or take of values by slot, in the slot's unit, where it is known better than
            from `usual_half`.
    """
    found = [_from_sum(rule, sheet, halves) for rule in SUMS]
    return (*found, _lowest(sheet, rpm_factory))


def derived_value(
    sheet: Sheet,
    name: str,
    rpm_factory: float = FACTORY_RPM,
    halves: Mapping[str, float] = _USUAL,
) -> Derived:
    """Return one derived value by its id, such as ``compression_ratio``.

    Raises:
        KeyError: there is no such derived value.
    """
    if name == _LOWEST:
        return _lowest(sheet, rpm_factory)
    return _from_sum({rule.id: rule for rule in SUMS}[name], sheet, halves)


def _from_sum(rule: Sum, sheet: Sheet, halves: Mapping[str, float]) -> Derived:
    inputs = rule.inputs_on(sheet)
    readings = {slot: sheet.readings.get(slot) for slot in inputs}
    missing = tuple(slot for slot, reading in readings.items() if known_value(reading) is None)
    refused, span, was = rule.refuses(sheet), None, ""
    try:
        if not refused:
            span, was = (
                _of_before(rule, readings) if missing else (_ranged(rule, readings, halves), "")
            )
    except InputError as error:
        refused = error.message
    wide = span is not None and not span.is_exact
    return Derived(
        id=rule.id,
        label=rule.label,
        value=span.value if span is not None and not missing else None,
        unit=rule.unit,
        decimals=rule.decimals,
        low=span.low if span is not None and wide else None,
        high=span.high if span is not None and wide else None,
        inputs=inputs,
        missing=missing,
        formula=rule.formula,
        estimated=bool(missing and wide) or any(map(_is_estimate, readings.values())),
        was=was,
        refused=refused,
    )


def _is_estimate(reading: Reading | None) -> bool:
    return reading is not None and (reading.state == "estimated" or reading.copied)


def _ranged(rule: Sum, readings: dict[str, Reading | None], halves: Mapping[str, float]) -> Ranged:
    given = {slot: _with_doubt(slot, r, halves) for slot, r in readings.items() if r is not None}
    best = rule.compute(**{slot: value.value for slot, value in given.items()})
    try:
        return carry(rule.compute, **given)
    except InputError:  # an end of the range is refused, the value itself is not
        return Ranged.exact(best)


def _with_doubt(slot: str, reading: Reading, halves: Mapping[str, float]) -> Ranged:
    """Return a value with its give-or-take, in the slot's unit."""
    value = reading.value if reading.value is not None else 0.0
    return Ranged.within(value, halves[slot] if slot in halves else usual_half(slot, reading))


def usual_half(slot: str, reading: Reading) -> float:
    """Return how far out a value may be by the usual instrument of its slot, in the slot's unit.

    Args:
        slot: id.
        reading: an estimate, or what was copied from another machine, is further out.
    """
    row = slot_of(slot)
    if not row.instrument:
        return 0.0
    half = reading_range(0.0, find_instrument(row.instrument)).high / si_scale(row.unit)
    return half * (ESTIMATE_TIMES if _is_estimate(reading) else 1.0)


def _of_before(rule: Sum, readings: dict[str, Reading | None]) -> tuple[Ranged | None, str]:
    """Return where a value may lie, and what it was, when all that is missing is merely stale."""
    held = {slot: r for slot, r in readings.items() if r is not None and _held(r)}
    if len(held) < len(readings):
        return None, ""
    value = rule.compute(**{slot: r.value for slot, r in held.items()})
    return rule.bounded(held), _was(held, format_number(value, rule.decimals))


def _held(reading: Reading) -> bool:
    """Tell whether a reading has a value to reckon with, were it not for being stale."""
    return known_value(msgspec.structs.replace(reading, stale=False)) is not None


def _was(held: dict[str, Reading], value: str) -> str:
    stale = {slot: r for slot, r in held.items() if r.stale}
    reasons = " and ".join(dict.fromkeys(r.stale_because or "a change" for r in stale.values()))
    if _reconstructs(held):
        return f"was {value} before {reasons}"
    labels = " and ".join(slot_of(slot).label for slot in stale)
    return f"{value} with {labels} from before {reasons}"


def _reconstructs(held: dict[str, Reading]) -> bool:
    """Tell whether the other inputs are still those of before the change."""
    since = [r.stale_since for r in held.values() if r.stale and r.stale_since is not None]
    if not since:
        return True
    return all(r.stale or r.at is None or r.at <= max(since) for r in held.values())


def _lowest(sheet: Sheet, rpm_factory: float) -> Derived:
    limit = lowest_limit(sheet, rpm_factory)
    return Derived(
        id=_LOWEST,
        label="lowest rpm limit",
        value=limit.rpm,
        unit="rpm",
        decimals=0,
        low=None,
        high=None,
        inputs=limit.slots,
        missing=limit.not_entered,
        formula=f"the lowest of the limits; one not entered counts as {rpm_factory:,.0f}",
        estimated=False,
        was="",
    )
