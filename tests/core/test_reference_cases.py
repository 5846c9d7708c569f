"""Every check case of tests/data/reference/cases.json, by table; each case names its source.

Cases with ``"error": true`` must be refused. A quantity or an expected value that no table maps
fails. The environment variable REFERENCE_CASES names another file of the same form to run on.
"""

from __future__ import annotations

import json
import math
import os
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from core.errors import BackToBackError
from tests.core.reference import air, drive, engine, launch, stats, trace
from tests.core.reference.reading import Answers, Inputs, MissingInput, Rule, find_answer, to_si
from tests.core.reference.reading import scale as unit_scale

OWN_FILE = Path(__file__).parents[1] / "data" / "reference" / "cases.json"
FILE = Path(os.environ.get("REFERENCE_CASES", OWN_FILE))
CASES: list[dict[str, Any]] = json.loads(FILE.read_text("utf-8"))["cases"]
RULES: tuple[Rule, ...] = (
    *air.RULES,
    *engine.RULES,
    *launch.RULES,
    *drive.RULES,
    *trace.RULES,
    *stats.RULES,
)


def rule_for(case: dict[str, Any]) -> Rule:
    """Return the first rule of the case's topic whose pattern is in its quantity."""
    for rule in RULES:
        if rule.topic == case["topic"] and re.search(rule.quantity, case["quantity"], re.I):
            return rule
    raise AssertionError(f"no function is mapped to the quantity {case['quantity']!r}")


def agrees(found: Any, wanted: Any, tolerance: float) -> bool:
    """Compare numbers within a tolerance, lists one by one, everything else exactly."""
    if isinstance(wanted, list):
        return len(found) == len(wanted) and all(
            agrees(a, b, tolerance) for a, b in zip(found, wanted, strict=True)
        )
    if wanted is None or isinstance(wanted, bool | str):
        return type(found) is type(wanted) and bool(found == wanted)
    return isinstance(found, int | float) and math.isclose(
        found, wanted, rel_tol=1e-14, abs_tol=tolerance
    )


def check_value(name: str, expected: Any, answers: Answers) -> None:
    """Compute one expected value and hold it against the case's tolerance."""
    compute = find_answer(answers, name)
    assert compute is not None, f"no function is mapped to the expected value {name!r}"
    if not isinstance(expected, dict):
        expected = {"value": expected}
    unit = str(expected.get("unit", "1"))
    wanted = to_si(expected["value"], unit)
    found = compute()
    for one, value in _leaves(found, wanted, expected["value"]):
        span = expected.get("tol_abs", 0.0) * unit_scale(unit) if "tol_abs" in expected else 0.0
        if "tol_rel" in expected and isinstance(value[1], int | float):
            span = max(span, abs(expected["tol_rel"] * value[1]) * unit_scale(unit))
        assert agrees(one, value[0], span), f"{name}: {one!r} is not {value[0]!r} within {span:g}"


def _leaves(found: Any, wanted: Any, raw: Any) -> list[tuple[Any, tuple[Any, Any]]]:
    if isinstance(raw, list):
        assert len(found) == len(raw), f"{len(found)} values, not {len(raw)}"
        return [
            leaf for a, b, c in zip(found, wanted, raw, strict=True) for leaf in _leaves(a, b, c)
        ]
    return [(found, (wanted, raw))]


def refusals(rule: Rule, given: Inputs) -> int:
    """Return how many answers of a case are refused; those it gives no inputs for do not count."""
    try:
        answers = rule.answers(given)
    except BackToBackError:
        return 1
    count = 0
    for name, compute in answers.items():
        if re.compile(name).groups:  # its value stands in the name of an expected value
            continue
        try:
            compute()
        except BackToBackError:
            count += 1
        except MissingInput:
            continue
    return count


@pytest.mark.parametrize("case", CASES, ids=[case["id"] for case in CASES])
def test_case(case: dict[str, Any]) -> None:
    """The core function gives the expected values, or refuses what must be refused."""
    rule, given = rule_for(case), Inputs(case["inputs"])
    expected = case["expected"]
    if expected.get("error") is True:
        assert refusals(rule, given) > 0, case.get("note", "must be refused")
        return
    answers = rule.answers(given)
    for name, value in expected.items():
        check_value(name, value, answers)


def test_every_case_names_its_source() -> None:
    """A check without a source is no outside check."""
    assert CASES
    assert [case["id"] for case in CASES if not case.get("source")] == []


def test_another_file_is_run_when_named(tmp_path: Path) -> None:
    """REFERENCE_CASES names a file; a right value passes, a wrong or unmapped one fails."""
    bore, stroke = ({"value": v, "unit": "mm"} for v in (68.0, 54.0))
    case = {"topic": "C", "quantity": "swept volume", "source": "closed form"}
    volumes = [("right", 196.1107798), ("wrong", 196.2)]
    cases: list[dict[str, Any]] = [
        case
        | {"id": name, "inputs": {"bore": bore, "stroke": stroke}}
        | {"expected": {"swept_volume": {"value": value, "unit": "cm^3", "tol_rel": 1e-6}}}
        for name, value in volumes
    ]
    cases.append(cases[0] | {"id": "unmapped", "quantity": "colour"})
    refused = {"bore": {"value": 0, "unit": "mm"}, "stroke": stroke}
    cases.append(cases[0] | {"id": "refused", "inputs": refused, "expected": {"error": True}})
    other = tmp_path / "other.json"
    other.write_text(json.dumps({"cases": cases}), "utf-8")
    run = subprocess.run(
        [sys.executable, "-m", "pytest", __file__, "-k", "test_case", "-n", "0", "-rA"],
        env=os.environ | {"REFERENCE_CASES": str(other)},
        cwd=Path(__file__).parents[2],
        capture_output=True,
        text=True,
        check=False,
    )
    said = set(re.findall(r"^(PASSED|FAILED) .*\[(\w+)\]", run.stdout, re.M))
    assert said == {
        ("PASSED", "right"),
        ("FAILED", "wrong"),
        ("FAILED", "unmapped"),
        ("PASSED", "refused"),
    }


def test_unmapped_quantity_fails() -> None:
    """A quantity that nobody mapped is not passed over in silence."""
    with pytest.raises(AssertionError, match="no function is mapped"):
        rule_for({"topic": "A", "quantity": "colour of the sky"})
