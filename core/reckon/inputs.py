"""Inputs that several formulas share, so that a value has one name everywhere."""

from __future__ import annotations

from core.reckon.formula import Input

__all__ = [
    "AIR_DENSITY",
    "BORE",
    "CHAMBER",
    "CIRCUMFERENCE",
    "CLEARANCE",
    "CROWN",
    "CURVE",
    "DECK",
    "DISTANCE",
    "DRAG_AREA",
    "EFFICIENCY",
    "ENGAGEMENT",
    "ENGINE_INERTIA",
    "GASKET",
    "GASKET_BORE",
    "GRADE",
    "HEADWIND",
    "HUMIDITY",
    "LASH",
    "LOBE_LIFT",
    "MASS",
    "OFFSET",
    "POWER",
    "PRESSURE",
    "RATIO",
    "ROCKER_RATIO",
    "ROD",
    "ROLLING",
    "RPM",
    "SLIP",
    "SPEED",
    "STROKE",
    "TEMPERATURE",
    "TORQUE_SCALE",
    "WHEEL_INERTIA",
]

BORE = Input("bore", "bore", "mm", slot="bore")
STROKE = Input("stroke", "stroke", "mm", slot="stroke")
ROD = Input("rod", "rod, centre to centre", "mm", slot="rod_length")
OFFSET = Input(
    "offset",
    "pin offset, + toward the side the crankpin moves to after top",
    "mm",
    required=False,
    default="0",
)
CHAMBER = Input("chamber", "chamber volume", "cm³", slot="chamber_volume", least=0)
GASKET = Input("gasket", "gasket thickness, crushed", "mm", slot="gasket_thickness", least=0)
GASKET_BORE = Input("gasket-bore", "gasket bore", "mm", slot="gasket_bore")
DECK = Input("deck", "deck, piston below +, proud -", "mm", slot="deck")
CROWN = Input(
    "crown",
    "crown volume, dish +, dome -",
    "cm³",
    required=False,
    default="0",
    slot="crown_volume",
)
CLEARANCE = Input("clearance", "clearance volume", "cm³", instrument="burette")
RPM = Input("rpm", "engine speed", "rpm", slot="planned_rpm", least=0)

ROCKER_RATIO = Input("rocker-ratio", "rocker ratio", ":1", slot="rocker_ratio")
LOBE_LIFT = Input("lobe-lift", "lobe lift", "mm", instrument="dial_gauge", least=0)
LASH = Input("lash", "lash", "mm", instrument="feeler", least=0)

TEMPERATURE = Input("temperature", "air temperature", "°C", instrument="thermometer")
PRESSURE = Input("pressure", "station pressure, not a sea-level one", "hPa", instrument="barometer")
HUMIDITY = Input("humidity", "relative humidity", "%", instrument="hygrometer", least=0, most=100)

RATIO = Input("ratio", "overall ratio", ":1")
CIRCUMFERENCE = Input("circumference", "rolling circumference", "m", slot="circumference")
SPEED = Input("speed", "road speed", "km/h", least=0)
SLIP = Input("slip", "slip", "%", required=False, default="0")

MASS = Input("mass", "machine with rider", "kg", instrument="scales")
POWER = Input("power", "power at the wheel", "kW")
DISTANCE = Input("distance", "distance", "m")
ROLLING = Input("rolling", "coefficient of rolling resistance")
DRAG_AREA = Input("drag-area", "drag coefficient times area", "m²")
AIR_DENSITY = Input("air-density", "air density", "kg/m³", required=False, default="1.2")
HEADWIND = Input("headwind", "headwind, a tailwind is -", "m/s", required=False, default="0")
GRADE = Input("grade", "grade, downhill is -", "%", required=False, default="0")

CURVE = Input("curve", "torque curve, rows of rpm and N·m", kind="torque curve")
ENGAGEMENT = Input("engagement", "clutch engagement", "rpm", slot="engagement_rpm")
EFFICIENCY = Input("efficiency", "efficiency of the drive", "%", required=False, default="90")
WHEEL_INERTIA = Input(
    "wheel-inertia", "inertia of all wheels", "kg·m²", required=False, default="0"
)
ENGINE_INERTIA = Input(
    "engine-inertia", "inertia of crank and flywheel", "kg·m²", required=False, default="0"
)
TORQUE_SCALE = Input(
    "torque-scale", "times the torque curve, for the air", required=False, default="1"
)
