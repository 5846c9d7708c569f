"""Files of the three formats to rows: NMEA 0183 sentences, GPX tracks, CSV."""

from core.trace.formats.blocks import FileBlocks, Progress
from core.trace.formats.csv_columns import Doubt, Proposal, propose_columns, read_columns
from core.trace.formats.csv_layout import Layout, find_layout
from core.trace.formats.csv_rows import read_csv_rows
from core.trace.formats.findings import Finding
from core.trace.formats.gpx import Track, TrackPoint, read_gpx
from core.trace.formats.gpx_rows import read_gpx_rows
from core.trace.formats.nmea import KNOT, RmcFix, checked_fields, checksum, read_rmc
from core.trace.formats.nmea_rows import read_nmea_rows
from core.trace.formats.rejects import Rejected, Rejects
from core.trace.formats.rows import RawRows
from core.trace.formats.speed_units import SPEED_UNITS

__all__ = [
    "KNOT",
    "SPEED_UNITS",
    "Doubt",
    "FileBlocks",
    "Finding",
    "Layout",
    "Progress",
    "Proposal",
    "RawRows",
    "Rejected",
    "Rejects",
    "RmcFix",
    "Track",
    "TrackPoint",
    "checked_fields",
    "checksum",
    "find_layout",
    "propose_columns",
    "read_columns",
    "read_csv_rows",
    "read_gpx",
    "read_gpx_rows",
    "read_nmea_rows",
    "read_rmc",
]
