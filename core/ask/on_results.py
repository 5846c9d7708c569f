"""Results: what a change did on its own, what was never tested alone, predictions, thin results."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from math import sqrt

from core.ask.asker import Asker, listed
from core.ask.documents import Answer
from core.ask.score import score_of
from core.ask.steps import Step, compared, is_about
from core.attempts import find_test
from core.clock import day_words
from core.errors import BackToBackError
from core.session import Session
from core.setup import Change, same_reading, slot_of
from core.units import format_number
from core.verdict import (
    Comparison,
    builds_run,
    difference_words,
    range_words,
    side_of,
    verdict_words,
)
from core.verdict.effects import effects_of

__all__ = ["never_alone", "on_its_own", "predicted", "rests_on_little"]

_MOST = 12  # comparisons made for one answer, the newest
_ENOUGH = 4  # pairs that a result had better rest on; common practice, no source


def on_its_own(asker: Asker) -> Answer:
    """Answer what a change did alone; where it never was, what it did in company."""
    slot = asker.slot_named()
    if not asker.rest:
        return _all_alone(asker)
    about = [
        step
        for step in asker.steps
        if any(is_about(cause, asker.rest, slot) for cause in step.causes)
    ]
    asked = slot.label if slot is not None else " ".join(asker.rest)
    if not about:
        return Answer(f"Nothing called {asked} was changed between two builds that both ran.")
    alone = [step for step in about if len(step.causes) == 1][-_MOST:]
    together = [step for step in about if len(step.causes) > 1][-_MOST:]
    rows = [_step_cells(asker, step, compared(asker.book, step)) for step in (*alone, *together)]
    columns = ("sides", "what changed", "difference", "range", "says")
    ids = tuple(step.b.id for step in (*alone, *together))
    if alone:
        last = compared(asker.book, alone[-1])
        said = last.sentence if last is not None and last.sentence else alone[-1].words
        times = f"{len(alone)} time{'' if len(alone) == 1 else 's'}"
        return Answer(f"On its own {times}; the last: {said}", columns, tuple(rows), (), ids)
    sentence = (
        f"The {asked} was never changed on its own: each time with "
        f"{listed(_company(together, asker, slot))}."
    )
    more = tuple(filter(None, (_left_over(asker, step) for step in together)))
    over_all = _over_all(asker, together[-1])
    return Answer(sentence, columns, tuple(rows), (*more, *over_all), ids)


def _over_all(asker: Asker, step: Step) -> Iterator[str]:
    """What all sessions of that machine and test together say, where they say it apart."""
    slot = asker.slot_named()
    factors = {cause.slot for cause in step.causes if is_about(cause, asker.rest, slot)}
    try:
        found = effects_of(asker.book, step.b.machine, step.test)
    except BackToBackError:  # nothing to work out: the steps above are all there is
        return
    for effect in found.effects:
        if effect.factor in factors and effect.known is not None:
            yield f"All {found.sessions} sessions together, across days: {effect.sentence}"


def _all_alone(asker: Asker) -> Answer:
    steps = [step for step in asker.steps if len(step.causes) == 1][-_MOST:]
    if not steps:
        return Answer("No change was ever tested on its own yet.")
    rows = tuple(_step_cells(asker, step, compared(asker.book, step)) for step in steps)
    columns = ("sides", "what changed", "difference", "range", "says")
    sentence = f"{len(steps)} steps changed one thing only; name a part or slot for one of them."
    return Answer(sentence, columns, rows, (), tuple(step.b.id for step in steps))


def _company(steps: list[Step], asker: Asker, slot: object) -> list[str]:
    names = [
        slot_of(cause.slot).label
        for step in steps
        for cause in step.causes
        if not is_about(cause, asker.rest, slot)  # type: ignore[arg-type]
    ]
    return list(dict.fromkeys(names))


def _step_cells(asker: Asker, step: Step, made: Comparison | None) -> tuple[str, ...]:
    what = "; ".join(cause.words for cause in step.causes)
    if made is None or made.difference is None:
        return (step.words, what, "", "", "cannot be compared")
    test = find_test(step.test)
    return (
        step.words,
        what,
        difference_words(made.difference.value, test),
        range_words(made.difference, test),
        verdict_words(made.verdict, test),
    )


def _left_over(asker: Asker, step: Step) -> str:
    """What is left of a joint step once the others' own differences are taken off, in words."""
    made = compared(asker.book, step)
    slot = asker.slot_named()
    others = [c for c in step.causes if not is_about(c, asker.rest, slot)]
    if made is None or made.difference is None or not others:
        return ""
    left, squares = made.difference.value, _half(made) ** 2
    told = []
    for other in others:
        found = _alone_for(asker, other, step)
        if found is None or found[0].difference is None:
            return f"The {slot_of(other.slot).label} was never changed on its own either."
        alone, sign = found
        left -= sign * alone.difference.value if alone.difference is not None else 0.0
        squares += _half(alone) ** 2
        told.append(f"the {slot_of(other.slot).label} alone ({alone.b.label})")
    test, half = find_test(step.test), sqrt(squares)
    open_ = left - half < 0.0 < left + half
    return (
        f"Taking off what {listed(told)} did leaves {difference_words(left, test)}, give or take "
        f"{format_number(half, test.decimals)} {test.unit}"
        f"{': it cannot be told from nothing that way' if open_ else ''}; "
        "a sum over days is weaker than a test of its own."
    )


