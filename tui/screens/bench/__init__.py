"""The bench: readings of a machine or a loose engine, each kept with instrument and conditions."""

from tui.screens.bench.screen import BenchScreen

__all__ = ["BenchScreen"]
