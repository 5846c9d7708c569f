"""The slots of the setup sheet by id, and finding one by whatever name it was given."""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from core.errors import InputError, NotFoundError
from core.setup.names import SYNONYMS, spellings
from core.setup.tables import ALL_ROWS
from core.setup.tables.rows import NumberSystem, Slot
from core.setup.typed import cut_short

__all__ = [
    "GROUPS",
    "SLOTS",
    "NumberSystem",
    "Slot",
    "find_slot",
    "own_slot",
    "slot_of",
    "slot_order",
]

SLOTS: Mapping[str, Slot] = MappingProxyType({slot.id: slot for slot in ALL_ROWS})
"""Every slot the tool knows, by id, in the order of the sheet."""

OWN_GROUP = "own"
GROUPS: tuple[str, ...] = (*dict.fromkeys(slot.group for slot in ALL_ROWS), OWN_GROUP)
"""Headings in the order of the sheet; the user's own slots stand last."""

_OWN = "own:"
_ORDER = {slot: index for index, slot in enumerate(SLOTS)}
_LONGEST_NAME = 60  # letters of an own slot's name
_NEAREST = 4  # slots named when one is not found


@cache
def _by_spelling() -> dict[str, str]:
    """Slot ids by spelling: id and label win over synonyms, a form as typed over a turned one."""
    said = [(slot.id, name) for slot in ALL_ROWS for name in (slot.id, slot.label)]
    also = [(slot, name) for slot, names in SYNONYMS.items() for name in names]
    table: dict[str, str] = {}
    for pairs in (said, also):
        for slot, name in pairs:
            table.setdefault(spellings(name)[0], slot)
    for slot, name in (*said, *also):
        for form in spellings(name)[1:]:
            table.setdefault(form, slot)
    return table


def find_slot(name: str) -> Slot:
    """Return the slot of this id, label or trade name, however it is spelt.

    Args:
        name: ``final_sprocket``, ``Final Sprocket``, ``rear-sprocket``, ``own:seat foam`` ...

    Raises:
        NotFoundError: no such slot; the sentence names the nearest ones.

    >>> find_slot("Rear Sprocket").id, find_slot("lash in").id, find_slot("jet").id
    ('final_sprocket', 'lash_intake', 'main_jet')
    """
    word = name.strip()
    if word in SLOTS:
        return SLOTS[word]
    if word.casefold().startswith(_OWN):
        return own_slot(word[len(_OWN) :])
    table = _by_spelling()
    for form in spellings(word):
        if form in table:
            return SLOTS[table[form]]
    raise NotFoundError(f"No slot is called “{cut_short(word)}”{_nearest(word)}.")


def _nearest(word: str) -> str:
    """Name a few slots that hold the words typed, or are spelt nearly so."""
    words = set(re.findall(r"\w+", word.casefold().replace("_", " ")))
    holding = [slot.label for slot in ALL_ROWS if words and words <= set(slot.label.split())]
    holding.sort(key=lambda label: len(label.split()))
    table = _by_spelling()
    alike = [
        SLOTS[table[near]].label
        for form in spellings(word)
        for near in difflib.get_close_matches(form, table, n=3, cutoff=0.6)
    ]
    found = list(dict.fromkeys((*holding, *alike)))[:_NEAREST]
    return f"; the nearest are {', '.join(found)}" if found else ""


def own_slot(name: str) -> Slot:
    """Return a slot of the user's own; it holds words.

    Args:
        name: as the user calls it; letters and digits of any script count.

    Raises:
        InputError: there is no letter or digit in it, or it is too long.

    >>> own_slot("Seat foam").id, own_slot("own:seat_foam").label
    ('own:seat_foam', 'seat foam')
    """
    words = re.findall(r"[^\W_]+", name.strip().lower().removeprefix(_OWN))
    if not words:
        raise InputError("A slot of your own needs a name with a letter or digit in it.")
    label = " ".join(words)
    if len(label) > _LONGEST_NAME:
        raise InputError(f"The slot's name is too long: at most {_LONGEST_NAME} letters.")
    return Slot("own:" + "_".join(words), OWN_GROUP, label, "text", "setting")


def slot_of(slot: str) -> Slot:
    """Return the slot of an id that stands in a sheet, also of one this version does not know.

    A sheet may come from a log with slots of a later version; these read as the user's own words.
    """
    known = SLOTS.get(slot)
    if known is not None:
        return known
    words = re.findall(r"[^\W_]+", slot.removeprefix(_OWN).lower())
    label = " ".join(words)[:_LONGEST_NAME] or slot[:_LONGEST_NAME] or "slot without a name"
    return Slot(slot, OWN_GROUP, label, "text", "setting")


def slot_order(slot: str) -> tuple[int, str]:
    """Return what slot ids are sorted by: the order of the sheet, then own slots by name."""
    return (_ORDER.get(slot, len(_ORDER)), slot)
