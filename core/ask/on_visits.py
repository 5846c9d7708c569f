"""Visits: what broke, why an attempt was struck, who was there, permission, what was decided."""

from __future__ import annotations

from collections.abc import Iterator

from core.ask.asker import Asker, listed, said_day
from core.ask.documents import Answer
from core.ask.season import season_of, steadiness_of, tests_run
from core.ask.steps import Step, steps_of
from core.attempts import STRIKES, Attempt
from core.checks import CheckRecord, find_rule, rule_for, state_words
from core.clock import day_words
from core.session import Session
from core.setup import Reading, changes, known_value, reading_words, same_reading, slot_of
from core.units import format_number

__all__ = ["decided", "permission_and_checks", "repeatability", "what_broke", "who_was_there",
           "why_struck"]  # fmt: skip

_BREAKS = frozenset(row.code for row in STRIKES if row.reliability)
_WORDS = {row.code: row.words for row in STRIKES}


def what_broke(asker: Asker) -> Answer:
    """Answer what broke or stopped a session, and what was changed just before."""
    rows, ids = [], []
    for session in asker.asked():
        told = [*_broken(session)]
        if told:
            before = _changed_before(asker, session)
            machine = asker.names.get(session.machine, "")
            day = day_words(session.started)
            rows += [(session.label, day, machine, what, before) for what in told]
            ids.append(session.id)
    for part in asker.parts:
        if part.status == "retired":
            uses = asker.past[part.id].uses
            last = f"{uses[-1].label}" if uses else ""
            rows.append((last, day_words(uses[-1].day) if uses else "", "", f"{part.name} retired: "
                         f"{part.retired_because}", "last ran there" if uses else ""))  # fmt: skip
    if not rows:
        return Answer("Nothing in the log says that anything broke.")
    sentence = f"{len(rows)} found; the last: {rows[-1][3]} ({rows[-1][0]}), after {rows[-1][4]}."
    columns = ("session", "day", "machine", "what", "changed just before")
    return Answer(sentence, columns, tuple(rows), (), tuple(ids))


def _broken(session: Session) -> Iterator[str]:
    if session.state == "stopped":
        yield f"stopped: {session.stopped_because or 'no reason noted'}"
    for attempt in session.attempts:
        strike = attempt.strike
        if strike is not None and strike.code in _BREAKS:
            note = f" ({strike.note})" if strike.note else ""
            yield f"attempt {attempt.n}: {_WORDS.get(strike.code, strike.code)}{note}"
    for record in session.checks:
        if record.event in ("fall", "crashed", "dropped"):
            yield f"{record.event}: {find_rule(record.rule).short}"


def _changed_before(asker: Asker, session: Session) -> str:
    """What differs from the sheet before, what varies by itself left out."""
    before = asker.book.sheet_before(session)
    if before is None or not session.sheets:
        return "nothing on file before it"
    found = [c for c in changes(before, session.sheets[-1]) if slot_of(c.slot).role != "measured"]
    worked = [
        record
        for record in session.checks
        if record.slots and record.answer == "cleared" and record.result not in ("", "done")
    ]
    said = [c.words for c in found] or [f"{rule_for(r).short} {r.result}" for r in worked]
    return listed(said, 3) if said else "nothing on the sheet"


def repeatability(asker: Asker) -> Answer:
    """Answer whether results of one machine scatter less than they did."""
    tests = tests_run(asker.sessions, asker.machine)
    if not tests:
        return Answer(f"{asker.machine_name or 'No machine'} has no attempts in the log.")
    wanted = next((t for t in tests if t in asker.tokens), tests[0])
    season = season_of(asker.book, asker.sessions, asker.machine, wanted)
    told = steadiness_of(season)
    rows = tuple(
        (p.label, day_words(p.day), f"{p.n} {p.kind}{'' if p.n == 1 else 's'}",
         format_number(p.mean, season.decimals),
         format_number(p.sd, season.decimals) if p.sd is not None else "-", p.timing)
        for p in season.points
    )  # fmt: skip
    unit = season.unit
    columns = ("result", "day", "rests on", f"mean {unit}", f"scatter {unit}", "timing")
    sentence = f"{asker.machine_name}, {wanted}: {told.sentence}"
    return Answer(sentence, columns, rows, (), tuple(p.session for p in season.points))


def why_struck(asker: Asker) -> Answer:
    """Answer why an attempt was struck; a number, month or session narrows it down."""
    found = [(s, a) for s in asker.asked() for a in s.attempts if a.strike is not None]
    n = int(asker.number[0]) if asker.number else None
    exact = [(s, a) for s, a in found if n is None or a.n == n]
    rows = tuple(_strike_cells(s, a) for s, a in (exact or found))
    columns = ("session", "day", "attempt", "read", "why", "noted", "picked")
    ids = tuple(dict.fromkeys(s.id for s, _ in (exact or found)))
    if not found:
        return Answer("No attempt was struck there.")
    if n is not None and not exact:
        said = f"Attempt {n} was not struck there; struck were {listed(_named(found))}."
        return Answer(said, columns, rows, (), ids)
    session, attempt = exact[-1]
    strike = attempt.strike
    assert strike is not None  # noqa: S101  narrows the type; only struck ones are looked at
    note = f", {strike.note}" if strike.note else ""
    when = "after its time was seen" if strike.late else "before its time was looked at"
    one = f"Attempt {attempt.n} of {said_day(session)}"
    sentence = f"{one}: {_WORDS.get(strike.code, strike.code)}{note}; coded {when}."
    if len(exact) > 1:
        sentence = f"{len(exact)} struck: {listed(_named(exact))}. The last: {sentence}"
    return Answer(sentence, columns, rows, (), ids)


