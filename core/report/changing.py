"""What differs between two setup sheets, as a page and as plain data."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from core.errors import NotFoundError
from core.report.comparing import change_data
from core.report.document import Block, Bullets, Heading, Paragraph, Report
from core.session import Book, Session
from core.setup import Change, Sheet, build_letters, changes, main_changes
from core.verdict import sheet_of

__all__ = ["Changed", "changed_between", "changed_data", "changed_page"]


@dataclass(frozen=True)
class Changed:
    """What differs from one build to another."""

    a: str  # label, with the build where its session ran several
    b: str
    all: tuple[Change, ...]
    causes: tuple[Change, ...]  # those of it that are changes of their own


def changed_between(book: Book, word_a: str, word_b: str) -> Changed:
    """Return what differs from what one word names to what the other does.

    Args:
        book: the open log.
        word_a: ``S03``, ``S05:B``, an id, or the head of one; without a build the last sheet.
        word_b: the same.

    Raises:
        NotFoundError: no such session or build.
    """
    (label_a, a), (label_b, b) = _named_sheet(book, word_a), _named_sheet(book, word_b)
    found = changes(a, b)
    return Changed(label_a, label_b, found, main_changes(found))


def _named_sheet(book: Book, word: str) -> tuple[str, Sheet]:
    session, build = book.side(word)
    if build:
        return f"{session.label}:{build}", sheet_of(session, build)
    return _last_label(session), _last_sheet(session)


def _last_sheet(session: Session) -> Sheet:
    if not session.sheets:
        raise NotFoundError(f"{session.label} has no setup sheet.")
    return session.sheets[-1]


def _last_label(session: Session) -> str:
    letters = build_letters(session.sheets)
    return f"{session.label}:{letters[-1]}" if len(set(letters)) > 1 else session.label


def changed_page(found: Changed) -> Report:
    """Return the changes as a page: causes first, then what follows from them."""
    blocks: list[Block] = []
    causes = {change.slot for change in found.causes}
    rest = tuple(change for change in found.all if change.slot not in causes)
    if not found.all:
        blocks.append(Paragraph("Nothing that was recorded differs."))
    if found.causes:
        blocks.append(Bullets(tuple(change.words for change in found.causes)))
    if rest:
        blocks.append(Heading("Follows from it, measured or only noted"))
        blocks.append(Bullets(tuple(change.words for change in rest)))
    return Report(f"From {found.a} to {found.b}", tuple(blocks))


def changed_data(found: Changed) -> dict[str, Any]:
    """Return the changes as plain data."""
    causes = {change.slot for change in found.causes}
    return {
        "a": found.a,
        "b": found.b,
        "changed": [
            {**change_data(change), "is_cause": change.slot in causes} for change in found.all
        ],
    }
