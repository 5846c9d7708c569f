"""Makes a log of thousands of sessions of one machine on one test: all count in a comparison."""

from __future__ import annotations

import random
from collections.abc import Iterator
from pathlib import Path

import msgspec

from core.attempts import Strike
from core.session import SESSION_KIND, Session
from tests.making import bare_session, new_book
from tests.speed.many_documents import numbered_id, write_many

__all__ = ["one_machine"]

_BUILDS = ({"final_sprocket_teeth": 60.0}, {"final_sprocket_teeth": 63.0}, {"rocker_ratio": 1.25})
_WAYS = "WEWEWEWE"


def one_machine(folder: Path, count: int) -> Path:
    """Make the log; return its folder. Every fifth session is an A-B-A of twelve attempts."""
    book, _ = new_book(folder)
    machine, place = book.add_machine("Kettle Moth"), book.add_place("Vennimoor strip", ("W", "E"))
    book.close()
    same = {"machine": machine.id, "place": place.id, "state": "closed", "gain": 0.15}
    write_many(book.log.folder, SESSION_KIND, _sessions(count, same))
    return book.log.folder


def _sessions(count: int, same: dict[str, object]) -> Iterator[Session]:
    rng = random.Random(20260412)
    for number in range(count):
        builds = (0, 1, 0) if number % 5 == 0 else (number % len(_BUILDS),)
        day = rng.gauss(0.0, 0.15)
        blocks = [
            _block(rng, 8.0 + day - 0.4 * build, 4 if len(builds) > 1 else 8) for build in builds
        ]
        session = bare_session(
            f"S{number:04d}", blocks, day=number // 3, sheets=tuple(_BUILDS[b] for b in builds)
        )
        yield _struck(msgspec.structs.replace(session, id=numbered_id(number), **same), number)


def _block(rng: random.Random, mean: float, attempts: int) -> str:
    return " ".join(
        f"{way}{mean + (0.2 if way == 'W' else -0.2) + rng.gauss(0.0, 0.1):.2f}"
        for way in _WAYS[:attempts]
    )


def _struck(session: Session, number: int) -> Session:
    """Return the session, every tenth one with its third attempt struck."""
    if number % 10:
        return session
    tries = tuple(
        msgspec.structs.replace(a, strike=Strike(code="LATE")) if a.n == 3 else a
        for a in session.attempts
    )
    return msgspec.structs.replace(session, attempts=tries)
