"""Which slots varied on a machine, and at which level each build had them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from core.setup import (
    PartHead,
    Reading,
    Sheet,
    build_readings,
    reading_words,
    sameness,
    settled_id,
    slot_of,
    slot_order,
)
from core.stats import Column, Levels

__all__ = ["NOT_RECORDED", "Catalogue", "catalogue"]

NOT_RECORDED = "not recorded"


@dataclass(frozen=True)
class Catalogue:
    """The builds of one machine as levels of the slots that varied."""

    levels: Mapping[str, Levels]
    """By build key: one level of each slot that varied."""
    words: Mapping[Column, str]
    """What each level is called."""
    followers: tuple[str, ...]
    """Slots that varied only as a consequence of others, in the order of the sheet."""


def catalogue(
    sheets: Mapping[str, Sheet], parts: Mapping[str, PartHead], *, by_name: bool = False
) -> Catalogue:
    """Return the builds of one machine as levels of what varied between them.

    Args:
        sheets: by build key.
        parts: those of the shelf by id; parts that were made one are one level.
        by_name: parts of the same name count as the same, for logs that share no ids.

    A slot that some builds have and others do not is at the level "not recorded" there. A slot
    that follows others (the chain cut for a sprocket, the engagement of a clutch) is left out
    where it never varied on its own, as its change is part of theirs.
    """
    said = {key: build_readings(sheet) for key, sheet in sheets.items()}
    slots = sorted({slot for readings in said.values() for slot in readings}, key=slot_order)
    level: dict[str, dict[str, str]] = {}
    words: dict[Column, str] = {}
    for slot in slots:
        by_key = {}
        for key, readings in said.items():
            name, called = _level(slot, readings.get(slot), parts, by_name=by_name)
            by_key[key] = name
            words[slot, name] = called
        if len(set(by_key.values())) > 1:
            level[slot] = by_key
    followers = tuple(slot for slot in level if _only_follows(slot, level))
    kept = [slot for slot in level if slot not in followers]
    return Catalogue(
        levels={key: tuple((slot, level[slot][key]) for slot in kept) for key in said},
        words={column: called for column, called in words.items() if column[0] in kept},
        followers=followers,
    )


def _level(
    slot: str, reading: Reading | None, parts: Mapping[str, PartHead], *, by_name: bool
) -> tuple[str, str]:
    """Return what stands for a reading, the same for readings that say the same, and its words."""
    if reading is None:
        return NOT_RECORDED, NOT_RECORDED
    if reading.part:
        settled = settled_id(reading.part, parts)
        called = parts[settled].name if settled in parts else reading.text or reading.part
        return (called if by_name else f"part {settled}"), called
    kind, value, text = sameness(reading)
    number = "" if value is None else f"{value:.9g}"
    return " ".join(filter(None, (kind, number, text))), reading_words(slot_of(slot), reading)


def _only_follows(slot: str, level: Mapping[str, Mapping[str, str]]) -> bool:
    """Tell whether a slot never varied while all that it follows stayed."""
    leaders = [name for name in _leaders(slot) if name in level]
    if not leaders:
        return False
    found: dict[Sequence[str], str] = {}
    return all(
        found.setdefault(tuple(level[name][key] for name in leaders), own) == own
        for key, own in level[slot].items()
    )


def _leaders(slot: str) -> tuple[str, ...]:
    """All slots that a slot follows, also by way of others."""
    found: dict[str, None] = {}
    edge = list(slot_of(slot).follows)
    while edge:
        name = edge.pop()
        if name not in found and name != slot:
            found[name] = None
            edge += slot_of(name).follows
    return tuple(found)
