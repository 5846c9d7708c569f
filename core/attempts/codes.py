"""Strike reasons (faults of the test) and tags (behaviour of the machine), each with its letter.

A struck attempt does not count; a tagged one always does. The two must never be mixed up: an
attempt is struck for what the test did to it, never for what the machine did.
Source of both lists: common practice, no source.
"""

from __future__ import annotations

import msgspec

from core.attempts.asking import quoted
from core.errors import NotFoundError

__all__ = ["STRIKES", "TAGS", "StrikeReason", "TagKind", "find_strike", "find_tag"]


class StrikeReason(msgspec.Struct, frozen=True):
    """One fault of the test for which an attempt may be struck."""

    code: str  # name in the log and in files
    letter: str  # the key that picks it
    words: str  # one line on screen
    aliases: tuple[str, ...] = ()  # other words for it
    ran_through: bool = True  # the machine still went to the other end, so the direction flips
    reliability: bool = False  # also counts as something that broke
    reopens: tuple[str, ...] = ()  # slots whose checks are due again, as if they had been changed


class TagKind(msgspec.Struct, frozen=True):
    """One behaviour of the machine; it is counted, and the attempt stays in the numbers."""

    code: str  # name in the log and in files
    letter: str  # the key that picks it; never ``s``, which is the unit of a time
    words: str  # one line on screen
    counted: str  # how it reads in "… 3 of 8"
    aliases: tuple[str, ...] = ()  # other words for it


STRIKES: tuple[StrikeReason, ...] = (
    StrikeReason("FALSE", "f", "false start", ran_through=False),
    StrikeReason("LATE", "l", "watch started or stopped late", ("watch",)),
    StrikeReason("MISREAD", "m", "time misread or misheard", ("misheard",)),
    StrikeReason("NOFIX", "n", "satellite position lost", ("position lost",)),
    StrikeReason("WRONGMARK", "w", "clocked at the wrong mark", ("mark",)),
    StrikeReason("TRAFFIC", "t", "someone or an animal on the strip", ("animal",), False),
    StrikeReason("GUST", "g", "gust read above the limit", ("wind",)),
    StrikeReason("LIFTED", "r", "rider backed off for safety", ("backed off", "rider")),
    StrikeReason("CHOKE", "c", "choke left on"),
    StrikeReason("TAP", "p", "fuel tap left wrong", ("fuel tap",)),
    StrikeReason("CHAIN", "h", "chain came off", ("chain off",), False, True, ("chain",)),
    StrikeReason("WRONGBUILD", "b", "not the build on the setup sheet", ("build",)),
)

TAGS: tuple[TagKind, ...] = (
    TagKind("BOG", "b", "bogged off the line", "bogged", ("bogged",)),
    TagKind("SPIN", "p", "wheel spun", "wheel spun", ("spun",)),
    TagKind("SLIP", "l", "clutch or belt slipped", "slipped", ("slipped",)),
    TagKind("STUMBLE", "t", "stumbled or misfired", "stumbled", ("stumbled", "misfire")),
    TagKind("FADE", "f", "faded towards the end", "faded", ("faded",)),
    TagKind("HOT", "h", "hot engine or clutch", "hot", ("overheated",)),
    TagKind("LAUNCH", "m", "missed launch", "launch missed", ("missed",)),
    TagKind("SLOW", "w", "just slow", "just slow"),
)


def _plain(word: str) -> str:
    return "".join(c for c in word.casefold() if c not in " -_")


_STRIKE_BY_WORD = {_plain(w): s for s in STRIKES for w in (s.letter, s.code, s.words, *s.aliases)}
_TAG_BY_WORD = {_plain(w): t for t in TAGS for w in (t.letter, t.code, t.words, *t.aliases)}


def find_strike(word: str) -> StrikeReason:
    """Return the strike reason of that letter, code or word; case and spaces are forgiven.

    Raises:
        NotFoundError: no such reason; the hint lists all letters.

    >>> find_strike("l").code, find_strike("wrong mark").code, find_strike("Chain off").code
    ('LATE', 'WRONGMARK', 'CHAIN')
    """
    found = _STRIKE_BY_WORD.get(_plain(word))
    if found is None:
        letters = ", ".join(f"{s.letter} {s.code}" for s in STRIKES)
        raise NotFoundError(f"{quoted(word)} is not a reason to strike.", f"One of: {letters}.")
    return found


def find_tag(word: str) -> TagKind:
    """Return the tag of that letter, code or word; case and spaces are forgiven.

    Raises:
        NotFoundError: no such tag; the hint lists all letters.

    >>> find_tag("b").code, find_tag("missed launch").code
    ('BOG', 'LAUNCH')
    """
    found = _TAG_BY_WORD.get(_plain(word))
    if found is None:
        letters = ", ".join(f"{t.letter} {t.code}" for t in TAGS)
        raise NotFoundError(f"{quoted(word)} is not a tag.", f"One of: {letters}.")
    return found
