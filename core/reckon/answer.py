"""Working a formula of the register out: values with ranges, or what is missing for one."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from core.engine import Instrument
from core.errors import InputError, UnknownInputError
from core.ranged import Ranged, carry, carry_worst
from core.reckon.formula import Formula, Outcome, Output
from core.reckon.reading import GAUGES, Given, Typed, arguments, read_inputs
from core.reckon.register import find_formula
from core.reckon.si import range_from_si
from core.units import format_number

__all__ = ["Answer", "Result", "number_words", "ranged_words", "reckon"]

_GLUED = (":1", "%")  # written without a blank before them


@dataclass(frozen=True)
class Result:
    """One number that came out."""

    output: Output
    value: Ranged | None  # in the output's unit; None: there is none

    @property
    def words(self) -> str:
        """The number as read out, with its range when an input is in doubt."""
        if self.value is None:
            return "none"
        return ranged_words(self.value, self.output.unit, self.output.decimals)


@dataclass(frozen=True)
class Answer:
    """What a formula came to."""

    formula: Formula
    inputs: tuple[Given, ...]
    results: tuple[Result, ...]  # empty when an input is missing
    missing: tuple[str, ...] = ()  # what is not known, in few words
    unknown: str = ""  # why there is no number, as a sentence; empty: there is one
    notes: tuple[str, ...] = ()  # sentences worth reading beside the numbers
    rows: tuple[tuple[str, ...], ...] = ()  # of a table with the formula's columns

    @property
    def known(self) -> bool:
        """Whether there is a number."""
        return not self.unknown

    @property
    def words(self) -> str:
        """The first number as read out, or that it is unknown and what is missing."""
        return self.unknown or self.results[0].words


def number_words(value: float, unit: str, decimals: int) -> str:
    """Return a number with its unit as it is read out.

    >>> number_words(8.4662, ":1", 2), number_words(6500.0, "rpm", 0)
    ('8.47:1', '6,500 rpm')
    """
    number = f"{value:,.0f}" if unit == "rpm" else format_number(value, decimals)
    return f"{number}{'' if unit in _GLUED else ' '}{unit}".rstrip()


def ranged_words(value: Ranged, unit: str, decimals: int) -> str:
    """Return a number with its unit and, where it has one, its range.

    >>> ranged_words(Ranged(8.4662, 8.405, 8.528), ":1", 2)
    '8.47:1 (8.41 to 8.53)'
    """
    said = number_words(value.value, unit, decimals)
    low, high = (number_words(x, unit, decimals) for x in (value.low, value.high))
    if value.is_exact or low == high:
        return said
    low, high = (x.removesuffix(unit).rstrip() for x in (low, high))
    return f"{said} ({low} to {high})"


def reckon(
    name: str,
    typed: Mapping[str, Typed],
    gauges: Mapping[str, Instrument] = GAUGES,
    *,
    exact: bool = False,
) -> Answer:
    """Work a formula out.

    Args:
        name: id of the formula.
        typed: what was typed by the names of its inputs: ``22.5``, ``48 thou``, ``22.5+-0.2``,
            ``22.3..22.7``, ``?`` for unknown; for tables the text of their rows.
        gauges: instruments by key; a plain reading is taken to be as far out as its own repeats.
        exact: take plain numbers as they are, without that doubt.

    Returns:
        The numbers with their ranges; without a number, what is missing for one.

    Raises:
        NotFoundError: no such formula.
        UsageError: a name that is no input of it.
        InputError: a value is refused, by itself or by the formula.

    >>> reckon("head-gap", {"deck": "0.25", "gasket": "1.1"}).words
    '1.35 mm (1.32 to 1.38)'
    >>> reckon("head-gap", {"deck": "?", "gasket": "1.1"}).words
    'Unknown, missing: deck.'
    """
    formula = find_formula(name)
    given = read_inputs(formula, typed, gauges, exact=exact)
    missing = tuple(one.input.short for one in given if one.missing)
    if missing:
        return Answer(formula, given, (), missing, f"Unknown, missing: {', '.join(missing)}.")
    try:
        return _worked_out(formula, given)
    except UnknownInputError as error:
        return Answer(formula, given, (), error.missing or ("an input",), error.message)


def _worked_out(formula: Formula, given: tuple[Given, ...]) -> Answer:
    known = arguments(given)
    compute = _remembering(formula)
    best = compute({name: _best(value) for name, value in known.items()})
    results, notes = [], list(best.notes)
    for output in formula.outputs:
        value, note = _with_range(output, compute, known, best.numbers[output.name], given)
        results.append(Result(output, value))
        if note and note not in notes:
            notes.append(note)
    return Answer(formula, given, tuple(results), notes=tuple(notes), rows=best.rows)


def _best(value: Any) -> Any:
    return value.value if isinstance(value, Ranged) else value


def _remembering(formula: Formula) -> Callable[[dict[str, Any]], Outcome]:
    """Return the formula of given arguments; one set of them is worked out once."""
    known: list[tuple[dict[str, Any], Outcome]] = []

    def compute(given: dict[str, Any]) -> Outcome:
        for before, outcome in known:
            if before == given:
                return outcome
        found = formula.compute(**formula.also, **given)
        outcome = found if isinstance(found, Outcome) else Outcome({formula.outputs[0].name: found})
        known.append((given, outcome))
        return outcome

    return compute


def _with_range(
    output: Output,
    compute: Callable[[dict[str, Any]], Outcome],
    known: dict[str, Any],
    best: float | None,
    given: tuple[Given, ...],
) -> tuple[Ranged | None, str]:
    """Return one output with its range, in its unit, and what there is to say about the range."""
    if best is None:
        return None, ""

    def one(**values: Any) -> float:
        found = compute(values).numbers[output.name]
        if found is None:
            raise UnknownInputError("At an end of a range there is no such number.")
        return found

    carried = carry_worst if output.worst else carry
    try:
        return range_from_si(carried(one, **known), output.unit), ""
    except UnknownInputError as error:
        return range_from_si(Ranged.exact(best), output.unit), (
            f"{output.label.capitalize()} without a range: {error.message}"
        )
    except InputError as error:
        if any(name.doubt == "typed" for name in given):
            raise
        return range_from_si(Ranged.exact(best), output.unit), (
            f"{output.label.capitalize()} without a range, as its end would be refused:"
            f" {error.message}"
        )
