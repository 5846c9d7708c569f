"""The history of a part across machines: where it ran, how many attempts, hours, over what rpm."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

from core.attempts import Attempt, find_test
from core.errors import BackToBackError
from core.session import Book, Session
from core.setup import Part, Sheet, known_value, rpm_at_speed, settled_id

__all__ = [
    "PartHistory",
    "Use",
    "histories",
    "history_of",
    "own_hours",
    "owner_of",
    "read_here",
    "rpm_of",
    "sessions_of",
]


@dataclass(frozen=True)
class Use:
    """One session that a part was bolted on in."""

    session: str  # id
    label: str
    day: date
    machine: str  # id
    test: str
    name: str  # what the part was called on that sheet
    entry: str  # id that stands on that sheet
    attempts: int  # made with it on, struck and aborted ones too
    rpm: float | None  # highest by gearing at the end of the test; None: cannot be said
    hours: float | None  # the engine ran until its hours were read next; None: not read
    went_on: bool  # it was put on in or before this session, and not on the machine's sheet before


@dataclass(frozen=True)
class PartHistory:
    """What the log knows of one part."""

    part: Part
    uses: tuple[Use, ...]  # oldest first

    @property
    def attempts(self) -> int:
        """How many attempts it was on for."""
        return sum(use.attempts for use in self.uses)

    @property
    def hours(self) -> float | None:
        """Engine hours in this log, as far as they were read; None: never read."""
        known = [use.hours for use in self.uses if use.hours is not None]
        return sum(known) if known else None

    @property
    def hours_missing(self) -> int:
        """Sessions with attempts whose engine hours cannot be told."""
        return sum(1 for use in self.uses if use.hours is None and use.attempts)

    @property
    def rpm(self) -> float | None:
        """Highest engine speed by gearing, 1/min; None: cannot be said."""
        return max((use.rpm for use in self.uses if use.rpm is not None), default=None)

    @property
    def machines(self) -> tuple[str, ...]:
        """Ids of the machines it was on, in order."""
        return tuple(dict.fromkeys(use.machine for use in self.uses))

    @property
    def times_fitted(self) -> int:
        """How often it went onto a machine."""
        return sum(1 for use in self.uses if use.went_on)


Owner = Callable[[str, str, date], str]
"""From the id on a sheet, the machine's id and the day to the id of the part it was."""


def owner_of(parts: Iterable[Part]) -> Owner:
    """Return what tells which part an entry on an old sheet was, after parts were split or joined.

    Args:
        parts: every part of the log.
    """
    by_id = {part.id: part for part in parts}
    claims: dict[str, list[Part]] = {}
    for part in by_id.values():
        if part.split_off is not None:
            claims.setdefault(part.split_off.part, []).append(part)

    def owner(entry: str, machine: str, day: date) -> str:
        seen: set[str] = set()
        found = entry
        while found not in seen:
            seen.add(found)
            for part in claims.get(found, ()):
                claim = part.split_off
                fits = claim is not None and claim.machine in ("", machine)
                if fits and claim is not None and (claim.since is None or claim.since <= day):
                    found = part.id
                    break
        return settled_id(found, by_id)

    return owner


def sessions_of(book: Book) -> Iterator[Session]:
    """Yield every session that can be read, oldest first."""
    for head in book.sessions():
        try:
            yield book.log.get(Session, head.id)
        except BackToBackError:
            continue  # it is among the problems of the log


def rpm_of(session: Session, attempt: Attempt) -> float | None:
    """Return the engine speed at the end of an attempt by gearing; None where it cannot be said."""
    if attempt.kind == "aborted" or attempt.sheet >= len(session.sheets):
        return None
    try:
        test = find_test(attempt.test or session.test)
        speed = attempt.value if test.shape == "top" else test.to_speed
        return None if not speed else rpm_at_speed(session.sheets[attempt.sheet], speed)
    except BackToBackError:
        return None


def histories(book: Book) -> dict[str, PartHistory]:
    """Return the history of every part of the log by id; those made one are under the one kept."""
    parts = book.log.all(Part)
    owner = owner_of(parts)
    found: dict[str, list[Use]] = {part.id: [] for part in parts if not part.same_as}
    by_machine: dict[str, list[Session]] = {}
    for session in sessions_of(book):
        by_machine.setdefault(session.machine, []).append(session)
    for sessions in by_machine.values():
        _gather(sessions, owner, found)
    by_id = {part.id: part for part in parts}
    return {
        id_: PartHistory(by_id[id_], tuple(sorted(uses, key=lambda u: (u.day, u.session))))
        for id_, uses in found.items()
        if id_ in by_id
    }


def history_of(book: Book, part: str) -> PartHistory:
    """Return the history of one part; of one made another, the history of that one.

    Args:
        book: the open log.
        part: id.

    Raises:
        NotFoundError: no such part.
    """
    by_id = {p.id: p for p in book.log.all(Part)}
    book.log.get(Part, part)
    return histories(book)[settled_id(part, by_id)]


def _gather(sessions: list[Session], owner: Owner, found: dict[str, list[Use]]) -> None:
    """Add what the sessions of one machine, oldest first, say about the parts on their sheets."""
    hours = _hours_run(sessions)
    on_before: set[str] = set()
    for session in sessions:
        day = session.started.date()
        on_now: dict[str, tuple[str, str, list[int]]] = {}
        for index, sheet in enumerate(session.sheets):
            for reading in sheet.readings.values():
                if reading.part and reading.state == "fitted":
                    id_ = owner(reading.part, session.machine, day)
                    on_now.setdefault(id_, (reading.text, reading.part, []))[2].append(index)
        for id_, (name, entry, sheets) in on_now.items():
            mine = [a for a in session.attempts if a.sheet in sheets]
            rpms = [rpm for a in mine if (rpm := rpm_of(session, a)) is not None]
            whole = len(set(sheets)) == len(session.sheets)
            share = len(mine) / len(session.attempts) if session.attempts else float(whole)
            run = hours.get(session.id)
            found.setdefault(id_, []).append(
                Use(
                    session=session.id,
                    label=session.label,
                    day=day,
                    machine=session.machine,
                    test=session.test,
                    name=name,
                    entry=entry,
                    attempts=len(mine),
                    rpm=max(rpms, default=None),
                    hours=None if run is None else run * (1.0 if whole else share),
                    went_on=id_ not in on_before,
                )
            )
        last = session.sheets[-1].readings.values() if session.sheets else ()
        on_before = {owner(r.part, session.machine, day) for r in last if r.part}


def _hours_run(sessions: list[Session]) -> Mapping[str, float]:
    """Return the engine hours from each session's reading to the machine's next one, by id.

    Where the block was changed in between, or the hours went back, they are left out.
    """
    read = [(s.id, h, _block(s)) for s in sessions if (h := own_hours(s)) is not None]
    found = {}
    for (id_, start, block), (_, end, other) in pairwise(read):
        if end >= start and block == other:
            found[id_] = end - start
    return found


def _block(session: Session) -> str:
    reading = session.sheets[0].readings.get("engine_block") if session.sheets else None
    return reading.part if reading is not None else ""


def own_hours(session: Session) -> float | None:
    """Return the engine hours that were read for this session, not carried over; None: not read."""
    for sheet in session.sheets:
        found = read_here(sheet, "block_hours")
        if found is not None:
            return found
    return None


def read_here(sheet: Sheet, slot: str) -> float | None:
    """Return the number of a slot if it was entered for this sheet's session, else None."""
    reading = sheet.readings.get(slot)
    return None if reading is None or reading.carried else known_value(reading)
