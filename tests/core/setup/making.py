"""Readings and sheets for the tests, by hand and by hypothesis."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from hypothesis import strategies as st

from core.setup import SLOTS, Reading, Sheet, Slot, fitted, read_reading

NOON = datetime(2026, 7, 26, 12, 0, tzinfo=UTC)


def sheet_of(**typed: str) -> Sheet:
    """Return a sheet from typed values; ``part:NAME`` fits a part of that id."""
    readings = {}
    for slot, text in typed.items():
        if SLOTS[slot].kind == "part" and text not in ("-", "?"):
            readings[slot] = fitted(text, text, NOON)
        else:
            readings[slot] = read_reading(SLOTS[slot], text, NOON).reading
    return Sheet(readings=readings)


def changed(sheet: Sheet, **typed: str) -> Sheet:
    """Return the sheet with these values typed an hour later."""
    later = sheet_of(**typed)
    readings = {
        slot: Reading(
            state=r.state, value=r.value, text=r.text, part=r.part, bound=r.bound, at=NOON + HOUR
        )
        for slot, r in later.readings.items()
    }
    return Sheet(readings=sheet.readings | readings)


HOUR = timedelta(hours=1)

# Kettle Moth, the invented minibike of the demo season.
MOTH = sheet_of(
    bore="70",
    stroke="54",
    chamber_volume="22.5",
    gasket_thickness="1.1",
    gasket_bore="71",
    deck="0.25",
    crown_volume="0",
    rod="forged",
    rod_rpm_limit="6500",
    flywheel="steel",
    flywheel_rpm_limit="8000",
    valve_train_rpm_limit="6800",
    clutch="pepper",
    clutch_rpm_limit="7000",
    planned_rpm="6500",
    rockers="stock",
    rocker_ratio="1.0",
    lobe_lift_intake="5.8",
    lobe_lift_exhaust="5.8",
    lash_intake="0.15",
    lash_exhaust="0.15",
    spring_fitted_height="21.0",
    spring_solid_height="12.4",
    engine_sprocket="12t",
    engine_sprocket_teeth="12",
    final_sprocket="60t",
    final_sprocket_teeth="60",
    chain="long",
    chain_links="104",
    engagement_rpm="2100",
    circumference="1.06",
    machine_mass="63",
    rider_mass="78",
)

_TEXTS = st.sampled_from(["", "held", "10 of 12", "Ünïcode 名", "removed", "-"])
_TIMES = st.none() | st.sampled_from([NOON, NOON + HOUR])


def readings_for(slot: Slot) -> st.SearchStrategy[Reading]:
    """Return readings that can stand in a slot, of every state it can have."""
    bare = st.builds(Reading, state=st.sampled_from(["unknown", "not fitted"]), text=_TEXTS)
    if slot.kind == "part":
        held = st.builds(fitted, st.sampled_from(["p1", "p2", "p3"]), _TEXTS, _TIMES)
        named = st.builds(Reading, state=st.just("fitted"), text=st.sampled_from(["a", "b"]))
        return bare | held | named
    if slot.kind != "number":
        return bare | st.builds(Reading, state=st.just("set"), text=_TEXTS, at=_TIMES)
    values = st.sampled_from([0.0, -0.0, 1.0, 2.5, 22.5])
    plain = st.builds(
        Reading,
        state=st.sampled_from(["measured", "stated", "estimated", "set"]),
        value=values,
        text=_TEXTS,
        at=_TIMES,
        stale=st.booleans(),
        copied=st.booleans(),
    )
    bounded = st.builds(
        Reading, state=st.just("bounded"), value=values, bound=st.sampled_from([">", "<"])
    )
    return bare | plain | bounded


_LINKED = (
    "final_sprocket",
    "final_sprocket_teeth",
    "chain",
    "chain_links",
    "rockers",
    "rocker_ratio",
    "lash_intake",
    "clutch",
    "engagement_rpm",
    "chamber_volume",
    "head_milled",
    "fuel_amount",
    "governor",
    "main_jet",
)


def sheets() -> st.SearchStrategy[Sheet]:
    """Return sheets over slots that hang together, with a slot of the user's own now and then."""
    rows = {slot: readings_for(SLOTS[slot]) for slot in _LINKED}
    own = {"own:seat_foam": st.builds(Reading, state=st.just("set"), text=_TEXTS)}
    return st.fixed_dictionaries({}, optional=rows | own).map(lambda r: Sheet(readings=r))
