"""Situations of what was changed: packages, tests that cannot see it, tunes and tyres."""

from __future__ import annotations

from core.setup import Change, slot_of
from core.verdict.acting import cannot_see
from core.verdict.case import Case
from core.verdict.measuring import is_swapped_back
from core.verdict.sides import sheet_of
from core.verdict.wording import joined

__all__ = [
    "jetting_not_redone",
    "machine_mass_differs",
    "no_revert_run",
    "speed_by_tyre_size",
    "test_cannot_see",
]

_BREATHING = frozenset(
    {"exhaust", "exhaust_diameter", "exhaust_length", "silencer", "air_filter", "carb", "venturi"}
    | {"intake_adapter", "intake_length", "cam", "head", "rockers", "valves_intake"}
)
_JETTING = frozenset({"main_jet", "pilot_jet", "needle_clip", "idle_mixture"})
_TYRES = frozenset({"tyre_rear", "tyre_size_rear", "wheel_rear"})
_MASS_KG = 1.0


def test_cannot_see(case: Case) -> str | None:
    """The test misses the engine speeds where every change acts."""
    if not case.made.b.build:
        return None
    sheet = sheet_of(case.session_b, case.made.b.build)
    return cannot_see(case.test, sheet, [change.slot for change in case.made.causes])


def no_revert_run(case: Case) -> str | None:
    """A changed to B on one day and never back."""
    made = case.made
    if not case.causes or not made.same_day or is_swapped_back(made.a, made.b):
        return None
    return (
        f"{made.a.label} was not run again after {made.b.label}: what the day did meanwhile "
        "cannot be told from the change. Going back once would."
    )


def _names(case: Case, slots: frozenset[str]) -> str:
    return joined([slot_of(c.slot).label for c in case.made.causes if c.slot in slots])


def jetting_not_redone(case: Case) -> str | None:
    """Something of the breathing was changed, and no jet."""
    if not case.causes & _BREATHING or _changed_slots(case) & _JETTING:
        return None
    return (
        f"{_names(case, _BREATHING).capitalize()} changed and the jetting did not: the part may "
        "have been tested in a wrong tune."
    )


def _changed_slots(case: Case) -> frozenset[str]:
    return frozenset(change.slot for change in case.made.changed)


def speed_by_tyre_size(case: Case) -> str | None:
    """Another driven tyre with the rolling circumference of the old one."""
    if not case.causes & _TYRES or "circumference" in _changed_slots(case):
        return None
    return (
        f"{_names(case, _TYRES).capitalize()} changed and the rolling circumference is still that "
        "of before: gearing and any wheel-driven speed are off by as much. Roll it out again."
    )


def machine_mass_differs(case: Case) -> str | None:
    """The machine itself got lighter or heavier: that belongs to the build."""
    change = next((c for c in case.made.changed if c.slot == "machine_mass"), None)
    apart = _apart(change)
    if apart is None or abs(apart) < _MASS_KG:
        return None
    than = "heavier" if apart > 0.0 else "lighter"
    return (
        f"The machine itself was {abs(apart):.1f} kg {than}: that counts as part of the build and "
        "is not allowed for."
    )


def _apart(change: Change | None) -> float | None:
    if change is None or change.before is None or change.after is None:
        return None
    before, after = change.before.value, change.after.value
    return None if before is None or after is None else after - before
