"""A small invented season for tests of the app: real documents in a real folder."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import timedelta
from pathlib import Path

import msgspec

from core.attempts import Strike
from core.session import SESSION_KIND, Book, Session
from tests.making import START, bare_session, new_book
from tests.speed.many_documents import numbered_id, write_many

__all__ = ["HOSTILE", "empty_log", "left_open_session", "many_sessions", "small_season"]

HOSTILE = (
    "left [/] low",
    "[bold red]x[/bold red] [link=a]b[/link]",
    "ends in [/",
    "\x1b[31mred\x1b[0m \x07\x00\x9b2J\r\n\tend",
    "表示 ｗｉｄｅ 👩‍👩‍👧‍👦 ﷽",
    "e" + "\u0301" * 40,
    "\u202eturned round\u202c \ud800 \ufeff",
    "=1+1 @cmd -2 +3",
    "$primary {braces} \\[escaped] \\",
    "x" * 5_000,
)
"""Texts that a note or a name may hold."""


def empty_log(folder: Path) -> Path:
    """Make a log without sessions; return its folder."""
    book, _ = new_book(folder)
    book.close()
    return book.log.folder


def _two_machines(book: Book) -> tuple[dict[str, object], dict[str, object]]:
    """Make two machines and two places; return what their sessions have in common."""
    moth, badger = (book.add_machine("Kettle Moth", "minibike"), book.add_machine("Low Badger"))
    strip = book.add_place("Vennimoor strip", ("W", "E"))
    lane = book.add_place("Quillowmere lane", ("out", "back"))
    moths = {"machine": moth.id, "place": strip.id, "gain": 0.15}
    badgers = {"machine": badger.id, "place": lane.id, "test": "80m", "timing": "hand"}
    return moths, badgers | {"directions": ("out", "back")}


def small_season(folder: Path, *, more: Iterable[Session] = ()) -> Path:
    """Make a log of six sessions on two machines, the fifth stopped; return its folder."""
    book, _ = new_book(folder)
    moths, badgers = _two_machines(book)
    asked = {"question": "What makes it quicker?"}
    stopped = {"state": "stopped", "stopped_because": "brake reaches its stop"}
    book.save(
        _made("S01", 0, ["W8.81 E8.33 W8.59 E8.00"], moths | asked),
        _made("S02", 7, ["9.69 9.37 9.52"], badgers),
        _made("S03", 21, ["W7.34 E6.88 W7.49 E7.10"], moths | {"question": "Clutch and 66T"}),
        _made("S04", 77, ["W7.54 E7.15", "W8.34 E8.06", "W7.41 E7.15"], moths),
        _made("S05", 84, [], badgers | stopped),
        _struck(_made("S06", 91, ["9.75 9.53 13.10 9.34"], badgers), 3, "CHAIN"),
        *more,
    )
    book.close()
    return book.log.folder


def _made(label: str, day: int, blocks: Iterable[str], fields: Mapping[str, object]) -> Session:
    session = bare_session(label, blocks, day=day)
    closed = {"state": "closed", "closed": session.started + timedelta(hours=3)}
    wanted = {"id": f"20260412-{day:06d}-{label.lower()}aa", **closed, **fields}
    return msgspec.structs.replace(session, **wanted)


def _struck(session: Session, n: int, code: str) -> Session:
    attempts = tuple(
        msgspec.structs.replace(a, strike=Strike(code=code, at=START)) if a.n == n else a
        for a in session.attempts
    )
    return msgspec.structs.replace(session, attempts=attempts)


def left_open_session() -> Session:
    """Return a session of 2 May that nobody closed, with its last entry at 10:16."""
    session = bare_session("S07", ["W8.00 E7.90"], day=20)
    last = START + timedelta(days=20, hours=2, minutes=16)
    line = {"at": last, "action": "enter", "words": "attempt 2"}
    return msgspec.convert({**msgspec.to_builtins(session), "trail": [line]}, Session, strict=False)


def many_sessions(folder: Path, count: int) -> Path:
    """Make a log of so many sessions of eight attempts each; return its folder."""
    book, _ = new_book(folder)
    moths, badgers = _two_machines(book)
    book.close()
    text = "W7.34 E6.88 W7.49 E7.10 W7.31 E6.83 W7.49 E7.19"
    asked = {"question": "Does the 66T help from a standing start?", "state": "closed"}
    made = (bare_session(f"S{number:04d}", [text], day=number // 3) for number in range(count))
    write_many(
        book.log.folder,
        SESSION_KIND,
        (
            msgspec.structs.replace(
                session, id=numbered_id(number), **asked, **(moths, badgers)[number % 2]
            )
            for number, session in enumerate(made)
        ),
    )
    return book.log.folder
