"""What became of files that were read in, as a page and as plain data."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from core.exchange import Imported, plural
from core.report.document import Block, Bullets, Paragraph, Report

__all__ = ["import_data", "import_page"]

_MOST = 40  # rejected lines or conflicts printed of one file; all of them are in the data


def import_page(outcomes: Sequence[Imported]) -> Report:
    """Return what went in of each file, and each line that did not with its reason."""
    blocks: list[Block] = []
    for made in outcomes:
        blocks.append(Paragraph(made.summary))
        items = [f"line {r.line}: {r.reason}" for r in made.rejected]
        items += [f"{c.what}: {c.reason} Nothing was changed there." for c in made.conflicts]
        if len(items) > _MOST:
            more = len(items) - _MOST
            items = [*items[:_MOST], f"and {plural(more, 'more')[:-1]}; --json lists all of them"]
        items += [text for text in (_sessions(made), made.made.words, *made.remarks) if text]
        if items:
            blocks.append(Bullets(tuple(items)))
    return Report("", tuple(blocks))


def _sessions(made: Imported) -> str:
    said = []
    for words, labels in (
        ("New sessions", made.sessions_new),
        ("Added to", made.sessions_added_to),
    ):
        if labels:
            shown = ", ".join(labels[:10]) + (" ..." if len(labels) > 10 else "")
            said.append(f"{words}: {shown}.")
    return " ".join(said)


def import_data(outcomes: Sequence[Imported]) -> list[dict[str, Any]]:
    """Return the outcome of each file as plain data."""
    return [
        {
            "file": made.file,
            "format": made.format,
            "checked_only": made.checked_only,
            "rows_in": made.went_in,
            "rows_there": made.there,
            "rows_rejected": len(made.rejected),
            "rejected": [{"line": r.line, "reason": r.reason} for r in made.rejected],
            "conflicts": [{"what": c.what, "reason": c.reason} for c in made.conflicts],
            "sessions_new": list(made.sessions_new),
            "sessions_added_to": list(made.sessions_added_to),
            "sessions_there": made.sessions_there,
            "machines_new": list(made.made.machines),
            "places_new": list(made.made.places),
            "parts_new": list(made.made.parts),
            "remarks": list(made.remarks),
            "summary": made.summary,
        }
        for made in outcomes
    ]
