"""What the sums say beside a check that is due: worked out once for each state of the session."""

from __future__ import annotations

from core.checks import CheckRecord, is_settled
from core.reckon import beside_check
from core.session import Session, past_of
from core.setup import Sheet
from tui.screens.session.desk import Desk

__all__ = ["Beside"]


class Beside:
    """Finds the sentence for a check; it never answers one.

    Args:
        desk: the session.
    """

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._of: Session | None = None
        self._said: dict[str, str] = {}

    def words(self, record: CheckRecord) -> str:
        """Return what the sums say about a check; empty when they say nothing, or not yet.

        Nothing is said before the rest of the log was read in a thread: its answers are wanted.
        """
        desk = self._desk
        if desk.around is None or is_settled(record):
            return ""
        if self._of is not desk.session:
            self._of, self._said = desk.session, {}
        if record.rule not in self._said:
            self._said[record.rule] = self._reckoned(record)
        return self._said[record.rule]

    def _reckoned(self, record: CheckRecord) -> str:
        desk = self._desk
        return beside_check(
            record,
            self._sheet_before(record),
            desk.sheet,
            past_of(desk.book, desk.session.machine),
            rpm_factory=desk.rpm_factory,
            top_speed=desk.top_speed,
        )

    def _sheet_before(self, record: CheckRecord) -> Sheet | None:
        """Return the sheet before the one that asked for the check."""
        at = record.sheet
        return self._desk.session.sheets[at - 1] if at else self._desk.before
