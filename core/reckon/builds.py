"""Two builds as a valve and its piston see them, as far as two setup sheets tell them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import msgspec

from core.bench import ClayOnFile, LiftTables, Side, TableOnFile, half_of
from core.engine import NEAR_TOP, LiftTable, LobeLift, ValveTrain, find_instrument, reading_range
from core.errors import UnknownInputError
from core.ranged import Ranged, carry
from core.setup import Reading, Sheet, known_value, same_reading, slot_of

__all__ = ["Builds", "builds_between"]

_MM = 1e-3  # m in a mm
_EXACT = Ranged.exact(0.0)

_NEW_SHAPE = ("cam", "head", "piston", "engine_block", "piston_pin_height")
_NEW_VALVE = ("valves_{}", "valve_length_{}", "valve_angles_{}")
"""Slots whose change puts valve or piston surface somewhere that no sum knows."""


@dataclass(frozen=True)
class Builds:
    """The build the clay was taken on, and the one asked about."""

    old: ValveTrain
    new: ValveTrain  # without the change of height
    height: Ranged  # how much further up the valve stands, seen from the piston, m
    wheel: Ranged  # how far out the zero of the degree wheel may be, crank degrees
    lobe: LobeLift | LiftTable

    @property
    def has_table(self) -> bool:
        """Whether a lift table is behind it."""
        return isinstance(self.lobe, LiftTable)

    @property
    def nothing_moved(self) -> bool:
        """Whether the two builds are alike here."""
        return self.old == self.new and self.height == _EXACT

    def trains(self, height: float, wheel: float) -> tuple[ValveTrain, ValveTrain]:
        """Return both with a change of height (m) and an error of the wheel's zero (degrees)."""
        old, new = self.old, self.new
        if wheel:
            old = msgspec.structs.replace(old, advance=old.advance + wheel)
        return old, msgspec.structs.replace(new, deck=height, advance=new.advance + wheel)


def builds_between(
    side: Side,
    clay: ClayOnFile,
    sheet: Sheet,
    tables: LiftTables,
    halves: Mapping[str, float],
) -> Builds:
    """Return the builds of a clay reading and of a sheet.

    Args:
        side: intake or exhaust.
        clay: with the sheet it was taken on.
        sheet: the build asked about.
        tables: lift tables of the cam.
        halves: give or take of the sheet's values by slot, in the slot's unit.

    Raises:
        UnknownInputError: something changed that no sum can follow, or a value is not known.
    """
    two = _Two(side, clay.sheet, sheet, halves)
    two.refuse_new_shapes()
    ratios = two.pair("rocker_ratio", instead=1.0)
    lashes = (0.0, 0.0) if clay.lash_zero else two.pair(f"lash_{side}", instead=0.0)
    cranks = two.cranks()
    on_file = tables.intake if side == "intake" else tables.exhaust
    usable = on_file if cranks is not None and two.known("rocker_ratio") else None
    advances = two.advances(on_file)
    strokes, rods = cranks or ((0.054, 0.054), (0.084, 0.084))  # alike: they fall out
    old, new = (
        ValveTrain(ratio, lash * _MM, stroke=stroke, rod=rod, advance=advance)
        for ratio, lash, stroke, rod, advance in zip(
            ratios, lashes, strokes, rods, advances, strict=True
        )
    )
    lift_moves = ratios[0] != ratios[1] or lashes[0] != lashes[1]
    return Builds(
        old=old,
        new=new,
        height=two.height(),
        wheel=_wheel() if usable is not None else _EXACT,
        lobe=two.lobe(on_file, usable, clay, lift_moves),
    )


def _wheel() -> Ranged:
    return reading_range(0.0, find_instrument("degree_wheel"))


