"""Cam timing, valve lift, and the margins of spring, retainer and pushrod."""

from __future__ import annotations

from core.engine import (
    CamEvents,
    CheckedDuration,
    LiftTable,
    advanced,
    advanced_table,
    cam_timing,
    checked_duration,
    coil_bind_margin,
    duration_difference,
    events_from_centres,
    lobe_lift_for,
    lobe_table,
    pushrod_length_change,
    pushrod_rub_margin,
    retainer_margin,
    valve_lift,
)
from core.reckon.cautions import MARGIN
from core.reckon.formula import COMMON, Formula, Input, Outcome, Output
from core.reckon.inputs import LASH, LOBE_LIFT, ROCKER_RATIO

__all__ = ["VALVES"]

_EVENTS = (
    Input("intake-opens", "intake opens before top", "deg", instrument="degree_wheel"),
    Input("intake-closes", "intake closes after bottom", "deg", instrument="degree_wheel"),
    Input("exhaust-opens", "exhaust opens before bottom", "deg", instrument="degree_wheel"),
    Input("exhaust-closes", "exhaust closes after top", "deg", instrument="degree_wheel"),
)
_EVENTS_OUT = tuple(Output(one.name, one.label, "deg", 1) for one in _EVENTS)
_HEYWOOD = "definitions; Heywood, Internal Combustion Engine Fundamentals, ch. 6 (from memory)"
_ONE_LIFT = "All four events must be read at one and the same checking lift."
_ENDS = ("lobe", "valve")
_AT = "read at the lobe or at the valve"
_TABLE = Input("table", "lift table, rows of crank degrees and lift", kind="lift table")
_MEASURED = Input("read-at", _AT, kind="choice", required=False, default="lobe", choices=_ENDS)
_CHECKING = Input("checking-lift", "checking lift", "mm")
_LIFT = Input("lift", "highest valve lift", "mm", instrument="dial_gauge", least=0)
_CONTACT = "Zero or below: {}"


def _timing(**given: float) -> Outcome:
    found = cam_timing(CamEvents(**given))
    fields = {name.replace("_", "-"): getattr(found, name) for name in found.__struct_fields__}
    return Outcome(fields, (_ONE_LIFT,))


def _as_outcome(events: CamEvents) -> Outcome:
    return Outcome({n.replace("_", "-"): getattr(events, n) for n in events.__struct_fields__})


def _centres(**given: float) -> Outcome:
    return _as_outcome(events_from_centres(**given))


def _advanced(advance: float, **given: float) -> Outcome:
    return _as_outcome(advanced(CamEvents(**given), advance))


def _duration(
    table: LiftTable,
    checking_lift: float,
    read_at: str,
    rocker_ratio: float | None = None,
    lash: float | None = None,
    advance: float = 0.0,
) -> Outcome:
    rows = LiftTable(table.angles, table.lifts, "valve" if read_at == "valve" else "lobe")
    moved = advanced_table(rows, advance) if advance else rows
    ratio, gap = 1.0 if rocker_ratio is None else rocker_ratio, lash or 0.0
    found = checked_duration(moved, checking_lift, ratio, gap)
    numbers = {"duration": found.duration, "opens": found.opens, "closes": found.closes}
    more = {"centre": found.centre, "peak-at": moved.peak_angle, "peak": moved.peak}
    note = f"At {checking_lift * 1000:g} mm of {found.measured_at} lift, and for that lift only."
    return Outcome(numbers | more, (note,))


def _difference(**given: float | str) -> float:
    pair = (
        CheckedDuration(
            0.0,
            float(given[f"duration_{one}"]),
            float(given[f"duration_{one}"]),
            float(given[f"lift_{one}"]),
            "valve" if given[f"at_{one}"] == "valve" else "lobe",
        )
        for one in ("a", "b")
    )
    return duration_difference(*pair)


def _lobe_peak(table: LiftTable, rocker_ratio: float, lash: float) -> Outcome:
    rows = lobe_table(LiftTable(table.angles, table.lifts, "valve"), rocker_ratio, lash)
    return Outcome({"peak": rows.peak, "at": rows.peak_angle})


