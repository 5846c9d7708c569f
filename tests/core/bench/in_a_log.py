"""A log with one machine and an open session, to take bench readings in."""

from __future__ import annotations

import random
from pathlib import Path

from core.bench import About, take_lift_table
from core.checks import current_checks, is_settled
from core.clock import ManualClock
from core.session import Book, Plan, Session, fill, keep_reading, put_on
from core.setup import Sheet
from tests.core.reckon.moth import TABLES
from tests.making import START

__all__ = ["TYPED", "Bench", "rockers", "tables"]


class Bench:
    """A log with one machine and an open session, and a clock to move."""

    def __init__(self, folder: Path, typed: dict[str, str]) -> None:
        self.clock = ManualClock(START)
        self.book = Book.open(folder / "log", clock=self.clock, rng=random.Random(3))
        self.machine = self.book.add_machine("Kettle Moth").id
        self.session = self.book.start(Plan(machine=self.machine, test="0-50"))
        for slot, text in typed.items():
            self.touch(slot, text)

    def touch(self, slot: str, text: str) -> None:
        self.clock.advance(minutes=1)
        now = self.session.sheets[-1].readings
        filled = fill(self.book, self.machine, now, slot, text)
        self.session = put_on(self.book, self.session, filled)

    def next_session(self) -> None:
        """Go on in a new session, so that a change is one against the last sheet."""
        self.clock.advance(minutes=60)
        self.session = self.book.start(Plan(machine=self.machine, test="0-50"))

    @property
    def sheet(self) -> Sheet:
        return self.now.sheets[-1]

    @property
    def now(self) -> Session:
        return self.book.log.get(Session, self.session.id)

    def about(self, **more: object) -> About:
        told = {"machine": self.machine, "sheet": self.sheet} | more
        return About(id=self.book.fresh_id(), at=self.clock.advance(minutes=1), **told)  # type: ignore[arg-type]

    def open(self) -> set[str]:
        records = current_checks(self.now.checks, len(self.now.sheets) - 1)
        return {record.rule for record in records if not is_settled(record)}


TYPED = {
    "rockers": "Stock 1.0", "rocker_ratio": "1.0", "gasket_thickness": "1.1", "deck": "0.25",
    "stroke": "54", "rod_length": "84", "cam": "Moth cam", "cam_centre": "104",
    "lobe_lift_intake": "5.8", "lobe_lift_exhaust": "5.8", "bore": "70", "gasket_bore": "71",
    "chamber_volume": "22.5", "crown_volume": "0",
}  # fmt: skip


def rockers(bench: Bench) -> None:
    bench.touch("rockers", "Thistle 1.25")
    bench.touch("rocker_ratio", "1.25")


def tables(bench: Bench) -> None:
    for side, on_file in (("intake", TABLES.intake), ("exhaust", TABLES.exhaust)):
        assert on_file is not None
        pairs = zip(on_file.table.angles, on_file.table.lifts, strict=True)
        rows = "\n".join(f"{angle} {lift * 1000:.4f}" for angle, lift in pairs)
        took = take_lift_table(rows, side, bench.about())  # type: ignore[arg-type]
        keep_reading(bench.book, took.reading)
