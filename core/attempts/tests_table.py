"""The tests that can be run, and the reading of their short names.

Typical values are of a minibike that does 0-50 km/h in about 7 s: a rough idea, used only to notice
slips of the decimal point. Source: common practice, no source.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping
from functools import lru_cache

import msgspec

from core.attempts.asking import quoted
from core.attempts.shapes import SHAPES, Shape, Usual
from core.attempts.timing import find_timing
from core.errors import InputError, NotFoundError

__all__ = ["TESTS", "Shape", "Test", "Usual", "find_test", "usual_sd"]


class Test(msgspec.Struct, frozen=True):
    """One test: what is clocked, how, and how well that usually repeats."""

    __test__ = False  # the name is the trade's; pytest must not collect it

    name: str  # short name in files and commands, such as ``0-50``
    title: str  # words on screen
    shape: Shape
    unit: str  # ``s``, ``km/h``; empty: words, no number
    lower_is_better: bool
    decimals: int  # decimals that are implied when only digits are typed
    hard: tuple[float, float]  # in the unit; anything outside is refused
    typical: float  # in the unit, on a machine of the usual size; a rough idea only
    minimum: int  # fewest pairs (single attempts where run one way) worth starting for
    usual: Mapping[str, Usual]  # by name of timing gear, of a single attempt
    procedure: str  # how it is run
    hold: str  # what must stay the same
    from_speed: float | None = None  # km/h
    to_speed: float | None = None  # km/h
    distance: float | None = None  # m

    @property
    def band(self) -> tuple[float, float] | None:
        """What a first value may be without a question; None where nothing is usual."""
        if self.shape in ("hill", "plug"):
            return None
        return self.typical / _FIRST_BAND, self.typical * _FIRST_BAND


_FIRST_BAND = 3.0  # three times either way; below sqrt(10), so two decimal places never both fit


def _make(
    name: str,
    title: str,
    shape: Shape,
    hard: tuple[float, float],
    typical: float,
    speeds: tuple[float | None, float | None] = (None, None),
    distance: float | None = None,
) -> Test:
    row = SHAPES[shape]
    return Test(
        name=name,
        title=title,
        shape=shape,
        unit=row.unit,
        lower_is_better=row.lower_is_better,
        decimals=row.decimals,
        hard=hard,
        typical=typical,
        minimum=row.minimum,
        usual=row.usual,
        procedure=row.procedure,
        hold=row.hold,
        from_speed=speeds[0],
        to_speed=speeds[1],
        distance=distance,
    )


_KMH = {"": 1.0, "km/h": 1.0, "kmh": 1.0, "kph": 1.0, "mph": 1.609344}
_METRES = {"m": 1.0, "yd": 0.9144, "ft": 0.3048}  # exact: international yard and foot, 1959
_FASTEST = 250.0  # km/h, far above any machine this is for
_NARROWEST = 5.0  # km/h from start to end; less is over before it can be clocked
_SHORTEST, _LONGEST = 5.0, 2000.0  # m


def _reach(speed: float) -> float:
    """Seconds from a standstill to a speed in km/h, leaving at 3 m/s², 0-50 in 7.2 s."""
    share = speed / 50.0
    return 7.2 * (0.64 * share + 0.36 * share * share * share)


def _speeds(match: re.Match[str]) -> Test | None:
    coast, low, high, unit = match.groups()
    a, b = float(low), float(high)
    factor = _KMH[unit or ""]
    suffix = "mph" if unit == "mph" else ""
    words = "mph" if unit == "mph" else "km/h"
    span = ((a - b) if coast else (b - a)) * factor
    if max(a, b) * factor > _FASTEST or span < _NARROWEST:
        return None
    ends = (a * factor, b * factor)
    name = f"{a:g}-{b:g}{suffix}"
    if coast:
        title = f"coasting down from {a:g} to {b:g} {words}"
        return _make(f"coast-{name}", title, "coast", (0.5, 300.0), 15.0 * span / 25.0, ends)
    typical = _reach(ends[1]) - _reach(ends[0])
    fewest = math.floor(span / 3.6 / 15.0 * 100.0) / 100.0  # no tyre gives 15 m/s²
    standing = a == 0
    title = f"{a:g} to {b:g} {words} {'from a standing start' if standing else 'rolling'}"
    shape: Shape = "standing" if standing else "rolling"
    return _make(name, title, shape, (max(0.1, fewest), 120.0), typical, ends)


def _length(match: re.Match[str]) -> Test | None:
    number, unit = match.groups()
    metres = float(number) * _METRES[unit]
    if not _SHORTEST <= metres <= _LONGEST:
        return None
    name = f"{float(number):g}{unit}"
    hard = (round(metres / (_FASTEST / 3.6), 2), max(120.0, metres))
    title = f"{float(number):g} {unit} from mark to mark"
    return _make(name, title, "distance", hard, 9.5 * (metres / 80.0) ** 0.6, distance=metres)


def _top(_: re.Match[str]) -> Test:
    return _make("top", "top speed both ways", "top", (15.0, 200.0), 75.0)


def _hill(match: re.Match[str]) -> Test:
    own = (match.group(1) or "").strip().replace(" ", "-")
    name, title = (f"hill-{own}", f"hill {own}") if own else ("hill", "marked hill")
    return _make(name, title, "hill", (1.0, 600.0), 20.0)


def _plug(_: re.Match[str]) -> Test:
    return _make("plug", "plug reading run", "plug", (0.0, 0.0), 0.0)


_NUMBER = r"([0-9]{1,4}(?:\.[0-9]{1,2})?)"
_FORMS: tuple[tuple[re.Pattern[str], Callable[[re.Match[str]], Test | None]], ...] = (
    (re.compile(rf"(coast(?:-down)?[- ]?)?{_NUMBER}-{_NUMBER} ?(km/h|kmh|kph|mph)?"), _speeds),
    (re.compile(rf"{_NUMBER} ?(m|yd|ft)"), _length),
    (re.compile(r"top(?:[- ]?speed)?"), _top),
    (re.compile(r"hill(?:[- ]([\w .\-]{1,40}))?"), _hill),
    (re.compile(r"plug(?:[- ](?:reading|run|chop))*"), _plug),
)


@lru_cache(maxsize=256)
def find_test(name: str) -> Test:
    """Return the test of that short name, one of the table's or one of the user's own.

    Args:
        name: two speeds ``0-50`` (km/h) or ``0-30mph``, a distance ``80m``, ``100yd``, ``60ft``,
            ``top``, ``coast-40-15``, ``hill`` or ``hill-NAME``, ``plug``; case and spaces are
            forgiven.

    Raises:
        NotFoundError: no test has such a name; the hint gives examples.

    >>> find_test("40 - 65 km/h").name, find_test("0-30 MPH").to_speed, find_test("80 m").decimals
    ('40-65', 48.28032, 2)
    """
    word = re.sub(r"[–—−]", "-", name).casefold().replace(",", ".")
    word = re.sub(r" *- *", "-", " ".join(word.split()))
    for form, make in _FORMS:
        match = form.fullmatch(word)
        found = make(match) if match else None
        if found is not None:
            return found
    raise NotFoundError(f"{quoted(name)} is not a test I know.", f"Such as: {_EXAMPLES}.")


_EXAMPLES = "0-50, 0-30mph, 40-65, 80m, top, coast-40-15, hill, plug"

_PICKED = ("0-50", "0-30mph", "25-50", "40-65", "50m", "80m", "100m", "top", "coast-40-15")

TESTS: tuple[Test, ...] = tuple(find_test(name) for name in (*_PICKED, "hill", "plug"))
"""The tests that pick lists offer; any other of the same shapes is found by its name."""


def usual_sd(test: Test, timing: str, typical_value: float | None = None) -> float:
    """Return how far single attempts usually scatter, before the log knows better.

    Args:
        test: the test.
        timing: short name of the timing gear; empty (not told) counts as the coarsest.
        typical_value: what this machine does, in the test's unit, above zero; None: the table's.

    Returns:
        Standard deviation of one attempt in one direction, in the test's unit. For top speed it is
        sqrt(2) times that of the mean of two ways.

    Raises:
        InputError: the test has no number (a plug reading run), or the typical value is not
            above zero.
        NotFoundError: no such timing gear.

    Source: common practice, no source.

    >>> usual_sd(find_test("0-50"), "logger-10hz"), usual_sd(find_test("hill"), "gates", 40.0)
    (0.11, 0.8)
    """
    if not test.usual:
        raise InputError(f"A {test.title} has no number to compare.")
    typical = test.typical if typical_value is None else typical_value
    if not typical > 0:
        raise InputError("The typical value is not above zero.")
    if not timing:
        return max(usual.of(typical) for usual in test.usual.values())
    return test.usual[find_timing(timing).name].of(typical)
