"""The modules of the room: their worked examples run, and loading its table loads nothing heavy."""

from __future__ import annotations

import doctest
import importlib
import pkgutil
import subprocess
import sys

import pytest

import core.trace

HEAVY = ("numpy", "scipy", "gpxpy", "pynmea2", "core.trace.formats", "core.trace.runs")
MODULES = [m.name for m in pkgutil.walk_packages(core.trace.__path__, "core.trace.")]


@pytest.mark.parametrize("name", MODULES)
def test_worked_examples(name: str) -> None:
    assert doctest.testmod(importlib.import_module(name)).failed == 0


def test_opening_a_log_loads_no_reader() -> None:
    code = f"import sys, core.session; print(*[m for m in {HEAVY!r} if m in sys.modules])"
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == ""


def test_readers_load_their_libraries_when_they_read() -> None:
    code = (
        "import sys, core.trace.reading, core.trace.runs, core.trace.drag\n"
        f"print(*[m for m in {HEAVY[:4]!r} if m in sys.modules])"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == ""
