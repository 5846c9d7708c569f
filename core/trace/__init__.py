"""Traces of an instrument: crossings, rollout, positions, NMEA sentences, GPX tracks."""

from core.trace.formats import (
    KNOT,
    RmcFix,
    Track,
    TrackPoint,
    checked_fields,
    checksum,
    read_gpx,
    read_rmc,
)
from core.trace.geodesy import Position, distance, path_length, sphere_distance
from core.trace.timing import (
    Crossing,
    HandWatch,
    Rollout,
    crossing,
    fitted_crossing,
    hand_watch,
    rollout,
)

__all__ = [
    "KNOT",
    "Crossing",
    "HandWatch",
    "Position",
    "RmcFix",
    "Rollout",
    "Track",
    "TrackPoint",
    "checked_fields",
    "checksum",
    "crossing",
    "distance",
    "fitted_crossing",
    "hand_watch",
    "path_length",
    "read_gpx",
    "read_rmc",
    "rollout",
    "sphere_distance",
]
