"""What the bench is about: a machine as it stands, or a loose engine or part, with its past."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from core.bench import CLAY_RULE, About, Past
from core.errors import NotFoundError
from core.reckon import own_minimums
from core.session import Book, open_session, part_past, past_of
from core.setup import FACTORY_RPM, Machine, Part, Sheet, fitted, with_reading
from core.units import format_number

__all__ = ["Subject", "loose_parts", "read_subject"]


@dataclass(frozen=True)
class Subject:
    """A machine or a loose part, and everything that is on file of it."""

    id: str
    name: str
    is_machine: bool
    sheet: Sheet  # as the machine stands; of a loose part what was last read on it
    sheet_of: str  # label of the session that the sheet stands in; empty: none
    session: str  # id of the machine's open session; empty: there is none
    rpm_factory: float  # governed speed as built, rpm
    past: Past

    @property
    def words(self) -> str:
        """What it is and where its sheet is from."""
        if not self.is_machine:
            return f"{self.name}, loose"
        return f"{self.name}, as in {self.sheet_of}" if self.sheet_of else self.name

    @property
    def own_gap(self) -> str:
        """The user's own least valve-to-piston gap as last told, mm; empty: none."""
        told = own_minimums(self.past.answers, self.past.clay(self.sheet)).get(CLAY_RULE)
        return "" if told is None else format_number(told)

    def about(self, book: Book, at: datetime, **told: object) -> About:
        """Return what a bench reading for it is told.

        Args:
            book: the open log, for a fresh id.
            at: when the reading was taken.
            told: fields of `core.bench.About`.
        """
        return About(
            id=book.fresh_id(),
            at=at,
            machine=self.id if self.is_machine else "",
            part="" if self.is_machine else self.id,
            sheet=self.sheet,
            **told,  # type: ignore[arg-type]  # fields by name
        )


def read_subject(book: Book, subject_id: str) -> Subject:
    """Return a machine or a part by its id; reads its sessions, so it belongs in a thread.

    Raises:
        NotFoundError: the log holds neither of that id.
    """
    if subject_id in book.log.ids(Machine):
        return _machine(book, book.log.get(Machine, subject_id))
    if subject_id in book.log.ids(Part):
        return _part(book, book.log.get(Part, subject_id))
    raise NotFoundError("The log holds no machine and no part of that id.")


def _machine(book: Book, machine: Machine) -> Subject:
    session = open_session(book, machine.id)
    last = session or book.last_session(machine.id)
    told = machine.rpm_factory
    return Subject(
        id=machine.id,
        name=machine.name,
        is_machine=True,
        sheet=last.sheets[-1] if last is not None and last.sheets else Sheet(),
        sheet_of=last.label if last is not None else "",
        session=session.id if session is not None else "",
        rpm_factory=FACTORY_RPM if told is None else told,
        past=past_of(book, machine.id, sheets=True),
    )


def _part(book: Book, part: Part) -> Subject:
    past = part_past(book, part.id)
    sheet = Sheet(readings={part.slot: fitted(part.id, part.name)})
    for taken in sorted(past.taken, key=lambda one: (one.at, one.id)):
        for slot, reading in taken.readings.items():
            sheet = with_reading(sheet, slot, reading)
    return Subject(part.id, part.name, False, sheet, "", "", FACTORY_RPM, past)


def loose_parts(book: Book) -> Iterator[Part]:
    """Yield the parts that are on no machine and not retired."""
    for part in book.log.all(Part):
        if part.status not in ("fitted", "retired"):
            yield part
