"""From what was typed for each input to the arguments of a formula, each with its doubt."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from core.engine import INSTRUMENTS, ClayState, Instrument, LiftTable, read_lift_rows, reading_range
from core.errors import InputError, UsageError
from core.ranged import Ranged
from core.reckon.formula import Formula, Input, InputKind
from core.reckon.si import SCALES, range_to_si
from core.reckon.two_columns import read_curve, read_trace
from core.reckon.typed import is_unknown, named, read_ranged
from core.setup.typed import cut_short

__all__ = ["GAUGES", "Given", "Typed", "read_inputs"]

Typed = str | LiftTable
"""What an input may be given as: typed text, the text of rows, or a table made before."""

GAUGES: Mapping[str, Instrument] = MappingProxyType({one.key: one for one in INSTRUMENTS})
"""The instruments with their usual figures, by key."""


@dataclass(frozen=True)
class Given:
    """One input as it went into the formula."""

    input: Input
    text: str  # as typed, or the default; empty: left out
    value: Any = None  # `Ranged` in the input's unit, a word, pairs, a table; None: not known
    doubt: str = ""  # where its range comes from: ``typed``, the instrument's words, or nothing
    missing: bool = False  # the formula cannot do without it

    @property
    def ranged(self) -> Ranged | None:
        """The number with its range in the input's unit; None for what is no number."""
        number = self.value[1] if self.input.kind == "clay" and self.value else self.value
        return number if isinstance(number, Ranged) else None


def read_inputs(
    formula: Formula,
    typed: Mapping[str, Typed],
    gauges: Mapping[str, Instrument] = GAUGES,
    *,
    exact: bool = False,
) -> tuple[Given, ...]:
    """Return every input of a formula as it was given, in the formula's order.

    Args:
        formula: a row of the register.
        typed: what was typed by the names of the inputs.
        gauges: instruments by key, with the user's own figures.
        exact: give a plain number no usual doubt of its instrument.

    Raises:
        UsageError: a name that is no input of the formula, or one given twice.
        InputError: a value is refused; the sentence names it.
    """
    told: dict[str, Typed] = {}
    for name, text in typed.items():
        found = formula.find(name)
        if found is None:
            names = ", ".join(one.name for one in formula.inputs)
            raise UsageError(
                f"{formula.id} has no input “{cut_short(name)}”.", f"Its inputs are {names}."
            )
        if found.name in told:
            raise UsageError(f"{formula.id}: {found.name} is given twice.")
        told[found.name] = text
    doubts = {} if exact else gauges
    return tuple(_given(one, told.get(one.name), doubts) for one in formula.inputs)


def _given(one: Input, text: Typed | None, gauges: Mapping[str, Instrument]) -> Given:
    if isinstance(text, LiftTable):
        return Given(one, f"{len(text.angles)} rows", text)
    if text is None:
        if one.default:
            return Given(one, one.default, _READERS[one.kind](one, one.default))
        return Given(one, "", missing=one.required and not one.unknown_counts)
    if is_unknown(text):
        return Given(one, text.strip(), missing=not one.unknown_counts)
    value = named(one.label, lambda: _READERS[one.kind](one, text))
    shown = text.strip() if one.kind not in _ROWS else "rows"
    return _doubted(Given(one, shown, value), gauges)


def _doubted(given: Given, gauges: Mapping[str, Instrument]) -> Given:
    """Return a plain reading with the usual doubt of its instrument."""
    plain, one = given.ranged, given.input
    if plain is None:
        return given
    if not plain.is_exact or re.search(r"\+\s*/?\s*[-−]|±|\.\.", given.text):
        return Given(one, given.text, given.value, "typed")
    gauge = gauges.get(one.gauge)
    if gauge is None:
        return given
    half = reading_range(0.0, gauge).high / SCALES[one.unit][0]
    low, high = plain.value - half, plain.value + half
    low = low if one.least is None else min(plain.value, max(low, one.least))
    high = high if one.most is None else max(plain.value, min(high, one.most))
    wide = Ranged(plain.value, low, high)
    value = (given.value[0], wide) if one.kind == "clay" else wide
    return Given(one, given.text, value, gauge.words)


