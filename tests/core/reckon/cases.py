"""A worked case of every formula of the register, in the units it is typed and shown in.

Where a case is not worked by hand, the source stands beside it. ``published`` values are those that
the sources print, ``closed form`` ones follow from the definition.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan, pi, sqrt, tan

__all__ = ["CASES", "COAST", "CURVE", "LIFTS", "Case"]


@dataclass(frozen=True)
class Case:
    """One worked case."""

    formula: str
    typed: dict[str, str]
    expected: dict[str, float]  # by output, in its unit
    source: str = "by hand"
    rel: float = 5e-4


CURVE = " ".join(
    f"{rpm}:{torque}"
    for rpm, torque in zip(
        range(1800, 5401, 400), (11.0, 11.8, 12.1, 12.0, 11.5, 10.6, 9.4, 7.8, 5.8, 3.4),
        strict=True,
    )
)  # fmt: skip
LIFTS = "deg; lift mm\n0; 0\n10; 1\n20; 2\n30; 1\n40; 0"

_AIR = {"temperature": "20", "pressure": "1013.25", "humidity": "50"}
_HOT = {"temperature": "30", "pressure": "980", "humidity": "60"}
_CIPM = "CIPM-2007 by CoolProp 8.0.0 and psychrolib 2.5.0 within 1e-4"
_ENGINE = {
    "bore": "68", "stroke": "54", "chamber": "21.5", "gasket": "1.1", "gasket-bore": "69",
    "deck": "0.35",
}  # fmt: skip
_CRANK = {"stroke": "54", "rod": "84"}
_EVENTS = {
    "intake-opens": "10", "intake-closes": "42", "exhaust-opens": "44", "exhaust-closes": "8",
}  # fmt: skip
_ROAD = {"mass": "150", "rolling": "0.025", "drag-area": "0.7", "air-density": "1.2"}
_PLAIN = {"mass": "150", "power": "4"}
_COASTING = {"mass": "150", "f0": "35", "f2": "0.42", "start": "15 m/s"}
_TRAIN = {
    "curve": CURVE, "ratio": "6", "circumference": "1.47", "engagement": "2200",
    "efficiency": "90", "wheel-inertia": "0.25", "engine-inertia": "0.010",
}  # fmt: skip
_KART = _TRAIN | _ROAD
_TARGET = {"target": "13 m/s"}
_MODEL = "the same model by an ODE solver (DOP853), 2e-9"
_FOX = "closed form; Fox 1973 (from memory)"
_RADIUS = 1.47 / (2 * pi)
_TORQUE = 12.1 - 0.1 * (6 * 12 * 60 / 1.47 - 2600) / 400


def _coasting() -> str:
    """Return the speeds of a coast-down of 150 kg against 35 N and 0.42 N s²/m² by closed form."""
    rows = []
    for i in range(16):
        angle = atan(15 * sqrt(0.42 / 35)) - i * sqrt(35 * 0.42) / 150
        rows.append(f"{i}; {sqrt(35 / 0.42) * tan(angle) * 3.6}")
    return "\n".join(rows)


COAST = _coasting()

CASES: tuple[Case, ...] = (
    Case("air-density", _AIR, {"density": 1.199314}, _CIPM),
    Case("air-density-dew-point",
         {"temperature": "32", "pressure": "939.3", "dew-point": "12"}, {"density": 1.0665}, _CIPM),
    Case("saturation-pressure", {"temperature": "20"}, {"pressure": 23.392}, "IAPWS by CoolProp"),
    Case("vapour-pressure", {"temperature": "68 °F", "humidity": "50"}, {"pressure": 11.696},
         "IAPWS by CoolProp"),
    Case("dry-pressure", _HOT, {"pressure": 954.52}, "980 less 60 % of 42.468"),
    Case("dew-point", {"temperature": "20", "humidity": "50"}, {"dew-point": 9.255},
         "psychrolib 9.272, CoolProp 9.274, MetPy 9.256", 3e-3),
    Case("humidity", {"temperature": "30", "dew-point": "21.385"}, {"humidity": 60.0},
         "inverse of dew-point; psychrolib 21.388"),
    Case("virtual-temperature",
         {"temperature": "30", "pressure": "980", "vapour": "25.476"}, {"temperature": 33.01}),
    Case("standard-air", {"height": "1000"},
         {"pressure": 898.746, "temperature": 8.5, "density": 1.11164}, "ambiance 1.3.1", 1e-5),
    Case("station-pressure-altimeter", {"setting": "29.92 inHg", "elevation": "1000 ft"},
         {"pressure": 977.12}, "ISO 2533; MetPy 1.7.1 977.41", 1e-5),
    Case("station-pressure-sea-level",
         {"sea-level": "1018", "elevation": "610", "temperature": "31"}, {"pressure": 951.0},
         "hydrostatic equation, ODE-checked", 1e-4),
    Case("density-altitude", {"density": "1.11164"}, {"height": 1000.0}, "ambiance 1.3.1", 1e-4),
    Case("density-altitude-nws",
         {"temperature": "32", "pressure": "939.3", "dew-point": "12"}, {"height": 4682 * 0.3048},
         "National Weather Service sheet, as quoted", 1e-3),
    Case("power-factor", _HOT, {"factor": 1.0553}, "ISO 1585, as quoted", 1e-4),
    Case("power-factor", _HOT | {"standard": "sae"}, {"factor": 1.0541}, "J1349, as quoted", 1e-4),
    Case("power-factor", _HOT | {"standard": "DIN 70020"}, {"factor": 1.0512}, "as quoted", 1e-4),
    Case("corrected-power", _HOT | {"power": "4"}, {"power": 4.2212, "factor": 1.0553}),
    Case("swept-volume", {"bore": "68", "stroke": "54"}, {"swept": 196.111}, "closed form", 1e-5),
    Case("clearance-volume", {k: v for k, v in _ENGINE.items() if k != "stroke"},
         {"clearance": 26.884}, "closed form", 1e-4),
    Case("compression-ratio",
         {"bore": "70", "stroke": "54", "chamber": "22.5", "gasket": "1.1", "gasket-bore": "71",
          "deck": "0.25"}, {"ratio": 8.47, "swept": 207.8, "clearance": 27.82}),
    Case("ratio-from-volumes", {"swept": "196.111", "clearance": "26.15"}, {"ratio": 8.4995}),
    Case("chamber-for-ratio", _ENGINE | {"wanted": "9.5"}, {"chamber": 17.69, "change": -3.81},
         "closed form", 1e-3),
    Case("disc-volume", {"diameter": "71", "height": "1.1"}, {"volume": 4.355}),
    Case("head-gap", {"deck": "-1.25", "gasket": "0.8"}, {"gap": -0.45}),
    Case("trapped-ratio", {"bore": "68", **_CRANK, "clearance": "26.15", "intake-closes": "50"},
         {"ratio": 7.519, "trapped": 170.5}, "slider crank by root finder"),
    Case("piston-travel", _CRANK | {"angle": "90"}, {"travel": 31.4576},
         "slider crank by root finder", 2e-6),
    Case("piston-travel", _CRANK | {"angle": "90", "offset": "1.5", "counted-from": "throw"},
         {"travel": 30.9539}, "slider crank by root finder", 2e-6),
    Case("dead-centres", _CRANK | {"offset": "1.5"},
         {"top": 0.774, "bottom": 181.508, "stroke": 54.0096}, "root finder"),
    Case("deck-after-stroke", {"deck": "0.25", "stroke": "54", "new-stroke": "57"},
         {"deck": -1.25, "rise": 1.5}),
    Case("mean-piston-speed", {"stroke": "54", "rpm": "3600"}, {"speed": 6.48}),
    Case("peak-piston-speed", _CRANK | {"rpm": "3600"}, {"speed": 10.696},
         "slider crank, maximum by a fine sweep"),
    Case("piston-speed", _CRANK | {"rpm": "3600", "angle": "90"}, {"speed": 2 * pi * 60 * 0.027}),
    Case("piston-acceleration", _CRANK | {"rpm": "3600", "angle": "0"}, {"acceleration": 5071.0},
         "second derivative by mpmath"),
    Case("rod-pull", _CRANK | {"rpm": "3600", "reciprocating-mass": "1"}, {"force": 5071.0},
         "second derivative by mpmath"),
    Case("rod-load", {"rpm": "6000"}, {"times": 2.7778}),
    Case("rim-speed", {"diameter": "160", "rpm": "3600"}, {"speed": 30.159, "stress": 6.549}),
    Case("cam-timing", _EVENTS,
         {"intake-duration": 232, "exhaust-duration": 232, "intake-centre": 106,
          "exhaust-centre": 108, "separation": 107, "overlap": 18, "advance": 1}),
    Case("cam-events",
         {"intake-duration": "232", "exhaust-duration": "232", "intake-centre": "106",
          "exhaust-centre": "108"},
         {"intake-opens": 10, "intake-closes": 42, "exhaust-opens": 44, "exhaust-closes": 8}),
    Case("cam-advance", _EVENTS | {"advance": "4"},
         {"intake-opens": 14, "intake-closes": 38, "exhaust-opens": 48, "exhaust-closes": 4}),
    Case("duration", {"table": LIFTS, "checking-lift": "0.5"},
         {"duration": 30, "opens": 5, "closes": 35, "centre": 20, "peak-at": 20, "peak": 2}),
    Case("duration", {"table": LIFTS, "checking-lift": "0.9", "rocker-ratio": "2", "lash": "0.1",
                      "advance": "4"}, {"duration": 30, "opens": 1, "closes": 31}),
    Case("duration-difference",
         {"duration-a": "232", "lift-a": "0.050 in", "duration-b": "240", "lift-b": "1.27"},
         {"difference": 8}),
    Case("lobe-lift-from-table", {"table": LIFTS, "rocker-ratio": "1.25", "lash": "0.25"},
         {"peak": 1.8, "at": 20}),
    Case("valve-lift", {"lobe-lift": "6.5", "rocker-ratio": "1.3", "lash": "0.13"}, {"lift": 8.32}),
    Case("valve-lift",
         {"lobe-lift": "6.5", "rocker-ratio": "1.3", "lash": "0.1", "lash-at": "pushrod"},
         {"lift": 8.32}),
    Case("lobe-lift-for", {"lift": "1", "rocker-ratio": "1", "lash": "0.1"}, {"lobe-lift": 1.1}),
    Case("spring-margin", {"fitted": "21.0", "solid": "12.4", "lift": "7.1"}, {"margin": 1.5}),
    Case("retainer-margin", {"closed": "9.4", "lift": "6.9"}, {"margin": 2.5}),
    Case("pushrod-rub", {"hole": "9.5", "pushrod": "6.5", "sideways": "1.1"}, {"margin": 0.4}),
    Case("pushrod-length", {"gasket-change": "-0.3", "head-cut": "0.5"}, {"change": -0.8}),
    Case("clay-projection",
         {"clay": "3.5", "rocker-ratio": "1.0", "new-rocker-ratio": "1.25", "gasket": "1.1",
          "new-gasket": "0.8", "lobe-lift": "6.0", "tight-lift": "1.6"},
         {"guaranteed": 1.7, "optimistic": 2.8}, "3.5 - 0.3 - 1.6 x 0.25: common practice"),
    Case("overall-ratio", {"stages": "15/40,10/50"}, {"ratio": 13.3333}),
    Case("road-speed", {"rpm": "3600", "ratio": "6", "circumference": "1.47"}, {"speed": 52.92}),
    Case("engine-speed", {"speed": "36", "ratio": "6", "circumference": "1.47"}, {"rpm": 2449.0}),
    Case("apparent-slip",
         {"speed": "31.2 mph", "rpm": "3620", "ratio": "6", "circumference": "1.47"},
         {"slip": 5.64}, rel=1e-3),
    Case("tyre-circumference", {"diameter": "19 in"}, {"circumference": 1.516}),
    Case("roll-out", {"distance": "4.435", "turns": "3"}, {"circumference": 1.4783}),
    Case("tyre-growth", {"at-rest": "0.838", "at-speed": "0.855"}, {"growth": 2.0286}),
    Case("pitch-diameter", {"pitch": "12.7", "teeth": "12"}, {"diameter": 49.069},
         "ISO 606 (from memory)", 1e-5),
    Case("chain-length", {"pitch": "12.7", "driver": "12", "driven": "72", "centres": "450"},
         {"exact": 115.46, "links": 116}, "open belt; closed form", 1e-4),
    Case("link-count", {"links": "105", "half-link": "yes"}, {"links": 105}),
    Case("lowest-limit", {"rod": "6500", "flywheel": "8000", "valve-train": "?", "clutch": "7000"},
         {"limit": 3600}, "an unknown limit counts as 3,600: common practice"),
    Case("sprocket-table",
         {"drivers": "12", "driven": "60,63,66", "circumference": "1.06", "trap-speed": "60",
          "limit": "6500", "run-out": "200"}, {"stopping": 62.96}),
    Case("closest-sprockets",
         {"drivers": "10,11,12,13", "driven": "54 60 64 68 72", "rpm": "3800",
          "circumference": "1.47", "speed": "54"},
         {"speed": 3800 / 60 / (68 / 11) * 1.47 * 3.6}, "every pair tried by hand"),
    Case("stopping-distance", {"speed": "75"}, {"distance": 93.17}, "v + v²/6: common practice"),
    Case("road-load", _ROAD | {"speed": "12 m/s", "headwind": "2", "grade": "1"},
         {"force": 133.80}, "closed form", 1e-4),
    Case("top-speed", _ROAD | {"power": "4"}, {"speed": 19.822 * 3.6}, "root by scipy", 1e-4),
    Case("top-speed-elasticity", _ROAD | {"power": "4"},
         {"density": 0.0691, "power": 0.3794, "wind": -0.6206, "rolling-share": 18.224},
         "implicit derivative by hand", 2e-3),
    Case("time-to-speed", _PLAIN | {"speed": "13 m/s"}, {"time": 3.169}, _FOX),
    Case("time-over-distance", _PLAIN | {"distance": "100"}, {"time": 7.5}, _FOX),
    Case("speed-over-distance", _PLAIN | {"distance": "100"}, {"speed": 72.0}, _FOX),
    Case("drag-terminal-speed", {"power": "4", "air-factor": "0.42"}, {"speed": 21.197 * 3.6}),
    Case("drag-time-to-speed", _PLAIN | {"air-factor": "0.42", "speed": "13 m/s"},
         {"time": 3.51196}, "quadrature 1e-9", 1e-5),
    Case("drag-speed-over-distance", _PLAIN | {"air-factor": "0.42", "distance": "100"},
         {"speed": 17.557 * 3.6}, "quadrature 1e-9", 1e-4),
    Case("plausible-time", {"mass": "1500", "power": "75", "distance": "402.336"},
         {"time": 19.859}, "by hand"),
    Case("wind-top-speed", {"still": "72", "headwind": "3"}, {"speed": 18.052 * 3.6},
         "root of v (v + 3)² = 8000", 1e-4),
    Case("two-way-top-speed", {"still": "72", "wind": "3"},
         {"bias": 0.050 * 3.6, "bias-from-times": -0.149 * 3.6}, "w²/(9 v0), -w²/(3 v0)", 2e-2),
    Case("coast-speed", _COASTING | {"time": "10"}, {"speed": 8.82507 * 3.6}, "closed form", 1e-5),
    Case("coast-time", _COASTING | {"end": "5 m/s"}, {"time": 20.461}, "closed form", 1e-4),
    Case("coast-distance", _COASTING, {"distance": 233.63}, "closed form", 1e-4),
    Case("coast-two-way",
         {"mass": "150", "f0": "35", "f2": "0.42", "speed": "12 m/s", "wind": "2", "grade": "0.4"},
         {"mean": 97.16, "bias": 1.68, "half-difference": 26.044}),
    Case("coast-fit", {"mass": "150", "trace": COAST}, {"f0": 35.0, "f2": 0.42},
         "the trace is made from these by closed form", 1e-4),
    Case("wheel-force", _TRAIN | {"speed": "12 m/s", "mass": "150"},
         {"force": _TORQUE * 6 * 0.9 / _RADIUS, "torque": _TORQUE, "rpm": 2938.8,
          "effective-mass": 150 + 0.25 / _RADIUS**2 + 0.01 * (6 / _RADIUS) ** 2}),
    Case("acceleration", _KART | _TARGET, {"time": 9.652}, _MODEL, 1e-4),
    Case("run-over-distance", _KART | {"distance": "100"}, {"distance": 100.0}),
    Case("full-speed", _KART, {"speed": 18.655 * 3.6}, _MODEL, 1e-4),
    Case("allowed-time",
         _KART | _TARGET | {"observed": "9.70", "reference-air-density": "1.14",
                            "reference-torque-scale": "0.95"},
         {"model-test": 9.652, "model-reference": 10.255, "corrected": 9.70 * 10.255 / 9.652},
         _MODEL, 1e-4),
    Case("sensitivities", _KART | _TARGET,
         {"time-torque": -1.31, "time-mass": 1.13, "time-density-fixed-torque": 0.14,
          "time-density-with-torque": -1.18, "time-headwind": 0.28, "time-grade": 0.068,
          "top-torque": 0.26},
         "integrals of the model, closed form", 4e-2),
)  # fmt: skip
"""One case of every formula at least."""
