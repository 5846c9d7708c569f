"""Lines of a recording that were left out: the first of them by number, all of them counted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from typing import Final

import msgspec

from core.errors import InputError

__all__ = ["MOST_KEPT", "MOST_REJECTED", "NO_FIX", "Rejected", "Rejects"]

MOST_KEPT: Final = 100
"""Rejected lines that are kept one by one; a file may hold a million of them."""

MOST_REJECTED: Final = 500_000
"""Lines with one trouble after which a file is given up, so that no file takes for ever."""

NO_FIX: Final = "no fix"
"""The one kind of left-out line that is no fault of the file: the receiver had no position yet."""


class Rejected(msgspec.Struct, frozen=True):
    """One line that was left out."""

    line: int  # number of the line in the file, or of the point in a track, from 1
    reason: str  # one sentence
    kind: str = ""  # what lines with the same trouble are counted under


class Rejects:
    """Collects what is left out while a file is read, in bounded memory."""

    def __init__(self) -> None:
        self._kept: list[Rejected] = []
        self._counts: Counter[str] = Counter()

    def add(self, kind: str, line: int, reason: str) -> None:
        """Note one line.

        Args:
            kind: what lines with the same trouble are counted under, such as ``checksum``.
            line: its number.
            reason: one sentence.

        Raises:
            InputError: far too many have the same trouble.
        """
        self._count(kind)
        if len(self._kept) < MOST_KEPT:
            self._kept.append(Rejected(line, reason, kind))

    def add_many(self, kind: str, lines: Iterable[int], reason: Callable[[int], str]) -> None:
        """Note many lines; ``reason`` is asked, with the place in ``lines``, only for those kept.

        Args:
            kind: what they are counted under.
            lines: their numbers, in order.
            reason: gives the sentence for one of them.

        Raises:
            InputError: far too many have the same trouble.
        """
        for place, line in enumerate(lines):
            self._count(kind)
            if len(self._kept) < MOST_KEPT:
                self._kept.append(Rejected(int(line), reason(place), kind))

    def _count(self, kind: str) -> None:
        self._counts[kind] += 1
        if kind != NO_FIX and self._counts[kind] > MOST_REJECTED:
            raise InputError(
                f"More than {MOST_REJECTED:,} lines cannot be read ({kind}): this is no recording."
            )

    @property
    def kept(self) -> tuple[Rejected, ...]:
        """The first of them, by number of line."""
        return tuple(sorted(self._kept, key=lambda rejected: rejected.line))

    @property
    def counts(self) -> dict[str, int]:
        """How many by kind, all of them."""
        return dict(self._counts)

    @property
    def total(self) -> int:
        """How many in all."""
        return self._counts.total()
