"""A reading before it is kept: what was typed and how it was taken; makes the bench reading."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from core.bench import Took, take_check, take_clay, take_slots
from core.bench.documents import Condition
from core.bench.taking import CLAY_RULE
from core.checks import find_rule
from core.session import Book
from core.setup import slot_of
from tui.subject import Subject

__all__ = ["CHECK", "Taking", "begun"]

CHECK = "check:"
"""Head of the id of a line that is a due check."""


@dataclass(frozen=True)
class Taking:
    """What is being read; nothing is saved yet."""

    what: str  # ``slot``, ``check`` or ``clay``
    key: str  # id of the slot or of the check's rule
    at: datetime  # when it was taken
    text: str = ""  # as typed
    instrument: str = ""  # key; empty: the usual one
    condition: Condition = ""
    times: int = 1  # readings that the value is the mean of
    repeatability: float | None = None  # sd of this reading in its unit
    head_temperature: float | None = None  # °C
    note: str = ""
    own: str = ""  # clay: the user's own least gap, as typed
    lash_zero: bool = True  # clay: the lash was taken up
    tight: tuple[float | None, float | None] = (None, None)  # clay: mm of lobe lift, in and ex

    @property
    def title(self) -> str:
        """What is read, as a heading."""
        label = slot_of(self.key).label if self.what == "slot" else find_rule(self.key).short
        return label[:1].upper() + label[1:]

    @property
    def unit(self) -> str:
        """Unit that a plain number is in."""
        return slot_of(self.key).unit if self.what == "slot" else find_rule(self.key).unit

    @property
    def gauge(self) -> str:
        """Key of the instrument it is usually read with; empty: none."""
        if self.what == "clay":
            return "light_springs" if self.text.casefold().startswith(("dial", "light")) else "clay"
        slots = (self.key,) if self.what == "slot" else find_rule(self.key).fills
        return slot_of(slots[0]).instrument if slots else ""

    def took(self, book: Book, subject: Subject) -> Took:
        """Return the bench reading, with what to ask about it.

        Raises:
            BackToBackError: what was typed is refused.
        """
        about = subject.about(
            book,
            self.at,
            instrument=self.instrument,
            times=self.times,
            repeatability=self.repeatability,
            condition=self.condition,
            head_temperature=self.head_temperature,
            note=self.note,
        )
        if self.what == "slot":
            return take_slots({self.key: self.text}, about)
        own = f" own {self.own}" if self.own.strip() and "own" not in self.text else ""
        text = f"{self.text.strip()}{own}"
        if self.key == CLAY_RULE:
            return take_clay(text, about, lash_zero=self.lash_zero, tight_lift=self.tight)
        return take_check(self.key, self.text, about)


def begun(key: str, at: datetime, own: str) -> Taking:
    """Return the reading of a line before anything is typed.

    Args:
        key: id of the line: a slot, ``clay``, or a check.
        at: the time now.
        own: the user's own least valve-to-piston gap as last told, mm.
    """
    if key in ("clay", CHECK + CLAY_RULE):
        return Taking("clay", CLAY_RULE, at, own=own)
    if key.startswith(CHECK):
        rule = find_rule(key.removeprefix(CHECK))
        return Taking("check", rule.id, at, condition="cold" if rule.cold else "")
    return Taking("slot", key, at)
