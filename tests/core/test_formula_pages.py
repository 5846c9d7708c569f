"""All formula pages: their worked examples run, they are documented, and they load no numerics."""

from __future__ import annotations

import doctest
import importlib
import inspect
import pkgutil
import subprocess
import sys
from types import ModuleType

import pytest

ROOMS = ("core.air", "core.engine", "core.drive", "core.trace")


def modules() -> list[str]:
    """Return the names of all formula modules."""
    names = ["core.guards", "core.ranged"]
    for room in ROOMS:
        package = importlib.import_module(room)
        names += [room, *(m.name for m in pkgutil.iter_modules(package.__path__, f"{room}."))]
    return names


@pytest.mark.parametrize("name", modules())
def test_worked_examples(name: str) -> None:
    results = doctest.testmod(importlib.import_module(name))
    assert results.failed == 0


def formulas() -> list[tuple[str, object]]:
    """Return every public function of the air, engine and drive rooms that takes a number."""
    found: list[tuple[str, object]] = []
    for room in ROOMS[:3]:
        package: ModuleType = importlib.import_module(room)
        for name in package.__all__:
            thing = getattr(package, name)
            if inspect.isfunction(thing) and "float" in str(inspect.signature(thing)):
                found.append((f"{room}.{name}", thing))
    return found


@pytest.mark.parametrize(("name", "formula"), formulas())
def test_formula_page_is_whole(name: str, formula: object) -> None:
    text = inspect.getdoc(formula) or ""
    assert "Source" in text, f"{name} names no source"
    assert "Returns:" in text or "Return " in text, f"{name} does not say what it returns"


def test_loading_the_rooms_loads_no_numerics() -> None:
    code = (
        f"import sys, {', '.join(ROOMS)}\n"
        "print(*[m for m in ('numpy', 'scipy', 'pint', 'textual', 'rich') if m in sys.modules])"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == ""
