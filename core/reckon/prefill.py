"""Inputs of a formula as a setup sheet already tells them."""

from __future__ import annotations

from core.reckon.register import find_formula
from core.setup import Sheet, known_value
from core.setup.sums import gear_inputs
from core.units import format_number

__all__ = ["prefilled"]


def prefilled(name: str, sheet: Sheet) -> dict[str, str]:
    """Return what a sheet tells of a formula's inputs, as it would be typed; the rest is left out.

    Args:
        name: id of the formula.
        sheet: values that are unknown, bounded or no longer hold are left out.

    Raises:
        NotFoundError: no such formula.
    """
    found = {}
    for one in find_formula(name).inputs:
        value = known_value(sheet.readings.get(one.slot)) if one.slot else None
        if value is not None:
            found[one.name] = format_number(value)
        elif one.kind == "stages" and one.required:
            stages = _stages(sheet)
            found |= {one.name: stages} if stages else {}
    return found


def _stages(sheet: Sheet) -> str:
    """Return the teeth of every stage, or nothing when one is not known."""
    slots = gear_inputs(sheet)
    teeth = {slot: known_value(sheet.readings.get(slot)) for slot in slots}
    if any(count is None for count in teeth.values()):
        return ""
    known = {slot: format_number(count) for slot, count in teeth.items() if count is not None}
    first, last = known["engine_sprocket_teeth"], known["final_sprocket_teeth"]
    if "jackshaft_in_teeth" not in known:
        return f"{first}/{last}"
    return f"{first}/{known['jackshaft_in_teeth']},{known['jackshaft_out_teeth']}/{last}"
