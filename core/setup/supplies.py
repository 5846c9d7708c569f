"""What a planned change needs besides the part: gaskets, clay, threadlocker, a spare link."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from core.setup.documents import Part, PartHead
from core.setup.slots import slot_of
from core.setup.tables.rows import Slot

__all__ = ["SUPPLIES", "SUPPLY_PREFIX", "Needed", "Supply", "shopping", "supply_part"]

SUPPLY_PREFIX = "own:supply_"
"""Slot of a supply on the shelf: ``own:supply_clay``; no sheet has such a slot."""


@dataclass(frozen=True)
class Supply:
    """One thing that is used up, and the slots whose change uses it."""

    id: str
    words: str
    slots: tuple[str, ...]  # a change of any of them needs it
    because: str


_HEAD_OFF = ("head", "head_gasket", "valves_intake", "valves_exhaust", "piston", "rings",
             "head_milled", "block_decked", "crank", "rod")  # fmt: skip
_COVER_OFF = ("cam", "lifters", "crank", "rod", "side_cover", "piston", "rings")

SUPPLIES: tuple[Supply, ...] = (
    Supply("head_gasket", "head gasket", _HEAD_OFF, "a crushed one may not seal again"),
    Supply("cover_gasket", "side cover gasket", _COVER_OFF, "the cover comes off"),
    Supply("rocker_gasket", "rocker cover gasket",
           ("rockers", "pushrods", "springs", "retainers", "keepers", "valves_intake",
            "valves_exhaust"), "the rocker cover comes off"),
    Supply("clay", "modelling clay", ("cam", "rockers", "head", "head_gasket", "piston", "crank",
           "valves_intake", "valves_exhaust", "head_milled", "block_decked", "rod"),
           "the gap between valves and piston is measured with it"),
    Supply("gauging_strip", "gauging strip", ("rod", "crank"), "for the big-end clearance"),
    Supply("rod_bolts", "rod bolts", ("rod", "crank", "piston"),
           "many makers want new ones each time: see their sheet"),
    Supply("assembly_lube", "assembly lube", ("cam", "lifters", "rod", "crank"),
           "bare lobes and bearings at the first start"),
    Supply("oil", "engine oil", _COVER_OFF, "it runs out with the cover off"),
    Supply("threadlocker", "threadlocker",
           ("engine_sprocket", "final_sprocket", "jackshaft_in", "jackshaft_out", "clutch",
            "exhaust", "engine_mount", "engine_plate"), "bolts that shake"),
    Supply("master_link", "chain link with clip",
           ("chain", "engine_sprocket", "final_sprocket", "jackshaft_in", "jackshaft_out"),
           "a clip that was off twice is not to be trusted"),
    Supply("exhaust_gasket", "exhaust gasket", ("exhaust", "head"), "the flange comes off"),
    Supply("intake_gasket", "intake gasket", ("carb", "intake_adapter", "head"),
           "the flange comes off"),
    Supply("flywheel_key", "flywheel key", ("flywheel", "key_offset", "crank"),
           "a key that was hit once is done"),
    Supply("plug", "spark plug", ("main_jet", "pilot_jet", "carb", "fuel_kind"),
           "plug colour needs a clean one"),
    Supply("fuel_hose", "fuel hose and clips", ("tank", "fuel_line", "fuel_tap", "fuel_kind"),
           "old hose leaks at a new joint"),
    Supply("brake_fluid", "brake fluid", ("brake",),
           "lines are opened and bled"),
    Supply("grease", "grease", ("axle", "hubs", "steering", "wheel_front", "wheel_rear"),
           "bearings are open"),
)  # fmt: skip
"""Common practice, no source; makers' sheets come first."""


@dataclass(frozen=True)
class Needed:
    """One line of a shopping list."""

    what: str  # a part or a supply
    for_slots: tuple[str, ...]  # labels of what is changed
    because: str
    status: str  # ``here``, ``ordered``, ``wanted``, ``not on the shelf``
    part: str = ""  # id on the shelf; empty: none


def supply_part(supply: Supply, id: str) -> Part:  # noqa: A002
    """Return the shelf's document of a supply, as wanted."""
    return Part(id=id, name=supply.words, slot=f"{SUPPLY_PREFIX}{supply.id}", status="wanted")


def _best(parts: Iterable[Part | PartHead], wanted: str) -> tuple[str, str]:
    """Return status and id of what the shelf has for a slot, the readiest first."""
    order = ("here", "ordered", "wanted")
    found = [(order.index(p.status), p.status, p.id) for p in parts
             if p.slot == wanted and p.status in order and not p.same_as]  # fmt: skip
    return min(found)[1:] if found else ("not on the shelf", "")


def shopping(
    slots: Iterable[str], parts: Iterable[Part | PartHead], picked: Iterable[str] = ()
) -> tuple[Needed, ...]:
    """Return what a planned change needs, what of it is here and what is to be bought.

    Args:
        slots: ids of the slots that the plan changes.
        parts: those of the shelf.
        picked: ids of the parts that are to go on.

    >>> [row.what for row in shopping(["chain"], [])]
    ['chain', 'chain link with clip']
    """
    changed, shelf = tuple(dict.fromkeys(slots)), tuple(parts)
    chosen = {p.slot: p for p in shelf if p.id in set(picked)}
    sat_on = (slot_of(s) for s in changed)
    rows = [_part_row(s, chosen.get(s.id), shelf) for s in sat_on if s.kind == "part"]
    for supply in SUPPLIES:
        mine = tuple(s for s in changed if s in supply.slots)
        if mine and supply.id not in changed:
            status, part = _best(shelf, f"{SUPPLY_PREFIX}{supply.id}")
            if not part:
                status, part = _best(shelf, supply.id)
            labels = tuple(slot_of(s).label for s in mine)
            rows.append(Needed(supply.words, labels, supply.because, status, part))
    return tuple(rows)


def _part_row(
    slot: Slot, chosen: Part | PartHead | None, shelf: tuple[Part | PartHead, ...]
) -> Needed:
    status, part = (chosen.status, chosen.id) if chosen else _best(shelf, slot.id)
    what = chosen.name if chosen else slot.label
    return Needed(what, (slot.label,), "the change itself", status, part)
