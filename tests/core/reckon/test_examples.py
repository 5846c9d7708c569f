"""The worked examples of both rooms run, and importing them loads nothing heavy."""

from __future__ import annotations

import doctest
import importlib
import pkgutil
import subprocess
import sys

import pytest

import core.bench
import core.reckon

_MODULES = [
    module.name
    for package in (core.bench, core.reckon)
    for module in pkgutil.walk_packages(package.__path__, f"{package.__name__}.")
]


@pytest.mark.parametrize("name", _MODULES)
def test_examples(name: str) -> None:
    assert doctest.testmod(importlib.import_module(name)).failed == 0


@pytest.mark.parametrize("package", [core.bench, core.reckon], ids=lambda p: p.__name__)
def test_the_table_of_contents_is_true(package: object) -> None:
    names: list[str] = package.__all__  # type: ignore[attr-defined]
    assert all(hasattr(package, name) for name in names)
    assert len(names) == len(set(names))


def test_importing_and_reckoning_loads_nothing_heavy() -> None:
    code = (
        "import sys\nfrom core.reckon import reckon\n"
        "reckon('swept-volume', {'bore': '70', 'stroke': '54'})\n"
        "print(*[m for m in ('numpy', 'scipy', 'pint', 'textual', 'rich') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == ""
