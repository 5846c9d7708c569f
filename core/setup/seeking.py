"""Finding slots by a few letters of their label or of a trade name for them."""

from __future__ import annotations

from core.setup.names import SYNONYMS
from core.setup.slots import SLOTS, Slot

__all__ = ["match_slots"]

_NO_MATCH = 4


def match_slots(letters: str) -> tuple[Slot, ...]:
    """Return the slots that these letters may mean, the likeliest first; all for none.

    A label that starts so comes first, then one with words that start so, then a trade name that
    does, then labels that hold the letters anywhere. Several words must all fit.

    Args:
        letters: usually two or three.

    >>> [slot.id for slot in match_slots("fin sp")][:1], match_slots("squ")[0].id
    (['final_sprocket'], 'piston_to_head_gap')
    """
    sought = " ".join(letters.casefold().replace("_", " ").split())
    if not sought:
        return tuple(SLOTS.values())
    ranks = {slot: _rank(slot, sought) for slot in SLOTS.values()}
    return tuple(slot for slot in sorted(ranks, key=ranks.__getitem__) if ranks[slot] < _NO_MATCH)


def _rank(slot: Slot, sought: str) -> int:
    label = slot.label.casefold()
    if label.startswith(sought):
        return 0
    words = sought.split()
    if _all_start(words, label):
        return 1
    if any(_all_start(words, name) for name in SYNONYMS.get(slot.id, ())):
        return 2
    return 3 if all(word in label for word in words) else _NO_MATCH


def _all_start(words: list[str], name: str) -> bool:
    parts = name.split()
    return all(any(part.startswith(word) for part in parts) for word in words)
