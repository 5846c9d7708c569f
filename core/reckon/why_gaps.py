"""Why a gap between valve and piston is what it is: the clay, and what changed since."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType

from core.bench import ClayOnFile, Past, Side, TableOnFile, taken_for
from core.reckon.gaps import Gap, gaps_on
from core.reckon.register import FORMULAS
from core.reckon.why_parts import Why, WhyInput, why_input
from core.setup import Reading, Sheet, reading_words, same_reading, slot_of
from core.units import format_number

__all__ = ["GAPS", "why_gap"]

GAPS: Mapping[str, Side] = MappingProxyType({"gap_intake": "intake", "gap_exhaust": "exhaust"})
"""By id of the value: the valve."""

_FORMULA = FORMULAS["clay-projection"]
_HANGS_ON = (
    "rocker_ratio", "lobe_lift_{}", "lash_{}", "gasket_thickness", "deck", "head_milled", "stroke",
    "rod_length", "cam_centre",
)  # fmt: skip


def why_gap(side: Side, sheet: Sheet, past: Past, before: Sheet) -> Why:
    """Return where the gap of one valve on a sheet comes from.

    Args:
        side: intake or exhaust.
        sheet: the build asked about.
        past: clay readings, lift tables and instruments of the machine.
        before: the sheet as the machine stands; clay and tables are those of this one.
    """
    clay, tables = past.clay(before), past.tables(before)
    at = 0 if side == "intake" else 1
    gap = gaps_on(sheet, clay, tables, halves=past.halves(sheet))[at]
    return Why(
        id=f"gap_{side}",
        title=f"{side} valve-to-piston gap",
        value=gap.words,
        equation=_FORMULA.equation,
        inputs=tuple(_inputs(side, sheet, past, clay, tables.sides[at])),
        source=_FORMULA.source,
        low=gap.exact.low if gap.exact else None,
        high=gap.exact.high if gap.exact else None,
        note=_note(gap, clay),
        caution=_FORMULA.caution,
        formula=_FORMULA.id,
    )


def _inputs(
    side: Side, sheet: Sheet, past: Past, clay: ClayOnFile | None, table: TableOnFile | None
) -> Iterator[WhyInput]:
    yield _clay_input(side, clay)
    yield _table_input(side, table)
    halves, taken = past.halves(sheet), taken_for(sheet, past.taken)
    then = clay.sheet if clay is not None else sheet
    for name in _HANGS_ON:
        slot = name.format(side)
        if clay is not None and clay.lash_zero and slot.startswith("lash_"):
            continue  # the clay was taken without any, and the gap is told without any
        if slot not in sheet.readings and slot not in then.readings:
            continue
        one = why_input(slot, sheet, taken.get(slot), halves, past)
        yield _with_then(one, then.readings.get(slot), sheet.readings.get(slot))


def _with_then(one: WhyInput, then: Reading | None, now: Reading | None) -> WhyInput:
    """Return an input with what it was when the clay was taken, where it is another now."""
    if same_reading(then, now):
        return one
    was = reading_words(slot_of(one.slot), then)
    return WhyInput(
        one.slot, one.label, f"{one.words} (under the clay {was})", one.state, one.known, one.half,
        one.instrument, one.note,
    )  # fmt: skip


def _clay_input(side: Side, clay: ClayOnFile | None) -> WhyInput:
    reading = None if clay is None else clay.sides[0 if side == "intake" else 1]
    label = f"clay under the {side} valve"
    if clay is None or reading is None:
        return WhyInput("", label, "none on file", "not recorded", known=False, half=0.0,
                        instrument="")  # fmt: skip
    when = "" if clay.at is None else f", {clay.at.day} {clay.at:%b %Y}"
    taken_up = "" if clay.lash_zero else ", lash not taken up"
    how = "light springs and dial gauge" if clay.dial else "clay"
    return WhyInput(
        "", label, reading.text(), f"{clay.source}{when}{taken_up}", known=True, half=clay.half,
        instrument=how,
    )  # fmt: skip


def _table_input(side: Side, table: TableOnFile | None) -> WhyInput:
    label = f"lift table of the {side} lobe"
    if table is None:
        return WhyInput("", label, "none on file", "not recorded", known=False, half=0.0,
                        instrument="")  # fmt: skip
    when = "bench reading" if table.at is None else f"{table.at.day} {table.at:%b %Y}"
    rows = f"{len(table.table.angles)} rows, highest {format_number(table.table.peak * 1e3, 2)} mm"
    return WhyInput("", label, rows, when, known=True, half=0.0, instrument="")


def _note(gap: Gap, clay: ClayOnFile | None) -> str:
    said = []
    if gap.closest is not None:
        said.append(f"Closest at {gap.closest:+.1f}° from the top between exhaust and intake.")
    if gap.exact is None and gap.guaranteed is not None:
        said.append(
            "Without a lift table nobody knows where valve and piston come closest: the lower bound"
            " is never more than the gap, the optimistic estimate never less, if the readings hold."
        )
    if gap.own is not None:
        said.append(f"Your own least is {format_number(gap.own)} mm.")
    if clay is not None and clay.lash_zero:
        said.append("Told with the lash taken up, as the clay was.")
    return " ".join(said)
