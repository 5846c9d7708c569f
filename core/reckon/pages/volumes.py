"""Volumes and compression ratios."""

from __future__ import annotations

from core.engine import (
    chamber_for_ratio,
    clearance_volume,
    compression_ratio,
    disc_volume,
    head_gap,
    swept_volume,
    trapped_ratio,
    trapped_volume,
)
from core.guards import above_zero, finite
from core.reckon.cautions import FUEL, GAP
from core.reckon.formula import Formula, Input, Outcome, Output
from core.reckon.inputs import (
    BORE,
    CHAMBER,
    CLEARANCE,
    CROWN,
    DECK,
    GASKET,
    GASKET_BORE,
    OFFSET,
    ROD,
    STROKE,
)

__all__ = ["VOLUMES"]

_BOOK = "Heywood, Internal Combustion Engine Fundamentals, ch. 2 (from memory)"
_VC = (
    "clearance = chamber + gasket bore area x crushed thickness + bore area x deck + crown; the"
    " crevice above the top ring is not counted"
)
_ABOVE = (BORE, CHAMBER, GASKET, GASKET_BORE, DECK, CROWN)
_RATIO = Output("ratio", "compression ratio", ":1", 2)


def _clearance(**given: float) -> float:
    return clearance_volume(
        given["chamber"],
        given["bore"],
        given["deck"],
        given["gasket_bore"],
        given["gasket"],
        given["crown"],
    )


def _ratio(stroke: float, **given: float) -> Outcome:
    swept = swept_volume(given["bore"], stroke)
    clearance = _clearance(**given)
    numbers = {"ratio": compression_ratio(swept, clearance), "swept": swept}
    return Outcome(numbers | {"clearance": clearance})


def _chamber(wanted: float, stroke: float, **given: float) -> Outcome:
    swept, clearance = swept_volume(given["bore"], stroke), _clearance(**given)
    chamber = chamber_for_ratio(wanted, swept, clearance, given["chamber"])
    return Outcome({"chamber": chamber, "change": chamber - given["chamber"]})


def _disc(diameter: float, height: float) -> float:
    return disc_volume(above_zero("diameter", diameter, "mm"), finite("height", height))


def _head_gap(deck: float, gasket: float) -> Outcome:
    gap = head_gap(deck, gasket)
    return Outcome({"gap": gap}, ("Zero or below: piston and head meet.",) if gap <= 0 else ())


def _trapped(
    bore: float, stroke: float, rod: float, clearance: float, intake_closes: float, offset: float
) -> Outcome:
    return Outcome(
        {
            "ratio": trapped_ratio(bore, stroke, rod, clearance, intake_closes, offset),
            "trapped": trapped_volume(bore, stroke, rod, intake_closes, offset),
        },
        ("It depends wholly on the lift at which the valve was called shut.",),
    )


VOLUMES: tuple[Formula, ...] = (
    Formula(
        id="swept-volume", title="Swept volume", inputs=(BORE, STROKE),
        outputs=(Output("swept", "swept volume", "cm³", 1),), compute=swept_volume,
        equation="0.7854 x bore² x stroke", source="definition; closed form",
        covers=("engine.swept_volume",),
    ),
    Formula(
        id="clearance-volume", title="Volume left above the piston at top", inputs=_ABOVE,
        outputs=(Output("clearance", "clearance volume", "cm³", 2),), compute=_clearance,
        equation=_VC, source=_BOOK, covers=("engine.clearance_volume",),
    ),
    Formula(
        id="compression-ratio", title="Compression ratio", inputs=(STROKE, *_ABOVE),
        outputs=(_RATIO, Output("swept", "swept volume", "cm³", 1),
                 Output("clearance", "clearance volume", "cm³", 2)),
        compute=_ratio, equation=f"(swept + clearance)/clearance; {_VC}", source=_BOOK,
        covers=("engine.compression_ratio",), caution=FUEL,
    ),
    Formula(
        id="ratio-from-volumes", title="Compression ratio from two volumes",
        inputs=(Input("swept", "swept volume", "cm³"), CLEARANCE), outputs=(_RATIO,),
        compute=compression_ratio, equation="(swept + clearance)/clearance", source=_BOOK,
        covers=("engine.compression_ratio",), caution=FUEL,
    ),
    Formula(
        id="chamber-for-ratio", title="Chamber volume for a wanted compression ratio",
        inputs=(Input("wanted", "wanted compression ratio", ":1"), STROKE, *_ABOVE),
        outputs=(Output("chamber", "chamber volume", "cm³", 2),
                 Output("change", "change of the chamber", "cm³", 2)),
        compute=_chamber, equation="chamber + swept/(wanted - 1) - clearance",
        source="definition of the ratio, solved for the chamber; closed form",
        covers=("engine.chamber_for_ratio",), caution=FUEL,
    ),
    Formula(
        id="disc-volume", title="Volume of a disc, such as a gasket's hole or a cut of the mill",
        inputs=(Input("diameter", "diameter", "mm", instrument="calliper"),
                Input("height", "height", "mm", instrument="micrometer")),
        outputs=(Output("volume", "volume", "cm³", 3),), compute=_disc,
        equation="0.7854 x diameter² x height", source="closed form",
        covers=("engine.disc_volume",),
    ),
    Formula(
        id="head-gap", title="Gap between piston and head at top", inputs=(DECK, GASKET),
        outputs=(Output("gap", "piston-to-head gap", "mm", 2),), compute=_head_gap,
        equation="deck + crushed gasket thickness", source="closed form",
        covers=("engine.head_gap",), caution=GAP,
    ),
    Formula(
        id="trapped-ratio", title="Compression ratio from intake closing on (often called dynamic)",
        inputs=(BORE, STROKE, ROD, CLEARANCE,
                Input("intake-closes", "intake closes after bottom", "deg",
                      instrument="degree_wheel"), OFFSET),
        outputs=(Output("ratio", "trapped ratio", ":1", 2),
                 Output("trapped", "trapped volume", "cm³", 1)),
        compute=_trapped, equation="(bore area x piston travel at intake closing + clearance)/"
        "clearance", source="exact slider crank; closed form",
        covers=("engine.trapped_ratio", "engine.trapped_volume"), caution=FUEL,
    ),
)  # fmt: skip
