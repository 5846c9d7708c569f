"""The why screen: one value at a time, with the keys to the next and to any other."""

from __future__ import annotations

from typing import Any, ClassVar

from textual.app import App, ComposeResult
from textual.binding import BindingType

from core.bench import Past
from core.reckon import Why, why
from core.setup import Sheet
from tui.commands import bindings_for
from tui.dialogs import asking, pick
from tui.screens.base import HouseScreen
from tui.screens.why.page import value_rows, why_page
from tui.widgets.page import Page, PageView

__all__ = ["WhyScreen", "ask_why"]


class WhyScreen(HouseScreen[None]):
    """Explains a value of a sheet.

    Args:
        sheet: the sheet that the value follows from.
        rpm_factory: governed speed of the machine as its maker built it, rpm.
        past: bench readings and instruments of the machine.
        at: id of the value to begin with.
        words: what the sheet is: ``Kettle Moth, as in S10``.
        before: the sheet as the machine stands, where ``sheet`` is a plan; None: it is none.
    """

    SCENE = "why"
    AUTO_FOCUS = "PageView"
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("why")

    def __init__(
        self,
        sheet: Sheet,
        rpm_factory: float,
        past: Past,
        at: str,
        words: str = "",
        before: Sheet | None = None,
    ) -> None:
        super().__init__()
        self._sheet = sheet
        self._rpm_factory = rpm_factory
        self._past = past
        self._words = words
        self._before = before
        self._rows = value_rows(sheet, rpm_factory, past, before)
        self._at = next((i for i, row in enumerate(self._rows) if row.id == at), 0)

    def compose_body(self) -> ComposeResult:
        """Yield the page."""
        yield PageView()

    def on_mount(self) -> None:
        """Explain the first value."""
        self._show()

    @property
    def explained(self) -> Why:
        """The value that is explained now."""
        return why(
            self._sheet,
            self._rows[self._at].id,
            rpm_factory=self._rpm_factory,
            past=self._past,
            before=self._before,
        )

    def _show(self) -> None:
        found = self.explained
        self.entitle(f"Why  {found.title}", self._words)
        self.query_one(PageView).show(self._page)
        self.query_one(PageView).action_first()
        self.usually_say(f"value {self._at + 1} of {len(self._rows)}")

    def _page(self, width: int, height: int) -> Page:
        return why_page(self.explained, width)

    def _go(self, steps: int) -> None:
        self._at = (self._at + steps) % len(self._rows)
        self._show()

    def action_next(self) -> None:
        """Explain the next value."""
        self._go(1)

    def action_previous(self) -> None:
        """Explain the value before."""
        self._go(-1)

    @asking
    async def action_which(self) -> None:
        """Pick another value."""
        picked = await pick(self.app, "Why what?", self._rows, at=self._rows[self._at].id)
        if picked is not None:
            self._at = [row.id for row in self._rows].index(picked.id)
            self._show()

    def action_back(self) -> None:
        """Go back to the screen below."""
        self.dismiss(None)


async def ask_why(
    app: App[Any],
    sheet: Sheet,
    rpm_factory: float,
    past: Past,
    *,
    at: str = "",
    words: str = "",
    before: Sheet | None = None,
) -> None:
    """Explain a value; without one it is picked first.

    Args:
        app: the app.
        sheet: the sheet that the value follows from.
        rpm_factory: governed speed of the machine as its maker built it, rpm.
        past: bench readings and instruments of the machine.
        at: id of the value; empty, or no value that can be explained: it is asked for.
        words: what the sheet is.
        before: the sheet as the machine stands, where ``sheet`` is a plan; None: it is none.
    """
    rows = value_rows(sheet, rpm_factory, past, before)
    if at not in {row.id for row in rows}:
        picked = await pick(app, "Why what?", rows)
        if picked is None:
            return
        at = picked.id
    await app.push_screen_wait(WhyScreen(sheet, rpm_factory, past, at, words, before))
