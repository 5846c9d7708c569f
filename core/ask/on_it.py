"""What was bolted on: the sheet behind a result, jets by air, a part's sessions, two machines."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from core.ask.asker import Asker, listed, said_day
from core.ask.documents import Answer
from core.attempts import counted, find_test
from core.clock import day_words
from core.errors import BackToBackError
from core.session import Session
from core.setup import (
    Sheet,
    build_key,
    changes,
    reading_words,
    slot_of,
    slot_order,
    state_words,
)
from core.units import format_number
from core.verdict import BuildSide, builds_run, sheet_of, side_of

__all__ = ["jets_by_air", "same_build_days", "two_machines", "what_was_on", "with_part"]


@dataclass(frozen=True)
class _Ran:
    """One build of one session with what it averaged."""

    session: Session
    side: BuildSide

    @property
    def mean(self) -> float:
        """Of its observations; it has some."""
        return self.side.mean if self.side.mean is not None else 0.0


def _ran(sessions: tuple[Session, ...]) -> Iterator[_Ran]:
    for session in sessions:
        try:
            run = builds_run(session, session.test) if session.sheets else ()
            sides = [side_of(session, build) for build in run]
        except BackToBackError:
            continue
        yield from (_Ran(session, side) for side in sides if side.values)


def _mean_words(ran: _Ran) -> str:
    test = find_test(ran.side.test)
    return f"{format_number(ran.mean, test.decimals)} {test.unit}"


def _rests(ran: _Ran) -> str:
    return f"{ran.side.n} {ran.side.kind}{'' if ran.side.n == 1 else 's'}"


def what_was_on(asker: Asker) -> Answer:
    """Answer what exactly was on a machine when it ran so many seconds, or at its best."""
    ran = [*_ran(asker.of_machine())]
    if asker.session_named is not None:
        ran = [*_ran((asker.session_named,))]
    if not ran:
        return Answer(f"{asker.machine_name or 'No machine'} has no timed attempts in the log.")
    if asker.number is None:
        found = _best(ran) if asker.session_named is None else ran
        how = "at its best mean" if asker.session_named is None else "then"
    else:
        found, how = _near(ran, *asker.number)
    first = found[0]
    sheet = sheet_of(first.session, first.side.build)
    names = asker.names
    place = names.get(first.session.place, "")
    where = f", {place}" if place else ""
    sentence = (
        f"{first.side.label} on {day_words(first.session.started)} {how} "
        f"{_mean_words(first)} over {_rests(first)} ({first.side.test}{where})."
    )
    others = tuple(
        f"Also {one.side.label} on {day_words(one.session.started)}: {_mean_words(one)}."
        for one in found[1:4]
    )
    rows = tuple(_sheet_rows(sheet))
    return Answer(
        sentence, ("group", "slot", "value", "how known"), rows, others, (first.session.id,)
    )


def _best(ran: list[_Ran]) -> list[_Ran]:
    """The best mean of the test that was run on most days."""
    tests = [one.side.test for one in ran]
    test = max(dict.fromkeys(tests), key=tests.count)
    sign = 1.0 if find_test(test).lower_is_better else -1.0
    able = (one for one in ran if one.side.test == test)
    return sorted(able, key=lambda one: sign * one.mean)[:1]


def _near(ran: list[_Ran], number: float, decimals: int) -> tuple[list[_Ran], str]:
    """Builds whose mean, else one of whose attempts, is this number as far as it was typed."""
    means = [one for one in ran if round(one.mean, decimals) == number]
    if means:
        return means, "averaged"
    single = [
        one
        for one in ran
        for a in counted(one.session.attempts, one.side.test, one.session.test)
        if a.value is not None and round(a.value, decimals) == number
        and any(a.n in group for group in one.side.attempts)
    ]  # fmt: skip
    if single:
        once = {one.side.label: one for one in single}
        return list(once.values()), "had such an attempt, and averaged"
    nearest = min(ran, key=lambda one: abs(one.mean - number))
    return [nearest], f"is the nearest to {format_number(number, decimals)} and averaged"


def _sheet_rows(sheet: Sheet) -> Iterator[tuple[str, ...]]:
    for slot_id in sorted(sheet.readings, key=slot_order):
        slot, reading = slot_of(slot_id), sheet.readings[slot_id]
        how = ", ".join(state_words(reading))
        yield (slot.group, slot.label, reading_words(slot, reading), how)


def jets_by_air(asker: Asker) -> Answer:
    """Answer which jets were on in cold air; a number typed is the warmest that counts as cold."""
    days = []
    for session in asker.of_machine():
        read = [r.temperature for r in session.air if r.temperature is not None]
        if read and session.attempts and session.sheets:
            days.append((sum(read) / len(read), session))
    if not days:
        return Answer(f"No air temperature is on file of {asker.machine_name} on a day it ran.")
    days.sort(key=lambda day: (day[0], day[1].started))
    coldest = days[0][0]
    limit = asker.number[0] if asker.number else coldest + (days[-1][0] - coldest) / 3.0
    cold = [day for day in days if day[0] <= limit]
    rows = tuple((f"{t:.0f}", *_jet_cells(session)) for t, session in days)
    columns = ("°C", "session", "day", "main jet", "pilot jet", "noted")
    if not cold:
        said = f"It never ran at {limit:g} °C or below; the coldest was {coldest:.0f} °C."
        return Answer(said, columns, rows)
    last = max(cold, key=lambda day: day[1].started)[1]
    jet = _jet_cells(last)[2]
    if jet == "not recorded":
        said = f"No main jet is on the sheet of {said_day(last)}, the last cold day."
    else:
        span = f"{coldest:.0f} to {cold[-1][0]:.0f} °C"
        said = f"Main jet {jet}: on at {span}, last in {said_day(last)}."
    return Answer(said, columns, rows, sessions=(last.id,))


def _jet_cells(session: Session) -> tuple[str, ...]:
    readings = session.sheets[-1].readings
    jets = [reading_words(slot_of(s), readings.get(s)) for s in ("main_jet", "pilot_jet")]
    plug = [r.result for r in session.checks if r.rule in ("plug_run", "plug_heat") and r.result]
    noted = ", ".join(p for p in plug if p != "done")
    return (session.label, day_words(session.started), *jets, noted)


def with_part(asker: Asker) -> Answer:
    """Answer which sessions a part was on in, on any machine."""
    parts = asker.parts_named("rockers")
    if not parts:
        return Answer("No part of that name is in the log.", more=("The shelf lists them all.",))
    uses = sorted(
        ((use, part) for part in parts for use in asker.past[part.id].uses),
        key=lambda found: (found[0].day, found[0].session),
    )
    names = listed([part.name for part in parts])
    if not uses:
        return Answer(f"{names} is on no setup sheet of the log.")
    machines = listed(asker.names.get(m, m) for m in dict.fromkeys(u.machine for u, _ in uses))
    count = len({use.session for use, _ in uses})
    rows = tuple(
        (u.label, day_words(u.day), asker.names.get(u.machine, u.machine), u.test, str(u.attempts),
         u.name)
        for u, _ in uses
    )  # fmt: skip
    sentence = f"{names}: {count} session{'' if count == 1 else 's'} on {machines}."
    columns = ("session", "day", "machine", "test", "attempts", "name then")
    return Answer(sentence, columns, rows, sessions=tuple(u.session for u, _ in uses))


def same_build_days(asker: Asker) -> Answer:
    """Answer how far apart days of one and the same build are."""
    groups: dict[tuple[str, str], list[_Ran]] = {}
    for one in _ran(asker.of_machine()):
        key = build_key(sheet_of(one.session, one.side.build))
        if key:
            groups.setdefault((key, one.side.test), []).append(one)
    repeated = {k: found for k, found in groups.items() if len({o.side.day for o in found}) > 1}
    if not repeated:
        return Answer(f"No build of {asker.machine_name} ran on two days yet.")
    most = max(repeated.values(), key=len)
    test = find_test(most[0].side.test)
    means = [one.mean for one in most]
    apart = format_number(max(means) - min(means), test.decimals)
    middle = sum(means) / len(means)
    sd = (sum((m - middle) ** 2 for m in means) / (len(means) - 1)) ** 0.5
    sentence = (
        f"{listed([o.side.label for o in most])}: {len(most)} days, {apart} {test.unit} between "
        f"the lowest and the highest mean; days scatter by {format_number(sd, test.decimals)} "
        f"{test.unit}."
    )
    rows = tuple(_day_cells(o) for found in repeated.values() for o in found)
    columns = ("session", "day", "test", "mean", "rests on", "air")
    more = ("These are raw times: air and wind are not taken out.",)
    return Answer(sentence, columns, rows, more, tuple(o.session.id for o in most))


def _day_cells(ran: _Ran) -> tuple[str, ...]:
    day = day_words(ran.session.started)
    return (ran.side.label, day, ran.side.test, _mean_words(ran), _rests(ran), _air(ran))


def _air(ran: _Ran) -> str:
    read = [r for r in ran.session.air if r.temperature is not None]
    return f"{read[0].temperature:g} °C" if read else "not read"


def two_machines(asker: Asker) -> Answer:
    """Answer what differs between the newest sheets of two machines, line by line."""
    named = list(asker.machines_named)
    others = dict.fromkeys(s.machine for s in reversed(asker.sessions))
    both = [*named, *(m for m in others if m not in named)][:2]
    if len(both) < 2:
        return Answer("Two machines with a setup sheet are needed; the log has one or none.")
    sheets = [asker.last_sheet(machine) or Sheet() for machine in both]
    a, b = (asker.names.get(machine, machine) for machine in both)
    found = changes(*sheets)
    rows = tuple(
        (slot_of(c.slot).label, reading_words(slot_of(c.slot), c.before),
         reading_words(slot_of(c.slot), c.after))
        for c in found
    )  # fmt: skip
    same = len({*sheets[0].readings} | {*sheets[1].readings}) - len(found)
    sentence = f"{a} and {b} differ in {len(found)} slots; {same} say the same."
    return Answer(sentence, ("slot", a, b), rows)