def _half(made: Comparison) -> float:
    found = made.difference
    return 0.0 if found is None else (found.high - found.low) / 2.0


def _alone_for(asker: Asker, change: Change, step: Step) -> tuple[Comparison, float] | None:
    """The newest step in which this change, or its way back, was alone; with the sign to take."""
    for other in reversed(asker.steps):
        if len(other.causes) != 1 or other.test != step.test or other.b.machine != step.b.machine:
            continue
        (cause,) = other.causes
        if cause.slot != change.slot:
            continue
        same = same_reading(cause.before, change.before) and same_reading(cause.after, change.after)
        back = same_reading(cause.before, change.after) and same_reading(cause.after, change.before)
        if same or back:
            made = compared(asker.book, other)
            if made is not None and made.difference is not None:
                return made, 1.0 if same else -1.0
    return None


def never_alone(asker: Asker) -> Answer:
    """Answer which changes were never tested alone, and with what they always came."""
    alone: Counter[tuple[str, str]] = Counter()
    company: dict[tuple[str, str], list[tuple[Step, tuple[str, ...]]]] = {}
    for step in asker.steps:
        for cause in step.causes:
            key = (step.b.machine, cause.slot)
            if len(step.causes) == 1:
                alone[key] += 1
            else:
                others = tuple(slot_of(c.slot).label for c in step.causes if c is not cause)
                company.setdefault(key, []).append((step, others))
    left = {key: found for key, found in company.items() if not alone[key]}
    if not left:
        said = "Every change that was tested was tested alone at least once."
        return Answer(said if company or alone else "No two builds of one test ran yet.")
    rows = tuple(
        (slot_of(slot).label, asker.names.get(machine, machine), listed(dict.fromkeys(
            name for _, others in found for name in others)), listed(s.words for s, _ in found))
        for (machine, slot), found in left.items()
    )  # fmt: skip
    sentence = "Never tested alone: " + "; ".join(f"{row[0]}, always with {row[2]}" for row in rows)
    ids = tuple(step.b.id for found in left.values() for step, _ in found)
    return Answer(f"{sentence}.", ("change", "machine", "with", "in"), rows, (), ids)


def predicted(asker: Asker) -> Answer:
    """Answer what was predicted and how wrong it was."""
    score = score_of(asker.book, asker.asked())
    if not score.rows:
        return Answer("Nothing was predicted before running yet.")
    rows = tuple(
        (row.label, day_words(row.day), row.predicted, row.got, row.range, row.sign,
         "inside" if row.inside else "outside")
        for row in score.rows
    )  # fmt: skip
    columns = ("session", "day", "predicted", "got", "range", "sign", "size")
    return Answer(score.sentence, columns, rows, (), tuple(row.session for row in score.rows))


def rests_on_little(asker: Asker) -> Answer:
    """Answer which results rest on fewer than four pairs, or than the number typed."""
    least = int(asker.number[0]) if asker.number else _ENOUGH
    rows, ids = [], []
    for session in asker.asked():
        for label, kind, n in _counts(session):
            if n < least:
                decided = session.close_out.decision if session.close_out else ""
                day = day_words(session.started)
                rows.append((label, day, session.test, str(n), kind, decided))
                ids.append(session.id)
    if not rows:
        return Answer(f"No result rests on fewer than {least}.")
    sentence = f"{len(rows)} rest on fewer than {least}: {listed(row[0] for row in rows)}."
    columns = ("result", "day", "test", "n", "of", "decided")
    return Answer(sentence, columns, tuple(rows), (), tuple(dict.fromkeys(ids)))


def _counts(session: Session) -> Iterator[tuple[str, str, int]]:
    try:
        for build in builds_run(session, session.test) if session.sheets else ():
            side = side_of(session, build)
            yield side.label, f"{side.kind}s", side.n
    except BackToBackError:
        return
