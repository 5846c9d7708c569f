"""Comparisons of what is missing, late, one-sided or odd: an honest sentence, never a fault."""

from __future__ import annotations

import json
import math
from collections.abc import Callable

import msgspec
import pytest

from core.report.comparing import comparison_data
from core.session import Session
from core.stats import Verdict
from core.verdict import Comparison
from core.verdict.allowing.fit import fit_road
from tests.core.verdict.comparing import TIGHT, WIDE, air, faster, held, ran, struck


def _ids(made: Comparison) -> set[str]:
    return {s.id for s in made.situations}


def _numbers(value: object) -> list[float]:
    if isinstance(value, dict):
        return [n for one in value.values() for n in _numbers(one)]
    if isinstance(value, list):
        return [n for one in value for n in _numbers(one)]
    return [float(value)] if isinstance(value, int | float) else []


def _no_air() -> Comparison:
    return held(ran("S01", air=()), ran("S02", faster(TIGHT, 0.1), day=7, air=()))


def _air_hours_later() -> Comparison:
    late = air(7, 25.0, hours=5.0, entered=air(7, hours=9.0).observed)
    return held(ran("S01"), ran("S02", day=7, air=(late,)))


def _wind_from_nowhere() -> Comparison:
    return held(ran("S01"), ran("S02", day=7, air=(air(7, wind=2.5, wind_from=""),)))


def _one_direction() -> Comparison:
    return held(ran("S01"), ran("S02", "W7.3 W7.2 W7.3 W7.2", day=7))


def _all_struck() -> Comparison:
    return held(ran("S01"), struck(ran("S02", day=7), *range(1, 9)))


def _identical() -> Comparison:
    same = "W7.3 E7.3 W7.3 E7.3"
    return held(ran("S01", same), ran("S02", same, day=7))


def _one_attempt() -> Comparison:
    return held(ran("S01"), ran("S02", "W7.3", day=7))


def _everything_differs() -> Comparison:
    other = {
        "bore": 68.0, "stroke": 58.0, "engine_sprocket_teeth": 10.0, "final_sprocket_teeth": 72.0,
        "circumference": 0.9, "engagement_rpm": 2000.0, "machine_mass": 90.0, "rider_mass": 60.0,
        "exhaust_length": 500.0, "rocker_ratio": 1.3, "main_jet": 90.0, "ignition_timing": 30.0,
    }  # fmt: skip
    return held(ran("S01"), ran("S02", faster(TIGHT, -1.0), day=7, sheets=(other,)))


def _no_place() -> Comparison:
    return held(ran("S01", place=""), ran("S02", day=7, place=""))


def _empty_sheets() -> Comparison:
    bare = msgspec.structs.replace
    a, b = ran("S01"), ran("S02", day=7)
    return held(
        bare(a, sheets=(bare(a.sheets[0], readings={}),)),
        bare(b, sheets=(bare(b.sheets[0], readings={}),)),
    )


def _does_not_fit() -> Comparison:
    heavy = ({"machine_mass": 15.0, "rider_mass": 20.0, "final_sprocket_teeth": 30.0},)
    slow = faster(TIGHT, -60.0)
    return held(ran("S01", slow, sheets=heavy), ran("S02", slow, day=7, sheets=heavy))


def _not_reached() -> Comparison:
    tall = ({"final_sprocket_teeth": 12.0, "machine_mass": 390.0, "rider_mass": 240.0},)
    return held(ran("S01", sheets=tall), ran("S02", day=7, sheets=tall))


def _impossible_air() -> Comparison:
    return held(ran("S01"), ran("S02", day=7, air=(air(7, temperature=900.0),)))


def _hill() -> Comparison:
    def climbed(label: str, day: int) -> Session:
        up = "20.1 20.4 20.2 20.3"
        return ran(label, up, day=day, test="hill", directions=(), timing="hand")

    return held(climbed("S01", 0), climbed("S02", 7))


