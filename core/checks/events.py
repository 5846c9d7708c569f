"""What happens to a machine without anybody changing it, and the checks that follow."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime, timedelta
from types import MappingProxyType
from typing import Literal

__all__ = ["EVENTS", "Event", "break_too_long", "stood_too_long"]

Event = Literal["stood", "transported", "dropped", "crashed", "fall", "break", "chain off"]
"""``stood``: more than 60 days; ``break``: more than 30 minutes; ``fall``: during the session."""

LONGEST_STAND = timedelta(days=60)  # common practice, no source
LONGEST_BREAK = timedelta(minutes=30)  # common practice, no source

_HIDDEN_DAMAGE = ("walk_round", "fuel_age", "throttle_snap", "brake_lever", "bent_look")

EVENTS: Mapping[Event, tuple[str, ...]] = MappingProxyType(
    {
        "stood": _HIDDEN_DAMAGE,
        "transported": _HIDDEN_DAMAGE,
        "dropped": _HIDDEN_DAMAGE,
        "crashed": _HIDDEN_DAMAGE,
        "fall": (
            "walk_round",
            "bent_look",
            "lock_to_lock",
            "brake_lever",
            "brake_holds",
            "brake_walk",
            "throttle_snap",
            "throttle_springs",
            "kill_running",
            "drive_guard",
            "fuel_no_leak",
            "oil_level",
            "fasteners",
            "chain_line",
            "rider_helmet",
            "rider_clothes",
            "rider_fit",
        ),
        "break": (
            "fuel_no_leak",
            "throttle_snap",
            "brake_holds",
            "kill_running",
            "rider_fit",
            "strip_walked",
            "no_crossing",
            "spectators",
            "second_adult",
            "no_lightning",
            "surface_dry",
            "visibility",
        ),
        "chain off": (
            "chain_line",
            "chain_pitch",
            "chain_clip",
            "chain_slack",
            "sprocket_bolts",
            "drive_guard",
            "mount_bolts",
            "chain_reslack",
        ),
    }
)
"""Ids of the checks that are due, or due again, after each event."""


def stood_too_long(last_ran: date, today: date) -> bool:
    """Tell whether the machine stood for more than 60 days.

    >>> stood_too_long(date(2026, 1, 1), date(2026, 3, 2))
    False
    """
    return today - last_ran > LONGEST_STAND


def break_too_long(last_attempt: datetime, now: datetime) -> bool:
    """Tell whether more than 30 minutes passed since the last attempt (both aware)."""
    return now - last_attempt > LONGEST_BREAK
