"""A comparison as two pictures: the sides on one axis, and the difference with its zero line."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import hypot

from core.attempts import Test, find_test
from core.report.attempt_pictures import n_words
from core.report.pictures import Bar, Dot, Picture, PictureRow, bar_of, bar_words
from core.stats import Spread
from core.verdict import BuildSide, Comparison, Look, better_worse, difference_words
from core.verdict.day_by_day import DayMean

__all__ = ["days_picture", "difference_picture", "sides_picture"]


def sides_picture(made: Comparison, look: Look) -> Picture:
    """Return both sides: each observation as a dot, the mean with its range of that day.

    Args:
        made: the comparison.
        look: which way to look at it.
    """
    rows = (_side_row(look.a, "1", made), _side_row(look.b, "2", made))
    return Picture(tuple(row for row in rows if row.dots), made.unit, made.decimals)


def _side_row(side: BuildSide, name: str, made: Comparison) -> PictureRow:
    odd = {odd.n for odd in made.odd if odd.session == side.session}
    counted = {
        n for known in (made.a, made.b) if known.label == side.label for n in _numbers(known)
    }
    spread = None
    if made.spread is not None and made.spread_dof is not None:
        spread = Spread(made.spread, made.spread_dof, made.spread_dof)
    bar = bar_of(side.mean, side.n, spread)
    return PictureRow(
        label=f"{name} {side.label}",
        role="beside" if name == "1" else "main",
        note=n_words(side.n, side.kind),
        dots=tuple(
            _dot(value, numbers, odd, counted)
            for value, numbers in zip(side.values, side.attempts, strict=True)
        ),
        bar=bar,
        said=bar_words(bar, made.decimals),
        block=name,
    )


def _numbers(side: BuildSide) -> set[int]:
    return {*side.left_over, *(n for group in side.attempts for n in group)}


def _dot(value: float, numbers: tuple[int, ...], odd: set[int], counted: set[int]) -> Dot:
    if not counted.issuperset(numbers):
        return Dot(value, "struck", numbers)
    return Dot(value, "counts" if odd.isdisjoint(numbers) else "odd", numbers)


def difference_picture(made: Comparison, looks: Sequence[Look], shown: Look) -> Picture:
    """Return the difference B less A with its range, the zero line and the smallest gain.

    Args:
        made: the comparison.
        looks: every way to look at it.
        shown: the one that is looked at now; its row is the main one.
    """
    test = find_test(made.b.test)
    better, worse = better_worse(test)
    return Picture(
        rows=tuple(_difference_rows(made, looks, shown)),
        unit=made.unit,
        decimals=made.decimals,
        is_difference=True,
        gain=made.gain,
        ends=(better, worse) if test.lower_is_better else (worse, better),
    )


_NAMES = {"as it counts": "as clocked", "without odd": "without odd", "with struck": "with struck"}


def _difference_rows(made: Comparison, looks: Sequence[Look], shown: Look) -> Iterator[PictureRow]:
    test = find_test(made.b.test)
    for look in looks:
        found = look.difference
        if found is None:
            continue
        first = look.id == "as it counts"
        yield PictureRow(
            label=_NAMES[look.id] if made.net or not first else "difference",
            role="main" if look.id == shown.id and not (first and made.net) else "beside",
            bar=Bar(found.value, found.low, found.high),
            said=difference_words(found.value, test),
            block=look.id,
        )
        if first:
            yield from _net_rows(made, test, is_main=look.id == shown.id)


def _net_rows(made: Comparison, test: Test, *, is_main: bool) -> Iterator[PictureRow]:
    """What is allowed for and what is left, on the same axis."""
    if made.net is None or made.difference is None:
        return
    value = made.difference.value - made.net.value
    half = _half_allowed(made)
    yield PictureRow(
        label="allowed for",
        role="beside",
        bar=Bar(value, value - half, value + half),
        said=difference_words(value, test),
        block="allowed for",
    )
    yield PictureRow(
        label="net",
        role="main" if is_main else "beside",
        bar=Bar(made.net.value, made.net.low, made.net.high),
        said=difference_words(made.net.value, test),
        block="net",
    )


def _half_allowed(made: Comparison) -> float:
    """Half the range of all that is allowed for, conditions and clocks together."""
    explained = made.allowances.explained if made.allowances else None
    parts = []
    if explained is not None and made.drift is None:
        parts.append((explained.high - explained.low) / 2.0)
    elif explained is not None:
        mass = explained.part("mass")
        parts.append((mass.high - mass.low) / 2.0)
    if made.clock is not None:
        parts.append((made.clock.high - made.clock.low) / 2.0)
    return hypot(*parts)


def days_picture(made: Comparison, days: Sequence[DayMean]) -> Picture:
    """Return the days of one build: the mean as clocked as a dot, the net one as a bar.

    Args:
        made: the comparison, for unit and spread.
        days: two or more, oldest first.
    """
    spread = None
    if made.spread is not None and made.spread_dof is not None:
        spread = Spread(made.spread, made.spread_dof, made.spread_dof)
    rows = []
    for day in days:
        bar = bar_of(day.net if day.net is not None else day.raw, day.n, spread)
        rows.append(
            PictureRow(
                label=day.label,
                role="main" if day.label == made.b.label.partition(":")[0] else "beside",
                note=n_words(day.n, made.b.kind),
                dots=(Dot(day.raw, "counts", ()),),
                bar=bar,
                said=bar_words(bar, made.decimals) if day.net is not None else "air not read",
                block=day.label,
            )
        )
    return Picture(tuple(rows), made.unit, made.decimals)
