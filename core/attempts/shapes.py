"""What every test of one shape has in common: unit, usual scatter, how it is run.

The spreads are those of a single attempt by the same person doing it again, taken as the middle of
the ranges a careful builder sees on a minibike that does 0-50 km/h in about 7 s.
Source of every spread and minimum: common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal

import msgspec

__all__ = ["SHAPES", "Shape", "ShapeRow", "Usual"]

Shape = Literal["standing", "rolling", "distance", "top", "coast", "hill", "plug"]


class Usual(msgspec.Struct, frozen=True):
    """How far single attempts usually scatter with one kind of timing gear."""

    sd: float  # in the test's unit, or a share of the typical value
    relative: bool = False  # whether it is a share

    def of(self, typical: float) -> float:
        """Return the standard deviation in the test's unit, for that typical value."""
        return self.sd * typical if self.relative else self.sd


_TWO_WAYS = math.sqrt(2.0)  # the mean of two ways scatters less than one way by this


def _seconds(**sd: float) -> Mapping[str, Usual]:
    return MappingProxyType({k.replace("_", "-"): Usual(v) for k, v in sd.items()})


def _shares(**sd: float) -> Mapping[str, Usual]:
    return MappingProxyType({k.replace("_", "-"): Usual(v, True) for k, v in sd.items()})


class ShapeRow(msgspec.Struct, frozen=True):
    """What all tests of one shape have in common."""

    unit: str  # ``s``, ``km/h``; empty: words, no number
    lower_is_better: bool
    decimals: int  # decimals that are implied when only digits are typed
    minimum: int  # fewest pairs (single attempts where run one way) worth starting for
    usual: Mapping[str, Usual]  # by name of timing gear, of a single attempt
    procedure: str  # how it is run
    hold: str  # what must stay the same


# Ranges behind the numbers, by the gear for which practice knows one: standing start, hand watch
# and needle 0.20-0.30 s, 1 per second 0.15-0.25, 10 per second 0.07-0.15; rolling, 10 per second
# 0.04-0.10; distance, gates 0.03-0.06, hand 0.12-0.20; top speed 0.3-0.8 km/h as mean of two ways;
# coast-down 3-6 %; hill 2-3 %. The other gear is placed between them by its clock.
SHAPES: Mapping[Shape, ShapeRow] = MappingProxyType(
    {
        "standing": ShapeRow(
            "s",
            True,
            2,
            4,
            _seconds(hand=0.25, logger_1hz=0.20, logger_10hz=0.11, gates=0.10, trace=0.10),
            "Stop, same idle, snap open on your own call; the clock runs from first motion.",
            "launch style, surface, clutch temperature, mass",
        ),
        "rolling": ShapeRow(
            "s",
            True,
            2,
            4,
            _seconds(hand=0.25, logger_1hz=0.20, logger_10hz=0.07, gates=0.06, trace=0.06),
            "Enter 5 km/h below, steady, then open fully.",
            "entry speed steady, posture, gear",
        ),
        "distance": ShapeRow(
            "s",
            True,
            2,
            5,
            _seconds(hand=0.16, logger_1hz=0.25, logger_10hz=0.10, gates=0.045, trace=0.09),
            "Tape both marks; clock from mark to mark.",
            "marks, start offset",
        ),
        "top": ShapeRow(
            "km/h",
            False,
            1,
            3,
            _seconds(
                hand=0.80 * _TWO_WAYS,
                logger_1hz=0.65 * _TWO_WAYS,
                logger_10hz=0.55 * _TWO_WAYS,
                gates=0.55 * _TWO_WAYS,
                trace=0.55 * _TWO_WAYS,
            ),
            "Full run to a plateau of 2 s or more, both ways within 5 minutes.",
            "posture, wind, length",
        ),
        "coast": ShapeRow(
            "s",
            False,
            2,
            3,
            _shares(hand=0.06, logger_1hz=0.05, logger_10hz=0.045, gates=0.045, trace=0.04),
            "Clutch free or chain as stated, no brake, hands the same; longer means less drag.",
            "tyres, posture, warm bearings",
        ),
        "hill": ShapeRow(
            "s",
            True,
            2,
            5,
            _shares(hand=0.03, logger_1hz=0.03, logger_10hz=0.025, gates=0.02, trace=0.025),
            "Fixed entry speed, from mark to mark, one way.",
            "entry speed, line",
        ),
        "plug": ShapeRow(
            "",
            True,
            0,
            1,
            MappingProxyType({}),
            "New or clean plug, full load for 10 to 20 s, then kill and coast with the clutch.",
            "fuel, jet, one load",
        ),
    }
)
