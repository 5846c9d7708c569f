"""The what-if screen: slots changed on paper, and all that follows before and after."""

from tui.screens.what_if.screen import WhatIfScreen

__all__ = ["WhatIfScreen"]
