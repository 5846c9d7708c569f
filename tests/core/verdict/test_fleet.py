"""Many logs: the tables that leave a log, and sums of each log added to what one log would say."""

from __future__ import annotations

import importlib
import json
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import demo
from core.errors import BackToBackError, InputError
from core.session import Book
from core.stats import Block
from core.verdict.effects import Evidence, PartEffects, analyse, effects_of, results_of
from core.verdict.fleet import (
    ATTEMPTS,
    BLOCKS,
    attempt_rows,
    block_files,
    block_rows,
    evidence_from,
    pooled_effects,
    write_table,
)
from tests.core.stats.club import Club
from tests.making import new_book

has_engine = importlib.util.find_spec("duckdb") is not None
needs_engine = pytest.mark.skipif(not has_engine, reason="the extra [fleet] is not installed")
pytestmark = pytest.mark.xdist_group("season")


@pytest.fixture(scope="module")
def season(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The log of the demo season; nothing is written to it."""
    folder = tmp_path_factory.mktemp("season") / "log"
    demo.build(folder)
    return folder


def _rows(blocks: list[Block], logs: int) -> list[dict[str, Any]]:
    """Rows of a club's blocks, its machines dealt out to so many logs."""
    return [
        {
            "log": f"log{int(b.machine[1:]) % logs}",
            "session": f"{b.machine} {b.day}",
            "machine": b.machine,
            "test": "0-50",
            "day": b.day,
            "value": b.value,
            "weight": b.weight,
            "moment": b.moment,
            "ss": b.ss,
            "dof": b.dof,
            "allowance_sd": 0.0,
            "step": 0.003,
            "levels": dict(b.levels),
        }
        for b in blocks
    ]


def _numbers(found: PartEffects) -> dict[tuple[str, str], tuple[float, ...]]:
    return {
        (e.factor, e.after_words): (e.known.value, e.known.low, e.known.high)
        if e.known
        else (0.0, 0.0, 0.0)
        for e in found.effects
    }


def _assert_same(one: PartEffects, other: PartEffects) -> None:
    ours, theirs = _numbers(one), _numbers(other)
    assert ours.keys() == theirs.keys()
    assert [e.known is None for e in one.effects] == [e.known is None for e in other.effects]
    for key, told in ours.items():
        assert told == pytest.approx(theirs[key], abs=1e-9), key
    assert one.spread == pytest.approx(other.spread, abs=1e-9)
    assert one.day_spread == pytest.approx(other.day_spread, abs=1e-9)


def _effects(evidence: Evidence, logs: list[str]) -> PartEffects:
    return results_of("", "all", "0-50", 0.15, evidence, analyse(evidence, 0.15, logs))


def test_sums_of_each_log_added_say_what_one_log_says() -> None:
    """To a billionth: effects, ranges, spreads, and what cannot be told."""
    club = Club(24, 20, np.random.default_rng(4), slots=5, sessions=6)
    rows = _rows(list(club.blocks()), 5)
    for row in rows:
        row["levels"] = tuple(row["levels"].items())
    evidence = evidence_from(rows, "0-50")
    many = [row["log"] for row in rows]
    _assert_same(_effects(evidence, many), _effects(evidence, []))
    turned = replace(evidence, blocks=evidence.blocks[::-1], sessions=evidence.sessions[::-1])
    shuffled = {e.factor: e.known for e in _effects(turned, many[::-1]).effects if e.known}
    assert shuffled


@needs_engine
def test_a_club_of_five_logs_in_files_says_what_one_file_says(tmp_path: Path) -> None:
    """Through Parquet and the engine; a log that was exported twice counts once."""
    club = Club(15, 16, np.random.default_rng(9), slots=4, sessions=6)
    rows = _rows(list(club.blocks()), 5)
    for number in range(5):
        (tmp_path / f"log{number}").mkdir()
        own = [row for row in rows if row["log"] == f"log{number}"]
        write_table(own, BLOCKS, tmp_path / f"log{number}" / "blocks.parquet")
    (tmp_path / "again").mkdir()
    doubled = [row for row in rows if row["log"] == "log3"]
    write_table(doubled, BLOCKS, tmp_path / "again" / "blocks.parquet")
    single = [row | {"log": "one"} for row in rows]
    write_table(single, BLOCKS, tmp_path / "one.parquet")
    together = pooled_effects(block_files([tmp_path]), "0-50", 0.15)
    alone = pooled_effects([tmp_path / "one.parquet"], "0-50", 0.15)
    assert together.machine_name == "5 logs"
    assert together.sessions == alone.sessions
    _assert_same(together, alone)


@needs_engine
def test_the_season_as_tables_holds_every_attempt_and_says_the_same(
    season: Path, tmp_path: Path
) -> None:
    """Types as documented; effects out of the file are those out of the log."""
    import duckdb  # the extra

    with Book.open(season, read_only=True) as book:
        write_table(attempt_rows(book), ATTEMPTS, tmp_path / "attempts.parquet")
        write_table(block_rows(book), BLOCKS, tmp_path / "blocks.parquet")
        attempts = sum(len(head.attempts) for head in book.sessions())
        own = effects_of(book, "all", "0-50", gain=0.15)
    for name, fields in (("attempts", ATTEMPTS), ("blocks", BLOCKS)):
        told = duckdb.connect().execute(f"DESCRIBE FROM '{tmp_path / name}.parquet'").fetchall()
        assert [row[0] for row in told] == [field.name for field in fields]
        assert [str(row[1]).replace("TIMESTAMP WITH TIME ZONE", "TIMESTAMPTZ") for row in told] == [
            field.type for field in fields
        ]
    where = f"FROM '{tmp_path}/attempts.parquet'"
    counted = (
        duckdb.connect()
        .execute(f"SELECT count(*), sum(value), count(ran_at) {where}")
        .fetchall()[0]
    )
    assert counted[0] == attempts
    struck = (
        duckdb.connect().execute(f"SELECT label, n, struck {where} WHERE struck <> ''").fetchall()
    )
    assert struck == [("S07", 7, "CHAIN")]
    pooled = pooled_effects([tmp_path / "blocks.parquet"], "0-50", 0.15)
    _assert_same(pooled, own)


@needs_engine
def test_an_empty_log_gives_empty_tables(tmp_path: Path) -> None:
    book, _ = new_book(tmp_path)
    with book:
        assert write_table(attempt_rows(book), ATTEMPTS, tmp_path / "a.parquet") == 0
        assert write_table(block_rows(book), BLOCKS, tmp_path / "blocks.parquet") == 0
    found = pooled_effects([tmp_path / "blocks.parquet"], "0-50")
    assert found.effects == ()
    assert "no attempts on 0-50 that count yet" in found.sentence


@needs_engine
def test_what_is_no_table_is_refused_in_a_sentence(tmp_path: Path) -> None:
    other = tmp_path / "blocks.parquet"
    other.write_text(json.dumps({"no": "parquet"}))
    with pytest.raises(InputError, match="no block tables"):
        pooled_effects([other], "0-50")
    with pytest.raises(InputError, match="no number"):
        pooled_effects([other], "plug")
    with pytest.raises(InputError, match="holds none"):
        block_files([tmp_path / "nothing"])
    with pytest.raises(BackToBackError, match="was not written"):
        write_table([], BLOCKS, tmp_path / "missing" / "blocks.parquet")


def test_without_the_engine_it_is_said_how_to_get_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "duckdb", None)
    with pytest.raises(BackToBackError, match="DuckDB, which is not installed") as told:
        write_table([], BLOCKS, tmp_path / "blocks.parquet")
    assert "backtoback[fleet]" in told.value.hint
