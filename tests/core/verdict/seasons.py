"""Simulated seasons with known truth, judged by the public core: how often is it right?

``simulate`` draws seasons: a machine, two days of one build for the day spread, a third day on it
(A) and a fourth on another build (B), with other air, wind and rider's mass; readings carry the
errors of hand instruments; one attempt in fifty is odd; days differ by a spread drawn from its
prior. What is asked is in ``KINDS``. The table: ``python tests/core/verdict/season_table.py``.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta

import msgspec
import numpy as np

from core.attempts import AirReading, Attempt
from core.errors import BackToBackError
from core.session import Place, Session, SessionHead
from core.session.documents import SESSION_KIND
from core.setup import Reading, Sheet
from core.stats import Verdict, welch
from core.verdict import Comparison, Sides, compare
from tests.core.verdict.season_truth import (
    TEETH,
    Array,
    Days,
    draw_days,
    draw_machines,
    run_times,
)
from tests.making import START

SEED = 20_260_412
SLOPE = 0.003
KINDS = ("two days", "one day", "A-B-A", "two clocks")
_PLACE = Place(id="p1", name="Vennimoor strip", directions=("W", "E"), elevation=35.0, slope=0.3)
_USUAL_SD, _DAY_SHARE = 0.11, 0.02
_CALLS = (Verdict.QUICKER, Verdict.SLOWER)
_HAND_OFFSET, _HAND_SD = 0.25, 0.10  # s, of a hand watch against the logger on one attempt


@dataclass(frozen=True)
class Outcome:
    """One season judged."""

    truth: float  # true B less A in the air of A, s
    net: tuple[float, float]  # range that decides
    raw: tuple[float, float]
    called: bool  # quicker or slower
    raw_called: bool
    welch_called: bool


@dataclass(frozen=True)
class Season:
    """What a comparison is made from."""

    a: Session
    b: Session
    builds: tuple[str, str]
    past: tuple[Session, ...]
    truth: float


def _readings(day: Days, i: int, rng: np.random.Generator, session: int) -> tuple[AirReading, ...]:
    wind = float(day.wind[i]) + (0.3 + 0.25 * abs(float(day.wind[i]))) * rng.normal()
    return (
        AirReading(
            observed=START + timedelta(days=7 * session, minutes=10),
            temperature=float(day.temperature[i]) + 0.7 * rng.normal(),
            pressure=float(day.pressure[i]) + 1.5 * rng.normal(),
            humidity=min(100.0, float(day.humidity[i]) + 5.0 * rng.normal()),
            wind=abs(wind),
            wind_from="W" if wind > 0.0 else "E",
        ),
    )


def _sheet(build: str) -> Sheet:
    values = {
        "bore": 70.0, "stroke": 54.0, "engine_sprocket_teeth": 12.0, "final_sprocket_teeth": TEETH,
        "circumference": 1.06, "engagement_rpm": 2500.0, "machine_mass": 63.0, "rider_mass": 78.0,
        "exhaust_length": 300.0 if build == "A" else 400.0,
    }  # fmt: skip
    return Sheet(
        readings={k: Reading(state="set", value=v, text=f"{v:g}") for k, v in values.items()}
    )


def _attempts(values: Sequence[float], sheet: int, first: int, session: int) -> list[Attempt]:
    return [
        Attempt(
            n=first + k,
            sheet=sheet,
            value=round(value, 2),
            direction="WE"[k % 2],
            at=START + timedelta(days=7 * session, minutes=20 + 4 * (first + k)),
        )
        for k, value in enumerate(values)
    ]


def _session(
    number: int, builds: str, values: Sequence[Sequence[float]], air: tuple[AirReading, ...]
) -> Session:
    tries: list[Attempt] = []
    for index, block in enumerate(values):
        tries += _attempts(block, index, len(tries) + 1, number)
    return Session(
        id=f"20260412-0000{number:02d}-seasonaa",
        label=f"S{number:02d}",
        machine="m1",
        place="p1",
        started=START + timedelta(days=7 * number),
        test="0-50",
        timing="logger-10hz",
        directions=("W", "E"),
        sheets=tuple(_sheet(build) for build in builds),
        attempts=tuple(tries),
        air=air,
        rider="R1",
    )


class Draws:
    """All seasons of one run, drawn and run at once; ``season`` puts one together."""

    def __init__(self, count: int, pairs: int, effect: float, seed: int, odd: float) -> None:
        self.rng = np.random.default_rng([seed, pairs, round(1000 * effect)])
        self.pairs, self.odd, n = pairs, odd, count
        self.machines = draw_machines(self.rng, n)
        self.days = [draw_days(self.rng, n) for _ in range(4)]
        self.part = 1.0 + effect * self.rng.normal(size=n)
        self.sd = _USUAL_SD * np.sqrt(4.0 / self.rng.chisquare(4.0, n))
        day_sd = _DAY_SHARE * np.sqrt(3.0 / self.rng.chisquare(3.0, n))
        ones = np.ones(n)
        self.base_a = [self._both(day, ones) for day in self.days]
        self.off = [w * day_sd * self.rng.normal(size=n) for w, _ in self.base_a]
        self.base_b = [self._both(day, self.part) for day in (self.days[2], self.days[3])]

    def _both(self, day: Days, part: Array) -> tuple[Array, Array]:
        west, east = (run_times(self.machines, day, part, SLOPE, h) for h in (1.0, -1.0))
        return west, east

    def block(self, base: tuple[Array, Array], i: int, off: float, pairs: int) -> list[float]:
        """Attempts of one block, both ways in turn, some of them odd; ``off``: the day's own, s."""
        return [
            float(base[k % 2][i])
            + off
            + float(self.sd[i]) * self.rng.normal()
            + (self.rng.uniform(0.4, 0.9) if self.rng.random() < self.odd else 0.0)
            for k in range(2 * pairs)
        ]

    def air(self, day: int, i: int) -> tuple[AirReading, ...]:
        """What was read on a day."""
        return _readings(self.days[day], i, self.rng, day)

    def truth(self, i: int, day: int) -> float:
        """B less A in the conditions of a day, both ways averaged."""
        b, a = self.base_b[0 if day == 2 else 1], self.base_a[day]
        return float(np.mean([b[way][i] - a[way][i] for way in (0, 1)]))

    def season(self, kind: str, i: int) -> Season:
        """Put one season together."""
        off = [float(o[i]) for o in self.off]
        past = tuple(
            _session(d, "A", [self.block(self.base_a[d], i, off[d], 4)], self.air(d, i))
            for d in (0, 1)
        )
        a = self.block(self.base_a[2], i, off[2], self.pairs)
        if kind == "one day":
            b = self.block(self.base_b[0], i, off[2], self.pairs)
            day = _session(2, "AB", [a, b], self.air(2, i))
            return Season(day, day, ("A", "B"), past, self.truth(i, 2))
        if kind == "A-B-A":
            drift = 0.15 * self.rng.normal()
            b = [v + drift for v in self.block(self.base_b[0], i, off[2], self.pairs)]
            again = [v + 2 * drift for v in self.block(self.base_a[2], i, off[2], self.pairs)]
            day = _session(2, "ABA", [a, b, again], self.air(2, i))
            return Season(day, day, ("A", "B"), past, self.truth(i, 2))
        b = self.block(self.base_b[1], i, off[3], self.pairs)
        sides = _session(2, "A", [a], self.air(2, i)), _session(3, "B", [b], self.air(3, i))
        if kind == "two clocks":
            past, sides = (self._by_both(past[0]), past[1]), (self._by_hand(sides[0]), sides[1])
        return Season(*sides, ("A", "A"), past, self.truth(i, 2))

    def _by_hand(self, session: Session) -> Session:
        """The same attempts with a hand watch."""
        tries = tuple(msgspec.structs.replace(a, value=self._hand(a)) for a in session.attempts)
        return msgspec.structs.replace(session, attempts=tries, timing="hand")

    def _by_both(self, session: Session) -> Session:
        """The same attempts with a hand watch beside the logger."""
        tries = tuple(
            msgspec.structs.replace(a, second=self._hand(a), second_timing="hand")
            for a in session.attempts
        )
        return msgspec.structs.replace(session, attempts=tries)

    def _hand(self, a: Attempt) -> float:
        return round((a.value or 0.0) - _HAND_OFFSET + _HAND_SD * self.rng.normal(), 2)


