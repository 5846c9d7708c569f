"""The sprocket table: what each pair of sprockets would do at a place."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from core.drive.gearing import overall_ratio, rpm, speed
from core.drive.stopping import stopping_distance
from core.errors import InputError, UnknownInputError
from core.guards import above_zero, not_negative

__all__ = ["ClosestPair", "SprocketRow", "closest_pairs", "lowest_limit", "sprocket_table"]


class SprocketRow(msgspec.Struct, frozen=True):
    """One pair of sprockets at a place."""

    driver: int  # teeth
    driven: int  # teeth
    ratio: float  # overall, further stages included
    rpm_at_trap: float  # 1/min at the speed expected at the timing mark
    speed_at_limit: float  # m/s at the lowest rpm limit entered
    over_limit: bool  # the trap speed needs more rpm than that limit
    stopping: float  # m from the speed expected, by the usual reckoning
    run_out_short: bool  # less run-out than twice that, or none known to be there


class ClosestPair(msgspec.Struct, frozen=True):
    """A pair and the speed it gives."""

    driver: int  # teeth
    driven: int  # teeth
    speed: float  # m/s


def lowest_limit(limits: dict[str, float | None], counted_as: float = 3600.0) -> tuple[str, float]:
    """Return the name and value of the lowest rpm limit, an unknown one counted low.

    Args:
        limits: by part, 1/min; None where nobody entered one.
        counted_as: 1/min, what an unknown limit counts as: where governed engines of this kind run.

    Returns:
        Name and 1/min.

    Raises:
        UnknownInputError: no limits at all.
        InputError: a limit is not above zero.

    Source: 3,600 for a limit not entered: common practice, no source.

    >>> lowest_limit({"rod": 6500.0, "valve springs": None})
    ('valve springs', 3600.0)
    """
    if not limits:
        raise UnknownInputError("Unknown: no rpm limit is entered.", ("rpm limit",))
    counted = {
        name: counted_as if limit is None else above_zero(f"rpm limit of the {name}", limit, "rpm")
        for name, limit in limits.items()
    }
    return min(counted.items(), key=lambda item: item[1])


def sprocket_table(
    drivers: Sequence[int],
    driven: Sequence[int],
    *,
    circumference: float,
    trap_speed: float,
    limit: float,
    run_out: float | None,
    slip: float = 0.0,
    further: Sequence[tuple[float, float]] = (),
) -> tuple[SprocketRow, ...]:
    """Return a row for every pair of sprockets, longest ratio last.

    Args:
        drivers: teeth on hand for the driver.
        driven: teeth on hand for the driven.
        circumference: rolling, m, above zero.
        trap_speed: speed expected at the timing mark, m/s, zero or more.
        limit: lowest rpm limit entered, 1/min, above zero.
        run_out: way from the mark to the end, m; None where nobody walked it.
        slip: share, 0 when unknown.
        further: stages besides this one.

    Returns:
        Rows by falling speed at the limit.

    Raises:
        InputError: an input is refused.

    Source: :func:`speed`, :func:`rpm`, :func:`stopping_distance`; twice the stopping distance:
    common practice, no source.
    """
    above_zero("rpm limit", limit, "rpm")
    stopping = stopping_distance(trap_speed)
    short = run_out is None or not_negative("run-out", run_out, "m") < 2 * stopping
    rows = []
    for small in drivers:
        for large in driven:
            ratio = overall_ratio([(small, large), *further])
            needed = rpm(trap_speed, ratio, circumference, slip)
            top = speed(limit, ratio, circumference, slip)
            rows.append(
                SprocketRow(small, large, ratio, needed, top, needed > limit, stopping, short)
            )
    return tuple(sorted(rows, key=lambda row: row.ratio))


def closest_pairs(
    drivers: Sequence[int],
    driven: Sequence[int],
    engine_rpm: float,
    circumference: float,
    target: float,
    further: Sequence[tuple[float, float]] = (),
) -> tuple[ClosestPair, ...]:
    """Return all pairs by how close their speed at an rpm is to a wanted one, closest first.

    Args:
        drivers: teeth on hand for the driver.
        driven: teeth on hand for the driven.
        engine_rpm: 1/min, zero or more.
        circumference: rolling, m, above zero.
        target: m/s, zero or more.
        further: stages besides this one.

    Raises:
        InputError: an input is refused, or there is no pair.

    Source: every pair tried.

    >>> best, *rest = closest_pairs([10, 11, 12, 13], [54, 60, 64, 68, 72], 3800, 1.47, 15.0)
    >>> best.driver, best.driven, round(best.speed, 2)
    (11, 68, 15.06)
    """
    if not drivers or not driven:
        raise InputError("No sprockets are given: there is no pair to choose from.")
    not_negative("wanted speed", target, "km/h")
    pairs = [
        ClosestPair(a, b, speed(engine_rpm, overall_ratio([(a, b), *further]), circumference))
        for a in drivers
        for b in driven
    ]
    return tuple(sorted(pairs, key=lambda pair: abs(pair.speed - target)))
