"""A formula worked out, a formula by itself, and the list of all of them: as pages and as data."""

from __future__ import annotations

from typing import Any

from core.engine import LiftTable
from core.ranged import Ranged
from core.reckon import FILE_KINDS, PAGES, Answer, Formula, Given, Input, Result
from core.report.document import Block, Bullets, Column, Facts, Heading, Paragraph, Report, Table
from core.units import format_number

__all__ = [
    "answer_data",
    "answer_page",
    "formula_data",
    "formula_page",
    "formulas_data",
    "formulas_page",
]


def formulas_page() -> Report:
    """Return every formula with the names of its inputs; those in brackets may be left out."""
    blocks: list[Block] = [
        Paragraph("backtoback reckon NAME shows one; with key=value behind it, it is worked out.")
    ]
    for heading, formulas in PAGES.items():
        rows = tuple((one.id, " ".join(map(_bracketed, one.inputs))) for one in formulas)
        columns = (Column("Name"), Column("Inputs", flexible=True))
        blocks += [Heading(heading), Table(columns, rows, wraps=True)]
    return Report("Formulas", tuple(blocks))


def _bracketed(one: Input) -> str:
    return one.name if one.required else f"[{one.name}]"


def formula_page(formula: Formula) -> Report:
    """Return what goes into a formula, what comes out, its equation and source."""
    columns = (Column("Input"), Column("What", flexible=True), Column("Unit"), Column("Left out"))
    rows = tuple((one.name, one.label, _kind(one), _left_out(one)) for one in formula.inputs)
    outputs = tuple((one.label, one.unit or "-") for one in formula.outputs)
    return Report(
        f"{formula.id}: {formula.title}",
        (
            Table(columns, rows, wraps=True),
            Heading("Comes out"),
            Facts(outputs),
            Heading("How"),
            *_how(formula),
        ),
    )


def _kind(one: Input) -> str:
    if one.kind in ("number", "clay"):
        return one.unit or "-"
    return "file" if one.kind in FILE_KINDS else " / ".join(one.choices) or "teeth"


def _left_out(one: Input) -> str:
    return "needed" if one.required else one.default or "-"


def _how(formula: Formula) -> tuple[Block, ...]:
    said = [("equation", formula.equation), ("source", formula.source)]
    if formula.caution:
        said.append(("caution", formula.caution))
    return (Facts(tuple(said)),)


def answer_page(answer: Answer) -> Report:
    """Return a formula worked out, or what is missing for it."""
    found = (one for one in answer.results if one.value is not None)
    blocks: list[Block] = [Facts(tuple((one.output.label, one.words) for one in found))]
    if not answer.known:
        blocks = [Paragraph(answer.unknown)]
    if answer.rows:
        columns = tuple(Column(name, flexible=not i) for i, name in _last_first(answer.formula))
        blocks.append(Table(columns, answer.rows, wraps=True))
    if answer.notes:
        blocks.append(Bullets(answer.notes))
    blocks += [Heading("From"), Facts(tuple(_given_row(one) for one in answer.inputs if one.text))]
    blocks += [Heading("How"), *_how(answer.formula)]
    return Report(answer.formula.title, tuple(blocks))


def _last_first(formula: Formula) -> list[tuple[int, str]]:
    """Return the headings of the table, the last one marked 0: it gives way on a narrow page."""
    last = len(formula.columns) - 1
    return [(last - i, name) for i, name in enumerate(formula.columns)]


def _given_row(given: Given) -> tuple[str, str]:
    found, one = given.ranged, given.input
    if found is None or one.kind == "clay":
        doubt = "" if found is None or not given.doubt else f", {_doubt(found, given)}"
        return one.name, f"{given.text}{doubt}"
    unit = "" if one.unit == ":1" else f" {one.unit}"
    return one.name, f"{format_number(found.value)}{unit}{_as_typed(given)}{_behind(found, given)}"


def _as_typed(given: Given) -> str:
    """Return what was typed, where it was typed in another unit."""
    letters = "".join(c for c in given.text if c.isalpha() or c in '°"%')
    own = "".join(c for c in given.input.unit if c.isalpha() or c in "°%")
    return f" ({given.text})" if letters and letters != own else ""


def _behind(found: Ranged, given: Given) -> str:
    if not given.doubt:
        return ""
    return f", {_doubt(found, given)}"


def _doubt(found: Ranged, given: Given) -> str:
    low, high = (format_number(x) for x in (found.low, found.high))
    if given.doubt == "typed":
        return f"from {low} to {high}"
    return f"from {low} to {high} by the usual {given.doubt}"


def formulas_data() -> list[dict[str, Any]]:
    """Return every formula with its inputs as plain data."""
    return [formula_data(one) for page in PAGES.values() for one in page]


def formula_data(formula: Formula) -> dict[str, Any]:
    """Return one formula with inputs, outputs, equation and source as plain data."""
    return {
        "name": formula.id,
        "title": formula.title,
        "inputs": [
            {
                "name": one.name,
                "label": one.label,
                "unit": one.unit,
                "kind": one.kind,
                "required": one.required,
                "default": one.default or None,
                "choices": list(one.choices),
                "instrument": one.gauge or None,
            }
            for one in formula.inputs
        ],
        "outputs": [
            {"name": one.name, "label": one.label, "unit": one.unit} for one in formula.outputs
        ],
        "equation": formula.equation,
        "source": formula.source,
        "caution": formula.caution or None,
    }


def answer_data(answer: Answer) -> dict[str, Any]:
    """Return a formula worked out as plain data; the first result stands at the top as well."""
    formula = answer.formula
    results = [_result_data(one) for one in answer.results]
    first = results[0] if results else {"value": None, "low": None, "high": None}
    columns = [name.casefold() for name in formula.columns]
    return {
        "name": formula.id,
        "title": formula.title,
        "value": first["value"],
        "low": first["low"],
        "high": first["high"],
        "unit": formula.outputs[0].unit,
        "results": results,
        "inputs": {one.input.name: _given_data(one) for one in answer.inputs if one.text},
        "equation": formula.equation,
        "source": formula.source,
        "missing": list(answer.missing),
        "unknown": answer.unknown or None,
        "notes": list(answer.notes),
        "rows": [dict(zip(columns, row, strict=True)) for row in answer.rows],
        "caution": formula.caution or None,
    }


def _result_data(one: Result) -> dict[str, Any]:
    found = one.value
    numbers = (None, None, None) if found is None else (found.value, found.low, found.high)
    value, low, high = numbers
    named = {"name": one.output.name, "label": one.output.label, "unit": one.output.unit}
    return {**named, "value": value, "low": low, "high": high}


def _given_data(given: Given) -> dict[str, Any]:
    found = given.ranged
    value: Any = given.value
    if isinstance(value, LiftTable):
        value = None
    if given.input.kind == "clay" and value is not None:
        value = value[0].value
    data: dict[str, Any] = {"text": given.text, "unit": given.input.unit}
    if found is None:
        return data | {"value": value}
    numbers = {"value": found.value, "low": found.low, "high": found.high}
    state = {"state": value} if given.input.kind == "clay" else {}
    return data | numbers | state | {"doubt": given.doubt or None}
