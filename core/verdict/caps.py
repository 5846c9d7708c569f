"""What limits a difference, whatever its range says: one row per reason, each with its sentence."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from core.attempts import find_timing, wind_beyond
from core.setup import slot_of
from core.verdict.case import Case
from core.verdict.results import Cap
from core.verdict.wording import joined

__all__ = ["CAPS", "caps_of"]

_FEW_DOF = 3  # below this many own degrees of freedom the spread is the usual one, not his own

Rule = Callable[[Case], str | None]


def _direction_unknown(case: Case) -> str | None:
    sides = [s.label for s in case.sides if s.direction_unknown]
    if not sides:
        return None
    return f"Some attempts of {joined(sides)} have no direction, so wind and slope may be in it."


def _unpaired(case: Case) -> str | None:
    sides = [s.label for s in case.sides if s.unpaired]
    if not sides:
        return None
    return f"{joined(sides)} ran both ways, but never one right after the other: no pairs to form."


def _one_way(case: Case) -> str | None:
    one, other = case.sides
    if not one.one_direction or one.from_two_ways:
        one, other = other, one
    same = one.one_direction == other.one_direction
    if not one.one_direction or (same and not other.from_two_ways):
        return None
    against = (
        "the two-way session"
        if other.from_two_ways or not other.one_direction
        else f"{other.label}, which ran {other.one_direction}"
    )
    number = "the one attempt" if one.n == 1 else f"all {one.n} attempts"
    return (
        f"In {one.label} {number} ran {one.one_direction}: they can be ranked among themselves, "
        f"not against {against}."
    )


def _mixed_timing(case: Case) -> str | None:
    names = [s.timing for s in case.sides]
    if "mixed" in names:
        return "The attempts of one side were timed with different gear, not run side by side."
    if names[0] == names[1] or not all(names) or case.made.clock is not None:
        return None
    before, after = (find_timing(name).title for name in names)
    return (
        f"Before was timed by {before}, after by {after}; the two have not been run side by side, "
        f"so {_by_the_clock(case)} could be the clock."
    )


def _by_the_clock(case: Case) -> str:
    found = case.made.difference
    return "the difference" if found is None else f"an offset of {case.size(found.value)}"


def _wind(case: Case) -> str | None:
    for session in (case.session_a, case.session_b):
        for air in session.air:
            if wind_beyond(air):
                parts = [
                    f"{name} {value:g} m/s"
                    for name, value in (("mean", air.wind), ("gusts", air.gust))
                    if value is not None
                ]
                return (
                    f"The wind of {session.label} ({', '.join(parts)}) is beyond 3 m/s mean or "
                    "5 m/s in gusts: recorded, but not for comparison."
                )
    return None


def _drift(case: Case) -> str | None:
    made = case.made
    if made.drift is None or made.difference is None:
        return None
    if abs(made.drift) <= abs(made.difference.value):
        return None
    again = made.a if len(set(made.a.blocks)) > 1 else made.b
    other = made.b if again is made.a else made.a
    return (
        f"The day moved by {case.size(made.drift)} from the first run to the last, more than "
        f"{other.build} differs from {again.build}: it moved more than the part did."
    )


def _several_changes(case: Case) -> str | None:
    labels = [slot_of(change.slot).label for change in case.made.causes]
    if len(labels) < 2:
        return None
    if len(labels) == 2:
        return (
            f"{joined(labels).capitalize()} both changed: the difference belongs to the pair, "
            "not to either part."
        )
    shown = joined(labels if len(labels) <= 4 else [*labels[:3], f"{len(labels) - 3} more"])
    return f"{len(labels)} things changed ({shown}): the difference belongs to the package."


def _two_machines(case: Case) -> str | None:
    if case.made.a.machine == case.made.b.machine:
        return None
    one, other = (case.names(s.machine) or "another machine" for s in case.sides)
    return f"{one} and {other} are two machines: the difference belongs to the whole machine."


def _two_places(case: Case) -> str | None:
    if "" in (case.made.a.place, case.made.b.place) or case.made.a.place == case.made.b.place:
        return None
    one, other = (case.names(s.place) or "another place" for s in case.sides)
    return f"{one} and {other} are two places: surface and slope are part of the difference."


def _one_attempt(case: Case) -> str | None:
    ones = [s for s in case.sides if s.n == 1]
    if not ones:
        return None
    wide = case.size(1.96 * (case.made.spread or 0.0))
    what = "One pair" if ones[0].kind == "pair" else "One attempt"
    return f"{what} is a story, not a result; with your usual spread it could be {wide} either way."


def _first_of_kind(case: Case) -> str | None:
    if case.own_dof >= _FEW_DOF:
        return None
    return (
        "The log has hardly any repeats of this test on this machine yet: the range rests on "
        f"what is usual for such timing ({case.size(case.made.spread or 0.0)})."
    )


CAPS: tuple[tuple[str, bool, Rule], ...] = (
    ("direction unknown", True, _direction_unknown),
    ("unpaired", True, _unpaired),
    ("one way", True, _one_way),
    ("mixed timing", True, _mixed_timing),
    ("wind", True, _wind),
    ("drift", True, _drift),
    ("two machines", False, _two_machines),
    ("several changes", False, _several_changes),
    ("two places", False, _two_places),
    ("one attempt", False, _one_attempt),
    ("first of its kind", False, _first_of_kind),
)
"""Name, whether it holds the verdict back to "can't tell yet", and the rule with its sentence."""


def caps_of(case: Case) -> Iterator[Cap]:
    """Yield what limits the difference, the weightiest first."""
    for name, holds_back, rule in CAPS:
        sentence = rule(case)
        if sentence:
            yield Cap(id=name, sentence=sentence, holds_back=holds_back)
