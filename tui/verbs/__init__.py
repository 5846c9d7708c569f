"""The commands without a screen: one file each, a table that lists them, what they share."""

from tui.verbs.table import VERBS, Verb

__all__ = ["VERBS", "Verb"]
