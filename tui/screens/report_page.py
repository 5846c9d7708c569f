"""A screen that shows one report: made in a thread, laid out when it comes, written to a file."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import ClassVar, Final

from textual.app import ComposeResult
from textual.message import Message

from core.errors import BackToBackError, BlockedError
from core.report import Paragraph, Report
from core.session import Book
from tui.dialogs import ask_text, asking, confirm
from tui.screens.base import HouseScreen
from tui.widgets.page import Page, PageView
from tui.widgets.page_layout import lines_of
from tui.writing import write_whole

__all__ = ["ReportScreen"]

_WIDEST: Final = 132  # cells of a page of text


class ReportScreen(HouseScreen[None]):
    """One report.

    A screen of this kind says what to make in `make_report`, which runs in a thread, and sets its
    ``SCENE`` and ``BINDINGS``.
    """

    SCENE = "card"
    AUTO_FOCUS = "PageView"
    NAME: ClassVar[str] = "report"
    """How a file of it is called, without its ending."""

    @dataclass
    class Made(Message):
        """A report was made, or refused."""

        number: int
        report: Report | None
        error: BackToBackError | None

    def __init__(self) -> None:
        super().__init__()
        self._number = 0  # of the newest request; answers to older ones are not shown
        self._report: Report | None = None

    def compose_body(self) -> ComposeResult:
        """Yield the page."""
        yield PageView()

    def on_mount(self) -> None:
        """Show the frame at once; the report comes from a thread."""
        self.ask_again()

    def make_report(self, book: Book) -> Report:
        """Return what to show; called in a thread, may raise BackToBackError."""
        raise NotImplementedError

    @property
    def report(self) -> Report | None:
        """What is shown now; None before it came."""
        return self._report

    def ask_again(self) -> None:
        """Make the report anew."""
        self._number += 1
        self._show(Report("", (Paragraph("Looking through the log …"),)))
        work = partial(self._work, self._number)
        self.run_worker(work, name="report", group="report", thread=True, exclusive=True)

    def _work(self, number: int) -> None:
        try:
            answer = self.Made(number, self.make_report(self.house.book), None)
        except BackToBackError as error:
            answer = self.Made(number, None, error)
        self.post_message(answer)

    def on_report_screen_made(self, message: Made) -> None:
        """Show the report, unless something else was asked meanwhile."""
        if message.number != self._number:
            return
        self._report = message.report
        if message.report is not None:
            self.entitle(message.report.title)
            self._show(message.report)
        elif message.error is not None:
            told = filter(None, (message.error.message, message.error.hint))
            self._show(Report("", tuple(Paragraph(words) for words in told)))

    def _show(self, report: Report) -> None:
        self.query_one(PageView).show(partial(_page, report))

    # -- commands ------------------------------------------------------------------------------

    def action_back(self) -> None:
        """Go back to the screen below."""
        self.dismiss(None)

    @asking
    async def action_write(self) -> None:
        """Write the report to a file, in the form that its ending tells."""
        from core.report.reports import FORMS, written  # lazy: it brings every report along

        report = self._report
        if report is None:
            raise BlockedError("There is nothing to write yet.")
        endings = {form.suffix: name for name, form in FORMS.items()}
        typed = await ask_text(
            self.app,
            "Write this page to which file?",
            sentence=f"Its ending tells the form: {', '.join(endings)}.",
            value=str(Path.cwd() / f"{self.NAME}.html"),
            check=partial(_path_of, endings=tuple(endings)),
        )
        if typed is None:
            return
        path = _path_of(typed, endings=tuple(endings))
        if path.exists() and not await confirm(
            self.app, f"{path.name} is there already.", yes="Write over it", no="Leave it"
        ):
            return
        write_whole(path, written(report, endings[path.suffix.casefold()]).encode("utf-8"))
        self.say(f"Written to {path}.")


def _page(report: Report, width: int, height: int) -> Page:
    return Page(tuple(lines_of(report.blocks, min(width, _WIDEST))))


def _path_of(typed: str, *, endings: Sequence[str]) -> Path:
    """Return the file that was typed; raises BackToBackError when it cannot be one."""
    path = Path(typed.strip()).expanduser()
    if not typed.strip() or path.is_dir():
        raise BackToBackError("A file needs a name.")
    if path.suffix.casefold() not in endings:
        raise BackToBackError(f"End it in one of {', '.join(endings)}.")
    return path
