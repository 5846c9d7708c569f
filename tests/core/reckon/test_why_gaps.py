"""Why a gap between valve and piston is what it is: the clay, what changed since, both bounds."""

from __future__ import annotations

from core.bench import BenchReading, ClaySide, ClayTaken, LiftTaken, Past
from core.reckon import Why, WhyInput, gaps_on, why
from core.setup import Sheet
from tests.core.reckon.moth import SHEET, lift_table
from tests.core.setup.making import NOON, changed


def past(*, table: bool = False, lash_zero: bool = True) -> Past:
    """Return clay of 3.5 and 3.0 mm taken on the sheet, and a lift table where it is asked for."""
    around = dict(SHEET.readings)
    sides = (ClaySide(state="touched", thinnest=gap) for gap in (3.5, 3.0))
    clay = ClayTaken(intake=next(sides), exhaust=next(sides), lash_zero=lash_zero)
    taken = [BenchReading(id="c", what="clay", at=NOON, machine="m", clay=clay, around=around)]
    if table:
        lobe = lift_table(104)
        rows = LiftTaken(
            side="intake", angles=lobe.angles, lifts=tuple(x * 1e3 for x in lobe.lifts)
        )
        taken.append(
            BenchReading(id="t", what="lift table", at=NOON, machine="m", lift=rows, around=around)
        )
    return Past(tuple(taken))


def inputs(found: Why) -> dict[str, WhyInput]:
    return {one.slot or one.label: one for one in found.inputs}


def test_without_a_table_both_bounds_are_explained() -> None:
    sheet = changed(SHEET, rocker_ratio="1.25")
    found = why(sheet, "gap_intake", past=past())
    assert "guaranteed lower bound" in found.value
    assert "optimistic estimate 3.50 mm" in found.value
    assert (found.low, found.high) == (None, None)
    told = inputs(found)
    assert told["rocker_ratio"].words == "1.25:1 (under the clay 1.00:1)"
    assert told["clay under the intake valve"].line.startswith(
        "clay under the intake valve 3.5 mm ±0.2 (clay), bench reading, 26 Jul 2026"
    )
    assert not told["lift table of the intake lobe"].known
    assert "lash_intake" not in told
    assert "the lower bound is never more than the gap" in found.note
    assert found.equation
    assert found.source
    assert "turn the engine two turns by hand" in found.caution


def test_with_a_table_it_is_exact_and_says_where() -> None:
    sheet, file = changed(SHEET, rocker_ratio="1.25"), past(table=True)
    found = why(sheet, "gap_intake", past=file)
    gap = gaps_on(sheet, file.clay(sheet), file.tables(sheet), halves=file.halves(sheet))[0]
    assert gap.exact is not None
    assert (found.value, found.low, found.high) == (gap.words, gap.exact.low, gap.exact.high)
    assert "Closest at" in found.note
    assert inputs(found)["lift table of the intake lobe"].words == "171 rows, highest 5.80 mm"


def test_lash_counts_where_the_clay_was_taken_with_it() -> None:
    assert "lash_exhaust" in inputs(why(SHEET, "gap_exhaust", past=past(lash_zero=False)))


def test_no_clay_is_said_and_is_no_number() -> None:
    found = why(Sheet(), "gap_exhaust")
    assert found.value == "cannot say: no clay reading is on file."
    assert [one.known for one in found.inputs] == [False, False]
