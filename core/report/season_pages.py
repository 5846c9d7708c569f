"""The season as a page: results over time with changes marked, scatter over time, predictions."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from core.ask import Asker, Season, SeasonPoint, score_of, season_of, steadiness_of, tests_run
from core.clock import day_words
from core.errors import NotFoundError
from core.report.document import Block, Chart, Column, Heading, Paragraph, Report, Table
from core.report.pictures import Bar, Dot, Picture, PictureRow
from core.session import Book
from core.units import format_number

__all__ = ["season_data", "season_page", "season_picture", "season_told"]


def season_told(book: Book, words: str = "", machine: str = "") -> tuple[Asker, Season]:
    """Return whom the words ask about and that machine's season on the test they name.

    Args:
        book: the open log.
        words: a machine and a test, either may be left out.
        machine: id of the machine to take where none is named.

    Raises:
        NotFoundError: the machine has no attempts.
    """
    asker = Asker(book, words, machine)
    tests = tests_run(asker.sessions, asker.machine)
    if not tests:
        name = asker.machine_name or "The log"
        raise NotFoundError(f"{name} has no attempts yet: there is no season to show.")
    named = [t for t in tests if t.casefold() in asker.tokens]
    left = [t for t in asker.rest if t not in [n.casefold() for n in named]]
    if left and not named:
        raise NotFoundError(
            f"{asker.machine_name} ran no test “{left[0]}”.", f"It ran {', '.join(tests)}."
        )
    return asker, season_of(book, asker.sessions, asker.machine, (named or list(tests))[0])


def season_page(book: Book, words: str = "", machine: str = "") -> Report:
    """Return a machine's season on one test.

    Raises:
        NotFoundError: the machine has no attempts, or ran no such test.
    """
    asker, season = season_told(book, words, machine)
    title = f"{asker.machine_name}, {season.test}: the season"
    return Report(title, tuple(_blocks(book, asker, season)))


def _blocks(book: Book, asker: Asker, season: Season) -> Iterator[Block]:
    yield Paragraph(_headline(season))
    yield Chart("Means with their range, best attempts as dots", season_picture(season))
    yield Heading("Results, oldest first")
    columns = (
        Column("result"), Column("day", right=True), Column("n", right=True),
        Column("best", right=True), Column("mean", right=True), Column("range", right=True),
        Column("scatter", right=True), Column("changed before it", flexible=True),
    )  # fmt: skip
    yield Table(columns, tuple(_cells(p, season) for p in season.points), wraps=True)
    yield Paragraph(f"All in {season.unit}, as clocked: air and wind are not taken out.")
    yield Heading("Am I getting more repeatable?")
    yield Paragraph(steadiness_of(season).sentence)
    score = score_of(book, asker.of_machine())
    yield Heading("Predictions")
    yield Paragraph(score.sentence)
    if score.rows:
        heads = ("session", "predicted", "got", "range", "sign", "size")
        yield Table(
            tuple(Column(name, flexible=name == "range") for name in heads),
            tuple(
                (r.label, r.predicted, r.got, r.range, r.sign, "inside" if r.inside else "outside")
                for r in score.rows
            ),
            wraps=True,
        )


def _headline(season: Season) -> str:
    points = season.points
    if not points:
        return "No result that counts yet."
    sign = 1.0 if season.lower_is_better else -1.0
    best = min(points, key=lambda p: sign * p.mean)
    attempt = min(points, key=lambda p: sign * p.best)
    unit, d = season.unit, season.decimals
    ran = len({p.session for p in points})
    return (
        f"{len(points)} results in {ran} session{'' if ran == 1 else 's'}, from "
        f"{day_words(points[0].day)} to {day_words(points[-1].day)}. Best mean "
        f"{format_number(best.mean, d)} {unit} ({best.label}), best attempt "
        f"{format_number(attempt.best, d)} {unit} ({attempt.label}), newest mean "
        f"{format_number(points[-1].mean, d)} {unit} ({points[-1].label})."
    )


def _cells(point: SeasonPoint, season: Season) -> tuple[str, ...]:
    d = season.decimals
    low, high = point.mean - point.half, point.mean + point.half
    return (
        point.label,
        day_words(point.day),
        f"{point.n} {point.kind}{'' if point.n == 1 else 's'}",
        format_number(point.best, d),
        format_number(point.mean, d),
        f"{format_number(low, d)}-{format_number(high, d)}",
        format_number(point.sd, d) if point.sd is not None else "-",
        "; ".join(point.changed_words) or "-",
    )


def season_picture(season: Season) -> Picture:
    """Return the season as a picture, a row for each result, oldest on top."""
    rows = tuple(_row(point, season) for point in season.points)
    return Picture(rows, season.unit, season.decimals)


def _row(point: SeasonPoint, season: Season) -> PictureRow:
    half = format_number(point.half, season.decimals)
    said = f"{format_number(point.mean, season.decimals)} ±{half}"
    sign = "◂ " if point.changed else ""
    return PictureRow(
        label=f"{point.label} {point.day.day}.{point.day.month}.",
        role="main" if point.changed else "beside",
        note=f"{sign}{', '.join(point.changed)}",
        dots=(Dot(point.best, "counts", ()),),
        bar=Bar(point.mean, point.mean - point.half, point.mean + point.half),
        said=said,
        block=point.label,
    )


def season_data(book: Book, words: str = "") -> dict[str, Any]:
    """Return a season as plain data.

    Raises:
        NotFoundError: the machine has no attempts, or ran no such test.
    """
    asker, season = season_told(book, words)
    steady, score = steadiness_of(season), score_of(book, asker.of_machine())
    return {
        "machine": asker.machine_name,
        "test": season.test,
        "unit": season.unit,
        "results": [
            {
                "session": p.session, "label": p.label, "day": p.day.date().isoformat(),
                "n": p.n, "of": p.kind, "best": p.best, "mean": p.mean,
                "low": p.mean - p.half, "high": p.mean + p.half, "scatter": p.sd,
                "timing": p.timing, "changed": list(p.changed_words),
            }
            for p in season.points
        ],
        "scatter": {"early": steady.early, "late": steady.late, "chance": steady.share,
                    "sentence": steady.sentence},
        "predictions": {
            "made": len(score.rows), "right": score.right, "wrong": score.wrong,
            "open": score.open, "inside": score.inside, "sentence": score.sentence,
        },
    }  # fmt: skip
