"""The ready plan of a test and its reason, in plain words."""

from __future__ import annotations

from core.units import format_number
from core.verdict.effects import factor_label
from core.verdict.next.efforts import ATTEMPT_MINUTES, SET_UP_MINUTES
from core.verdict.next.ranking import Ranked, Running
from core.verdict.next.results import Proposal

__all__ = ["proposal_of", "time_words"]

_MOST_CHECKS = 6  # named in one line of the plan


def time_words(minutes: float) -> str:
    """Return a length of time, rounded to five minutes: ``3 h 10 min``.

    >>> time_words(191.0), time_words(40.0), time_words(120.0)
    ('3 h 10 min', '40 min', '2 h')
    """
    hours, rest = divmod(int(5 * round(minutes / 5)), 60)
    return " ".join(
        part for part in (f"{hours} h" * bool(hours), f"{rest} min" * bool(rest)) if part
    )


def proposal_of(ranked: Ranked, running: Running) -> Proposal:
    """Return a ranked swap with its reason and its plan."""
    swap = ranked.swap
    return Proposal(
        swap=swap,
        design="A-B-A" if swap.at_strip else "another day",
        pairs=ranked.pairs,
        minutes=ranked.minutes,
        half_days=ranked.half_days,
        rate=ranked.rate,
        question=factor_label(ranked.about),
        width_before=ranked.width_before,
        width_after=ranked.width_after,
        sentence=_reason(ranked, running),
        plan=_plan(ranked, running),
    )


def _reason(ranked: Ranked, running: Running) -> str:
    swap, test = ranked.swap, running.test
    before, after = (
        f"±{format_number(width, test.decimals)}"
        for width in (ranked.width_before, ranked.width_after)
    )
    what = swap.label if ranked.about == swap.slot else factor_label(ranked.about)
    ran = "was never run" if not swap.sessions else "was run, but not well enough apart"
    if ranked.width_after > 0.9 * ranked.width_before:
        return f"Tells little more: what {what} does is known to {before} {test.unit} already."
    return (
        f"{swap.after_words} {ran}; in {time_words(ranked.minutes)} it brings what {what} does "
        f"from {before} to {after} {test.unit}."
    )


def _unit(running: Running, n: int) -> str:
    word = "pair" if running.two_way else "attempt"
    return f"{n} {word}{'' if n == 1 else 's'}"


def _plan(ranked: Ranked, running: Running) -> tuple[tuple[str, str], ...]:
    swap, test, n = ranked.swap, running.test, _unit(running, ranked.pairs)
    a, b = swap.before_words, swap.after_words
    order = (
        f"A {a}, B {b}, A {a} again: {n} each"
        if swap.at_strip
        else f"B {b} on a day of its own: {n}"
        + ("" if running.last_pairs else f"; A {a} on another day: {n}")
    )
    stop = (
        "after the last A, whatever it shows; if first and last A differ by more than B does "
        "from them, the day moved more than the part did"
        if swap.at_strip
        else f"after {n}, whatever they show"
    )
    gain = "not said yet: say it before running" if not running.gain else (
        f"{format_number(running.gain, test.decimals)} {test.unit}"
    )  # fmt: skip
    return (
        ("question", f"What does {b} do against {a}, alone, on {test.name}?"),
        ("order", order),
        ("prediction", f"in {test.unit}, with its sign, written down before running"),
        ("smallest gain", gain),
        ("stop rule", stop),
        ("hold", test.hold),
        ("bring", ", ".join(swap.bring) or "nothing that is used up"),
        ("checks", _checks(ranked)),
        ("time", _time(ranked, running)),
    )


def _checks(ranked: Ranked) -> str:
    swap = ranked.swap
    if not swap.checks:
        return "none due for the swap; those of every session stay"
    shown = ", ".join(swap.checks[:_MOST_CHECKS])
    more = len(swap.checks) - _MOST_CHECKS
    each = "at each swap" if swap.at_strip else "once"
    return f"{each}: {shown}{f' and {more} more' if more > 0 else ''} ({swap.stops} stop items)"


def _time(ranked: Ranked, running: Running) -> str:
    swap = ranked.swap
    attempts = ranked.pairs * (2 if running.two_way else 1) * (3 if swap.at_strip else 1)
    said = [
        f"setting up {SET_UP_MINUTES:g} min",
        f"{attempts} attempts {attempts * ATTEMPT_MINUTES:g} min",
        f"{'2 swaps' if swap.at_strip else 'swap'}, {swap.swap_minutes:g} min each"
        if swap.at_strip
        else f"swap {swap.swap_minutes:g} min",
    ]
    if swap.check_minutes:
        said.append(f"checks {swap.check_minutes:g} min a swap")
    if swap.cool_minutes:
        said.append(f"cooling down {swap.cool_minutes:g} min a swap, for the cold lash")
    return f"about {time_words(ranked.minutes)}: {', '.join(said)}"
