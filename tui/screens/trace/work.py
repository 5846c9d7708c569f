"""What is done away from the keys: reading the file, looking for runs, working out drag."""

from __future__ import annotations

import threading
import time
from dataclasses import dataclass

from textual.message import Message
from textual.message_pump import MessagePump

from core.attempts import Test
from core.errors import AmbiguousInputError, BackToBackError
from core.session.looking import Looked, look_for
from core.trace import StartRule, TraceDocument
from core.trace.formats import SPEED_UNITS
from core.trace.reading import read_trace
from core.trace.traces import Trace
from tui.screens.session.desk import Desk
from tui.screens.trace.opening import Opening

__all__ = [
    "Looking",
    "Progressed",
    "ReadDone",
    "Refused",
    "RunsFound",
    "UnitDoubted",
    "look",
    "read",
]

_EVERY = 0.1  # s from one word of progress to the next


@dataclass
class Progressed(Message):
    """So much of the file is read."""

    done: int  # bytes
    total: int


@dataclass
class ReadDone(Message):
    """The file was read."""

    trace: Trace


@dataclass
class RunsFound(Message):
    """Runs were looked for."""

    looked: Looked


@dataclass
class UnitDoubted(Message):
    """The speeds make no sense in the unit that was said."""

    sentence: str
    units: tuple[str, ...]  # that it may be


@dataclass
class Refused(Message):
    """The core refused the file or the test."""

    error: BackToBackError


@dataclass(frozen=True)
class Looking:
    """What is looked for in a recording."""

    test: Test
    start: StartRule
    shift: float | None  # s; None: as kept, or as proposed


class _StoppedError(Exception):
    """Reading was stopped from outside."""


def read(to: MessagePump, opening: Opening, stop: threading.Event) -> None:
    """Read the file and post what came of it; nothing is posted once it is stopped.

    Args:
        to: gets the messages.
        opening: what is to be read.
        stop: set from outside to end it.
    """
    last = 0.0

    def progress(done: int, total: int) -> None:
        nonlocal last
        if stop.is_set():
            raise _StoppedError
        now = time.monotonic()
        if now - last >= _EVERY:
            last = now
            to.post_message(Progressed(done, total))

    try:
        trace = read_trace(opening.path, columns=opening.columns, progress=progress)
    except _StoppedError:
        return
    except AmbiguousInputError as error:
        doubted = opening.columns is not None and set(error.choices) <= set(SPEED_UNITS)
        to.post_message(UnitDoubted(error.message, error.choices) if doubted else Refused(error))
        return
    except BackToBackError as error:
        to.post_message(Refused(error))
        return
    if not stop.is_set():
        to.post_message(ReadDone(trace))


def look(
    to: MessagePump, desk: Desk, trace: Trace, looking: Looking, document: TraceDocument | None
) -> None:
    """Look for the runs of a test and post what was found."""
    try:
        looked = look_for(
            trace,
            looking.test,
            desk.session,
            start=looking.start,
            shift=looking.shift,
            document=document,
        )
    except BackToBackError as error:
        to.post_message(Refused(error))
        return
    to.post_message(RunsFound(looked))
