"""What was last answered in words to a check: at this place, or on this machine."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from core.checks import rule_for
from core.errors import BackToBackError
from core.session import Book, Session

__all__ = ["LastWords", "Said"]

_OF_THE_PLACE: Final = frozenset({"Place", "Emergency plan"})
"""Groups whose answers belong to the place; all others belong to the machine."""

_LOOKED: Final = frozenset({"jet_note", "knock_look", "plug_run"})
"""What only a look of today can answer: never offered again."""

_AT_MOST: Final = 6  # sessions looked back on


@dataclass(frozen=True)
class Said:
    """An answer of an earlier session."""

    words: str
    label: str  # of the session


class LastWords:
    """Looks back once, when it is first asked.

    Args:
        book: the open log.
        session: the session that asks.
    """

    def __init__(self, book: Book, session: Session) -> None:
        self._book = book
        self._session = session
        self._said: dict[str, Said] | None = None

    def of(self, rule: str) -> Said | None:
        """Return what was said last to a check in words, or None."""
        if self._said is None:
            self._said = self._looked_up()
        return self._said.get(rule)

    def _looked_up(self) -> dict[str, Said]:
        mine, said = self._session, dict[str, Said]()
        heads = [
            head
            for head in reversed(self._book.sessions())
            if head.id != mine.id
            and ((mine.place and head.place == mine.place) or head.machine == mine.machine)
        ]
        for head in heads[:_AT_MOST]:
            try:
                records = self._book.log.get(Session, head.id).checks
            except BackToBackError:
                continue
            for record in records:
                rule = rule_for(record)
                if not record.result or rule.answer != "text" or record.rule in _LOOKED:
                    continue
                same = (
                    mine.place and head.place == mine.place
                    if rule.group in _OF_THE_PLACE
                    else head.machine == mine.machine
                )
                if same:
                    said.setdefault(record.rule, Said(record.result, head.label))
        return said
