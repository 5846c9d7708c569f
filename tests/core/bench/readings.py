"""Bench readings for tests."""

from __future__ import annotations

from typing import Any

from core.bench import About, BenchReading, take_slots
from tests.core.setup.making import NOON

__all__ = ["about", "reading_of"]


def about(**more: Any) -> About:
    """Return what is told besides the numbers: for one machine, at noon."""
    told: dict[str, Any] = {"id": "20260726-120000-aaaaaaaa", "at": NOON, "machine": "m1"}
    if "part" in more:
        told["machine"] = ""
    return About(**(told | more))


def reading_of(slot: str, text: str, told: About | None = None) -> BenchReading:
    """Return a bench reading of one slot."""
    return take_slots({slot: text}, told or about()).reading
