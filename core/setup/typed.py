"""Taking a typed value apart: mark, number, unit, and how it is known."""

from __future__ import annotations

import re
from dataclasses import dataclass

from core.errors import InputError
from core.setup.readings import State

__all__ = [
    "COUNT_WORDS",
    "NOT_FITTED_WORDS",
    "UNKNOWN_WORDS",
    "Typed",
    "count_word",
    "cut_short",
    "take_apart",
]

COUNT_WORDS: dict[str, tuple[str, ...]] = {
    "teeth": ("t", "tooth"),
    "links": ("l", "link"),
    "turns": ("turn",),
    "times": ("time", "x"),
    "springs": ("spring",),
    "pulses": ("pulse",),
    "RON": (),
}
"""Words that stand for a unit where things are counted, with other ways to type them."""

UNKNOWN_WORDS = ("?", "unknown")
NOT_FITTED_WORDS = ("-", "–", "—", "not fitted")

_LONGEST_UNIT = 16  # letters

_STATES: dict[str, State] = {
    "measured": "measured",
    "stated": "stated",
    "estimated": "estimated",
    "est": "estimated",
    "est.": "estimated",
    "set": "set",
}

_MARKED = re.compile(r"^(?P<mark>[~≈]|>=?|<=?|≥|≤)?\s*(?P<rest>.*)$", re.DOTALL)
_NUMBER_HEAD = re.compile(
    r"^([+\-−]?[\d.,][\d.,']*(?:[eE][+\-]?\d+(?![a-zA-Z]))?)\s*(.*)$", re.DOTALL
)


@dataclass(frozen=True)
class Typed:
    """A typed value in its pieces."""

    mark: str  # ``~``, ``>``, ``<`` or nothing
    number: str  # as typed
    unit: str  # as typed; empty when none was
    state: State | None  # when a trailing word told it


def count_word(suffix: str) -> str:
    """Return the counting word that a suffix stands for, or nothing.

    >>> count_word("T"), count_word("links"), count_word("mm")
    ('teeth', 'links', '')
    """
    folded = suffix.strip().casefold()
    for word, others in COUNT_WORDS.items():
        if folded == word.casefold() or folded in others:
            return word
    return ""


def take_apart(text: str) -> Typed:
    """Take a typed value apart; nothing is read into it yet.

    Raises:
        InputError: there is no number in it, or it is said to be both a bound and an estimate.

    >>> take_apart(">3.0 mm").mark, take_apart("6500 stated").state, take_apart("60T").unit
    ('>', 'stated', 'T')
    """
    word = text.strip()
    state: State | None = None
    head, _, last = word.rpartition(" ")
    if head and last.casefold() in _STATES:
        word, state = head.strip(), _STATES[last.casefold()]
    marked = _MARKED.match(word)
    mark = (marked["mark"] or "") if marked else ""
    rest = marked["rest"] if marked else word
    if mark and state is not None and not (mark in "~≈" and state == "estimated"):
        raise InputError(f"“{mark}” and “{last}” say two things of one value: type one of them.")
    numbered = _NUMBER_HEAD.match(rest)
    if numbered is None:
        raise InputError(f"“{cut_short(word)}” is not a number.", "Type ? for unknown, - for none.")
    unit = numbered[2].strip()
    if len(unit) > _LONGEST_UNIT or not unit.isprintable():
        raise InputError(
            f"“{cut_short(unit)}” is not a unit I know.", "Leave it off for the usual one."
        )
    plain = {"~": "~", "≈": "~"}.get(mark) or (mark[:1].replace("≥", ">").replace("≤", "<"))
    return Typed(plain, numbered[1], unit, state)


def cut_short(text: str, limit: int = 40) -> str:
    """Return a user's text as it may stand in a sentence: one line, no control codes, cut off.

    >>> cut_short("a\\x1b[31mb"), cut_short("x" * 50, limit=4)
    ('a·[31mb', 'xxx…')
    """
    clean = "".join(c if c.isprintable() else "·" for c in text)
    return clean if len(clean) <= limit else clean[: limit - 1] + "…"
