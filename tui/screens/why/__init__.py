"""The why screen: where one value comes from, with its formula, inputs and source."""

from tui.screens.why.screen import WhyScreen

__all__ = ["WhyScreen"]
