"""Check-case quantities of topic F that need the whole launch model, answered by core.drive."""

from __future__ import annotations

from core import drive
from core.errors import UnknownInputError
from tests.core.reference.drive import road
from tests.core.reference.reading import Answers, Inputs, Rule


def _train(given: Inputs) -> drive.Powertrain:
    return drive.Powertrain(
        curve_rpm=tuple(given.get("torque_curve_rpm")),
        curve_torque=tuple(given.get("torque_curve")),
        ratio=given.get("ratio"),
        circumference=given.get("rolling_circumference"),
        engagement_rpm=given.get("clutch_engagement_rpm", "engagement_rpm"),
        efficiency=given.get("driveline_efficiency", "efficiency", default=1.0),
        wheel_inertia=given.get("wheel_inertia_total", "wheel_inertia", default=0.0),
        engine_inertia=given.get("engine_inertia", default=0.0),
        torque_scale=given.get("torque_scale", default=1.0),
    )


def launch(given: Inputs) -> Answers:
    def run() -> drive.Run:
        start = given.get("start_speed", default=0.0)
        return drive.accelerate(_train(given), road(given), given.get("target_speed"), start)

    def reached_time() -> float:
        time = run().time
        if time is None:
            raise UnknownInputError("Unknown: not reached.")
        return time

    return {
        "lock_speed": lambda: _train(given).lock_speed,
        "time": reached_time,
        "distance": lambda: run().distance,
        "top_speed": lambda: drive.full_speed(_train(given), road(given)),
        "reached": lambda: run().reached,
    }


def correction(given: Inputs) -> Answers:
    def found() -> drive.AllowedTime:
        test, reference = given.nested("test_conditions"), given.nested("reference_conditions")
        return drive.allowed_time(
            given.get("observed_time"),
            (_train(test), road(test)),
            (_train(reference), road(reference)),
            given.get("target_speed"),
        )

    return {
        "model_time_test": lambda: found().model_test,
        "model_time_reference": lambda: found().model_reference,
        "corrected_time": lambda: found().corrected,
    }


def sensitivity(given: Inputs) -> Answers:
    def time() -> drive.Sensitivities:
        return drive.sensitivities(_train(given), road(given), given.get("target_speed"))[0]

    def top() -> drive.Sensitivities:
        return drive.sensitivities(_train(given), road(given), given.get("target_speed"))[1]

    return {
        "dlnt_dlntorque": lambda: time().torque,
        "dlnt_dlnrho_fixed_torque": lambda: time().density_fixed_torque,
        "dlnt_dlnrho_torque_prop_rho": lambda: time().density_with_torque,
        "dlnt_dlnmass": lambda: time().mass,
        "dt_dheadwind": lambda: time().headwind,
        "dt_dgrade_per_0.1pct": lambda: time().grade,
        "dlnv_dlntorque": lambda: top().torque,
        "dlnv_dlnrho_fixed_torque": lambda: top().density_fixed_torque,
        "dlnv_dlnrho_torque_prop_rho": lambda: top().density_with_torque,
        "dlnv_dlnmass": lambda: top().mass,
        "dv_dheadwind": lambda: top().headwind,
        "dv_dgrade_per_0.1pct": lambda: top().grade,
    }


RULES = (
    Rule("F", "correct an observed|model ratio", correction),
    Rule("F", "sensitivit", sensitivity),
    Rule("F", "standing start|target speed|rolling start|launch", launch),
)
