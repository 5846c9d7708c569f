"""Questions to the user, awaited: a text, a choice by one key, a pick from a list, a message."""

from tui.dialogs.asking import asking
from tui.dialogs.choice import ChoiceDrawer, Option, ask_choice, confirm
from tui.dialogs.drawer import Drawer
from tui.dialogs.early_keys import FieldDrawer
from tui.dialogs.message import MessageDrawer, show_error, show_message
from tui.dialogs.pick import PickDrawer, Picked, PickRow, pick
from tui.dialogs.typing_in import TextDrawer, ask_text

__all__ = [
    "ChoiceDrawer",
    "Drawer",
    "FieldDrawer",
    "MessageDrawer",
    "Option",
    "PickDrawer",
    "PickRow",
    "Picked",
    "TextDrawer",
    "ask_choice",
    "ask_text",
    "asking",
    "confirm",
    "pick",
    "show_error",
    "show_message",
]
