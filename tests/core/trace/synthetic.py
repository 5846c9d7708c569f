"""Recordings whose truth is known: a machine that runs by a formula, written by an instrument."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from functools import reduce
from operator import xor

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

__all__ = [
    "START",
    "Drive",
    "Floats",
    "coasting",
    "csv_text",
    "gpx_text",
    "nmea_text",
    "season_day",
    "sentence",
    "speed_after",
    "time_to",
]

START = datetime(2026, 4, 12, 8, 0, tzinfo=UTC)
FULL, LAG = 22.0, 7.0  # m/s and s: v = 22 (1 - exp(-t/7)), 0-50 km/h in 7 s
DRAG, AIR, MASS = 60.0, 0.45, 160.0  # N, N s²/m², kg of the coasting machine


def speed_after(time: Floats) -> Floats:
    """Speed so long after leaving, m/s."""
    return FULL * -np.expm1(-np.maximum(time, 0.0) / LAG)


def time_to(speed: float) -> float:
    """Time from leaving to a speed, s: the inverse, closed form."""
    return -LAG * math.log1p(-speed / FULL)


def way_after(time: float) -> float:
    """Way so long after leaving, m: the integral, closed form."""
    return FULL * (time + LAG * math.expm1(-time / LAG))


def coasting(start: float, time: Floats) -> Floats:
    """Speed so long after coasting began, m/s; closed form of rolling and air drag."""
    angle = math.atan(start * math.sqrt(AIR / DRAG)) - time * math.sqrt(DRAG * AIR) / MASS
    return math.sqrt(DRAG / AIR) * np.tan(np.maximum(angle, 0.0))


def coast_time(start: float, end: float) -> float:
    """Time to coast from one speed to another, s; closed form."""
    root = math.sqrt(AIR / DRAG)
    return MASS / math.sqrt(DRAG * AIR) * (math.atan(start * root) - math.atan(end * root))


@dataclass
class Drive:
    """A machine driven by hand: pieces of speed over time, one after the other."""

    pieces: list[tuple[float, Callable[[Floats], Floats], float]] = field(default_factory=list)
    length: float = 0.0

    def add(
        self, seconds: float, speed: Callable[[Floats], Floats], heading: float = 270.0
    ) -> float:
        """Go on for so long; return when this piece began, s."""
        begun = self.length
        self.pieces.append((seconds, speed, heading))
        self.length += seconds
        return begun

    def stand(self, seconds: float) -> None:
        """Stand still."""
        self.add(seconds, np.zeros_like)

    def launch(self, seconds: float, heading: float = 270.0) -> float:
        """Leave from rest and go for so long; return when it left."""
        return self.add(seconds, speed_after, heading)

    def brake(self, start: float, rate: float = 3.0, heading: float = 270.0) -> None:
        """Brake to a standstill from a speed in m/s."""
        self.add(start / rate, lambda s: start - rate * s, heading)

    def sampled(self, times: Floats) -> tuple[Floats, Floats]:
        """Return speed and heading at these times."""
        speed, heading = np.zeros(len(times)), np.zeros(len(times))
        begun = 0.0
        for seconds, formula, course in self.pieces:
            inside = (times >= begun) & (times < begun + seconds)
            speed[inside] = formula(times[inside] - begun)
            heading[inside] = course
            begun += seconds
        return speed, heading


def season_day(
    runs: int, rng: np.random.Generator, seconds: float = 8.6, pause: float = 4.0
) -> tuple[Drive, list[float]]:
    """Return a drive of so many launches to and fro, and when each left."""
    drive, left = Drive(), []
    for number in range(runs):
        heading = 270.0 if number % 2 == 0 else 90.0
        drive.stand(pause + float(rng.uniform(0, 1)))
        left.append(drive.launch(seconds, heading))
        drive.brake(float(speed_after(np.array(seconds))), heading=heading)
    drive.stand(3.0)
    return drive, left


def recorded(
    drive: Drive, rate: float, noise: float, rng: np.random.Generator
) -> tuple[Floats, Floats, Floats]:
    """Return times, noisy speeds and headings; at rest the instrument holds near zero."""
    times = np.arange(int(drive.length * rate)) / rate
    speed, heading = drive.sampled(times)
    sizes = np.where(speed > 0, noise, min(noise, 0.05))
    return times, np.abs(speed + rng.normal(0, 1, len(times)) * sizes), heading


def sentence(body: str) -> str:
    """Return a body with its checksum."""
    return f"${body}*{reduce(xor, body.encode('ascii'), 0):02X}"


def nmea_text(
    times: Floats,
    speed: Floats,
    heading: Floats,
    *,
    start: datetime = START,
    kinds: Sequence[str] = ("RMC",),
    end: str = "\r\n",
) -> str:
    """Return sentences with positions that go with the speeds."""
    lat, lon = positions(times, speed, heading)
    lines: list[str] = []
    for row, t in enumerate(times.tolist()):
        at = start + timedelta(seconds=round(t, 3))
        clock = f"{at:%H%M%S}.{at.microsecond // 1000:03d}"
        place = f"{_angle(lat[row], 'NS', 2)},{_angle(lon[row], 'EW', 3)}"
        knots = speed[row] * 3600 / 1852
        bodies = {
            "RMC": f"GPRMC,{clock},A,{place},{knots:.3f},{heading[row]:.1f},{at:%d%m%y},,,A",
            "GGA": f"GPGGA,{clock},{place},1,09,0.9,35.0,M,47.0,M,,",
            "VTG": f"GPVTG,{heading[row]:.1f},T,,M,{knots:.3f},N,{knots * 1.852:.3f},K,A",
        }
        lines.extend(sentence(bodies[kind]) for kind in kinds)
    return "".join(line + end for line in lines)


def _angle(value: float, sides: str, width: int) -> str:
    degrees, minutes = divmod(round(abs(value) * 60, 6), 60)
    return f"{int(degrees):0{width}d}{minutes:09.6f},{sides[0] if value >= 0 else sides[1]}"


def positions(times: Floats, speed: Floats, heading: Floats) -> tuple[Floats, Floats]:
    """Return latitude and longitude, near 52 north; trapezoid way along the heading."""
    steps = np.concatenate(([0.0], np.diff(times) * (speed[1:] + speed[:-1]) / 2))
    angle = np.radians(heading)
    north, east = np.cumsum(steps * np.cos(angle)), np.cumsum(steps * np.sin(angle))
    lat = 52.0 + north / 111_267.0  # m in one degree of a meridian at 52 degrees, WGS84
    return lat, 7.0 + east / 68_679.0  # m in one degree of the parallel there


def gpx_text(
    times: Floats,
    lat: Floats,
    lon: Floats,
    speed: Floats | None = None,
    *,
    start: datetime = START,
    version: str = "1.1",
) -> str:
    """Return a track; speeds as 1.0 has them, or in an extension."""
    points = []
    for row, t in enumerate(times.tolist()):
        at = start + timedelta(seconds=round(t, 3))
        inside = f"<time>{at:%Y-%m-%dT%H:%M:%S}.{at.microsecond // 1000:03d}Z</time>"
        if speed is not None and version == "1.0":
            inside += f"<speed>{speed[row]:.3f}</speed>"
        elif speed is not None:
            inside += f"<extensions><x:speed>{speed[row]:.3f}</x:speed></extensions>"
        points.append(f'<trkpt lat="{lat[row]:.8f}" lon="{lon[row]:.8f}">{inside}</trkpt>')
    space = f"http://www.topografix.com/GPX/{version.replace('.', '/')}"
    head = f'<gpx version="{version}" xmlns="{space}" xmlns:x="urn:x"><trk><trkseg>\n'
    return '<?xml version="1.0"?>\n' + head + "\n".join(points) + "</trkseg></trk></gpx>\n"


def csv_text(
    times: Floats,
    speed: Floats,
    *,
    header: str = "Time (s),Speed (km/h)",
    delimiter: str = ",",
    decimal: str = ".",
    factor: float = 3.6,
    end: str = "\n",
) -> str:
    """Return a CSV of times and speeds."""
    lines = [header]
    for t, v in zip(times.tolist(), speed.tolist(), strict=True):
        cells = (f"{t:.3f}", f"{v * factor:.3f}")
        lines.append(delimiter.join(cell.replace(".", decimal) for cell in cells))
    return end.join(lines) + end
