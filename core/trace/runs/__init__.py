"""Runs in a recording: standing starts, rolling, distances, plateaus, coast-downs."""

from core.trace.runs.edges import Edge, Samples, edge_from_rest, edge_near
from core.trace.runs.finding import Ride, find_rides, find_runs
from core.trace.runs.heading import (
    Bearings,
    bearings_of,
    course_of,
    direction_of,
    read_bearings,
)

__all__ = [
    "Bearings",
    "Edge",
    "Ride",
    "Samples",
    "bearings_of",
    "course_of",
    "direction_of",
    "edge_from_rest",
    "edge_near",
    "find_rides",
    "find_runs",
    "read_bearings",
]
