"""The newest clay reading on file, wherever it was entered, with the build it was taken on."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from core.bench.documents import BenchReading, ClaySide
from core.bench.gauges import USUAL_GAUGES, half_of
from core.bench.taking import CLAY_RULE
from core.checks import Cleared, find_rule
from core.checks.clay import read_clay
from core.checks.typed import read_own
from core.engine import ClayReading, ClayState, Instrument
from core.errors import BackToBackError
from core.setup import Reading, Sheet, same_reading, slot_of

__all__ = ["ClayOnFile", "clay_readings", "latest_clay"]

_MM = 1e-3  # m in a mm
_GAPS = ("valve_gap_intake", "valve_gap_exhaust")
_FOLLOWS = frozenset(slot for gap in _GAPS for slot in slot_of(gap).follows)
_DIAL = "light_springs"


@dataclass(frozen=True)
class ClayOnFile:
    """A clay reading and the build it was taken on."""

    intake: ClayReading | None  # None: nothing is known of this side
    exhaust: ClayReading | None
    sheet: Sheet  # what stood on the setup sheet then
    at: datetime | None = None
    source: str = ""  # ``bench reading``, ``check``, ``setup sheet``
    dial: bool = False  # with light springs and a dial gauge
    lash_zero: bool = True  # the lash was taken up
    half: float = 0.2  # mm give or take
    own: float | None = None  # the user's own least gap told with it, mm
    tight_lift: tuple[float | None, float | None] = (None, None)  # mm of lobe lift

    @property
    def sides(self) -> tuple[ClayReading | None, ClayReading | None]:
        """Both, intake first."""
        return (self.intake, self.exhaust)

    @property
    def words(self) -> str:
        """What it showed, one line: ``intake 3.1 mm, exhaust at least 2.0 mm (not touched)``."""
        said = (
            f"{name} {side.text()}"
            for name, side in zip(("intake", "exhaust"), self.sides, strict=True)
            if side is not None
        )
        return ", ".join(said)


def clay_readings(
    taken: Iterable[BenchReading],
    answers: Sequence[Cleared] = (),
    gauges: Mapping[str, Instrument] = USUAL_GAUGES,
) -> tuple[ClayOnFile, ...]:
    """Return every clay reading on file, oldest first, those without a time first of all.

    Args:
        taken: bench readings of the machine.
        answers: answers to its checks.
        gauges: instruments by key.
    """
    found = [_from_bench(one, gauges) for one in taken if one.clay is not None]
    entered = [(clay.at, clay.words) for clay in found]
    for one in answers:
        clay = _from_answer(one, gauges)
        if clay is not None and (clay.at, clay.words) not in entered:
            found.append(clay)
    return tuple(sorted(found, key=_when))


def _when(clay: ClayOnFile) -> float:
    return clay.at.timestamp() if clay.at is not None else 0.0


def latest_clay(
    sheet: Sheet,
    taken: Iterable[BenchReading] = (),
    answers: Sequence[Cleared] = (),
    gauges: Mapping[str, Instrument] = USUAL_GAUGES,
) -> ClayOnFile | None:
    """Return the newest clay reading from which a gap can be carried to another build.

    One that was taken on this very build goes before a newer one of another build.

    Args:
        sheet: as the machine stands; its own gaps count when nothing else is on file.
        taken: bench readings of the machine.
        answers: answers to its checks.
        gauges: instruments by key.
    """
    usable = [
        clay for clay in clay_readings(taken, answers, gauges) if any(map(_tells, clay.sides))
    ]
    if not usable:
        return _from_sheet(sheet, gauges)
    here = (clay for clay in reversed(usable) if _is_same_build(clay.sheet, sheet))
    return next(here, usable[-1])


def _is_same_build(then: Sheet, now: Sheet) -> bool:
    """Tell whether nothing that a gap follows from, and that both tell, is another one now."""
    both = _FOLLOWS & then.readings.keys() & now.readings.keys()
    return all(same_reading(then.readings[s], now.readings[s]) for s in both)


def _tells(side: ClayReading | None) -> bool:
    return side is not None and side.state in (ClayState.TOUCHED, ClayState.NOT_TOUCHED)


def _half(dial: bool, gauges: Mapping[str, Instrument], taken: BenchReading | None = None) -> float:
    if taken is not None and (taken.instrument or taken.repeatability is not None):
        return half_of(_GAPS[0], gauges, taken)
    gauge = gauges[_DIAL if dial else "clay"]
    return float((gauge.repeatability**2 + gauge.resolution**2 / 12) ** 0.5 / _MM)


def _from_bench(one: BenchReading, gauges: Mapping[str, Instrument]) -> ClayOnFile:
    clay = one.clay
    assert clay is not None  # noqa: S101  only called with clay
    return ClayOnFile(
        _side(clay.intake),
        _side(clay.exhaust),
        Sheet(readings=dict(one.around)),
        one.at,
        "bench reading",
        clay.dial,
        clay.lash_zero,
        _half(clay.dial, gauges, one),
        one.own,
        (clay.intake.tight_lift, clay.exhaust.tight_lift),
    )


def _side(side: ClaySide) -> ClayReading | None:
    metres = [None if x is None else x * _MM for x in (side.thinnest, side.applied)]
    try:
        return ClayReading(ClayState(side.state), *metres)
    except BackToBackError:  # a document edited by hand need not make sense
        return None


def _from_answer(one: Cleared, gauges: Mapping[str, Instrument]) -> ClayOnFile | None:
    record = one.record
    if record.rule != CLAY_RULE or not record.result or record.by_reference:
        return None
    rule = find_rule(CLAY_RULE)
    try:
        said, own = read_own(record.result, rule.unit)
        clay = read_clay(said, rule)
    except BackToBackError:  # not done, or words that came from another program
        return None
    return ClayOnFile(
        clay.intake,
        clay.exhaust,
        one.sheet,
        record.at,
        "check",
        clay.dial,
        half=_half(clay.dial, gauges),
        own=record.own if own is None else own,
    )


def _from_sheet(sheet: Sheet, gauges: Mapping[str, Instrument]) -> ClayOnFile | None:
    sides = [_gap(sheet.readings.get(slot)) for slot in _GAPS]
    if not any(sides):
        return None
    method = sheet.readings.get("valve_gap_method")
    dial = method is not None and method.text.startswith("light springs")
    times = [r.at for slot in _GAPS if (r := sheet.readings.get(slot)) is not None]
    return ClayOnFile(
        sides[0], sides[1], sheet, times[0], "setup sheet", dial, half=_half(dial, gauges)
    )


def _gap(reading: Reading | None) -> ClayReading | None:
    if reading is None or reading.stale or reading.copied or not reading.value:
        return None
    if reading.state == "measured":
        return ClayReading(ClayState.TOUCHED, reading.value * _MM)
    if reading.state == "bounded" and reading.bound == ">":
        return ClayReading(ClayState.NOT_TOUCHED, applied=reading.value * _MM)
    return None
