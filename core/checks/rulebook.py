"""The whole table of checks: every rule, every trigger, and what has no check and why."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from core.checks.documents import CheckRecord
from core.checks.rules import Rule, index_rules
from core.checks.rules_bottom import BOTTOM_RULES
from core.checks.rules_chassis import CHASSIS_RULES
from core.checks.rules_drive import DRIVE_RULES
from core.checks.rules_fuel import FUEL_RULES
from core.checks.rules_rpm import RPM_RULES
from core.checks.rules_top import TOP_RULES
from core.checks.rules_valves import VALVE_RULES
from core.checks.standing import STANDING
from core.checks.standing_people import PEOPLE_RULES
from core.checks.standing_place import PLACE_RULES
from core.checks.standing_yard import YARD_RULES
from core.checks.triggers import Trigger
from core.checks.triggers_engine import ENGINE_TRIGGERS
from core.checks.triggers_machine import MACHINE_TRIGGERS
from core.checks.triggers_spinning import SPINNING_TRIGGERS
from core.errors import NotFoundError

__all__ = [
    "NO_CHECK",
    "RULES",
    "TRIGGERS",
    "find_rule",
    "group_of",
    "rule_for",
    "rule_order",
    "triggers_of",
]

RULES: Mapping[str, Rule] = MappingProxyType(
    index_rules(
        VALVE_RULES,
        TOP_RULES,
        BOTTOM_RULES,
        RPM_RULES,
        FUEL_RULES,
        DRIVE_RULES,
        CHASSIS_RULES,
        YARD_RULES,
        PEOPLE_RULES,
        PLACE_RULES,
    )
)
"""Every check by id, in the order of the table."""

TRIGGERS: tuple[Trigger, ...] = (*ENGINE_TRIGGERS, *SPINNING_TRIGGERS, *MACHINE_TRIGGERS)
"""What a changed slot makes due."""

_OWN_ANSWER = "it is the answer of a check, not a cause of one"
_NOTED = "a property of a part that is asked about when the part changes"
_DAY = "it is read off on the day and changes nothing on the machine"

NO_CHECK: Mapping[str, str] = MappingProxyType(
    {
        "rod_material": _NOTED,
        "gasket_bore": _NOTED,
        "flywheel_material": _NOTED,
        "plug_heat_range": _NOTED,
        "clutch_kind": _NOTED,
        "tank_volume": _NOTED,
        "wheelbase": _NOTED,
        "lifters_matched": _OWN_ANSWER,
        "valve_gap_method": _OWN_ANSWER,
        "coil_gap": _OWN_ANSWER,
        "plug_gap": "it is set and measured in one go",
        "oil_sensor": _OWN_ANSWER,
        "governor_parts_out": _OWN_ANSWER,
        "governor_hole_plugged": _OWN_ANSWER,
        "clutch_lubed": "a note of care",
        "chain_slack": _OWN_ANSWER,
        "second_chain_slack": _OWN_ANSWER,
        "chain_lube": "a note of care",
        "tyre_pressure_front": "the front tyre does not drive, and its pressure is read off",
        "stagger": _DAY,
        "ride_height": "nothing is undone for it that is not asked about as axle or steering",
        "throttle_full_open": _OWN_ANSWER,
        "guards": "asked in every session and after every swap on the drive",
        "torque_rod": _OWN_ANSWER,
        "torque_head": _OWN_ANSWER,
        "torque_flywheel": _OWN_ANSWER,
        "torque_side_cover": _OWN_ANSWER,
        "torque_mount": _OWN_ANSWER,
        "torque_axle": _OWN_ANSWER,
        "rider_position": "another way to sit is another build for the clock, not for the bench",
        "timing_gear": _DAY,
        "logger_rate": _DAY,
        "tacho_pulses": _DAY,
    }
)
"""Slots that a person sets and that ask for no check, with the reason; measured ones never do."""


def find_rule(rule: str) -> Rule:
    """Return the rule of this id.

    Raises:
        NotFoundError: no such check.
    """
    found = RULES.get(rule)
    if found is None:
        raise NotFoundError(f"No check is called “{rule}”.")
    return found


def rule_for(record: CheckRecord) -> Rule:
    """Return the rule that a record answers.

    A record from a log of another version may name a rule that this version does not have; it
    counts as a stop check of that name.
    """
    words = record.rule.replace("_", " ")
    return RULES.get(record.rule) or Rule(
        id=record.rule,
        short=words,
        level="run",
        group="Other",
        question=words,
        because="",
        otherwise="",
    )


@cache
def _orders() -> dict[str, int]:
    return {rule: index for index, rule in enumerate(RULES)}


def rule_order(rule: str) -> int:
    """Return the place of a rule in the table; unknown ones stand last."""
    return _orders().get(rule, len(RULES))


@cache
def _standing_groups() -> dict[str, str]:
    return {rule: name for name, rules in STANDING.items() for rule in rules}


def group_of(record: CheckRecord) -> str:
    """Return the heading a record stands under: its list if it is a standing one."""
    if not record.slots and record.rule in _standing_groups():
        return _standing_groups()[record.rule]
    return rule_for(record).group


@cache
def _by_slot() -> dict[str, tuple[Trigger, ...]]:
    table: dict[str, tuple[Trigger, ...]] = {}
    for trigger in TRIGGERS:
        for slot in trigger.slots:
            table[slot] = (*table.get(slot, ()), trigger)
    return table


def triggers_of(slot: str) -> tuple[Trigger, ...]:
    """Return the rows that a change of this slot may set off; none for an own slot."""
    return _by_slot().get(slot, ())
