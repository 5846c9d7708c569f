"""What the log says, written for people and for scripts; knows nothing of screens.

The modules are imported one by one, so that a command loads only what it prints:
``listing``, ``session_pages``, ``session_data``, ``comparing``, ``changing``, ``importing``,
``health``, ``asking``, ``season_pages``, ``shelf_pages``, ``plan_pages``, ``merging``; ``document``
is the model they return, and ``text``, ``markdown``, ``html`` and ``table_csv`` write it out.
"""

from core.report.document import (
    Block,
    Bullets,
    Chart,
    Column,
    Facts,
    Heading,
    Paragraph,
    Report,
    Table,
)
from core.report.text import COLUMNS, as_text

__all__ = [
    "COLUMNS",
    "Block",
    "Bullets",
    "Chart",
    "Column",
    "Facts",
    "Heading",
    "Paragraph",
    "Report",
    "Table",
    "as_text",
]
