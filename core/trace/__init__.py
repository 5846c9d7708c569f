"""Recordings of an instrument: their documents, and formulas of timing and distance.

What reads files and finds runs is loaded where it is needed, as the start of the app is to be
quick: `core.trace.reading` reads a file, `core.trace.runs` finds runs in what was read,
`core.trace.drag` makes drag of coast-downs, `core.trace.keeping` keeps the file.
"""

from core.trace.columns import Columns
from core.trace.documents import (
    TRACE_KIND,
    JudgedRun,
    KeptDrag,
    TraceDocument,
    TraceHead,
    TraceKind,
)
from core.trace.geodesy import Position, distance, path_length, sphere_distance
from core.trace.timing import (
    Crossing,
    HandWatch,
    Rollout,
    crossing,
    fitted_crossing,
    hand_watch,
    hand_words,
    rollout,
)
from core.trace.wanted import (
    FIRST_MOTION,
    Found,
    FoundRun,
    Missed,
    StartRule,
    Wanted,
    read_start,
    start_in_words,
)

__all__ = [
    "FIRST_MOTION",
    "TRACE_KIND",
    "Columns",
    "Crossing",
    "Found",
    "FoundRun",
    "HandWatch",
    "JudgedRun",
    "KeptDrag",
    "Missed",
    "Position",
    "Rollout",
    "StartRule",
    "TraceDocument",
    "TraceHead",
    "TraceKind",
    "Wanted",
    "crossing",
    "distance",
    "fitted_crossing",
    "hand_watch",
    "hand_words",
    "path_length",
    "read_start",
    "rollout",
    "sphere_distance",
    "start_in_words",
]
