"""Other names of slots, as people of the trade say and type them."""

from __future__ import annotations

import re

__all__ = ["SYNONYMS", "spellings"]

SYNONYMS: dict[str, tuple[str, ...]] = {
    "engine_block": ("block", "engine", "motor", "crankcase", "cylinder"),
    "block_hours": ("hours", "running hours"),
    "block_decked": ("decked", "block milled"),
    "bore_wear": ("taper", "bore taper"),
    "crank": ("crankshaft",),
    "rod": ("conrod", "con rod", "connecting rod"),
    "rod_length": ("centre length",),
    "big_end_clearance": ("rod bearing clearance", "big end"),
    "rod_rpm_limit": ("rod limit",),
    "piston_pin_height": ("pin height", "compression height"),
    "crown_volume": ("dish", "dome", "piston crown volume"),
    "piston_clearance": ("wall clearance", "skirt clearance"),
    "rings": ("piston rings",),
    "deck": ("deck height", "deck clearance"),
    "side_cover": ("cover",),
    "head": ("cylinder head",),
    "chamber_volume": ("chamber", "chamber cc", "cc", "combustion chamber", "head volume"),
    "head_milled": ("milled", "milled off", "head shaved"),
    "head_gasket": ("gasket",),
    "gasket_thickness": ("head gasket thickness", "gasket crushed"),
    "valves_intake": ("intake valves", "valve intake"),
    "valves_exhaust": ("exhaust valves", "valve exhaust"),
    "springs": ("spring", "valve spring"),
    "spring_seat_load": ("seat load", "seat pressure"),
    "spring_fitted_height": ("fitted height", "installed height", "spring height"),
    "spring_solid_height": ("solid height", "coil bind height"),
    "spring_shims": ("shims",),
    "valve_train_rpm_limit": ("spring rpm limit", "valve spring rpm limit", "valve spring limit"),
    "keepers": ("collets", "valve locks"),
    "retainer_margin": ("retainer to guide", "guide margin"),
    "rockers": ("rocker", "rocker arms"),
    "pushrods": ("pushrod", "push rods"),
    "cam": ("camshaft",),
    "lobe_centre_angle": ("lobe separation", "lsa"),
    "cam_centre": ("intake centreline", "installed centre"),
    "compression_release": ("release", "decompressor"),
    "lifters": ("tappets", "cam followers"),
    "lash_intake": ("intake valve clearance", "valve lash intake"),
    "lash_exhaust": ("exhaust valve clearance", "valve lash exhaust"),
    "valve_gap_intake": ("valve to piston intake", "intake clay", "clay intake"),
    "valve_gap_exhaust": ("valve to piston exhaust", "exhaust clay", "clay exhaust"),
    "piston_to_head_gap": ("squish", "head gap"),
    "ignition_timing": ("timing", "spark timing", "advance"),
    "key_offset": ("timing key", "offset key", "flywheel key"),
    "coil_gap": ("air gap",),
    "rev_limiter": ("limiter",),
    "limiter_rpm": ("limiter speed", "rev limit"),
    "plug_heat_range": ("heat range",),
    "wiring": ("loom",),
    "carb": ("carburetor",),
    "main_jet": ("jet", "jets"),
    "pilot_jet": ("idle jet", "slow jet"),
    "needle_clip": ("clip", "needle", "needle position"),
    "idle_mixture": ("mixture screw", "air screw"),
    "air_filter": ("filter", "air cleaner"),
    "intake_adapter": ("manifold", "intake manifold", "inlet manifold"),
    "exhaust": ("pipe", "header", "exhaust pipe"),
    "silencer": ("muffler",),
    "oil_grade": ("oil",),
    "oil_fill": ("oil volume", "oil level"),
    "oil_hours": ("oil age",),
    "fuel_kind": ("fuel",),
    "fuel_octane": ("octane",),
    "fuel_ethanol": ("ethanol",),
    "tank": ("gas tank",),
    "fuel_tap": ("petcock",),
    "flywheel_rpm_limit": ("flywheel limit",),
    "planned_rpm": ("planned", "planned max", "max rpm", "maximum rpm", "redline"),
    "idle_rpm": ("idle", "idle speed"),
    "clutch_springs": ("clutch spring",),
    "engagement_rpm": ("engagement", "engagement speed", "clutch rpm", "stall"),
    "clutch_rpm_limit": ("clutch limit",),
    "engine_sprocket": ("front sprocket", "drive sprocket", "clutch sprocket", "pinion"),
    "engine_sprocket_teeth": ("front teeth", "front sprocket teeth", "engine teeth"),
    "final_sprocket": ("rear sprocket", "axle sprocket", "driven sprocket"),
    "final_sprocket_teeth": ("rear teeth", "rear sprocket teeth", "final teeth"),
    "jackshaft_in": ("jackshaft driven",),
    "jackshaft_out": ("jackshaft driver",),
    "chain_pitch": ("pitch",),
    "chain_links": ("links", "chain length"),
    "circumference": ("rolling circumference", "roll out", "rollout", "driven circumference",
                      "rear circumference", "tyre circumference"),
    "tyre_pressure_front": ("front pressure", "front tyre pressure"),
    "tyre_pressure_rear": ("rear pressure", "rear tyre pressure"),
    "brake_free_travel": ("brake travel", "lever travel"),
    "engine_plate": ("mount plate",),
    "steering": ("fork", "forks", "front end"),
    "throttle_springs": ("return springs",),
    "kill_switch": ("lanyard", "kill"),
    "machine_mass": ("mass", "weight", "machine weight"),
    "rider_mass": ("rider weight",),
    "rider_position": ("position", "posture"),
    "logger_rate": ("sample rate",),
}  # fmt: skip
"""Names by slot id; case, hyphens, spaces and a plural s do not matter."""

_WORDS: dict[str, str] = {
    "tire": "tyre",
    "inlet": "intake",
    "int": "intake",
    "ex": "exhaust",
    "exh": "exhaust",
    "carburettor": "carb",
    "carburetor": "carb",
    "center": "centre",
    "clearance": "lash",
    "muffler": "silencer",
    "gas": "fuel",
    "tooth": "teeth",
    "conrod": "rod",
    "crankshaft": "crank",
    "camshaft": "cam",
}
"""One word for another, tried when a name is not found as it was typed."""

_IN = {"in": "intake"}  # tried last: it also means the side of the jackshaft the power comes in


def _key(words: list[str]) -> str:
    return "".join(w if len(w) < 3 or w.endswith("ss") else w.removesuffix("s") for w in words)


def spellings(name: str) -> tuple[str, ...]:
    """Return the forms under which a name is looked up, the nearest to what was typed first.

    The order of the words counts as typed, and sorted in the later forms.

    >>> spellings("Rear-Sprocket")[0], spellings("lash ex")[1]
    ('rearsprocket', 'lashexhaust')
    """
    words = re.findall(r"\w+", name.casefold().replace("_", " "))
    plain = [_WORDS.get(w, w) for w in words]
    sides = [_IN.get(w, w) for w in plain]
    forms = [_key(words), _key(plain), _key(sides), _key(sorted(plain)), _key(sorted(sides))]
    return tuple(dict.fromkeys(forms))
