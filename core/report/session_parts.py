"""The parts of a session's page, each as blocks of a report."""

from __future__ import annotations

from collections.abc import Iterator

from core.attempts import AirReading, Attempt, find_test, sum_up, wind_beyond
from core.checks import CheckRecord, rule_for
from core.checks import state_words as check_words
from core.errors import BackToBackError
from core.exchange import plural
from core.report.document import Block, Bullets, Column, Facts, Heading, Paragraph, Table
from core.report.words import (
    ANSWER_MARKS,
    COUNTS,
    HOLLOW,
    attempt_words,
    clock_words,
    day_words,
    mean_words,
    value_words,
)
from core.session import Book, Session
from core.setup import (
    Sheet,
    build_letters,
    changes,
    derived,
    reading_words,
    slot_of,
    slot_order,
    state_words,
)

__all__ = [
    "about",
    "air",
    "attempts",
    "changed",
    "checks",
    "close_out",
    "is_plainly_done",
    "notes",
    "setup",
    "summary",
    "worked_out",
]


def about(book: Book, session: Session) -> Iterator[Block]:
    """Yield what the session is: machine, place, test, question, prediction, people, state."""
    test = session.test
    rows = [
        ("machine", book.name_of(session.machine) or session.machine),
        ("place", book.name_of(session.place) or session.place or "not told"),
        ("started", f"{day_words(session.started)} {clock_words(session.started)}"),
        ("test", f"{test}{f', {session.timing}' if session.timing else ''}"),
        ("question", session.question),
        ("smallest gain", value_words(session.gain, test)),
        ("predicted", _prediction(book, session)),
        ("rider", session.rider),
        ("helper", session.helper),
        ("recorded", _recorded(book, session)),
        ("state", _state(session)),
    ]
    yield Facts(tuple((name, value) for name, value in rows if value))


def _recorded(book: Book, session: Session) -> str:
    """Names of the recordings that are kept with the session, and how long they are."""
    mine = [head for head in book.traces() if head.session == session.id]
    return ", ".join(f"{head.name} ({head.seconds / 60:.1f} min)" for head in mine)


def _prediction(book: Book, session: Session) -> str:
    made = session.prediction
    if made is None:
        return ""
    unit = _unit(session.test)
    span = f" give or take {made.give_or_take:g}" if made.give_or_take is not None else ""
    against = next((h.label for h in book.sessions() if h.id == made.against), "")
    return f"{made.value:+g}{span} {unit}".rstrip() + (f" against {against}" if against else "")


def _unit(test: str) -> str:
    try:
        return find_test(test).unit
    except BackToBackError:
        return ""


def _state(session: Session) -> str:
    if session.state == "stopped" and session.stopped_because:
        return f"stopped: {session.stopped_because}"
    return session.state


def setup(sheet: Sheet) -> Iterator[Block]:
    """Yield what was bolted on and how it was set, group by group; only what was recorded."""
    groups: dict[str, list[tuple[str, str]]] = {}
    for slot_id in sorted(sheet.readings, key=slot_order):
        slot, reading = slot_of(slot_id), sheet.readings[slot_id]
        how = ", ".join(state_words(reading))
        value = reading_words(slot, reading) + (f" ({how})" if how else "")
        groups.setdefault(slot.group, []).append((slot.label, value))
    if not groups:
        yield Paragraph("Nothing was recorded of the setup.")
    for group, rows in groups.items():
        yield Paragraph(f"{group[0].upper()}{group[1:]}")
        yield Facts(tuple((f"  {label}", value) for label, value in rows))


def worked_out(sheet: Sheet, rpm_factory: float | None) -> Iterator[Block]:
    """Yield the values that follow from the sheet, those of which anything is known."""
    found = derived(sheet, rpm_factory) if rpm_factory is not None else derived(sheet)
    rows = tuple((d.label, d.words) for d in found if d.value is not None or d.was)
    if rows:
        yield Heading("Worked out")
        yield Facts(rows)


def changed(book: Book, session: Session) -> Iterator[Block]:
    """Yield what differs from the sheet the session came from, and what each swap changed."""
    letters = build_letters(session.sheets)
    before = book.sheet_before(session)
    came_from = next((h.label for h in book.sessions() if h.id == session.came_from), "")
    steps: list[tuple[str, Sheet, Sheet]] = []
    if before is not None and session.sheets:
        steps.append((f"From {came_from}", before, session.sheets[0]))
    for index in range(1, len(session.sheets)):
        words = f"Swap from {letters[index - 1]} to {letters[index]}"
        steps.append((words, session.sheets[index - 1], session.sheets[index]))
    if not steps:
        return
    yield Heading("What changed")
    for words, a, b in steps:
        found = changes(a, b)
        yield Paragraph(words + (":" if found else ": nothing."))
        if found:
            yield Bullets(tuple(change.words for change in found))


def checks(session: Session) -> Iterator[Block]:
    """Yield the checks: those with a result or still open one by one, those just done in a row."""
    if not session.checks:
        return
    done = [c for c in session.checks if is_plainly_done(c)]
    rows = tuple(
        (ANSWER_MARKS[record.answer], rule_for(record).short, _answered(record))
        for record in session.checks
        if record not in done
    )
    yield Heading("Checks")
    if rows:
        columns = (Column(""), Column("check", flexible=True), Column("result", flexible=True))
        yield Table(columns, rows, wraps=True)
    if done:
        yield Paragraph(f"Done: {'; '.join(rule_for(record).short for record in done)}.")


