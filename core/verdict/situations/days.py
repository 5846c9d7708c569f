"""Situations of the day and the instruments: air, wind, rider, clocks, drift, days apart."""

from __future__ import annotations

from core.attempts import find_timing
from core.stats import Verdict
from core.units import format_number
from core.verdict.case import Case
from core.verdict.measuring import is_swapped_back
from core.verdict.trends import Moved
from core.verdict.wording import difference_words, joined, n_words

__all__ = [
    "air_not_read",
    "air_stale",
    "clock_offset",
    "days_apart",
    "different_air",
    "fit_open",
    "mass_differs",
    "no_model",
    "outside_limits",
    "warm_or_fading",
    "wind_from_nowhere",
]

_SAME_MASS = 0.5  # kg
_WORTH_SAYING, _LEAST = 0.02, 0.005  # shares of the result that a condition has to explain
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_BREEZE = 1.0  # m/s; less wind than this does nothing worth a sentence


def different_air(case: Case) -> str | None:
    """Air that would explain a good part of the difference, or as much the other way."""
    made = case.made
    if made.allowances is None or made.allowances.explained is None or made.difference is None:
        return None
    if not all(made.allowances.air_read) or made.same_day or not made.b.mean:
        return None
    air = made.allowances.explained.part("air")
    if abs(air.value) < min(_WORTH_SAYING * made.b.mean, 0.5 * abs(made.difference.value)):
        return None
    if abs(air.value) < _LEAST * made.b.mean:
        return None
    was, now = (c.temperature.value for c in (made.allowances.a, made.allowances.b))
    build = "Same build" if not made.causes else f"{made.b.label} on another build"
    words = difference_words(made.difference.value, case.test)
    size = format_number(abs(air.value), max(0, made.decimals - 1))
    way = difference_words(air.value, case.test).split()[-1]
    low, high = (format_number(v, made.decimals) for v in sorted((abs(air.low), abs(air.high))))
    span = f" ({low} to {high})" if air.low * air.high > 0.0 else ""
    return (
        f"{build}, {words} than on {_day(made.a.day)}; the {_air_words(was, now, air.value > 0)} "
        f"air alone would make it about {size} {made.unit}{span} {way}."
    )


def _air_words(was: float, now: float, slower: bool) -> str:
    warmth = "hotter" if now > was + 1.0 else "cooler" if now < was - 1.0 else ""
    return ", ".join(filter(None, (warmth, "thinner" if slower else "denser")))


def _day(iso: str) -> str:
    year, month, day = iso.split("-")
    return f"{int(day)} {_MONTHS[int(month) - 1]} {year}"


def air_not_read(case: Case) -> str | None:
    """No air on one side or both, on different days."""
    made = case.made
    if made.allowances is None or made.same_day or all(made.allowances.air_read):
        return None
    sides = [
        s.label for s, read in zip(case.sides, made.allowances.air_read, strict=True) if not read
    ]
    found = made.allowances.explained
    wide = ""
    if found is not None:
        air = found.part("air")
        wide = f" (give or take {case.size((air.high - air.low) / 2.0)})"
    return (
        f"No air was read in {joined(sides)}, so nothing is allowed for it; what an ordinary "
        f"change of air may do{wide} is in the range."
    )


def air_stale(case: Case) -> str | None:
    """A reading taken hours away from the attempts."""
    made = case.made
    if made.allowances is None or made.same_day:
        return None
    both = zip(case.sides, (made.allowances.a, made.allowances.b), strict=True)
    late = [(s.label, c.age) for s, c in both if c.age is not None and c.age > 1.0]
    if not late:
        return None
    said = joined([f"{label} {age:.0f} h" if age >= 1.5 else f"{label} 1 h" for label, age in late])
    return (
        f"The air was read long before or after the attempts ({said}); its doubt is wider for it."
    )


def wind_from_nowhere(case: Case) -> str | None:
    """A wind whose direction nobody noted."""
    made = case.made
    if made.allowances is None or made.same_day:
        return None
    both = zip(case.sides, (made.allowances.a, made.allowances.b), case.sessions, strict=True)
    sides = [
        side.label
        for side, conditions, session in both
        if conditions.wind_far_from and any((r.wind or 0.0) > _BREEZE for r in session.air)
    ]
    if not sides:
        return None
    return (
        f"The wind of {joined(list(dict.fromkeys(sides)))} was noted without where it came from, "
        "so it may have blown along the strip or across."
    )


