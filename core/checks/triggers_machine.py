"""Which changes of drive, brakes, controls, wheels, mounts and load make checks due."""

from __future__ import annotations

from core.checks.combinations import FRONT_END, SPROCKETS
from core.checks.conditions import thicker
from core.checks.triggers import Trigger

__all__ = ["MACHINE_TRIGGERS"]

_BRAKE = ("brake_anchor", "brake_lever", "brake_holds", "brake_walk", "brake_half")
_MOUNT = ("mount_bolts", "weld_look", "chain_line", "mount_retorque")
_NO_SECOND = "A brake that fails; there is often no second one."

MACHINE_TRIGGERS: tuple[Trigger, ...] = (
    Trigger(
        row="clutch or its springs",
        slots=("clutch", "clutch_springs", "engagement_rpm"),
        rules=(
            "clutch_free",
            "clutch_key",
            "engagement",
            "drive_guard",
            "walking_stop",
            "drum_temp_1",
            "drum_temp_2",
            "drum_temp_3",
        ),
        because="It may drag at idle.",
        otherwise="The machine moves by itself.",
    ),
    Trigger(
        row="sprockets",
        slots=(*SPROCKETS, *(f"{slot}_teeth" for slot in SPROCKETS if slot != "jackshaft")),
        rules=("chain_line", "chain_slack", "sprocket_bolts", "rpm_at_top", "drive_guard"),
        because="A shorter gear over-revs downhill, and line and slack are new.",
        otherwise="Over-revved, or the chain off.",
    ),
    Trigger(
        row="engine sprocket",
        slots=("engine_sprocket", "engine_sprocket_teeth"),
        rules=("teeth_engine",),
        because="Every speed and ratio rests on its teeth.",
        otherwise="The sum is right for another sprocket.",
    ),
    Trigger(
        row="jackshaft",
        slots=(
            "jackshaft",
            "jackshaft_in",
            "jackshaft_in_teeth",
            "jackshaft_out",
            "jackshaft_out_teeth",
        ),
        rules=("teeth_jackshaft",),
        because="Every speed and ratio rests on its teeth.",
        otherwise="The sum is right for another sprocket.",
    ),
    Trigger(
        row="final sprocket",
        slots=("final_sprocket", "final_sprocket_teeth"),
        rules=("teeth_final",),
        because="Every speed and ratio rests on its teeth.",
        otherwise="The sum is right for another sprocket.",
    ),
    Trigger(
        row="chain",
        slots=(
            "chain",
            "chain_pitch",
            "chain_links",
            "second_chain",
            "second_chain_pitch",
            "second_chain_links",
        ),
        rules=("chain_pitch", "chain_clip", "chain_slack", "chain_reslack"),
        because="It was opened, and a new one beds in.",
        otherwise="Off at speed: a locked wheel, a cut calf.",
    ),
    Trigger(
        row="brake",
        slots=("brake", "brake_kind", "brake_fluid_date"),
        rules=_BRAKE,
        because="It was apart or opened.",
        otherwise=_NO_SECOND,
    ),
    Trigger(
        row="pads or band",
        slots=("brake_pad",),
        when=thicker,
        rules=_BRAKE,
        because="New pads or a new band were fitted.",
        otherwise=_NO_SECOND,
    ),
    Trigger(
        row="brake adjusted",
        slots=("brake_free_travel",),
        rules=("brake_lever", "brake_holds", "brake_walk"),
        because="Its travel is another one.",
        otherwise=_NO_SECOND,
    ),
    Trigger(
        row="throttle, cable or pedal",
        slots=("throttle", "throttle_cable", "throttle_springs"),
        rules=("throttle_snap", "throttle_springs", "throttle_full", "kill_running"),
        because="It was apart.",
        otherwise="Stuck open at the end of the strip.",
    ),
    Trigger(
        row="kill switch, lanyard or wiring",
        slots=("kill_switch", "wiring"),
        rules=("kill_running",),
        because="It is the last defence.",
        otherwise="Nothing left but the fuel tap.",
    ),
    Trigger(
        row="tyre, wheel or bearings",
        slots=(
            "tyre_front",
            "tyre_rear",
            "tyre_size_front",
            "tyre_size_rear",
            "tube_front",
            "tube_rear",
            "wheel_front",
            "wheel_rear",
            "wheel_bearings",
        ),
        rules=(
            "tyre_seat",
            "tyre_pressure",
            "tyre_rotation",
            "tyre_clearance",
            "wheel_nuts",
            "circumference",
        ),
        because="It was off.",
        otherwise="It rubs, bursts or comes off; all speed sums are wrong.",
    ),
    Trigger(
        row="rear tyre pressure",
        slots=("tyre_pressure_rear",),
        rules=("circumference",),
        because="A harder tyre rolls further.",
        otherwise="All speed sums are a little off.",
    ),
    Trigger(
        row="axle, hub, steering or front end",
        slots=FRONT_END,
        rules=("axle_torque", "steering_play", "lock_to_lock"),
        because="It was undone.",
        otherwise="A lost wheel.",
    ),
    Trigger(
        row="engine mount, plate or weld",
        slots=("engine_mount", "engine_plate", "mount_bolts", "frame", "weld_notes"),
        rules=_MOUNT,
        because="An engine that walks takes the chain line along.",
        otherwise="The chain comes off.",
    ),
    Trigger(
        row="frame",
        slots=("frame",),
        rules=(
            "walk_round",
            "fuel_leak",
            "fuel_distance",
            *_BRAKE,
            "throttle_snap",
            "throttle_full",
            "axle_torque",
            "steering_play",
            "lock_to_lock",
        ),
        because="Everything was moved over to it.",
        otherwise="Any of it can be loose.",
    ),
    Trigger(
        row="rider, seat or ballast",
        slots=("rider", "seat", "ballast", "ballast_place"),
        rules=("ballast_bolted", "brake_holds", "brake_walk", "mass_entered"),
        because="Another mass brakes differently, and loose mass flies.",
        otherwise="A missile; times that cannot be compared.",
    ),
    Trigger(
        row="rider's gear",
        slots=("rider_gear",),
        rules=("mass_entered",),
        because="Gear weighs.",
        otherwise="Times that cannot be compared.",
    ),
)
