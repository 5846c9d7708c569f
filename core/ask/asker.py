"""Whom and what a question is about: the open log, the words typed, and what they name in it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import cached_property

from core.ask.steps import Step, steps_of
from core.clock import day_words
from core.errors import BackToBackError
from core.session import Book, Session
from core.setup import Part, Sheet, Slot, find_slot, slot_of
from core.shelf import PartHistory, histories, sessions_of

__all__ = ["Asker", "listed", "said_day"]

_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_NUMBER = re.compile(r"\d+(?:[.,]\d+)?")
_SHORTEST = 3  # letters that may stand for a longer name
_FILLERS = frozenset(
    [
        *("the", "a", "an", "on", "in", "of", "at", "this", "that", "these", "those", "with", "my"),
        *("me", "i", "it", "did", "do", "was", "is", "for", "to", "any", "and", "or"),
        *("session", "sessions", "machine", "attempt", "air"),
    ]
)
"""Words that narrow nothing down."""


class Asker:
    """A question's surroundings; what is read of the log is read once.

    Args:
        book: the open log.
        words: typed behind the number; may name a machine, part, slot, session, month or number.
        machine: id of the machine to take where none is named; empty: that of the newest session.
    """

    def __init__(self, book: Book, words: str = "", machine: str = "") -> None:
        self.book = book
        self.words = " ".join(words.split())
        self._machine = machine

    @cached_property
    def sessions(self) -> tuple[Session, ...]:
        """Every session that can be read, oldest first."""
        return tuple(sessions_of(self.book))

    @cached_property
    def names(self) -> dict[str, str]:
        """Names of machines and places by id."""
        machines = {head.id: head.name for head in self.book.machines()}
        return machines | {head.id: head.name for head in self.book.places()}

    @cached_property
    def parts(self) -> tuple[Part, ...]:
        """Every part that was not made another one."""
        return tuple(part for part in self.book.log.all(Part) if not part.same_as)

    @cached_property
    def past(self) -> dict[str, PartHistory]:
        """The history of every part by id."""
        return histories(self.book)

    @cached_property
    def steps(self) -> tuple[Step, ...]:
        """Every step from one build to the next, of the machines named or of all."""
        named = self.machines_named
        return tuple(steps_of(s for s in self.sessions if not named or s.machine in named))

    # -- what the words name -------------------------------------------------------------------

    @cached_property
    def tokens(self) -> tuple[str, ...]:
        """The words typed, folded, without those that say nothing."""
        words = (w.strip("?!.,;:\"'“”").casefold() for w in self.words.split())
        return tuple(w for w in words if w and w not in _FILLERS)

    @cached_property
    def machines_named(self) -> tuple[str, ...]:
        """Ids of the machines that the words name, in the order typed."""
        found = []
        for token in self.tokens:
            for head in self.book.machines():
                words = {w for n in (head.name, *head.aliases) for w in n.casefold().split()}
                if token in words or (len(token) >= _SHORTEST and _starts(token, words)):
                    found.append(head.id)
        return tuple(dict.fromkeys(found))

    @cached_property
    def machine(self) -> str:
        """Id of the machine asked about: named, given, or that of the newest session."""
        if self.machines_named:
            return self.machines_named[0]
        if self._machine:
            return self._machine
        return self.sessions[-1].machine if self.sessions else ""

    @property
    def machine_name(self) -> str:
        """Its name."""
        return self.names.get(self.machine, self.machine)

    @cached_property
    def rest(self) -> tuple[str, ...]:
        """The words without those that name a machine."""
        named = {
            w
            for head in self.book.machines()
            if head.id in self.machines_named
            for n in (head.name, *head.aliases)
            for w in n.casefold().split()
        }
        return tuple(
            t
            for t in self.tokens
            if t not in named and not (len(t) >= _SHORTEST and _starts(t, named))
        )

    @cached_property
    def number(self) -> tuple[float, int] | None:
        """The first number among the words and its decimals; None: there is none."""
        for token in self.rest:
            if _NUMBER.fullmatch(token):
                _, _, tail = token.replace(",", ".").partition(".")
                return float(token.replace(",", ".")), len(tail)
        return None

    @cached_property
    def month(self) -> int | None:
        """A month that the words name, 1 to 12; None: none."""
        for token in self.rest:
            if token[:3] in _MONTHS and token.isalpha() and len(token) >= _SHORTEST:
                return _MONTHS.index(token[:3]) + 1
        return None

    @cached_property
    def session_named(self) -> Session | None:
        """The session whose whole label stands among the words; None: none."""
        for token in self.tokens:
            for session in reversed(self.sessions):
                if session.label.casefold() == token:
                    return session
        return None

    def of_machine(self, machine: str = "") -> tuple[Session, ...]:
        """Return the sessions of a machine, oldest first; of the one asked about by default."""
        wanted = machine or self.machine
        return tuple(s for s in self.sessions if s.machine == wanted)

    def asked(self) -> tuple[Session, ...]:
        """Return the sessions that the words leave: one, those of a month or machine, or all."""
        if self.session_named is not None:
            return (self.session_named,)
        found: Iterable[Session] = self.sessions
        if self.machines_named:
            found = (s for s in found if s.machine in self.machines_named)
        if self.month is not None:
            found = (s for s in found if s.started.month == self.month)
        return tuple(found)

    def slot_named(self, usual: str = "") -> Slot | None:
        """Return the slot that the words name, else the usual one, else None."""
        for words in self._runs():
            try:
                return find_slot(words)
            except BackToBackError:
                continue
        return slot_of(usual) if usual else None

    def _runs(self) -> Iterator[str]:
        """Yield the longest runs of words first."""
        rest = self.rest
        for length in range(len(rest), 0, -1):
            for start in range(len(rest) - length + 1):
                yield " ".join(rest[start : start + length])

    def parts_named(self, usual_slot: str = "") -> tuple[Part, ...]:
        """Return the parts that the words name, else what sits in the slot they name.

        Args:
            usual_slot: where nothing is named; empty: no part then.
        """
        named = self._by_name()
        if named:
            return named
        slot = self.slot_named(usual_slot)
        if slot is None or slot.kind != "part":
            return ()
        on = self.part_on(slot.id)
        same = tuple(p for p in self.parts if p.slot == slot.id)
        return (on,) if on is not None else same

    def _by_name(self) -> tuple[Part, ...]:
        sought = [t for t in self.rest if t not in ("tooth", "teeth", "sprocket", "sprockets")]
        toothed = self.rest != tuple(sought)
        found = []
        for part in self.parts if sought else ():
            words = " ".join((part.name, *part.aliases)).casefold()
            teeth = {str(part.teeth), f"{part.teeth}-tooth", f"{part.teeth}t"}
            if all(t in words for t in sought) or (
                (toothed or len(sought) == 1) and any(t in teeth for t in sought)
            ):
                found.append(part)
        exact = [p for p in found if p.name.casefold() in (" ".join(sought), self.words.casefold())]
        return tuple(exact or found)

    def part_on(self, slot: str) -> Part | None:
        """Return the part in a slot on the machine's newest sheet, or None."""
        sheet = self.last_sheet(self.machine)
        reading = sheet.readings.get(slot) if sheet is not None else None
        history = self.past.get(reading.part) if reading is not None else None
        return history.part if history is not None else None

    def last_sheet(self, machine: str) -> Sheet | None:
        """Return the newest sheet of a machine that says anything, or None."""
        for session in reversed(self.of_machine(machine)):
            if session.sheets and session.sheets[-1].readings:
                return session.sheets[-1]
        return None


def _starts(token: str, words: Iterable[str]) -> bool:
    return any(word.startswith(token) for word in words)


def said_day(session: Session) -> str:
    """Return a session with its day: ``S03 on 3 May 2026``."""
    return f"{session.label} on {day_words(session.started)}"


def listed(names: Iterable[str], most: int = 6) -> str:
    """Return names in a row: ``S01, S03 and S05``; those beyond ``most`` only counted."""
    found = list(names)
    if len(found) > most:
        return f"{', '.join(found[:most])} and {len(found) - most} more"
    return " and ".join(filter(None, (", ".join(found[:-1]), found[-1]))) if found else "none"
