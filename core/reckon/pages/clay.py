"""A clay reading carried to another build."""

from __future__ import annotations

from core.engine import (
    ClayReading,
    ClayState,
    LiftTable,
    LobeLift,
    ValveAngles,
    ValveTrain,
    project_clay,
)
from core.errors import UnknownInputError
from core.reckon.cautions import GAP
from core.reckon.formula import Formula, Input, Outcome, Output

__all__ = ["CLAY"]

_SAME = "as before"
_DIMENSIONS = ("rocker_ratio", "lash", "gasket", "deck", "stroke", "rod", "offset", "advance")


def _more(name: str, label: str, unit: str = "mm", instrument: str = "") -> Input:
    return Input(name, label, unit, required=False, default="0", instrument=instrument)


def _bare(name: str, label: str, unit: str = "mm", instrument: str = "") -> Input:
    return Input(name, label, unit, required=False, instrument=instrument)


def _new(name: str, label: str, unit: str = "mm", instrument: str = "") -> Input:
    return _bare(name, f"{label} (left out: {_SAME})", unit, instrument)


def _reading(gap: float, state: ClayState) -> ClayReading:
    if state is ClayState.NOT_TOUCHED:
        return ClayReading(state, applied=gap)
    return ClayReading(state, gap) if state is ClayState.TOUCHED else ClayReading(state)


def _lobe(given: dict[str, float], table: LiftTable | None) -> LobeLift | LiftTable:
    if table is not None:
        return table
    if "lobe_lift" not in given:
        raise UnknownInputError(
            "Unknown: without a lift table at least the highest lobe lift is needed.",
            ("lobe lift",),
        )
    return LobeLift(given["lobe_lift"], given.get("near_top"), given.get("tight_lift"))


def _trains(given: dict[str, float], table: LiftTable | None) -> tuple[ValveTrain, ValveTrain]:
    """Return the build the clay was taken on and the one asked about."""
    told = {name: given[name] for name in _DIMENSIONS if name in given}
    moves = table is not None or not given.keys().isdisjoint(("new_stroke", "new_rod"))
    missing = tuple(name for name in ("stroke", "rod") if moves and name not in told)
    if missing:
        raise UnknownInputError(
            f"Unknown: {' and '.join(missing)} decide how the piston falls away, and are needed"
            " with a lift table or another stroke.",
            missing,
        )
    changed = {name: given[f"new_{name}"] for name in _DIMENSIONS if f"new_{name}" in given}
    return ValveTrain(**told), ValveTrain(**(told | changed))


def _project(
    clay: float,
    clay_state: ClayState,
    stem: float,
    surface: float,
    table: LiftTable | None = None,
    **given: float,
) -> Outcome:
    old, new = _trains(given, table)
    found = project_clay(
        _reading(clay, clay_state), old, new, ValveAngles(stem, surface), _lobe(given, table)
    )
    numbers = {
        "gap": found.exact,
        "guaranteed": found.guaranteed,
        "optimistic": found.optimistic,
        "closest-at": found.closest_new,
    }
    near = "The bound reaches zero: this sum cannot rule contact out."
    notes = (f"Projected gap: {found.text()}.", *((near,) if found.guaranteed <= 0 else ()))
    return Outcome(numbers, notes)


CLAY: tuple[Formula, ...] = (
    Formula(
        id="clay-projection", title="Valve-to-piston gap on another build, from a clay reading",
        inputs=(
            Input("clay", "thinnest clay; >2 for not touched, or touched, or torn", "mm",
                  kind="clay", instrument="clay"),
            Input("rocker-ratio", "rocker ratio when the clay was taken", ":1"),
            Input("table", "lobe lift table, rows of crank degrees and lift", kind="lift table",
                  required=False),
            Input("lobe-lift", "highest lobe lift, without a table", "mm", required=False,
                  instrument="dial_gauge", least=0),
            _bare("near-top", "highest lobe lift within 60° of top, without a table"),
            _bare("tight-lift", "lobe lift where it is tightest, if it was seen"),
            _new("new-rocker-ratio", "new rocker ratio", ":1"),
            _more("gasket", "gasket, crushed, when the clay was taken", "mm", "micrometer"),
            _new("new-gasket", "new gasket, crushed", "mm", "micrometer"),
            _more("deck", "deck when the clay was taken", "mm", "dial_gauge"),
            _new("new-deck", "new deck", "mm", "dial_gauge"),
            _more("lash", "lash when the clay was taken, 0 if taken up"),
            _new("new-lash", "new lash"),
            _bare("stroke", "stroke when the clay was taken"),
            _new("new-stroke", "new stroke"),
            _bare("rod", "rod when the clay was taken"), _new("new-rod", "new rod"),
            _more("offset", "pin offset"),
            _more("advance", "cam advance against the table, when the clay was taken", "deg"),
            _new("new-advance", "new cam advance against the table", "deg"),
            _more("stem", "angle of the valve stem to the cylinder", "deg"),
            _more("surface", "angle of the crown or pocket, 0 flat", "deg"),
        ),
        outputs=(Output("gap", "projected gap, by the lift table", "mm", 2),
                 Output("guaranteed", "guaranteed lower bound", "mm", 2, worst=True),
                 Output("optimistic", "optimistic estimate", "mm", 2),
                 Output("closest-at", "closest at, after top", "deg", 1)),
        compute=_project,
        equation="A = clay - min[(x + g1) cos f - L1 k]; gap = min[A + (x + g2) cos f - L2 k]; "
        "guaranteed without a table: clay + (g2 - g1) cos f + min dx cos f - k max dL; x piston "
        "travel, g gasket and deck, L valve lift, k = cos(stem - f)",
        source="geometry of a valve along its stem and a piston along its axis; closed form, "
        "minimum found numerically",
        covers=("engine.project_clay",), caution=GAP,
    ),
)  # fmt: skip