CASES: dict[str, tuple[Callable[[], Comparison], str, str]] = {
    # what is odd: what brings it about, situation that says so, words of its sentence
    "no air at all": (_no_air, "air not read", "No air was read in S01 and S02"),
    "air typed hours later": (_air_hours_later, "air stale", "S02 5 h"),
    "wind without direction": (_wind_from_nowhere, "wind from nowhere", "without where it came"),
    "one direction only": (_one_direction, "one way", "ran W"),
    "all struck": (_all_struck, "", "All attempts of S02 are struck: nothing to compare."),
    "identical times": (_identical, "", "Can't tell yet: no difference"),
    "one attempt": (_one_attempt, "one attempt", "a story, not a result"),
    "everything differs": (_everything_differs, "several changes", "things changed"),
    "no place": (_no_place, "", "Can't tell yet"),
    "empty sheets": (_empty_sheets, "", "Can't tell yet"),
    "a fit that does not settle": (_does_not_fit, "model open", "usual numbers are used"),
    "a speed that is not reached": (_not_reached, "no model", "does not reach 50 km/h"),
    "air that cannot be": (_impossible_air, "no model", "no air on the ground"),
    "a test without a model": (_hill, "no model", "no model of a marked hill"),
}


@pytest.mark.parametrize("case", CASES)
def test_an_honest_sentence(case: str) -> None:
    """Said in words; every number there is, is one; it can be written out for scripts."""
    make, situation, words = CASES[case]
    made = make()
    said = next((s.sentence for s in made.situations if s.id == situation), made.sentence)
    assert words in said
    assert situation in _ids(made) | {""}
    data = json.loads(json.dumps(comparison_data(made), default=str))
    assert all(math.isfinite(number) for number in _numbers(data))
    assert "nan" not in json.dumps(data).casefold().replace("finan", "")


def test_air_that_was_not_read_widens_and_never_shifts() -> None:
    """The net value is the raw one, its range wider; read on one side only is as good as none."""
    none, both = _no_air(), held(ran("S01"), ran("S02", faster(TIGHT, 0.1), day=7))
    one = held(ran("S01", air=()), ran("S02", faster(TIGHT, 0.1), day=7, air=(air(7, 33.0),)))
    for made in (none, one):
        assert made.net is not None
        assert made.difference is not None
        assert both.net is not None
        assert made.net.value == pytest.approx(made.difference.value, abs=0.02)
        assert made.net.high - made.net.low > both.net.high - both.net.low
        assert "allowed for" not in made.sentence


def test_a_late_reading_is_doubted_more() -> None:
    """Five hours away: the range of the allowance is wider, and it is said."""
    late, soon = _air_hours_later(), held(ran("S01"), ran("S02", day=7, air=(air(7, 25.0),)))
    widths = []
    for made in (late, soon):
        assert made.allowances is not None
        assert made.allowances.explained is not None
        part = made.allowances.explained.part("air")
        widths.append(part.high - part.low)
    assert widths[0] > 1.5 * widths[1]
    assert "air stale" not in _ids(soon)


def test_on_one_day_what_nobody_read_is_the_same() -> None:
    """Nothing is allowed for, and the raw range decides."""
    made = held(ran("S01", air=()), ran("S02", faster(TIGHT, 0.1), air=()))
    assert made.same_day
    assert made.net is None
    assert made.decides == "raw"


def test_held_back_stays_held_back_with_air_known() -> None:
    """A cap is stronger than any allowance."""
    made = held(ran("S01", WIDE), ran("S02", "W6.1 W6.2 W6.0 W6.1", day=7))
    assert made.verdict is Verdict.CANT_TELL
    assert made.raw_verdict is Verdict.CANT_TELL


def test_a_fit_to_nothing_is_the_usual_machine() -> None:
    """No mean at all: the usual numbers, and it says so."""
    found = fit_road(())
    assert not found.converged
    assert "usual numbers are used" in found.sentence
