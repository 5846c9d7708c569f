"""Every route leads to a screen of the house."""

from __future__ import annotations

from importlib import import_module

import pytest

from tui.screens.base import HouseScreen
from tui.screens.routes import ROUTES


@pytest.mark.parametrize("route", ROUTES)
def test_a_route_leads_to_a_screen(route: str) -> None:
    """Module and class are there."""
    module, _, name = ROUTES[route].partition(":")
    assert issubclass(getattr(import_module(module), name), HouseScreen)
