"""The borders of the house: imports run one way, and the core draws nothing."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

HOUSE = Path(__file__).parents[2]

_IMPORT_EVERYTHING = """
import importlib, pkgutil, sys
import core
names = [m.name for m in pkgutil.walk_packages(core.__path__, "core.")]
for name in names:
    importlib.import_module(name)
print(len(names))
print(*sorted(sys.modules))
"""


def python(*arguments: str) -> list[str]:
    """Run Python in the house; return the lines it printed."""
    done = subprocess.run(
        [sys.executable, *arguments], cwd=HOUSE, capture_output=True, text=True, timeout=100
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout.splitlines()


@pytest.fixture(scope="module")
def loaded() -> set[str]:
    """Names of all modules that are loaded once every module of the core is."""
    count, names = python("-c", _IMPORT_EVERYTHING)
    assert int(count) > 100
    return set(names.split())


@pytest.mark.parametrize("library", ["textual", "rich", "argparse", "tui", "demo"])
def test_the_core_draws_nothing(loaded: set[str], library: str) -> None:
    """No module of it loads what draws, nor what stands above it."""
    assert library not in loaded


@pytest.mark.parametrize("library", ["numpy", "scipy", "pint"])
def test_what_is_heavy_is_loaded_when_it_is_needed_and_not_before(
    loaded: set[str], library: str
) -> None:
    """A quarter of a second each is not spent on a list of sessions."""
    assert library not in loaded


def test_every_contract_of_the_house_is_kept() -> None:
    """As pyproject.toml has them under tool.importlinter."""
    lines = python("-c", "from importlinter.cli import lint_imports; exit(lint_imports())")
    assert any(" 0 broken" in line for line in lines)


def test_there_is_no_package_among_the_tests() -> None:
    """With a package there, pytest and mypy would take two files of one name for the same."""
    assert list((HOUSE / "tests").rglob("__init__.py")) == []
