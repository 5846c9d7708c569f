"""Questions that a typed entry can raise, each answered with one key."""

from __future__ import annotations

import msgspec

__all__ = ["Choice", "Question", "quoted"]


class Choice(msgspec.Struct, frozen=True):
    """One answer to a question."""

    key: str  # the key that picks it
    words: str  # what it says on screen
    value: float | None  # the value it stands for, in the unit asked about; None: type it again


class Question(msgspec.Struct, frozen=True):
    """A doubt about an entry: nothing is kept until one choice is picked."""

    text: str  # one sentence ending in a question mark
    choices: tuple[Choice, ...]  # the likeliest first


def quoted(text: str, limit: int = 40) -> str:
    """Return typed text in quotation marks, cut short, with unprintable characters as dots.

    >>> quoted("7.2\\n6")
    '“7.2·6”'
    """
    clean = "".join(c if c.isprintable() else "·" for c in text[: limit + 1])
    return f"“{clean}”" if len(clean) <= limit else f"“{clean[: limit - 1]}…”"
