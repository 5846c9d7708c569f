"""Sprocket pairs at a place, each with the reasons why it would be greyed out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from core.drive import SprocketRow, sprocket_table
from core.units import format_number

__all__ = ["SprocketChoice", "choices_for"]

_KMH = 3.6  # km/h in a m/s


@dataclass(frozen=True)
class SprocketChoice:
    """One pair of sprockets at a place."""

    row: SprocketRow
    reasons: tuple[str, ...]  # why it is greyed out, a part of a sentence each; empty: it is not

    @property
    def greyed(self) -> bool:
        """Whether something speaks against this pair here."""
        return bool(self.reasons)

    @property
    def cells(self) -> tuple[str, ...]:
        """Teeth, ratio, rpm at the mark, speed at the limit, reasons; as they are shown."""
        row = self.row
        return (
            f"{row.driver}/{row.driven}",
            format_number(row.ratio, 2),
            f"{row.rpm_at_trap:,.0f}",
            f"{format_number(row.speed_at_limit * _KMH, 1)} km/h",
            "; ".join(self.reasons),
        )


def choices_for(
    drivers: Sequence[int],
    driven: Sequence[int],
    *,
    circumference: float,
    trap_speed: float,
    limit: float,
    run_out: float | None,
    limit_of: str = "",
    slip: float = 0.0,
    further: Sequence[tuple[float, float]] = (),
) -> tuple[SprocketChoice, ...]:
    """Return every pair with what speaks against it, the longest gear first.

    Args:
        drivers: teeth on hand for the driver.
        driven: teeth on hand for the driven.
        circumference: rolling, m, above zero.
        trap_speed: speed expected at the timing mark, m/s, zero or more.
        limit: lowest rpm limit, 1/min, above zero.
        run_out: way from the mark to the end, m; None where nobody walked it.
        limit_of: what the limit belongs to, such as ``rod``; empty: not told.
        slip: share that is lost.
        further: stages besides this one.

    Raises:
        InputError: an input is refused.
    """
    rows = sprocket_table(
        drivers,
        driven,
        circumference=circumference,
        trap_speed=trap_speed,
        limit=limit,
        run_out=run_out,
        slip=slip,
        further=further,
    )
    return tuple(SprocketChoice(row, _reasons(row, limit, limit_of, run_out)) for row in rows)


def _reasons(
    row: SprocketRow, limit: float, limit_of: str, run_out: float | None
) -> tuple[str, ...]:
    said = []
    if row.over_limit:
        owner = f" ({limit_of})" if limit_of else ""
        said.append(f"{row.rpm_at_trap:,.0f} rpm is above the lowest limit, {limit:,.0f}{owner}")
    if run_out is None:
        said.append(f"run-out not known, {2 * row.stopping:.0f} m are twice the stopping distance")
    elif row.run_out_short:
        said.append(
            f"{run_out:g} m of run-out is less than twice the stopping distance,"
            f" {2 * row.stopping:.0f} m"
        )
    return tuple(said)
