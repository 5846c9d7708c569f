"""The replacement of the pilot's wait patches names of the framework: this notices when they go."""

from __future__ import annotations

from textual import app as app_module
from textual import pilot as pilot_module
from textual.app import App, ComposeResult
from textual.widgets import Input

from tests.tui.conftest import _brief_idle


class Echo(App[None]):
    """Shows what is typed."""

    def compose(self) -> ComposeResult:
        """Yield a field."""
        yield Input()


async def test_the_wait_is_replaced_and_keys_still_arrive() -> None:
    """In both modules that use it; a key's work is done when press returns."""
    assert vars(app_module)["wait_for_idle"] is _brief_idle
    assert vars(pilot_module)["wait_for_idle"] is _brief_idle
    app = Echo()
    async with app.run_test() as pilot:
        for count, key in enumerate("abc", 1):
            await pilot.press(key)
            assert app.query_one(Input).value == "abc"[:count]
