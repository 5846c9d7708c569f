"""The order of the rows in time: what is said twice, what runs backwards, where parts begin."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from core.errors import InputError
from core.trace.formats.findings import Finding
from core.trace.formats.rejects import Rejects
from core.trace.formats.rows import RawRows, many
from core.trace.traces import ClockJump

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Places = NDArray[np.int64]
    Marks = NDArray[np.bool_]

__all__ = ["Order", "put_in_order"]

_SAME: Final = 1e-6  # s; times nearer than this are the same
_FEW: Final = 0.02  # share of rows that may contradict each other and are left out one by one
_MOSTLY: Final = 0.75  # share of steps backwards from which on the whole file runs backwards
_MIXED: Final = 0.25  # share from which on two recordings stand row by row beside each other
_BREAK: Final = 2.0  # s without a row at which a part ends, or five usual steps if that is more
_DAY: Final = 86400.0
_MOST_JUMPS: Final = 100


@dataclass(frozen=True, eq=False)
class Order:
    """Which rows are kept and where parts begin."""

    keep: Places  # rows, in the order of the file
    starts: Places  # places in ``keep`` at which a part begins, the first is 0
    duplicates: int
    jumps: tuple[ClockJump, ...]
    findings: tuple[Finding, ...]


def put_in_order(raw: RawRows, name: str, rejects: Rejects) -> Order:
    """Return which rows can be used, in parts within which the times increase.

    A row that says the same again is left out; so is a single row whose time is out of line. Where
    the clock goes back for good, a new part begins, and the jump is told.

    Args:
        raw: the rows as read.
        name: of the file.
        rejects: takes the rows that are left out.

    Raises:
        InputError: the times run backwards all through, or two recordings are mixed.
    """
    import numpy as np  # lazy: 0.1 s

    keep = np.arange(len(raw.t))
    given = np.zeros(len(raw.t), bool)
    given[list(raw.starts)] = True
    keep, duplicates, findings = _once_each(raw, keep, given, name, rejects)
    keep, back = _forwards(raw, keep, given, name, rejects)
    t = raw.t[keep]
    steps = np.diff(t)
    usual = float(np.median(steps[steps > 0])) if (steps > 0).any() else 1.0
    broken = (steps > max(_BREAK, 5 * usual)) | back | given[keep][1:]
    jumped = np.flatnonzero(back | (np.abs(steps) > _DAY))
    jumps = tuple(
        ClockJump(int(raw.line[keep[i + 1]]), float(steps[i]))
        for i in jumped[:_MOST_JUMPS].tolist()
        if not given[keep[i + 1]]
    )
    starts = np.concatenate(([0], np.flatnonzero(broken) + 1))
    return Order(keep, starts, duplicates, jumps, findings)


def _once_each(
    raw: RawRows, keep: Places, given: Marks, name: str, rejects: Rejects
) -> tuple[Places, int, tuple[Finding, ...]]:
    """Leave out rows that repeat the time of the row before."""
    import numpy as np  # lazy: 0.1 s

    same = (np.abs(np.diff(raw.t)) < _SAME) & ~given[1:]
    if not same.any():
        return keep, 0, ()
    equal = same.copy()
    for column in (raw.speed, raw.lat, raw.lon):
        either = np.isnan(column[1:]) | np.isnan(column[:-1])
        equal &= (column[1:] == column[:-1]) | either
    differ = same & ~equal
    findings: tuple[Finding, ...] = ()
    count = int(np.count_nonzero(differ))
    if count > max(5, _FEW * len(raw.t)):
        if not _is_coarse(raw.t, same):
            raise InputError(
                f"{name} has {many(count, 'time')} that two different rows carry: two recordings"
                " in one file, or times without fractions.",
                "Split it, or have it written with fractions of a second.",
            )
        sentence = "The times have no fractions: only the first row of each second is used."
        findings = (Finding("no fractions", sentence),)
    else:
        lines = raw.line[1:][differ].tolist()
        words = "It has the time of the row before and says something else."
        rejects.add_many("time", lines, lambda _: words)
    kept = np.concatenate(([True], ~same))
    return keep[kept], int(np.count_nonzero(equal)), findings


def _is_coarse(t: Floats, same: Marks) -> bool:
    """Whether whole seconds are shared by three rows and more, as by a logger's coarse clock."""
    import numpy as np  # lazy: 0.1 s

    whole = np.abs(t - np.round(t)) < _SAME
    groups = 1 + int(np.count_nonzero(~same))
    return bool(whole.all()) and len(t) >= 3 * groups * 0.9


def _forwards(
    raw: RawRows, keep: Places, given: Marks, name: str, rejects: Rejects
) -> tuple[Places, Marks]:
    """Leave out single rows out of line; return the rest and which steps go back for good."""
    import numpy as np  # lazy: 0.1 s

    t = raw.t[keep]
    back = (np.diff(t) < 0) & ~given[keep][1:]
    count = int(np.count_nonzero(back))
    if count > 3 and count > _MOSTLY * len(back):
        raise InputError(f"The times of {name} run backwards from row to row.", "Turn it round.")
    if count > 3 and count > _MIXED * len(back):
        raise InputError(
            f"The times of {name} go back and forth: two recordings are mixed in it.", "Split it."
        )
    left = np.ones(len(t), bool)
    for i in np.flatnonzero(back).tolist():
        stray = _stray(t, i)
        if stray is not None:
            left[stray] = False
    lines = raw.line[keep[~left]].tolist()
    rejects.add_many("time", lines, lambda _: "Its time is out of line with the rows around it.")
    keep = keep[left]
    return keep, (np.diff(raw.t[keep]) < 0) & ~given[keep][1:]


def _stray(t: Floats, i: int) -> int | None:
    """Which single row spoils the order at the step from i to i + 1; None: the clock went back."""
    if i + 2 < len(t) and t[i + 2] > t[i]:
        return i + 1
    if i == 0 or t[i - 1] < t[i + 1]:
        return i
    return i + 1 if i + 2 == len(t) else None