def judged(season: Season) -> Comparison:
    """Judge one season through the public core."""
    sessions = {s.id: s for s in (*season.past, season.a, season.b)}
    heads = [SESSION_KIND.make_head(s) for s in sessions.values() if SESSION_KIND.make_head]
    return compare(
        Sides(season.a, season.builds[0], season.b, season.builds[1], "0-50"),
        [head for head in heads if isinstance(head, SessionHead)],
        gain=0.15,
        past=season.past,
        place_of=lambda _: _PLACE,
    )


def simulate(
    kind: str,
    count: int,
    pairs: int = 4,
    effect: float = 0.04,
    seed: int = SEED,
    odd: float = 0.02,
) -> list[Outcome]:
    """Judge seasons of one kind.

    Args:
        kind: one of ``KINDS``.
        count: how many.
        pairs: on each build.
        effect: standard deviation of the torque that B has more, as a share; 0: no difference.
        seed: of everything random.
        odd: share of attempts that are 0.4 to 0.9 s too slow for no reason.
    """
    draws, found = Draws(count, pairs, effect, seed, odd), []
    for i in range(count):
        if not np.isfinite([draws.truth(i, 2), draws.truth(i, 3)]).all():
            continue  # a machine too weak for 50 km/h is no season
        season = draws.season(kind, i)
        made = judged(season)
        raw, net = made.difference, made.deciding
        assert raw is not None
        assert net is not None
        found.append(
            Outcome(
                truth=season.truth,
                net=(net.low, net.high),
                raw=(raw.low, raw.high),
                called=made.verdict in _CALLS,
                raw_called=made.raw_verdict in _CALLS,
                welch_called=_welch(made),
            )
        )
    return found


def _welch(made: Comparison) -> bool:
    try:
        answer = welch(made.a.values, made.b.values)
    except BackToBackError:
        return False
    return answer.low > 0.0 or answer.high < 0.0


def covered(found: Sequence[Outcome], which: str = "net") -> float:
    """Share of seasons whose range holds the truth."""
    ranges = [(one.net if which == "net" else one.raw, one.truth) for one in found]
    return sum(low <= truth <= high for (low, high), truth in ranges) / len(ranges)


def called(found: Sequence[Outcome], which: str = "called") -> float:
    """Share of seasons that were called quicker or slower."""
    return sum(bool(getattr(one, which)) for one in found) / len(found)
