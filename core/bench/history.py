"""What was read at one place over time: bench readings, answers to checks, setup sheets."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from core.bench.documents import BenchReading
from core.bench.taking import PROJECTION_SLOTS
from core.checks import CheckRecord, Cleared, rule_for
from core.clock import to_utc
from core.engine import INSTRUMENTS
from core.setup import Reading, Sheet, State, reading_words, same_reading, sameness, slot_of

__all__ = ["Entry", "last_before", "slot_history"]

_WORDS = {gauge.key: gauge.words for gauge in INSTRUMENTS}


@dataclass(frozen=True)
class Entry:
    """One value of a slot, as it was entered once."""

    slot: str
    reading: Reading
    at: datetime | None
    source: str  # ``bench``, ``check`` or ``sheet``
    session: str = ""  # id or label of the session it stands in; empty: none
    instrument: str = ""  # words
    condition: str = ""  # ``cold``, ``hot`` or nothing
    note: str = ""
    around: Mapping[str, Reading] | None = None  # what stood on the sheet then; None: not kept

    @property
    def words(self) -> str:
        """The value as it is read out: ``3.1 mm``, ``> 2 mm``."""
        return reading_words(slot_of(self.slot), self.reading)


def slot_history(
    slot: str,
    taken: Iterable[BenchReading],
    answers: Sequence[Cleared] = (),
    sheets: Iterable[tuple[str, Sheet]] = (),
) -> tuple[Entry, ...]:
    """Return what was read at a slot, oldest first; what was only carried over is left out.

    Args:
        slot: id.
        taken: bench readings of the machine or loose engine.
        answers: answers to the checks of the machine.
        sheets: its setup sheets with the session each stands in, oldest first.
    """
    found = [*_from_bench(slot, taken), *_from_answers(slot, answers), *_from_sheets(slot, sheets)]
    found.sort(key=lambda entry: entry.at.timestamp() if entry.at is not None else 0.0)
    kept: dict[tuple[object, ...], Entry] = {}
    for entry in found:  # the same value at the same time is one reading, kept in two places
        kept.setdefault((entry.at, *sameness(entry.reading)), entry)
    return tuple(kept.values())


def _from_bench(slot: str, taken: Iterable[BenchReading]) -> Iterator[Entry]:
    for one in taken:
        reading = one.readings.get(slot)
        if reading is not None:
            key = one.instrument or slot_of(slot).instrument
            yield Entry(
                slot, reading, one.at, "bench", one.session, _WORDS.get(key, ""), one.condition,
                one.note, one.around,
            )  # fmt: skip


def _from_answers(slot: str, answers: Sequence[Cleared]) -> Iterator[Entry]:
    for one in answers:
        fills = rule_for(one.record).fills
        if slot not in fills or one.record.by_reference:
            continue
        reading = _reading(one.record, fills.index(slot))
        if reading is not None:
            yield Entry(
                slot, reading, one.record.at, "check", one.session, note=one.record.note,
                around=one.sheet.readings,
            )  # fmt: skip


def _reading(record: CheckRecord, place: int) -> Reading | None:
    value = (record.value, record.second)[place]
    bound = (record.bound, record.second_bound)[place]
    if value is None:
        return None
    state: State = "bounded" if bound else "measured"
    return Reading(state=state, value=value, bound=bound, text=record.result, at=record.at)


def _from_sheets(slot: str, sheets: Iterable[tuple[str, Sheet]]) -> Iterator[Entry]:
    before: Reading | None = None
    for session, sheet in sheets:
        reading = sheet.readings.get(slot)
        if reading is not None and _is_new(before, reading):
            yield Entry(
                slot, reading, reading.at, "sheet", session, note=reading.note,
                around=sheet.readings,
            )  # fmt: skip
        before = reading


def _is_new(before: Reading | None, reading: Reading) -> bool:
    if reading.carried or reading.state == "unknown":
        return False
    return before is None or before.at != reading.at or not same_reading(before, reading)


def last_before(entries: Sequence[Entry], changed: str, now: Sheet) -> Entry | None:
    """Return the newest reading taken before another slot became what it is now.

    It answers questions such as 'what was the clay reading before the head was milled?'.

    Args:
        entries: readings of one slot, oldest first.
        changed: id of the slot that was changed since, such as ``head_milled``.
        now: as the machine stands.
    """
    today = now.readings.get(changed)
    return next((entry for entry in reversed(entries) if _was_before(entry, changed, today)), None)


def _was_before(entry: Entry, changed: str, today: Reading | None) -> bool:
    """Tell by what stood on the sheet, or else by the clock."""
    kept = entry.source != "bench" or changed in (*slot_of(entry.slot).follows, *PROJECTION_SLOTS)
    if kept and entry.around:
        return not same_reading(entry.around.get(changed), today)
    if entry.at is None or today is None or today.at is None:
        return False
    return to_utc(entry.at) < to_utc(today.at)
