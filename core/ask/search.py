"""Search: where in the log some words stand, in notes, tags, strikes, parts, places and checks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime

from core.ask.asker import Asker
from core.attempts import STRIKES, TAGS
from core.bench import BenchReading
from core.checks import rule_for
from core.clock import day_words
from core.session import Book, Session
from core.setup import Part, slot_of

__all__ = ["Hit", "search"]

_ROOM = 60  # letters shown either side of what was found
_WORDS = {row.code: row.words for row in STRIKES} | {row.code: row.words for row in TAGS}


@dataclass(frozen=True)
class Hit:
    """One place in the log where all the words stand."""

    kind: str  # ``note``, ``tag``, ``strike``, ``part``, ``place`` ...
    where: str  # session label with its day, or the name of a part or place
    text: str  # what stands there, cut round the first word
    session: str = ""  # id, where it is in one
    id: str = ""  # of the part or place, where it is one
    at: datetime | None = None


def search(book: Book, words: str) -> tuple[Hit, ...]:
    """Return where all the words stand together, sessions newest first, then parts and places.

    Args:
        book: the open log.
        words: looked for in any letter case, also within longer words; none: nothing is found.
    """
    sought = [word.casefold() for word in words.split()]
    if not sought:
        return ()
    asker = Asker(book, words)
    found = [hit for s in reversed(asker.sessions) for hit in _in_session(s)]
    found += [*_in_parts(asker), *_in_places(book), *_in_bench(book)]
    kept = []
    for hit in found:
        heap = f"{hit.kind} {hit.text}".casefold()
        if all(word in heap for word in sought):
            kept.append(replace(hit, text=_cut(hit.text, sought[0])))
    return tuple(kept)


def _cut(text: str, word: str) -> str:
    """The text round a word, on one line."""
    line = " ".join(text.split())
    at = max(0, line.casefold().find(word))
    start, end = max(0, at - _ROOM), at + len(word) + _ROOM
    return f"{'…' if start else ''}{line[start:end]}{'…' if end < len(line) else ''}"


def _in_session(session: Session) -> Iterator[Hit]:
    for kind, text in _texts(session):
        if text:
            where = f"{session.label} {day_words(session.started)}"
            yield Hit(kind, where, text, session.id, at=session.started)


def _texts(session: Session) -> Iterator[tuple[str, str]]:
    yield ("question", session.question)
    for note in session.notes:
        yield ("note", note)
    yield ("stopped", session.stopped_because)
    if session.close_out is not None:
        made = session.close_out
        yield from (("learnt", made.learnt), ("because", made.because), ("next", made.next))
    for attempt in session.attempts:
        for tag in attempt.tags:
            yield ("tag", f"{tag} {_WORDS.get(tag, '')}, attempt {attempt.n}")
        if attempt.strike is not None:
            strike = attempt.strike
            said = f"{strike.code} {_WORDS.get(strike.code, '')}, attempt {attempt.n}"
            yield ("strike", f"{said}: {strike.note}" if strike.note else said)
        yield ("note", f"attempt {attempt.n}: {attempt.note}" if attempt.note else "")
    for record in session.checks:
        said = "; ".join(filter(None, (record.result, record.note)))
        if said and said != "done":
            yield ("check", f"{rule_for(record).short}: {said}")
    yield from _on_sheets(session)


def _on_sheets(session: Session) -> Iterator[tuple[str, str]]:
    """The parts and words that were entered on the sheets of this session, each once."""
    seen: set[tuple[str, str]] = set()
    for sheet in session.sheets:
        for slot, reading in sheet.readings.items():
            key = (slot, reading.text)
            if reading.carried or key in seen or not reading.text:
                continue
            seen.add(key)
            note = f" ({reading.note})" if reading.note else ""
            yield ("setup", f"{slot_of(slot).label}: {reading.text}{note}")


def _in_parts(asker: Asker) -> Iterator[Hit]:
    for part in asker.book.log.all(Part):
        names = ", ".join(part.aliases)
        links = ", ".join(f"{link.caption} {link.path}" for link in part.links)
        said = (part.name, slot_of(part.slot).label, part.status, f"once {names}" if names else "",
                part.retired_because, part.note, links)  # fmt: skip
        yield Hit("part", part.name, "; ".join(filter(None, said)), id=part.id)


def _in_places(book: Book) -> Iterator[Hit]:
    for head in book.places():
        place = book.place(head.id)
        allowed = place.permission.text if place.permission else ""
        said = (place.name, ", ".join(place.aliases), place.surface, allowed, place.note)
        yield Hit("place", place.name, "; ".join(filter(None, said)), id=place.id)


def _in_bench(book: Book) -> Iterator[Hit]:
    for head in book.bench_readings():
        taken = book.log.get(BenchReading, head.id)
        said = "; ".join(filter(None, (taken.what, taken.text, taken.note)))
        yield Hit("bench", day_words(taken.at), said, taken.session, taken.id, taken.at)
