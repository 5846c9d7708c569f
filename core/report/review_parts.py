"""Parts of a session's page that tell more than its printed sheet: origins, urgency, trail."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace

from core.attempts import Series, find_test, sum_up
from core.checks import CheckRecord, is_settled, result_words, rule_for
from core.checks import state_words as check_words
from core.report import session_parts as parts
from core.report.attempt_pictures import n_words
from core.report.document import Block, Bullets, Column, Facts, Heading, Paragraph, Table
from core.report.words import ANSWER_MARKS, COUNTS, HOLLOW, clock_words, day_words, mean_words
from core.session import Book, Session
from core.setup import (
    Change,
    Sheet,
    build_letters,
    changes,
    derived,
    main_changes,
    over_speed_words,
    reading_words,
    slot_of,
    slot_order,
    state_words,
)

__all__ = ["attempts_with_odd", "checks_by_urgency", "setups", "trail"]

ODD = "◆"
"""Mark of an attempt that counts and stands apart."""

TODAY = "●"
"""Mark of a reading that was entered in this session."""

CARRIED = "·"
"""Mark of one that was carried over from an earlier session."""


def setups(book: Book, session: Session, rpm_factory: float) -> Iterator[Block]:
    """Yield what was changed, then the sheet by groups, then what follows from it.

    A session that ran several builds has its first sheet in full and of each later one what the
    swap changed.
    """
    if not session.sheets:
        yield Paragraph("No setup sheet was kept.")
        return
    yield from _changed(book, session)
    yield from _sheet(session.sheets[0], _labels(book))
    shown: dict[str, str] = {}
    for name, sheet in _builds(session):
        yield from _follows(name, sheet, rpm_factory, shown)


def _follows(name: str, sheet: Sheet, rpm_factory: float, shown: dict[str, str]) -> Iterator[Block]:
    """Yield what follows from a sheet, without what was shown of an earlier one already."""
    known = {d.label: d.words for d in derived(sheet, rpm_factory) if d.value is not None or d.was}
    known["over-speed"] = over_speed_words(sheet, rpm_factory)
    new = {label: words for label, words in known.items() if shown.get(label) != words}
    shown |= new
    if new:
        yield Heading(f"Follows from it{name}")
        said = new.pop("over-speed", "")
        if new:
            yield Facts(tuple(new.items()))
        if said:
            yield Paragraph(said)


def _builds(session: Session) -> Iterator[tuple[str, Sheet]]:
    """Yield the first sheet of each build, with its name where there are several."""
    letters = build_letters(session.sheets)
    for letter in dict.fromkeys(letters):
        name = f", build {letter}" if len(set(letters)) > 1 else ""
        yield name, session.sheets[letters.index(letter)]


def _labels(book: Book) -> Mapping[str, str]:
    return {head.id: head.label for head in book.sessions()}


def _changed(book: Book, session: Session) -> Iterator[Block]:
    before = book.sheet_before(session)
    if before is None:
        yield Heading("What changed")
        yield Paragraph("Nothing to hold it against: it is the first sheet of its kind.")
    else:
        label = _labels(book).get(session.came_from, "the session before")
        yield Heading(f"What changed against {label}")
        yield from _steps(changes(before, session.sheets[0]))
    letters = build_letters(session.sheets)
    for index in range(1, len(session.sheets)):
        yield Heading(f"Swap from {letters[index - 1]} to {letters[index]}")
        yield from _steps(changes(session.sheets[index - 1], session.sheets[index]))


def _steps(found: tuple[Change, ...]) -> Iterator[Block]:
    """Yield causes first, then what follows from them or was only noted."""
    causes = main_changes(found)
    rest = [change for change in found if change not in causes]
    if not found:
        yield Paragraph("Nothing that was recorded.")
    if causes:
        yield Bullets(tuple(change.words for change in causes))
    if rest:
        yield Paragraph("Follows from it, measured or only noted:")
        yield Bullets(tuple(change.words for change in rest))


def _sheet(sheet: Sheet, labels: Mapping[str, str]) -> Iterator[Block]:
    """Yield the groups of a sheet, each reading with how it is known and where it comes from."""
    groups: dict[str, list[tuple[str, ...]]] = {}
    for slot_id in sorted(sheet.readings, key=slot_order):
        slot, reading = slot_of(slot_id), sheet.readings[slot_id]
        row = (
            CARRIED if reading.carried else TODAY,
            slot.label,
            ", ".join((reading_words(slot, reading), *state_words(reading))),
            labels.get(reading.carried, "earlier") if reading.carried else "today",
        )
        groups.setdefault(slot.group, []).append(row)
    columns = (Column(""), Column("", flexible=True), Column("", flexible=True), Column(""))
    if not groups:
        yield Paragraph("Nothing was recorded of the setup.")
        return
    yield Heading("The sheet")
    yield Paragraph(f"{TODAY} entered in this session; {CARRIED} carried over from the one named")
    for group, rows in groups.items():
        yield Heading(f"{group[:1].upper()}{group[1:]}")
        yield Table(columns, tuple(rows), wraps=True)


def checks_by_urgency(session: Session) -> Iterator[Block]:
    """Yield the checks: what is open first, then stops with their results, then advice."""
    if not session.checks:
        yield Paragraph("No check was due.")
        return
    yield Paragraph(_count(session.checks))
    letters = build_letters(session.sheets)
    several = len(set(letters)) > 1
    kinds = (
        ("Not cleared", [c for c in session.checks if not is_settled(c)]),
        ("Stop checks", [c for c in session.checks if is_settled(c) and rule_for(c).is_stop]),
        ("Advice", [c for c in session.checks if is_settled(c) and not rule_for(c).is_stop]),
    )
    for title, records in kinds:
        if records:
            yield Heading(title)
            yield from _check_rows(records, letters if several else ())


def _count(records: tuple[CheckRecord, ...]) -> str:
    count = len(records)
    left = [record for record in records if not is_settled(record)]
    stops = sum(rule_for(record).is_stop for record in left)
    checks = f"{count} check{'' if count == 1 else 's'}"
    if not left:
        return f"{checks}, all cleared or not applying."
    return f"{checks}, {len(left)} not cleared, {stops} of them stop checks."


def _check_rows(records: list[CheckRecord], letters: tuple[str, ...]) -> Iterator[Block]:
    """Yield those with a result row by row, and those that were simply done in one line."""
    plain = [c for c in records if parts.is_plainly_done(c)]
    rows = tuple(_check_row(c, letters) for c in records if c not in plain)
    if rows:
        columns = (Column(""), Column("", flexible=True), Column("", flexible=True), Column(""))
        yield Table(columns, rows, wraps=True)
    if plain:
        yield Paragraph(f"Done: {'; '.join(rule_for(c).short for c in plain)}.")


def _check_row(record: CheckRecord, letters: tuple[str, ...]) -> tuple[str, ...]:
    said = result_words(record) if record.answer == "cleared" else check_words(record)
    if record.note and record.note not in said:
        said = f"{said}; {record.note}"
    build = letters[record.sheet] if record.sheet < len(letters) else ""
    level = "stop" if rule_for(record).is_stop and not is_settled(record) else ""
    told = " ".join(filter(None, (level, build and f"build {build}", clock_words(record.at))))
    return (ANSWER_MARKS[record.answer], rule_for(record).short, said, told)


def attempts_with_odd(session: Session, odd: Collection[int]) -> Iterator[Block]:
    """Yield the numbers of the attempts and every attempt, those that stand apart marked."""
    if not session.attempts:
        yield Paragraph("No attempts were made.")
        return
    yield Facts(tuple(_numbers(session)))
    for block in parts.attempts(session):
        if isinstance(block, Table):
            numbers = {str(n) for n in odd}
            yield replace(block, rows=tuple(_marked(row, numbers) for row in block.rows))
    marks = f"{COUNTS} counts; {HOLLOW} struck, warm-up or aborted: shown, not counted"
    yield Paragraph(f"{marks}; {ODD} stands apart" if odd else marks)


def _numbers(session: Session) -> Iterator[tuple[str, str]]:
    """Yield the numbers of each build on each test, as a name and words."""
    letters = build_letters(session.sheets)
    builds = tuple(dict.fromkeys(letters))
    tests = tuple(dict.fromkeys(a.test or session.test for a in session.attempts))
    for name in tests:
        for build in builds or ("",):
            mine = [a for a in session.attempts if not letters or letters[a.sheet] == build]
            words = _series_words(sum_up(mine, find_test(name), session.test), name)
            if words:
                told = (f"build {build}" if len(builds) > 1 else "", name if len(tests) > 1 else "")
                yield " ".join(filter(None, told)) or "in numbers", words


def _series_words(series: Series, test: str) -> str:
    numbers = series.pairs if series.pairs.n else series.numbers
    if not series.numbers.n and not series.struck:
        return ""
    ways = (f"{way} {mean_words(n.mean, test)}" for way, n in series.by_direction if way)
    said = (
        n_words(numbers.n, "pair" if series.pairs.n else "attempt"),
        f"mean {mean_words(numbers.mean, test)}" if numbers.n else "",
        f"scatter {mean_words(numbers.sd, test)}" if numbers.sd is not None else "",
        *ways,
        f"best {mean_words(series.numbers.best, test)}" if series.numbers.n else "",
        f"{series.struck} struck" if series.struck else "",
        *(tag.words for tag in series.tags),
    )
    return ", ".join(filter(None, said))


def _marked(row: tuple[str, ...], odd: Collection[str]) -> tuple[str, ...]:
    if row[0] != COUNTS or row[1] not in odd:
        return row
    noted = "; ".join(filter(None, ("stands apart", row[-1])))
    return (ODD, *row[1:-1], noted)


def trail(session: Session) -> Iterator[Block]:
    """Yield what was done and when, oldest first; a line that was taken back says so."""
    if not session.trail:
        yield Paragraph("No trail was kept.")
        return
    undone = {line.undoes for line in session.trail if line.undoes is not None}
    days: dict[str, list[tuple[str, ...]]] = {}
    for index, line in enumerate(session.trail):
        words = f"{line.words} (taken back)" if index in undone else line.words
        mark = HOLLOW if index in undone else COUNTS
        days.setdefault(day_words(line.at), []).append((mark, f"{line.at:%H:%M:%S}", words))
    for day, rows in days.items():
        yield Heading(day)
        yield Table((Column(""), Column(""), Column("", flexible=True)), tuple(rows), wraps=True)
