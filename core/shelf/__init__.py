"""What the log knows of parts: their history across machines, what is due, what is done to one."""

from core.shelf.acting import (
    add_part,
    find_part,
    has_come,
    join_parts,
    link_to,
    move_part,
    name_part,
    order_part,
    retire_part,
    set_interval,
    slot_ids,
    split_part,
    want_part,
)
from core.shelf.due import Due, DueState, due_of, last_seen_to
from core.shelf.history import (
    PartHistory,
    Use,
    histories,
    history_of,
    owner_of,
    rpm_of,
    sessions_of,
)

__all__ = [
    "Due",
    "DueState",
    "PartHistory",
    "Use",
    "add_part",
    "due_of",
    "find_part",
    "has_come",
    "histories",
    "history_of",
    "join_parts",
    "last_seen_to",
    "link_to",
    "move_part",
    "name_part",
    "order_part",
    "owner_of",
    "retire_part",
    "rpm_of",
    "sessions_of",
    "set_interval",
    "slot_ids",
    "split_part",
    "want_part",
]
