"""The standing checklists, the caution in our own words, and how far a machine rolls on."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from core.checks.rules import Rule
from core.checks.standing_people import PEOPLE_RULES
from core.checks.standing_place import PLACE_RULES
from core.checks.standing_yard import YARD_RULES
from core.guards import above_zero, not_negative

__all__ = ["CAUTION", "STANDING", "run_out_needed", "stopping_distance"]

CAUTION = (
    "This tool keeps notes and does sums. It cannot see your machine. It does not make a run "
    "safe, and no number here is a promise. Local law, the land owner, track rules, the part "
    "makers' instructions and licensed coaching come first. Removing the governor removes the "
    "engine's only speed limit: a factory rod and cast flywheel may fail without warning and "
    "throw parts. If in doubt, don't run."
)
"""Shown on first run and on every printed sheet."""

_SHARED: tuple[str, ...] = (
    "throttle_snap",
    "throttle_springs",
    "planned_rpm",
    "oil_level",
    "brake_holds",
    "brake_walk",
    "kill_running",
    "drive_guard",
)
"""Checks that a change asks for and that are asked in every session besides."""


def _lists(*tables: tuple[Rule, ...]) -> Mapping[str, tuple[str, ...]]:
    lists: dict[str, tuple[str, ...]] = {}
    for rule in (row for table in tables for row in table):
        lists[rule.group] = (*lists.get(rule.group, ()), rule.id)
    lists["Machine"] = (*_SHARED, *lists["Machine"])
    return MappingProxyType(lists)


STANDING: Mapping[str, tuple[str, ...]] = _lists(YARD_RULES, PEOPLE_RULES, PLACE_RULES)
"""Ids of the checks of every session by list, in the order they are gone through."""

REACTION = 1.0
"""Time until the brake is on, s; common practice, no source."""

BRAKING = 3.0
"""What one small rear brake slows by, m/s²; common practice, no source."""


def stopping_distance(
    speed: float, *, reaction: float = REACTION, deceleration: float = BRAKING
) -> float:
    """Return how far a machine rolls from the moment its rider wants to stop, m.

    Equation: s = v·t + v² / (2·a). Source: uniform deceleration; the two default figures are
    common practice, no source, and no promise.

    Args:
        speed: m/s, zero or more.
        reaction: s, zero or more.
        deceleration: m/s², above zero.

    Raises:
        InputError: a value out of these ranges.

    >>> [round(stopping_distance(v / 3.6)) for v in (20, 40, 60, 75)]
    [11, 32, 63, 93]
    """
    v = not_negative("speed", speed, "m/s")
    t = not_negative("reaction time", reaction, "s")
    a = above_zero("deceleration", deceleration, "m/s²")
    return v * t + v * v / (2.0 * a)


def run_out_needed(speed: float) -> float:
    """Return twice the stopping distance at this speed (m/s): the run-out asked for, m.

    >>> round(run_out_needed(60 / 3.6))
    126
    """
    return 2.0 * stopping_distance(speed)
