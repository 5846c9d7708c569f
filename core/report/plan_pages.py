"""Paper for the day: the sheet of a planned change, and a blank one in the order of the screens."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from core.ask import Asker, tests_run
from core.attempts import Test, find_test
from core.checks import CAUTION, STANDING, due_for_changes, find_rule, rule_for
from core.errors import InputError, NotFoundError
from core.report.document import (
    Block,
    Bullets,
    Column,
    Facts,
    Heading,
    Paragraph,
    Report,
    Table,
)
from core.report.shelf_pages import shopping_blocks
from core.session import Book, fill, merged
from core.setup import (
    Part,
    Sheet,
    changes,
    find_slot,
    main_changes,
    reading_words,
    shopping,
    slot_of,
    slot_order,
    with_reading,
)
from core.stats import pairs_to_settle
from core.units import format_number
from core.verdict import pool_of

__all__ = ["PlanAsked", "blank_sheet", "plan_sheet"]

_MINUTES = 4.0  # from one attempt to the next; common practice, no source
_SWAP = 20.0  # minutes for a swap, where no part on it says; common practice, no source
_USUAL = 4  # pairs where nothing better is known; common practice, no source
_MOST = 40  # pairs that a day holds
_LINE = "_" * 12
_ROWS = 16  # attempts that a blank sheet has room for
_SLOTS = ("engine_block", "block_hours", "oil_hours", "fuel_kind", "fuel_age", "main_jet", "plug",
          "head_gasket", "rockers", "cam", "lash_intake", "lash_exhaust", "clutch",
          "engagement_rpm", "engine_sprocket", "final_sprocket", "chain", "circumference",
          "tyre_pressure_front", "tyre_pressure_rear", "planned_rpm", "throttle_springs",
          "machine_mass", "rider_mass", "timing_gear")  # fmt: skip


@dataclass(frozen=True)
class PlanAsked:
    """What a plan is made of."""

    machine: str = ""  # words that name it; empty: that of the newest session
    changed: tuple[str, ...] = ()  # ``slot=value`` each, as typed
    test: str = ""  # empty: the one the machine ran most
    gain: float | None = None  # smallest gain worth having; None: as last said
    question: str = ""


def plan_sheet(book: Book, asked: PlanAsked) -> Report:
    """Return the sheet of a planned A-B-A: what changes, how many pairs, checks, shopping list.

    Args:
        book: the open log; nothing is saved.
        asked: machine, changes, test and gain.

    Raises:
        NotFoundError: no such machine, slot or test.
        InputError: nothing is to be changed, or a value is refused.
    """
    asker = Asker(book, asked.machine)
    before = asker.last_sheet(asker.machine)
    if before is None:
        raise NotFoundError("There is no setup sheet yet to plan a change on.")
    if not asked.changed:
        raise InputError("What is to be changed?", "Say slot=value, such as rockers=1.25.")
    after = _changed(book, asker.machine, before, asked.changed)
    test = find_test(asked.test or (tests_run(asker.sessions, asker.machine) or ("0-50",))[0])
    title = f"Plan: {asker.machine_name}, {test.name}"
    return Report(title, tuple(_plan_blocks(book, asker, before, after, test, asked)))


def _changed(book: Book, machine: str, before: Sheet, typed: Iterable[str]) -> Sheet:
    many = []
    for text in typed:
        name, mark, value = text.partition("=")
        if not mark:
            raise InputError(f"“{text}” changes nothing.", "Say slot=value, such as rockers=1.25.")
        slot = find_slot(name).id
        got = fill(book, machine, before.readings, slot, value)
        if got.two_machines is not None:
            got = fill(book, machine, before.readings, slot, value, answer="moved")
        many.append(got)
    after = before
    for slot, reading in merged(tuple(many)).readings.items():
        after = with_reading(after, slot, reading)
    if not changes(before, after):
        raise InputError("The plan changes nothing: the machine is like that already.")
    return after


def _plan_blocks(
    book: Book, asker: Asker, before: Sheet, after: Sheet, test: Test, asked: PlanAsked
) -> Iterator[Block]:
    found = changes(before, after)
    causes = main_changes(found)
    many = len(causes) > 1
    yield Facts(
        (
            ("question", asked.question or _LINE * 3),
            ("A (on it now)", _build_words(causes, before)),
            ("B (planned)", _build_words(causes, after)),
            ("test", f"{test.name}: {test.title}"),
            ("predicted, B less A", _LINE),
            ("place, day, permission", _LINE * 3),
        )
    )
    if many:
        yield Paragraph("More than one thing changes: the difference will belong to the package.")
    pairs, why = _pairs(book, asker, test, asked)
    yield Heading("How many")
    yield Paragraph(why)
    yield Heading("Checks that fall due before B runs")
    due = due_for_changes(found, 1, after, book.cleared_before(asker.machine))
    fresh = [r for r in due if r.answer == "open"]
    yield Bullets(tuple(f"□ {rule_for(r).question}" for r in fresh) or ("None by the change.",))
    yield Heading("To buy or have at hand")
    slots = tuple(c.slot for c in causes)
    picked = [r.part for s in slots if (r := after.readings.get(s)) is not None and r.part]
    yield from shopping_blocks(shopping(slots, book.log.all(Part), picked))
    yield Heading("Attempts")
    half = 2 * -(-pairs // 2)
    yield _attempt_rows(["A"] * half + ["B"] * 2 * pairs + ["A"] * half, test)
    yield Heading("Caution")
    yield Paragraph(CAUTION)


def _build_words(causes: Iterable[object], sheet: Sheet) -> str:
    said = []
    for change in causes:
        slot = slot_of(getattr(change, "slot", ""))
        said.append(f"{slot.label} {reading_words(slot, sheet.readings.get(slot.id))}")
    return ", ".join(said) or "nothing that is a cause"


def _pairs(book: Book, asker: Asker, test: Test, asked: PlanAsked) -> tuple[int, str]:
    """How many pairs each build is to run, and why, in words."""
    gains = [s.gain for s in reversed(asker.of_machine()) if s.gain is not None]
    gain = asked.gain if asked.gain is not None else next(iter(gains), None)
    timing = next((s.timing for s in reversed(asker.of_machine()) if s.timing), "")
    if gain is None or not test.unit:
        return _USUAL, "No smallest gain worth having was said: four pairs on each build."
    spread = pool_of(book.sessions(), asker.machine, test.name, timing).spread("pair")
    pairs = pairs_to_settle(gain, spread, 0, 0, both_sides=True)
    unit = test.unit
    if pairs is None or pairs > _MOST:
        return _USUAL, f"Runs alone will not settle {gain:g} {unit}: another test, or other gear."
    pairs = max(2, pairs)
    minutes = 2 * 2 * pairs * _MINUTES + 2 * _SWAP
    half = -(-pairs // 2)
    return pairs, (
        f"{pairs} pairs on each build settle {gain:g} {unit} on one day (a pair scatters by "
        f"{format_number(spread.sd, test.decimals)} {unit}): A-B-A with {half} + {pairs} + {half} "
        f"pairs, about {minutes:.0f} minutes with two swaps. Stop there, whatever the numbers say."
    )


def _attempt_rows(builds: Iterable[str], test: Test | None) -> Table:
    unit = f" {test.unit}" if test is not None and test.unit else ""
    columns = (Column("no", right=True), Column("build"), Column("clock"), Column("way"),
               Column(f"result{unit}"), Column("tag, strike, note", flexible=True))  # fmt: skip
    rows = tuple(
        (str(n), build, "____:____", "______", "__________", "_" * 24)
        for n, build in enumerate(builds, 1)
    )
    return Table(columns, rows)


def blank_sheet(book: Book, words: str = "") -> Report:
    """Return a blank paper sheet in the order of the four stages, to be typed in afterwards.

    Args:
        book: the open log; the newest sheet of the machine named stands beside the blanks.
        words: a machine; empty: that of the newest session, if there is one.
    """
    asker = Asker(book, words)
    sheet = asker.last_sheet(asker.machine) if asker.machine else None
    name = asker.machine_name or _LINE * 2
    return Report(f"Session sheet: {name}", tuple(_blank_blocks(sheet or Sheet())))


def _blank_blocks(sheet: Sheet) -> Iterator[Block]:
    yield Facts(tuple((name, _LINE * 2) for name in (
        "label, date", "place, directions", "test, timing", "question", "smallest gain",
        "predicted, against", "rider, helper")))  # fmt: skip
    yield Heading("1 Setup: what did you touch?")
    columns = (Column("slot", flexible=True), Column("last time", flexible=True),
               Column("today", flexible=True))  # fmt: skip
    slots = sorted({*_SLOTS, *(s for s, r in sheet.readings.items() if r.part)}, key=slot_order)
    yield Table(columns, tuple(
        (slot_of(s).label, reading_words(slot_of(s), sheet.readings.get(s))
         if s in sheet.readings else "", _LINE) for s in slots), wraps=True)  # fmt: skip
    yield Paragraph(f"Also touched: {_LINE * 4}")
    yield Heading("2 Checks (done / not done; a stop check that is not done ends the day)")
    yield from _check_lines()
    yield Heading("Air and wind")
    titles = tuple(Column(t) for t in ("clock", "°C", "hPa", "% humid", "wind m/s", "gust, from"))
    yield Table(titles, tuple(("____:____", "_____", "_______", "_____", "______", _LINE)
                               for _ in range(3)))  # fmt: skip
    yield Heading("3 Attempts")
    yield _attempt_rows([""] * _ROWS, None)
    yield Heading("4 Close-out")
    yield Facts(tuple((name, _LINE * 3) for name in (
        "notes", "learnt", "keep / revert / repeat", "because", "next")))  # fmt: skip
    yield Heading("Caution")
    yield Paragraph(CAUTION)


def _check_lines() -> Iterator[Block]:
    for name, ids in STANDING.items():
        stops = [f"□ {find_rule(rule).short}" for rule in ids if find_rule(rule).is_stop]
        if stops:
            yield Paragraph(f"{name}: {'  '.join(stops)}")
