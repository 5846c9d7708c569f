"""The merge screen: one conflict at a time; nothing is saved before a key says so."""

from __future__ import annotations

from pathlib import Path
from typing import ClassVar

from textual.binding import BindingType

from core.errors import BlockedError, LogReadOnlyError
from core.exchange.merge import Clash, Decision, MergePlan, apply_merge, plan_merge, source_of
from core.report import Report
from core.report.merging import clash_blocks, merge_summary
from core.session import Book
from tui.commands import bindings_for
from tui.dialogs import ask_text, asking
from tui.screens.report_page import ReportScreen

__all__ = ["MergeScreen"]


class MergeScreen(ReportScreen):
    """What another log, or the conflict copies in this one, would bring.

    Args:
        other: a log folder or file of JSON lines; empty: conflict copies in the log itself.
    """

    SCENE = "merge"
    NAME = "merge"
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("merge")

    def __init__(self, other: str = "") -> None:
        super().__init__()
        self._other = other
        self._plan: MergePlan | None = None
        self._at = 0  # index of the conflict that is shown

    def make_report(self, book: Book) -> Report:
        """Return what the merge would do, and the conflict under review."""
        plan = plan_merge(book, source_of(book, Path(self._other) if self._other else None))
        self._plan = plan
        self._at = min(self._at, max(0, len(plan.clashes) - 1))
        blocks = [*merge_summary(plan)]
        if plan.clashes:
            blocks += clash_blocks(plan.clashes[self._at])
        count = f"  conflict {self._at + 1} of {len(plan.clashes)}" if plan.clashes else ""
        return Report(f"Merge: {plan.source.name}{count}", tuple(blocks))

    def _need_plan(self) -> MergePlan:
        if self._plan is None or self.report is None:
            raise BlockedError("The other log is not read yet.")
        log = self.house.book.log
        if log.read_only:
            raise LogReadOnlyError(f"Nothing can be saved. {log.read_only_reason}")
        return self._plan

    def _need_clash(self) -> Clash:
        plan = self._need_plan()
        if not plan.clashes:
            raise BlockedError("Nothing is in conflict.")
        return plan.clashes[self._at]

    def _decide(self, decision: Decision) -> None:
        plan, clash = self._need_plan(), self._need_clash()
        merged = apply_merge(self.house.book, plan, {clash.id: decision})
        self.ask_again()
        self.say(" ".join(merged.settled))

    # -- commands ------------------------------------------------------------------------------

    def action_take(self) -> None:
        """Take in what is new; conflicts stay as they are."""
        merged = apply_merge(self.house.book, self._need_plan(), {})
        self.ask_again()
        count = len(merged.new) + len(merged.further)
        self.say(f"{count} document{'' if count == 1 else 's'} went in.")

    def action_here(self) -> None:
        """The version of this log stays."""
        self._decide(Decision("here"))

    def action_there(self) -> None:
        """The other version takes its place."""
        self._decide(Decision("there"))

    def action_both(self) -> None:
        """Both stay, as two sessions."""
        self._decide(Decision("both"))

    def action_next(self) -> None:
        """Go to the next conflict and leave this one."""
        plan = self._need_plan()
        self._need_clash()
        self._at = (self._at + 1) % len(plan.clashes)
        self.ask_again()

    @asking
    async def action_other(self) -> None:
        """Name the other log."""
        typed = await ask_text(
            self.app,
            "Merge which log into this one?",
            sentence="A log folder or JSON lines; empty: conflict copies in this log.",
            value=self._other,
        )
        if typed is not None:
            self._other, self._at = typed.strip(), 0
            self.ask_again()
