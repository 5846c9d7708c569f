"""The shelf as pages: every part, one part's card, what is due, and a shopping list."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from core.clock import day_words
from core.report.document import Block, Bullets, Column, Facts, Heading, Paragraph, Report, Table
from core.session import Book
from core.setup import Needed, Part, slot_of
from core.setup.supplies import SUPPLY_PREFIX
from core.shelf import Due, PartHistory, histories
from core.units import format_number

__all__ = ["due_data", "due_page", "part_card", "part_data", "place_words", "shelf_page",
           "shopping_blocks", "slot_words"]  # fmt: skip


def place_words(part: Part, machines: Mapping[str, str]) -> str:
    """Return where a part is: ``on Kettle Moth``, ``here``, ``retired (hairline)``."""
    if part.same_as:
        return "made one with another part"
    if part.status == "fitted":
        return f"on {machines.get(part.machine, part.machine)}"
    return f"retired ({part.retired_because})" if part.status == "retired" else part.status


def slot_words(part: Part) -> str:
    """Return the slot of a part in words; ``supply`` for what is used up."""
    return "supply" if part.slot.startswith(SUPPLY_PREFIX) else slot_of(part.slot).label


def hours_words(past: PartHistory) -> str:
    """Return the hours of a part, with those before the log: ``4.4``, ``4.4+`` with some unread."""
    before = past.part.hours_before
    if past.hours is None:
        return f"{format_number(before, 1)}+" if before else "not read"
    return format_number(past.hours + before, 1) + ("+" if past.hours_missing else "")


def _names(book: Book) -> dict[str, str]:
    return {head.id: head.name for head in book.machines()}


def shelf_page(book: Book, past: Mapping[str, PartHistory] | None = None) -> Report:
    """Return every part with its slot, where it is and what it has done."""
    found = past if past is not None else histories(book)
    if not found:
        return Report("Shelf", (Paragraph("No part is in the log yet."),))
    names = _names(book)
    columns = (
        Column("part", flexible=True), Column("slot", flexible=True),
        Column("where", flexible=True), Column("since", right=True),
        Column("hours", right=True), Column("attempts", right=True),
        Column("rpm", right=True),
    )  # fmt: skip
    rows = tuple(
        (
            h.part.name, slot_words(h.part), place_words(h.part, names),
            day_words(h.part.since) if h.part.since else "", hours_words(h), str(h.attempts),
            f"{h.rpm:,.0f}" if h.rpm is not None else "-",
        )
        for h in sorted(found.values(), key=lambda h: (slot_words(h.part), h.part.name))
    )  # fmt: skip
    more = "Hours with a plus: some sessions' engine hours were not read. Rpm: highest by gearing."
    return Report("Shelf", (Table(columns, rows, wraps=True), Paragraph(more)))


def part_card(book: Book, past: PartHistory) -> Report:
    """Return the card of one part: what it is, what it has done, where, and its links.

    Args:
        book: the open log.
        past: its history.
    """
    return Report(f"{past.part.name}: {slot_words(past.part)}", tuple(_card(book, past)))


def _card(book: Book, past: PartHistory) -> Iterator[Block]:
    part, names = past.part, _names(book)
    rows = [
        ("where", place_words(part, names)),
        ("since", day_words(part.since) if part.since else ""),
        ("once called", ", ".join(part.aliases)),
        ("teeth", str(part.teeth or "")),
        ("maker's rpm limit", f"{part.rpm_limit:,.0f}" if part.rpm_limit else ""),
        ("hours", hours_words(past)),
        ("hours before the log", f"{part.hours_before:g}" if part.hours_before else ""),
        ("attempts", str(past.attempts)),
        ("highest rpm by gearing", f"{past.rpm:,.0f}" if past.rpm is not None else "not known"),
        ("times fitted", str(past.times_fitted)),
        ("machines", ", ".join(names.get(m, m) for m in past.machines)),
        ("cost", f"{part.cost:g}" if part.cost is not None else ""),
        ("minutes to swap", f"{part.minutes:g}" if part.minutes is not None else ""),
        ("note", part.note),
    ]
    yield Facts(tuple((name, value) for name, value in rows if value))
    if part.links:
        yield Heading("Photos and files")
        folder = book.log.folder
        yield Bullets(tuple(_link(folder, link.path, link.caption) for link in part.links))
    yield Heading("History")
    if not past.uses:
        yield Paragraph("It is on no setup sheet of the log.")
        return
    columns = (Column("session"), Column("day", right=True), Column("machine", flexible=True),
               Column("test"), Column("n", right=True), Column("rpm", right=True),
               Column("hours", right=True), Column("name then", flexible=True))  # fmt: skip
    yield Table(columns, tuple(_use_cells(past, names)), wraps=True)


def _link(folder: Any, path: str, caption: str) -> str:
    there = "" if (folder / path).exists() else " (missing)"
    return f"{caption}: {path}{there}" if caption else f"{path}{there}"


def _use_cells(past: PartHistory, names: Mapping[str, str]) -> Iterator[tuple[str, ...]]:
    for use in past.uses:
        yield (
            use.label, day_words(use.day), names.get(use.machine, use.machine), use.test,
            str(use.attempts), f"{use.rpm:,.0f}" if use.rpm is not None else "-",
            format_number(use.hours, 1) if use.hours is not None else "-", use.name,
        )  # fmt: skip


def part_data(book: Book, past: PartHistory) -> dict[str, Any]:
    """Return a part with its history as plain data."""
    part, names = past.part, _names(book)
    return {
        "id": part.id, "name": part.name, "slot": part.slot, "aliases": list(part.aliases),
        "status": part.status, "machine": names.get(part.machine) if part.machine else None,
        "since": part.since.isoformat() if part.since else None,
        "retired_because": part.retired_because or None, "teeth": part.teeth,
        "hours": past.hours, "hours_before": part.hours_before,
        "sessions_without_hours": past.hours_missing, "attempts": past.attempts, "rpm": past.rpm,
        "times_fitted": past.times_fitted,
        "links": [{"path": link.path, "caption": link.caption} for link in part.links],
        "uses": [
            {"session": u.session, "label": u.label, "day": u.day.isoformat(),
             "machine": names.get(u.machine, u.machine), "test": u.test, "attempts": u.attempts,
             "rpm": u.rpm, "hours": u.hours, "name_then": u.name}
            for u in past.uses
        ],
    }  # fmt: skip


def due_page(name: str, found: Sequence[Due]) -> Report:
    """Return what is worn or due on a machine.

    Args:
        name: of the machine.
        found: the most pressing first.
    """
    marks = {"due": "×", "soon": "◆", "fine": "●", "not known": "○"}
    columns = (Column(""), Column("what"), Column("state"), Column("how it stands", flexible=True))
    rows = tuple(
        (marks[due.state], due.row.words, due.state, due.sentence.partition(": ")[2])
        for due in found
    )
    more = "Intervals are common practice until you set your own; the maker's sheet comes first."
    return Report(f"{name}: worn or due", (Table(columns, rows, wraps=True), Paragraph(more)))


def due_data(found: Iterable[Due]) -> list[dict[str, Any]]:
    """Return what is worn or due as plain data."""
    return [
        {
            "id": due.row.id, "what": due.row.words, "state": due.state, "own": due.row.own,
            "counted": [{"what": w, "gone": g, "of": o} for w, g, o in due.counted],
            "since": due.since.day.isoformat() if due.since else None,
            "session": due.since.label if due.since else None,
            "sentence": due.sentence,
        }
        for due in found
    ]  # fmt: skip


def shopping_blocks(rows: Sequence[Needed]) -> Iterator[Block]:
    """Yield a shopping list: what a planned change needs, what of it is here."""
    if not rows:
        yield Paragraph("Nothing besides what is on the machine.")
        return
    marks = {"here": "●", "fitted": "●"}
    columns = (Column(""), Column("what"), Column("status"), Column("because", flexible=True))
    yield Table(
        columns,
        tuple((marks.get(n.status, "○"), n.what, n.status,
               f"{n.because} ({', '.join(n.for_slots)})") for n in rows),
        wraps=True,
    )  # fmt: skip
