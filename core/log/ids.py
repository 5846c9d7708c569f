"""Names of documents: sortable by time, with a random tail, fit to be a file name anywhere."""

from __future__ import annotations

import random
import re
from typing import Final

from core.clock import Clock, to_utc

__all__ = ["is_id", "new_id"]

_LETTERS: Final = "abcdefghijklmnopqrstuvwxyz234567"  # base 32 of RFC 4648, lower case
_TAIL: Final = 8  # 40 random bits: two of 1,000 ids of the same second meet once in two million
_DEVICES: Final = r"(?!(?:con|prn|aux|nul|com[0-9]|lpt[0-9])$)"  # Windows keeps these to itself
_ID: Final = re.compile(_DEVICES + r"[a-z0-9][a-z0-9_-]{0,99}")
_SYSTEM_RANDOM: Final = random.SystemRandom()


def new_id(clock: Clock, rng: random.Random | None = None) -> str:
    """Return a fresh id such as ``20260412-083000-k7x2m9qa``: UTC to the second and a tail.

    Args:
        clock: tells the time.
        rng: source of the tail; the system's own when left out.

    >>> from datetime import datetime
    >>> moment = datetime.fromisoformat("2026-04-12T10:30:00+02:00")
    >>> new_id(lambda: moment, random.Random(4))
    '20260412-083000-hdmecm5z'
    """
    source = _SYSTEM_RANDOM if rng is None else rng
    tail = "".join(source.choices(_LETTERS, k=_TAIL))
    return f"{to_utc(clock()):%Y%m%d-%H%M%S}-{tail}"


def is_id(text: str) -> bool:
    """Tell whether a text can be an id: lower-case letters, digits, ``-`` and ``_``, up to 100.

    Only such names mean the same file on every system, whatever it thinks of capital letters.
    """
    return _ID.fullmatch(text) is not None
