"""Situations of the result itself: what limits it, too few, tight, hanging on one attempt."""

from __future__ import annotations

from collections.abc import Callable

from core.stats import Difference, Verdict
from core.verdict.case import Case
from core.verdict.sentences import otherwise, word_for
from core.verdict.wording import joined, verdict_words

__all__ = ["by_cap", "hangs_on_one", "null_tight", "odd_questions", "too_few", "with_or_without"]


def by_cap(name: str) -> Callable[[Case], str | None]:
    """Return the rule that says what a cap of the cap table says."""

    def said(case: Case) -> str | None:
        return next((cap.sentence for cap in case.made.caps if cap.id == name), None)

    return said


def too_few(case: Case) -> str | None:
    """Can't tell yet, and nothing but the width of the range is why; the headline says it."""
    made = case.made
    held = any(cap.holds_back for cap in made.caps)
    return made.sentence if made.settle is not None and not held else None


def null_tight(case: Case) -> str | None:
    """No difference worth having; the headline says it."""
    return case.made.sentence if case.made.verdict is Verdict.NO_DIFFERENCE else None


def _others(case: Case) -> list[tuple[str, str, Difference]]:
    """Other ways to count: the words for it, with which attempts, and what it comes to."""
    made, found = case.made, []
    if made.without_odd is not None:
        numbers = sorted({odd.n for odd in made.odd})
        found.append(("without", _attempts(numbers), made.without_odd))
    if made.with_struck is not None:
        numbers = sorted({a.n for s in case.sessions for a in s.attempts if a.strike and a.value})
        found.append(("with", _attempts(numbers), made.with_struck))
    return found


def _attempts(numbers: list[int]) -> str:
    return f"attempt{'s' if len(numbers) > 1 else ''} {joined([str(n) for n in numbers])}"


def hangs_on_one(case: Case) -> str | None:
    """The answer is another one with or without some attempts."""
    made = case.made
    now = verdict_words(made.verdict, case.test)
    for way, which, found in _others(case):
        then = verdict_words(word_for(found, made, case.test), case.test)
        if then == now:
            continue
        if way == "without":
            return (
                f"With {which}: {now}. Without: {then}. It stands apart and was not struck, so the "
                "first counts."
            )
        late = any(a.strike and a.strike.late for s in case.sessions for a in s.attempts)
        seen = (
            "It was struck after its time was seen, so look at both."
            if late
            else ("Its strike was coded before its time was seen, so it stays out.")
        )
        return f"With {which}: {then}. Without: {now}. {seen}"
    return None


def odd_questions(case: Case) -> str | None:
    """Attempts that stand apart, each as a question."""
    made = case.made
    said = []
    for odd in made.odd:
        label = made.a.label if odd.session == made.a.session else made.b.label
        said.append(f"{label}: {odd.sentence[:1].lower()}{odd.sentence[1:]}")
    return " ".join(said) or None


def with_or_without(case: Case) -> str | None:
    """What the difference would be counted otherwise, where the answer stays."""
    made = case.made
    said = []
    for words, other in (
        ("Without what stands apart", made.without_odd),
        ("With the struck attempts counted", made.with_struck),
    ):
        if other is not None:
            said.append(otherwise(words, other, made, case.test))
    return " ".join(said) or None
