"""What is looked for in a recording, and what a run that was found says."""

from __future__ import annotations

import math
import re
from typing import Final, Literal

import msgspec

from core.errors import InputError
from core.guards import not_negative

__all__ = [
    "FIRST_MOTION",
    "Found",
    "FoundRun",
    "Missed",
    "RunShape",
    "StartRule",
    "Wanted",
    "read_start",
    "start_in_words",
]

RunShape = Literal["standing", "rolling", "distance", "top", "coast"]

FIRST_MOTION: Final = 1.5 / 3.6
"""m/s at which a machine counts as moving, when it stays above for 0.3 s; common practice."""

_LONGEST_ROLLOUT: Final = 2.0  # m
_METRES: Final = {"m": 1.0, "ft": 0.3048, "in": 0.0254, "cm": 0.01}
_REST: Final = ("rest", "standstill")


class StartRule(msgspec.Struct, frozen=True, omit_defaults=True):
    """When the clock of a standing start runs; times by different rules are never compared."""

    rule: Literal["motion", "rest", "rollout"] = "motion"
    distance: float = 0.0  # m, of the rollout

    @property
    def words(self) -> str:
        """The rule as it is said beside a time."""
        if self.rule == "motion":
            return f"from first motion ({FIRST_MOTION * 3.6:g} km/h)"
        if self.rule == "rest":
            return "from standstill (line back to 0 km/h)"
        return f"after a rollout of {self.distance:g} m"


def start_in_words(words: str) -> StartRule:
    """Return the rule that is said in words, as `StartRule.words` does; else from first motion.

    >>> start_in_words(StartRule("rollout", 0.3048).words).distance
    0.3048
    """
    for rule in (StartRule(), StartRule("rest")):
        if words == rule.words:
            return rule
    told = re.search(r"rollout of (\d+(?:\.\d+)?) m", words)
    return StartRule("rollout", float(told[1])) if told else StartRule()


def read_start(text: str) -> StartRule:
    """Return the rule that was typed: ``motion``, ``rest``, or a rollout such as ``1ft``, ``0.3m``.

    Raises:
        InputError: none of these.

    >>> read_start("1 ft").distance, read_start("motion").words
    (0.3048, 'from first motion (1.5 km/h)')
    """
    word = text.strip().casefold().replace(" ", "")
    if word in ("motion", ""):
        return StartRule()
    if word in _REST:
        return StartRule("rest")
    for unit in ("cm", "in", "ft", "m"):
        if word.endswith(unit):
            try:
                distance = float(word.removesuffix(unit).replace(",", ".")) * _METRES[unit]
            except ValueError:
                break
            if 0 < not_negative("rollout", distance, "m") <= _LONGEST_ROLLOUT:
                return StartRule("rollout", distance)
            break
    raise InputError(
        f"“{text[:20]}” is no way to start a clock.", "motion, rest, or a rollout such as 1ft."
    )


class Wanted(msgspec.Struct, frozen=True):
    """One test as it is looked for.

    Raises:
        InputError: what its shape needs is missing.
    """

    test: str  # short name
    shape: RunShape
    from_speed: float = 0.0  # m/s
    to_speed: float = 0.0  # m/s
    distance: float = 0.0  # m
    start: StartRule = StartRule()  # of a standing start
    longest: float = 120.0  # s; what takes longer is no run

    def __post_init__(self) -> None:
        needs = {
            "standing": self.to_speed > FIRST_MOTION,
            "rolling": self.to_speed > self.from_speed > 0,
            "coast": self.from_speed > self.to_speed > 0,
            "distance": self.distance > 0,
            "top": True,
        }
        if not needs[self.shape]:
            raise InputError(f"{self.test} does not say what to look for.")


class FoundRun(msgspec.Struct, frozen=True, omit_defaults=True):
    """One run that was found in a recording."""

    test: str  # short name
    start: float  # s from the first row of the recording: when the clock starts
    end: float  # s: when it stops
    value: float  # in ``unit``
    unit: str  # ``s`` or ``km/h``
    sd: float  # standard deviation of the value, from rate and noise, in ``unit``
    from_index: int  # first row
    to_index: int  # last row
    heading: float | None = None  # degrees from north
    direction: str = ""  # one of the place's names; empty: not known
    start_rule: str = ""  # in words, of a standing start
    end_speed: float = 0.0  # m/s where the clock stops
    notes: tuple[str, ...] = ()  # what is odd about it, one sentence each

    @property
    def give_or_take(self) -> float:
        """Half of the range in which the true value lies 19 times out of 20, in ``unit``."""
        return 1.96 * self.sd


class Missed(msgspec.Struct, frozen=True):
    """Something that looked like a run and is none."""

    start: float  # s from the first row
    reason: str  # one sentence


class Found(msgspec.Struct, frozen=True):
    """What was found for one test."""

    wanted: Wanted
    runs: tuple[FoundRun, ...] = ()
    missed: tuple[Missed, ...] = ()


def total_sd(*parts: float) -> float:
    """Return the standard deviation of a sum of independent errors."""
    return math.hypot(*parts)
