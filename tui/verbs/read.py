"""``read``: recordings of instruments, the runs in them, and what a session says of the same."""

from __future__ import annotations

import contextlib
import sys
from argparse import Namespace
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path

from core.attempts import Test, find_test
from core.errors import AmbiguousInputError, InputError, LogError, UsageError
from core.report.reading import ReadFile, read_data, read_page
from core.session import Book, Session
from core.session.dragging import kept_drag, with_drag
from core.session.looking import look_for
from core.session.tracing import keep_trace, remembered_columns
from core.trace import Columns, FoundRun, StartRule, TraceDocument, read_start
from core.trace.drag import CoastDrag, coast_drag
from core.trace.formats import read_columns
from core.trace.reading import kind_of, layout_of, read_trace
from core.trace.runs import Bearings, bearings_of, find_rides, read_bearings
from core.trace.traces import Trace
from core.units import read_quantity
from tui.output import Result
from tui.progress import ProgressLine
from tui.verbs.finding import the_session
from tui.verbs.opening import chosen_folder, open_to_read, open_to_write

__all__ = ["run"]


@dataclass(frozen=True)
class _Asked:
    """What is wanted of every file."""

    test: Test | None
    start: StartRule
    bearings: Bearings
    columns: str  # as typed
    session: Session | None
    shift: float | None  # s; None: proposed where a session tells
    mass: float | None  # kg
    air_density: float | None  # kg/m³
    keep: bool


def run(arguments: Namespace) -> Result:
    """Read the files, one after the other; one that is refused does not hold up the others.

    The exit code is 1 when a file was refused, or when something is wrong in one.

    Raises:
        NotFoundError: no such session, place or test.
        UsageError: options that do not go together, or a value that is none.
        LogError: the log cannot be opened, or takes nothing more.
    """
    with _opened(arguments) as book:
        asked = _asked(arguments, book)
        made: list[ReadFile] = []
        refused: list[tuple[str, InputError]] = []
        for file in arguments.files:
            try:
                made.append(_read(file, asked, book))
            except InputError as error:
                refused.append((file, error))
    remarks = tuple(_sentence(error) for _, error in refused)
    data = [*read_data(made), *(_refusal(file, error) for file, error in refused)]
    clean = not refused and all(read.is_clean for read in made)
    return Result(read_page(made), data, remarks=remarks, code=0 if clean else 1)


def _sentence(error: InputError) -> str:
    choices = error.choices if isinstance(error, AmbiguousInputError) else ()
    told = f" One of: {', '.join(choices)}." if choices else ""
    return f"{error.message}{told} ({error.hint})" if error.hint else f"{error.message}{told}"


def _refusal(file: str, error: InputError) -> dict[str, object]:
    choices = list(error.choices) if isinstance(error, AmbiguousInputError) else []
    return {"file": file, "error": error.message, "hint": error.hint, "choices": choices}


@contextmanager
def _opened(arguments: Namespace) -> Iterator[Book | None]:
    """Open the log where it is needed, or where it may know the columns of a CSV."""
    if arguments.keep:
        with open_to_write(arguments) as book:
            yield book
    elif arguments.session or arguments.place:
        with open_to_read(arguments) as book:
            yield book
    elif not arguments.columns and chosen_folder(arguments).is_dir():
        with contextlib.ExitStack() as stack:
            known: Book | None = None
            with contextlib.suppress(LogError):  # it was not asked for
                known = stack.enter_context(open_to_read(arguments))
            yield known
    else:
        yield None


def _asked(arguments: Namespace, book: Book | None) -> _Asked:
    session = the_session(book, arguments.session) if arguments.session and book else None
    name = arguments.test or (session.test if session is not None else "")
    directions: tuple[str, ...] = session.directions if session is not None else ()
    if arguments.place and book is not None:
        directions = book.place(arguments.place).directions
    bearings = bearings_of(directions)
    try:
        if arguments.directions:
            bearings = read_bearings(arguments.directions)[1]
        start = read_start(arguments.start)
        shift = read_quantity(arguments.shift, "s").value if arguments.shift else None
        mass = read_quantity(arguments.mass, "kg").value if arguments.mass else None
        density = (
            read_quantity(arguments.air_density, "kg/m³").value if arguments.air_density else None
        )
    except InputError as error:
        raise UsageError(error.message, error.hint) from None
    return _Asked(
        find_test(name) if name else None,
        start,
        bearings,
        arguments.columns,
        session,
        shift,
        mass,
        density,
        arguments.keep,
    )


def _read(file: str, asked: _Asked, book: Book | None) -> ReadFile:
    """Read one file and find in it what is wanted.

    Raises:
        InputError: it is refused.
    """
    path = Path(file)
    progress = ProgressLine(sys.stderr, path.name)
    try:
        trace = read_trace(path, columns=_columns(path, asked, book), progress=progress)
    finally:
        progress.clear()
    kept = keep_trace(book, path, trace, asked.session) if asked.keep and book else None
    if asked.test is None:
        return ReadFile(file, trace, rides=find_rides(trace), kept=kept, shift=asked.shift or 0.0)
    read = _with_runs(file, trace, asked.test, asked, kept)
    if book is None or kept is None or read.drag is None or asked.mass is None:
        return read
    made = kept_drag(read.drag, asked.mass, book.clock(), asked.test.name, asked.air_density)
    book.save(with_drag(kept, made))
    return replace(read, kept=with_drag(kept, made))


def _with_runs(
    file: str, trace: Trace, test: Test, asked: _Asked, kept: TraceDocument | None
) -> ReadFile:
    """Find the runs, hold them against the session, and make drag of coast-downs."""
    looked = look_for(
        trace,
        test,
        asked.session,
        start=asked.start,
        bearings=asked.bearings,
        shift=asked.shift,
        document=kept,
    )
    return ReadFile(
        file,
        trace,
        found=looked.found,
        session=asked.session,
        matching=looked.matching,
        drag=_drag(trace, looked.found.runs, asked) if test.shape == "coast" else None,
        kept=kept,
        shift=looked.shift if asked.session is not None else asked.shift or 0.0,
    )


def _drag(trace: Trace, runs: Sequence[FoundRun], asked: _Asked) -> CoastDrag | None:
    if asked.mass is None or not runs:
        return None
    return coast_drag(trace, runs, asked.mass, air_density=asked.air_density)


def _columns(path: Path, asked: _Asked, book: Book | None) -> Columns | None:
    """Columns of a CSV: as typed, or as confirmed once for a file of the same header."""
    if kind_of(path) != "csv":
        return None
    layout = layout_of(path)
    if asked.columns:
        return read_columns(asked.columns, layout)
    return remembered_columns(book, layout.key) if book is not None else None
