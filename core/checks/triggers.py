"""What makes checks due: rows that join changed slots to rules, for engine and machine alike."""

from __future__ import annotations

from dataclasses import dataclass

from core.checks.conditions import When, any_change

__all__ = ["Trigger"]


@dataclass(frozen=True, kw_only=True)
class Trigger:
    """One row: these slots, under this condition, make these checks due."""

    row: str  # what was done, as it stands in 'because' lines
    slots: tuple[str, ...]  # any of them
    rules: tuple[str, ...]  # ids of the checks
    because: str  # what such a change does
    otherwise: str  # what comes of skipping the checks
    when: When = any_change