def outside_limits(case: Case) -> str | None:
    """Air beyond the limits of the power factor's standard: shown and flagged."""
    made = case.made
    if made.allowances is None or not made.allowances.outside or made.same_day:
        return None
    if made.allowances.explained is None:
        return None
    return (
        "The air lies outside the limits that the power factor is stated for "
        f"({'; '.join(made.allowances.outside)}): the allowance is shown and may be further out."
    )


def fit_open(case: Case) -> str | None:
    """The model did not settle on this machine."""
    made = case.made
    if made.allowances is None or made.same_day or made.allowances.converged:
        return None
    return made.allowances.model or None


def no_model(case: Case) -> str | None:
    """A test or a drive that the model cannot run, on different days."""
    made = case.made
    if made.allowances is None or made.same_day or made.difference is None:
        return None
    return made.allowances.why_not or None


def mass_differs(case: Case) -> str | None:
    """A rider or ballast of another mass; or another rider who was not weighed."""
    made = case.made
    if made.allowances is None or made.difference is None:
        return None
    a, b = made.allowances.a.load, made.allowances.b.load
    riders = {s.rider for s in case.sessions if s.rider}
    if not (a.read and b.read):
        if len(riders) < 2:
            return None
        return "The riders differ and were not both weighed: that may be all of the difference."
    if abs(b.value - a.value) < _SAME_MASS or made.allowances.explained is None:
        return None
    part = made.allowances.explained.part("mass")
    than = "lighter" if b.value < a.value else "heavier"
    return (
        f"The rider was {round(abs(b.value - a.value), 1):g} kg {than}; that alone is worth "
        f"about {case.size(part.value)} here, the difference is {case.size(made.difference.value)}."
    )


def clock_offset(case: Case) -> str | None:
    """Two kinds of timing gear that ran side by side: the offset is taken out."""
    clock = case.made.clock
    if clock is None:
        return None
    before, after = (find_timing(name).title for name in (clock.before, clock.after))
    sign = "more" if clock.value > 0.0 else "less"
    return (
        f"Before was timed by {before}, after by {after}; {clock.n} attempts timed by both say "
        f"{case.size(clock.value)} {sign} by the second "
        f"({clock.low:+.{case.made.decimals}f} to {clock.high:+.{case.made.decimals}f}), "
        "which is taken out of the net difference."
    )


def days_apart(case: Case) -> str | None:
    """One day each, and a day spread that is as large as the difference."""
    made = case.made
    if made.same_day or made.difference is None or not made.day_spread or made.deciding is None:
        return None
    words = case.size(made.day_spread)
    known = "" if not _netted(case) else ", with the air allowed for"
    if made.verdict is Verdict.CANT_TELL:
        return (
            f"{n_words(made.a)} and {n_words(made.b)}, but only one day each: your day-to-day "
            f"spread is about {words}{known}, so {case.size(made.deciding.value)} is not yet a "
            "difference of builds."
        )
    return (
        f"Only one day each: days of one build differ by about {words} here{known}, and that is "
        "in the range."
    )


def _netted(case: Case) -> bool:
    return case.made.allowances is not None and all(case.made.allowances.air_read)


def warm_or_fading(case: Case) -> str | None:
    """A side that got better or worse over its day by more than chance."""
    made = case.made
    if is_swapped_back(made.a, made.b) or made.difference is None:
        return None
    said = []
    for side, found in zip(case.sides, made.moved, strict=True):
        if found is not None and found.is_sure:
            said.append(f"{side.label} {_moved_words(found, case)}")
    if not said:
        return None
    largest = max(abs(m.change) for m in made.moved if m is not None)
    only = ""
    if largest > abs(made.difference.value) / 2.0:
        only = " That is more than half the difference, so only A-B-A on one day can conclude."
    return f"{joined(said)} from its first third to its last.{only}"


def _moved_words(found: Moved, case: Case) -> str:
    way = "got quicker" if found.kind == "warm-up" else "faded"
    why = "warming up" if found.kind == "warm-up" else "heat"
    tagged = f", {found.hot} tagged hot" if found.hot else ""
    return f"{way} by {case.size(found.change)} ({why}?{tagged})"
