"""The table of situations: each recognised by itself, answered with a sentence, weighed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from core.verdict.case import Case
from core.verdict.results import Situation
from core.verdict.situations import change, days, person, result

__all__ = ["ON_TOP", "SITUATIONS", "Row", "situations_of"]

Rule = Callable[[Case], str | None]


@dataclass(frozen=True)
class Row:
    """One situation."""

    id: str
    weight: int  # the higher the sooner it is said
    rule: Rule  # gives its sentence, or None where it does not hold


def _cap(name: str, weight: int) -> Row:
    return Row(name, weight, result.by_cap(name))


SITUATIONS: tuple[Row, ...] = (
    Row("too few", 100, result.too_few),
    Row("null, tight", 100, result.null_tight),
    _cap("direction unknown", 97),
    _cap("unpaired", 97),
    _cap("one way", 96),
    _cap("mixed timing", 95),
    _cap("wind", 94),
    Row("cannot see", 92, change.test_cannot_see),
    _cap("drift", 90),
    _cap("two machines", 88),
    Row("hangs on one", 85, result.hangs_on_one),
    _cap("several changes", 80),
    _cap("two places", 78),
    Row("mass differs", 72, days.mass_differs),
    Row("machine mass", 71, change.machine_mass_differs),
    Row("different air", 70, days.different_air),
    Row("air not read", 69, days.air_not_read),
    Row("clock offset", 68, days.clock_offset),
    Row("model open", 66, days.fit_open),
    Row("no model", 66, days.no_model),
    Row("speed by tyre size", 65, change.speed_by_tyre_size),
    Row("outside limits", 64, days.outside_limits),
    Row("air stale", 63, days.air_stale),
    Row("wind from nowhere", 62, days.wind_from_nowhere),
    _cap("one attempt", 60),
    Row("warm or fading", 58, days.warm_or_fading),
    Row("days apart", 55, days.days_apart),
    Row("stands apart", 52, result.odd_questions),
    Row("counted otherwise", 51, result.with_or_without),
    Row("many looks", 50, person.many_looks),
    Row("jetting not redone", 45, change.jetting_not_redone),
    Row("plug over clock", 44, person.plug_over_clock),
    Row("best against average", 40, person.best_against_average),
    Row("stopped ahead", 35, person.stopped_ahead),
    Row("no revert run", 30, change.no_revert_run),
    _cap("first of its kind", 25),
    Row("prediction score", 20, person.prediction_score),
    Row("percent of percent", 10, person.percent_of_percent),
)
"""Every situation, the weightiest first. Against a remembered number nothing is compared at all:
``core.verdict.lookup`` answers that with a sentence."""

ON_TOP = frozenset({"too few", "null, tight"})
"""Situations whose sentence is the headline of the comparison itself."""


def situations_of(case: Case) -> tuple[Situation, ...]:
    """Return what holds of a judged comparison, the weightiest first.

    Args:
        case: the comparison with its verdict, its sessions and what stands around it.
    """
    found = []
    for row in SITUATIONS:
        sentence = row.rule(case)
        if sentence:
            found.append(Situation(row.id, row.weight, sentence))
    return tuple(sorted(found, key=lambda s: -s.weight))
