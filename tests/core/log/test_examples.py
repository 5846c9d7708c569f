"""The examples in the docstrings of the log do what they say."""

from __future__ import annotations

import doctest
from types import ModuleType

import pytest

from core.log import faults, ids


@pytest.mark.parametrize("module", [faults, ids], ids=lambda module: module.__name__)
def test_the_examples_hold(module: ModuleType) -> None:
    result = doctest.testmod(module)
    assert result.attempted > 0
    assert result.failed == 0
