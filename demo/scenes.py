"""The invented season as data: two machines, two places, eleven visits; no real machine ran it."""

from __future__ import annotations

from dataclasses import dataclass, field

__all__ = ["BADGER", "BADGER_SHEET", "MOTH", "MOTH_SHEET", "PLACES", "VISITS", "Block", "Visit"]

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
    decision: str = ""
    because: str = ""
    next: str = ""
    gain: float | None = None


VISITS: tuple[Visit, ...] = (
    Visit(
        "S01",
        "2026-04-12T10:05:00+02:00",
        MOTH,
        VENNIMOOR,
        "0-50",
        "Where does the Moth stand before anything is bought?",
        blocks=(Block("W8.81 E8.33 W8.59 E8.00 W8.62 E7.96 W8.71 E8.13"),),
        air=("14C 1016hPa 60% 1.0m/s W",),
        learnt="A baseline: 8.4 s.",
        decision="repeat",
        next="Clutch and sprocket.",
        gain=0.15,
    ),
    Visit(
        "S02",
        "2026-04-19T14:30:00+02:00",
        BADGER,
        QUILLOWMERE,
        "80m",
        "Where does the Badger stand?",
        blocks=(Block("out9.69 back9.37 out9.52 back9.47 out9.62 back9.42"),),
        air=("17C 1013hPa 60% 0.3m/s",),
        learnt="A baseline by hand watch: 9.5 s.",
        decision="repeat",
        gain=0.15,
    ),
    Visit(
        "S03",
        "2026-05-03T10:10:00+02:00",
        MOTH,
        VENNIMOOR,
        "0-50",
        "What do stiffer clutch springs and a 66T give together?",
        blocks=(Block("W7.34 E6.88 W7.49 E7.10 W7.31 E6.83 W7.49 E7.19"),),
        changed={"engagement_rpm": "2900", "final_sprocket": "66T", "chain": "chain for 66T"},
        air=("18C 1012hPa 60% 0.5m/s W",),
        predicted=(-0.9, None, "S01"),
        learnt="Much quicker, but two things were changed in one go.",
        decision="keep",
        because="It goes better; which of the two does it is open.",
        next="Sprocket alone, A-B-A.",
        gain=0.15,
    ),
    Visit(
        "S04",
        "2026-06-28T15:00:00+02:00",
        MOTH,
        VENNIMOOR,
        "0-50",
        "Same build on a hot day: how far apart are days?",
        blocks=(Block("W7.70 E7.62 W7.79 E7.74 W7.89 E7.68"),),
        air=("34C 1002hPa 35% 0.5m/s cross",),
        notes=("Clutch drum 118 °C after the last run.",),
        learnt="Half a second slower with nothing changed: hot, thin air.",
        decision="keep",
        gain=0.15,
    ),
    Visit(
        "S05",
        "2026-07-05T09:30:00+02:00",
        MOTH,
        VENNIMOOR,
        "0-50",
        "What does the 66T do on its own against the 60T?",
        blocks=(
            Block("W7.54 E7.15 W7.49 E7.14 W7.46 E7.04"),
            Block(
                "W8.34 E8.06 W8.54 E7.95 W8.53 E8.21",
                {"final_sprocket": "60T", "chain": "chain for 60T"},
            ),
            Block(
                "W7.41 E7.15 W7.40 E7.31 W7.37 E7.23",
                {"final_sprocket": "66T", "chain": "chain for 66T"},
            ),
        ),
        air=("21C 1014hPa 55% 0.3m/s", "24C 1014hPa 50% 0.3m/s"),
        predicted=(0.75, None, ""),
        learnt="The sprocket alone is worth about a second.",
        decision="keep",
        because="A-B-A on one day, no drift.",
        next="Rockers.",
        gain=0.15,
    ),
    Visit(
        "S06",
        "2026-07-12T10:00:00+02:00",
        BADGER,
        QUILLOWMERE,
        "80m",
        "Has the Badger kept its time?",
        air=("26C 1011hPa 50%",),
        changed={"throttle_springs": "1"},
        answers={"brake_holds": ("not done",), "throttle_springs": ("not done",)},
        stopped="brake pedal reaches its stop in the push test; one throttle spring is missing",
        gain=0.15,
    ),
    Visit(
        "S07",
        "2026-07-19T10:15:00+02:00",
        BADGER,
        QUILLOWMERE,
        "80m",
        "Has the Badger kept its time after brake and throttle work?",
        blocks=(
            Block("out9.75 back9.53 out9.32 back9.34 out9.59 back9.34 *out13.10 out9.65 back9.65"),
        ),
        changed={"throttle_springs": "2"},
        air=("20C 1015hPa 55% 0.3m/s",),
        strikes={7: ("CHAIN", "came off at 60 m", False)},
        notes=("Brake bled again, second spring fitted, chain aligned again.",),
        learnt="Nothing to be seen at 0.15 s.",
        decision="keep",
        gain=0.15,
    ),
    Visit(
        "Bench",
        "2026-07-26T19:00:00+02:00",
        MOTH,
        "",
        "0-50",
        "Do the 1.25 rockers clear?",
        changed={"rockers": "Thistle 1.25", "rocker_ratio": "1.25"},
        answers={
            "valve_to_piston": (">2.0 own 1.5", "3.1 2.6 of 4 own 1.5"),
            "lash_recheck": (),
        },
        notes=(
            "First clay 2.0 mm, oiled, lash zero: not touched. Again with 4 mm: it touched.",
            "Check the lash again after the first heat cycle.",
        ),
        learnt="Gaps 3.1 and 2.6 mm by clay, own requirement 1.5 mm; spring margin 1.5 mm.",
        decision="keep",
    ),
    Visit(
        "S08",
        "2026-08-02T09:50:00+02:00",
        MOTH,
        VENNIMOOR,
        "0-50",
        "What do 1.25 rockers give from a standing start?",
        blocks=(Block("W7.50 E7.20 W7.59 E7.17 W7.98 E7.14 W7.47 E7.06"),),
        air=("19C 1015hPa 55% 0.6m/s W",),
        predicted=(-0.10, None, "S05"),
        learnt="Can't tell; this test ends below where the rockers should act.",
        decision="repeat",
        next="Rolling 40-65, A-B-A.",
        gain=0.15,
    ),
    Visit(
        "S09",
        "2026-08-23T09:00:00+02:00",
        MOTH,
        VENNIMOOR,
        "40-65",
        "What do 1.25 rockers give where the engine is up to speed?",
        blocks=(
            Block("W5.41 E5.01 W5.34 E5.08 W5.39 E5.04 W5.35 E4.97"),
            Block(
                "W5.57 E5.03 W5.55 E5.17 W5.49 E5.10 W5.54 E5.11",
                {"rockers": "Stock 1.0", "rocker_ratio": "1.0"},
                pause=75.0,
            ),
            Block(
                "W5.40 E5.00 W5.29 E4.97 W5.41 E5.04 W5.37 E4.94",
                {"rockers": "Thistle 1.25", "rocker_ratio": "1.25"},
                pause=75.0,
            ),
        ),
        air=("16C 1018hPa 60% 0.2m/s", "15C 1018hPa 62% 0.2m/s"),
        predicted=(0.15, None, ""),
        answers={"valve_to_piston": ("3.9 3.4 of 5",)},
        notes=("75 minutes of cooling before each rocker swap, lash set cold.",),
        learnt="The rockers give a little, and it is real.",
        decision="keep",
        because="Small but real, nothing more to buy; a refit needs a cold engine.",
        gain=0.15,
    ),
    Visit(
        "S10",
        "2026-09-06T10:00:00+02:00",
        MOTH,
        VENNIMOOR,
        "0-50",
        "Is a 63T a fair middle for the longer place?",
        blocks=(Block("W7.83 E7.61 W7.89 E7.46 W7.76 E7.52 W7.78 E7.40"),),
        changed={"final_sprocket": "63T", "chain": "chain for 63T"},
        air=("15C 1019hPa 60% 0.5m/s W",),
        predicted=(0.35, None, "S08"),
        notes=(
            "63T borrowed from the Badger's shelf: moved.",
            "Refused: top speed on 66T. It would need 6,670 rpm and more run-out than there is.",
        ),
        learnt="Slower than on the 66T, one day each.",
        decision="revert",
        because="66T for sprint days; rockers stay; 63T back to the Badger.",
        next="Clutch alone, A-B-A 2,100/2,900 on 66T, 4 pairs each, expected -0.3 s.",
        gain=0.15,
    ),
)
