"""Which recording is to be read: one the session has already, or a file, with its columns."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Final

import msgspec
from textual.app import App

from core.errors import InputError
from core.session import Book
from core.session.tracing import remembered_columns
from core.trace import Columns, TraceDocument
from core.trace.formats import Layout, Proposal, read_columns
from core.trace.keeping import kept_path
from core.trace.reading import kind_of, layout_of, look_at_csv
from core.trace.traces import Trace
from tui.dialogs import Option, ask_choice, ask_text
from tui.screens.session.desk import Desk
from tui.screens.trace.path_drawer import ask_path
from tui.text import cut

__all__ = ["Opening", "ask_recording", "ask_unit", "confirmed"]

_LISTED: Final = 9
_EXAMPLE: Final = "time=Time,speed=Speed:km/h"
_FORMS: Final = {
    "seconds": "seconds",
    "milliseconds": "milliseconds",
    "epoch": "seconds since 1970",
    "epoch-ms": "milliseconds since 1970",
    "clock": "a clock",
    "moment": "date and clock",
}


@dataclass(frozen=True)
class Opening:
    """What is to be read."""

    path: Path
    name: str  # of the file, for a person
    columns: Columns | None = None  # of a CSV
    document: TraceDocument | None = None  # None: it is not kept yet
    confirmed_now: bool = False  # the columns were said just now, and are not kept yet


async def ask_recording(app: App[Any], desk: Desk) -> Opening | None:
    """Ask which recording to read; None when esc was pressed.

    Raises:
        BackToBackError: it is no recording.
    """
    kept = _kept(desk)
    if kept:
        options = [Option(str(i), _words(one)) for i, one in enumerate(kept, 1)]
        options.append(Option("n", "another file"))
        picked = await ask_choice(app, "Which recording?", options)
        if picked is None:
            return None
        if picked.key != "n":
            document = kept[int(picked.key) - 1]
            path = kept_path(desk.book.log.folder, document)
            return Opening(path, document.name, document.columns, document)
    path_typed = await ask_path(app)
    return None if path_typed is None else await _with_columns(app, desk.book, path_typed)


def _kept(desk: Desk) -> list[TraceDocument]:
    """The newest recordings of the session, newest first."""
    heads = [h for h in desk.book.traces() if h.session == desk.session.id]
    return [desk.book.log.get(TraceDocument, h.id) for h in reversed(heads[-_LISTED:])]


def _words(document: TraceDocument) -> str:
    judged = len(document.runs)
    told = f"{judged} run{'' if judged == 1 else 's'} looked at" if judged else "not looked at yet"
    return f"{cut(document.name, 40)}: {document.seconds / 60:.1f} min, {told}"


async def _with_columns(app: App[Any], book: Book, path: Path) -> Opening | None:
    """A CSV's columns are confirmed once, and remembered by its header."""
    if kind_of(path) != "csv":
        return Opening(path, path.name)
    layout = layout_of(path)
    known = remembered_columns(book, layout.key)
    if known is not None:
        return Opening(path, path.name, known)
    columns = await _confirmed(app, path, layout)
    if columns is None:
        return None
    return Opening(path, path.name, columns, confirmed_now=True)


async def _confirmed(app: App[Any], path: Path, layout: Layout) -> Columns | None:
    """Ask what the columns are; what they seem to be is offered."""
    try:
        columns = await _without_doubts(app, look_at_csv(path))
    except InputError as error:
        return await _typed(app, layout, error.message)
    if columns is None:
        return None
    options = (
        Option("y", "yes, so it is; asked only once for files of this header"),
        Option("n", "no: name the columns"),
    )
    picked = await ask_choice(app, f"Columns of {path.name}", options, sentence=_said(columns))
    if picked is None:
        return None
    return await _typed(app, layout, "") if picked.key == "n" else columns


async def _without_doubts(app: App[Any], proposal: Proposal) -> Columns | None:
    columns = proposal.columns
    for doubt in proposal.doubts:
        options = [Option(str(i), choice) for i, choice in enumerate(doubt.choices, 1)]
        picked = await ask_choice(app, doubt.sentence, options)
        if picked is None:
            return None
        columns = msgspec.structs.replace(columns, **{doubt.field: picked.words})
    return columns


async def ask_unit(
    app: App[Any], opening: Opening, sentence: str, units: Sequence[str]
) -> Opening | None:
    """Ask for the unit of speeds that make no sense in the one that was said; None after esc."""
    options = [Option(str(i), unit) for i, unit in enumerate(units, 1)]
    picked = await ask_choice(app, sentence, options)
    if picked is None or opening.columns is None:
        return None
    columns = msgspec.structs.replace(opening.columns, speed_unit=picked.words, confirmed=True)
    return replace(opening, columns=columns, confirmed_now=True)


def confirmed(trace: Trace) -> Trace:
    """Return a recording that was read by what a person said of its columns, which is kept so."""
    if trace.columns is None:
        return trace
    return replace(trace, columns=msgspec.structs.replace(trace.columns, confirmed=True))


def _said(columns: Columns) -> str:
    """What the columns are, a line each."""
    speed = f"speed: {columns.speed} in {columns.speed_unit}" if columns.speed else ""
    lines = [
        f"time: {columns.time}, {_FORMS[columns.time_form]}",
        f"date: {columns.date}, {columns.date_form}" if columns.date else "",
        speed or "speed: worked out from the positions",
        f"course: {columns.heading}" if columns.heading else "",
        f"position: {columns.lat}, {columns.lon}" if columns.lat else "",
    ]
    return "\n".join(filter(None, lines))


async def _typed(app: App[Any], layout: Layout, complaint: str) -> Columns | None:
    """Ask for the columns as typed text."""
    there = ", ".join(f"{i} {cut(name, 24)}" for i, name in enumerate(layout.header[:12], 1))
    said = await ask_text(
        app,
        "Which column is what?",
        sentence=f"{complaint} There are: {there}. Also date, heading, lat and lon.".strip(),
        hint=_EXAMPLE,
        check=lambda text: read_columns(text, layout),
    )
    return None if said is None else read_columns(said, layout)
