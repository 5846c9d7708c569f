"""What the season comes to: sign, size and word of each comparison, and what the air explains.

The figures are those the season was laid out with. The table:
``python tests/demo/test_verdicts.py``.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).parents[2]))

import demo
from core.session import Book
from core.stats import Verdict
from core.verdict import Comparison, compare_sessions


@dataclass(frozen=True)
class Row:
    """One comparison of the season."""

    a: str
    b: str
    size: float  # B less A as clocked, s
    word: Verdict
    air: float | None  # what the air is to explain, s, within 0.1; None: one day
    situation: str  # that must be recognised; empty: none in particular


ROWS = (
    Row("S01", "S03", -1.19, Verdict.QUICKER, 0.1, "several changes"),
    Row("S03", "S04", 0.53, Verdict.CANT_TELL, 0.4, "different air"),
    Row("S05:A", "S05:B", 0.96, Verdict.SLOWER, None, ""),
    Row("S02", "S07", 0.01, Verdict.CANT_TELL, 0.0, "days apart"),
    Row("S05:A", "S08", 0.08, Verdict.CANT_TELL, -0.1, "cannot see"),
    Row("S09:A", "S09:B", 0.13, Verdict.SLOWER, None, ""),
    Row("S08", "S10", 0.27, Verdict.CANT_TELL, -0.1, "days apart"),
)


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Book]:
    """The season, opened to read."""
    folder = tmp_path_factory.mktemp("season") / "log"
    demo.build(folder)
    with Book.open(folder, read_only=True) as opened:
        yield opened


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row.a}-{row.b}")
def test_sign_size_and_word(book: Book, row: Row) -> None:
    """As laid out; on two days the air is read, allowed for, and decides."""
    made = compare_sessions(book, row.a, row.b)
    assert made.difference is not None
    assert made.difference.value == pytest.approx(row.size, abs=0.0051)
    assert made.verdict is row.word
    assert row.situation in {s.id for s in made.situations} | {""}
    if row.air is None:
        assert made.decides == "raw"
        return
    assert made.net is not None
    assert made.allowances is not None
    assert made.allowances.explained is not None
    assert made.allowances.converged
    assert made.allowances.explained.part("air").value == pytest.approx(row.air, abs=0.1)


def test_the_weather_day_fools_only_the_clock(book: Book) -> None:
    """S04 on the build of S03: as clocked slower for sure, net it is the same build."""
    made = compare_sessions(book, "S03", "S04")
    assert made.raw_verdict is Verdict.SLOWER
    assert made.net is not None
    assert made.net.low < 0.0 < made.net.high
    said = next(s.sentence for s in made.situations if s.id == "different air")
    assert said.startswith("Same build, 0.53 s slower than on 3 May 2026; the hotter, thinner air")
    assert "about 0.4 s" in said


def _line(made: Comparison, row: Row) -> str:
    found, net = made.difference, made.net
    assert found is not None
    raw = f"{found.value:+.2f} ({found.low:+.2f} to {found.high:+.2f}) {made.raw_verdict}"
    left = f"{net.value:+.2f} ({net.low:+.2f} to {net.high:+.2f})" if net else "-"
    return f"| {row.a} -> {row.b} | {row.size:+.2f} {row.word} | {raw} | {left} | {made.verdict} |"


def _print() -> None:
    with tempfile.TemporaryDirectory() as folder:
        demo.build(Path(folder) / "log")
        with Book.open(Path(folder) / "log", read_only=True) as book:
            out = ["| | laid out | as clocked | net | answer |", "|---|---|---|---|---|"]
            out += [_line(compare_sessions(book, row.a, row.b), row) for row in ROWS]
            sys.stdout.write("\n".join(out) + "\n")


if __name__ == "__main__":
    _print()
