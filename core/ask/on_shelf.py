"""Parts and what is due: where one is, what it has done, when lash was checked, what is worn."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from core.ask.asker import Asker, listed, said_day
from core.ask.documents import Answer
from core.bench import BenchReading
from core.checks import CheckRecord, find_rule, result_words
from core.clock import day_words
from core.session import Session
from core.setup import Part, known_value, reading_words, slot_of
from core.setup.shelf import LIMIT_SLOTS
from core.shelf import Due, due_of, rpm_of
from core.shelf.history import own_hours
from core.units import format_number

__all__ = ["ages_today", "clay_before_milling", "lash_last", "rod_life", "where_is"]

_LASH = ("lash_intake", "lash_exhaust")
_CLAY = "valve_to_piston"


def where_is(asker: Asker) -> Answer:
    """Answer where a part is now; without a name, where each is."""
    found = asker.parts_named()
    parts = found or (() if asker.rest else asker.parts)
    if not parts:
        named = f" “{' '.join(asker.rest)}”" if asker.rest else ""
        return Answer(f"No part{named} is in the log.")
    ordered = sorted(parts, key=lambda part: (part.slot, part.name))
    rows = tuple(_where_cells(asker, part) for part in ordered)
    columns = ("part", "slot", "where", "since", "last ran")
    if len(parts) == 1:
        part, cells = parts[0], rows[0]
        since = f" since {cells[3]}" if cells[3] else ""
        ran = f"; last ran in {cells[4]}" if cells[4] else "; it ran in no session"
        return Answer(f"{part.name} is {cells[2]}{since}{ran}.", columns, rows)
    away = Counter(part.status for part in parts)
    told = ", ".join(f"{count} {status}" for status, count in sorted(away.items()))
    return Answer(f"{len(parts)} parts: {told}.", columns, rows)


def _where_cells(asker: Asker, part: Part) -> tuple[str, ...]:
    where = {
        "fitted": f"on {asker.names.get(part.machine, part.machine)}",
        "here": "on the shelf",
        "retired": f"retired ({part.retired_because})",
    }.get(part.status, part.status)
    uses = asker.past[part.id].uses if part.id in asker.past else ()
    last = f"{uses[-1].label} on {day_words(uses[-1].day)}" if uses else ""
    since = day_words(part.since) if part.since else ""
    return (part.name, slot_of(part.slot).label, where, since, last)


def rod_life(asker: Asker) -> Answer:
    """Answer how many attempts a part has done, and over what rpm; the rod where none is named."""
    parts = asker.parts_named("rod")
    if not parts:
        return Answer(f"No rod is on a sheet of {asker.machine_name}, and no such part is named.")
    part = parts[0]
    past = asker.past[part.id]
    hours = "hours were never read"
    if past.hours is not None:
        missing = past.hours_missing
        open_ = f", {missing} session{'' if missing == 1 else 's'} not read" if missing else ""
        before = f" after {part.hours_before:g} h before" if part.hours_before else ""
        hours = f"{format_number(past.hours, 1)} engine hours in this log{before}{open_}"
    rpm = "rpm cannot be said"
    if past.rpm is not None:
        rpm = f"up to {past.rpm:,.0f} rpm by gearing, without slip"
    limit = (
        f"; its maker's limit is {part.rpm_limit:,.0f}" if part.rpm_limit else _limit(asker, part)
    )
    ran = len({use.session for use in past.uses if use.attempts})
    in_sessions = f"in {ran} session{'' if ran == 1 else 's'}"
    sentence = f"{part.name}: {past.attempts} attempts {in_sessions}, {rpm}{limit}; {hours}."
    more = (f"Also named so: {listed(p.name for p in parts[1:])}.",) if len(parts) > 1 else ()
    return Answer(sentence, ("test", "gearing", "attempts", "rpm at its end"),
                  tuple(_rpm_rows(asker, part)), more,
                  tuple(use.session for use in past.uses))  # fmt: skip


def _limit(asker: Asker, part: Part) -> str:
    """The limit that the part's maker states: on the part, else on its newest sheet."""
    if part.rpm_limit:
        return f"; its maker's limit is {part.rpm_limit:,.0f}"
    slot = LIMIT_SLOTS.get(part.slot)
    for session in reversed(asker.sessions):
        for sheet in reversed(session.sheets):
            if slot and (r := sheet.readings.get(part.slot)) is not None and r.part == part.id:
                value = known_value(sheet.readings.get(slot))
                return f"; the limit on its sheet is {value:,.0f}" if value else "; no limit told"
    return ""


