"""Reading a recording: which format it is, and from its bytes to a `Trace`."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Final

from core.clock import local_now
from core.errors import AmbiguousInputError, InputError
from core.trace.cleaning import Source, clean
from core.trace.columns import Columns
from core.trace.documents import TraceKind
from core.trace.formats.blocks import FileBlocks, Progress
from core.trace.formats.csv_columns import Proposal, as_named, propose_columns
from core.trace.formats.csv_layout import Layout, find_layout, text_and_encoding
from core.trace.formats.csv_rows import read_csv_rows
from core.trace.formats.csv_units import check_unit
from core.trace.formats.findings import Finding
from core.trace.formats.gpx_rows import read_gpx_rows
from core.trace.formats.nmea_rows import read_nmea_rows
from core.trace.formats.rejects import Rejects
from core.trace.formats.rows import RawRows
from core.trace.traces import Trace

__all__ = ["kind_of", "layout_of", "look_at_csv", "read_trace"]

_HINT: Final = "Say it once: --columns time=NAME,speed=NAME:km/h; it is remembered by the header."
_PACKED: Final = (b"PK\x03\x04", b"\x1f\x8b", b"BZh", b"7z\xbc\xaf", b"\xfd7zXZ")
_SENTENCE: Final = (b"$", b"!")


def kind_of(path: Path) -> TraceKind:
    """Return which format a file has, by what it holds and not by its name.

    Raises:
        InputError: no recording, or the file may not be read.
    """
    return _kind(FileBlocks(path))


def _kind(file: FileBlocks) -> TraceKind:
    head = file.head()
    if head.startswith(_PACKED):
        raise InputError(f"{file.name} is packed.", "Unpack it first.")
    start = head.removeprefix(b"\xef\xbb\xbf").lstrip()
    if not start:
        raise InputError(f"{file.name} holds nothing but blanks.")
    if start.startswith(b"<"):
        return "gpx"
    lines = [line for line in start.replace(b"\r", b"\n").split(b"\n")[:40] if line.strip()]
    if any(line.lstrip().startswith(_SENTENCE) and b"," in line for line in lines):
        return "nmea"
    if any(b"$G" in line and b"*" in line for line in lines):
        return "nmea"
    text_and_encoding(head, file.name)
    return "csv"


def look_at_csv(path: Path) -> Proposal:
    """Return how a CSV is laid out and what its columns seem to be.

    Raises:
        InputError: no table, or no column for the time or the speed.
    """
    return propose_columns(_layout(FileBlocks(path)))


def layout_of(path: Path) -> Layout:
    """Return how a CSV is laid out.

    Raises:
        InputError: no table.
    """
    return _layout(FileBlocks(path))


def _layout(file: FileBlocks) -> Layout:
    head = file.head()
    text, encoding = text_and_encoding(head, file.name)
    whole = text if len(head) == file.size else text[: max(text.rfind("\n"), text.rfind("\r")) + 1]
    return find_layout(whole or text, file.name, encoding)


def read_trace(
    path: Path,
    *,
    columns: Columns | None = None,
    now: datetime | None = None,
    progress: Progress | None = None,
) -> Trace:
    """Read a recording: NMEA 0183 sentences, a GPX track or a CSV.

    Args:
        path: the file; at most 500 MB and 2,000,000 rows.
        columns: what the columns of a CSV are; None: what they seem to be, if there is no doubt.
        now: the time now, to judge the clock of the file by; None: ask the system.
        progress: told how many bytes of how many are read.

    Returns:
        The rows in parts within which the times increase, with what was left out and why.

    Raises:
        AmbiguousInputError: a person has to say what a column is; ``choices`` has the readings.
        InputError: no recording, or nothing in it can be used; one sentence says why.
    """
    file = FileBlocks(path, progress)
    kind = _kind(file)
    rejects = Rejects()
    findings: tuple[Finding, ...] = ()
    header = ""
    if kind == "nmea":
        raw = read_nmea_rows(file, rejects)
    elif kind == "gpx":
        raw, findings = read_gpx_rows(file, rejects)
    else:
        raw, findings, columns, header = _read_csv(file, columns, rejects)
    source = Source(kind, path.name, file.sha256, file.size, rejects, findings)
    trace = clean(raw, source, now or local_now())
    return trace if kind != "csv" else replace(trace, columns=columns, header=header)


def _read_csv(
    file: FileBlocks, columns: Columns | None, rejects: Rejects
) -> tuple[RawRows, tuple[Finding, ...], Columns, str]:
    layout = _layout(file)
    if columns is None:
        columns = _without_doubt(propose_columns(layout), file.name)
    columns = as_named(columns, layout)
    missing = [
        name
        for name in (columns.time, columns.speed, columns.lat, columns.lon, columns.date)
        if name and name not in layout.header
    ]
    if missing:
        raise InputError(f"{file.name} has no column “{missing[0]}”.", _HINT)
    raw = read_csv_rows(file, layout, columns, rejects)
    findings = check_unit(raw, columns, file.name)
    if file.ends_open:
        sentence = "The last line has no line end: its numbers may be cut off."
        findings = (*findings, Finding("no end", sentence))
    return raw, findings, columns, layout.key


def _without_doubt(proposal: Proposal, name: str) -> Columns:
    if proposal.doubts:
        doubt = proposal.doubts[0]
        raise AmbiguousInputError(f"{name}: {doubt.sentence}", doubt.choices, _HINT)
    return proposal.columns
