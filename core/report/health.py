"""Whether every document of a log can be read and means something, as a page and as data."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from core.exchange import faults, plural
from core.log import Problem
from core.log.aside import put_aside
from core.report.document import Bullets, Facts, Heading, Paragraph, Report
from core.session import KINDS, Book, Place, Session
from core.setup import Machine, Part
from core.trace import TraceDocument
from core.trace.keeping import is_kept_whole, kept_path

__all__ = ["Health", "health_data", "health_of", "health_page"]


@dataclass(frozen=True)
class Health:
    """What was found when every document was read."""

    folder: str
    documents: tuple[tuple[str, int], ...]  # readable ones by kind
    problems: tuple[Problem, ...]
    owner: str  # one sentence about another process that writes; empty: none

    @property
    def is_sound(self) -> bool:
        """Whether nothing is wrong."""
        return not self.problems


def health_of(book: Book) -> Health:
    """Read every document of a log and return what is wrong with any of them."""
    counts = tuple((kind.folder, len(book.log.all(kind.type))) for kind in KINDS)
    meant = tuple(_meaning(book))
    owner = book.log.owner
    return Health(
        folder=str(book.log.folder),
        documents=counts,
        problems=(
            *book.log.problems,
            *meant,
            *put_aside(book.log.folder, book.log.problems),
        ),
        owner=owner.sentence if owner is not None else "",
    )


def _meaning(book: Book) -> Iterator[Problem]:
    """Yield what a document says that cannot be."""
    known = {
        "machine": set(book.log.ids(Machine)),
        "place": set(book.log.ids(Place)),
        "part": set(book.log.ids(Part)),
    }
    for session in book.log.all(Session):
        file = f"sessions/{session.id}.json"
        for said in faults(session):
            yield Problem(file, "", f"{session.label}: {said}.")
        if session.machine not in known["machine"]:
            yield Problem(file, "machine", f"{session.label}: its machine is not in the log.")
        if session.place and session.place not in known["place"]:
            yield Problem(file, "place", f"{session.label}: its place is not in the log.")
        lost = {
            reading.text or reading.part
            for sheet in session.sheets
            for reading in sheet.readings.values()
            if reading.part and reading.part not in known["part"]
        }
        if lost:
            names = ", ".join(sorted(lost))
            sentence = f"{session.label}: parts of its setup are not in the log: {names}."
            yield Problem(file, "sheets", sentence)
    yield from _recordings(book)


def _recordings(book: Book) -> Iterator[Problem]:
    """Yield recordings whose file beside the log is missing or not what it was."""
    for document in book.log.all(TraceDocument):
        place = kept_path(book.log.folder, document)
        if not is_kept_whole(book.log.folder, document):
            what = "is not what it was" if place.exists() else "is missing"
            sentence = f"The recording {document.name} {what} (traces/{place.name})."
            yield Problem(f"traces/{document.id}.json", "sha256", sentence)


def health_page(health: Health) -> Report:
    """Return the health of a log as a page."""
    rows = tuple((kind, f"{count:,}") for kind, count in health.documents)
    if health.is_sound:
        return Report(
            f"Log {health.folder}",
            (Facts(rows), Paragraph("Every document can be read. " + health.owner)),
        )
    return Report(
        f"Log {health.folder}",
        (
            Facts(rows),
            Heading(plural(len(health.problems), "problem")),
            Bullets(tuple(_sentence(problem) for problem in health.problems)),
            *((Paragraph(health.owner),) if health.owner else ()),
        ),
    )


def _sentence(problem: Problem) -> str:
    """Return a problem with its file, which many sentences name themselves."""
    if problem.file and problem.file not in problem.sentence:
        return f"{problem.file}: {problem.sentence}"
    return problem.sentence


def health_data(health: Health) -> dict[str, Any]:
    """Return the health of a log as plain data."""
    return {
        "folder": health.folder,
        "sound": health.is_sound,
        "documents": dict(health.documents),
        "problems": [
            {"file": p.file, "field": p.field, "sentence": p.sentence} for p in health.problems
        ],
        "owner": health.owner,
    }
