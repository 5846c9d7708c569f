"""The comparison screen: what is asked by keys goes to a thread, what comes back is laid out."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.message import Message

from core.errors import BackToBackError, BlockedError
from core.report.comparison_view import Asked, ComparisonView, view_of
from core.verdict import LookId
from tui.commands import bindings_for
from tui.dialogs import Option, ask_choice, ask_text, asking
from tui.drafts import read_gain
from tui.screens.base import HouseScreen
from tui.screens.compare.page import comparison_page, refusal_page, waiting_page
from tui.screens.routes import make_screen
from tui.widgets.page import Page, PageView
from tui.widgets.picture import ascii_wanted

__all__ = ["CompareScreen"]

_USUAL: LookId = "as it counts"


class CompareScreen(HouseScreen[None]):
    """Two sessions, or two builds of one, the second against the first.

    Args:
        first_id: id of the session to hold against.
        second_id: id of the session that is asked about; may be the same one.
        first_build: letter; empty: chosen by itself.
        second_build: letter; empty: chosen by itself.
    """

    SCENE = "compare"
    AUTO_FOCUS = "PageView"
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("compare")

    @dataclass
    class Compared(Message):
        """A comparison was worked out, or refused."""

        number: int
        view: ComparisonView | None
        error: BackToBackError | None

    def __init__(
        self, first_id: str, second_id: str, first_build: str = "", second_build: str = ""
    ) -> None:
        super().__init__()
        self._asked = Asked(first_id, second_id, first_build, second_build)
        self._number = 0  # of the newest request; answers to older ones are not shown
        self._view: ComparisonView | None = None
        self._error: BackToBackError | None = None
        self._look: LookId = _USUAL
        self._unfolded = False

    def compose_body(self) -> ComposeResult:
        """Yield the page."""
        yield PageView()

    def on_mount(self) -> None:
        """Show the frame at once; the sums come from a thread."""
        self.entitle("Comparison")
        self._ask(self._asked)

    # -- asking and showing --------------------------------------------------------------------

    @property
    def view(self) -> ComparisonView | None:
        """What is shown now; None before the first answer and after a refusal."""
        return self._view

    def _ask(self, asked: Asked) -> None:
        """Have a comparison worked out; until then what is shown stays, or a quiet line."""
        self._asked = asked
        self._number += 1
        if self._view is None:
            self.query_one(PageView).show(lambda width, _: waiting_page("Comparing …", width))
        work = partial(self._compare, self._number, asked)
        self.run_worker(work, name="compare", group="compare", thread=True, exclusive=True)

    def _compare(self, number: int, asked: Asked) -> None:
        try:
            answer = self.Compared(number, view_of(self.house.book, asked), None)
        except BackToBackError as error:
            answer = self.Compared(number, None, error)
        self.post_message(answer)

    def on_compare_screen_compared(self, message: Compared) -> None:
        """Show the answer, unless something else was asked meanwhile."""
        if message.number != self._number:
            return
        self._view, self._error = message.view, message.error
        if self._view is not None:
            self._asked = self._view.asked
            if self._look not in {seen.look.id for seen in self._view.seen}:
                self._look = _USUAL
        self._show()

    def _show(self) -> None:
        view, error = self._view, self._error
        if error is not None:
            self.entitle("Comparison", "not possible")
            self.query_one(PageView).show(lambda width, _: refusal_page(error, width))
        elif view is not None:
            made = view.made
            self.entitle(
                f"{made.b.label} against {made.a.label}", f"{view.test.name}  {view.machine}"
            )
            self.query_one(PageView).show(partial(self._page, view))

    def _page(self, view: ComparisonView, width: int, height: int) -> Page:
        return comparison_page(
            view,
            self._look,
            unfolded=self._unfolded,
            width=width,
            height=height,
            ascii_only=ascii_wanted(),
        )

    def _need_view(self) -> ComparisonView:
        if self._view is None:
            raise BlockedError("There is nothing to look at yet.")
        return self._view

    # -- commands ------------------------------------------------------------------------------

    def action_back(self) -> None:
        """Go back to the screen below."""
        self.dismiss(None)

    def action_swap(self) -> None:
        """Hold the first against the second."""
        self._ask(self._asked.swapped)
        self.say("Sides swapped.")

    def action_fold(self) -> None:
        """Show or fold what is no cause."""
        self._unfolded = not self._unfolded
        self._show()

    def action_first_build(self) -> None:
        """Take the next build of the first session."""
        self._next_build(0)

    def action_second_build(self) -> None:
        """Take the next build of the second session."""
        self._next_build(1)

    def _next_build(self, side: int) -> None:
        """Take the next build of a side; one that is the other side already is passed over."""
        view = self._need_view()
        labels = (view.made.a.label, view.made.b.label)
        asked = view.asked
        now = (asked.first_build, asked.second_build)
        run = view.builds[side]
        within = asked.first == asked.second
        free = [letter for letter in run if not (within and letter == now[1 - side])]
        label = labels[side].partition(":")[0]
        if len(run) < 2:
            self.say(f"{label} ran one build only.")
            return
        if len(free) < 2:
            self.say(f"{label} ran two builds, and both are compared already; s swaps the sides.")
            return
        following = free[(free.index(now[side]) + 1) % len(free)] if now[side] in free else free[0]
        if side == 0:
            self._ask(replace(asked, first_build=following))
        else:
            self._ask(replace(asked, second_build=following))
        self.say(f"Build {following} of {label}.")

    def action_test(self) -> None:
        """Compare on the next test that both ran."""
        view = self._need_view()
        tests = view.tests
        if len(tests) < 2 or view.test.name not in tests:
            self.say("Both ran one test only." if tests else "They share no test.")
            return
        following = tests[(tests.index(view.test.name) + 1) % len(tests)]
        self._ask(replace(view.asked, first_build="", second_build="", test=following, gain=None))
        self.say(f"On {following}.")

    def action_odd(self) -> None:
        """Look at it without what stands apart, or with it again."""
        self._turn_to("without odd", "Nothing stands apart on either side.")

    def action_struck(self) -> None:
        """Look at it with the struck attempts counted, or without them again."""
        self._turn_to("with struck", "No attempt with a time is struck on either side.")

    def _turn_to(self, look: LookId, nothing: str) -> None:
        seen = {seen.look.id: seen.look for seen in self._need_view().seen}
        if look not in seen:
            self.say(nothing)
            return
        turned = self._look != look
        self._look = look if turned else _USUAL
        self._show()
        words = seen[self._look].words
        self.say(f"Looked at {words}; the answer on top is as it counts." if turned else "")

    @asking
    async def action_gain(self) -> None:
        """Ask for the smallest gain worth having, for this look only."""
        view = self._need_view()
        text = await ask_text(
            self.app,
            "Smallest gain worth having",
            sentence=f"For this look only; it is not saved to a session. Unit: {view.made.unit}. "
            "Empty goes back to what the sessions said.",
            value="" if self._asked.gain is None else f"{self._asked.gain:g}",
            check=lambda typed: read_gain(typed, view.test),
        )
        if text is not None:
            self._ask(replace(self._asked, gain=read_gain(text, view.test)))

    @asking
    async def action_read(self) -> None:
        """Read one of the two sessions."""
        view = self._need_view()
        asked = view.asked
        chosen = asked.second
        if asked.first != asked.second:
            options = (
                Option("1", view.made.a.label.partition(":")[0]),
                Option("2", view.made.b.label.partition(":")[0]),
            )
            answer = await ask_choice(self.app, "Read which one?", options, at=1)
            if answer is None:
                return
            chosen = asked.first if answer.key == "1" else asked.second
        self.app.push_screen(make_screen("review", chosen))
