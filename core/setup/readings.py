"""One value of the setup sheet with the state it is known in; a blank is never a zero."""

from __future__ import annotations

from datetime import datetime
from typing import Literal

import msgspec

from core.clock import AwareTime

__all__ = ["Bound", "Reading", "State", "fitted", "known_value", "same_reading", "sameness"]

State = Literal[
    "measured", "stated", "estimated", "unknown", "not fitted", "bounded", "fitted", "set"
]
"""How a value is known.

``measured`` by the user, ``stated`` by the maker, ``estimated``, ``unknown`` (asked and not known),
``not fitted`` (the machine has none), ``bounded`` (more or less than the value), ``fitted`` (a part
slot that holds a part), ``set`` (a setting or choice, put there by the user).
"""

Bound = Literal["", ">", "<"]


class Reading(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """One value with its state.

    A numeric reading has ``value`` in the slot's unit; a text or choice reading has ``text`` only;
    a part slot has ``part`` and the part's name of that day in ``text``.
    """

    state: State
    value: float | None = None  # in the slot's documented unit
    text: str = ""  # as typed, or the choice, or the part's name on that day
    part: str = ""  # id of the part fitted, for a part slot
    bound: Bound = ""  # for a bounded reading: the true value is above or below ``value``
    at: AwareTime | None = None  # when it was taken
    carried: str = ""  # id of the session it was carried over from; empty: entered for this one
    copied: bool = False  # copied from another machine and not confirmed
    stale: bool = False  # true once something changed under it (chamber volume after milling)
    stale_because: str = ""  # what changed, as it stands behind 'before': ``milling``
    stale_since: AwareTime | None = None  # when that change was entered
    stale_by: float | None = None  # mm taken off since, for a chamber volume; None: not told
    note: str = ""


def fitted(part: str, name: str, at: datetime | None = None) -> Reading:
    """Return the reading of a part slot that holds this part."""
    return Reading(state="fitted", part=part, text=name, at=at)


def known_value(reading: Reading | None) -> float | None:
    """Return the number if sums may use it: measured, set, stated or estimated, and not stale."""
    if reading is None or reading.stale:
        return None
    return reading.value if reading.state in ("measured", "stated", "estimated", "set") else None


def sameness(reading: Reading | None) -> tuple[str, float | None, str]:
    """Return what a reading says of the machine, without how and when it was taken.

    Two readings say the same exactly if this is equal. Not recorded and unknown are not the same.
    """
    if reading is None:
        return ("not recorded", None, "")
    if reading.part:
        return ("part", None, reading.part)
    if reading.state in ("unknown", "not fitted"):
        return (reading.state, None, "")
    kind = "bounded" if reading.state == "bounded" else "value"
    if reading.value is not None:
        return (kind, reading.value + 0.0, reading.bound)  # + 0.0 makes minus zero a zero
    return (kind, None, reading.text.strip().casefold())


def same_reading(a: Reading | None, b: Reading | None) -> bool:
    """Tell whether two readings say the same of the machine, however they were taken."""
    return sameness(a) == sameness(b)
