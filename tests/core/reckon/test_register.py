"""The formula register: nothing of the formula rooms is missing, and every row works out right."""

from __future__ import annotations

import inspect
from importlib import import_module
from typing import Any

import pytest

from core.errors import NotFoundError
from core.reckon import FORMULAS, LEFT_OUT, PAGES, Formula, find_formula, reckon
from core.reckon.si import SCALES, from_si, to_si
from core.units import find_unit
from tests.core.reckon.cases import CASES, Case

ROOMS = ("air", "engine", "drive")
HARMFUL = {
    "compression-ratio", "head-gap", "clay-projection", "spring-margin", "retainer-margin",
    "mean-piston-speed", "rod-load", "rod-pull", "rim-speed", "lowest-limit", "sprocket-table",
    "stopping-distance", "top-speed", "engine-speed", "deck-after-stroke", "full-speed",
}  # fmt: skip


def public_functions() -> set[str]:
    """Return every public function of the formula rooms, as the register names them."""
    found = set()
    for room in ROOMS:
        package = import_module(f"core.{room}")
        names = (n for n in package.__all__ if inspect.isfunction(getattr(package, n)))
        found |= {f"{room}.{name}" for name in names}
    return found


def test_every_public_formula_is_in_it_or_left_out_with_a_reason() -> None:
    covered = {name for formula in FORMULAS.values() for name in formula.covers}
    assert covered | set(LEFT_OUT) == public_functions()
    assert not covered & set(LEFT_OUT)
    assert all(len(reason.split()) > 3 for reason in LEFT_OUT.values())


def test_ids_are_trade_words_and_stand_once() -> None:
    ids = [one.id for page in PAGES.values() for one in page]
    assert len(ids) == len(set(ids)) == len(FORMULAS)
    for name in ids:
        assert name == name.lower()
        assert name.replace("-", "").isalnum()


@pytest.mark.parametrize("formula", FORMULAS.values(), ids=lambda f: f.id)
def test_a_row_is_whole(formula: Formula) -> None:
    assert formula.title
    assert formula.equation
    assert formula.source
    assert formula.outputs
    names = [one.name for one in formula.inputs]
    assert len(names) == len(set(names))
    spellings = [spelling for one in formula.inputs for spelling in one.spellings]
    assert len(spellings) == len(set(spellings)), "two inputs answer to one name"
    units = [one.unit for one in formula.inputs] + [one.unit for one in formula.outputs]
    assert all(unit in SCALES and find_unit(unit).symbol == unit for unit in units)
    for one in formula.inputs:
        assert one.label
        assert not (one.required and one.default)
    if formula.id in HARMFUL:
        assert formula.caution.endswith(".")


@pytest.fixture(scope="module")
def registry() -> Any:
    """Pint's own definitions, none of ours; half a second to make."""
    import pint

    return pint.UnitRegistry(autoconvert_offset_to_baseunit=True)


@pytest.mark.parametrize("unit", SCALES)
def test_scales_agree_with_the_table_of_units(registry: Any, unit: str) -> None:
    """An independent route: Pint, with the SI unit of the same kind."""
    kept = ("revolution / minute", "degree", "percent", "dimensionless")
    spelt = find_unit(unit).pint
    for value in (0.0, 1.0, 37.5):
        if spelt not in kept:
            wanted = registry.Quantity(value, spelt).to_base_units().magnitude
            assert to_si(value, unit) == pytest.approx(wanted, rel=1e-12)
        assert from_si(to_si(value, unit), unit) == pytest.approx(value, abs=1e-12)


def test_every_formula_has_a_worked_case() -> None:
    assert {case.formula for case in CASES} == set(FORMULAS)


@pytest.mark.parametrize("case", CASES, ids=lambda c: c.formula)
def test_worked_cases(case: Case) -> None:
    answer = reckon(case.formula, case.typed, exact=True)
    assert answer.known, answer.unknown
    found = {one.output.name: one.value for one in answer.results}
    for name, wanted in case.expected.items():
        value = found[name]
        assert value is not None, name
        assert value.value == pytest.approx(wanted, rel=case.rel, abs=1e-9), (name, case.source)
        assert value.is_exact


@pytest.mark.parametrize("case", CASES, ids=lambda c: c.formula)
def test_the_usual_doubts_widen_and_never_move(case: Case) -> None:
    exact, doubtful = (reckon(case.formula, case.typed, exact=e) for e in (True, False))
    for one, other in zip(exact.results, doubtful.results, strict=True):
        if one.value is None or other.value is None:
            assert one.value is other.value
            continue
        assert other.value.value == pytest.approx(one.value.value)
        assert other.value.low <= one.value.value <= other.value.high


def test_a_run_over_the_way_of_a_run_to_a_speed_takes_as_long() -> None:
    """A route of its own for run-over-distance."""
    typed = next(c.typed for c in CASES if c.formula == "acceleration")
    to_speed = reckon("acceleration", typed, exact=True)
    way = to_speed.results[1].value
    assert way is not None
    over = {k: v for k, v in typed.items() if k != "target"} | {"distance": repr(way.value)}
    found = reckon("run-over-distance", over, exact=True).results
    assert found[0].value is not None
    assert to_speed.results[0].value is not None
    assert found[0].value.value == pytest.approx(to_speed.results[0].value.value, rel=1e-6)


@pytest.mark.parametrize("name", ["Compression ratio", "compression_ratio", " COMPRESSION-RATIO "])
def test_finding_by_any_spelling(name: str) -> None:
    assert find_formula(name).id == "compression-ratio"


def test_a_name_that_is_none_offers_the_nearest() -> None:
    with pytest.raises(NotFoundError, match="nearest are compression-ratio"):
        find_formula("compresion-ratio")
    with pytest.raises(NotFoundError, match=r"“.{1,42}” *[.;]"):
        find_formula("x\x1b[31m" + "y" * 200)
