"""Situations of the person at the strip: best-of, many looks, bad days, stopping when ahead."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from core.stats import Verdict
from core.verdict.case import Case
from core.verdict.results import BuildSide
from core.verdict.wording import difference_words, n_words, range_words

__all__ = [
    "best_against_average",
    "many_looks",
    "percent_of_percent",
    "plug_over_clock",
    "prediction_score",
    "stopped_ahead",
]

_MANY = 5  # pairs looked at, from which on the number is said; own rule
_SCORED = 3  # predictions, from which on a score says something; own rule
_PLUG = re.compile(r"\bplug\b", re.IGNORECASE)
_COLOUR = re.compile(r"\b(tan|brown|white|grey|gray|black|soot\w*|colou?r\w*)\b", re.IGNORECASE)
_PERCENT = re.compile(r"\d\s*(%|per\s*cent|percent)", re.IGNORECASE)


def _best(case: Case, side: BuildSide) -> tuple[float, int] | None:
    """Best single attempt of a side, and of how many."""
    session = case.session_a if side is case.made.a else case.session_b
    numbers = {n for group in (*side.attempts, side.left_over) for n in group}
    values = [a.value for a in session.attempts if a.n in numbers and a.value is not None]
    if not values:
        return None
    return (min(values) if case.test.lower_is_better else max(values)), len(values)


def best_against_average(case: Case) -> str | None:
    """The best attempt improved and the average cannot be told to have."""
    before, after = (_best(case, side) for side in case.sides)
    found = case.made.difference
    if before is None or after is None or found is None:
        return None
    gained = (after[0] - before[0]) * (-1.0 if case.test.lower_is_better else 1.0)
    mean = found.value * (-1.0 if case.test.lower_is_better else 1.0)
    if gained <= mean or gained < 10.0**-case.made.decimals or not found.low < 0.0 < found.high:
        return None
    counts = f"{after[1]} attempts against {before[1]}"
    return (
        f"Your best improved by {case.size(gained)}, your average is "
        f"{difference_words(found.value, case.test)} ({range_words(found, case.test)}); best-of "
        f"also gets better just by running more: {counts}. It is not compared."
    )


def many_looks(case: Case) -> str | None:
    """Many pairs of sessions were compared lately."""
    n = case.around.looked_at
    if n < _MANY:
        return None
    return (
        f"This is the {_ordinal(n)} pair of sessions you compared lately; one in twenty looks like "
        "a find by luck. Repeat it before buying."
    )


def _ordinal(n: int) -> str:
    ending = "th" if n % 100 in (11, 12, 13) else {1: "st", 2: "nd", 3: "rd"}.get(n % 10, "th")
    return f"{n}{ending}"


def prediction_score(case: Case) -> str | None:
    """How often it went as predicted, bad days counted in."""
    around = case.around
    if around.predicted < _SCORED:
        return None
    return (
        f"Predictions of the season: {around.predicted_right} of {around.predicted} went the way "
        "you said."
    )


def _said(case: Case) -> Iterator[str]:
    """Words that were written at the end of either session."""
    for session in dict.fromkeys(s.id for s in case.sessions):
        found = next(s for s in case.sessions if s.id == session)
        yield from found.notes
        if found.close_out is not None:
            yield from (found.close_out.learnt, found.close_out.because)


def _both(texts: Iterable[str], first: re.Pattern[str], second: re.Pattern[str]) -> bool:
    return any(first.search(text) and second.search(text) for text in texts)


def plug_over_clock(case: Case) -> str | None:
    """A plug's colour is given as the reason to keep what the clock does not show to be better."""
    close = case.session_b.close_out
    if close is None or close.decision != "keep" or case.made.verdict is Verdict.QUICKER:
        return None
    if not _both((close.learnt, close.because), _PLUG, _COLOUR):
        return None
    return (
        "It was kept for the colour of the plug; the clock does not show it to be better. A colour "
        "is a reason to look at the jet again, not a result."
    )


def percent_of_percent(case: Case) -> str | None:
    """Somebody wrote the gain down in per cent."""
    found = case.made.difference
    if found is None or not any(_PERCENT.search(text) for text in _said(case)):
        return None
    whole = case.size(case.made.a.mean or 0.0)
    return (
        f"Per cent were noted: here they would be of {whole}. Gains in per cent of different tests "
        f"or builds do not add up; {case.size(found.value)} does."
    )


def stopped_ahead(case: Case) -> str | None:
    """The new build ran less than the old one and stopped at its best."""
    made, b = case.made, case.made.b
    if made.verdict is not Verdict.QUICKER or not 1 < b.n < min(made.a.n, case.test.minimum):
        return None
    best = min(b.values) if case.test.lower_is_better else max(b.values)
    if b.values[-1] != best:
        return None
    return (
        f"{b.label} stopped right after its best {b.kind}, with {n_words(b)} against "
        f"{n_words(made.a)}: stopping when ahead makes a gain look larger."
    )
