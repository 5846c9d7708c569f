"""Whether the speeds of a CSV can be in the unit that is said: judged by positions, or by size."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from core.errors import AmbiguousInputError
from core.trace.columns import Columns
from core.trace.formats.findings import Finding
from core.trace.formats.rows import RawRows
from core.trace.formats.speed_units import SPEED_UNITS, ratio_of, unit_by_ratio

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

__all__ = ["check_unit"]

_LOOKED_AT: Final = 100_000  # rows
_QUICK: Final = 110 / 3.6  # m/s; what most machines of this kind stay below; own rule
_ASK: Final = "Say it: --columns speed=NAME:{}; it is remembered by the header."


def check_unit(raw: RawRows, columns: Columns, name: str) -> tuple[Finding, ...]:
    """Return what is odd about the unit of the speeds; where nobody confirmed it, ask.

    Args:
        raw: the rows.
        columns: by which they were read.
        name: of the file.

    Raises:
        AmbiguousInputError: another unit fits better; ``choices`` has both.
    """
    if not columns.speed:
        return ()
    said = columns.speed_unit
    part = slice(0, _LOOKED_AT)
    ratio = ratio_of(raw.t[part], raw.speed[part], raw.lat[part], raw.lon[part])
    other = _by_size(raw.speed, said) if ratio is None else unit_by_ratio(said, ratio)
    if other in ("", said):
        return ()
    reason = (
        "by their size they look like"
        if ratio is None
        else "together with the positions they only make sense as"
    )
    sentence = f"The speeds in the column “{columns.speed}” are said to be {said}; {reason} {other}"
    if columns.confirmed:
        return (Finding("unit", f"{sentence}. They were taken as {said}, as confirmed."),)
    raise AmbiguousInputError(
        f"{name}: {sentence}. Which is it?", (said, other), _ASK.format(other)
    )


def _by_size(speed: Floats, said: str) -> str:
    """The unit in which the top speed would be a likely one, if it is not in the one that is said.

    The highest thousandth is left out, so that a single slip asks nothing.
    """
    import numpy as np  # lazy: 0.1 s

    known = speed[~np.isnan(speed)]
    top = float(np.quantile(known, 0.999)) if len(known) else 0.0
    slower = SPEED_UNITS["km/h"] / SPEED_UNITS[said]
    if top > _QUICK and slower < 1 and top * slower <= _QUICK:
        return "km/h"
    return said
