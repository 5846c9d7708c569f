"""What would touch, bind, or go past a limit on a build: one plain sentence each."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from core.reckon.gaps import Gap
from core.reckon.sides import BuildSide
from core.setup import Derived
from core.units import format_number

__all__ = ["warnings_of"]

_CONTACT: Mapping[str, tuple[str, str, str]] = {
    # derived value: (what meets, the check whose own minimum counts, what it is called)
    "head_gap": ("piston and head will hit", "piston_to_head", "piston-to-head gap"),
    "spring_margin_intake": ("the intake spring binds", "spring_margin", "intake spring margin"),
    "spring_margin_exhaust": (
        "the exhaust spring binds",
        "spring_margin",
        "exhaust spring margin",
    ),
}


def warnings_of(side: BuildSide, own: Mapping[str, float]) -> tuple[str, ...]:
    """Return what speaks against a build, the worst first.

    Args:
        side: everything that follows from it.
        own: the user's own required minimums by check, mm.
    """
    return (
        *(said for gap in side.gaps for said in _of_gap(gap)),
        *(said for one in side.derived if one.id in _CONTACT for said in _of_margin(one, own)),
        *_of_retainer(side, own),
        *_of_speed(side),
    )


def _of_gap(gap: Gap) -> Iterator[str]:
    name = f"{gap.side.capitalize()} valve-to-piston gap"
    if gap.exact is not None and gap.exact.value <= 0:
        yield f"{name} {format_number(gap.exact.value, 2)} mm: valve and piston will hit."
    elif gap.least is not None and gap.least <= 0:
        yield f"{name}: the lower bound reaches zero, so contact cannot be ruled out."
    elif gap.own is not None and gap.least is not None and gap.least < gap.own:
        yield (
            f"{name} may be {format_number(gap.least, 2)} mm, below your own"
            f" {format_number(gap.own)} mm."
        )


def _of_margin(one: Derived, own: Mapping[str, float]) -> Iterator[str]:
    meets, rule, name = _CONTACT[one.id]
    least = one.low if one.low is not None else one.value
    wanted = own.get(rule)
    if one.value is not None and one.value <= 0:
        yield f"{name.capitalize()} {format_number(one.value, 2)} mm: {meets}."
    elif least is not None and least <= 0:
        yield f"{name.capitalize()} may be {format_number(least, 2)} mm: contact is within doubt."
    elif wanted is not None and least is not None and least < wanted:
        yield (
            f"{name.capitalize()} may be {format_number(least, 2)} mm, below your own"
            f" {format_number(wanted)} mm."
        )


def _of_retainer(side: BuildSide, own: Mapping[str, float]) -> Iterator[str]:
    value, wanted = side.retainer.value, own.get("retainer_margin")
    if value is None:
        return
    if value.low <= 0:
        yield (
            f"Retainer-to-guide margin may be {format_number(value.low, 2)} mm:"
            " the retainer may land on the guide."
        )
    elif wanted is not None and value.low < wanted:
        yield (
            f"Retainer-to-guide margin may be {format_number(value.low, 2)} mm, below your own"
            f" {format_number(wanted)} mm."
        )


def _of_speed(side: BuildSide) -> Iterator[str]:
    top = side.rpm_at_top
    if top is not None and top.high > side.limit.rpm:
        slip = "" if top.low > side.limit.rpm else " with 3 % slip"
        rpm = top.low if top.low > side.limit.rpm else top.high
        yield (
            f"The expected top speed needs {rpm:,.0f} rpm{slip}, above the lowest limit,"
            f" {side.limit.rpm:,.0f}."
        )