def _rpm_rows(asker: Asker, part: Part) -> Iterator[tuple[str, ...]]:
    """Attempts by test and gearing with the rpm at the end, the highest first."""
    ids = {use.session: use.entry for use in asker.past[part.id].uses}
    found: Counter[tuple[str, str, str]] = Counter()
    for session in asker.sessions:
        for attempt in session.attempts if session.id in ids else ():
            readings = session.sheets[attempt.sheet].readings
            if not any(r.part == ids[session.id] for r in readings.values()):
                continue
            rpm = rpm_of(session, attempt)
            teeth = [reading_words(slot_of(s), readings.get(s))
                     for s in ("engine_sprocket", "final_sprocket")]  # fmt: skip
            told = f"{rpm:,.0f}" if rpm is not None else "not known"
            found[attempt.test or session.test, "/".join(teeth), told] += 1
    rows = sorted(found.items(), key=lambda row: row[0][2], reverse=True)
    yield from ((test, gears, str(count), rpm) for (test, gears, rpm), count in rows)


@dataclass(frozen=True)
class _Lash:
    """One time that the lash was checked."""

    at: datetime
    session: Session | None
    what: str
    result: str
    state: str  # cold, hot, not told
    hours: float | None


def lash_last(asker: Asker) -> Answer:
    """Answer when the lash was last checked, at what hours, hot or cold."""
    found = sorted(_lashes(asker), key=lambda one: one.at, reverse=True)
    if not found:
        return Answer(f"No lash check of {asker.machine_name} is in the log.")
    last = found[0]
    hours = f"at {last.hours:g} engine hours" if last.hours is not None else "engine hours not read"
    where = f" ({last.session.label})" if last.session is not None else ""
    ran = sum(1 for s in asker.of_machine() for a in s.attempts if a.at and a.at > last.at)
    sentence = (
        f"Last on {day_words(last.at)}{where}, {hours}, {last.state}: {last.result}; "
        f"{ran} attempts since."
    )
    rows = tuple(
        (day_words(o.at), o.session.label if o.session else "bench", o.what, o.result, o.state,
         f"{o.hours:g}" if o.hours is not None else "not read")
        for o in found
    )  # fmt: skip
    columns = ("day", "session", "what", "result", "engine", "hours")
    return Answer(sentence, columns, rows, sessions=(last.session.id,) if last.session else ())


def _lashes(asker: Asker) -> Iterator[_Lash]:
    hours: float | None = None
    for session in asker.of_machine():
        read = own_hours(session)
        hours = read if read is not None else hours
        for record in session.checks:
            if record.rule in ("lash", "lash_recheck") and record.result and record.at:
                state = "cold" if find_rule(record.rule).cold else "hot or cold not told"
                what = find_rule(record.rule).short
                yield _Lash(record.at, session, what, _lash_words(record), state, hours)
    by_id = {session.id: session for session in asker.sessions}
    for head in asker.book.bench_readings():
        if head.machine != asker.machine:
            continue
        taken = asker.book.log.get(BenchReading, head.id)
        told = [reading_words(slot_of(s), taken.readings[s]) for s in _LASH if s in taken.readings]
        if told:
            state = taken.condition or "hot or cold not told"
            yield _Lash(taken.at, by_id.get(taken.session), "at the bench", " / ".join(told), state,
                        None)  # fmt: skip