def is_plainly_done(record: CheckRecord) -> bool:
    """Tell whether a check was cleared by nothing more than ``done``."""
    result = record.result.strip().casefold()
    return record.answer == "cleared" and result in ("", "done") and not record.by_reference


def _answered(record: CheckRecord) -> str:
    said = check_words(record)
    return f"{said}; {record.note}" if record.note and record.note not in said else said


def air(session: Session) -> Iterator[Block]:
    """Yield the readings of air and wind."""
    if not session.air:
        yield Paragraph("Air and wind: not recorded.")
        return
    yield Heading("Air and wind")
    columns = ("time", "°C", "hPa", "% humid", "wind m/s", "gust", "from")
    yield Table(
        (*(Column(name, right=name not in ("time", "from")) for name in columns),
         Column("note", flexible=True)),
        tuple(_air_row(reading) for reading in session.air),
        wraps=True,
    )  # fmt: skip


def _air_row(reading: AirReading) -> tuple[str, ...]:
    numbers = (
        reading.temperature, reading.pressure, reading.humidity, reading.wind, reading.gust,
    )  # fmt: skip
    beyond = "beyond what compares" if wind_beyond(reading) else ""
    note = "; ".join(filter(None, (beyond, reading.source, reading.note)))
    shown = ("" if n is None else f"{n:g}" for n in numbers)
    return (clock_words(reading.observed), *shown, reading.wind_from, note)


def attempts(session: Session) -> Iterator[Block]:
    """Yield every attempt as it was taken down; those that do not count stand hollow."""
    if not session.attempts:
        return
    letters = build_letters(session.sheets)
    several = len(set(letters)) > 1
    yield Heading("Attempts")
    yield Table(
        (
            Column(""),
            Column("no", right=True),
            Column("build" if several else ""),
            Column("time"),
            Column("way"),
            Column("result", right=True),
            Column("noted", flexible=True),
        ),
        tuple(
            _attempt_row(a, session, letters[a.sheet] if several and a.sheet < len(letters) else "")
            for a in session.attempts
        ),
        wraps=True,
    )
    yield Paragraph(f"{COUNTS} counts; {HOLLOW} struck, warm-up or aborted: shown, not counted")


def _attempt_row(attempt: Attempt, session: Session, build: str) -> tuple[str, ...]:
    counts = attempt.kind == "timed" and attempt.strike is None
    test = attempt.test or session.test
    other = f"{test}; " if attempt.test and attempt.test != session.test else ""
    value = value_words(attempt.value, test)
    shown = value or ("aborted" if attempt.kind == "aborted" else attempt.text)
    return (
        COUNTS if counts else HOLLOW,
        str(attempt.n),
        build,
        clock_words(attempt.at),
        attempt.direction,
        shown,
        (other + attempt_words(attempt)).rstrip("; "),
    )


def summary(session: Session) -> Iterator[Block]:
    """Yield the attempts in numbers, one row per test and build."""
    letters = build_letters(session.sheets)
    rows = []
    names = dict.fromkeys(a.test or session.test for a in session.attempts)
    for name in names:
        for build in dict.fromkeys(letters):
            mine = [a for a in session.attempts if letters[a.sheet] == build]
            found = sum_up(mine, find_test(name), session.test)
            if not found.numbers.n and not found.struck:
                continue
            both = found.pairs if found.pairs.n else found.numbers
            kind = "pair" if found.pairs.n else "attempt"
            ways = ", ".join(
                f"{way} {mean_words(n.mean, name)}" for way, n in found.by_direction if way
            )
            tags = ", ".join(tag.words for tag in found.tags)
            more = "; ".join(filter(None, (ways, tags)))
            rows.append((
                build if len(set(letters)) > 1 else "",
                name,
                plural(both.n, kind),
                mean_words(both.mean, name) or "-",
                mean_words(both.sd, name) or "-",
                mean_words(found.numbers.best, name) or "-",
                str(found.struck),
                more,
            ))  # fmt: skip
    if not rows:
        return
    yield Heading("Summary")
    columns = ("build" if rows[0][0] else "", "test", "n", "mean", "scatter", "best", "struck")
    right = ("mean", "scatter", "best", "struck")
    yield Table(
        (*(Column(name, right=name in right) for name in columns), Column("", flexible=True)),
        tuple(rows),
        wraps=True,
    )


def notes(session: Session) -> Iterator[Block]:
    """Yield the notes, as typed."""
    if session.notes:
        yield Heading("Notes")
        yield Bullets(session.notes)


def close_out(book: Book, session: Session) -> Iterator[Block]:
    """Yield what was learnt, what was decided and what comes next."""
    made = session.close_out
    if made is None:
        return
    rests_on = next((h.label for h in book.sessions() if h.id == made.compared_with), "")
    rows = [
        ("learnt", made.learnt),
        ("decision", made.decision),
        ("because", made.because),
        ("rests on", rests_on),
        ("next", made.next),
    ]
    told = tuple((name, value) for name, value in rows if value)
    if told:
        yield Heading("Close-out")
        yield Facts(told)
