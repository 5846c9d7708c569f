"""The log to files and back: attempts as CSV, the whole log as JSON lines."""

from core.exchange.bringing import import_file, import_text
from core.exchange.columns import COLUMNS, NEEDED
from core.exchange.csv_in import import_csv
from core.exchange.csv_out import CsvText, export_csv
from core.exchange.files import format_of_text, read_text, text_of
from core.exchange.lines_in import import_lines
from core.exchange.lines_out import export_lines
from core.exchange.results import Conflict, Imported, Made, Rejected, plural
from core.exchange.soundness import faults

__all__ = [
    "COLUMNS",
    "NEEDED",
    "Conflict",
    "CsvText",
    "Imported",
    "Made",
    "Rejected",
    "export_csv",
    "export_lines",
    "faults",
    "format_of_text",
    "import_csv",
    "import_file",
    "import_lines",
    "import_text",
    "plural",
    "read_text",
    "text_of",
]
