"""What each session of the log adds to the pooled repeatability of a machine on one test."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from core.attempts import Attempt
from core.attempts.pairs import couples
from core.errors import InputError
from core.session import Session, SessionHead
from core.session.weather import Weather, load_of, weather_of
from core.setup import build_key
from core.stats import SessionMean, SumOfSquares
from core.verdict.day_air import DayAir

if TYPE_CHECKING:
    import numpy as np

__all__ = ["Shares", "gather"]


@dataclass(frozen=True, slots=True)
class _Share:
    """One session on one sheet, as far as it is not numbers."""

    session: str  # id
    build: str  # key that same builds share; empty: not known
    place: str  # id; empty: not told
    kind: str  # what one observation is: ``pair`` or ``attempt``
    day: str  # local date, ISO
    weather: Weather | None  # None: not read
    load: float | None  # rider and ballast, kg; None: not weighed


@dataclass(slots=True)
class _Columns:
    """Values of many shares one behind the other, with the group and the share of each."""

    values: list[float] = field(default_factory=list)
    groups: list[int] = field(default_factory=list)  # group each value belongs to
    owners: list[int] = field(default_factory=list)  # share each group belongs to

    def add(self, share: int, values: Sequence[float], keys: Sequence[str]) -> None:
        """Add values of one share; those with the same key have one true mean."""
        found: dict[str, int] = {}
        for key in keys:
            if key not in found:
                found[key] = len(self.owners)
                self.owners.append(share)
            self.groups.append(found[key])
        self.values += values


@dataclass(frozen=True, slots=True, eq=False)
class Shares:
    """What sessions add, as columns that are summed at once, because there are thousands.

    Values are in the unit of the test, sums of squares in its square.
    """

    rows: tuple[_Share, ...]
    raw: np.ndarray  # attempts
    raw_row: np.ndarray  # index of the row of each
    observed: np.ndarray  # pair means, or attempts where none could be formed
    observed_row: np.ndarray
    single: np.ndarray  # by row: sum of squares of attempts about their direction's mean, and dof
    pair: np.ndarray  # by row: the same of pair means about their own mean
    counts: np.ndarray  # by row: whether it counts

    def without(self, session: str) -> Shares:
        """Return the shares of all other sessions."""
        import numpy as np  # lazy: 0.1 s

        others = np.array([row.session != session for row in self.rows], dtype=bool)
        return replace(self, counts=self.counts & others)

    def with_all(self, others: Shares) -> Shares:
        """Return these shares with others behind them."""
        import numpy as np  # lazy: 0.1 s

        def joined(name: str, shift: int = 0) -> np.ndarray:
            return np.concatenate([getattr(self, name), getattr(others, name) + shift])

        return Shares(
            rows=self.rows + others.rows,
            raw=joined("raw"),
            raw_row=joined("raw_row", len(self.rows)),
            observed=joined("observed"),
            observed_row=joined("observed_row", len(self.rows)),
            single=joined("single"),
            pair=joined("pair"),
            counts=np.concatenate([self.counts, others.counts]),
        )

    @property
    def sessions(self) -> int:
        """How many sessions there are."""
        shown = zip(self.rows, self.counts.tolist(), strict=True)
        return len({row.session for row, counts in shown if counts})

    def squares(self, *, of_pairs: bool | None) -> SumOfSquares:
        """Return pooled squares: of pair means, of attempts without pairs, or of all attempts.

        Args:
            of_pairs: True: pair means; False: attempts where no pair could be formed; None: all
                attempts, about the mean of their direction.

        Raises:
            InputError: a value in the log is not a finite number.
        """
        import numpy as np  # lazy: 0.1 s

        rows = self.counts
        if of_pairs is False:
            rows = rows & np.array([row.kind != "pair" for row in self.rows], dtype=bool)
        ss, dof = (self.pair if of_pairs else self.single)[rows].sum(axis=0)
        if not np.isfinite(ss):
            raise InputError("A value in the log is not a finite number.")
        return SumOfSquares(float(ss), float(dof))

    def observations(self) -> np.ndarray:
        """Return all observations."""
        found: np.ndarray = self.observed[self.counts[self.observed_row]]
        return found

    def attempts(self) -> list[float]:
        """Return all attempts."""
        values: list[float] = self.raw[self.counts[self.raw_row]].tolist()
        return values

    def repeats(self, air: DayAir | None = None) -> Iterator[tuple[SessionMean, ...]]:
        """Yield the days of each build that ran at one place on two or more.

        Args:
            air: brings each day to one air and one rider; None: days as they were clocked. Days
                without air stay out where two or more have it; else all stay as clocked.
        """
        import numpy as np  # lazy: 0.1 s

        sums = np.bincount(self.observed_row, self.observed, len(self.rows)).tolist()
        sizes = np.bincount(self.observed_row, minlength=len(self.rows)).tolist()
        builds: dict[tuple[str, str, str], list[tuple[_Share, float, int]]] = {}
        for row, counts, total, n in zip(self.rows, self.counts.tolist(), sums, sizes, strict=True):
            if counts and n and row.build:
                builds.setdefault((row.build, row.place, row.kind), []).append((row, total, n))
        for ran in builds.values():
            days = _days(ran, air)
            if len(days) > 1:
                yield tuple(SessionMean(total / n, n) for total, n in days)


def _days(ran: list[tuple[_Share, float, int]], air: DayAir | None) -> list[tuple[float, int]]:
    """Sum and number of each day of one build, brought to one air where that can be done."""
    known = [one for one in ran if one[0].weather is not None]
    shared = air is not None and len({row.day for row, _, _ in known}) > 1
    days: dict[str, tuple[float, int]] = {}
    for row, total, n in known if shared else ran:
        share = air.share(row.weather, row.load) if air and shared and row.weather else 1.0
        before, m = days.get(row.day, (0.0, 0))
        days[row.day] = (before + total * share, m + n)
    return list(days.values())


def gather(ran: Iterable[SessionHead | Session], machine: str, test: str, timing: str) -> Shares:
    """Return the shares of all sessions of a machine on a test with one timing gear.

    Args:
        ran: sessions, or heads of them.
        machine: id.
        test: name of the test.
        timing: name of the timing gear; attempts timed otherwise do not count.

    Struck, aborted and warm-up attempts never count; tagged ones do.
    """
    rows: list[_Share] = []
    raw, pairs, alone = _Columns(), _Columns(), _Columns()
    for one in ran:
        if one.machine != machine:
            continue
        for sheet, attempts in _counted(one, test, timing).items():
            row = len(rows)
            ways = [a.direction for a in attempts]
            values = [a.value for a in attempts if a.value is not None]
            two_way = len(one.directions) == 2
            starts = couples(ways) if two_way else ()
            if starts:
                means = [(values[at] + values[at + 1]) / 2.0 for at in starts]
                pairs.add(row, means, ("",) * len(means))
                raw.add(row, values, ways)
            elif not (two_way and "" in ways):  # else wind and slope cannot be told from scatter
                alone.add(row, values, ("",) * len(values))
                raw.add(row, values, ways)
            rows.append(_share(one, sheet, "pair" if starts else "attempt"))
    return _summed(rows, raw, pairs, alone)


def _counted(ran: SessionHead | Session, test: str, timing: str) -> dict[int, list[Attempt]]:
    """Counted attempts of one session by sheet; thousands of sessions pass here."""
    own, gear = ran.test == test, ran.timing == timing
    sheets: dict[int, list[Attempt]] = {}
    for a in ran.attempts:
        if (
            a.kind == "timed"
            and a.strike is None
            and a.value is not None
            and (a.test == test if a.test else own)
            and (a.timing == timing if a.timing else gear)
        ):
            sheets.setdefault(a.sheet, []).append(a)
    return sheets


def _share(ran: SessionHead | Session, sheet: int, kind: str) -> _Share:
    if isinstance(ran, SessionHead):
        known = sheet < len(ran.builds)
        build = ran.builds[sheet] if known else ""
        weather, load = ran.weather, ran.loads[sheet] if sheet < len(ran.loads) else None
    else:
        own = ran.sheets[sheet] if sheet < len(ran.sheets) else None
        build = build_key(own) if own else ""
        weather, load = weather_of(ran.air), load_of(own) if own else None
    return _Share(ran.id, build, ran.place, kind, ran.started.date().isoformat(), weather, load)


def _summed(rows: list[_Share], raw: _Columns, pairs: _Columns, alone: _Columns) -> Shares:
    import numpy as np  # lazy: 0.1 s

    def owners(column: _Columns) -> np.ndarray:
        return np.array(column.owners, dtype=np.intp)[np.array(column.groups, dtype=np.intp)]

    return Shares(
        rows=tuple(rows),
        raw=np.array(raw.values, dtype=float),
        raw_row=owners(raw),
        observed=np.array([*pairs.values, *alone.values], dtype=float),
        observed_row=np.concatenate([owners(pairs), owners(alone)]),
        single=_squares(raw, len(rows)),
        pair=_squares(pairs, len(rows)),
        counts=np.ones(len(rows), dtype=bool),
    )


def _squares(column: _Columns, rows: int) -> np.ndarray:
    """Sum of squares about each group's own mean and degrees of freedom, by row.

    The corrected two-pass sum of :func:`core.stats.squares_about_mean`, for all groups at once.
    """
    import numpy as np  # lazy: 0.1 s

    values = np.array(column.values, dtype=float)
    groups = np.array(column.groups, dtype=np.intp)
    owners, count = np.array(column.owners, dtype=np.intp), len(column.owners)
    sizes = np.bincount(groups, minlength=count)
    off = values - (np.bincount(groups, values, count) / sizes)[groups]
    left_over = np.bincount(groups, off, count)
    ss = np.maximum(0.0, np.bincount(groups, off * off, count) - left_over * left_over / sizes)
    by_row = np.bincount(owners, ss, rows), np.bincount(owners, sizes - 1, rows)
    return np.stack(by_row, axis=1)
