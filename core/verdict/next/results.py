"""What to test next: frozen results that screens, reports and scripts read."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from core.stats import Column

__all__ = ["NextTest", "Proposal", "Swap"]


@dataclass(frozen=True)
class Swap:
    """One slot put to another level, and what that takes."""

    slot: str  # id
    label: str
    before: Column  # as the machine stands
    after: Column
    before_words: str
    after_words: str
    part: str  # id of the part that goes on; empty: a setting
    at_strip: bool  # swapped and swapped back there, so that A-B-A is one day
    swap_minutes: float  # once, without checks
    check_minutes: float  # once
    cool_minutes: float  # before a check that needs a cold engine
    checks: tuple[str, ...]  # short names of the checks it makes due, stops first
    stops: int  # how many of them are stop items
    sessions: int  # in which the level it goes to was run on this test
    bring: tuple[str, ...] = ()  # what the swap uses up, with its state on the shelf

    @property
    def words(self) -> str:
        """``final sprocket: 66T -> 60T``"""
        return f"{self.label}: {self.before_words} -> {self.after_words}"


@dataclass(frozen=True)
class Proposal:
    """One swap as a test, with what it would tell."""

    swap: Swap
    design: Literal["A-B-A", "another day"]
    pairs: int  # in each block; attempts where the place is run one way
    minutes: float  # all of it
    half_days: float
    rate: float  # sharpening of what is asked, per half-day
    question: str  # label of what it sharpens most
    width_before: float  # 95 % half range of the answer to that, in the test's unit
    width_after: float
    sentence: str  # the reason, in one sentence
    plan: tuple[tuple[str, str], ...]  # what and how, ready to be printed


@dataclass(frozen=True)
class NextTest:
    """Swaps that could be tested next, the one that tells most first."""

    machine: str  # id
    machine_name: str
    test: str
    unit: str
    decimals: int
    about: str  # label of the slot that is asked about; empty: everything that is open
    proposals: tuple[Proposal, ...]
    left_out: tuple[str, ...]  # one sentence for each kind of thing that is not suggested
    sentence: str
