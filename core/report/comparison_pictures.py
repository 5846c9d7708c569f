"""A comparison as two pictures: the sides on one axis, and the difference with its zero line."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from core.attempts import find_test
from core.report.attempt_pictures import n_words
from core.report.pictures import Bar, Dot, Picture, PictureRow, bar_of, bar_words
from core.stats import Spread
from core.verdict import BuildSide, Comparison, Look, better_worse, difference_words

__all__ = ["difference_picture", "sides_picture"]


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


_NAMES = {"as it counts": "difference", "without odd": "without odd", "with struck": "with struck"}


def _difference_rows(made: Comparison, looks: Sequence[Look], shown: Look) -> Iterator[PictureRow]:
    test = find_test(made.b.test)
    for look in looks:
        found = look.difference
        if found is None:
            continue
        yield PictureRow(
            label=_NAMES[look.id],
            role="main" if look.id == shown.id else "beside",
            bar=Bar(found.value, found.low, found.high),
            said=difference_words(found.value, test),
            block=look.id,
        )