def arguments(given: tuple[Given, ...]) -> dict[str, Any]:
    """Return the arguments of the formula, numbers as SI ranges; what is not known is left out."""
    found: dict[str, Any] = {}
    for one in given:
        if one.value is None:
            continue
        number = one.ranged
        if one.input.kind == "clay":
            found[f"{one.input.argument}_state"] = one.value[0]
        found[one.input.argument] = (
            one.value if number is None else range_to_si(number, one.input.unit)
        )
    return found


def _number(one: Input, text: str) -> Ranged:
    found = read_ranged(text, one.unit)
    if one.whole and (found.value != int(found.value) or not found.is_exact):
        raise InputError(f"“{cut_short(text)}” is not a whole number.")
    return found


_NOT_TOUCHED = re.compile(r"^(?:>=?|≥|not touched|no touch|untouched)\s*", re.IGNORECASE)
_STATES = {
    "touched": ClayState.TOUCHED_UNMEASURED,
    "touched, unmeasured": ClayState.TOUCHED_UNMEASURED,
    "torn": ClayState.TORN,
}


def _clay(one: Input, text: str) -> tuple[ClayState, Ranged]:
    word = text.strip()
    if word.casefold() in _STATES:
        return _STATES[word.casefold()], Ranged.exact(0.0)
    thickness, is_bound = _NOT_TOUCHED.subn("", word)
    if is_bound and not thickness:
        raise InputError("how thick was the clay that was not touched?", "Such as >2.0.")
    state = ClayState.NOT_TOUCHED if is_bound else ClayState.TOUCHED
    return state, read_ranged(thickness, one.unit)


def _choice(one: Input, text: str) -> str:
    sought = _bare(text)
    found = [word for word in one.choices if _bare(word) == sought] or [
        word for word in one.choices if sought and sought in _bare(word)
    ]
    if len(found) != 1:
        raise InputError(f"“{cut_short(text)}” is none of {', '.join(one.choices)}.")
    return found[0]


def _bare(text: str) -> str:
    return "".join(c for c in text.casefold() if c.isalnum())


_STAGE = re.compile(r"^(\d+)\s*[Tt]?\s*[/:x]\s*(\d+)\s*[Tt]?$")


def _stages(_: Input, text: str) -> tuple[tuple[float, float], ...]:
    found = []
    for word in re.split(r"[,;]", text):
        stage = _STAGE.match(word.strip())
        if stage is None:
            raise InputError(f"“{cut_short(word)}” is not two tooth counts.", "Such as 12/60.")
        found.append((float(stage[1]), float(stage[2])))
    return tuple(found)


def _teeth(_: Input, text: str) -> tuple[int, ...]:
    words = [word.rstrip("tT").strip() for word in re.split(r"[,;\s]+", text.strip())]
    if not all(word.isdigit() for word in words):
        raise InputError(f"“{cut_short(text)}” is not a list of tooth counts.", "Such as 60,63,66.")
    return tuple(int(word) for word in words)


def _lift_table(_: Input, text: str) -> LiftTable:
    rows = read_lift_rows(text)
    if rows.rejected:
        line, reason = rows.rejected[0]
        raise InputError(
            f"line {line} is no row of crank degrees and lift ({reason}).",
            "Put it right, or begin it with # to leave it out.",
        )
    return rows.table()


_READERS: Mapping[InputKind, Callable[[Input, str], Any]] = MappingProxyType(
    {
        "number": _number,
        "clay": _clay,
        "choice": _choice,
        "stages": _stages,
        "teeth": _teeth,
        "lift table": _lift_table,
        "torque curve": lambda _, text: read_curve(text),
        "speed trace": lambda _, text: read_trace(text),
    }
)
"""How each kind of input is read."""

_ROWS = ("lift table", "torque curve", "speed trace")
