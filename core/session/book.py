"""The log as the rooms above use it: documents by name, and each action saved at once."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from types import TracebackType
from typing import Self, TypeVar

import msgspec

from core.bench import BENCH_KIND, GAUGE_KIND, BenchHead, BenchReading, Gauge, GaugeHead
from core.checks import Cleared
from core.clock import Clock, local_now
from core.errors import NotFoundError
from core.log import Document, Log, new_id
from core.session.documents import PLACE_KIND, SESSION_KIND, Place, PlaceHead, Session, SessionHead
from core.session.finding import find_named, find_session, find_side
from core.session.start import Plan, next_label, start_session
from core.setup import (
    INTERVAL_KIND,
    MACHINE_KIND,
    PART_KIND,
    Interval,
    IntervalHead,
    Machine,
    MachineHead,
    Part,
    PartHead,
    Sheet,
)
from core.trace import TRACE_KIND, TraceDocument, TraceHead

__all__ = ["KINDS", "Book"]

H = TypeVar(
    "H",
    SessionHead,
    MachineHead,
    PlaceHead,
    PartHead,
    BenchHead,
    GaugeHead,
    TraceHead,
    IntervalHead,
)

KINDS = (
    MACHINE_KIND,
    PART_KIND,
    PLACE_KIND,
    SESSION_KIND,
    BENCH_KIND,
    GAUGE_KIND,
    TRACE_KIND,
    INTERVAL_KIND,
)


class Book:
    """An open log with the clock and the ids that new documents get.

    Args:
        log: an open log that knows ``KINDS``.
        clock: tells the time now.
        rng: source of the random tails of ids; None: the system's.
    """

    def __init__(
        self, log: Log, clock: Clock = local_now, rng: random.Random | None = None
    ) -> None:
        self.log = log
        self.clock = clock
        self._rng = rng
        self._histories: dict[str, list[Cleared]] = {}

    @classmethod
    def open(
        cls,
        folder: Path,
        *,
        clock: Clock = local_now,
        rng: random.Random | None = None,
        read_only: bool = False,
        create: bool = True,
    ) -> Self:
        """Open the log in this folder.

        Raises:
            LogError: the folder or its format does not allow it.
        """
        log = Log.open(folder, KINDS, clock=clock, rng=rng, read_only=read_only, create=create)
        return cls(log, clock, rng)

    def close(self) -> None:
        """Give the log back; everything was saved when it was said."""
        self.log.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def fresh_id(self) -> str:
        """Return an id no document has."""
        return new_id(self.clock, self._rng)

    def _heads(self, kind: type[Document], head: type[H]) -> list[H]:
        return [h for h in self.log.heads(kind) if isinstance(h, head)]

    # -- reading -------------------------------------------------------------------------------

    def sessions(self) -> list[SessionHead]:
        """Return a head of every session, oldest first by the time it started."""
        return sorted(self._heads(Session, SessionHead), key=lambda h: (h.started, h.id))

    def machines(self) -> list[MachineHead]:
        """Return a head of every machine."""
        return self._heads(Machine, MachineHead)

    def places(self) -> list[PlaceHead]:
        """Return a head of every place."""
        return self._heads(Place, PlaceHead)

    def parts(self) -> list[PartHead]:
        """Return a head of every part."""
        return self._heads(Part, PartHead)

    def bench_readings(self) -> list[BenchHead]:
        """Return a head of every bench reading, oldest first by the time it was taken."""
        return sorted(self._heads(BenchReading, BenchHead), key=lambda h: (h.at, h.id))

    def gauges(self) -> list[GaugeHead]:
        """Return a head of every instrument that the user put right."""
        return self._heads(Gauge, GaugeHead)

    def intervals(self) -> list[IntervalHead]:
        """Return a head of every interval that the user put otherwise."""
        return self._heads(Interval, IntervalHead)

    def traces(self) -> list[TraceHead]:
        """Return a head of every recording, oldest first by the time it was read in."""
        return sorted(self._heads(TraceDocument, TraceHead), key=lambda h: (h.read, h.id))

    def session(self, word: str) -> Session:
        """Return the session that a label, an id or the head of one names.

        Raises:
            NotFoundError: none, or more than one; or it is in a file that cannot be read.
            LogError: its file cannot be read.
        """
        with self._telling_unread():
            return self.log.get(Session, find_session(word, self.sessions()).id)

    def side(self, word: str) -> tuple[Session, str]:
        """Return the session that a word such as ``S05:B`` names, and the letter of its build.

        Raises:
            NotFoundError: no such session; whether it has the build is not looked at.
            LogError: its file cannot be read.
        """
        with self._telling_unread():
            head, build = find_side(word, self.sessions())
            return self.log.get(Session, head.id), build

    @contextmanager
    def _telling_unread(self) -> Iterator[None]:
        """Say with what is not found that a session file cannot be read: it may be in there."""
        try:
            yield
        except NotFoundError as error:
            unread = [p for p in self.log.problems if p.file.startswith(SESSION_KIND.folder)]
            if unread:
                error.hint = f"{error.hint} {unread[0].sentence}".strip()
            raise

    def machine(self, word: str) -> Machine:
        """Return the machine that a name, alias or id names."""
        return self.log.get(Machine, find_named(word, self.machines(), "machine").id)

    def place(self, word: str) -> Place:
        """Return the place that a name, alias or id names."""
        return self.log.get(Place, find_named(word, self.places(), "place").id)

    def name_of(self, document_id: str) -> str:
        """Return the name of a machine or place, or empty when the log does not hold it."""
        names = {head.id: head.name for head in self.machines()}
        names |= {head.id: head.name for head in self.places()}
        return names.get(document_id, "")

    def last_session(self, machine: str, before: Session | None = None) -> Session | None:
        """Return the newest session of a machine that has a sheet, older than ``before``."""
        for head in reversed(self.sessions()):
            if head.machine != machine or (before and head.id == before.id):
                continue
            if before is not None and head.started > before.started:
                continue
            found = self.log.get(Session, head.id)
            if found.sheets and found.sheets[-1].readings:
                return found
        return None

    def sheet_before(self, session: Session) -> Sheet | None:
        """Return the sheet that the session's first sheet was copied from, if there was one."""
        if not session.came_from or session.came_from not in self.log.ids(Session):
            return None
        sheets = self.log.get(Session, session.came_from).sheets
        return sheets[-1] if sheets else None

    def cleared_before(self, machine: str) -> Sequence[Cleared]:
        """Return the checks answered earlier on a machine, newest last, for reuse of geometry."""
        if machine not in self._histories:
            self._histories[machine] = [
                cleared
                for head in self.sessions()
                if head.machine == machine
                for cleared in _cleared_in(self.log.get(Session, head.id))
            ]
        return self._histories[machine]

    # -- writing -------------------------------------------------------------------------------

    def start(self, plan: Plan) -> Session:
        """Start a session on a copy of the machine's last sheet, and save it."""
        labels = [h.label for h in self.sessions()]
        named = plan if plan.label else msgspec.structs.replace(plan, label=next_label(labels))
        session = start_session(
            named,
            new_id=self.fresh_id(),
            at=self.clock(),
            last=self.last_session(plan.machine),
            place=self.log.get(Place, plan.place) if plan.place else None,
            other=self.last_session(plan.copied_from) if plan.copied_from else None,
        )
        self.log.save(session)
        return session

    def act(self, session: Session, action: Callable[[Session], Session]) -> Session:
        """Apply one action to a session and save what it became; returns after it is on disk."""
        after = action(session)
        self.save(after)
        return after

    def save(
        self,
        *documents: Session
        | Machine
        | Part
        | Place
        | BenchReading
        | Gauge
        | TraceDocument
        | Interval,
    ) -> None:
        """Save documents that were made or changed; returns after they are on disk."""
        self.log.save(*documents)
        for document in documents:
            if isinstance(document, Session) and document.machine in self._histories:
                self._histories[document.machine] = [
                    c for c in self._histories[document.machine] if c.session != document.id
                ] + list(_cleared_in(document))

    def add_machine(self, name: str, type_: str = "other") -> Machine:
        """Make and save a machine of that name."""
        machine = msgspec.convert(
            {"id": self.fresh_id(), "name": name.strip(), "type": type_, "created": self.clock()},
            Machine,
        )
        self.save(machine)
        return machine

    def add_place(self, name: str, directions: tuple[str, ...] = ()) -> Place:
        """Make and save a place of that name; directions are two names or none."""
        place = Place(
            id=self.fresh_id(), name=name.strip(), directions=directions, created=self.clock()
        )
        self.save(place)
        return place


def _cleared_in(session: Session) -> Sequence[Cleared]:
    return [
        Cleared(session=session.id, sheet=session.sheets[record.sheet], record=record)
        for record in session.checks
        if record.answer != "open" and (record.slots or record.event)
    ]
