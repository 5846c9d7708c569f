"""The allowances of a comparison: what its days and riders explain, and what they rest on."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from math import hypot

from core.attempts import Test, find_test
from core.errors import InputError
from core.session import Place, Session
from core.session.weather import Weather
from core.setup import Sheet
from core.verdict.allowing.coasted import Measured
from core.verdict.allowing.conditions import Conditions, conditions_of, matched
from core.verdict.allowing.explained import Explained, explained_between
from core.verdict.allowing.fit import Clocked, RoadFit, fit_road
from core.verdict.allowing.model import State, air_numbers, modelled, results, state_of
from core.verdict.allowing.priors import SheetFacts, facts_of
from core.verdict.day_air import DayAir
from core.verdict.results import BuildSide
from core.verdict.sides import builds_run, sheet_of, side_of

__all__ = ["Allowances", "PlaceOf", "Ran", "allowances_of", "clocked_in", "model_of"]

PlaceOf = Callable[[str], Place | None]
"""Gives the place of an id, or None where the log does not hold it."""

_DAY_SHARE = 0.02  # usual scatter of a day's mean; as the day spread's prior
_MOST_MEANS = 7  # means the model is fitted to; more cost time and add little
_STEP = 0.02  # of the differences for elasticities, in logarithm


@dataclass(frozen=True)
class Allowances:
    """What the conditions explain of a difference; raw numbers are never replaced by it."""

    explained: Explained | None  # None: there is no model for it; ``why_not`` says why
    why_not: str
    a: Conditions  # what unknowns were taken to be the same is in here
    b: Conditions
    air_read: tuple[bool, bool]  # of A and of B, as it was
    outside: tuple[str, ...]  # limits of the power factor's standard that were passed, in words
    model: str  # what the model rests on, one sentence
    converged: bool  # whether the machine's own numbers were found
    day_air: DayAir | None  # brings days to the air of A


@dataclass(frozen=True)
class Ran:
    """One side with what its conditions are read from."""

    session: Session
    side: BuildSide
    sheet: Sheet
    place: Place | None

    @property
    def conditions(self) -> Conditions:
        """What it ran in."""
        return conditions_of(self.session, self.side, self.sheet, self.place)

    @property
    def headings(self) -> tuple[float, ...]:
        """Directions of one observation: both for a pair, else the one it ran."""
        if self.side.kind == "pair" or not self.side.one_direction:
            return (1.0, -1.0)
        return (1.0,) if self.side.one_direction == self.session.directions[0] else (-1.0,)


def _state(conditions: Conditions) -> State | None:
    """The state of the middle of the conditions; None where the air is impossible."""
    try:
        return state_of(conditions)
    except InputError:
        return None


def clocked_in(ran: Ran, spread: float) -> Clocked | None:
    """Return what one side adds to the fit; None where it has nothing that is modelled.

    Args:
        ran: a side with its sheet and place.
        spread: of one observation, in the test's unit.
    """
    test, mean = find_test(ran.side.test), ran.side.mean
    if mean is None or mean <= 0.0 or not modelled(test):
        return None
    facts, state = facts_of(ran.sheet), _state(ran.conditions)
    if facts.refused or state is None:
        return None
    share = hypot(_DAY_SHARE, spread / mean / ran.side.n**0.5)
    return Clocked(test, facts, state, ran.headings, mean, share)


def model_of(
    sides: Sequence[Ran],
    past: Iterable[Session],
    place_of: PlaceOf,
    spread: float,
    measured: Sequence[Measured] = (),
) -> RoadFit:
    """Return the machine's own numbers from these sides and from sessions before them.

    Args:
        sides: what is compared, of one machine.
        past: other sessions of that machine, the nearest ones first.
        place_of: gives the place of an id.
        spread: of one observation of the test that is compared, in its unit.
        measured: what coast-downs of that machine gave.
    """
    ran = [*sides, *(one for session in past for one in _all_of(session, place_of))]
    found: dict[tuple[str, str, str], Clocked] = {}
    for one in ran:
        key = (one.side.session, one.side.build, one.side.test)
        clocked = clocked_in(one, spread) if len(found) < _MOST_MEANS else None
        if clocked is not None and key not in found:
            found[key] = clocked
    return fit_road(tuple(found.values()), measured)


def _all_of(session: Session, place_of: PlaceOf) -> list[Ran]:
    if not find_test(session.test).unit:
        return []
    place = place_of(session.place) if session.place else None
    sides = [side_of(session, build) for build in builds_run(session, session.test)]
    return [Ran(session, side, sheet_of(session, side.build), place) for side in sides]


def allowances_of(
    a: Ran,
    b: Ran,
    past: Iterable[Session],
    place_of: PlaceOf,
    spread: float,
    *,
    same_day: bool,
    measured: Sequence[Measured] = (),
) -> Allowances:
    """Return what the conditions explain of B less A.

    Args:
        a, b: both sides.
        past: other sessions of B's machine, for the model.
        place_of: gives the place of an id.
        spread: of one observation, in the test's unit.
        same_day: on one day and place: what nobody read is then the same on both sides.
        measured: what coast-downs of B's machine gave.
    """
    test, facts = find_test(b.side.test), facts_of(b.sheet)
    raw = (a.conditions, b.conditions)
    of_a, of_b = matched(
        *raw,
        same_rider=a.session.rider == b.session.rider,
        same_day=same_day,
    )
    bare = Allowances(
        explained=None,
        why_not=_why_not(test, facts, a, b),
        a=of_a,
        b=of_b,
        air_read=(raw[0].air_read, raw[1].air_read),
        outside=(),
        model="",
        converged=False,
        day_air=None,
    )
    if bare.why_not or b.side.mean is None:
        return bare
    same_place = bool(b.side.place) and a.side.place == b.side.place
    try:
        sides = (a, b) if a.side.machine == b.side.machine else (b,)
        fit = model_of(sides, past, place_of, spread, measured)
        found = explained_between(
            test, facts, fit, of_a, of_b, b.side.mean, b.headings, same_place=same_place
        )
        outside = _outside(a, b, raw)
    except InputError:
        return replace(bare, why_not="The air was typed as no air on the ground is; read it again.")
    if found is None:
        end = "the end of the test" if test.to_speed is None else f"{test.to_speed:g} km/h"
        return replace(bare, why_not=f"By its sheet this machine does not reach {end}.")
    return replace(
        bare,
        explained=found,
        outside=outside,
        model=fit.sentence,
        converged=fit.converged,
        day_air=_day_air(test, facts, fit, of_a),
    )


def _why_not(test: Test, facts: SheetFacts, a: Ran, b: Ran) -> str:
    if not modelled(test):
        return f"There is no model of a {test.title}, so nothing is allowed for air or wind."
    if facts.refused:
        return f"{facts.refused} So nothing is allowed for air or wind."
    if not a.side.values or not b.side.values:
        return "There is nothing to compare."
    return ""


def _outside(a: Ran, b: Ran, raw: tuple[Conditions, Conditions]) -> tuple[str, ...]:
    said: list[str] = []
    for ran, conditions in zip((a, b), raw, strict=True):
        if not conditions.air_read:
            continue
        numbers = air_numbers(
            conditions.temperature.value, conditions.pressure.value, conditions.humidity.value
        )
        said.extend(f"{ran.side.label}: {words}" for words in numbers.outside)
    return tuple(said)


def _day_air(test: Test, facts: SheetFacts, fit: RoadFit, at: Conditions) -> DayAir | None:
    """Elasticities about the conditions of A, by central differences."""
    import numpy as np  # lazy: 0.1 s

    state = _state(at)
    if state is None:
        return None
    whole = facts.machine + state.load
    states = [
        replace(state, **{name: getattr(state, name) + sign * step})
        for name, step in (
            ("log_factor", _STEP),
            ("density", state.density * _STEP),
            ("load", whole * _STEP),
        )
        for sign in (1.0, -1.0)
    ]
    both = [state for state in states for _ in (0, 1)]
    unknowns = np.tile(fit.unknowns, (len(both), 1))
    plain = results(test, [facts] * len(both), unknowns, both, [1.0, -1.0] * len(states))
    means = np.log(plain.reshape(len(states), 2).mean(axis=1))
    if not np.isfinite(means).all():
        return None
    factor, density, mass = ((means[0::2] - means[1::2]) / (2.0 * _STEP)).tolist()
    reference = Weather(state.log_factor, float(np.log(state.density)))
    return DayAir(factor, density, mass, reference, whole, state.load)
