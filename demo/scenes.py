"""The invented machines and places of the season, and the shape of a visit."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import Literal

__all__ = [
    "BADGER",
    "BADGER_SHEET",
    "MOTH",
    "MOTH_SHEET",
    "PLACES",
    "QUILLOWMERE",
    "SPARE",
    "SPARE_SINCE",
    "SPARE_SLOT",
    "VENNIMOOR",
    "Block",
    "Visit",
]

MOTH, BADGER = "Kettle Moth", "Low Badger"
VENNIMOOR, QUILLOWMERE = "Vennimoor strip", "Quillowmere lane"

PLACES: dict[str, dict[str, object]] = {
    VENNIMOOR: {
        "directions": ("W", "E"),
        "length": 420.0,
        "elevation": 35.0,
        "slope": 0.3,
        "surface": "private tarmac",
    },
    QUILLOWMERE: {
        "directions": ("out", "back"),
        "length": 260.0,
        "slope": 0.0,
        "surface": "concrete",
    },
}

MOTH_SHEET: dict[str, str] = {
    "engine_block": "Moth block",
    "block_hours": "6.0",
    "bore": "70",
    "stroke": "54",
    "rod": "forged rod",
    "rod_rpm_limit": "6500 stated",
    "rod_length": "84",
    "deck": "0.25",
    "head": "head one",
    "chamber_volume": "22.5",
    "head_gasket": "gasket 1.1",
    "gasket_thickness": "1.1",
    "gasket_bore": "71",
    "crown_volume": "0",
    "valve_train_rpm_limit": "6800 stated",
    "springs": "stock springs",
    "spring_fitted_height": "21.0",
    "spring_solid_height": "12.4",
    "rockers": "Stock 1.0",
    "rocker_ratio": "1.0",
    "cam": "Moth cam",
    "lobe_lift_intake": "5.8",
    "lobe_lift_exhaust": "5.8",
    "lash_intake": "0.10",
    "lash_exhaust": "0.15",
    "plug": "Moth plug",
    "plug_gap": "0.7",
    "main_jet": "75 x100mm",
    "oil_grade": "mineral 30",
    "oil_hours": "0",
    "fuel_kind": "petrol",
    "fuel_octane": "98",
    "fuel_age": "4",
    "flywheel": "steel flywheel",
    "flywheel_rpm_limit": "8000 stated",
    "governor": "removed",
    "planned_rpm": "6500",
    "clutch": "Pepper",
    "engagement_rpm": "2100",
    "clutch_rpm_limit": "7000 stated",
    "engine_sprocket": "12T",
    "final_sprocket": "60T",
    "chain": "chain for 60T",
    "circumference": "1.06",
    "throttle_springs": "2",
    "machine_mass": "63",
    "rider_mass": "78",
    "timing_gear": "10 Hz satellite logger",
}

BADGER_SHEET: dict[str, str] = {
    "bore": "70",
    "stroke": "54",
    "rod": "Badger rod",
    "rod_rpm_limit": "6500 stated",
    "flywheel": "Badger flywheel",
    "flywheel_rpm_limit": "8000 stated",
    "valve_train_rpm_limit": "6800 stated",
    "governor": "removed",
    "planned_rpm": "6000",
    "clutch": "Badger clutch",
    "engagement_rpm": "2400",
    "clutch_rpm_limit": "7000 stated",
    "engine_sprocket": "Badger 12T",
    "final_sprocket": "Badger 60T",
    "circumference": "0.88",
    "throttle_springs": "2",
    "machine_mass": "87",
    "rider_mass": "78",
    "timing_gear": "hand watch",
}


SPARE, SPARE_SLOT, SPARE_SINCE = "63T", "final_sprocket", date(2026, 6, 2)
"""A sprocket kept with the Badger from that day on, borrowed for the Moth later."""


@dataclass(frozen=True)
class Block:
    """The attempts on one sheet, and what was changed for it."""

    times: str  # ``W8.81 E8.33``; ``*`` before a time: struck later, see ``Visit.strikes``
    swap: dict[str, str] = field(default_factory=dict)  # slot -> as typed; empty: no swap
    minutes: float = 4.0  # from one attempt to the next
    pause: float = 20.0  # minutes for the swap


@dataclass(frozen=True)
class Visit:
    """One session of the season."""

    label: str
    when: str  # local date and time, ISO 8601
    machine: str
    place: str
    test: str
    question: str
    blocks: tuple[Block, ...] = ()
    changed: dict[str, str] = field(default_factory=dict)  # touched before the first attempt
    air: tuple[str, ...] = ()  # as typed; the second one an hour later
    predicted: tuple[float, float | None, str] | None = None  # value, give or take, against
    notes: tuple[str, ...] = ()
    answers: dict[str, tuple[str, ...]] = field(
        default_factory=dict
    )  # check id -> entered, in order
    strikes: dict[int, tuple[str, str, bool]] = field(default_factory=dict)  # n: code, note, late
    stopped: str = ""
    learnt: str = ""
    decision: Literal["", "keep", "revert", "repeat"] = ""
    because: str = ""
    next: str = ""
    gain: float | None = None
    helper: str = "H1"
    hours: tuple[float, float, int] | None = None  # engine hours, hours since oil, fuel age in days
