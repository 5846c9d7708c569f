"""Why a derived value of the setup sheet is what it is: formula, inputs, source, range."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from core.bench import Past, taken_for
from core.reckon.register import FORMULAS
from core.reckon.why_gaps import GAPS, why_gap
from core.reckon.why_parts import Why, WhyInput, why_input
from core.setup import FACTORY_RPM, Derived, Sheet, derived_value, over_speed_words, slot_of

__all__ = ["FORMULA_OF", "Why", "WhyInput", "why"]

FORMULA_OF: Mapping[str, str] = MappingProxyType(
    {
        "swept_volume": "swept-volume",
        "compression_ratio": "compression-ratio",
        "head_gap": "head-gap",
        "valve_lift_intake": "valve-lift",
        "valve_lift_exhaust": "valve-lift",
        "spring_margin_intake": "spring-margin",
        "spring_margin_exhaust": "spring-margin",
        "mean_piston_speed": "mean-piston-speed",
        "relative_rod_load": "rod-load",
        "overall_ratio": "overall-ratio",
        "speed_per_1000": "road-speed",
        "total_mass": "",
        "lowest_rpm_limit": "lowest-limit",
    }
)
"""By derived value: the formula of the register behind it; empty: a plain sum."""

_STEPS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "compression_ratio": ("swept_volume",),
        "spring_margin_intake": ("valve_lift_intake",),
        "spring_margin_exhaust": ("valve_lift_exhaust",),
        "speed_per_1000": ("overall_ratio",),
    }
)
"""By derived value: those that it goes through."""

_NOTHING = Past()


def why(
    sheet: Sheet,
    derived_id: str,
    *,
    rpm_factory: float = FACTORY_RPM,
    past: Past = _NOTHING,
    before: Sheet | None = None,
) -> Why:
    """Return where a derived value of a sheet comes from.

    Args:
        sheet: any.
        derived_id: id of a value that `core.setup.derived` gives, or ``gap_intake`` and
            ``gap_exhaust`` for the gaps between valves and piston.
        rpm_factory: governed speed of the machine as its maker built it, rpm.
        past: bench readings and instruments of the machine; ranges come from them.
        before: the sheet as the machine stands, where ``sheet`` is a plan; None: it is none.

    Raises:
        KeyError: there is no such derived value.
    """
    if derived_id in GAPS:
        return why_gap(GAPS[derived_id], sheet, past, before or sheet)
    halves, taken = past.halves(sheet), taken_for(sheet, past.taken)
    found = derived_value(sheet, derived_id, rpm_factory, halves)
    formula = FORMULAS.get(FORMULA_OF[derived_id])
    return Why(
        id=derived_id,
        title=found.label,
        value=found.words,
        equation=found.formula,
        inputs=tuple(
            why_input(slot, sheet, taken.get(slot), halves, past) for slot in found.inputs
        ),
        source=formula.source if formula else "definition",
        low=found.low,
        high=found.high,
        note=_note(found, sheet, rpm_factory),
        caution=formula.caution if formula else "",
        steps=tuple(_step(sheet, step, halves) for step in _STEPS.get(derived_id, ())),
        formula=formula.id if formula else "",
    )


def _step(sheet: Sheet, step: str, halves: Mapping[str, float]) -> str:
    found = derived_value(sheet, step, halves=halves)
    return f"{found.label} {found.words}"


def _note(found: Derived, sheet: Sheet, rpm_factory: float) -> str:
    said = []
    if found.missing:
        names = ", ".join(slot_of(slot).label for slot in found.missing)
        counted = f"; counted as {rpm_factory:,.0f}" if found.value is not None else ""
        said.append(f"Not known: {names}{counted}.")
    if found.refused:
        said.append(found.refused)
    if found.estimated and found.value is not None:
        said.append("An input is an estimate or was copied, so this is an estimate.")
    if found.id in ("lowest_rpm_limit", "relative_rod_load", "mean_piston_speed"):
        said.append(over_speed_words(sheet, rpm_factory))
    return " ".join(said)
