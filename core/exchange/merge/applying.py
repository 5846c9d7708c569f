"""Doing a merge: what is new is saved, each conflict as the user decided, nothing thrown away."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Literal, cast

import msgspec

from core.errors import UsageError
from core.exchange.merge.planning import Clash, MergePlan, called
from core.log import Document
from core.session import Book, Session
from core.trace import TraceDocument
from core.trace.keeping import is_kept_whole, keep_bytes, kept_path

__all__ = ["Decision", "Merged", "apply_merge", "read_decision"]

Which = Literal["here", "there", "both"]


@dataclass(frozen=True)
class Decision:
    """How one conflict is settled."""

    which: Which
    fields: tuple[str, ...] = ()  # with ``there``: only these of the other version; empty: all


@dataclass(frozen=True)
class Merged:
    """What a merge did."""

    new: tuple[str, ...]  # labels and names of what went in
    further: tuple[str, ...]  # labels of sessions that went on
    settled: tuple[str, ...]  # what was decided, and which recordings are missing, a sentence each
    open: tuple[Clash, ...]  # conflicts that nothing was decided about; the log stays as it is
    aside: tuple[str, ...]  # where versions that did not win are kept


def read_decision(text: str, which: Which) -> tuple[str, Decision]:
    """Return the id or name of a document, and the decision; ``part-x:status,machine``.

    Raises:
        UsageError: no document is named.
    """
    name, _, fields = text.partition(":")
    if not name.strip():
        raise UsageError("Which document? Name it by its id, label or name.")
    chosen = tuple(f.strip() for f in fields.split(",") if f.strip())
    return name.strip(), Decision(which, chosen)


def apply_merge(book: Book, plan: MergePlan, decisions: Mapping[str, Decision]) -> Merged:
    """Do what a plan says; each document is saved for itself, so a merge cut off is done again.

    Args:
        book: the open log.
        plan: as made from it just now.
        decisions: by id, label or name of the document in conflict.

    Raises:
        UsageError: a decision names no conflict, or one that cannot be settled that way.
        LogError: the log takes nothing; what was saved before stays.
    """
    by_clash = _matched(plan, decisions)
    lost = [*_recordings(book, plan)]
    for document in (*plan.new, *plan.further):
        book.save(cast(Any, document))
    settled: list[str] = []
    aside: list[str] = []
    for clash in plan.clashes:
        decision = by_clash.get(clash.id)
        if decision is not None:
            aside.append(_settle(book, clash, decision))
            settled.append(_told(clash, decision))
    done = {*by_clash, *(d.id for d in (*plan.new, *plan.further))}
    still = {c.id for c in plan.clashes} - set(by_clash)
    for id_, file in plan.source.files.items():
        if id_ in done or id_ not in still:
            aside.append(book.log.move_aside(file))
    return Merged(
        new=tuple(called(d) for d in plan.new),
        further=tuple(called(d) for d in plan.further),
        settled=(*settled, *lost),
        open=tuple(c for c in plan.clashes if c.id not in by_clash),
        aside=tuple(aside),
    )


def _recordings(book: Book, plan: MergePlan) -> Iterator[str]:
    """Copy the files of new recordings; say which the other side does not have whole."""
    for document in plan.new:
        if not isinstance(document, TraceDocument) or is_kept_whole(book.log.folder, document):
            continue
        there = plan.source.folder
        if there is None or not is_kept_whole(there, document):
            yield f"The file of recording {document.name} did not come along: copy it again."
            continue
        keep_bytes(book.log.folder, kept_path(there, document).read_bytes(), document.form)


def _matched(plan: MergePlan, decisions: Mapping[str, Decision]) -> dict[str, Decision]:
    """Return the decisions by id, after looking that each names one conflict and fits it."""
    found: dict[str, Decision] = {}
    for name, decision in decisions.items():
        fits = [c for c in plan.clashes if name in (c.id, c.name)]
        if not fits:
            fits = [c for c in plan.clashes if name.casefold() == c.name.casefold()]
        if len(fits) != 1:
            listed = ", ".join(f"{c.name} ({c.id})" for c in plan.clashes) or "none"
            raise UsageError(f"“{name}” names no one conflict.", f"In conflict: {listed}.")
        clash = fits[0]
        if decision.which == "both" and not clash.may_keep_both:
            raise UsageError(
                f"{clash.name} is one {clash.kind}: it cannot be kept twice.",
                "Take here or there, or single fields with there.",
            )
        unknown = [f for f in decision.fields if f not in clash.here.__struct_fields__]
        if unknown:
            raise UsageError(f"{clash.name}: there is no field {unknown[0]}.")
        if decision.fields and isinstance(clash.here, Session):
            raise UsageError(f"{clash.name} is taken whole: the fields of a session hang together.")
        found[clash.id] = decision
    return found


def _settle(book: Book, clash: Clash, decision: Decision) -> str:
    """Save what was decided; return where the version that did not win is kept."""
    if decision.which == "here":
        return book.log.set_aside(clash.there)
    if decision.which == "both":
        there = cast(Session, clash.there)
        other = msgspec.structs.replace(
            there, id=book.fresh_id(), label=f"{there.label} (other log)"
        )
        book.save(other)
        return book.log.set_aside(clash.there)
    place = book.log.set_aside(clash.here)
    if not decision.fields:
        book.save(cast(Any, clash.there))
        return place
    book.log.set_aside(clash.there)
    taken = {name: getattr(clash.there, name) for name in decision.fields}
    mixed: Document = msgspec.structs.replace(clash.here, **taken)
    book.save(cast(Any, mixed))
    return place


_TOLD = {"here": "this log's version stays", "both": "both are kept, as two sessions"}


def _told(clash: Clash, decision: Decision) -> str:
    told = _TOLD.get(decision.which, "the other log's version is taken")
    if decision.fields:
        told = f"the other log's {', '.join(decision.fields)} taken"
    return f"{clash.kind} {clash.name}: {told}."
