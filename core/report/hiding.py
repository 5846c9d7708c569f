"""A report without rider, helper, place, coordinates and phone numbers, to be posted."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import replace

from core.report.document import Block, Bullets, Chart, Facts, Heading, Paragraph, Report, Table
from core.report.pictures import PictureRow
from core.session import Book, Place, Session

__all__ = ["hidden", "secrets_of"]

_COORDINATES = re.compile(
    r"[-+]?\d{1,3}\.\d{3,}\s*°?\s*[NSns]?[\s,;/]+[-+]?\d{1,3}\.\d{3,}\s*°?\s*[EWew]?"
    r"|\d{1,3}\s*°\s*\d{1,2}\s*['′]\s*(?:\d{1,2}(?:[.,]\d+)?\s*[\"″]?)?\s*[NSEWnsew]?"
)
_PHONE = re.compile(r"(?<![\w.,])\+?\d[\d /-]{7,}\d(?![\w.,])")
_SECRET_CHECKS = ("permission", "plan_number", "plan_access", "plan_gate", "plan_hospital",
                  "plan_driver", "plan_first_aid", "plan_contact", "plan_phone")  # fmt: skip
_GONE_FACTS = ("rider", "helper", "place", "permission")
_HIDDEN = "(hidden)"
_SHORTEST = 2  # letters of a name that is looked for anywhere in a text


def secrets_of(book: Book) -> dict[str, str]:
    """Return what is to be hidden and what stands for it: names of people and places of the log.

    Args:
        book: the open log.
    """
    found: dict[str, str] = {}
    for head in book.places():
        place = book.log.get(Place, head.id)
        for name in (place.name, *place.aliases):
            found[name] = "a place"
        if place.permission is not None:
            found[place.permission.text] = _HIDDEN
    for session_head in book.sessions():
        session = book.log.get(Session, session_head.id)
        found[session.rider] = "the rider"
        found[session.helper] = "the helper"
        for record in session.checks:
            if record.rule in _SECRET_CHECKS:
                found[record.result] = _HIDDEN
                found[record.note] = _HIDDEN
    plain = ("done", "not done", "yes", "no", "none", "?")
    return {
        name: word
        for name, word in found.items()
        if len(name.strip()) >= _SHORTEST and name.strip().casefold() not in plain
    }


def hidden(report: Report, secrets: dict[str, str]) -> Report:
    """Return the report without these names, without coordinates and phone numbers.

    Args:
        report: any.
        secrets: by name: what stands for it, see `secrets_of`; a name is found in any letter case,
            also where it was typed into a note.
    """
    clean = _cleaner(secrets)
    blocks = tuple(_clean_block(block, clean) for block in report.blocks)
    return Report(clean(report.title), blocks)


def _cleaner(secrets: dict[str, str]) -> Callable[[str], str]:
    by_fold = {" ".join(name.split()).casefold(): word for name, word in secrets.items()}
    names = sorted(by_fold, key=len, reverse=True)
    any_name = re.compile(
        "|".join(rf"(?<!\w){_loose(name)}(?!\w)" for name in names) or r"(?!)", re.IGNORECASE
    )

    def clean(text: str) -> str:
        def word(found: re.Match[str]) -> str:
            return by_fold.get(" ".join(found[0].split()).casefold(), _HIDDEN)

        text = any_name.sub(word, text)
        return _PHONE.sub(_HIDDEN, _COORDINATES.sub(_HIDDEN, text))

    return clean


def _loose(name: str) -> str:
    """A pattern of a name in which any blanks may stand for its blanks."""
    return r"\s+".join(map(re.escape, name.split()))


def _clean_block(block: Block, clean: Callable[[str], str]) -> Block:
    if isinstance(block, (Heading, Paragraph)):
        return replace(block, text=clean(block.text))
    if isinstance(block, Bullets):
        return Bullets(tuple(map(clean, block.items)))
    if isinstance(block, Facts):
        kept = (row for row in block.rows if row[0].strip() not in _GONE_FACTS)
        return Facts(tuple((clean(name), clean(value)) for name, value in kept))
    if isinstance(block, Chart):
        rows = tuple(_clean_row(row, clean) for row in block.picture.rows)
        return Chart(clean(block.title), replace(block.picture, rows=rows))
    return _clean_table(block, clean)


def _clean_table(table: Table, clean: Callable[[str], str]) -> Table:
    return replace(table, rows=tuple(_each(row, clean) for row in table.rows))


def _each(cells: Iterable[str], clean: Callable[[str], str]) -> tuple[str, ...]:
    return tuple(map(clean, cells))


def _clean_row(row: PictureRow, clean: Callable[[str], str]) -> PictureRow:
    return replace(row, label=clean(row.label), note=clean(row.note), said=clean(row.said))
