"""The dimensions of a build that the gap between valve and piston depends on."""

from __future__ import annotations

import msgspec

from core.engine.crank import check_crank
from core.engine.valve import valve_lift
from core.guards import above_zero, finite, not_negative
from core.ranged import Ranged

__all__ = ["LobeLift", "ValveTrain", "bounds_of_lift_change"]


class ValveTrain(msgspec.Struct, frozen=True):
    """One build, as far as a valve and its piston see it.

    Gasket and deck count only by their difference between two builds, so a zero for both in both
    builds leaves them out.

    Raises:
        InputError: a ratio, lash, gasket, stroke or rod is refused.
    """

    rocker_ratio: float  # valve side over pushrod side
    lash: float  # at the valve, m
    gasket: float = 0.0  # crushed, m
    deck: float = 0.0  # piston below the deck at top, m
    stroke: float = 0.054  # twice the throw, m
    rod: float = 0.084  # centre to centre, m
    offset: float = 0.0  # of the pin, m
    advance: float = 0.0  # crank degrees the cam runs earlier than in the lift table

    def __post_init__(self) -> None:
        above_zero("rocker ratio", self.rocker_ratio)
        not_negative("lash", self.lash, "mm")
        not_negative("gasket thickness", self.gasket, "mm")
        finite("deck", self.deck)
        finite("cam advance", self.advance)
        check_crank(self.stroke, self.rod, self.offset)

    @property
    def above_piston(self) -> float:
        """Gasket and deck together, m."""
        return self.gasket + self.deck


class LobeLift(msgspec.Struct, frozen=True):
    """What is known of a lobe without a table."""

    highest: float  # m
    near_top: float | None = None  # highest within 60 degrees of overlap top, m
    tight_point: float | None = None  # lift where the gap is smallest, m, if it was seen
    tight_at: float = 10.0  # crank degrees from top; common practice, no source

    def __post_init__(self) -> None:
        not_negative("highest lobe lift", self.highest, "mm")
        for name, lift in (("lobe lift near top", self.near_top), ("lobe lift", self.tight_point)):
            if lift is not None:
                not_negative(name, lift, "mm")


def bounds_of_lift_change(old: ValveTrain, new: ValveTrain, lobe: LobeLift) -> Ranged:
    """Return how much the valve's lift may change at the tight point of a lobe without a table.

    Args:
        old: the build before.
        new: the build after.
        lobe: highest lift, and the lift at the tight point if it is known.

    Returns:
        m, as a range. High is ``max(0, (r2 - r1) h - (l2 - l1))`` for a ratio that does not fall
        and ``max(0, l1 - l2)`` for one that falls: it is never less than the change. Low is the
        least change over all lifts from zero to the highest. The value is the change at the tight
        point, or low when that is unknown.

    Raises:
        InputError: a lift is refused.

    Source: ``L1 >= r1 h - l1``, so ``dL <= max(0, (r2 - r1) h - (l2 - l1))``; the change is made of
    straight pieces between the lifts where a lash is taken up. Closed form.
    """
    if new.rocker_ratio >= old.rocker_ratio:
        growth = (new.rocker_ratio - old.rocker_ratio) * lobe.highest
        high = max(0.0, growth - (new.lash - old.lash))
    else:
        high = max(0.0, old.lash - new.lash)
    ends = (0.0, lobe.highest, old.lash / old.rocker_ratio, new.lash / new.rocker_ratio)
    low = min(_change(old, new, lift) for lift in ends if lift <= lobe.highest)
    if lobe.tight_point is not None:
        low = max(low, min(high, _change(old, new, lobe.tight_point)))
    return Ranged(low, low, max(low, high))


def _change(old: ValveTrain, new: ValveTrain, lobe_lift: float) -> float:
    return valve_lift(lobe_lift, new.rocker_ratio, new.lash) - valve_lift(
        lobe_lift, old.rocker_ratio, old.lash
    )
