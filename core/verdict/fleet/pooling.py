"""Effects over many logs: each log's sums formed by itself, then added."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from core.attempts import find_test
from core.errors import InputError
from core.verdict.effects import PartEffects, analyse, results_of
from core.verdict.fleet.engine import read_blocks
from core.verdict.fleet.rows import evidence_from

__all__ = ["BLOCK_FILE", "block_files", "pooled_effects"]

BLOCK_FILE = "blocks.parquet"
"""Name of the block table in an export."""


def block_files(words: Sequence[Path]) -> tuple[Path, ...]:
    """Return the block tables that are meant: files, or folders that hold one, at any depth.

    Raises:
        InputError: one of them is neither, or holds none.
    """
    found: list[Path] = []
    for path in words:
        mine = sorted(path.rglob(BLOCK_FILE)) if path.is_dir() else [path] * path.is_file()
        if not mine:
            raise InputError(
                f"{path} is no {BLOCK_FILE} and holds none.",
                "backtoback export --parquet FOLDER writes one.",
            )
        found += mine
    return tuple(dict.fromkeys(found))


def pooled_effects(paths: Sequence[Path], test: str, gain: float | None = None) -> PartEffects:
    """Return what each part did over all machines of many logs.

    Args:
        paths: block tables, see :func:`block_files`. A session that is in two of them (a log
            exported twice) counts once.
        test: name of the test.
        gain: smallest gain worth having, in the test's unit; None: not said.

    Raises:
        BackToBackError: DuckDB is not installed.
        InputError: a file is no block table, or the test gives no number.
        NotFoundError: no such test.
    """
    found = find_test(test)
    if not found.usual:
        raise InputError(f"A {found.title} has no number to compare.")
    evidence = evidence_from(read_blocks(paths, found.name), found.name)
    logs = [block.machine.partition(" ")[0] for block in evidence.blocks]
    analysis = analyse(evidence, gain, logs) if evidence.blocks else None
    count = len(set(logs))
    name = f"{count} log{'' if count == 1 else 's'}"
    return results_of("", name, found.name, gain, evidence, analysis)
