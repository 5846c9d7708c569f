"""What a merge would do: what is new, the same, further on, decided before, or in conflict."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from core.errors import BackToBackError, LogError, NotFoundError
from core.exchange.merge.differences import FieldDifference, differences
from core.exchange.merge.sources import Source
from core.exchange.soundness import faults
from core.log import Document, Kind
from core.log.codec import decode_document, decode_fields
from core.session import KINDS, Book, Session, as_of
from core.setup import Machine

__all__ = ["Clash", "MergePlan", "called", "kind_of", "plan_merge"]

_KINDS: dict[type[Document], Kind[Any]] = {kind.type: kind for kind in KINDS}
_ASIDE = "aside"


@dataclass(frozen=True)
class Clash:
    """One document that both sides have and say otherwise."""

    kind: str
    id: str
    name: str  # label or name of it
    here: Document
    there: Document
    found: tuple[FieldDifference, ...]

    @property
    def may_keep_both(self) -> bool:
        """Whether the other version can stand beside it as a session of its own."""
        return isinstance(self.here, Session)


@dataclass(frozen=True)
class MergePlan:
    """What a merge would do; nothing is saved yet."""

    source: Source
    new: tuple[Document, ...] = ()  # this log has none of the id
    further: tuple[Document, ...] = ()  # sessions that go on where this log's version ends
    same: int = 0  # both sides say the same
    behind: int = 0  # the other side's version is an earlier state of this log's
    decided: int = 0  # in conflict, and decided here before
    clashes: tuple[Clash, ...] = ()
    left_out: tuple[str, ...] = ()  # what cannot go in, a sentence each
    remarks: tuple[str, ...] = ()  # what else should be known, a sentence each


def kind_of(document: Document) -> Kind[Any]:
    """Return the kind of a document."""
    return _KINDS[type(document)]


def called(document: Document) -> str:
    """Return the label or name of a document, else its id."""
    return str(getattr(document, "label", "") or getattr(document, "name", "") or document.id)


def plan_merge(book: Book, source: Source) -> MergePlan:
    """Return what merging would do.

    Sessions are told apart by their trail: a version whose trail goes on where the other's ends,
    and leads back to it, is no conflict.

    Args:
        book: the open log that it is to go into.
        source: what the other side holds.
    """
    new: list[Document] = []
    further: list[Document] = []
    clashes: list[Clash] = []
    left_out: list[str] = []
    counts = {"same": 0, "behind": 0, "decided": 0}
    for document in source.documents:
        if isinstance(document, Session) and faults(document):
            left_out.append(f"{document.label} is left out: {faults(document)[0]}.")
            continue
        kind = kind_of(document)
        try:
            here: Document | None = book.log.get(kind.type, document.id)
        except NotFoundError:
            here = None
        except LogError as error:
            left_out.append(f"{kind.name} {called(document)} is left out: {error.message}")
            continue
        if here is None:
            new.append(document)
            continue
        word = _standing(book, kind, here, document)
        if word == "further":
            further.append(document)
        elif word == "clash":
            found = differences(here, document)
            clashes.append(Clash(kind.name, here.id, called(here), here, document, found))
        else:
            counts[word] += 1
    remarks = (*source.remarks, *_missing(book, new), *_namesakes(book, new))
    return MergePlan(
        source, tuple(new), tuple(further), **counts, clashes=tuple(clashes),
        left_out=tuple(left_out), remarks=remarks,
    )  # fmt: skip


def _standing(book: Book, kind: Kind[Any], here: Document, there: Document) -> str:
    if here == there:
        return "same"
    if isinstance(here, Session) and isinstance(there, Session):
        if _goes_on(here, there):
            return "further"
        if _goes_on(there, here):
            return "behind"
    return "decided" if _was_decided(book, kind, there) else "clash"


def _goes_on(earlier: Session, later: Session) -> bool:
    """Tell whether a session is an earlier one with more lines in its trail."""
    lines = len(earlier.trail)
    if len(later.trail) <= lines or later.trail[:lines] != earlier.trail:
        return False
    try:
        return as_of(later, lines) == earlier
    except BackToBackError:
        return False


def _was_decided(book: Book, kind: Kind[Any], there: Document) -> bool:
    """Tell whether this version was set aside at an earlier merge."""
    folder = book.log.folder / _ASIDE / kind.folder
    if not folder.is_dir():
        return False
    for path in folder.glob(f"*{there.id}*.json*"):
        try:
            kept = decode_document(kind, decode_fields(kind, there.id, path.read_bytes()))
        except (LogError, OSError):
            continue
        if kept == there:
            return True
    return False


def _missing(book: Book, new: list[Document]) -> Iterator[str]:
    """Say which machines and places sessions refer to that neither side has."""
    machines = {*book.log.ids(Machine), *(d.id for d in new)}
    places = {h.id for h in book.places()} | machines
    for document in new:
        if not isinstance(document, Session):
            continue
        if document.machine not in machines:
            yield f"{document.label} ran on a machine that neither log holds: copied in half?"
        if document.place and document.place not in places:
            yield f"{document.label} ran at a place that neither log holds: copied in half?"


def _namesakes(book: Book, new: list[Document]) -> Iterator[str]:
    """Say which machines and places come in under a name that is here already."""
    here = {h.name.casefold(): "machine" for h in book.machines()}
    here |= {h.name.casefold(): "place" for h in book.places()}
    for document in new:
        name = str(getattr(document, "name", ""))
        if kind_of(document).name in ("machine", "place") and name.casefold() in here:
            kind = here[name.casefold()]
            yield f"Both logs have a {kind} called {name}, made apart: they stay two."
