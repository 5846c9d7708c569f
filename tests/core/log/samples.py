"""Kinds of documents for the tests of the log, and a way to run a script in another process."""

from __future__ import annotations

import os
import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import msgspec

from core.clock import ManualClock
from core.log import Document, Kind, Log

__all__ = [
    "BENCH",
    "KINDS",
    "MANY",
    "MANY_LABELS",
    "ROOT",
    "VISITS",
    "Bench",
    "BenchHead",
    "Reading",
    "Try",
    "Visit",
    "VisitHead",
    "clock",
    "labels",
    "open_log",
    "python",
    "start_python",
    "visit_file",
    "write_file",
    "write_visit",
]

ROOT = Path(__file__).parents[3]


class Try(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """One timed try."""

    value: float
    text: str = ""
    tags: tuple[str, ...] = ()


class Visit(Document, frozen=True, kw_only=True):
    """A document of which nothing can be changed in place."""

    label: str = ""
    started: datetime | None = None
    tries: tuple[Try, ...] = ()
    note: str = ""


class VisitHead(msgspec.Struct, frozen=True, kw_only=True):
    """What a list needs of a visit."""

    id: str
    label: str = ""
    started: datetime | None = None


class Reading(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """One value."""

    value: float | None
    state: str = "measured"


class Bench(Document, frozen=True, kw_only=True):
    """A document with mappings and lists in it."""

    slots: dict[str, Reading] = msgspec.field(default_factory=dict)
    rows: list[int] = msgspec.field(default_factory=list)


class BenchHead(msgspec.Struct, frozen=True, kw_only=True):
    """What a list needs of bench readings."""

    id: str


VISITS = Kind(name="visit", folder="visits", type=Visit, head=VisitHead)
BENCH = Kind(name="bench", folder="bench", type=Bench, head=BenchHead)
KINDS: tuple[Kind[Any], ...] = (VISITS, BENCH)


MANY = 100  # more than it takes to write a cache of heads
MANY_LABELS = [f"S{number}" for number in range(MANY)]


def clock() -> ManualClock:
    """Return a clock that stands at a morning in April."""
    return ManualClock(datetime(2026, 4, 12, 8, 30, tzinfo=UTC))


def open_log(folder: Path, **options: Any) -> Log:
    """Open a log of the sample kinds."""
    return Log.open(folder, KINDS, clock=clock(), **options)


def write_file(path: Path, data: bytes | str) -> Path:
    """Write a file with whatever another program might leave there."""
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(data.encode() if isinstance(data, str) else data)
    return path


def visit_file(folder: Path, number: int) -> Path:
    """Return where one of many visits is."""
    return folder / "visits" / f"v{number:03d}.json"


def write_visit(folder: Path, number: int, label: str) -> Path:
    """Write the file of one of many visits as one of years ago; return it."""
    text = f'{{\n  "format": 1,\n  "id": "v{number:03d}",\n  "label": "{label}"\n}}\n'
    path = write_file(visit_file(folder, number), text)
    os.utime(path, ns=(10**18, 10**18 + number))
    return path


def labels(log: Log) -> list[str]:
    """Return the labels of all visits, as their heads have them."""
    return [head.label for head in log.heads(Visit)]


def start_python(script: str, *arguments: object, prefix: tuple[str, ...] = ()) -> Any:
    """Start a script in another process; its output can be read line by line."""
    return subprocess.Popen(
        [*prefix, sys.executable, "-c", script, *map(str, arguments)],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


def python(script: str, *arguments: object, prefix: tuple[str, ...] = ()) -> str:
    """Run a script in another process to its end; return what it printed."""
    process = start_python(script, *arguments, prefix=prefix)
    said, complaint = process.communicate(timeout=60)
    assert process.returncode == 0, complaint
    return str(said)
