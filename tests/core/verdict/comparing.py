"""Sessions with whole sheets and read air, compared in a log that holds only them."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

import msgspec

from core.attempts import AirReading, Strike
from core.session import Place, Session, SessionHead
from core.session.documents import SESSION_KIND
from core.verdict import Comparison, Sides, compare
from core.verdict.case import Surroundings
from tests.making import START, bare_session

SHEET = {
    "bore": 70.0, "stroke": 54.0, "engine_sprocket_teeth": 12.0, "final_sprocket_teeth": 66.0,
    "circumference": 1.06, "engagement_rpm": 2900.0, "machine_mass": 63.0, "rider_mass": 78.0,
    "exhaust_length": 300.0, "rocker_ratio": 1.0,
}  # fmt: skip
TIGHT = "W7.32 E7.28 W7.31 E7.29 W7.30 E7.30 W7.32 E7.28"
WIDE = "W7.50 E7.10 W7.65 E7.02 W7.41 E7.25 W7.60 E7.15"
PLACE = Place(id="p1", name="Vennimoor strip", directions=("W", "E"), elevation=35.0, slope=0.3)


def air(day: int, temperature: float = 18.0, hours: float = 0.3, **more: object) -> AirReading:
    """A reading of that day, so many hours after the session started."""
    made = AirReading(
        observed=START + timedelta(days=day, hours=hours),
        temperature=temperature,
        pressure=1012.0,
        humidity=60.0,
        wind=0.5,
        wind_from="W",
    )
    return msgspec.structs.replace(made, **more)


def ran(
    label: str,
    blocks: Sequence[str] | str = TIGHT,
    *,
    day: int = 0,
    sheets: Sequence[dict[str, float]] = ({},),
    **more: object,
) -> Session:
    """A session on whole sheets (``sheets`` says what differs), with air unless told otherwise."""
    blocks = [blocks] if isinstance(blocks, str) else list(blocks)
    more.setdefault("air", (air(day),))
    more.setdefault("rider", "R1")
    whole = tuple({**SHEET, **own} for own in sheets)
    return bare_session(label, blocks, day=day, sheets=whole, **more)  # type: ignore[arg-type]


def held(
    a: Session,
    b: Session,
    *others: Session,
    builds: tuple[str, str] = ("A", "A"),
    gain: float | None = 0.15,
    around: Surroundings | None = None,
) -> Comparison:
    """Compare B against A in a log that holds them and others."""
    sessions = list({s.id: s for s in (a, b, *others)}.values())
    assert SESSION_KIND.make_head is not None
    heads = [h for h in map(SESSION_KIND.make_head, sessions) if isinstance(h, SessionHead)]
    return compare(
        Sides(a, builds[0], b, builds[1], b.test),
        heads,
        gain=gain,
        past=others,
        place_of=lambda id_: PLACE if id_ == "p1" else None,
        around=around or Surroundings(),
    )


def struck(session: Session, *numbers: int, late: bool = False) -> Session:
    """The same with these attempts struck."""
    tries = tuple(
        msgspec.structs.replace(a, strike=Strike(code="LATE", late=late)) if a.n in numbers else a
        for a in session.attempts
    )
    return msgspec.structs.replace(session, attempts=tries)


def faster(text: str, by: float) -> str:
    """The same attempts, each quicker by so much."""
    return " ".join(f"{w[0]}{float(w[1:]) - by:.2f}" for w in text.split())
