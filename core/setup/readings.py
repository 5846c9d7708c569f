"""One value of the setup sheet with the state it is known in; a blank is never a zero."""

from __future__ import annotations

from datetime import datetime
from typing import Literal

import msgspec

__all__ = ["Bound", "Reading", "State", "fitted", "known_value", "same_reading"]

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
    at: datetime | None = None  # when it was taken
    carried: str = ""  # id of the session it was carried over from; empty: entered for this one
    copied: bool = False  # copied from another machine and not confirmed
    stale: bool = False  # true once something changed under it (chamber volume after milling)
    note: str = ""


def fitted(part: str, name: str, at: datetime | None = None) -> Reading:
    """Return the reading of a part slot that holds this part."""
    return Reading(state="fitted", part=part, text=name, at=at)


def known_value(reading: Reading | None) -> float | None:
    """Return the number if it may be used in sums: measured, set, stated or estimated, not stale."""
    if reading is None or reading.stale:
        return None
    return reading.value if reading.state in ("measured", "stated", "estimated", "set") else None


def same_reading(a: Reading | None, b: Reading | None) -> bool:
    """Tell whether two readings say the same of the machine, however and whenever they were taken."""
    if a is None or b is None:
        return a is b
    if a.part or b.part:
        return a.part == b.part
    states = (a.state, b.state)
    for state in ("unknown", "not fitted", "bounded"):
        if state in states and states != (state, state):
            return False
    if a.value is not None or b.value is not None:
        return a.value == b.value and a.bound == b.bound
    return a.text.strip().casefold() == b.text.strip().casefold()