def _coil_bind(fitted: float, solid: float, lift: float) -> Outcome:
    margin = coil_bind_margin(fitted, solid, lift)
    return Outcome({"margin": margin}, _if_none(margin, "the coils bind."))


def _retainer(closed: float, lift: float) -> Outcome:
    margin = retainer_margin(closed, lift)
    return Outcome({"margin": margin}, _if_none(margin, "the retainer lands on the guide."))


def _rub(hole: float, pushrod: float, sideways: float) -> Outcome:
    margin = pushrod_rub_margin(hole, pushrod, sideways)
    return Outcome({"margin": margin}, _if_none(margin, "the pushrod rubs."))


def _if_none(margin: float, words: str) -> tuple[str, ...]:
    return (_CONTACT.format(words),) if margin <= 0 else ()


VALVES: tuple[Formula, ...] = (
    Formula(
        id="cam-timing", title="Durations, centres, separation and overlap from four events",
        inputs=_EVENTS,
        outputs=(Output("intake-duration", "intake duration", "deg", 1),
                 Output("exhaust-duration", "exhaust duration", "deg", 1),
                 Output("intake-centre", "intake centre after top", "deg", 1),
                 Output("exhaust-centre", "exhaust centre before top", "deg", 1),
                 Output("separation", "lobe separation, cam degrees", "deg", 1),
                 Output("overlap", "overlap", "deg", 1),
                 Output("advance", "cam advance", "deg", 1)),
        compute=_timing,
        equation="duration = opens + 180 + closes; intake centre = duration/2 - opens; exhaust "
        "centre = duration/2 - closes; separation = mean of the centres; overlap = intake opens + "
        "exhaust closes; advance = separation - intake centre",
        source=_HEYWOOD, covers=("engine.cam_timing",),
    ),
    Formula(
        id="cam-events", title="Events of a cam known by durations and centres",
        inputs=(Input("intake-duration", "intake duration", "deg"),
                Input("exhaust-duration", "exhaust duration", "deg"),
                Input("intake-centre", "intake centre after top", "deg"),
                Input("exhaust-centre", "exhaust centre before top", "deg")),
        outputs=_EVENTS_OUT, compute=_centres,
        equation="opens = duration/2 - centre; closes = duration/2 + centre - 180; exhaust the "
        "other way round",
        source="inverse of cam-timing", covers=("engine.events_from_centres",),
    ),
    Formula(
        id="cam-advance", title="Events after the cam is moved to run earlier",
        inputs=(Input("advance", "advance, later is -", "deg"), *_EVENTS),
        outputs=_EVENTS_OUT, compute=_advanced,
        equation="opens + advance, closes - advance, on both valves", source="closed form",
        covers=("engine.advanced",),
    ),
    Formula(
        id="duration", title="Duration of a lobe or valve at a checking lift, from a lift table",
        inputs=(_TABLE, _CHECKING, _MEASURED,
                Input("rocker-ratio", "rocker ratio, for a lobe table and a lift of the valve",
                      ":1", required=False),
                Input("lash", "lash, the same", "mm", required=False),
                Input("advance", "cam moved earlier since by", "deg", required=False)),
        outputs=(Output("duration", "duration", "deg", 1), Output("opens", "opens at", "deg", 1),
                 Output("closes", "closes at", "deg", 1),
                 Output("centre", "middle of the opening", "deg", 1),
                 Output("peak-at", "highest lift at", "deg", 1),
                 Output("peak", "highest lift of the table", "mm", 2)),
        compute=_duration,
        equation="straight lines between the rows; valve lift c is lobe lift (c + lash)/ratio",
        source="linear interpolation; closed form; on 10 degree steps good to about 0.6 degree",
        covers=("engine.checked_duration", "engine.advanced_table"),
    ),
    Formula(
        id="duration-difference", title="How much longer one duration is than another",
        inputs=(Input("duration-a", "first duration", "deg"),
                Input("lift-a", "its checking lift", "mm"),
                Input("duration-b", "second duration", "deg"),
                Input("lift-b", "its checking lift", "mm"),
                Input("at-a", f"first {_AT}", kind="choice", required=False, default="valve",
                      choices=_ENDS),
                Input("at-b", f"second {_AT}", kind="choice", required=False, default="valve",
                      choices=_ENDS)),
        outputs=(Output("difference", "second longer by", "deg", 1),), compute=_difference,
        equation="second - first, at one and the same checking lift only",
        source="durations at different checking lifts are different quantities",
        covers=("engine.duration_difference",),
    ),
    Formula(
        id="lobe-lift-from-table", title="Lobe lift behind a table that was read at the valve",
        inputs=(_TABLE, ROCKER_RATIO, LASH),
        outputs=(Output("peak", "highest lobe lift", "mm", 2), Output("at", "at", "deg", 1)),
        compute=_lobe_peak, equation="(valve lift + lash)/ratio, row by row",
        source="inverse of valve-lift", covers=("engine.lobe_table",),
    ),
    Formula(
        id="valve-lift", title="Valve lift",
        inputs=(LOBE_LIFT, ROCKER_RATIO, LASH,
                Input("lash-at", "where the lash was felt", kind="choice", required=False,
                      default="valve", choices=("valve", "pushrod"))),
        outputs=(Output("lift", "valve lift", "mm", 2),), compute=valve_lift,
        equation="lobe lift x ratio - lash, never below zero; lash at the pushrod counts times "
        "the ratio",
        source="closed form", covers=("engine.valve_lift",),
    ),
    Formula(
        id="lobe-lift-for", title="Lobe lift at which a valve stands at a lift",
        inputs=(Input("lift", "valve lift", "mm", instrument="dial_gauge", least=0), ROCKER_RATIO,
                LASH),
        outputs=(Output("lobe-lift", "lobe lift", "mm", 3),), compute=lobe_lift_for,
        equation="(valve lift + lash)/ratio", source="inverse of valve-lift",
        covers=("engine.lobe_lift_for",),
    ),
    Formula(
        id="spring-margin", title="How much further a spring could be pressed at full lift",
        inputs=(Input("fitted", "fitted height", "mm", slot="spring_fitted_height"),
                Input("solid", "solid height", "mm", slot="spring_solid_height"), _LIFT),
        outputs=(Output("margin", "spring margin", "mm", 2),), compute=_coil_bind,
        equation="fitted height - solid height - valve lift", source="definition",
        covers=("engine.coil_bind_margin",), caution=MARGIN,
    ),
    Formula(
        id="retainer-margin", title="Gap between retainer and guide or seal at full lift",
        inputs=(Input("closed", "gap with the valve shut", "mm", instrument="calliper"), _LIFT),
        outputs=(Output("margin", "retainer margin", "mm", 2),), compute=_retainer,
        equation="gap with the valve shut - valve lift", source="definition",
        covers=("engine.retainer_margin",), caution=MARGIN,
    ),
    Formula(
        id="pushrod-rub", title="Gap between a pushrod and its hole or guide plate",
        inputs=(Input("hole", "hole or slot", "mm", instrument="calliper"),
                Input("pushrod", "pushrod diameter", "mm", instrument="calliper"),
                Input("sideways", "largest distance from the middle over a turn", "mm",
                      instrument="calliper", least=0)),
        outputs=(Output("margin", "gap to the pushrod", "mm", 2),), compute=_rub,
        equation="(hole - pushrod)/2 - sideways", source="closed form",
        covers=("engine.pushrod_rub_margin",), caution=MARGIN,
    ),
    Formula(
        id="pushrod-length", title="How much longer the pushrod must be to keep the sweep",
        inputs=(Input("gasket-change", "new gasket less old, crushed", "mm"),
                Input("head-cut", "taken off the head", "mm", required=False, default="0"),
                Input("deck-cut", "taken off the block", "mm", required=False, default="0")),
        outputs=(Output("change", "pushrod longer by, shorter -", "mm", 2),),
        compute=pushrod_length_change, equation="gasket change - head cut - deck cut",
        source=f"closed form; rocker on the head, cam in the block: {COMMON}",
        covers=("engine.pushrod_length_change",),
    ),
)  # fmt: skip
