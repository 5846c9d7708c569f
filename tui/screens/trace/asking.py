"""What the screen of a recording asks: a shift of its clock, and mass and air for drag."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

from textual.app import App

from core.attempts import Test, find_test
from core.errors import BackToBackError, BlockedError, InputError
from core.report.reading_runs import drag_blocks
from core.session import last_undoable, undo
from core.session.clock_shift import read_shift
from core.session.dragging import density_of, drag_of_runs, mass_of, with_drag
from core.session.looking import Looked
from core.session.tracing import run_moment
from core.trace import KeptDrag, StartRule, TraceDocument, read_start
from core.trace.traces import Trace
from core.units import format_number, read_quantity
from tui.dialogs import Option, ask_choice, ask_text
from tui.screens.base import HouseScreen
from tui.screens.session.desk import Desk
from tui.screens.trace.view import in_drawer

__all__ = ["ask_drag", "ask_shift", "ask_start", "ask_test", "ask_undo"]


async def ask_shift(
    app: App[Any], desk: Desk, trace: Trace, looked: Looked, place: int | None
) -> tuple[float, str] | None:
    """Ask for a shift of the clock, s, and its reason; None when esc was pressed.

    Args:
        app: the app.
        desk: the session.
        trace: the recording.
        looked: what was found in it.
        place: of the run under the cursor; None: there is none.
    """
    run = looked.found.runs[place] if place is not None else None
    ended = run_moment(trace, run, desk.session) if run is not None else None
    day = desk.session.started
    now = f"It is shifted by {looked.shift:+,.0f} s now. " if looked.shift else ""
    about = f"{now}A length such as +7200 or -0:01:30"
    if ended is not None and place is not None:
        about += f"; or when run {place + 1} ended, such as {day:%H:%M:%S}"
    known = next((f for f in trace.findings if f.shift is not None), None)
    said = await ask_text(
        app,
        "Shift the clock of the recording",
        sentence=f"{about}. The file stays as it is.",
        value=f"{known.shift:+.0f}" if known is not None else "",
        check=lambda text: read_shift(text, ended, day),
    )
    if said is None:
        return None
    why = await ask_text(
        app,
        "Why?",
        value=known.sentence if known is not None else "",
        hint="the logger was left on winter time",
        check=_need_reason,
    )
    return None if why is None else (read_shift(said, ended, day), why)


def _need_reason(text: str) -> None:
    if not text.strip():
        raise InputError("A shift of the clock needs its reason.")


async def ask_undo(app: App[Any], desk: Desk) -> str:
    """Ask whether to take the newest action of the session back; return what was done.

    Raises:
        BlockedError: there is nothing to take back.
    """
    index = last_undoable(desk.session)
    if index is None:
        raise BlockedError("There is nothing to take back in this session.")
    words = desk.session.trail[index].words
    options = (Option("u", "take it back"), Option("n", "leave it"))
    if await ask_choice(app, f"Take back: {words}?", options) is not options[0]:
        return ""
    desk.act(undo)
    return f"Took back: {words}."


async def ask_start(app: App[Any]) -> StartRule | None:
    """Ask when the clock of a standing start runs; None when esc was pressed."""
    said = await ask_text(
        app,
        "When does the clock run?",
        sentence="Times by different rules are never compared.",
        hint="motion, rest, or a rollout such as 1ft or 0.3m",
        check=read_start,
    )
    return None if said is None else read_start(said)


async def ask_test(app: App[Any], now: str) -> Test | None:
    """Ask for another test to look for; None when esc was pressed."""
    said = await ask_text(
        app, "Which test?", value=now, hint="0-50, 40-65, 80m, top, coast-40-15 …", check=find_test
    )
    return None if said is None else find_test(said)


async def ask_drag(
    screen: HouseScreen[Any], desk: Desk, trace: Trace, looked: Looked
) -> Callable[[TraceDocument], TraceDocument] | None:
    """Ask for the mass, work drag out in a thread, show it and ask whether to keep it.

    Returns:
        What puts it into the recording's document; None: it is not to be kept.

    Raises:
        BackToBackError: no coast-downs, or they cannot be fitted.
    """
    runs = looked.found.runs
    if find_test(looked.found.wanted.test).shape != "coast" or not runs:
        raise BlockedError("There are no coast-downs.", "t looks for them: coast-40-15.")
    mass = await _mass(screen, desk)
    if mass is None:
        return None
    used = [run for run, s in zip(runs, looked.standings, strict=True) if s.state != "refused"]
    air = density_of(desk.session, run_moment(trace, runs[0], desk.session, looked.shift))
    work = partial(_worked_out, partial(drag_of_runs, trace, used, mass, desk.now(), air))
    screen.say("Working out drag …")
    worker = screen.run_worker(work, name="work out drag", group="drag", thread=True)
    found = await worker.wait()
    screen.say("")
    if isinstance(found, BackToBackError):
        raise found
    assert isinstance(found, KeptDrag)  # noqa: S101  the other thing it can be
    return await _whether(screen, desk, found)


def _worked_out(work: Callable[[], KeptDrag]) -> KeptDrag | BackToBackError:
    try:
        return work()
    except BackToBackError as error:
        return error


async def _mass(screen: HouseScreen[Any], desk: Desk) -> float | None:
    known = mass_of(desk.sheet)
    said = await ask_text(
        screen.app,
        "Mass of machine and rider, kg",
        sentence="What turns counts as more than its weight; wheels add some 2 to 6 kg.",
        value="" if known is None else format_number(known, 1),
        check=lambda text: read_quantity(text, "kg"),
    )
    return None if said is None else read_quantity(said, "kg").value


async def _whether(
    screen: HouseScreen[Any], desk: Desk, drag: KeptDrag
) -> Callable[[TraceDocument], TraceDocument] | None:
    """Show what it came to and ask whether to keep it."""
    told = in_drawer(drag_blocks(drag), screen.size.width)
    options = [Option("k", f"keep it for {desk.machine_name}"), Option("n", "do not keep it")]
    may = desk.may_write
    picked = await ask_choice(screen.app, "Drag", options if may else options[1:], sentence=told)
    if picked is None or picked.key != "k":
        return None
    return lambda document: with_drag(document, drag)
