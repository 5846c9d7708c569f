"""What was entered at the checks of the season; numbers are invented, like everything here."""

from __future__ import annotations

from collections.abc import Callable

from core.attempts import find_test
from core.checks import CheckRecord, rule_for
from core.setup import Sheet, known_value, rpm_at_speed
from core.units import format_number
from demo.scenes import Visit

__all__ = ["RESULTS", "answer_for"]

RESULTS: dict[str, str] = {
    "permission": "owner, by phone, valid to the end of the season",
    "run_out": "200",
    "plan_number": "112",
    "plan_access": "field gate at the north end, farm lane, second left",
    "plan_gate": "gate open, key with the owner",
    "plan_hospital": "county hospital, 14 km",
    "plan_driver": "the helper, car at the gate",
    "plan_first_aid": "kit and burn dressing on the cone trolley",
    "plan_contact": "none known; card in the jacket",
    "plan_phone": "tried, two bars at the gate",
    "drum_temp_1": "74",
    "drum_temp_2": "92",
    "drum_temp_3": "104",
    "chain_slack": "10",
    "chain_reslack": "11",
    "spring_margin": "1.5",
    "retainer_margin": "1.6",
    "lash": "0.10 0.15",
    "lash_recheck": "0.10 0.15",
}
"""By rule id: the result that clears it on an ordinary day."""


def _on_sheet(slot: str) -> Callable[[Visit, Sheet], str]:
    return lambda _, sheet: format_number(known_value(sheet.readings.get(slot)) or 0.0)


def _rpm_at_top(visit: Visit, sheet: Sheet) -> str:
    """Rpm a little beyond the end of the test, as the gearing gives it."""
    end = find_test(visit.test).to_speed or 57.0
    return format_number(rpm_at_speed(sheet, end * 1.03) or 0.0, 0)


FROM_SHEET: dict[str, Callable[[Visit, Sheet], str]] = {
    "engagement": _on_sheet("engagement_rpm"),
    "teeth_final": _on_sheet("final_sprocket_teeth"),
    "rpm_at_top": _rpm_at_top,
}
"""By rule id: what was counted or measured agrees with the sheet."""


def answer_for(visit: Visit, record: CheckRecord, sheet: Sheet) -> tuple[str, ...]:
    """Return what was entered for one check, in order; nothing where it stayed open.

    Args:
        visit: the visit it is due in.
        record: the open check.
        sheet: the sheet it is due for.
    """
    given = visit.answers.get(record.rule)
    if given is not None:
        return given
    if not visit.place and record.slots == ():
        return ()
    if record.rule in FROM_SHEET:
        return (FROM_SHEET[record.rule](visit, sheet),)
    if record.rule in RESULTS:
        return (RESULTS[record.rule],)
    return ("done",) if rule_for(record).answer == "done" else ()
