"""The attempts of a session as a picture: by block and direction, with the build held against."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator

from core.attempts import Attempt, Test, counted, find_test, observations
from core.report.pictures import Dot, Picture, PictureRow, bar_of, bar_words
from core.session import Session
from core.setup import build_letters
from core.stats import Spread
from core.units import format_number
from core.verdict import BuildSide, Pool

__all__ = ["attempts_picture", "block_names", "n_words"]


def attempts_picture(
    session: Session,
    *,
    pool: Pool | None = None,
    odd: Collection[int] = (),
    against: BuildSide | None = None,
    test: str = "",
) -> Picture:
    """Return the attempts of a session as a picture, quick enough for every keystroke.

    Args:
        session: any; also one that runs, or is empty.
        pool: repeatability of the machine on this test, with or without this session; None: not
            read yet, and then there are no ranges.
        odd: numbers of the attempts that stand apart.
        against: what the build is held against, from another session.
        test: name of the test; empty: the session's main test.

    A block is what ran on one setup sheet. Each has a row for each direction and one for the mean
    of its pairs with its range.
    """
    row = find_test(test or session.test)
    if not row.unit:
        return Picture((), "", 0)
    whole = None if pool is None else pool.with_session(session)
    rows = [*_block_rows(session, row, whole, odd)]
    if against is not None and against.session != session.id and against.test == row.name:
        rows.append(_beside(against, row, whole))
    return Picture(tuple(rows), row.unit, row.decimals)


def block_names(session: Session) -> tuple[str, ...]:
    """Return a name for each setup sheet: ``A``; or ``A1``, ``B``, ``A2`` where a build returns."""
    letters = build_letters(session.sheets)
    times, seen = Counter(letters), Counter[str]()
    names = []
    for letter in letters:
        seen[letter] += 1
        names.append(f"{letter}{seen[letter]}" if times[letter] > 1 else letter)
    return tuple(names)


def n_words(n: int, kind: str) -> str:
    """Return a count of observations: ``4 pairs``, ``1 attempt``."""
    return f"{n} {kind}{'' if n == 1 else 's'}"


def _spread(pool: Pool | None, kind: str) -> Spread | None:
    return None if pool is None else pool.spread(kind)


def _block_rows(
    session: Session, test: Test, pool: Pool | None, odd: Collection[int]
) -> Iterator[PictureRow]:
    names = block_names(session)
    shown = [a for a in session.attempts if _is_shown(a, test, session)]
    used = sorted({a.sheet for a in shown})
    for sheet in used:
        name = names[sheet] if len(used) > 1 and sheet < len(names) else ""
        mine = [a for a in shown if a.sheet == sheet]
        for way in _ways(mine, session.directions):
            yield _way_row([a for a in mine if a.direction == way], way, name, test, odd)
        yield from _mean_row(session, mine, name, test, pool)


def _is_shown(attempt: Attempt, test: Test, session: Session) -> bool:
    is_of_test = (attempt.test or session.test) == test.name
    return is_of_test and attempt.kind == "timed" and attempt.value is not None


def _ways(attempts: list[Attempt], directions: tuple[str, ...]) -> list[str]:
    """The directions that occur, in the place's own order."""
    found = {a.direction for a in attempts}
    return [*(d for d in directions if d in found), *sorted(found.difference(directions))]


def _way_row(
    attempts: list[Attempt], way: str, block: str, test: Test, odd: Collection[int]
) -> PictureRow:
    good = [a.value for a in attempts if a.strike is None and a.value is not None]
    return PictureRow(
        label=" ".join(filter(None, (block, way or "any way"))),
        role="way",
        note=f"×{len(good)}" if good else "",
        dots=tuple(_dot(a, odd) for a in attempts),
        said=format_number(sum(good) / len(good), test.decimals) if good else "",
        block=block,
    )


def _dot(attempt: Attempt, odd: Collection[int]) -> Dot:
    value = attempt.value if attempt.value is not None else 0.0
    if attempt.strike is not None:
        return Dot(value, "struck", (attempt.n,))
    return Dot(value, "odd" if attempt.n in odd else "counts", (attempt.n,))


def _mean_row(
    session: Session, attempts: list[Attempt], block: str, test: Test, pool: Pool | None
) -> Iterator[PictureRow]:
    good = counted(attempts, test.name, session.test)
    seen = observations(good, two_way=len(session.directions) == 2)
    if not seen.values:
        return
    mean, n = sum(seen.values) / len(seen.values), len(seen.values)
    bar = bar_of(mean, n, _spread(pool, seen.kind))
    yield PictureRow(
        label=block or "mean",
        role="main",
        note=n_words(n, seen.kind),
        bar=bar,
        said=bar_words(bar, test.decimals),
        block=block,
    )


def _beside(side: BuildSide, test: Test, pool: Pool | None) -> PictureRow:
    bar = bar_of(side.mean, side.n, _spread(pool, side.kind))
    return PictureRow(
        label=side.label,
        role="beside",
        note=n_words(side.n, side.kind),
        bar=bar,
        said=bar_words(bar, test.decimals),
        block=side.label,
    )
