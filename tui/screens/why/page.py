"""The page that explains one value: what it is, what went in and how it is known, the formula."""

from __future__ import annotations

from collections.abc import Iterator

from core.bench import Past
from core.reckon import Why, why
from core.report.document import Block, Bullets, Facts, Heading, Paragraph
from core.setup import Sheet, derived
from tui.dialogs import PickRow
from tui.widgets.page import Page
from tui.widgets.page_layout import lines_of, text_lines
from tui.widgets.picture_plot import Line

__all__ = ["value_rows", "why_page"]

_WIDEST = 100  # cells of running text
_GAPS = ("gap_intake", "gap_exhaust")


def value_rows(
    sheet: Sheet, rpm_factory: float, past: Past, before: Sheet | None = None
) -> tuple[PickRow, ...]:
    """Return every value that can be explained, with what it comes to.

    Args:
        sheet: any.
        rpm_factory: governed speed of the machine as its maker built it, rpm.
        past: bench readings and instruments of the machine.
        before: the sheet as the machine stands, where ``sheet`` is a plan; None: it is none.
    """
    found = derived(sheet, rpm_factory, past.halves(sheet))
    gaps = (why(sheet, name, past=past, before=before) for name in _GAPS)
    return (
        *(PickRow(one.id, one.label, one.words) for one in found),
        *(PickRow(one.id, one.title, one.value) for one in gaps),
    )


def why_page(found: Why, width: int) -> Page:
    """Return the page of one value.

    Args:
        found: where it comes from.
        width: cells.
    """
    wide = min(width, _WIDEST)
    lines: list[Line] = text_lines(f"{found.title}: {found.value}", wide, "strong")
    lines += [(), *lines_of(_blocks(found), wide)]
    return Page(tuple(lines), (("why", 0),))


def _blocks(found: Why) -> Iterator[Block]:
    yield Facts((("formula", found.equation), ("source", found.source)))
    yield Heading("What went in")
    yield Bullets(tuple(one.line for one in found.inputs))
    notes = tuple(f"note on {one.label}: {one.note}" for one in found.inputs if one.note)
    if found.steps or notes:
        yield Bullets((*(f"on the way: {step}" for step in found.steps), *notes))
    if found.note:
        yield Heading("Worth reading")
        yield Paragraph(found.note)
    if found.caution:
        yield Heading("Caution")
        yield Paragraph(found.caution)
    if found.formula:
        yield Paragraph(f"With other numbers: backtoback reckon {found.formula}")
