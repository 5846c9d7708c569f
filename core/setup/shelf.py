"""The shelf: picking a part by a few letters, making, renaming and retiring one."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from datetime import datetime
from typing import TypeVar

import msgspec

from core.errors import InputError
from core.setup.documents import Machine, Part, PartHead
from core.setup.readings import Reading, fitted
from core.setup.slots import find_slot

__all__ = [
    "archive",
    "checked_name",
    "is_sprocket",
    "match_parts",
    "new_part",
    "part_readings",
    "rename",
    "retire",
]

P = TypeVar("P", Part, PartHead)
Named = TypeVar("Named", Part, Machine)

_LONGEST_NAME = 80  # letters of a nickname
_TEETH = re.compile(r"(?<![\w.,])(\d{1,3})\s*(?:T|teeth|tooth)\b", re.IGNORECASE)

TEETH_SLOTS: dict[str, str] = {
    slot: f"{slot}_teeth"
    for slot in ("engine_sprocket", "jackshaft_in", "jackshaft_out", "final_sprocket")
}
"""Where the teeth of a part stand, by its slot."""

LIMIT_SLOTS: dict[str, str] = {
    "rod": "rod_rpm_limit",
    "flywheel": "flywheel_rpm_limit",
    "springs": "valve_train_rpm_limit",
    "clutch": "clutch_rpm_limit",
}
"""Where the rpm limit of a part stands, by its slot."""


def is_sprocket(slot: str) -> bool:
    """Tell whether a part of this slot has teeth that count."""
    return slot in TEETH_SLOTS


def _plain(text: str) -> str:
    """Fold case and drop accents, so that letters on any keyboard find a name."""
    split = unicodedata.normalize("NFKD", text.casefold())
    return " ".join("".join(c for c in split if not unicodedata.combining(c)).split())


def match_parts(parts: Iterable[P], letters: str, slot: str = "") -> tuple[P, ...]:
    """Return the parts that these letters may mean, the likeliest first; retired ones are not.

    A whole name comes first, then names that start so, then words within that start so, then
    names that hold the letters anywhere. Present and former names both count.

    Args:
        parts: documents or rows of a list.
        letters: usually two or three; none: all.
        slot: id of the part slot they must fit; empty: any.
    """
    sought = _plain(letters)
    open_to = [p for p in parts if p.status != "retired" and slot in ("", p.slot)]
    fitting = [p for p in open_to if _nearness(p, sought) < _NO_MATCH]
    return tuple(sorted(fitting, key=lambda p: (_nearness(p, sought), _plain(p.name), p.id)))


def _nearness(part: Part | PartHead, sought: str) -> int:
    return min(_rank(_plain(name), sought) for name in (part.name, *part.aliases))


_NO_MATCH = 4


def _rank(name: str, sought: str) -> int:
    if name == sought:
        return 0
    if name.startswith(sought):
        return 1
    if any(word.startswith(sought) for word in name.split()):
        return 2
    return 3 if sought in name else _NO_MATCH


def checked_name(name: str) -> str:
    """Return a name with single blanks, and nothing in it that cannot be shown.

    Raises:
        InputError: nothing is left of it, or it is longer than 80 letters.
    """
    clean = " ".join("".join(c if c.isprintable() else " " for c in name).split())
    if not clean:
        raise InputError("A name needs at least one letter or digit.")
    if len(clean) > _LONGEST_NAME:
        raise InputError(f"The name is too long: at most {_LONGEST_NAME} letters.")
    return clean


def new_part(name: str, slot: str, id: str, at: datetime | None = None) -> Part:  # noqa: A002
    """Return a new part; a sprocket's teeth are read off a name such as ``63T``.

    Args:
        name: nickname.
        slot: id or any name of the part slot it fits.
        id: a fresh id, see `core.log.new_id`.
        at: when it came into the log.

    Raises:
        InputError: no name, or the slot holds no part.
        NotFoundError: no such slot.

    >>> new_part("63T alu", "rear sprocket", "p1").teeth
    63
    """
    place = find_slot(slot)
    if place.kind != "part":
        raise InputError(f"A part cannot sit in “{place.label}”: that is a value.")
    clean = checked_name(name)
    found = _TEETH.search(clean) if is_sprocket(place.id) else None
    return Part(
        id=id,
        name=clean,
        slot=place.id,
        teeth=int(found[1]) if found and int(found[1]) else None,
        created=at,
    )


def part_readings(part: Part, at: datetime | None = None) -> dict[str, Reading]:
    """Return what goes into the sheet when this part is fitted: itself, its teeth, its rpm limit.

    Teeth and limits that the part does not tell are left out; those of the part before it are
    then marked stale by `mark_stale`.
    """
    readings = {part.slot: fitted(part.id, part.name, at)}
    if part.teeth is not None and part.slot in TEETH_SLOTS:
        readings[TEETH_SLOTS[part.slot]] = Reading(
            state="measured", value=float(part.teeth), text=f"{part.teeth}T", at=at
        )
    if part.rpm_limit is not None and part.slot in LIMIT_SLOTS:
        readings[LIMIT_SLOTS[part.slot]] = Reading(
            state="stated", value=part.rpm_limit, text=f"{part.rpm_limit:g} stated", at=at
        )
    return readings


def rename(thing: Named, name: str) -> Named:
    """Return a part or machine under a new name; the old one stays as an alias.

    Old sheets keep the name of then, and the id never changes.

    Raises:
        InputError: no name.
    """
    clean = checked_name(name)
    if clean == thing.name:
        return thing
    others = (alias for alias in (*thing.aliases, thing.name) if alias != clean)
    aliases = tuple(dict.fromkeys(others))
    return msgspec.structs.replace(thing, name=clean, aliases=aliases)


def retire(part: Part, because: str) -> Part:
    """Return a part that may not be fitted again; its history stays.

    Args:
        part: may still be fitted; it then comes off its machine.
        because: such as ``hairline at the beam``.

    Raises:
        InputError: no reason is given.
    """
    reason = " ".join(because.split())
    if not reason:
        raise InputError(f"Why is {part.name} retired? A few words, for next winter.")
    return msgspec.structs.replace(
        part, status="retired", retired_because=reason, machine="", since=None
    )


def archive(machine: Machine) -> Machine:
    """Return a machine that pick lists no longer show; its sessions stay readable."""
    return msgspec.structs.replace(machine, archived=True)
