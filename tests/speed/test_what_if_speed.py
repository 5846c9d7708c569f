"""What an update of a plan costs: lift tables of 360 rows, ranges carried, a long list of answers.

Measured with ``pytest tests/speed -n 0 --benchmark-enable``; skipped otherwise. The figure to hold
is the project's own: 50 ms an update, so that the two sides follow the typing.
"""

from __future__ import annotations

from itertools import cycle
from typing import Any

import pytest

from core.bench import LiftTables, Past, TableOnFile, halves_on
from core.checks import CheckRecord, Cleared
from core.reckon import WhatIf, beside_check, what_if
from tests.core.reckon.moth import CLAY, SHEET, lift_table
from tests.core.setup.making import NOON

ROWS = 360
MOST = 0.050  # s
TABLES = LiftTables(
    TableOnFile(lift_table(104, ROWS), 104.0, NOON),
    TableOnFile(lift_table(-108, ROWS), 104.0, NOON),
)
HISTORY = tuple(
    Cleared(
        session=f"s{i}",
        sheet=SHEET,
        record=CheckRecord(
            rule=rule, result="3.5 3.0 of 4", value=3.5, second=3.0, answer="cleared", at=NOON,
            slots=("rocker_ratio",),
        ),
    )
    for i in range(200)
    for rule in ("valve_to_piston", "lash", "spring_margin")
)  # fmt: skip


@pytest.fixture
def measured(benchmark: Any) -> Any:
    """Return the benchmark, where one is being made."""
    if benchmark.disabled:
        pytest.skip("measured with: pytest tests/speed -n 0 --benchmark-enable")
    return benchmark


def plans() -> dict[str, dict[str, str]]:
    """Return plans that differ each time, so that nothing but the table itself is known before."""
    return {
        "rockers and gasket": {"rocker_ratio": "1.{:03d}", "gasket_thickness": "0.8"},
        "cam moved": {"cam_centre": "10{:.3f}", "rocker_ratio": "1.25"},
        "longer stroke": {"stroke": "5{:.3f}", "gasket_thickness": "0.8"},
    }


def filled(texts: dict[str, str], turn: int) -> dict[str, str]:
    """Return a plan with numbers of this turn."""
    return {
        slot: text.format(turn if ":03d" in text else 1 + turn / 100) if "{" in text else text
        for slot, text in texts.items()
    }


@pytest.mark.parametrize("name", plans())
def test_an_update_of_a_plan(measured: Any, name: str) -> None:
    texts, turns = plans()[name], cycle(range(1, 500))
    halves = halves_on(SHEET)

    def update() -> WhatIf:
        return what_if(
            SHEET, filled(texts, next(turns)), clay=CLAY, lift_tables=TABLES, halves=halves,
            history=HISTORY, top_speed=60.0,
        )  # fmt: skip

    plan = measured.pedantic(update, rounds=40, warmup_rounds=2)
    for gap in plan.after.gaps:
        assert gap.exact is not None
        assert gap.exact.low < gap.exact.value < gap.exact.high
    assert plan.after.value("compression_ratio").high is not None
    measured.extra_info["ms"] = 1000 * measured.stats.stats.median
    assert measured.stats.stats.median <= MOST


def test_the_sentence_beside_a_check(measured: Any) -> None:
    past = Past(answers=HISTORY)
    plan = what_if(SHEET, {"rocker_ratio": "1.25"})
    record = CheckRecord(rule="valve_to_piston")
    said = measured(lambda: beside_check(record, SHEET, plan.after.sheet, past))
    assert said.endswith("Clay is due anyway.")
    measured.extra_info["ms"] = 1000 * measured.stats.stats.median
    assert measured.stats.stats.median <= MOST
