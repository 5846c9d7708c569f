"""Rows of the two tables out of an open log, and blocks back out of rows."""

from __future__ import annotations

import contextlib
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from core.attempts import find_test
from core.errors import LogError, NotFoundError
from core.session import Book, Session
from core.setup import Reading, build_letters, reading_words, slot_of
from core.stats import Block, Column, Levels
from core.verdict.effects import CIRCUMSTANCES, Evidence, allowed_for, evidence_of, ran_on, tests_of

__all__ = ["attempt_rows", "block_rows", "evidence_from"]

_RIDER = "by rider"


def attempt_rows(book: Book) -> Iterator[dict[str, Any]]:
    """Yield a row of ``ATTEMPTS`` for each attempt; a session that cannot be read is passed over.

    What was passed over is among the log's problems.
    """
    for head in book.sessions():
        try:
            session = book.log.get(Session, head.id)
        except LogError:
            continue
        letters = build_letters(session.sheets)
        machine, place = book.name_of(session.machine), book.name_of(session.place)
        for a in session.attempts:
            test = a.test or session.test
            yield {
                "log": book.log.id,
                "session": session.id,
                "label": session.label,
                "machine": machine or session.machine,
                "place": place,
                "rider": session.rider,
                "n": a.n,
                "build": letters[a.sheet] if a.sheet < len(letters) else "",
                "test": test,
                "timing": a.timing or session.timing,
                "kind": a.kind,
                "value": a.value,
                "unit": _unit(test),
                "direction": a.direction,
                "ran_at": a.at.isoformat() if a.at else None,
                "tags": list(a.tags),
                "struck": a.strike.code if a.strike else "",
                "note": a.note,
            }


def _unit(test: str) -> str:
    try:
        return find_test(test).unit
    except NotFoundError:  # of a later version
        return ""


def block_rows(book: Book) -> Iterator[dict[str, Any]]:
    """Yield a row of ``BLOCKS`` for each build of each session and test.

    Parts and places go by name, because other logs have other ids; rider codes keep the log's id
    before them, because R1 is another person there.
    """
    for test in tests_of(book.sessions(), ""):
        allowances = allowed_for(book, ran_on(book.sessions(), test), test)
        evidence, _ = evidence_of(book, "", test, allowances, by_name=True)
        for block, session in zip(evidence.blocks, evidence.sessions, strict=True):
            yield {
                "log": book.log.id,
                "session": session,
                "machine": block.machine,
                "test": test,
                "day": block.day,
                "value": block.value,
                "weight": block.weight,
                "moment": block.moment,
                "ss": block.ss,
                "dof": block.dof,
                "allowance_sd": block.allowance_sd,
                "step": evidence.step,
                "levels": dict(_across_logs(block.levels, book.log.id)),
            }


def _across_logs(levels: Levels, log: str) -> Iterator[tuple[str, str]]:
    for factor, level in levels:
        yield factor, f"{log} {level}" if factor == _RIDER and level else level


def evidence_from(rows: Iterable[Mapping[str, Any]], test: str) -> Evidence:
    """Return what rows of ``BLOCKS`` say on a test, of any number of logs.

    Parts of one name are one, however it is spelt in capitals.

    Args:
        rows: with ``levels`` as a tuple of factor and level, shared by rows of the same build.
        test: name of the test.
    """
    blocks, sessions, steps = [], [], []
    builds: dict[Levels, Levels] = {}
    words: dict[Column, str] = {}
    for row in rows:
        levels = row["levels"]
        if levels not in builds:
            builds[levels] = tuple((factor, level.casefold()) for factor, level in levels)
            for column, (factor, level) in zip(builds[levels], levels, strict=True):
                words.setdefault(column, _words(factor, level))
        blocks.append(
            Block(
                machine=f"{row['log']} {row['machine']}",
                day=row["day"],
                value=row["value"],
                weight=row["weight"],
                levels=builds[levels],
                moment=row["moment"],
                ss=row["ss"],
                dof=row["dof"],
                allowance_sd=row["allowance_sd"],
            )
        )
        sessions.append(f"{row['log']} {row['session']}")
        steps.append(row["step"])
    return Evidence(test, tuple(blocks), tuple(sessions), words, step=min(steps, default=0.0))


def _words(factor: str, level: str) -> str:
    """What a level is called: what stands in the file, without how it was known."""
    if factor == "ran":
        return f"{level} only" if level else "both ways"
    if factor in CIRCUMSTANCES:
        return level or "not told"
    kind, _, rest = level.partition(" ")
    if kind == "value":
        with contextlib.suppress(ValueError):  # a value of words
            return reading_words(slot_of(factor), Reading(state="set", value=float(rest)))
    return rest if kind in ("value", "bounded") and rest else level
