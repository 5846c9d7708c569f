"""Where the piston is, how fast it goes, and what that does to rod and flywheel."""

from __future__ import annotations

from core.engine import (
    dead_centres,
    deck_after_stroke,
    inertia_force,
    mean_piston_speed,
    peak_piston_speed,
    piston_acceleration,
    piston_speed,
    piston_travel,
    relative_rod_load,
    rim_speed,
    ring_stress,
    travel_from,
)
from core.reckon.cautions import GAP, SPINNING
from core.reckon.formula import COMMON, Formula, Input, Outcome, Output
from core.reckon.inputs import DECK, OFFSET, ROD, RPM, STROKE

__all__ = ["CRANK"]

_EXACT = "exact slider crank; closed form"
_ANGLE = Input("angle", "crank angle after the throw points up", "deg")
_WHEEL = Input("angle", "crank angle after top", "deg", instrument="degree_wheel")
_FROM = Input(
    "counted-from", "angle counted from", kind="choice", required=False, default="top",
    choices=("top", "throw"),
)  # fmt: skip


def _travel(angle: float, stroke: float, rod: float, offset: float, counted_from: str) -> float:
    reckoned = travel_from if counted_from == "top" else piston_travel
    return reckoned(angle, stroke, rod, offset)


def _dead_centres(stroke: float, rod: float, offset: float) -> Outcome:
    turns = dead_centres(stroke, rod, offset)
    return Outcome({"top": turns.top, "bottom": turns.bottom, "stroke": turns.stroke})


def _rim(diameter: float, rpm: float, density: float) -> Outcome:
    speed = rim_speed(diameter, rpm)
    note = "A real wheel with holes, fins and magnets is stressed higher than a plain ring."
    return Outcome({"speed": speed, "stress": ring_stress(speed, density)}, (note,))


def _deck(
    deck: float, stroke: float, new_stroke: float, rod_change: float, pin_rise: float
) -> Outcome:
    after = deck_after_stroke(deck, stroke, new_stroke, rod_change, pin_rise)
    return Outcome({"deck": after, "rise": deck - after})


CRANK: tuple[Formula, ...] = (
    Formula(
        id="piston-travel", title="How far the piston is below top at a crank angle",
        inputs=(_WHEEL, STROKE, ROD, OFFSET, _FROM),
        outputs=(Output("travel", "piston travel", "mm", 3),), compute=_travel,
        equation="sqrt((l+r)² - d²) - [r cos a + sqrt(l² - (r sin a - d)²)], r half the stroke, l "
        "rod, d offset; counted from top: a plus the angle of true top",
        source=_EXACT, covers=("engine.piston_travel", "engine.travel_from"),
    ),
    Formula(
        id="dead-centres", title="Top, bottom and true stroke with a pin offset",
        inputs=(STROKE, ROD, OFFSET),
        outputs=(Output("top", "top, after the throw points up", "deg", 3),
                 Output("bottom", "bottom, the same", "deg", 3),
                 Output("stroke", "true stroke", "mm", 4)),
        compute=_dead_centres,
        equation="top asin(d/(l+r)); bottom 180° + asin(d/(l-r)); stroke sqrt((l+r)² - d²) - "
        "sqrt((l-r)² - d²)",
        source=_EXACT, covers=("engine.dead_centres",),
    ),
    Formula(
        id="deck-after-stroke", title="Deck after another stroke, rod or pin height",
        inputs=(DECK, STROKE, Input("new-stroke", "new stroke", "mm", instrument="dial_gauge"),
                Input("rod-change", "new rod less old", "mm", required=False, default="0"),
                Input("pin-rise", "new pin-to-crown less old", "mm", required=False,
                      default="0")),
        outputs=(Output("deck", "deck", "mm", 2), Output("rise", "piston stands higher by", "mm")),
        compute=_deck,
        equation="deck - (new stroke - stroke)/2 - rod change - pin rise", source="closed form",
        covers=("engine.deck_after_stroke",), caution=GAP,
    ),
    Formula(
        id="mean-piston-speed", title="Mean piston speed", inputs=(STROKE, RPM),
        outputs=(Output("speed", "mean piston speed", "m/s", 1),), compute=mean_piston_speed,
        equation="2 x stroke x rpm / 60", source="definition; closed form",
        covers=("engine.mean_piston_speed",), caution=SPINNING,
    ),
    Formula(
        id="peak-piston-speed", title="Highest piston speed on the way down",
        inputs=(STROKE, ROD, RPM, OFFSET),
        outputs=(Output("speed", "peak piston speed", "m/s", 2),), compute=peak_piston_speed,
        equation="highest of w [r sin a + q r cos a/sqrt(l² - q²)], q = r sin a - d",
        source="exact slider crank; maximum found numerically",
        covers=("engine.peak_piston_speed",), caution=SPINNING,
    ),
    Formula(
        id="piston-speed", title="Piston speed at a crank angle, downward +",
        inputs=(_ANGLE, STROKE, ROD, RPM, OFFSET),
        outputs=(Output("speed", "piston speed", "m/s", 2),), compute=piston_speed,
        equation="w [r sin a + q r cos a/sqrt(l² - q²)], q = r sin a - d",
        source="first derivative of the exact slider crank; closed form",
        covers=("engine.piston_speed",),
    ),
    Formula(
        id="piston-acceleration", title="Piston acceleration at a crank angle, downward +",
        inputs=(_ANGLE, STROKE, ROD, RPM, OFFSET),
        outputs=(Output("acceleration", "piston acceleration", "m/s²", 0),),
        compute=piston_acceleration,
        equation="second derivative of the exact travel; at top without offset r w² (1 + r/l)",
        source="second derivative of the exact slider crank; closed form",
        covers=("engine.piston_acceleration",), caution=SPINNING,
    ),
    Formula(
        id="rod-pull", title="Pull on the rod at the top between exhaust and intake",
        inputs=(Input("reciprocating-mass", "piston, pin, rings and upper rod", "kg", to="mass"),
                STROKE, ROD, RPM),
        outputs=(Output("force", "pull on the rod", "N", 0),), compute=inertia_force,
        equation="m r w² (1 + r/l); gas force left out, near nothing at that top",
        source="closed form", covers=("engine.inertia_force",), caution=SPINNING,
    ),
    Formula(
        id="rod-load", title="Load of the moving parts against the governed speed",
        inputs=(RPM, Input("reference-rpm", "reference speed", "rpm", required=False,
                           default="3600")),
        outputs=(Output("times", "times the load at the reference", "", 2),),
        compute=relative_rod_load, equation="(rpm / reference)²",
        source=f"inertia force goes with speed squared; 3,600 as the governed speed: {COMMON}",
        covers=("engine.relative_rod_load",), caution=SPINNING,
    ),
    Formula(
        id="rim-speed", title="Rim speed of a flywheel, and the least stress in it",
        inputs=(Input("diameter", "rim diameter", "mm", instrument="calliper"), RPM,
                Input("density", "density of the rim", "kg/m³", required=False, default="7200")),
        outputs=(Output("speed", "rim speed", "m/s", 1),
                 Output("stress", "hoop stress of a thin ring", "MPa", 1)),
        compute=_rim, equation="speed 3.1416 x diameter x rpm / 60; stress density x speed²",
        source="thin rotating ring, any text on strength of materials; 7,200 kg/m³ for cast iron: "
        "from memory",
        covers=("engine.rim_speed", "engine.ring_stress"), caution=SPINNING,
    ),
)  # fmt: skip
