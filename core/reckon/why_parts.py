"""What a 'why' is made of: a value with its formula, and each input with how it is known."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from core.bench import BenchReading, Past
from core.setup import Reading, Sheet, known_value, reading_words, slot_of, state_words

__all__ = ["Why", "WhyInput", "why_input"]


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


def why_input(
    slot: str,
    sheet: Sheet,
    bench: BenchReading | None,
    halves: Mapping[str, float],
    past: Past,
) -> WhyInput:
    """Return one slot of a sheet as an input of a formula.

    Args:
        slot: id.
        sheet: any.
        bench: the bench reading that the value is from; None: there is none.
        halves: give or take by slot, in the slot's unit.
        past: for the instruments.
    """
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
