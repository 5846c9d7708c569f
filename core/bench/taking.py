"""From what was typed at the bench to a bench reading."""

from __future__ import annotations

import statistics
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from types import MappingProxyType

from core.bench.documents import BenchReading, BenchWhat, ClaySide, ClayTaken, Condition
from core.checks import RULES, find_rule
from core.checks.clay import read_clay
from core.checks.rules import Rule
from core.checks.typed import read_one, read_own, read_two
from core.engine import ClayReading, ClayState, find_instrument
from core.errors import InputError
from core.setup import Reading, Sheet, read_reading, slot_of
from core.units import format_number

__all__ = [
    "CLAY_RULE",
    "About",
    "Took",
    "answer_text",
    "rules_filled_by",
    "take_check",
    "take_clay",
    "take_slots",
]

CLAY_RULE = "valve_to_piston"

_MM = 1e-3  # m in a mm

PROJECTION_SLOTS = (
    "rocker_ratio", "lobe_lift_intake", "lobe_lift_exhaust", "lash_intake", "lash_exhaust",
    "gasket_thickness", "deck", "head_milled", "block_decked", "stroke", "rod_length",
    "piston_pin_height", "cam_centre",
)  # fmt: skip
"""What a gap between valve and piston hangs on, besides the parts."""

_MADE_OF: Mapping[str, tuple[str, Callable[[Iterable[float]], float]]] = MappingProxyType(
    {"deck_height": ("deck", statistics.fmean), "spring_height": ("spring_fitted_height", min)}
)
"""By check with two numbers: the one slot they make, and how."""


@dataclass(frozen=True, kw_only=True)
class About:
    """What every bench reading is told besides its numbers.

    Raises:
        InputError: it is for nothing, or for two things at once; no such instrument; no readings
            to average; a repeatability below zero.
        NotFoundError: no such instrument.
    """

    id: str  # a fresh one
    at: datetime  # when it was taken
    machine: str = ""  # id
    part: str = ""  # id of a loose engine or part
    sheet: Sheet | None = None  # as the machine stands
    instrument: str = ""  # key; empty: the usual one
    times: int = 1  # readings averaged
    repeatability: float | None = None  # sd of this reading in its unit
    condition: Condition = ""
    head_temperature: float | None = None  # °C
    note: str = ""

    def __post_init__(self) -> None:
        if bool(self.machine) == bool(self.part):
            raise InputError("A bench reading is for one machine, or for one loose engine.")
        if self.instrument:
            find_instrument(self.instrument)
        if self.times < 1:
            raise InputError("A reading is the mean of one or more.")
        if self.repeatability is not None and self.repeatability < 0:
            raise InputError("Repeatability is below zero: it cannot be.")


@dataclass(frozen=True)
class Took:
    """A bench reading before it is kept, with what to ask about it."""

    reading: BenchReading
    questions: tuple[str, ...] = ()


def bench_reading(about: About, what: BenchWhat, text: str, **fields: object) -> BenchReading:
    """Return a bench reading with everything that is told about it."""
    slots = fields.get("readings", {})
    return BenchReading(
        id=about.id,
        what=what,
        at=about.at,
        machine=about.machine,
        part=about.part,
        text=text,
        instrument=about.instrument,
        times=about.times,
        repeatability=about.repeatability,
        condition=about.condition,
        head_temperature=about.head_temperature,
        note=about.note.strip(),
        around=_around(about.sheet, what, slots if isinstance(slots, dict) else {}),
        **fields,  # type: ignore[arg-type]  # fields of the document by name
    )


def _around(
    sheet: Sheet | None, what: BenchWhat, slots: Mapping[str, Reading]
) -> dict[str, Reading]:
    """Return the readings of the sheet that a reading hangs on."""
    if sheet is None:
        return {}
    wanted = {ground for slot in slots for ground in slot_of(slot).follows}
    if what in ("clay", "lift table"):
        wanted |= {*PROJECTION_SLOTS, "cam"}
    return {slot: reading for slot, reading in sheet.readings.items() if slot in wanted}


def take_slots(typed: Mapping[str, str], about: About) -> Took:
    """Return a reading of one or several slots of the setup sheet.

    Args:
        typed: text by slot id, as `read_reading` takes it.
        about: what else is told.

    Raises:
        InputError: nothing typed, or a value is refused.
        OutOfRangeError: outside a slot's hard range.
    """
    if not typed:
        raise InputError("Nothing was read: a bench reading needs a value.")
    taken = {slot: read_reading(slot_of(slot), text, about.at) for slot, text in typed.items()}
    readings = {slot: entered.reading for slot, entered in taken.items()}
    text = ", ".join(f"{slot_of(slot).label} {said.strip()}" for slot, said in typed.items())
    questions = tuple(entered.question for entered in taken.values() if entered.question)
    return Took(bench_reading(about, "slots", text, readings=readings), questions)


