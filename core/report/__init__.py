"""What the log says, written for people and for scripts; knows nothing of screens.

The modules are imported one by one, so that a command loads only what it prints:
``listing``, ``session_pages``, ``session_data``, ``comparing``, ``changing``, ``importing``,
``health``; ``document`` is the model they return and ``text`` writes it out.
"""

from core.report.document import Block, Bullets, Column, Facts, Heading, Paragraph, Report, Table
from core.report.text import COLUMNS, as_text

__all__ = [
    "COLUMNS",
    "Block",
    "Bullets",
    "Column",
    "Facts",
    "Heading",
    "Paragraph",
    "Report",
    "Table",
    "as_text",
]
