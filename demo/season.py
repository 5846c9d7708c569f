"""Builds the log of the invented season, by the same calls that the app makes."""

from __future__ import annotations

import random
import re
from datetime import datetime
from pathlib import Path
from typing import Any

from msgspec.structs import replace

from core.attempts import find_test, read_air, read_attempt
from core.checks import current_checks, is_settled
from core.clock import ManualClock
from core.session import (
    Book,
    CloseOut,
    Filled,
    Place,
    Plan,
    Session,
    answer_check,
    close,
    enter,
    fill,
    merged,
    note,
    note_air,
    predict,
    put_on,
    stop,
    strike,
    swap_to,
)
from core.setup import new_part
from demo.answers import answer_for
from demo.recording import RECORDED, keep_recording
from demo.scenes import (
    BADGER,
    BADGER_SHEET,
    MOTH,
    MOTH_SHEET,
    PLACES,
    SPARE,
    SPARE_SINCE,
    SPARE_SLOT,
    Block,
    Visit,
)
from demo.visits import VISITS

__all__ = ["SEED", "build"]

SEED = 20260412  # of the ids' random tails, so that the same season has the same ids
_FIRST_DAY = datetime.fromisoformat("2026-04-12T08:00:00+02:00")
_TRY = re.compile(r"(\*?)([A-Za-z]+)(\d+\.\d+)")


def build(folder: Path) -> None:
    """Write the whole season into a new log in this folder; twice gives the same bytes.

    Raises:
        LogError: the folder cannot be used.
    """
    clock = ManualClock(_FIRST_DAY)
    with Book.open(folder, clock=clock, rng=random.Random(SEED)) as book:  # noqa: S311  ids only
        machines = {
            MOTH: book.add_machine(MOTH, "minibike").id,
            BADGER: book.add_machine(BADGER, "kart").id,
        }
        _spare(book, machines[BADGER])
        places = {name: _place(book, name, told) for name, told in PLACES.items()}
        for visit in VISITS:
            clock.set(datetime.fromisoformat(visit.when))
            _run(book, clock, visit, machines[visit.machine], places.get(visit.place, ""))


def _spare(book: Book, machine: str) -> None:
    part = new_part(SPARE, SPARE_SLOT, book.fresh_id(), book.clock())
    book.save(replace(part, status="fitted", machine=machine, since=SPARE_SINCE))


def _place(book: Book, name: str, told: dict[str, Any]) -> str:
    place = Place(id=book.fresh_id(), name=name, created=book.clock(), **told)
    book.save(place)
    return place.id


def _filled(book: Book, session: Session, typed: dict[str, str]) -> Filled:
    """What was typed into the slots, one after the other; a borrowed part has moved."""
    now = session.sheets[-1].readings
    many = []
    for slot, text in typed.items():
        got = fill(book, session.machine, now, slot, text)
        if got.two_machines is not None:
            got = fill(book, session.machine, now, slot, text, answer="moved")
        many.append(got)
    return merged(tuple(many))


def _run(book: Book, clock: ManualClock, visit: Visit, machine: str, place: str) -> None:
    """Go through one visit from the sheet to the close-out."""
    timing = "hand" if visit.machine == BADGER else "logger-10hz"
    first = book.last_session(machine) is None
    session = book.start(
        Plan(
            machine=machine,
            test=visit.test,
            timing=timing,
            place=place,
            label=visit.label,
            question=visit.question,
            gain=visit.gain,
            rider="R1",
            helper=visit.helper if place else "",
        )
    )
    if first:
        sheet = MOTH_SHEET if visit.machine == MOTH else BADGER_SHEET
        session = put_on(book, session, _filled(book, session, sheet))
    if visit.changed or visit.hours:
        typed = {**visit.changed, **_worn(visit)}
        session = put_on(book, session, _filled(book, session, typed))
    if visit.predicted:
        value, give_or_take, against = visit.predicted
        named = book.session(against).id if against else ""
        session = predict(session, value, clock(), give_or_take=give_or_take, against=named)
    session = _checks(session, clock, visit, book)
    session = _blocks(book, session, clock, visit)
    for words in visit.notes:
        session = note(session, words, clock.advance(minutes=1))
    session = _ended(session, clock, visit)
    book.save(session)
    if visit.label == RECORDED:
        keep_recording(book, session, clock.advance(minutes=90))


def _worn(visit: Visit) -> dict[str, str]:
    """What is read off before every start: hours of engine and oil, age of the fuel."""
    slots = ("block_hours", "oil_hours", "fuel_age")
    return {s: f"{v:g}" for s, v in zip(slots, visit.hours or (), strict=False)}


def _checks(session: Session, clock: ManualClock, visit: Visit, book: Book) -> Session:
    """Answer every open check of the newest sheet, in order."""
    for record in current_checks(session.checks, len(session.sheets) - 1):
        if is_settled(record) or record.due_after > len(session.attempts):
            continue
        for text in answer_for(visit, record, session.sheets[-1]):
            done = answer_check(session, record.rule, text, clock.advance(seconds=20))
            session = done.session
    book.save(session)
    return session


def _blocks(book: Book, session: Session, clock: ManualClock, visit: Visit) -> Session:
    airs = list(visit.air)
    for number, block in enumerate(visit.blocks):
        if block.swap:
            clock.advance(minutes=block.pause)
            session = swap_to(book, session, _filled(book, session, block.swap))
            session = _checks(session, clock, visit, book)
        if airs and number in (0, len(visit.blocks) - 1):
            session = _air(book, session, clock, airs.pop(0))
        session = _attempts(book, session, clock, visit, block)
    if airs and not visit.blocks:
        session = _air(book, session, clock, airs.pop(0))
    book.save(session)
    return session


def _air(book: Book, session: Session, clock: ManualClock, typed: str) -> Session:
    place = book.log.get(Place, session.place) if session.place else None
    air = read_air(
        typed,
        clock(),
        elevation=place.elevation if place else None,
        directions=session.directions,
        source="hand meter",
    )
    return note_air(session, air, clock())


def _attempts(
    book: Book, session: Session, clock: ManualClock, visit: Visit, block: Block
) -> Session:
    test = find_test(visit.test)
    for _, direction, typed in _TRY.findall(block.times):
        got = read_attempt(typed, test)
        at = clock.advance(minutes=block.minutes)
        session = enter(session, at, value=got.value, text=typed, direction=direction)
        n = session.attempts[-1].n
        if n in visit.strikes:
            code, words, late = visit.strikes[n]
            session = strike(session, n, code, clock(), note=words, late=late)
            session = _checks(session, clock, visit, book)
        session = _waiting_checks(session, clock, visit, book)
    return session


def _waiting_checks(session: Session, clock: ManualClock, visit: Visit, book: Book) -> Session:
    """Answer the checks that were asked only after some attempts."""
    due = any(
        record.due_after and record.due_after <= len(session.attempts) and not is_settled(record)
        for record in current_checks(session.checks, len(session.sheets) - 1)
    )
    return _checks(session, clock, visit, book) if due else session


def _ended(session: Session, clock: ManualClock, visit: Visit) -> Session:
    if visit.stopped:
        return stop(session, visit.stopped, clock.advance(minutes=2))
    made = CloseOut(
        learnt=visit.learnt,
        decision=visit.decision,
        because=visit.because,
        next=visit.next,
    )
    return close(session, made, clock.advance(minutes=5))