def take_clay(
    text: str,
    about: About,
    *,
    lash_zero: bool = True,
    tight_lift: tuple[float | None, float | None] = (None, None),
) -> Took:
    """Return a reading of the gaps between valves and piston, in whatever state the clay came out.

    Args:
        text: as the check takes it: ``3.1 2.6``, ``>2.0``, ``touched``, ``torn 2.6``,
            ``dial 3.1 2.6``, ``own 1.5`` at its end.
        about: what else is told.
        lash_zero: the lash was taken up.
        tight_lift: mm of lobe lift, intake and exhaust, where it was tightest, if that was seen.

    Raises:
        InputError: not a clay reading of intake and exhaust.
        OutOfRangeError: outside the hard range.
    """
    rule = find_rule(CLAY_RULE)
    said, own = read_own(text, rule.unit)
    clay = read_clay(said, rule)
    sides = [
        ClaySide(
            state=side.state.value,
            thinnest=_mm(side.thinnest),
            applied=_mm(side.applied),
            tight_lift=lift,
        )
        for side, lift in zip(clay.sides, tight_lift, strict=True)
    ]
    gaps = zip(rule.fills, clay.sides, strict=True)
    readings = {slot: _gap_reading(side, about.at) for slot, side in gaps}
    method = "light springs and dial" if clay.dial else "clay"
    readings["valve_gap_method"] = Reading(state="set", text=method, at=about.at)
    taken = ClayTaken(intake=sides[0], exhaust=sides[1], dial=clay.dial, lash_zero=lash_zero)
    made = bench_reading(
        about, "clay", text.strip(), readings=readings, clay=taken, rule=CLAY_RULE, own=own
    )
    return Took(made)


def _mm(metres: float | None) -> float | None:
    return None if metres is None else round(metres / _MM, 9)


def _gap_reading(side: ClayReading, at: datetime) -> Reading:
    """Return what the sheet says of a gap; contact and what nobody measured are unknown there."""
    if side.state in (ClayState.TORN, ClayState.TOUCHED_UNMEASURED):
        return Reading(state="unknown", text=side.text(), at=at)
    gap = round(side.gap / _MM, 9)
    number = format_number(gap)
    if side.is_bound:
        return Reading(state="bounded", value=gap, bound=">", text=f">{number}", at=at)
    return Reading(state="measured", value=gap, text=number, at=at)


def take_check(rule_id: str, text: str, about: About) -> Took:
    """Return the reading that a check asks for; it fills the slots the check is about.

    Args:
        rule_id: id of the check's rule.
        text: one number or two, clay as told, with ``own 1.5`` at the end where that counts.
        about: what else is told.

    Raises:
        NotFoundError: no such check.
        InputError: the check asks for no measurement, or the text is none.
        OutOfRangeError: outside the hard range.
    """
    rule = find_rule(rule_id)
    if rule.answer == "clay":
        return take_clay(text, about)
    if rule.answer not in ("value", "two values"):
        raise InputError(f"The check “{rule.short}” asks for no measurement.")
    has_own = rule.clears_above is not None
    said, own = read_own(text, rule.unit) if has_own else (text.strip(), None)
    one_or_two = (read_one(said, rule),) if rule.answer == "value" else read_two(said, rule)
    numbers = tuple(quantity.value for quantity in one_or_two)
    readings = _filled(rule, numbers, said, about.at)
    kept = () if rule.fills else numbers
    made = bench_reading(
        about, "check", text.strip(), readings=readings, numbers=kept, rule=rule.id, own=own
    )
    return Took(made)


def _filled(rule: Rule, numbers: tuple[float, ...], said: str, at: datetime) -> dict[str, Reading]:
    if rule.id in _MADE_OF:
        slot, made = _MADE_OF[rule.id]
        value = round(made(numbers), 6)
        return {slot: Reading(state="measured", value=value, text=format_number(value), at=at)}
    one_number = said if len(numbers) == 1 else ""
    return {
        slot: Reading(
            state=slot_of(slot).usual_state,
            value=value,
            text=one_number or f"{format_number(value)} {rule.unit}".strip(),
            at=at,
        )
        for slot, value in zip(rule.fills, numbers, strict=False)
    }


def rules_filled_by(slots: Iterable[str]) -> tuple[str, ...]:
    """Return the checks whose numbers are readings of these very slots.

    A check that asks for the same number once more later, such as the lash after the first heat
    cycle, is not among them: which of the two a reading answers has to be said.

    >>> rules_filled_by(["lash_intake", "lash_exhaust"])
    ('lash',)
    """
    wanted, found = set(slots), dict[tuple[str, ...], str]()
    for rule in RULES.values():
        if rule.fills and set(rule.fills) <= wanted and rule.answer != "clay":
            found.setdefault(rule.fills, rule.id)
    return tuple(found.values())


def answer_text(reading: BenchReading, rule_id: str) -> str:
    """Return a bench reading as the answer to a check; empty when it is none.

    Args:
        reading: of that check, or of the slots that the check fills.
        rule_id: id of the check's rule.
    """
    if reading.rule == rule_id and reading.what != "slots":
        return reading.text
    rule = find_rule(rule_id)
    readings = [reading.readings.get(slot) for slot in rule.fills]
    if not readings or any(one is None or one.value is None or one.bound for one in readings):
        return ""
    numbers = (format_number(one.value) for one in readings if one and one.value is not None)
    return f"{' '.join(numbers)} {rule.unit}".strip()
