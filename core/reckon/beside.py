"""The sentence beside a check that is due: what the sums already say about it.

It never answers the check. What is due is due anyway.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from core.bench import Past
from core.checks import CheckRecord
from core.engine import pushrod_length_change
from core.errors import BackToBackError, UnknownInputError
from core.reckon.gaps import Gap, gaps_on
from core.reckon.paper import lash_set_again
from core.reckon.sides import SLIP, reckoned_retainer
from core.setup import (
    FACTORY_RPM,
    Sheet,
    derived_value,
    known_value,
    lowest_limit,
    over_speed_words,
    rpm_at_speed,
    speed_at_rpm,
)
from core.setup.limits import LIMITS
from core.units import format_number

__all__ = ["beside_check"]

_MM = 1e-3  # m in a mm
_LIFTS = ("valve_lift_intake", "valve_lift_exhaust")


@dataclass(frozen=True)
class _Asked:
    """Everything that a sentence may be made of."""

    before: Sheet
    after: Sheet
    past: Past
    rpm_factory: float
    top_speed: float | None  # km/h
    own: float | None


def beside_check(
    record: CheckRecord,
    before: Sheet | None,
    sheet: Sheet,
    past: Past,
    *,
    rpm_factory: float = FACTORY_RPM,
    top_speed: float | None = None,
) -> str:
    """Return what the sums say about a check that is due; empty when they say nothing.

    Args:
        record: the check.
        before: the sheet before the change that asks for it; None: there was none.
        sheet: the sheet it is due on.
        past: bench readings, answers and instruments of the machine.
        rpm_factory: governed speed of the machine as its maker built it, rpm.
        top_speed: expected at the place, km/h; None: not told.
    """
    sentence = _SENTENCES.get(record.rule)
    if sentence is None:
        return ""
    earlier = before or sheet
    now, _ = lash_set_again(earlier, sheet)  # it is set once more before anything runs
    asked = _Asked(earlier, now, past, rpm_factory, top_speed, record.own)
    try:
        return sentence(asked)
    except UnknownInputError as error:
        return error.message
    except BackToBackError as error:
        return f"The sum is refused: {error.message}"


def _clay(asked: _Asked) -> str:
    clay = asked.past.clay(asked.before)
    if clay is None:
        return "No clay reading is on file to carry over: clay is due."
    gaps = gaps_on(
        asked.after,
        clay,
        asked.past.tables(asked.after),
        halves=asked.past.halves(asked.after),
        own=asked.own,
    )
    when = f" of {clay.at.day} {clay.at:%b}" if clay.at is not None else ""
    words = [gap.words.rstrip(".") for gap in gaps]
    said = "; ".join(f"{gap.side} {word}" for gap, word in zip(gaps, words, strict=True))
    if len(set(words)) == 1:
        said = f"{' and '.join(gap.side for gap in gaps)} {words[0]}"
    return (
        f"Carried over from the clay{when} ({clay.words}): {said}.{_wanted(gaps)}"
        " Clay is due anyway."
    )


def _wanted(gaps: tuple[Gap, Gap]) -> str:
    own = gaps[0].own
    return "" if own is None else f" Your own least is {format_number(own)} mm."


def _values(*names: str) -> Callable[[_Asked], str]:
    """Return a sentence of derived values before and after."""

    def sentence(asked: _Asked) -> str:
        return f"By the sheet: {'; '.join(_moved(asked, name) for name in names)}."

    return sentence


def _moved(asked: _Asked, name: str) -> str:
    halves = asked.past.halves(asked.after)
    now = derived_value(asked.after, name, asked.rpm_factory, halves)
    was = derived_value(asked.before, name, asked.rpm_factory)
    if was.value is None or was.value == now.value:
        return f"{now.label} {now.words}"
    old = f"{format_number(was.value, was.decimals)}"
    return f"{now.label} {now.words}, was {old}"


def _spring(asked: _Asked) -> str:
    return f"{_values('spring_margin_intake', 'spring_margin_exhaust')(asked)} Measure it anyway."


def _retainer(asked: _Asked) -> str:
    lifts = tuple(
        (derived_value(asked.before, name), derived_value(asked.after, name)) for name in _LIFTS
    )
    half = asked.past.halves(asked.before).get("retainer_margin", 0.0)
    margin = reckoned_retainer(asked.before, asked.after, lifts, half)[1]
    return f"Retainer-to-guide margin: {margin.words}. Measure it anyway."


def _pushrod(asked: _Asked) -> str:
    """Return how much longer the pushrod would have to be for what came off or on."""
    cuts = [_change(asked, slot, 0.0) for slot in ("head_milled", "block_decked")]
    gasket = _change(asked, "gasket_thickness", None)
    longer = pushrod_length_change(gasket, *cuts) / _MM
    if not longer:
        return ""
    word = "longer" if longer > 0 else "shorter"
    return (
        f"Heights moved by {format_number(abs(longer), 2)} mm: a pushrod so much {word} keeps the"
        " sweep."
    )


def _change(asked: _Asked, slot: str, instead: float | None) -> float:
    """Return how much a slot grew, m."""
    one, two = (known_value(sheet.readings.get(slot)) for sheet in (asked.before, asked.after))
    one, two = (instead if one is None else one), (instead if two is None else two)
    if one is None or two is None:
        if asked.before.readings.get(slot) == asked.after.readings.get(slot):
            return 0.0
        raise UnknownInputError("Unknown: gasket thickness before or after is not known.", (slot,))
    return (two - one) * _MM


def _rpm_at_top(asked: _Asked) -> str:
    limit = lowest_limit(asked.after, asked.rpm_factory)
    counted = ", ".join(LIMITS[slot] for slot in limit.not_entered)
    owner = limit.entered_for if limit.entered == limit.rpm else f"not entered: {counted}"
    against = f"lowest limit {limit.rpm:,.0f} ({owner})"
    ratio = derived_value(asked.after, "overall_ratio")
    if asked.top_speed is None:
        speeds = [speed_at_rpm(asked.after, limit.rpm, slip) for slip in (SLIP, 0.0)]
        shown = " to ".join(format_number(speed, 1) for speed in speeds)
        return f"Overall ratio {ratio.words}: the {against} is reached at {shown} km/h."
    bare, slipping = (rpm_at_speed(asked.after, asked.top_speed, slip) for slip in (0.0, SLIP))
    above = " That is above it." if slipping > limit.rpm else ""
    return (
        f"Overall ratio {ratio.words}: {asked.top_speed:g} km/h is {bare:,.0f} rpm,"
        f" {slipping:,.0f} with 3 % slip; {against}.{above}"
    )


def _limits(asked: _Asked) -> str:
    return over_speed_words(asked.after, asked.rpm_factory)


_SENTENCES: Mapping[str, Callable[[_Asked], str]] = MappingProxyType(
    {
        "valve_to_piston": _clay,
        "spring_margin": _spring,
        "retainer_margin": _retainer,
        "piston_to_head": _values("head_gap"),
        "ratio_fuel": _values("compression_ratio"),
        "deck_height": _values("head_gap"),
        "pushrod_length": _pushrod,
        "rpm_at_top": _rpm_at_top,
        "planned_rpm": _limits,
        "limits_entered": _limits,
    }
)
"""By rule: what is said beside it."""
