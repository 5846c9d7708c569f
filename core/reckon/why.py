"""Why a derived value of the setup sheet is what it is: formula, inputs, source, range."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from core.bench import BenchReading, Past, taken_for
from core.reckon.register import FORMULAS
from core.setup import (
    FACTORY_RPM,
    Derived,
    Reading,
    Sheet,
    derived_value,
    known_value,
    over_speed_words,
    reading_words,
    slot_of,
    state_words,
)

__all__ = ["FORMULA_OF", "Why", "WhyInput", "why"]

FORMULA_OF: Mapping[str, str] = MappingProxyType(
    {
        "swept_volume": "swept-volume",
        "compression_ratio": "compression-ratio",
        "head_gap": "head-gap",
        "valve_lift_intake": "valve-lift",
        "valve_lift_exhaust": "valve-lift",
        "spring_margin_intake": "spring-margin",
        "spring_margin_exhaust": "spring-margin",
        "mean_piston_speed": "mean-piston-speed",
        "relative_rod_load": "rod-load",
        "overall_ratio": "overall-ratio",
        "speed_per_1000": "road-speed",
        "total_mass": "",
        "lowest_rpm_limit": "lowest-limit",
    }
)
"""By derived value: the formula of the register behind it; empty: a plain sum."""

_STEPS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "compression_ratio": ("swept_volume",),
        "spring_margin_intake": ("valve_lift_intake",),
        "spring_margin_exhaust": ("valve_lift_exhaust",),
        "speed_per_1000": ("overall_ratio",),
    }
)
"""By derived value: those that it goes through."""

_NOTHING = Past()


@dataclass(frozen=True)
class WhyInput:
    """One value that went in."""

    slot: str  # id
    label: str
    words: str  # the value: ``22.5 cm³``
    state: str  # how it is known: ``measured, 26 Jul 2026``
    known: bool  # whether the sum could use it
    half: float  # give or take, in the slot's unit; 0: none
    instrument: str  # words of what it was read with; empty: nothing
    note: str = ""  # of the bench reading

    @property
    def line(self) -> str:
        """Everything on one line: ``chamber volume 22.5 cm³ ±0.2 (burette and plate), set``."""
        half = f" ±{self.half:.2g}" if self.half and self.known else ""
        by = f" ({self.instrument})" if self.instrument and half else ""
        return f"{self.label} {self.words}{half}{by}, {self.state}"


@dataclass(frozen=True)
class Why:
    """Where a derived value comes from."""

    id: str
    title: str
    value: str  # as read out, with its range, or that it is unknown and why
    equation: str
    inputs: tuple[WhyInput, ...]
    source: str
    low: float | None  # lower end, in the value's unit; None: no range
    high: float | None
    note: str  # sentences worth reading with it; empty: nothing
    caution: str  # where it could hurt someone; empty: it could not
    steps: tuple[str, ...] = ()  # values on the way: ``overall ratio 5.00:1``
    formula: str = ""  # id in the register, to reckon with other numbers


def why(
    sheet: Sheet, derived_id: str, *, rpm_factory: float = FACTORY_RPM, past: Past = _NOTHING
) -> Why:
    """Return where a derived value of a sheet comes from.

    Args:
        sheet: any.
        derived_id: id of a value that `core.setup.derived` gives.
        rpm_factory: governed speed of the machine as its maker built it, rpm.
        past: bench readings and instruments of the machine; ranges come from them.

    Raises:
        KeyError: there is no such derived value.
    """
    halves, taken = past.halves(sheet), taken_for(sheet, past.taken)
    found = derived_value(sheet, derived_id, rpm_factory, halves)
    formula = FORMULAS.get(FORMULA_OF[derived_id])
    return Why(
        id=derived_id,
        title=found.label,
        value=found.words,
        equation=found.formula,
        inputs=tuple(_input(slot, sheet, taken.get(slot), halves, past) for slot in found.inputs),
        source=formula.source if formula else "definition",
        low=found.low,
        high=found.high,
        note=_note(found, sheet, rpm_factory),
        caution=formula.caution if formula else "",
        steps=tuple(_step(sheet, step, halves) for step in _STEPS.get(derived_id, ())),
        formula=formula.id if formula else "",
    )


def _input(
    slot: str,
    sheet: Sheet,
    bench: BenchReading | None,
    halves: Mapping[str, float],
    past: Past,
) -> WhyInput:
    row, reading = slot_of(slot), sheet.readings.get(slot)
    gauge = past.gauges.get((bench.instrument if bench else "") or row.instrument)
    known = known_value(reading) is not None
    return WhyInput(
        slot=slot,
        label=row.label,
        words=reading_words(row, reading),
        state=_state(reading, bench),
        known=known,
        half=halves.get(slot, 0.0) if known else 0.0,
        instrument=gauge.words if gauge else "",
        note=bench.note if bench else "",
    )


def _state(reading: Reading | None, bench: BenchReading | None) -> str:
    """Return how a value is known, and since when."""
    if reading is None:
        return "not recorded"
    said = list(state_words(reading)) or [reading.state]
    if reading.carried:
        said.append("carried over")
    if reading.at is not None:
        said.append(f"{reading.at.day} {reading.at:%b %Y}")
    if bench is not None and bench.condition:
        said.append(bench.condition)
    if bench is not None and bench.times > 1:
        said.append(f"mean of {bench.times}")
    return ", ".join(said)


def _step(sheet: Sheet, step: str, halves: Mapping[str, float]) -> str:
    found = derived_value(sheet, step, halves=halves)
    return f"{found.label} {found.words}"


def _note(found: Derived, sheet: Sheet, rpm_factory: float) -> str:
    said = []
    if found.missing:
        names = ", ".join(slot_of(slot).label for slot in found.missing)
        counted = f"; counted as {rpm_factory:,.0f}" if found.value is not None else ""
        said.append(f"Not known: {names}{counted}.")
    if found.refused:
        said.append(found.refused)
    if found.estimated and found.value is not None:
        said.append("An input is an estimate or was copied, so this is an estimate.")
    if found.id in ("lowest_rpm_limit", "relative_rod_load", "mean_piston_speed"):
        said.append(over_speed_words(sheet, rpm_factory))
    return " ".join(said)
