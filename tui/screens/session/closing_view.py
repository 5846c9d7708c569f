"""What the close-out shows: results with and without strikes, the verdict, what is left to say."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from core.attempts import sum_up
from core.errors import BackToBackError, InputError
from core.session import CloseOut, Session
from core.units import format_number
from core.verdict import Comparison, compare_documents, within_session
from tui.predictions import Prediction, prediction_words
from tui.screens.session.desk import Desk
from tui.text import plain
from tui.widgets.columns import Column
from tui.widgets.records import Line, Toned

__all__ = ["CLOSING_COLUMNS", "Judged", "closing_lines", "judge", "verdict_text"]

CLOSING_COLUMNS: Final = (Column("", 1, 1), Column("", 10, 10), Column("", 20, 200))

_DECISIONS: Final = {"keep": "1 keep", "revert": "2 revert", "repeat": "3 repeat"}


@dataclass(frozen=True)
class Judged:
    """The comparisons that a close-out rests on; made away from the screen."""

    against: Comparison | None = None  # with the natural partner
    within: Comparison | None = None  # of two builds of this session
    trouble: str = ""  # why there is no comparison


def judge(desk: Desk) -> Judged:
    """Compare the session with its natural partner and, after a swap, within itself.

    May be called in a thread.
    """
    session, book = desk.session, desk.book
    if not desk.test.unit:
        return Judged(trouble=f"A {desk.test.title} has no number to compare.")
    try:
        within = within_session(book, session)
        partner = desk.partner()
        if partner is None:
            trouble = (
                "" if within else "No earlier session of this machine and test to compare with."
            )
            return Judged(within=within, trouble=trouble)
        return Judged(_against(desk, partner), within)
    except BackToBackError as error:
        return Judged(trouble=" ".join(filter(None, (error.message, error.hint))))


def _against(desk: Desk, partner: Session) -> Comparison:
    """Compare with the partner; of several builds the one that ran last is meant."""
    try:
        return compare_documents(desk.book, partner, desk.session)
    except InputError:
        build = desk.letters[-1] if desk.letters else ""
        return compare_documents(desk.book, partner, desk.session, build_b=build)


def verdict_text(desk: Desk, judged: Judged | None) -> str:
    """Return the verdict and everything that goes with it, weightiest first."""
    return "\n".join(plain(line) for line in _verdict(desk, judged))


def _verdict(desk: Desk, judged: Judged | None) -> Iterator[str]:
    if desk.session.state != "open":
        because = f": {desk.session.stopped_because}" if desk.session.stopped_because else ""
        yield f"{desk.session.label} is {desk.session.state}{because}. o opens it again."
    yield from _results(desk)
    if judged is None:
        yield "Comparing …"
        return
    for made in (judged.within, judged.against):
        if made is not None:
            yield ""
            yield f"{made.b.label} against {made.a.label}"
            yield made.sentence
            yield from made.more
    if judged.trouble:
        yield ""
        yield judged.trouble
    yield from _expected(desk, judged)


def _results(desk: Desk) -> Iterator[str]:
    """Yield the series in a sentence for each build, with what the struck ones would do."""
    session, test = desk.session, desk.test
    if not test.unit:
        return
    letters = desk.letters
    for letter in dict.fromkeys(letters):
        own = [a for a in session.attempts if letters[a.sheet] == letter]
        if not own and len(set(letters)) > 1:
            continue
        series = sum_up(own, test, session.test)
        name = f"{letter}: " if len(set(letters)) > 1 else ""
        yield name + series.sentence
        with_struck = series.with_struck
        if with_struck is not None and with_struck.mean is not None:
            mean = format_number(with_struck.mean, test.decimals)
            yield f"With the {series.struck} struck: mean {mean} {test.unit} of {with_struck.n}."


def _expected(desk: Desk, judged: Judged) -> Iterator[str]:
    """Yield what was predicted beside what came out."""
    made, test = desk.session.prediction, desk.test
    if made is None:
        return
    words = prediction_words(Prediction(made.value, made.give_or_take), test)
    found = judged.against or judged.within
    got = ""
    if found is not None and found.difference is not None:
        got = f"; it came to {found.difference.value:+.{test.decimals}f} {test.unit}"
    yield ""
    yield f"You expected {words}{got}."


def closing_lines(desk: Desk) -> tuple[Line, ...]:
    """Return the lines that are still to be written, or were."""
    made = desk.session.close_out or CloseOut()
    decision = "   ".join(
        f"{'●' if made.decision == key else '○'} {words}" for key, words in _DECISIONS.items()
    )
    rows = (
        ("learnt", "learnt", made.learnt, made.learnt),
        ("decision", "decision", made.decision, decision),
        ("because", "because", made.because, made.because),
        ("following", "next", made.next, made.next),
    )
    return tuple(
        Line(
            key,
            (
                Toned("●" if said else "○", "quiet"),
                Toned(label, "quiet"),
                plain(shown) or Toned("-", "quiet"),
            ),
        )
        for key, label, said, shown in rows
    )
