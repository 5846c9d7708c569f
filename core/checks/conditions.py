"""When a change asks for its checks: small yes-or-no questions about one touched slot."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from core.setup.changes import Change
from core.setup.limits import FACTORY_RPM
from core.setup.readings import Reading, known_value
from core.setup.sheets import Sheet
from core.setup.slots import slot_of

__all__ = [
    "Touch",
    "When",
    "any_change",
    "fewer_hours",
    "gasket_may_be_thinner",
    "governor_back",
    "governor_off",
    "limiter_raised",
    "machined",
    "other_length",
    "planned_rpm_raised",
    "reworked",
    "thicker",
    "thinner",
]


@dataclass(frozen=True)
class Touch:
    """One changed slot, with all that changed beside it and the sheet that came of it."""

    change: Change
    beside: Mapping[str, Change]  # every change, by slot id
    sheet: Sheet  # the sheet after the changes

    @property
    def before(self) -> float | None:
        """The number before, if it was known, in the slot's unit."""
        return known_value(self.change.before)

    @property
    def after(self) -> float | None:
        """The number after, if it is known, in the slot's unit."""
        return known_value(self.change.after)


When = Callable[[Touch], bool]
"""A condition of the trigger table."""


def any_change(touch: Touch) -> bool:
    """Ask at any change of a part, and at a change of a value that was known before.

    A value that is only written down for the first time, or put right for a part that stayed,
    says nothing about what was touched; a part that is named for the first time does.
    """
    change = touch.change
    if slot_of(change.slot).kind == "part":
        return True
    return not change.noted and _told(change.before)


def reworked(touch: Touch) -> bool:
    """Ask at a new value of a part that may have stayed: a valve cut, a flywheel lightened."""
    return _told(touch.change.before) and _told(touch.change.after)


def _told(reading: Reading | None) -> bool:
    return reading is not None and reading.state != "unknown"


def thinner(touch: Touch) -> bool:
    """Ask when a known thickness became less; a first measurement is no change."""
    if touch.change.noted or touch.before is None:
        return False
    return touch.after is None or touch.after < touch.before


def gasket_may_be_thinner(touch: Touch) -> bool:
    """Ask at another gasket, unless its thickness was entered and is not less than before.

    A thickness carried over belongs to the gasket that came off, so it does not count.
    """
    thickness = touch.beside.get("gasket_thickness") or touch.beside.get("gasket_thickness_new")
    if thickness is not None:
        before, after = known_value(thickness.before), known_value(thickness.after)
        return before is None or after is None or after < before
    return not _entered_again("gasket_thickness", touch)


def other_length(touch: Touch) -> bool:
    """Ask when a rod is not known to be as long as the one before."""
    length = touch.beside.get("rod_length")
    if length is not None:
        return not length.noted
    return touch.change.slot == "rod" and not _entered_again("rod_length", touch)


def _entered_again(slot: str, touch: Touch) -> bool:
    """Tell whether the slot says what it said before and was entered anew for this part."""
    reading = touch.sheet.readings.get(slot)
    return known_value(reading) is not None and reading is not None and not reading.carried


def machined(touch: Touch) -> bool:
    """Ask when what was taken off a face differs; not recorded counts as nothing taken off."""
    return (touch.before or 0.0) != touch.after


def thicker(touch: Touch) -> bool:
    """Ask when a known thickness grew: worn pads do not grow, other ones were fitted."""
    return touch.before is not None and touch.after is not None and touch.after > touch.before


def fewer_hours(touch: Touch) -> bool:
    """Ask when hours since the oil change went back: it was drained."""
    return touch.before is not None and touch.after is not None and touch.after < touch.before


def planned_rpm_raised(touch: Touch) -> bool:
    """Ask when the planned rpm went up; a plan never told counts as the factory speed."""
    before = FACTORY_RPM if touch.before is None else touch.before
    return touch.after is None or touch.after > before


def limiter_raised(touch: Touch) -> bool:
    """Ask when a limiter that was there cuts later now, or no longer at all."""
    before, after = touch.change.before, touch.change.after
    if touch.change.slot == "rev_limiter":
        was_fitted = before is not None and before.state == "fitted"
        return was_fitted and (after is None or after.state == "not fitted")
    return touch.before is not None and (touch.after is None or touch.after > touch.before)


def governor_off(touch: Touch) -> bool:
    """Ask when the governor is held or removed, or not known to act any more."""
    return touch.change.after is None or touch.change.after.text != "active"


def governor_back(touch: Touch) -> bool:
    """Ask when a governor that was held or removed acts again."""
    before, after = touch.change.before, touch.change.after
    return _told(before) and after is not None and after.text == "active"
