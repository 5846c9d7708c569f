"""Whether a session of a file is in the log already: row against attempt, in their order."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from core.attempts import Attempt, find_test
from core.attempts.entry import write_value
from core.exchange.drafts import Draft, Entry
from core.exchange.sheets_in import keys_of_sheet
from core.session import Session

__all__ = ["Match", "match"]

_SAME_VALUE = 1e-9  # share; two values this near to each other are one
_SAME_TIME = 1.0  # s


@dataclass(frozen=True, slots=True)
class Match:
    """What a draft adds to a session of the log."""

    known: Mapping[int, Attempt]  # attempts of the log by index of the entry that tells them
    new: tuple[int, ...]  # indexes of the entries that the log does not hold
    contradiction: str = ""  # why the two cannot be the same session; then nothing is new


def match(draft: Draft, session: Session, columns: frozenset[str]) -> Match:
    """Hold a draft against the session of its label and machine.

    What the file leaves blank contradicts nothing. Its rows may go on where the log ends, may be
    fewer than the log's, and may fill gaps between attempts that came from a file.

    Args:
        draft: the rows of the file.
        session: the one in the log.
        columns: names of the columns that the file has.
    """
    told = _Attempts(session, columns)
    known = _walk(draft, session, told)
    if len(known) == len(session.attempts):
        new = tuple(i for i in range(len(draft.entries)) if i not in known)
        inside = bool(known and new) and min(new) < max(known)
        if inside and any(a.entered != "imported" for a in session.attempts):
            line = draft.entries[new[0]].row.line
            return Match({}, (), f"line {line} stands between attempts that the log has in a row.")
        return Match(known, new)
    if len(known) == len(draft.entries):
        return Match(known, ())
    return Match({}, (), _said(draft, session, known))


class _Attempts:
    """The attempts of a session as a file would tell them."""

    def __init__(self, session: Session, columns: frozenset[str]) -> None:
        self._session = session
        self._columns = columns
        self._keys = [keys_of_sheet(sheet) for sheet in session.sheets]

    def are_told_by(self, attempt: Attempt, entry: Entry) -> bool:
        """Tell whether a row says what the log says of an attempt."""
        return (
            self._same_run(attempt, entry)
            and self._same_marks(attempt, entry)
            and self._same_setup(attempt, entry)
        )

    def _same_run(self, attempt: Attempt, entry: Entry) -> bool:
        row = entry.row
        timing = attempt.timing or self._session.timing
        return (
            _same_value(attempt, entry)
            and (attempt.test or self._session.test) == row.test
            and row.timing in ("", timing)
            and entry.direction in ("", attempt.direction)
            and _same_time(attempt, entry)
        )

    def _same_marks(self, attempt: Attempt, entry: Entry) -> bool:
        row = entry.row
        code = attempt.strike.code if attempt.strike else ""
        pairs = {
            "kind": (attempt.kind, row.kind),
            "tag": ((sorted(attempt.tags), attempt.unsure), (sorted(row.tags), row.unsure)),
            "struck": (code, row.strike.code if row.strike else ""),
            "note": (attempt.note, row.note),
        }
        return all(held == told for name, (held, told) in pairs.items() if name in self._columns)

    def _same_setup(self, attempt: Attempt, entry: Entry) -> bool:
        if not 0 <= attempt.sheet < len(self._keys):
            return not entry.told
        held = self._keys[attempt.sheet]
        return all(held.get(slot, "") == told.key for slot, told in entry.told.items())


def _same_value(attempt: Attempt, entry: Entry) -> bool:
    if attempt.value is None or entry.row.value is None:
        in_words = "" if "aborted" in (attempt.kind, entry.row.kind) else attempt.text.strip()
        return attempt.value is entry.row.value and in_words == entry.row.text
    return math.isclose(attempt.value, entry.row.value, rel_tol=_SAME_VALUE)


def _same_time(attempt: Attempt, entry: Entry) -> bool:
    if attempt.at is None or entry.at is None:
        return True
    return abs((attempt.at - entry.at).total_seconds()) <= _SAME_TIME


def _walk(draft: Draft, session: Session, told: _Attempts) -> dict[int, Attempt]:
    """Find the attempts of the log among the rows, or the rows among the attempts, in order."""
    forward: dict[int, Attempt] = {}
    at = 0
    for index, entry in enumerate(draft.entries):
        if at < len(session.attempts) and told.are_told_by(session.attempts[at], entry):
            forward[index] = session.attempts[at]
            at += 1
    if at == len(session.attempts):
        return forward
    fewer: dict[int, Attempt] = {}
    for attempt in session.attempts:
        index = len(fewer)
        if index < len(draft.entries) and told.are_told_by(attempt, draft.entries[index]):
            fewer[index] = attempt
    return fewer if len(fewer) == len(draft.entries) else forward


def _said(draft: Draft, session: Session, known: Mapping[int, Attempt]) -> str:
    """Say where the file and the log part."""
    held = {attempt.n for attempt in known.values()}
    first = next(a for a in session.attempts if a.n not in held)
    test = find_test(first.test or session.test)
    value = first.kind if first.value is None else f"{write_value(first.value, test)} {test.unit}"
    shown = " ".join(filter(None, (str(first.n), value, first.direction)))
    lines = f"lines {draft.entries[0].row.line} to {draft.entries[-1].row.line}"
    return f"attempt {shown} of the log is not in the file ({lines}), or not as the log has it."