def _lash_words(record: CheckRecord) -> str:
    return result_words(record) or record.result


def clay_before_milling(asker: Asker) -> Answer:
    """Answer what the clay showed before the head was milled; else what it showed last."""
    milled = _milled(asker)
    found = sorted(
        (
            (record.at, session, record)
            for session in asker.of_machine()
            for record in session.checks
            if record.rule == _CLAY and record.result and record.at and not record.by_reference
        ),
        key=lambda one: one[0],
    )
    rows: list[tuple[str, ...]] = [
        (day_words(at), session.label, result_words(record), record.answer,
         _rocker_words(session, record.sheet))
        for at, session, record in found
    ]  # fmt: skip
    rows += [
        (day_words(head.at), "bench", head.text, "taken at the bench", "")
        for head in asker.book.bench_readings()
        if head.machine == asker.machine and head.what == "clay"
    ]
    columns = ("day", "session", "gap intake / exhaust", "check", "rockers")
    name = asker.machine_name
    if milled is None:
        if not rows:
            return Answer(f"The head of {name} was never milled, and no clay is in the log.")
        told = f"the last clay was {rows[-1][2]} on {rows[-1][0]} ({rows[-1][1]})"
        return Answer(f"The head of {name} was never milled in this log; {told}.", columns,
                      tuple(rows))  # fmt: skip
    before = [(at, s, r) for at, s, r in found if at < milled[0]]
    if not before:
        return Answer(f"No clay is in the log from before {day_words(milled[0])}, when the head of "
                      f"{name} was milled ({milled[1]}).", columns, tuple(rows))  # fmt: skip
    at, session, record = before[-1]
    sentence = (
        f"{result_words(record)} on {day_words(at)} ({session.label}), before the head was milled "
        f"on {day_words(milled[0])} ({milled[1]})."
    )
    return Answer(sentence, columns, tuple(rows), sessions=(session.id,))


def _milled(asker: Asker) -> tuple[datetime, str] | None:
    """When the head was milled last, and what was taken off."""
    before: float | None = None
    found = None
    for session in asker.of_machine():
        for sheet in session.sheets:
            value = known_value(sheet.readings.get("head_milled"))
            if value is not None and value > 0 and value != before and session is not None:
                at = sheet.started or session.started
                found = (at, f"{format_number(value)} mm, {session.label}")
            before = value if value is not None else before
    return found


def _rocker_words(session: Session, sheet: int) -> str:
    readings = session.sheets[sheet].readings if sheet < len(session.sheets) else {}
    return reading_words(slot_of("rockers"), readings.get("rockers"))


def ages_today(asker: Asker) -> Answer:
    """Answer how old oil, fuel and plug are today, and what else is worn or due."""
    if not asker.machine:
        return Answer("No machine has a session yet.")
    found = due_of(asker.book, asker.machine)
    first = [due for name in ("oil", "fuel", "plug") for due in found if due.row.id == name]
    rest = [due for due in found if due not in first]
    sentence = f"{asker.machine_name} today: " + " ".join(due.sentence for due in first)
    rows = tuple(_due_cells(due) for due in (*first, *rest))
    late = [due.row.words for due in found if due.state == "due"]
    more = (f"Due: {listed(late)}.",) if late else ("Nothing is due by the intervals set.",)
    last = asker.of_machine()[-1:]
    told = (f"Hours are those read for {said_day(last[0])} or before.",) if last else ()
    return Answer(sentence, ("what", "state", "gone", "since"), rows, (*more, *told))


def _due_cells(due: Due) -> tuple[str, ...]:
    gone = ", ".join(
        f"{format_number(a, 1 if what == 'hours' else 0)} of {limit:g} {what}"
        for what, a, limit in due.counted
    )
    since = f"{day_words(due.since.day)} ({due.since.label})" if due.since else ""
    return (due.row.words, due.state, gone or "cannot be counted", since)
