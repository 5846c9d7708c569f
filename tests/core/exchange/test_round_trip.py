"""What is written as CSV is read back to a log that writes the same bytes, whatever it holds."""

from __future__ import annotations

import os
import tempfile
from datetime import datetime, timedelta, timezone
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from core.attempts import STRIKES, TAGS, TIMINGS, Attempt, Strike, find_test
from core.exchange import export_lines, import_lines
from core.session import Place, Session
from core.setup import Machine, Part, Reading, Sheet, find_slot, fitted, own_slot, read_reading
from tests.core.exchange.samples import empty, exported, read_in


@pytest.fixture(autouse=True)
def _no_waiting_for_the_disk(monkeypatch: pytest.MonkeyPatch) -> None:
    """These tests are about content; each save would wait for the disk twice."""
    monkeypatch.setattr(os, "fsync", lambda handle: None)


NAMES = st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=12).filter(
    lambda name: bool(name.strip())
)
WORDS = st.text(st.characters(exclude_categories=["Cs"]), max_size=30)
PLAIN = st.from_regex(r"[a-z]{1,6}( [a-z]{1,6}){0,2}", fullmatch=True)
MOMENTS = st.builds(
    lambda days, minutes, hours: datetime(
        2026, 1, 1, tzinfo=timezone(timedelta(hours=hours))
    ) + timedelta(days=days, minutes=minutes),
    st.integers(0, 600),
    st.integers(0, 1439),
    st.integers(-11, 12),
)  # fmt: skip
TYPED = {
    "gasket_thickness": ["1.1", "48 thou", ".048in", "~1.0", "?", "0,9"],
    "valve_gap_intake": [">2.0", "3.1 mm", "2.6 est"],
    "rod_rpm_limit": ["6500", "6500 measured", "unknown"],
    "final_sprocket_teeth": ["66", "66T", "60 teeth"],
    "main_jet": ["95 x100mm", "38 thou", "number 12"],
    "governor": ["removed", "held"],
    "chain_lube": ["wax", "=SUM(A1)", "+ dry"],
}
STRUCK = st.none() | st.builds(
    Strike,
    code=st.sampled_from([strike.code for strike in STRIKES]),
    note=st.just("") | PLAIN,
    late=st.booleans(),
)
PARTS = {"clutch": ("Pepper", "Salt"), "final_sprocket": ("66T", "60T"), "rockers": ("Thistle",)}


def _readings() -> st.SearchStrategy[dict[str, Reading]]:
    typed: dict[str, st.SearchStrategy[Reading | None]] = {
        slot: st.none() | st.sampled_from([read_reading(find_slot(slot), t).reading for t in texts])
        for slot, texts in TYPED.items()
    }
    parts: dict[str, st.SearchStrategy[Reading | None]] = {
        slot: st.none() | st.sampled_from([fitted(f"{slot}-{n.lower()}", n) for n in names])
        for slot, names in PARTS.items()
    }
    own = {
        own_slot("Seat foam").id: st.none()
        | WORDS.map(str.strip).filter(_is_told).map(lambda t: Reading(state="set", text=t))
    }
    drawn = st.fixed_dictionaries({**typed, **parts, **own})
    return drawn.map(lambda told: {s: r for s, r in told.items() if r is not None})


def _is_told(text: str) -> bool:
    state = read_reading(own_slot("x"), text).reading.state if text else "unknown"
    return state == "set" and not text.endswith(("(stale)", "(copied)"))


@st.composite
def attempts(draw: st.DrawFn, directions: tuple[str, ...], sheets: int) -> tuple[Attempt, ...]:
    """Return a few attempts of every kind."""
    made = []
    for n in range(1, draw(st.integers(1, 5)) + 1):
        test = find_test(draw(st.sampled_from(["", "top", "80m"])) or "0-50")
        aborted = draw(st.booleans()) and draw(st.booleans())
        low, high = test.hard
        value = None if aborted else draw(st.floats(low, high))
        if value is not None and draw(st.booleans()):
            value = min(max(round(value, 2), low), high)
        made.append(
            Attempt(
                n=n,
                sheet=draw(st.integers(0, sheets - 1)),
                kind="aborted" if aborted else draw(st.sampled_from(["timed", "warm-up"])),
                value=value,
                text=draw(WORDS),
                direction=draw(st.sampled_from(["", *directions])),
                at=draw(st.none() | MOMENTS),
                test="" if test.name == "0-50" else test.name,
                timing=draw(st.sampled_from(["", *(t.name for t in TIMINGS)])),
                tags=tuple(draw(st.sets(st.sampled_from([t.code for t in TAGS]), max_size=2))),
                strike=draw(STRUCK),
                unsure=draw(st.booleans()),
                note=draw(WORDS),
            )
        )
    return tuple(made)


@st.composite
def seasons(draw: st.DrawFn) -> list[Any]:
    """Return the documents of a small log."""
    names = draw(st.sets(NAMES, min_size=1, max_size=2))
    machines = [Machine(id=f"m{i}", name=name) for i, name in enumerate(sorted(names))]
    pair = draw(st.sampled_from([("W", "E"), ("out", "back"), ()]))
    place = Place(id="strip", name=draw(NAMES), directions=pair)
    parts = [
        Part(id=f"{s}-{n.lower()}", slot=s, name=n) for s, names in PARTS.items() for n in names
    ]
    sessions = []
    for i in range(draw(st.integers(1, 3))):
        sheets = [Sheet(readings=r) for r in draw(st.lists(_readings(), min_size=1, max_size=3))]
        sessions.append(
            Session(
                id=f"s{i}",
                label=draw(NAMES),
                machine=draw(st.sampled_from(machines)).id,
                place=draw(st.sampled_from(["", "strip"])),
                started=draw(MOMENTS),
                test="0-50",
                timing=draw(st.sampled_from(["", "hand", "logger-10hz"])),
                directions=pair,
                sheets=tuple(sheets),
                attempts=draw(attempts(pair, len(sheets))),
            )
        )
    return [*machines, place, *parts, *sessions]


_MODEST = settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow], derandomize=True
)


@_MODEST
@given(seasons())
def test_csv_of_any_log_reads_back(documents: list[Any]) -> None:
    with tempfile.TemporaryDirectory() as folder, empty(Path(folder) / "one") as book:
        book.save(*documents)
        text = exported(book)
        again = read_in(book, text)
        assert (again.went_in, again.is_clean) == (0, True), (again.rejected, again.conflicts)
        with empty(Path(folder) / "two") as other:
            made = read_in(other, text)
            assert made.is_clean, made.rejected
            assert made.went_in == sum(len(s.attempts) for s in book.log.all(Session))
            assert exported(other) == text


@_MODEST
@given(seasons())
def test_json_lines_of_any_log_read_back(documents: list[Any]) -> None:
    with tempfile.TemporaryDirectory() as folder, empty(Path(folder) / "one") as book:
        book.save(*documents)
        data = b"".join(export_lines(book))
        with empty(Path(folder) / "two") as other:
            made = import_lines(other, data.decode(), "a.jsonl")
            assert (made.went_in, made.is_clean) == (len(documents), True), made.rejected
            assert b"".join(export_lines(other)) == data
            assert sorted(other.log.all(Session), key=lambda s: s.id) == book.log.all(Session)
