"""The record of one check within a session: why it is due and how it was answered."""

from __future__ import annotations

from typing import Literal

import msgspec

from core.clock import AwareTime
from core.setup.readings import Bound

__all__ = ["Answer", "CheckRecord"]

Answer = Literal["open", "cleared", "not done", "does not apply"]


class CheckRecord(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """One check that is due; cleared only by an entered result."""

    rule: str  # id of the rule that asks
    sheet: int = 0  # index of the setup sheet it became due for
    slots: tuple[str, ...] = ()  # the changed slots it is due for; empty: due every session
    event: str = ""  # what else made it due, such as ``fall``; empty: a change, or every session
    due_after: int = 0  # asked once so many attempts of the session were made
    answer: Answer = "open"
    result: str = ""  # what was entered, as typed; kept also when it does not clear
    value: float | None = None  # the number in it, in the rule's unit
    second: float | None = None  # the exhaust side, where intake and exhaust are asked together
    bound: Bound = ""  # ``>``: the gap is more than ``value``, the clay was not touched
    second_bound: Bound = ""  # the same of ``second``
    own: float | None = None  # the user's own requirement, in the rule's unit; shown beside it
    at: AwareTime | None = None
    by_reference: str = ""  # id of the session whose result is taken over (geometry only)
    note: str = ""
