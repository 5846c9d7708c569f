"""Sessions of a file into documents of the log: made new, added to, left alone, or held back."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime

import msgspec

from core.attempts import Attempt
from core.errors import InputError
from core.exchange.drafts import Draft, Entry
from core.exchange.matching import match
from core.exchange.naming import Names, export_labels, folded, session_id
from core.exchange.results import Conflict, Rejected
from core.exchange.sheets_in import SheetStack
from core.session import Book, Session, TrailLine, recorded

__all__ = ["Merger", "Outcome"]


@dataclass
class Outcome:
    """What the drafts of one file come to."""

    sessions: list[Session] = field(default_factory=list)  # to be saved
    new: list[str] = field(default_factory=list)  # labels
    added_to: list[str] = field(default_factory=list)  # labels
    unchanged: int = 0  # sessions
    went_in: int = 0  # rows
    there: int = 0  # rows
    conflicts: list[Conflict] = field(default_factory=list)
    contradicting: int = 0  # rows
    rejected: list[Rejected] = field(default_factory=list)


class Merger:
    """Puts drafts into a log; nothing is saved here.

    Args:
        book: an open log.
        names: its machines, places and parts.
        columns: names of the columns that the file has.
    """

    def __init__(self, book: Book, names: Names, columns: frozenset[str]) -> None:
        self._book = book
        self._names = names
        self._columns = columns
        self._ids = set(book.log.ids(Session))
        self._known = _known(book)
        self._ranks: Counter[datetime] = Counter()
        self.outcome = Outcome()

    def take(self, draft: Draft) -> None:
        """Decide about one session of the file."""
        rank = self._ranks[draft.started.at]
        self._ranks[draft.started.at] += 1
        if not draft.entries:
            return
        held = self._known.get((folded(draft.label), self._names.machine_key(draft.machine)))
        try:
            if held is None:
                self._make(draft, rank)
            else:
                self._add(draft, self._book.log.get(Session, held))
        except InputError as error:
            lines = (entry.row.line for entry in draft.entries)
            self.outcome.rejected += [Rejected(line, error.message) for line in lines]

    def _make(self, draft: Draft, rank: int) -> None:
        machine = self._names.machine(draft.machine)
        place = self._names.place(draft.place, draft.directions) if draft.place else ""
        id_ = session_id(draft.label, draft.machine, draft.started.at, rank)
        stack = SheetStack(self._names)
        started = draft.started.at
        bare = Session(
            id=self._book.fresh_id() if id_ in self._ids else id_,
            label=draft.label,
            machine=machine,
            place=place,
            started=started,
            test=draft.test,
            timing=draft.timing,
            directions=draft.directions,
            state="closed",
        )
        attempts = tuple(
            _attempt(entry, entry.n, stack.index_for(entry, entry.at or started), bare)
            for entry in draft.entries
        )
        words = f"read in from a file: {len(attempts)} attempts"
        session = msgspec.structs.replace(
            bare,
            sheets=tuple(stack.sheets),
            attempts=attempts,
            closed=max((a.at for a in attempts if a.at), default=started),
            trail=(TrailLine(at=started, action="start", words=words),),
        )
        self._ids.add(session.id)
        self.outcome.sessions.append(session)
        self.outcome.new.append(draft.label)
        self.outcome.went_in += len(attempts)

    def _add(self, draft: Draft, session: Session) -> None:
        reason = self._other(draft, session)
        found = match(draft, session, self._columns)
        if reason or found.contradiction:
            self.outcome.conflicts.append(Conflict(draft.label, reason or found.contradiction))
            self.outcome.contradicting += len(draft.entries)
            return
        self.outcome.there += len(found.known)
        if not found.new:
            self.outcome.unchanged += 1
            return
        self.outcome.sessions.append(self._extended(draft, session, found.known))
        self.outcome.added_to.append(draft.label)
        self.outcome.went_in += len(found.new)

    def _other(self, draft: Draft, session: Session) -> str:
        """Say why the session of the log is another one than the file's, or nothing."""
        started = session.started
        same_day = started.date() == draft.started.at.date()
        if not (same_day if draft.started.only_day else started == draft.started.at):
            return (
                f"the log has a session of that label that started {started:%Y-%m-%d %H:%M}, "
                f"and the file says {draft.started.at:%Y-%m-%d %H:%M}; "
                "if they are two, give the one in the file another label."
            )
        known = self._names.known_place(draft.place) if draft.place else None
        if draft.place and session.place and (known is None or known.id != session.place):
            return f"in the log it ran at another place than {draft.place}."
        return ""

    def _extended(self, draft: Draft, session: Session, known: Mapping[int, Attempt]) -> Session:
        """Return the session with the rows that it does not hold, each in its place."""
        stack = SheetStack(self._names, session.sheets)
        stack.stand_on(max((a.sheet for a in session.attempts), default=len(session.sheets) - 1))
        taken = {a.n for a in session.attempts}
        attempts: list[Attempt] = []
        for index, entry in enumerate(draft.entries):
            held = known.get(index)
            if held is not None:
                stack.stand_on(held.sheet)
                attempts.append(held)
                continue
            n = entry.n if entry.n not in taken else max(taken) + 1
            taken.add(n)
            sheet = stack.index_for(entry, entry.at or session.started)
            attempts.append(_attempt(entry, n, sheet, session))
        after = msgspec.structs.replace(
            session, attempts=tuple(attempts), sheets=tuple(stack.sheets)
        )
        count = len(attempts) - len(session.attempts)
        words = f"read in from a file: {count} more attempts"
        return recorded(session, after, "import", words, self._book.clock())


def _known(book: Book) -> dict[tuple[str, str], str]:
    """Return the ids of the log's sessions by label and machine name, both folded."""
    machines = {head.id: head.name for head in book.machines()}
    heads = book.sessions()
    labels = export_labels(heads, machines)
    return {(folded(labels[h.id]), folded(machines.get(h.machine, h.machine))): h.id for h in heads}


def _attempt(entry: Entry, n: int, sheet: int, session: Session) -> Attempt:
    row = entry.row
    return Attempt(
        n=n,
        sheet=sheet,
        kind=row.kind,
        value=row.value,
        text=row.text,
        direction=entry.direction,
        at=entry.at,
        test="" if row.test == session.test else row.test,
        timing="" if row.timing == session.timing else row.timing,
        tags=row.tags,
        strike=row.strike,
        unsure=row.unsure,
        entered="imported",
        note=row.note,
    )
