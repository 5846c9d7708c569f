"""Times effects on 5,000 sessions and 200 parts against NumPy's least squares; prints JSON.

Run as ``python -m tests.speed.effects_timing`` in a process of its own, with one thread for the
linear algebra, so that what is told is the work and not how busy the other cores are.
"""

from __future__ import annotations

import json
import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import msgspec
import numpy as np
import scipy.special  # noqa: F401 - before anything is timed

from core.session import SESSION_KIND, Book, Session
from core.setup import Reading, Sheet
from core.stats import Block, SumMaker, Usual, lay_out, part
from core.verdict.effects import look
from tests.making import bare_session, new_book
from tests.speed.many_documents import numbered_id, write_many

SESSIONS, SLOTS, PARTS = 5000, 20, 10
_BUILDS = 400  # of the log; a builder goes back to what he had


def builds(rng: np.random.Generator, count: int) -> np.ndarray:
    """Return so many builds, each one change from the one before."""
    now = rng.integers(0, PARTS, SLOTS)
    made = []
    for _ in range(count):
        now = now.copy()
        now[rng.integers(SLOTS)] = rng.integers(PARTS)
        made.append(now)
    return np.array(made)


def blocks() -> list[Block]:
    """Return a block for each session of one machine, all with builds of their own."""
    rng = np.random.default_rng(1)
    effect = rng.normal(0.0, 0.2, (SLOTS, PARTS))
    found = []
    for day, build in enumerate(builds(rng, SESSIONS)):
        count = int(rng.integers(2, 7))
        levels = tuple((f"slot {i:02}", f"part {j}") for i, j in enumerate(build))
        level = 8.0 + rng.normal(0.0, 0.15) + effect[np.arange(SLOTS), build].sum()
        seen = level + rng.normal(0.0, 0.08, count)
        ss = float(((seen - seen.mean()) ** 2).sum())
        found.append(
            Block("m", f"d{day:05}", float(seen.mean()), float(count), levels, None, ss, count - 1)
        )
    return found


def sessions(machine: str, place: str) -> Iterator[Session]:
    """Yield the sessions of a log: eight attempts each, on one of some hundred builds."""
    rng = np.random.default_rng(2)
    effect = rng.normal(0.0, 0.2, (SLOTS, PARTS))
    shelf = builds(rng, _BUILDS)
    for number in range(SESSIONS):
        build = shelf[rng.integers(_BUILDS)]
        level = 8.0 + float(rng.normal(0.0, 0.15)) + float(effect[np.arange(SLOTS), build].sum())
        words = " ".join(f"{way}{level + rng.normal(0.0, 0.1):.2f}" for way in "WEWEWEWE")
        readings = {
            f"own:slot_{i}": Reading(state="set", text=f"part {j}") for i, j in enumerate(build)
        }
        made = bare_session(f"S{number:04d}", [words], day=number // 3, gain=0.15)
        yield msgspec.structs.replace(
            made,
            id=numbered_id(number),
            machine=machine,
            place=place,
            sheets=(Sheet(readings=readings),),
            state="closed",
        )


def seconds(action: Callable[[], object], rounds: int) -> float:
    """Return the median processor time of an action."""
    taken = []
    for _ in range(rounds):
        start = time.process_time()
        action()
        taken.append(time.process_time() - start)
    return statistics.median(taken)


def numbers() -> dict[str, float]:
    """Return the cost of the sums, the day spread and all ranges beside that of least squares."""
    layout = lay_out(blocks())
    usual = Usual(sd=0.08, dof=4, day_sd=0.16, day_dof=3, effect_sd=2.0)
    base = {column[0]: column for column in reversed(layout.columns)}
    asked = [{base[c[0]]: -1.0, c: 1.0} for c in layout.columns if base[c[0]] != c]
    x = np.column_stack([layout.z[:, :-1], np.ones(SESSIONS)])
    y = layout.z[:, -1]

    def ours() -> None:
        part(SumMaker.of(layout).at, usual).known(asked)

    ours()
    theirs = seconds(lambda: np.linalg.lstsq(x, y, rcond=None), 7)
    return {"effects": seconds(ours, 7), "least_squares": theirs, "columns": float(x.shape[1] - 1)}


def whole_log() -> dict[str, float]:
    """Return the cost of the question from an open log to the finished sentences."""
    with tempfile.TemporaryDirectory() as name:
        book, _ = new_book(Path(name))
        machine = book.add_machine("Kettle Moth")
        place = book.add_place("Vennimoor strip", ("W", "E"))
        book.close()
        write_many(book.log.folder, SESSION_KIND, sessions(machine.id, place.id))
        with Book.open(book.log.folder, read_only=True) as again:
            looked = look(again, "Kettle Moth")
            taken = seconds(lambda: look(again, "Kettle Moth"), 5)
        told = sum(effect.known is not None for effect in looked.effects.effects)
    return {"log": taken, "told": float(told), "sessions": float(looked.effects.sessions)}


if __name__ == "__main__":
    sys.stdout.write(json.dumps(numbers() | whole_log()) + "\n")
