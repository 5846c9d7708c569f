"""Makes the README's pictures from the real app: ``python -m tui.pictures demo/pictures``."""

from __future__ import annotations

import asyncio
import re
import sys
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Final

from textual.pilot import Pilot

import demo
from core.checks import current_checks, is_settled, rule_for
from core.clock import ManualClock
from core.session import Book, Plan, Session, answer_check, enter, fill, merged, put_on
from tui.app import BackToBackApp
from tui.output import Result, show
from tui.preferences import PreferencesFile

__all__ = ["SHOTS", "Shot", "main"]

SIZE: Final = (100, 30)
NOW: Final = datetime.fromisoformat("2026-09-12T10:00:00+02:00")
_FONTS: Final = re.compile(r"@font-face \{.*?\}\s*", re.DOTALL)  # they would be fetched from afar
_PAUSE: Final = 0.4  # s for workers to finish after a key
_TYPED: Final = (7.42, 7.11, 7.38, 7.08, 7.45, 7.19)


@dataclass(frozen=True)
class Shot:
    """One picture: the keys that lead to it from the log list."""

    name: str
    keys: Sequence[str]
    theme: str = "sun"


_ON_PAPER: Final = (
    *("i", "f", *"rocker", "space", *"ratio", "enter", *"1.35", "enter"),
    *("f", *"gasket", "space", *"thick", "enter", *"0.8", "enter", "down", "down", "down"),
)

SHOTS: Final = (
    Shot("list", ()),
    Shot("attempts", ("enter",)),
    Shot("setup", ("enter", "tab", "tab"), "dusk"),
    Shot("checks", ("enter", "tab", "tab", "tab")),
    Shot("compare", (*("down",) * 9, "space", "down", "down", "c")),
    Shot("review", (*("down",) * 3, "enter"), "dusk"),
    Shot("bench", ("b",), "dusk"),
    Shot("what-if", _ON_PAPER),
)


def _sprocket_day(folder: Path) -> None:
    """Add an open session after the season: 66T again, one check left, six attempts."""
    clock = ManualClock(NOW)
    with Book.open(folder, clock=clock) as book:
        moth, place = book.machine("Kettle Moth"), book.place("Vennimoor strip")
        session = book.start(
            Plan(
                machine=moth.id,
                test="0-50",
                timing="logger-10hz",
                place=place.id,
                question="Does the 66T still give what it gave in July?",
                gain=0.15,
            )
        )
        now = session.sheets[-1].readings
        typed = (("final_sprocket", "66T"), ("chain", "chain for 66T"))
        many = tuple(fill(book, moth.id, now, slot, text) for slot, text in typed)
        session = _answered(put_on(book, session, merged(many)), clock)
        for value in _TYPED:
            session = _answered(session, clock)
            at = clock.advance(minutes=4)
            session = enter(session, at, value=value, text=f"{value:.2f}")
        book.save(_answered(session, clock))


def _answered(session: Session, clock: ManualClock) -> Session:
    """Clear what is due with plain results."""
    sample = {
        "teeth_final": "66",
        "rpm_at_top": "4450",
        "chain_slack": "10",
        "chain_reslack": "10",
        "run_out": "200",
        "lash_recheck": "0.10 0.15",
    }
    for record in current_checks(session.checks, len(session.sheets) - 1):
        if is_settled(record) or record.due_after > len(session.attempts):
            continue
        usual = "done" if rule_for(record).answer == "done" else "as last time"
        text = sample.get(record.rule, usual)
        session = answer_check(session, record.rule, text, clock()).session
    return session


async def _take(shot: Shot, log: Path, folder: Path) -> Path:
    preferences = PreferencesFile()
    preferences.change(cautions_seen=True, theme=shot.theme)
    clock = ManualClock(NOW)
    clock.advance(minutes=26)
    app = BackToBackApp(lambda: Book.open(log, clock=clock), preferences, clock, demo=True)
    async with app.run_test(size=SIZE) as pilot:
        await _settled(pilot)
        for key in shot.keys:
            await pilot.press(key)
            await _settled(pilot)
        path = folder / f"{shot.name}.svg"
        path.write_text(_FONTS.sub("", app.export_screenshot()), encoding="utf-8")
        return path


async def _settled(pilot: Pilot[None]) -> None:
    working = [worker for worker in pilot.app.workers if worker.group != "asking"]
    for worker in working:  # one that asks waits for the next key
        await worker.wait()
    await pilot.pause(_PAUSE)


def main(arguments: Sequence[str]) -> int:
    """Write every picture into a folder; return the exit code.

    Args:
        arguments: the folder.
    """
    if len(arguments) != 1:
        return show(Result(remarks=("Used as: python -m tui.pictures FOLDER",), code=2))
    folder = Path(arguments[0])
    folder.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as made:
        log = Path(made) / "log"
        demo.build(log)
        _sprocket_day(log)
        made_of = [asyncio.run(_take(shot, log, folder)) for shot in SHOTS]
    return show(Result(remarks=tuple(str(picture) for picture in made_of)))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
