"""The reports that can be written to a file, one row each, and the forms they can be written in."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from core.ask import Asker
from core.errors import NotFoundError
from core.report.attempt_pictures import attempts_picture
from core.report.comparing import comparison_page
from core.report.comparison_pictures import difference_picture, sides_picture
from core.report.document import Block, Chart, Heading, Report
from core.report.hiding import hidden, secrets_of
from core.report.html import as_html
from core.report.markdown import as_markdown
from core.report.plan_pages import PlanAsked, blank_sheet, plan_sheet
from core.report.season_pages import season_page
from core.report.session_pages import session_sheet
from core.report.shelf_pages import due_page, part_card, shelf_page
from core.report.table_csv import as_csv
from core.report.text import as_text
from core.session import Book, Session
from core.shelf import due_of
from core.units import read_number
from core.verdict import compare_sessions, looks, odd_in, pool_of

__all__ = ["FORMS", "REPORTS", "Form", "ReportRow", "made_report", "session_report", "written"]


@dataclass(frozen=True)
class Form:
    """One way to write a report out."""

    name: str
    suffix: str
    write: Callable[[Report], str]


FORMS: dict[str, Form] = {
    form.name: form
    for form in (
        Form("text", ".txt", as_text),
        Form("md", ".md", as_markdown),
        Form("html", ".html", as_html),
        Form("csv", ".csv", as_csv),
    )
}
"""By name, as it is typed."""


@dataclass(frozen=True)
class ReportRow:
    """One kind of report."""

    name: str
    words: str
    about: str  # what stands behind it
    make: Callable[[Book, tuple[str, ...]], Report]


def session_report(book: Book, session: Session) -> Report:
    """Return the whole sheet of a session with the picture of its attempts."""
    page = session_sheet(book, session, every_build=False)
    pool = pool_of(book.sessions(), session.machine, session.test, session.timing,
                   leave_out=session.id)  # fmt: skip
    odd = frozenset(found.n for found in odd_in(book, session)) if session.attempts else frozenset()
    picture = attempts_picture(session, pool=pool, odd=odd)
    if not picture.rows:
        return page
    chart = Chart("Attempts by direction, means with their range", picture)
    return replace(page, blocks=tuple(_with_chart(page.blocks, chart)))


def _with_chart(blocks: tuple[Block, ...], chart: Chart) -> Iterator[Block]:
    """The chart goes behind the verdict, before the next heading."""
    after = next((i for i, b in enumerate(blocks) if isinstance(b, Heading)), 0)
    place = next(
        (i for i, b in enumerate(blocks) if i > after and isinstance(b, Heading)), len(blocks)
    )
    yield from (*blocks[:place], chart, *blocks[place:])


def _session(book: Book, words: tuple[str, ...]) -> Report:
    if not words:
        raise NotFoundError("Which session?", "backtoback list shows them all.")
    return session_report(book, book.side(" ".join(words))[0])


def _comparison(book: Book, words: tuple[str, ...]) -> Report:
    if len(words) != 2:
        raise NotFoundError("Which two?", "Say them like S03 S05:A; the second against the first.")
    made = compare_sessions(book, *words)
    page = comparison_page(made)
    sessions = tuple(book.log.get(Session, side.session) for side in (made.a, made.b))
    seen = looks(made, *sessions)
    charts = (
        Chart("Each result, means with their range", sides_picture(made, seen[0])),
        Chart("The difference with its range", difference_picture(made, seen, seen[0])),
    )
    lead = next((i for i, b in enumerate(page.blocks) if isinstance(b, Heading)), 0)
    drawn = [chart for chart in charts if chart.picture.rows]
    return replace(page, blocks=(*page.blocks[:lead], *drawn, *page.blocks[lead:]))


def _part(book: Book, words: tuple[str, ...]) -> Report:
    asker = Asker(book, " ".join(words))
    found = asker.parts_named()
    if len(found) != 1:
        names = ", ".join(part.name for part in (found or asker.parts)[:6]) or "none"
        raise NotFoundError(f"Which part is “{' '.join(words)}”?", f"Such as: {names}.")
    return part_card(book, asker.past[found[0].id])


def _due(book: Book, words: tuple[str, ...]) -> Report:
    asker = Asker(book, " ".join(words))
    if not asker.machine:
        raise NotFoundError("No machine has a session yet.")
    return due_page(asker.machine_name, due_of(book, asker.machine))


def _plan(book: Book, words: tuple[str, ...]) -> Report:
    typed = tuple(word for word in words if "=" in word)
    told = {k: v for k, _, v in (word.partition("=") for word in typed) if k in ("test", "gain")}
    changed = tuple(word for word in typed if word.partition("=")[0] not in ("test", "gain"))
    named = " ".join(word for word in words if "=" not in word)
    gain = read_number(told["gain"]) if told.get("gain") else None
    return plan_sheet(book, PlanAsked(named, changed, told.get("test", ""), gain))


REPORTS: dict[str, ReportRow] = {
    row.name: row
    for row in (
        ReportRow("session", "everything about one session, on one page", "SESSION", _session),
        ReportRow("comparison", "one session or build against another", "A B", _comparison),
        ReportRow("season", "a machine on one test over time", "[MACHINE] [TEST]",
                  lambda book, words: season_page(book, " ".join(words))),
        ReportRow("shelf", "every part, where it is and what it has done", "",
                  lambda book, words: shelf_page(book)),
        ReportRow("part", "the card of one part", "PART", _part),
        ReportRow("due", "what is worn or due on a machine", "[MACHINE]", _due),
        ReportRow("plan", "the sheet of a planned change, with checks and shopping list",
                  "SLOT=VALUE ... [MACHINE] [test=0-50] [gain=0.15]", _plan),
        ReportRow("blank", "a blank sheet in the order of the screens", "[MACHINE]",
                  lambda book, words: blank_sheet(book, " ".join(words))),
    )
}  # fmt: skip
"""By name, as it is typed."""


def made_report(book: Book, name: str, words: tuple[str, ...], *, hide: bool = False) -> Report:
    """Return a report of the table.

    Args:
        book: the open log.
        name: of the report.
        words: what it is about.
        hide: leave out rider, helper, place, coordinates and phone numbers.

    Raises:
        NotFoundError: no such report, or nothing of the name.
    """
    if name not in REPORTS:
        raise NotFoundError(f"There is no report “{name}”.", f"One of: {', '.join(REPORTS)}.")
    report = REPORTS[name].make(book, words)
    return hidden(report, secrets_of(book)) if hide else report


def written(report: Report, form: str) -> str:
    """Return a report written out in one of the forms.

    Raises:
        NotFoundError: no such form.
    """
    if form not in FORMS:
        raise NotFoundError(f"Nothing is written as “{form}”.", f"One of: {', '.join(FORMS)}.")
    return FORMS[form].write(report)
