"""What is in a recording for a session: its runs, the attempts they are, what was said of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from types import MappingProxyType
from typing import Final, Literal

import msgspec

from core.attempts import Attempt, Test, find_test
from core.session.documents import Session
from core.session.matching_runs import Matching, RunMatch, learned_bearings, match_runs
from core.session.run_judging import taken_value
from core.session.tracing import run_moment, wanted_of
from core.trace import Found, FoundRun, JudgedRun, StartRule, TraceDocument, start_in_words
from core.trace.runs import Bearings, bearings_of, find_runs
from core.trace.traces import Trace

__all__ = ["Looked", "RunState", "Standing", "look_for", "standings", "start_said"]

RunState = Literal["open", "accepted", "adjusted", "beside", "refused"]
"""``beside``: put beside an attempt that was typed, as what a second timer said."""

_NO_BEARINGS: Final[Bearings] = MappingProxyType({})
_SAME: Final = 1e-9


class Standing(msgspec.Struct, frozen=True):
    """What was made of one run so far."""

    state: RunState
    attempt: int | None = None  # number of the attempt it became or was put beside
    run: FoundRun | None = None  # as it was adjusted; None: as found


class Looked(msgspec.Struct, frozen=True):
    """The runs of one test in a recording, held against a session."""

    found: Found
    matching: Matching | None  # None: there is no session
    standings: tuple[Standing, ...]  # one for each run

    @property
    def shift(self) -> float:
        """Seconds to add to the clock of the recording."""
        return self.matching.shift if self.matching is not None else 0.0

    def attempt_of(self, place: int) -> int | None:
        """Number of the typed attempt that a run is, where the clock tells; None: none."""
        pairs = self.matching.pairs if self.matching is not None else ()
        return next((pair.attempt for pair in pairs if pair.run == place), None)


def look_for(
    trace: Trace,
    test: Test,
    session: Session | None = None,
    *,
    start: StartRule | None = None,
    bearings: Bearings = _NO_BEARINGS,
    shift: float | None = None,
    document: TraceDocument | None = None,
) -> Looked:
    """Find the runs of a test and hold them against a session; may be called in a thread.

    The names of directions come from the compass points that a place is called by, or else from
    the courses of runs whose attempts say which way they went.

    Args:
        trace: the recording.
        test: what to look for.
        session: to hold the runs against; None: none.
        start: when the clock of a standing start runs; None: from first motion.
        bearings: of the place's directions; empty: as above.
        shift: s to add to the clock of the recording; None: proposed, with its reason.
        document: of the recording, with what was said of its runs; None: nothing yet.

    Raises:
        InputError: the test cannot be found by speed alone.
    """
    wanted = wanted_of(test, start)
    told = bearings or (bearings_of(session.directions) if session is not None else {})
    found = find_runs(trace, wanted, told)
    if session is None:
        return Looked(found, None, tuple(Standing("open") for _ in found.runs))
    reason = document.shift_reason if document is not None and shift is None else ""
    if document is not None and reason:
        shift = document.shift
    matching = match_runs(trace, found.runs, session, shift)
    if reason:
        matching = msgspec.structs.replace(matching, reason=reason)
    standing = standings(trace, found.runs, session, document, matching.shift)
    if not told:
        known = _with_accepted(matching, standing)
        told = learned_bearings(known, found.runs, session)
        found = find_runs(trace, wanted, told) if told else found
    return Looked(found, matching, standing)


def start_said(document: TraceDocument | None) -> StartRule:
    """Return the rule by which the runs of a recording were taken last; else from first motion."""
    said = [line.run.start_rule for line in (document.runs if document else ())]
    return start_in_words(next((rule for rule in reversed(said) if rule), ""))


def _with_accepted(matching: Matching, standing: Sequence[Standing]) -> Matching:
    """The pairs by clock, and those that a person made."""
    made = tuple(
        RunMatch(place, one.attempt, 0.0, None)
        for place, one in enumerate(standing)
        if one.attempt is not None
    )
    taken = {pair.run for pair in made}
    by_clock = tuple(pair for pair in matching.pairs if pair.run not in taken)
    return msgspec.structs.replace(matching, pairs=(*by_clock, *made))


def standings(
    trace: Trace,
    runs: Sequence[FoundRun],
    session: Session,
    document: TraceDocument | None,
    shift: float = 0.0,
) -> tuple[Standing, ...]:
    """Return what was made of each run; what was undone in the session counts no more.

    Args:
        trace: the recording.
        runs: found in it.
        session: that the runs went into.
        document: of the recording; None: it is not kept yet.
        shift: s to add to the clock of the recording.
    """
    said = {(j.run.test, j.run.from_index): j for j in (document.runs if document else ())}
    attempts = {attempt.n: attempt for attempt in session.attempts}
    found = []
    for run in runs:
        line = said.get((run.test, run.from_index))
        found.append(
            _by_line(line, attempts)
            if line is not None
            else _by_time(run, run_moment(trace, run, session, shift), session)
        )
    return tuple(found)


def _by_line(line: JudgedRun, attempts: Mapping[int, Attempt]) -> Standing:
    """What the recording's document says, as far as the session still says the same."""
    if line.verdict == "refused":
        return Standing("refused")
    attempt = attempts.get(line.attempt or 0)
    if attempt is None:
        return Standing("open")
    adjusted = line.run if line.verdict == "adjusted" else None
    if attempt.entered == "trace" and _same(attempt.value, line.run):
        return Standing("adjusted" if adjusted else "accepted", attempt.n, adjusted)
    if _same(attempt.second, line.run):
        return Standing("beside", attempt.n, adjusted)
    return Standing("open")


def _by_time(run: FoundRun, moment: datetime | None, session: Session) -> Standing:
    """Whether the session has the run although its recording does not say so."""
    test = find_test(run.test).name
    for attempt in session.attempts:
        if attempt.entered != "trace" or attempt.at is None or moment is None:
            continue
        same_test = find_test(attempt.test or session.test).name == test
        if same_test and attempt.at == moment and _same(attempt.value, run):
            return Standing("accepted", attempt.n)
    return Standing("open")


def _same(value: float | None, run: FoundRun) -> bool:
    return value is not None and abs(value - taken_value(run)) <= _SAME
