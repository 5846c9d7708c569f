"""The review screen: reads one session at once, and what the log says of it in a thread."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path
from typing import ClassVar, Final

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.message import Message

from core.errors import BackToBackError, BlockedError, LogReadOnlyError
from core.report import as_text
from core.report.attempt_pictures import attempts_picture
from core.report.review import SECTIONS, Found, Section, found_by, review_sections
from core.report.session_pages import session_sheet
from core.report.words import day_words
from core.session import Session, open_again, past_of
from core.setup import FACTORY_RPM, Machine, Sheet
from tui.commands import bindings_for
from tui.dialogs import ask_text, asking, confirm
from tui.screens.base import HouseScreen
from tui.screens.review.page import ReviewMatter, review_page
from tui.screens.routes import make_screen
from tui.screens.why.screen import ask_why
from tui.widgets.page import Page, PageView
from tui.widgets.picture import ascii_wanted
from tui.widgets.stage_line import StageLine
from tui.writing import write_whole

__all__ = ["ReviewScreen"]

_NAMES_FROM: Final = 78  # cells from which all sections are named, not only numbered


class ReviewScreen(HouseScreen[None]):
    """Everything about one session.

    Args:
        session_id: id of the session.
    """

    SCENE = "review"
    AUTO_FOCUS = "PageView"
    CSS_PATH = "review.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("review")

    @dataclass
    class Judged(Message):
        """What the rest of the log says was worked out, or refused."""

        session: Session
        sections: tuple[Section, ...]
        found: Found | None
        error: BackToBackError | None

    def __init__(self, session_id: str) -> None:
        super().__init__()
        self._session_id = session_id
        self._matter: ReviewMatter | None = None

    def compose_body(self) -> ComposeResult:
        """Yield the line of sections and the page."""
        yield StageLine()
        yield PageView(self._came)

    # -- showing -------------------------------------------------------------------------------

    def on_screen_resume(self) -> None:
        """Show the session as it is on disk now; what the log says of it comes from a thread."""
        session = self.house.book.log.get(Session, self._session_id)
        if self._matter is not None and self._matter.session == session:
            return
        sections = review_sections(self.house.book, session)
        self._take(ReviewMatter(session, sections, attempts_picture(session), None))
        self.run_worker(self._judge, name="judge", group="judge", thread=True, exclusive=True)

    def _take(self, matter: ReviewMatter) -> None:
        self._matter = matter
        session = matter.session
        machine = self.house.book.name_of(session.machine) or session.machine
        left = f"{session.label}  {machine}, {session.test}"
        self.entitle(left, f"{day_words(session.started)}  {session.state}")
        self.query_one(PageView).show(self._page)
        self._show_sections()

    def _page(self, width: int, height: int) -> Page:
        return review_page(self._need_matter(), width, ascii_only=ascii_wanted())

    def _judge(self) -> None:
        session = self._need_matter().session
        book = self.house.book
        try:
            found = found_by(book, session)
            sections = review_sections(book, session, odd=found.odd)
            message = self.Judged(session, sections, found, None)
        except BackToBackError as error:
            message = self.Judged(session, (), None, error)
        self.post_message(message)

    def on_review_screen_judged(self, message: Judged) -> None:
        """Show what the log says, unless the session was changed meanwhile."""
        matter = self._need_matter()
        if message.session is not matter.session:
            return
        if message.found is None:
            self.say(message.error.message if message.error else "")
            return
        self._take(
            ReviewMatter(message.session, message.sections, message.found.picture, message.found)
        )

    def _came(self, section: str) -> None:
        """Mark the section that came to the top."""
        self._show_sections()

    def on_resize(self) -> None:
        """Name the sections where there is room for it."""
        self._show_sections()

    def _show_sections(self) -> None:
        here = self.query_one(PageView).section
        at = next((i for i, (id_, _) in enumerate(SECTIONS) if id_ == here), 0)
        named = self.size.width >= _NAMES_FROM
        stages = [
            (f"{number} {title}" if named or number == at + 1 else str(number), "")
            for number, (_, title) in enumerate(SECTIONS, 1)
        ]
        self.query_one(StageLine).show(stages, at)

    def _need_matter(self) -> ReviewMatter:
        if self._matter is None:
            raise BlockedError("The session is not read yet.")
        return self._matter

    @property
    def _session(self) -> Session:
        return self._need_matter().session

    # -- moving --------------------------------------------------------------------------------

    def action_go(self, section: str) -> None:
        """Go to a section."""
        self.query_one(PageView).go_to(section)

    def action_next_section(self) -> None:
        """Go to the next section."""
        self._go_by(1)

    def action_previous_section(self) -> None:
        """Go to the section before."""
        self._go_by(-1)

    def _go_by(self, steps: int) -> None:
        names = [id_ for id_, _ in SECTIONS]
        here = self.query_one(PageView).section
        at = names.index(here) if here in names else 0
        self.action_go(names[max(0, min(at + steps, len(names) - 1))])

    # -- commands ------------------------------------------------------------------------------

    def action_back(self) -> None:
        """Go back to the screen below."""
        self.dismiss(None)

    def action_compare(self) -> None:
        """Compare it with what it is naturally held against."""
        found = self._need_matter().found
        if found is None:
            self.say("Still working out what it is held against.")
        elif found.made is None:
            self.say("There is nothing yet that it could be held against.")
        else:
            a, b = found.made.a, found.made.b
            screen = make_screen("compare", a.session, b.session, a.build, b.build)
            self.app.push_screen(screen)

    def action_resume(self) -> None:
        """Go on with the session while it is open."""
        if self._session.state != "open":
            self.say(f"{self._session.label} is {self._session.state}; o opens it again.")
            return
        self._go_on()

    def _go_on(self) -> None:
        """Put the session's own screen in the place of this one."""
        house, session = self.house, self._session
        self.dismiss(None)
        house.call_later(house.open_session, session.id)

    @asking
    async def action_open_again(self) -> None:
        """Open a closed or stopped session again, with a note why."""
        session, book = self._session, self.house.book
        if session.state == "open":
            self.say(f"{session.label} is open; r goes on with it.")
            return
        if book.log.read_only:
            raise LogReadOnlyError(f"Nothing can be saved. {book.log.read_only_reason}")
        words = await ask_text(
            self.app,
            f"Open {session.label} again",
            sentence="Why? The note stays with the session.",
            check=lambda typed: open_again(session, typed, book.clock()),
        )
        if words is not None:
            book.act(session, lambda now: open_again(now, words, book.clock()))
            self._go_on()

    @asking
    async def action_why(self) -> None:
        """Explain a value that follows from the setup sheet that ran last."""
        session, book = self._session, self.house.book
        past = past_of(book, session.machine)
        sheet = session.sheets[-1] if session.sheets else Sheet()
        machine = book.log.get(Machine, session.machine)
        rpm = FACTORY_RPM if machine.rpm_factory is None else machine.rpm_factory
        await ask_why(self.app, sheet, rpm, past, words=f"{machine.name}, {session.label}")

    @asking
    async def action_print(self) -> None:
        """Write the printable sheet to a file."""
        session = self._session
        text = as_text(session_sheet(self.house.book, session))
        usual = Path.cwd() / f"{_file_name(session.label)}-sheet.txt"
        typed = await ask_text(
            self.app,
            "Write the printable sheet to which file?",
            sentence="Plain text, 80 columns, with the cautions.",
            value=str(usual),
            check=_read_path,
        )
        if typed is None:
            return
        path = _read_path(typed)
        if path.exists() and not await confirm(
            self.app, f"{path.name} is there already.", yes="Write over it", no="Leave it"
        ):
            return
        write_whole(path, text.encode("utf-8"))
        self.say(f"Written to {path}.")


def _file_name(label: str) -> str:
    """Return a label as the start of a file name that any system takes."""
    return re.sub(r"[^\w.-]+", "-", label).strip("-.") or "session"


def _read_path(typed: str) -> Path:
    """Return the file that was typed; raises BackToBackError when it cannot be one."""
    if not typed.strip():
        raise BackToBackError("A file needs a name.")
    path = Path(typed.strip()).expanduser()
    if path.is_dir():
        raise BackToBackError(f"{path} is a folder.")
    return path
