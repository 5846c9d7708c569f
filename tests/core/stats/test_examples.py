"""The examples in the docstrings run, and importing the sums loads no heavy library."""

from __future__ import annotations

import doctest
import importlib
import pkgutil
import subprocess
import sys

import pytest

from core import stats

MODULES = sorted(module.name for module in pkgutil.iter_modules(stats.__path__))


@pytest.mark.parametrize("name", MODULES)
def test_docstring_examples(name: str) -> None:
    module = importlib.import_module(f"core.stats.{name}")
    assert doctest.testmod(module).failed == 0


def test_every_public_name_is_explained() -> None:
    for name in MODULES:
        module = importlib.import_module(f"core.stats.{name}")
        for public in module.__all__:
            value = getattr(module, public)
            if callable(value):
                assert value.__doc__, f"core.stats.{name}.{public}"


def test_simple_sums_load_no_heavy_library() -> None:
    script = (
        "import sys; from core.stats import summarize, within, modified_z, judge;"
        "summarize([7.2, 7.3]); within([[7.2, 7.3]]); modified_z([7.2, 7.3, 7.9]);"
        "print([m for m in ('numpy', 'scipy', 'textual', 'rich', 'pint') if m in sys.modules])"
    )
    run = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "[]"
