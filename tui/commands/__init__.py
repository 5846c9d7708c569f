"""Commands, declared once: bindings, key line, palette, help and key map derive from them."""

from tui.commands.command import Command
from tui.commands.keymap import CheckedKeys, checked_keys, key_name, keys_of
from tui.commands.table import COMMANDS, SCENES, bindings_for, command, commands_in

__all__ = [
    "COMMANDS",
    "SCENES",
    "CheckedKeys",
    "Command",
    "bindings_for",
    "checked_keys",
    "command",
    "commands_in",
    "key_name",
    "keys_of",
]
