"""``reckon``: a formula worked out, one formula, or the list of all."""

from __future__ import annotations

import sys
from argparse import Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from core.errors import InputError, UsageError
from core.reckon import FILE_KINDS, GAUGES, find_formula, prefilled, reckon
from core.report.reckoning import (
    answer_data,
    answer_page,
    formula_data,
    formula_page,
    formulas_data,
    formulas_page,
)
from tui.output import Result

if TYPE_CHECKING:
    from collections.abc import Mapping

    from core.engine import Instrument
    from core.reckon import Formula

__all__ = ["run"]


def run(arguments: Namespace) -> Result:
    """Work a formula out; without values show it; without a name list them all.

    The exit code is 1 when the answer is unknown.

    Raises:
        NotFoundError: no such formula or session.
        UsageError: a word that is no key=value, or a key that is no input.
        InputError: a value is refused.
    """
    if not arguments.name:
        return Result(formulas_page(), formulas_data())
    formula = find_formula(arguments.name)
    if not arguments.values and not arguments.sheet:
        return Result(formula_page(formula), formula_data(formula))
    typed = _typed(formula, arguments.values)
    known, gauges = _from_sheet(formula, arguments) if arguments.sheet else ({}, GAUGES)
    answer = reckon(formula.id, {**known, **typed}, gauges, exact=arguments.exact)
    return Result(answer_page(answer), answer_data(answer), code=0 if answer.known else 1)


def _typed(formula: Formula, words: list[str]) -> dict[str, str]:
    """Return what was typed by the names of the inputs; a file's text stands for its name."""
    typed: dict[str, str] = {}
    for word in words:
        name, equals, text = word.partition("=")
        if not equals or not name.strip():
            raise UsageError(f"“{word[:40]}” is not key=value.", "Such as bore=70 or lash=4thou.")
        found = formula.find(name)
        key = found.name if found is not None else name
        if key in typed:
            raise UsageError(f"{key} is given twice.")
        is_file = found is not None and found.kind in FILE_KINDS
        typed[key] = _rows(text) if is_file else text
    return typed


def _rows(text: str) -> str:
    """Return the rows of a file, of standard input, or as they were typed."""
    if text.strip() in ("?", "") or (":" in text and not Path(text).exists()):
        return text
    from core.exchange import read_text, text_of  # lazy: 0.1 s, only for files

    if text == "-":
        if sys.stdin is None or sys.stdin.closed:
            raise InputError("Standard input is closed: there is no table to read.")
        return text_of(sys.stdin.buffer.read(), "standard input")
    return read_text(Path(text).expanduser())


def _from_sheet(
    formula: Formula, arguments: Namespace
) -> tuple[dict[str, str], Mapping[str, Instrument]]:
    """Return what sheet and coast-downs tell of the inputs, and the instruments of that log."""
    from core.bench import gauges_from  # lazy, as the rest: 0.1 s, only with a log
    from core.session.dragging import drag_inputs, drag_of_machine
    from core.verdict import sheet_of
    from tui.verbs.finding import the_session
    from tui.verbs.opening import open_to_read

    with open_to_read(arguments) as book:
        session = the_session(book, arguments.sheet)
        build = book.side(arguments.sheet)[1]
        if not session.sheets:
            raise InputError(f"{session.label} has no setup sheet to take anything from.")
        sheet = sheet_of(session, build) if build else session.sheets[-1]
        drag = drag_of_machine(book, session.machine)
        coasted = drag_inputs(drag) if drag is not None else {}
        known = {name: text for name, text in coasted.items() if formula.find(name) is not None}
        return known | prefilled(formula.id, sheet), gauges_from(book.gauges())
