"""What to test next: the ranking against every swap worked through, and what is never suggested."""

from __future__ import annotations

import json
from collections.abc import Iterator
from math import log, sqrt
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from core.attempts import find_test
from core.errors import NotFoundError
from core.report.next_page import next_data, next_page
from core.session import Book
from core.setup import Machine, Part, Reading, fitted
from core.stats import Block, Column, SumMaker, Usual, lay_out, normal_prior, part
from core.verdict.next import Running, Swap, next_test, rank, time_words
from tests.making import bare_session, new_book

SD, DAY, EFFECT, LEVEL, GAIN = 0.08, 0.2, 1.2, 8.0, 0.15
SLOW = "W8.34 E8.06 W8.44 E7.95 W8.43 E8.11"
FAST = "W7.44 E7.14 W7.39 E7.13 W7.36 E7.04"


def _swap(before: Column, after: Column, minutes: float, *, at_strip: bool = True) -> Swap:
    return Swap(
        slot=before[0], label=before[0], before=before, after=after, before_words=before[1],
        after_words=after[1], part="", at_strip=at_strip, swap_minutes=minutes, check_minutes=5.0,
        cool_minutes=0.0, checks=(), stops=0, sessions=0,
    )  # fmt: skip


def _history(rng: np.random.Generator, slots: int) -> tuple[list[Block], dict[str, int]]:
    """A few sessions of one machine, and the build it stands in now."""
    now = [0] * slots
    blocks = []
    for day in range(int(rng.integers(3, 7))):
        for _ in range(int(rng.integers(1, 3))):
            now[int(rng.integers(slots))] = int(rng.integers(2))
        levels = tuple((f"slot {i}", f"part {j}") for i, j in enumerate(now))
        blocks.append(Block("m", f"d{day}", 8.0 + float(rng.normal()), 4.0, levels))
    return blocks, {f"slot {i}": j for i, j in enumerate(now)}


def _worked_through(
    blocks: list[Block], swap: Swap, questions: list[tuple[Column, Column]], pairs: int
) -> float:
    """The sharpening of one A-B-A by solving the whole model twice, days and drift as columns."""
    columns = sorted({c for b in blocks for c in b.levels} | {swap.before, swap.after}
                     | {c for q in questions for c in q})  # fmt: skip
    days = sorted({b.day for b in blocks})
    now = next(b.levels for b in reversed(blocks))
    other = tuple(swap.after if c == swap.before else c for c in now)
    rows, noise = [], []
    for b in blocks:
        rows.append([1.0, *(float(c in b.levels) for c in columns),
                     *(float(b.day == d) for d in days), 0.0, 0.0])  # fmt: skip
        noise.append(SD / sqrt(b.weight))
    prior = [1e4, *(EFFECT / sqrt(2.0) for _ in columns), *(DAY for _ in days), 1e4, 1e4]
    test_rows = [
        [0.0, *(float(c in levels) for c in columns), *(0.0 for _ in days), 1.0, float(turn - 1)]
        for turn, levels in enumerate((now, other, now))
    ]
    widths: list[list[float]] = []
    for extra in ([], test_rows):
        noises = [*noise, *(SD / sqrt(pairs) for _ in extra)]
        belief = normal_prior(rows + extra, [0.0] * (len(rows) + len(extra)), noises, prior)
        widths.append([])
        for before, after in questions:
            weights = [0.0, *(float(c == after) - float(c == before) for c in columns),
                       *(0.0 for _ in days), 0.0, 0.0]  # fmt: skip
            own, usual = belief.contrast(weights).se ** 2, (0.05 * LEVEL) ** 2
            widths[-1].append(sqrt(own * usual / (own + usual)))
    enough = GAIN / 1.959963984540054
    slots = [after[0] for _, after in questions]
    return sum(
        log(max(was, enough) / max(now_, enough)) / slots.count(slot)
        for was, now_, slot in zip(*widths, slots, strict=True)
    )


@pytest.mark.parametrize("seed", range(10))
@pytest.mark.parametrize("wanted", ["", "slot 1"])
def test_the_ranking_is_that_of_every_swap_worked_through(seed: int, wanted: str) -> None:
    """Small cases: each swap's whole test solved anew, divided by the time it takes."""
    rng = np.random.default_rng(seed)
    blocks, now = _history(rng, 3)
    found = part(
        SumMaker.of(lay_out(blocks)).at,
        Usual(sd=SD, dof=1e9, day_sd=DAY, day_dof=1e7, effect_sd=EFFECT),
    )
    swaps = [
        _swap((slot, f"part {at}"), (slot, f"part {to}"), float(rng.integers(5, 60)))
        for slot, at in now.items()
        for to in range(3)
        if to != at
    ]
    test = find_test("0-50")
    running = Running(test, found, SD, DAY, EFFECT, LEVEL, GAIN, two_way=True, last_pairs=4)
    ranked = rank(swaps, running, [wanted] if wanted else [])
    columns = {c for b in blocks for c in b.levels} | {s.after for s in swaps}
    questions = [
        ((c[0], f"part {now[c[0]]}"), c)
        for c in sorted(columns)
        if c[1] != f"part {now[c[0]]}" and wanted in ("", c[0])
    ]
    slow: dict[Column, float] = {}
    for swap in swaps:
        minutes = 45 + 3 * 4 * 2 * 4 + 2 * (swap.swap_minutes + 5)
        told = _worked_through(blocks, swap, questions, test.minimum)
        if told > 0.05:
            slow[swap.after] = told / (minutes / 240)
    assert [one.swap.after for one in ranked] == sorted(slow, key=lambda c: -slow[c])
    for one in ranked:
        assert one.rate == pytest.approx(slow[one.swap.after], rel=2e-3)


