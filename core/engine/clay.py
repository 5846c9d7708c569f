"""Clay readings between valve and piston, with all the states a lump of clay can come out in."""

from __future__ import annotations

from enum import StrEnum

import msgspec

from core.errors import InputError, UnknownInputError
from core.guards import above_zero, shown

__all__ = ["ClayReading", "ClayState"]


class ClayState(StrEnum):
    """What the clay showed."""

    TOUCHED = "touched"  # marked, and its thinnest place measured
    TOUCHED_UNMEASURED = "touched, unmeasured"  # marked, but nobody measured it
    NOT_TOUCHED = "not touched"  # no mark: the gap is at least what was put on
    TORN = "torn"  # pressed through or torn: contact


class ClayReading(msgspec.Struct, frozen=True):
    """One reading; clay is taken best at zero lash and measured where it is thinnest.

    Raises:
        InputError: touched without a thinnest value or thicker than what was put on; not touched
            without the applied thickness; a thickness of zero or less.
    """

    state: ClayState
    thinnest: float | None = None  # m, when touched
    applied: float | None = None  # m, thickness put on; needed when not touched

    def __post_init__(self) -> None:
        if self.applied is not None:
            above_zero("applied clay", self.applied, "mm")
        if self.state is ClayState.TOUCHED:
            self._check_touched()
        elif self.thinnest is not None:
            raise InputError(f"Clay that was {self.state} has no thinnest value.")
        if self.state is ClayState.NOT_TOUCHED and self.applied is None:
            raise InputError("Clay was not touched: how thick it was put on is needed.")

    def _check_touched(self) -> None:
        if self.thinnest is None:
            raise InputError(
                "Clay was touched: its thinnest value is needed.",
                "If nobody measured it, say 'touched, unmeasured'.",
            )
        above_zero("thinnest clay", self.thinnest, "mm")
        if self.applied is not None and self.thinnest > self.applied:
            raise InputError(
                f"Thinnest clay {shown(self.thinnest, 'mm')} is above the applied"
                f" {shown(self.applied, 'mm')}."
            )

    @property
    def is_bound(self) -> bool:
        """Whether the reading only says 'at least'."""
        return self.state is ClayState.NOT_TOUCHED

    @property
    def clears(self) -> bool:
        """Whether the reading answers the check; clay that was not touched does not by itself.

        Clay in the wrong place is not touched either: a second proof is needed, such as thicker
        clay that does touch, or light springs and a dial gauge.
        """
        return self.state is ClayState.TOUCHED

    @property
    def gap(self) -> float:
        """The gap measured, or its lower bound, m; 0 for torn clay.

        Raises:
            UnknownInputError: touched, but not measured.
        """
        if self.state is ClayState.TORN:
            return 0.0
        known = self.applied if self.is_bound else self.thinnest
        if known is None:
            raise UnknownInputError(
                "Unknown: the clay was touched but its thinnest place was not measured.",
                ("thinnest clay",),
            )
        return known

    def text(self) -> str:
        """Return it as it is read out, never a bare number for a bound.

        >>> ClayReading(ClayState.NOT_TOUCHED, applied=0.006).text()
        'at least 6.0 mm (not touched)'
        """
        if self.state is ClayState.TOUCHED_UNMEASURED:
            return "unknown (touched, unmeasured)"
        if self.state is ClayState.TORN:
            return "contact (torn)"
        millimetres = f"{self.gap * 1000:.1f} mm"
        return f"at least {millimetres} (not touched)" if self.is_bound else millimetres
