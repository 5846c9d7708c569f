"""Orders of a day, drift taken out, repeats of one build over days, warm-up and fade."""

from __future__ import annotations

import numpy as np
import pytest

from core.stats import Verdict
from core.verdict.measuring import is_swapped_back
from tests.core.verdict.comparing import TIGHT, WIDE, air, faster, held, ran

S66: dict[str, float] = {}
S60 = {"final_sprocket_teeth": 60.0}


@pytest.mark.parametrize("order", ["ABA", "ABAB", "ABBA", "ABABA", "BAB"])
def test_a_longer_order_is_least_squares_on_build_and_time(order: str) -> None:
    """B is 0.30 s slower and the day gets 0.05 s slower a block: both come out, exactly."""
    blocks = [
        faster(TIGHT, -(0.30 if build == "B" else 0.0) - 0.05 * block)
        for block, build in enumerate(order)
    ]
    day = ran("S05", blocks, sheets=[S60 if build == "B" else S66 for build in order])
    letters = ("A", "B") if order[0] == "A" else ("B", "A")  # letters go by what ran first
    made = held(day, day, builds=letters)
    assert made.difference is not None
    assert is_swapped_back(made.a, made.b)
    assert made.difference.value == pytest.approx(0.30, abs=1e-6)
    assert made.drift == pytest.approx(0.05 * (len(order) - 1), abs=1e-6)
    assert made.verdict is Verdict.SLOWER

    values = [*made.a.values, *made.b.values]
    build = [0.0] * made.a.n + [1.0] * made.b.n
    block = [*made.a.blocks, *made.b.blocks]
    design = np.column_stack([np.ones(len(values)), build, block])
    fitted = np.linalg.lstsq(design, np.array(values), rcond=None)[0]
    assert made.difference.value == pytest.approx(float(fitted[1]))


def test_a_b_alone_keeps_the_drift_and_says_so() -> None:
    """Without a way back the drift is in the difference, and that is told."""
    day = ran("S05", [TIGHT, faster(TIGHT, -0.35)], sheets=[S66, S60])
    made = held(day, day, builds=("A", "B"))
    assert made.difference is not None
    assert made.difference.value == pytest.approx(0.35, abs=1e-6)
    assert made.drift is None
    assert "no revert run" in {s.id for s in made.situations}


def test_air_of_a_swapped_day_is_drift_and_no_allowance() -> None:
    """It warmed up by ten degrees: that goes with the drift, nothing is allowed for twice."""
    warming = (air(0, 15.0, hours=0.1), air(0, 25.0, hours=2.0))
    blocks = [TIGHT, faster(TIGHT, -0.30), TIGHT]
    day = ran("S05", blocks, sheets=[S66, S60, S66], air=warming)
    made = held(day, day, builds=("A", "B"))
    assert made.net is None
    assert made.decides == "raw"


def test_days_of_one_build_feed_the_day_spread_net_of_air() -> None:
    """Hot and cool days of one build in turn: as clocked they differ, in one air they hardly do."""
    hot = -0.44  # what 16 degrees more cost this machine, near enough
    days = [
        ran(
            f"R{i}",
            faster(TIGHT, hot * (i % 2)),
            day=40 + 7 * i,
            air=(air(40 + 7 * i, 16.0 + 16.0 * (i % 2)),),
        )
        for i in range(6)
    ]
    blind = [ran(f"R{i}", faster(TIGHT, hot * (i % 2)), day=40 + 7 * i, air=()) for i in range(6)]
    with_air, without = held(days[0], days[1], *days[2:]), held(blind[0], blind[1], *blind[2:])
    assert with_air.day_spread is not None
    assert without.day_spread is not None
    assert with_air.day_spread < 0.6 * without.day_spread
    assert with_air.raw_verdict is Verdict.SLOWER
    assert with_air.verdict is not Verdict.SLOWER


@pytest.mark.parametrize(
    ("times", "kind"),
    [
        ("W7.6 E7.6 W7.5 E7.5 W7.3 E7.3 W7.3 E7.3 W7.2 E7.2 W7.2 E7.2", "warm-up"),
        ("W7.2 E7.2 W7.2 E7.2 W7.3 E7.3 W7.3 E7.3 W7.5 E7.5 W7.6 E7.6", "fade"),
        ("W7.3 E7.3 W7.3 E7.3 W7.3 E7.3 W7.3 E7.3 W7.3 E7.3 W7.3 E7.3", "steady"),
    ],
)
def test_first_third_against_last_third(times: str, kind: str) -> None:
    """Getting quicker is warm-up, getting slower fade; with its range and its slope."""
    made = held(ran("S01"), ran("S02", times, day=7))
    found = made.moved[1]
    assert found is not None
    assert found.kind == kind
    assert found.low <= found.change <= found.high
    assert (found.per_attempt > 0) == (kind == "fade")
    assert made.moved[0] is not None
    assert made.moved[0].kind == "steady"


def test_more_days_are_offered_where_more_runs_will_not_do() -> None:
    """So many days more of each build; a coarser question takes fewer."""
    a, b = ran("S01", WIDE), ran("S02", WIDE, day=7)
    fine, coarse = (held(a, b, gain=gain).settle for gain in (0.15, 0.25))
    assert fine is not None
    assert coarse is not None
    assert fine.another_day
    assert fine.days is not None
    assert coarse.days is not None
    assert fine.days > coarse.days
    assert f"or run each build on {fine.days} more days" in fine.sentence