@dataclass(frozen=True)
class _Two:
    """Two sheets, looked at slot by slot."""

    side: Side
    before: Sheet
    after: Sheet
    halves: Mapping[str, float]  # of the later one

    def readings(self, slot: str) -> tuple[Reading | None, Reading | None]:
        return self.before.readings.get(slot), self.after.readings.get(slot)

    def alike(self, slot: str) -> bool:
        """Whether both say the same, and it still holds."""
        one, two = self.readings(slot)
        return same_reading(one, two) and not (two is not None and two.stale)

    def known(self, slot: str) -> bool:
        return all(known_value(reading) is not None for reading in self.readings(slot))

    def refuse_new_shapes(self) -> None:
        slots = (*_NEW_SHAPE, *(name.format(self.side) for name in _NEW_VALVE))
        changed = [slot for slot in slots if _told(self.readings(slot)) and not self.alike(slot)]
        if not _told(self.readings("cam")):
            changed += [s for s in (f"lobe_lift_{self.side}",) if self._other_number(s)]
        if changed:
            names = ", ".join(slot_of(slot).label for slot in changed)
            raise UnknownInputError(
                f"Unknown: since the clay was taken another {names} is in: no sum follows that.",
                tuple(changed),
            )

    def _other_number(self, slot: str) -> bool:
        one, two = map(known_value, self.readings(slot))
        return one is not None and two is not None and one != two

    def pair(self, slot: str, instead: float) -> tuple[float, float]:
        """Return both numbers of a slot; where both are the same and not known, a stand-in."""
        one, two = map(known_value, self.readings(slot))
        if one is not None and two is not None:
            return one, two
        if self.alike(slot):
            return instead, instead
        raise self._missing(slot)

    def _missing(self, slot: str) -> UnknownInputError:
        one = known_value(self.before.readings.get(slot))
        when = "when the clay was taken" if one is None else "on this build"
        return UnknownInputError(f"Unknown: {slot_of(slot).label} {when} is not known.", (slot,))

    def cranks(self) -> tuple[tuple[float, float], tuple[float, float]] | None:
        """Return strokes and rods, m; None when they are alike and not known."""
        if self.known("stroke") and self.known("rod_length"):
            strokes, rods = self.pair("stroke", 0.0), self.pair("rod_length", 0.0)
            return (strokes[0] * _MM, strokes[1] * _MM), (rods[0] * _MM, rods[1] * _MM)
        for slot in ("stroke", "rod_length"):
            if not self.alike(slot):
                raise self._missing(slot)
        return None

    def advances(self, table: TableOnFile | None) -> tuple[float, float]:
        """Return how much earlier the cam runs than in the table, crank degrees, in both."""
        one, two = map(known_value, self.readings("cam_centre"))
        base = table.centre if table is not None and table.centre is not None else one
        if one is None or two is None or base is None:
            if self.alike("cam_centre") or not all(self.readings("cam_centre")):
                return 0.0, 0.0
            raise self._missing("cam_centre")
        return base - one, base - two

    def height(self) -> Ranged:
        """Return how much further up the valve stands, seen from the piston, m."""
        parts: dict[str, Ranged] = {}
        for slot, sign in (("gasket_thickness", 1.0), ("deck", 1.0), ("head_milled", -1.0)):
            if self.alike(slot):
                continue
            one, two = map(known_value, self.readings(slot))
            if slot == "head_milled":
                one, two = one or 0.0, two or 0.0
            if one is None or two is None:
                raise self._missing(slot)
            parts[f"{slot}_before"] = _within(-sign * one, half_of(slot))
            parts[slot] = _within(sign * two, self.halves.get(slot, half_of(slot)))
        return carry(lambda **given: sum(given.values()) * _MM, **parts) if parts else _EXACT

    def lobe(
        self,
        on_file: TableOnFile | None,
        usable: TableOnFile | None,
        clay: ClayOnFile,
        lift_moves: bool,
    ) -> LobeLift | LiftTable:
        """Return the table, or what is known of the lift without one."""
        tight = clay.tight_lift[0 if self.side == "intake" else 1]
        seen = None if tight is None else tight * _MM
        if usable is not None:
            return usable.table
        if on_file is not None:
            near = max(on_file.table.lift(angle) for angle in NEAR_TOP)
            return LobeLift(on_file.table.peak, near, seen)
        highest = known_value(self.after.readings.get(f"lobe_lift_{self.side}"))
        if highest is None:
            if lift_moves:
                raise self._missing(f"lobe_lift_{self.side}")
            highest = 0.0
        return LobeLift(highest * _MM, None, seen)


def _told(readings: tuple[Reading | None, Reading | None]) -> bool:
    return all(reading is not None and reading.state != "unknown" for reading in readings)


def _within(value: float, half: float) -> Ranged:
    return Ranged.within(value, half)
