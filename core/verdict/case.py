"""Everything that a rule about a comparison may look at."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from core.attempts import Test, find_test
from core.session import Session
from core.units import format_number
from core.verdict.allowing.coasted import Measured
from core.verdict.results import BuildSide, Comparison

__all__ = ["Case", "Surroundings"]


@dataclass(frozen=True)
class Surroundings:
    """What stands around a comparison, beside its two sessions."""

    looked_at: int = 0  # different pairs compared lately, this one counted; 0: not counted
    predicted: int = 0  # predictions of the season that can be held against an outcome
    predicted_right: int = 0  # those whose sign was right
    coasted: tuple[Measured, ...] = ()  # what coast-downs of B's machine gave


@dataclass(frozen=True)
class Case:
    """A comparison with its sessions."""

    made: Comparison  # for caps with its difference, for situations with its verdict
    session_a: Session
    session_b: Session
    own_dof: float  # degrees of freedom of the spread beyond its prior
    names: Callable[[str], str]  # id of a machine or place -> its name
    around: Surroundings = Surroundings()

    @property
    def sides(self) -> tuple[BuildSide, BuildSide]:
        """Both sides, A first."""
        return self.made.a, self.made.b

    @property
    def sessions(self) -> tuple[Session, Session]:
        """Both sessions, A first; perhaps the same one."""
        return self.session_a, self.session_b

    @property
    def test(self) -> Test:
        """What both ran."""
        return find_test(self.made.b.test)

    @property
    def causes(self) -> frozenset[str]:
        """Slots of the changes that can be causes."""
        return frozenset(change.slot for change in self.made.causes)

    def size(self, value: float) -> str:
        """Return a size in the test's unit: ``0.20 s``."""
        return f"{format_number(abs(value), self.made.decimals)} {self.made.unit}"
