"""Parquet written and read by DuckDB, an extra: ``pip install "backtoback[fleet]"``."""

from __future__ import annotations

import json
import tempfile
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from types import ModuleType
from typing import Any

from core.errors import BackToBackError, InputError
from core.stats import Levels
from core.verdict.fleet.schema import BLOCKS, Field

__all__ = ["read_blocks", "write_table"]

_AT_ONCE = 20_000  # rows fetched in one go
_OFFLINE = {"autoinstall_known_extensions": "false", "autoload_known_extensions": "false"}


def _duckdb() -> ModuleType:
    try:
        import duckdb  # lazy: 0.1 s, and an extra
    except ImportError as error:
        raise BackToBackError(
            "Parquet files need DuckDB, which is not installed.",
            'pip install "backtoback[fleet]" brings it.',
        ) from error
    return duckdb


def _quoted(text: str) -> str:
    return "'" + text.replace("'", "''") + "'"


def write_table(rows: Iterable[Mapping[str, Any]], fields: Sequence[Field], path: Path) -> int:
    """Write rows as a Parquet file of these columns; return how many.

    Raises:
        BackToBackError: DuckDB is not installed, or the file cannot be written.
    """
    duckdb = _duckdb()
    count = 0
    columns = ", ".join(f"{_quoted(field.name)}: {_quoted(field.type)}" for field in fields)
    try:
        with tempfile.TemporaryDirectory(dir=path.parent, prefix=".backtoback-") as folder:
            lines, made = Path(folder) / "rows.jsonl", Path(folder) / "made.parquet"
            with lines.open("w", encoding="utf-8") as file:
                for row in rows:
                    file.write(json.dumps(row, allow_nan=False) + "\n")
                    count += 1
            source = (
                f"read_json({_quoted(str(lines))}, format='newline_delimited', "
                f"columns={{{columns}}})"
                if count
                else f"(SELECT {_nothing(fields)} LIMIT 0)"
            )
            with duckdb.connect(config=_OFFLINE) as engine:
                engine.execute(
                    f"COPY (SELECT * FROM {source}) TO {_quoted(str(made))} "  # noqa: S608 - quoted
                    "(FORMAT parquet, COMPRESSION zstd)"
                )
            made.replace(path)
    except OSError as error:
        raise BackToBackError(f"{path} was not written ({error.strerror or error}).") from error
    except duckdb.Error as error:
        raise BackToBackError(f"{path} was not written ({_first_line(error)}).") from error
    return count


def _nothing(fields: Sequence[Field]) -> str:
    return ", ".join(f"NULL::{field.type} AS {field.name}" for field in fields)


def _first_line(error: Exception) -> str:
    return str(error).strip().split("\n", 1)[0]


def read_blocks(paths: Sequence[Path], test: str) -> Iterator[dict[str, Any]]:
    """Yield the rows of one test out of block tables, log by log; equal builds share one tuple.

    A session that is in several files, because its log was exported again, is read from the last
    of them by name.

    Args:
        paths: files as :func:`write_table` writes them of ``BLOCKS``; one or more.
        test: name of the test.

    Raises:
        BackToBackError: DuckDB is not installed.
        InputError: a file is none, or is no such table.
    """
    duckdb = _duckdb()
    names = [field.name for field in BLOCKS]
    files = "[" + ", ".join(_quoted(str(path)) for path in paths) + "]"
    source = (
        f"FROM (FROM read_parquet({files}, filename = true) WHERE test = ? "
        "QUALIFY filename = max(filename) OVER (PARTITION BY log, session))"
    )
    plain = ", ".join(name for name in names if name != "levels")
    builds: dict[str, Levels] = {}
    try:
        with duckdb.connect(config=_OFFLINE) as engine:
            every = f"SELECT levels::VARCHAR, any_value(levels) {source} GROUP BY 1"
            for key, levels in engine.execute(every, [test]).fetchall():
                builds[key] = tuple((levels or {}).items())
            found = engine.execute(
                f"SELECT {plain}, levels::VARCHAR AS levels {source} "
                "ORDER BY log, machine, day, session, moment",
                [test],
            )
            while batch := found.fetchmany(_AT_ONCE):
                for row in batch:
                    made = dict(zip(names, row, strict=True))
                    made["levels"] = builds[made["levels"]]
                    yield made
    except duckdb.Error as error:
        raise InputError(
            f"These are no block tables of backtoback ({_first_line(error)}).",
            "backtoback export --parquet FOLDER writes blocks.parquet.",
        ) from error