def _named(found: list[tuple[Session, Attempt]]) -> list[str]:
    return [f"{s.label} attempt {a.n}" for s, a in found]


def _strike_cells(session: Session, attempt: Attempt) -> tuple[str, ...]:
    strike = attempt.strike
    if strike is None:
        return ()
    value = format_number(attempt.value) if attempt.value is not None else "-"
    late = "after seeing it" if strike.late else "before seeing it"
    return (session.label, day_words(session.started), str(attempt.n), value, strike.code,
            strike.note, late)  # fmt: skip


def who_was_there(asker: Asker) -> Answer:
    """Answer who rode, at what mass, and who helped and timed."""
    found = [s for s in asker.asked() if s.attempts or s.state == "stopped"]
    if not found:
        return Answer("No session with anybody in it is in the log.")
    rows = tuple(_people_cells(asker, s) for s in found)
    last = rows[-1]
    sentence = (
        f"{said_day(found[-1])}: rider {last[2]}, {last[3]} in gear, {last[4]} with the machine; "
        f"helper {last[5]}, timed by {last[6]}."
    )
    columns = ("session", "day", "rider", "rider in gear", "machine and rider", "helper", "timing")
    return Answer(sentence, columns, rows, (), tuple(s.id for s in found))


def _people_cells(asker: Asker, session: Session) -> tuple[str, ...]:
    readings = session.sheets[-1].readings if session.sheets else {}
    rider = known_value(readings.get("rider_mass"))
    machine = known_value(readings.get("machine_mass"))
    both = f"{rider + machine:g} kg" if rider is not None and machine is not None else "not known"
    mass = reading_words(slot_of("rider_mass"), readings.get("rider_mass"))
    return (session.label, day_words(session.started), session.rider or "not told", mass, both,
            session.helper or "not told", session.timing or "not told")  # fmt: skip


def permission_and_checks(asker: Asker) -> Answer:
    """Answer whether there was permission, and which checks failed that day."""
    found = [s for s in asker.asked() if s.place]
    if not found:
        return Answer("No session at a place is in the log.")
    rows = tuple(_permission_cells(s) for s in found)
    # where no session is named, the last one with something failed tells more than the last one
    named = asker.session_named is not None or asker.month is not None
    failed = [s for s in found if [*_failed(s)]]
    one = failed[-1] if failed and not named else found[-1]
    cells = _permission_cells(one)
    stopped = f" Stopped: {one.stopped_because}." if one.state == "stopped" else ""
    sentence = f"{said_day(one)}: permission {cells[2]}; not done or open: {cells[3]}.{stopped}"
    columns = ("session", "day", "permission", "not done or open")
    return Answer(sentence, columns, rows, (), (one.id,))


def _permission_cells(session: Session) -> tuple[str, ...]:
    permission = next((r for r in session.checks if r.rule == "permission"), None)
    told = "not asked" if permission is None else permission.result or state_words(permission)
    return (session.label, day_words(session.started), told, listed(_failed(session)))


def _failed(session: Session) -> Iterator[str]:
    """The checks that were not done, and the stop checks that stayed open."""
    for record in session.checks:
        if record.answer == "not done" or (
            record.answer == "open" and _stops(record) and _was_due(record, session)
        ):
            yield f"{rule_for(record).short}{' (open)' if record.answer == 'open' else ''}"


def _was_due(record: CheckRecord, session: Session) -> bool:
    return record.due_after <= len(session.attempts) and bool(session.attempts)


def _stops(record: CheckRecord) -> bool:
    return rule_for(record).level != "advice"


def decided(asker: Asker) -> Answer:
    """Answer what was decided, why, and whether it was ever gone back on."""
    steps = [*steps_of(asker.sessions)]
    rows, ids, back = [], [], []
    for session in asker.asked():
        made = session.close_out
        if made is None or not made.decision:
            continue
        gone = _gone_back(asker, session, steps) if made.decision == "keep" else ""
        rows.append((session.label, day_words(session.started), made.decision,
                     made.because or made.learnt, gone or "-"))  # fmt: skip
        ids.append(session.id)
        back += [f"{session.label} ({gone})"] if gone else []
    if not rows:
        return Answer("Nothing was decided at a close-out yet.")
    last = rows[-1]
    why = f": {last[3].rstrip('.')}" if last[3] else ""
    told = f"Gone back on: {listed(back)}." if back else "None was gone back on."
    sentence = f"{len(rows)} decisions; the last, {last[0]} on {last[1]}, {last[2]}{why}. {told}"
    columns = ("session", "day", "decision", "why", "gone back on")
    return Answer(sentence, columns, tuple(rows), (), tuple(ids))


def _gone_back(asker: Asker, session: Session, steps: list[Step]) -> str:
    """The first later sheet on which what was kept is off again, in words; empty: none."""
    if not session.sheets:
        return ""
    slots = {c.slot for step in steps if step.b.id == session.id for c in step.causes}
    kept = session.sheets[-1]
    for other in asker.of_machine(session.machine):
        if other.started <= session.started:
            continue
        for slot in slots:
            now = _last_reading(other, slot)
            if now is not None and not same_reading(now, kept.readings.get(slot)):
                row = slot_of(slot)
                return f"{row.label} {reading_words(row, now)} in {other.label}"
    return ""


def _last_reading(session: Session, slot: str) -> Reading | None:
    return session.sheets[-1].readings.get(slot) if session.sheets else None
