"""The worked examples in the docstrings run, and importing the room loads nothing heavy."""

from __future__ import annotations

import doctest
import importlib
import pkgutil
import subprocess
import sys

import pytest

import core.setup

_MODULES = [m.name for m in pkgutil.walk_packages(core.setup.__path__, "core.setup.")]


@pytest.mark.parametrize("name", _MODULES)
def test_examples(name: str) -> None:
    assert doctest.testmod(importlib.import_module(name)).failed == 0


def test_importing_loads_nothing_heavy() -> None:
    code = (
        "import sys, core.setup; "
        "print([n for n in ('numpy', 'scipy', 'pint', 'textual', 'rich') if n in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_the_table_of_contents_is_sorted_and_true() -> None:
    names = core.setup.__all__
    assert all(hasattr(core.setup, name) for name in names)
    groups = sorted(names, key=lambda n: (not n.isupper(), not n[0].isupper(), n))
    assert names == groups
