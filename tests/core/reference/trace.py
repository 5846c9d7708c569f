"""Check-case quantities of topics G and I, answered by core.trace and core.units."""

from __future__ import annotations

import re

from core import trace
from core.trace import formats
from core.units import convert
from tests.core.reference.reading import Answers, Inputs, Rule

_SYMBOLS = {
    "inch": "in",
    "foot": "ft",
    "yard": "yd",
    "mile": "mi",
    "mile/hour": "mph",
    "foot/second": "ft/s",
    "kilometer/hour": "km/h",
    "pound": "lb",
    "ounce": "oz",
    "horsepower": "hp",
    "metric_horsepower": "PS",
    "force_pound": "lbf",
    "pound_force": "lbf",
    "force_pound*foot": "lbf·ft",
    "foot*force_pound": "lbf·ft",
    "force_pound*inch": "lbf·in",
    "inch*force_pound": "lbf·in",
    "gallon": "gal",
    "fluid_ounce": "fl oz",
    "knot": "kn",
    "inch_Hg": "inHg",
    "foot**3": "ft³",
    "inch**3": "in³",
    "m**3": "m³",
    "m**2": "m²",
    "N*m": "N·m",
}


def crossing(given: Inputs) -> Answers:
    def found() -> trace.Crossing:
        return trace.crossing(
            given.get("time"),
            given.get("speed"),
            given.get("threshold"),
            given.get("speed_noise_sd", default=0.0),
        )

    return {"crossing_time": lambda: found().time, "sd_first_order": lambda: found().sd}


def rollout(given: Inputs) -> Answers:
    def found() -> trace.Rollout:
        return trace.rollout(given.get("rollout", "distance"), given.get("acceleration"))

    return {"time": lambda: found().time, "speed": lambda: found().speed}


def hand(given: Inputs) -> Answers:
    spread = re.search(r"N\([\d.]+ s, ([\d.]+) s\)", given.get("model"))
    assert spread is not None
    event_sd = float(spread[1])

    def mean_of(count: str = "1") -> float:
        return trace.hand_watch(int(count), event_sd).mean_sd

    return {
        "sd_of_interval": lambda: trace.hand_watch(1, event_sd).interval_sd,
        "expected_bias_of_interval_same_observer": lambda: trace.hand_watch(1, event_sd).bias,
        r"sd_of_mean_of_(\d+)": mean_of,
    }


def positions(given: Inputs) -> Answers:
    a, b = ((given.get(f"lat{i}"), given.get(f"lon{i}")) for i in (1, 2))
    return {
        "distance": lambda: trace.distance(a, b),
        "distance_sphere_haversine": lambda: trace.sphere_distance(a, b),
    }


def sentence(given: Inputs) -> Answers:
    text = given.get("sentence")
    return {
        "checksum_hex": lambda: formats.checksum(text.strip().lstrip("$").partition("*")[0]),
        "latitude": lambda: formats.read_rmc(text).latitude,
        "longitude": lambda: formats.read_rmc(text).longitude,
        "speed": lambda: formats.read_rmc(text).speed,
    }


def gpx(given: Inputs) -> Answers:
    def track() -> formats.Track:
        return formats.read_gpx(given.get("gpx"))

    return {
        "points": lambda: len(track().points),
        "duration": lambda: track().duration,
        "path_length": lambda: track().length,
        "has_speed_field": lambda: track().has_speed,
    }


def factor(given: Inputs) -> Answers:
    def found() -> float:
        names = (str(given.get("from")), str(given.get("to")))
        source, target = (_SYMBOLS.get(name, name) for name in names)
        return convert(1.0, source, target)

    return {"factor": found}


def temperature(given: Inputs) -> Answers:
    unit = given.given["t"]["unit"].removeprefix("deg")
    value = given.given["t"]["value"]
    degree = {"F": "°F", "C": "°C", "K": "K"}[unit]

    def celsius() -> float:  # answers are SI
        return convert(convert(value, degree, "°C"), "°C", "K")

    return {"t_c": celsius, "t_k": lambda: convert(value, degree, "K")}


RULES = (
    Rule("G", "crossing", crossing),
    Rule("G", "rollout", rollout),
    Rule("G", "stopwatch", hand),
    Rule("G", "GNSS|distance between", positions),
    Rule("G", "NMEA", sentence),
    Rule("G", "GPX", gpx),
    Rule("I", "^unit", factor),
    Rule("I", "temperature", temperature),
)
