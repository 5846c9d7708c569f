"""The lines of the bench: what is due, clay and lift tables, all that is read, what follows."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from core.bench import BenchReading, ClayOnFile, Entry, Side, TableOnFile, slot_history
from core.checks import CheckRecord, Rule, current_checks, is_settled, rule_for, state_words
from core.engine import ClayState
from core.reckon import gaps_on
from core.session import Session
from core.setup import Reading, Slot, derived, reading_words, slot_of, slot_order
from core.setup.seeking import match_slots
from core.units import format_number
from tui.screens.bench.taken import CHECK
from tui.subject import Subject
from tui.text import cut, plain
from tui.widgets.columns import Column
from tui.widgets.records import Line, Toned

__all__ = [
    "BENCH_COLUMNS",
    "LIFT_SIDES",
    "VALUE",
    "asking_checks",
    "bench_lines",
    "entry_lines",
    "is_read",
    "newest",
]

LIFT, VALUE = "lift:", "value:"
"""Heads of the ids of lines that are lift tables and values that follow."""
LIFT_SIDES: Final[dict[str, Side]] = {"lift:intake": "intake", "lift:exhaust": "exhaust"}
"""By the id of a line: the lobe whose lift table it is."""

BENCH_COLUMNS: Final = (
    Column("", 1, 1),
    Column("", 8, 8, rank=2),
    Column("What", 14, 44),
    Column("Now", 12, 44),
    Column("Taken", 13, 60, rank=1),
)
_LABEL = 24  # cells of a label, where there is little room
_ASK_NUMBERS = ("value", "two values", "clay")
_GAPS = ("valve_gap_intake", "valve_gap_exhaust")
_GROUPS: Final = {
    "valve train": "valves",
    "flywheel and governor": "flywheel",
    "oil and fuel": "fuel",
    "tyres and wheels": "tyres",
    "mass and rider": "mass",
}
"""Headings that are too long to stand beside the lines, and what stands there."""


def is_read(slot: Slot) -> bool:
    """Tell whether a slot holds a number that is read with an instrument, or measured."""
    return slot.kind == "number" and bool(slot.instrument or slot.role == "measured")


def asking_checks(session: Session | None) -> tuple[CheckRecord, ...]:
    """Return the open checks of a session that a measurement answers, those for now."""
    if session is None:
        return ()
    return tuple(
        record
        for record in current_checks(session.checks, max(0, len(session.sheets) - 1))
        if rule_for(record).answer in _ASK_NUMBERS
        and _is_of_the_bench(rule_for(record))
        and not is_settled(record)
        and record.due_after <= len(session.attempts)
    )


def _is_of_the_bench(rule: Rule) -> bool:
    """Tell whether a check asks for a reading of the machine, not of the place or the day."""
    return bool(rule.fills) or rule.level == "start"


def newest(taken: tuple[BenchReading, ...], slot: str) -> BenchReading | None:
    """Return the newest bench reading of a slot."""
    found = [one for one in taken if slot in one.readings]
    return max(found, key=lambda one: (one.at, one.id), default=None)


def bench_lines(subject: Subject, session: Session | None, sought: str = "") -> tuple[Line, ...]:
    """Return the lines of the bench.

    Args:
        subject: whose they are.
        session: its open session; None: there is none.
        sought: letters typed; empty: what is due, on file or recorded, then the rest.
    """
    if sought.strip():
        slots = [slot for slot in match_slots(sought) if is_read(slot)]
        return (*_special(subject, sought), *(_slot_line(subject, slot, "") for slot in slots))
    return (
        *_due(session),
        *_special(subject, ""),
        *_slots(subject),
        *_follows(subject),
    )


def _due(session: Session | None) -> Iterator[Line]:
    for index, record in enumerate(asking_checks(session)):
        rule = rule_for(record)
        heading = Toned("" if index else "due", "warn")
        stop = "stop" if rule.is_stop else "advice"
        words = state_words(record)
        yield Line(
            CHECK + record.rule,
            (
                Toned("○", "warn"),
                heading,
                _label(rule.short, "strong"),
                words,
                Toned(stop, "quiet"),
            ),
        )


def _special(subject: Subject, sought: str) -> Iterator[Line]:
    """Yield clay and the lift tables; with letters only those that fit."""
    clay = subject.past.clay(subject.sheet)
    when = "" if clay is None or clay.at is None else f"{clay.at.day} {clay.at:%b %Y}"
    words = "none on file" if clay is None else clay.words
    short = "" if clay is None else _clay_short(clay)
    source = "" if clay is None else ", ".join(filter(None, (when, clay.source)))
    rows = [("clay", "valve-to-piston, clay", Toned(plain(words), short=plain(short)), source)]
    tables = subject.past.tables(subject.sheet)
    for side, table in zip(LIFT_SIDES.values(), tables.sides, strict=True):
        told, at = _table_words(table)
        rows.append((LIFT + side, f"lift table, {side}", Toned(told), at))
    first = True
    for key, label, now, taken in rows:
        if sought and not all(word in label for word in sought.casefold().split()):
            continue
        heading = "valves" if first else ""
        first = False
        yield Line(key, ("", Toned(heading, "quiet"), label, now, _quiet(taken)))


def _label(words: str, tone: str = "plain") -> Toned:
    """Return what a line is called; cut where there is little room."""
    return Toned(words, tone, cut(words, _LABEL))


def _quiet(taken: str) -> Toned:
    """Return when and how something was taken; only when, where there is no room."""
    return Toned(plain(taken), "quiet", plain(taken.partition(", ")[0]))


def _clay_short(clay: ClayOnFile) -> str:
    """Return both gaps in few cells: ``in 3.2, ex >3.0 mm``."""
    said = [
        f"{name} {'>' if side.is_bound else ''}{format_number(side.gap * 1000)}"
        for name, side in zip(("in", "ex"), clay.sides, strict=True)
        if side is not None and side.state in (ClayState.TOUCHED, ClayState.NOT_TOUCHED)
    ]
    return f"{', '.join(said)} mm"


def _table_words(table: TableOnFile | None) -> tuple[str, str]:
    if table is None:
        return "none on file", ""
    peak = format_number(table.table.peak * 1000, 2)
    when = "" if table.at is None else f"{table.at.day} {table.at:%b %Y}"
    return f"{len(table.table.angles)} rows to {peak} mm", when


def _slots(subject: Subject) -> Iterator[Line]:
    """Yield everything that is read, by group; on a loose part only what an engine has."""
    ids = {slot.id for slot in match_slots("") if is_read(slot) and slot.id not in _GAPS}
    ids |= {s for one in subject.past.taken for s in one.readings if is_read(slot_of(s))}
    last = "valves"
    for slot_id in sorted(ids, key=slot_order):
        slot = slot_of(slot_id)
        if not subject.is_machine and slot.group not in _LOOSE:
            continue
        group = _GROUPS.get(slot.group, slot.group)
        yield _slot_line(subject, slot, group if group != last else "")
        last = group


_LOOSE = ("engine", "head", "valve train", "ignition", "flywheel and governor")
"""Headings of what can be read on an engine that is on no machine."""


def _slot_line(subject: Subject, slot: Slot, group: str) -> Line:
    reading = subject.sheet.readings.get(slot.id)
    bench = newest(subject.past.taken, slot.id)
    sign, taken = "", _taken(reading, bench)
    if bench is not None and _is_newer(bench, slot.id, reading):
        reading, sign, taken = bench.readings[slot.id], "+", f"{_bench_words(bench)}, no sheet yet"
    doubtful = reading is not None and reading.stale
    tone = "quiet" if reading is None else "plain"
    words = "not read" if reading is None else reading_words(slot, reading)
    return Line(
        slot.id,
        (
            Toned("△" if doubtful else sign, "warn"),
            Toned(group, "quiet"),
            _label(slot.label, tone),
            Toned(plain(words), tone),
            _quiet(f"stale, {taken}" if doubtful else taken),
        ),
    )


def _is_newer(bench: BenchReading, slot: str, now: Reading | None) -> bool:
    """Tell whether a bench reading says something newer than the sheet does."""
    if now is None or now.at is None:
        return now is None or now.value != bench.readings[slot].value
    return bench.at > now.at and bench.readings[slot].value != now.value


def _bench_words(bench: BenchReading) -> str:
    said = (f"{bench.at.day} {bench.at:%b %Y}", bench.condition, "bench")
    return ", ".join(filter(None, said))


def _taken(reading: Reading | None, bench: BenchReading | None) -> str:
    if reading is None:
        return ""
    if bench is not None and reading.at is not None and bench.at == reading.at:
        return _bench_words(bench)
    when = "" if reading.at is None else f"{reading.at.day} {reading.at:%b %Y}"
    return ", ".join(filter(None, (when, reading.state)))


def _follows(subject: Subject) -> Iterator[Line]:
    """Yield what follows from the readings, and the gaps as they are carried here."""
    past, sheet = subject.past, subject.sheet
    rows = [
        (one.id, one.label, one.words, "unknown" if one.value is None else "")
        for one in derived(sheet, subject.rpm_factory, past.halves(sheet))
        if any(slot in sheet.readings for slot in one.inputs)
    ]
    gaps = gaps_on(sheet, past.clay(sheet), past.tables(sheet), halves=past.halves(sheet))
    rows += [(f"gap_{gap.side}", f"{gap.side} valve-to-piston gap", gap.words, "") for gap in gaps]
    for index, (key, label, words, short) in enumerate(rows):
        heading = Toned("" if index else "follows", "quiet")
        shown = Toned(plain(words), "plain", short or words.partition(" (")[0])
        yield Line(VALUE + key, ("", heading, _label(label), shown, Toned("y why", "quiet")))


def entry_lines(subject: Subject, key: str, labels: Mapping[str, str]) -> tuple[str, ...]:
    """Return what was read at one line, newest first, a line each.

    Args:
        subject: whose.
        key: id of a slot, or ``clay``.
        labels: of sessions by id.
    """
    slots = _GAPS if key == "clay" else (key,)
    past = subject.past
    entries = [
        entry
        for slot in slots
        for entry in slot_history(slot, past.taken, past.answers, past.sheets)
    ]
    entries.sort(key=lambda one: one.at.timestamp() if one.at else 0.0, reverse=True)
    return tuple(_entry_words(entry, key, labels) for entry in entries)


def _entry_words(entry: Entry, key: str, labels: Mapping[str, str]) -> str:
    when = "no time" if entry.at is None else f"{entry.at.day:>2} {entry.at:%b %Y %H:%M}"
    side = slot_of(entry.slot).label.split()[0] + " " if key == "clay" else ""
    session = labels.get(entry.session, entry.session)
    note = "" if entry.note.startswith("clay: ") else entry.note  # that the value says already
    said = (entry.source, entry.instrument, entry.condition, session, note)
    return plain(f"{when}  {side}{entry.words}  {', '.join(filter(None, said))}")