def test_what_can_be_undone_at_the_strip_comes_first_and_another_day_tells_less() -> None:
    test = find_test("0-50")
    running = Running(test, None, SD, DAY, EFFECT, LEVEL, None, two_way=True, last_pairs=4)
    bench = _swap(("head", "one"), ("head", "two"), 1.0, at_strip=False)
    strip = _swap(("exhaust", "one"), ("exhaust", "two"), 60.0)
    first, second = rank([bench, strip], running)
    assert (first.swap, second.swap) == (strip, bench)
    assert second.width_after > 2 * first.width_after
    assert rank([], running) == ()


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    """A log of one machine with two sessions, and a shelf."""
    made, _ = new_book(tmp_path)
    exhausts = [_part(f"pipe-{i}", f"Pipe {i}", "exhaust") for i in range(1, 4)]
    made.save(
        Machine(id="m1", name="Kettle Moth"),
        _part("pipe-0", "Stock pipe", "exhaust", status="fitted", machine="m1"),
        exhausts[0],
        _part("pipe-r", "Cracked pipe", "exhaust", status="retired"),
        _part("pipe-o", "Pipe on order", "exhaust", status="ordered"),
        _part("pipe-b", "Badger pipe", "exhaust", status="fitted", machine="m2"),
        _part("head-2", "Head two", "head"),
        _part("brake-2", "Brake two", "brake"),
        _part("tank-2", "Tank two", "tank"),
        _session("S01", 0, SLOW, 2100),
        _session("S02", 7, FAST, 2900),
    )
    with made:
        yield made


def _part(id_: str, name: str, slot: str, **more: Any) -> Part:
    return Part(id=id_, name=name, slot=slot, **more)


def _session(label: str, day: int, text: str, engagement: int) -> Any:
    made = bare_session(label, [text], day=day, sheets=({},), gain=0.15)
    readings = {
        "exhaust": fitted("pipe-0", "Stock pipe"),
        "head": fitted("head-1", "Head one"),
        "brake": fitted("brake-1", "Brake one"),
        "engagement_rpm": Reading(state="set", value=engagement, text=str(engagement)),
        "governor": Reading(state="set", text="removed" if engagement > 2500 else "active"),
    }
    sheet = made.sheets[0].__class__(readings=readings)
    return made.__class__(**{f: getattr(made, f) for f in made.__struct_fields__}
                          | {"sheets": (sheet,)})  # fmt: skip


def test_only_what_is_here_free_and_harmless_is_suggested(book: Book) -> None:
    """Not what is retired, ordered or on another machine; no governor, no brake."""
    found = next_test(book, "Kettle Moth")
    swaps = {one.swap.words: one for one in found.proposals}
    assert list(swaps)[-1] == "head: Head one -> Head two"
    assert set(swaps) == {
        "exhaust: Stock pipe -> Pipe 1",
        "clutch engagement: 2,900 rpm -> 2,100 rpm",
        "head: Head one -> Head two",
    }
    assert found.left_out == (
        "No slot to hold against on this machine's sheet: Tank two.",
        "Not here yet: Pipe on order.",
    )
    head = swaps["head: Head one -> Head two"]
    assert head.design == "another day"
    assert "torque" in " ".join(head.swap.checks)
    assert head.swap.stops > 3


def test_each_swap_comes_with_its_reason_and_a_ready_plan(book: Book) -> None:
    found = next_test(book, "Kettle Moth", about="exhaust pipe")
    assert [one.swap.slot for one in found.proposals] == ["exhaust"]
    one = found.proposals[0]
    plan = dict(one.plan)
    assert one.width_after < one.width_before
    assert one.sentence.startswith("Pipe 1 was never run; in ")
    assert plan["order"] == "A Stock pipe, B Pipe 1, A Stock pipe again: 4 pairs each"
    assert plan["time"].startswith(f"about {time_words(one.minutes)}: setting up 45 min")
    assert plan["smallest gain"] == "0.15 s"
    assert "gasket (not on the shelf)" in plan["bring"]
    assert one.half_days == pytest.approx(one.minutes / 240)
    said = json.dumps(next_data(found), allow_nan=False) + str(next_page(found))
    assert "Plan: exhaust: Stock pipe -> Pipe 1" in said


def test_where_there_is_nothing_to_swap_it_is_said(tmp_path: Path) -> None:
    """An empty log, a machine without a sheet, one session and an empty shelf."""
    book, _ = new_book(tmp_path)
    with book:
        with pytest.raises(NotFoundError, match="no session yet"):
            next_test(book)
        book.save(Machine(id="m1", name="Kettle Moth"))
        with pytest.raises(NotFoundError, match="no timed attempts yet"):
            next_test(book, "Kettle Moth")
        book.save(bare_session("S01", ["W8.1 E8.0"], sheets=({"main_jet": 75.0},)))
        found = next_test(book)
        assert found.proposals == ()
        assert "no part is here and free" in found.sentence
        about = next_test(book, about="exhaust")
        assert about.sentence.endswith("no swap that could be made now tells more about exhaust.")
        assert "Plan" not in str(next_page(about))
        with pytest.raises(NotFoundError, match="No slot is called"):
            next_test(book, about="warp drive")
