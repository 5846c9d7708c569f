"""Several sessions or builds side by side: each as clocked, and net of what its day explains."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from core.attempts import find_test
from core.errors import InputError
from core.report.attempt_pictures import n_words
from core.report.comparing import comparison_data
from core.report.document import Block, Bullets, Column, Heading, Paragraph, Report, Table
from core.report.pictures import Bar, Dot, Picture, PictureRow, bar_of, bar_words
from core.report.words import day_words, mean_words
from core.session import Book, Session
from core.stats import Difference, Spread
from core.units import format_number
from core.verdict import BuildSide, Comparison, compare_documents, difference_words
from core.verdict.sentences import verdict_words

__all__ = ["Laid", "laid_data", "laid_out", "laid_page", "laid_picture"]


@dataclass(frozen=True)
class Laid:
    """Several sides, all held against the first."""

    first: BuildSide
    made: tuple[Comparison, ...]  # each other side against the first, in the order given

    @property
    def sides(self) -> tuple[BuildSide, ...]:
        """Every side, the first one first."""
        return (self.first, *(one.b for one in self.made))


def laid_out(
    book: Book, chosen: Sequence[tuple[Session, str]], *, test: str = "", gain: float | None = None
) -> Laid:
    """Hold two or more sides against the first.

    Args:
        book: the open log.
        chosen: sessions with the letter of a build, or empty: chosen by itself.
        test: name of a test all ran; empty: chosen by itself.
        gain: smallest gain worth having; None: as the sessions said.

    Raises:
        InputError: fewer than two, or two that cannot be compared.
        NotFoundError: no such build or test.
    """
    if len(chosen) < 2:
        raise InputError("Side by side takes two sessions or more.")
    (first, build), *others = chosen
    made = []
    for other, letter in others:
        one = compare_documents(
            book,
            first,
            other,
            build_a=build,
            build_b=letter,
            test=test,
            gain=gain,
            count=True,
        )
        build = one.a.build
        made.append(one)
    return Laid(made[0].a, tuple(made))


def laid_page(laid: Laid) -> Report:
    """Return all sides as one table, the sentences of each below it."""
    blocks: list[Block] = [
        Paragraph(f"All are held against {laid.first.label}, the first of them."),
        Table(
            (Column("side"), Column("day"), Column("mean", right=True), Column("as clocked"),
             Column("net"), Column("range"), Column("answer", flexible=True)),
            tuple(_rows(laid)),
            wraps=True,
        ),
    ]  # fmt: skip
    blocks += _said(laid)
    labels = ", ".join(side.label for side in laid.sides)
    return Report(f"Side by side: {labels}, {laid.first.test}", tuple(blocks))


def _rows(laid: Laid) -> Iterator[tuple[str, ...]]:
    test = find_test(laid.first.test)
    yield (*_own(laid.first), "-", "-", "-", "-")
    for made in laid.made:
        if made.difference is None:
            yield (*_own(made.b), "-", "-", "-", "nothing to compare")
            continue
        net = made.net
        yield (
            *_own(made.b),
            difference_words(made.difference.value, test),
            difference_words(net.value, test) if net else "-",
            _ends(net or made.difference, made.decimals),
            verdict_words(made.verdict, test),
        )


def _own(side: BuildSide) -> tuple[str, str, str]:
    day = day_words(date.fromisoformat(side.day))
    return side.label, day, mean_words(side.mean, side.test) or "-"


def _ends(found: Difference, decimals: int) -> str:
    return f"{found.low:+.{decimals}f} to {found.high:+.{decimals}f}"


def _said(laid: Laid) -> Iterator[Block]:
    for made in laid.made:
        yield Heading(f"{made.b.label} against {made.a.label}")
        yield Paragraph(made.sentence)
        if made.more:
            yield Bullets(made.more[:3])


def laid_data(laid: Laid) -> dict[str, Any]:
    """Return every comparison as plain data, in the order given."""
    return {
        "first": laid.first.label,
        "test": laid.first.test,
        "comparisons": [comparison_data(made) for made in laid.made],
    }


def laid_picture(laid: Laid) -> Picture:
    """Return each side on one axis: dots and mean as clocked, and below it the mean net.

    Net means are in the conditions of the first side; their bars hold the doubt of the allowances.
    """
    first = laid.made[0]
    rows = [_as_clocked(laid.first, first)]
    for made in laid.made:
        rows.append(_as_clocked(made.b, made))
        if made.net is not None and made.difference is not None and made.a.mean is not None:
            middle = made.a.mean + made.net.value
            half = (made.net.high - made.net.low) / 2.0
            shown = format_number(middle, made.decimals)
            rows.append(
                PictureRow(
                    label=f"{made.b.label} net",
                    role="main",
                    bar=Bar(middle, middle - half, middle + half),
                    said=f"{shown} ±{format_number(half, made.decimals)}",
                    block=made.b.label,
                )
            )
    return Picture(tuple(rows), first.unit, first.decimals)


def _as_clocked(side: BuildSide, made: Comparison) -> PictureRow:
    spread = None
    if made.spread is not None and made.spread_dof is not None:
        spread = Spread(made.spread, made.spread_dof, made.spread_dof)
    bar = bar_of(side.mean, side.n, spread)
    return PictureRow(
        label=side.label,
        role="beside",
        note=n_words(side.n, side.kind),
        dots=tuple(
            Dot(value, "counts", numbers)
            for value, numbers in zip(side.values, side.attempts, strict=True)
        ),
        bar=bar,
        said=bar_words(bar, made.decimals),
        block=side.label,
    )
