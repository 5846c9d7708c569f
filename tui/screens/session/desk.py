"""One session as it is on disk, what is known around it, and the saving of each action."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import TypeVar

from core.attempts import Attempt, find_test
from core.checks import (
    CheckRecord,
    current_checks,
    may_attempt,
    open_stops,
)
from core.errors import BackToBackError, BlockedError, LogReadOnlyError
from core.session import (
    Answering,
    Book,
    Filled,
    Place,
    Session,
    answer_check,
    open_check_again,
    put_on,
    swap_to,
)
from core.session.live import attempts_of_build, is_explained, range_of
from core.setup import FACTORY_RPM, Machine, Sheet, build_letters
from core.verdict import Odd, Pool, natural_partner, odd_attempts, pool_of
from core.verdict.baseline import Baseline, baseline_of
from tui.screens.session.last_words import LastWords

__all__ = ["Desk", "Surroundings"]

D = TypeVar("D", Machine, Place)


@dataclass(frozen=True)
class Surroundings:
    """What the rest of the log says about this session; read away from the screen."""

    pool: Pool  # repeatability from the other sessions
    baseline: Baseline | None  # what the build on now is held against


class Desk:
    """The session that is worked on; every action is on disk when the call returns.

    Args:
        book: the open log.
        session_id: of the session.

    Raises:
        BackToBackError: the session or its test cannot be read.
    """

    def __init__(self, book: Book, session_id: str) -> None:
        self.book = book
        self.session = book.log.get(Session, session_id)
        self.test = find_test(self.session.test)
        self.machine = _found(book, Machine, self.session.machine)
        self.place = _found(book, Place, self.session.place)
        self.before = _sheet_before(book, self.session)
        self.around: Surroundings | None = None
        self._labels: dict[str, str] = {}
        self.last_words = LastWords(book, self.session)
        self._odd_of: Session | None = None  # the session that the next line is about
        self._odd: tuple[Odd, ...] = ()

    # -- what it is ----------------------------------------------------------------------------

    def now(self) -> datetime:
        """Return the time now."""
        return self.book.clock()

    @property
    def machine_name(self) -> str:
        """Name of the machine, or its id when the log does not hold it."""
        return self.machine.name if self.machine else self.session.machine

    @property
    def place_name(self) -> str:
        """Name of the place; empty: not told."""
        return self.place.name if self.place else self.session.place

    def label_of(self, session_id: str) -> str:
        """Return the label of a session, or its id when the log does not hold it."""
        if session_id not in self._labels:
            self._labels |= {head.id: head.label for head in self.book.sessions()}
        return self._labels.get(session_id, session_id)

    @property
    def rpm_factory(self) -> float:
        """Governed speed of the machine as built, rpm."""
        told = self.machine.rpm_factory if self.machine else None
        return FACTORY_RPM if told is None else told

    @property
    def top_speed(self) -> float | None:
        """Fastest speed that the test tells, km/h; None: it tells none."""
        told = (self.test.from_speed, self.test.to_speed)
        return max((speed for speed in told if speed is not None), default=None)

    @property
    def sheet(self) -> Sheet:
        """The setup sheet it runs on now."""
        return self.session.sheets[-1] if self.session.sheets else Sheet()

    @property
    def sheet_index(self) -> int:
        """Index of that sheet."""
        return max(0, len(self.session.sheets) - 1)

    @property
    def base_sheet(self) -> Sheet | None:
        """The sheet that the newest one is counted against."""
        return self.session.sheets[-2] if len(self.session.sheets) > 1 else self.before

    @property
    def letters(self) -> tuple[str, ...]:
        """A letter for each sheet."""
        return build_letters(self.session.sheets)

    @property
    def sheet_has_run(self) -> bool:
        """Whether attempts were made on the newest sheet, so that a change is a swap."""
        return any(a.sheet == self.sheet_index for a in self.session.attempts)

    # -- checks --------------------------------------------------------------------------------

    @property
    def checks(self) -> tuple[CheckRecord, ...]:
        """The record that counts for each check."""
        return current_checks(self.session.checks, self.sheet_index)

    @property
    def stops(self) -> tuple[CheckRecord, ...]:
        """The stop checks that are open, in the order of their urgency."""
        return open_stops(self.session.checks, self.sheet_index, len(self.session.attempts))

    @property
    def barred(self) -> str:
        """One sentence why no attempt can be entered; empty if one can."""
        try:
            self.need_writing()
            may_attempt(self.session.checks, self.sheet_index, len(self.session.attempts))
        except BackToBackError as error:
            return error.message
        return ""

    def words_before(self, rule: str) -> str:
        """Return what was last answered to a check in words here; empty if never."""
        said = self.last_words.of(rule)
        return said.words if said else ""

    # -- attempts ------------------------------------------------------------------------------

    @property
    def of_build(self) -> tuple[Attempt, ...]:
        """The attempts of the build that is on now."""
        return attempts_of_build(self.session)

    @property
    def usual(self) -> tuple[float, float] | None:
        """Lowest and highest so far: of this build, of this session, or of the baseline."""
        for attempts in (self.of_build, self.session.attempts):
            found = range_of(attempts, self.session.test)
            if found is not None:
                return found
        return self.around.baseline.span if self.around and self.around.baseline else None

    @property
    def usual_of(self) -> str:
        """Whose range that is, in a word or two."""
        if range_of(self.of_build, self.session.test):
            return "this build"
        if range_of(self.session.attempts, self.session.test) or not self.around:
            return "this session"
        return self.around.baseline.side.label if self.around.baseline else ""

    @property
    def odd(self) -> tuple[Odd, ...]:
        """Attempts that stand apart; none before the rest of the log was read."""
        if self.around is None or not self.test.unit:
            return ()
        if self._odd_of is not self.session:
            self._odd_of, self._odd = self.session, odd_attempts(self.session, self.around.pool)
        return self._odd

    def odd_unasked(self) -> Odd | None:
        """Return the first attempt that stands apart and of which nothing was said yet."""
        unsaid = {a.n for a in self.session.attempts if not is_explained(a)}
        return next((odd for odd in self.odd if odd.n in unsaid), None)

    # -- doing ---------------------------------------------------------------------------------

    @property
    def may_write(self) -> bool:
        """Whether anything can be entered at all."""
        return not self.book.log.read_only and self.session.state == "open"

    def need_writing(self) -> None:
        """Refuse when nothing can be entered: read-only log, or a session that is not open.

        Raises:
            LogReadOnlyError: the log is open to read only.
            BlockedError: the session is closed or stopped.
        """
        log = self.book.log
        if log.read_only:
            raise LogReadOnlyError(f"Nothing can be entered. {log.read_only_reason}")
        if self.session.state != "open":
            raise BlockedError(
                f"{self.session.label} is {self.session.state}.",
                "o in the close-out opens it again, with a note.",
            )

    def act(self, action: Callable[[Session, datetime], Session]) -> None:
        """Do something to the session with the time now, and save it.

        Raises:
            BackToBackError: it is refused, or could not be saved; nothing is changed then.
        """
        at = self.now()
        self.session = self.book.act(self.session, lambda session: action(session, at))

    def read_again(self) -> None:
        """Take the session as it is on disk: readings at the bench change it."""
        self.session = self.book.log.get(Session, self.session.id)

    def answer(self, rule: str, text: str) -> Answering:
        """Enter the result of a check and save it."""
        self.need_writing()
        return self._answered(answer_check(self.session, rule, text, self.now()))

    def answer_again(self, rule: str) -> Answering:
        """Take the answer of a check back and save it."""
        self.need_writing()
        return self._answered(open_check_again(self.session, rule, self.now()))

    def _answered(self, given: Answering) -> Answering:
        self.book.save(given.session)
        self.session = given.session
        return given

    def put(self, filled: Filled) -> None:
        """Set slots: on the sheet itself before it has run, else as a swap; shelf and all saved."""
        self.need_writing()
        do = swap_to if self.sheet_has_run else put_on
        self.session = do(self.book, self.session, filled)

    # -- the rest of the log -------------------------------------------------------------------

    def partner(self) -> Session | None:
        """Return the session this one is naturally held against; may be called in a thread."""
        return natural_partner(self.book, self.session)

    def read_around(self) -> Surroundings:
        """Read what the rest of the log says; may be called in a thread."""
        session, book = self.session, self.book
        pool = pool_of(
            book.sessions(), session.machine, session.test, session.timing, leave_out=session.id
        )
        around = Surroundings(pool, baseline_of(book, session))
        if self.test.unit:
            odd_attempts(session, pool)  # loads what the sums need, so that no key waits for it
        book.cleared_before(session.machine)
        return around


def _found(book: Book, type_: type[D], document_id: str) -> D | None:
    """Return a document, or None when the log does not hold it any more."""
    if not document_id:
        return None
    try:
        return book.log.get(type_, document_id)
    except BackToBackError:
        return None


def _sheet_before(book: Book, session: Session) -> Sheet | None:
    try:
        return book.sheet_before(session)
    except BackToBackError:
        return None
