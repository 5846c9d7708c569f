"""Slots of the bottom end and the head: block, crank, rod, piston, rings, head, gasket.

Ranges: common practice, no source.
"""

from core.setup.tables.rows import Group

__all__ = ["ENGINE"]

_engine = Group("engine")
_head = Group("head")

_CRANK_TRAIN = ("crank", "stroke", "rod", "rod_length", "piston", "piston_pin_height")
_HEIGHTS = ("engine_block", "block_decked", *_CRANK_TRAIN)

ENGINE = (
    _engine.part("engine_block"),
    _engine.measured("block_hours", "engine hours", "h", (0, 40), (0, 2000), 1, condition=True),
    _engine.setting("block_decked", "taken off the block", "mm", (0, 0.5), (0, 3), 2,
                    follows=("engine_block",), instrument="dial_gauge"),
    _engine.setting("bore", "bore", "mm", (68, 73), (60, 80), 2,
                    follows=("engine_block",), instrument="bore_gauge"),
    _engine.measured("bore_wear", "bore wear or taper", "mm", (0, 0.05), (0, 0.5), 3,
                     follows=("engine_block", "bore"), condition=True, instrument="bore_gauge"),
    _engine.part("crank"),
    _engine.fact("stroke", "crank", "stroke", "mm", (54, 60), (40, 75), 2, instrument="dial_gauge"),
    _engine.measured("crank_end_play", "crank end play", "mm", (0.1, 0.5), (0, 2), 2,
                     follows=("crank", "side_cover", "engine_bearings"), instrument="dial_gauge"),
    _engine.part("rod"),
    _engine.text("rod_material", of="rod"),
    _engine.fact("rod_length", "rod", "rod length, centre to centre", "mm",
                 (80, 100), (60, 130), 2),
    _engine.measured("big_end_clearance", "big-end clearance", "mm", (0.03, 0.08), (0, 0.3), 3,
                     follows=("rod", "crank"), instrument="gauging_strip"),
    _engine.limit("rod_rpm_limit", "rod", "rod rpm limit"),
    _engine.part("piston"),
    _engine.fact("piston_pin_height", "piston", "piston pin height", "mm", (20, 40), (10, 60), 2),
    _engine.measured("crown_volume", "crown volume (dish +, dome -)", "cm³", (-3, 5), (-15, 15), 1,
                     follows=("piston",), instrument="burette"),
    _engine.measured("piston_clearance", "piston wall clearance", "mm", (0.03, 0.09), (0, 0.5), 3,
                     follows=("piston", "engine_block", "bore"), instrument="bore_gauge"),
    _engine.part("rings", follows=("piston",)),
    _engine.measured("ring_gap_top", "top ring end gap", "mm", (0.15, 0.40), (0.05, 1.5), 2,
                     follows=("rings", "engine_block", "bore"), instrument="ring_feeler"),
    _engine.measured("ring_gap_second", "second ring end gap", "mm", (0.15, 0.40), (0.05, 1.5), 2,
                     follows=("rings", "engine_block", "bore"), instrument="ring_feeler"),
    _engine.measured("deck", "deck (piston below +)", "mm", (-0.5, 0.6), (-3, 5), 2,
                     follows=_HEIGHTS, instrument="dial_gauge"),
    _engine.part("side_cover"),
    _engine.part("engine_bearings"),
    _engine.part("engine_seals"),
    _head.part("head"),
    _head.setting("head_milled", "milled off the head", "mm", (0, 1.5), (0, 4), 2,
                  follows=("head",), instrument="dial_gauge"),
    _head.measured("chamber_volume", "chamber volume", "cm³", (18, 30), (8, 45), 1,
                   follows=("head", "head_milled", "valves_intake", "valves_exhaust"),
                   instrument="burette"),
    _head.part("head_gasket"),
    _head.fact("gasket_thickness_new", "head_gasket", "head gasket thickness, new", "mm",
               (0.25, 1.6), (0, 3), 2),
    _head.setting("gasket_thickness", "head gasket thickness, crushed", "mm", (0.25, 1.6), (0, 3),
                  2, follows=("head_gasket",), usual_state="measured", instrument="micrometer"),
    _head.fact("gasket_bore", "head_gasket", "head gasket bore", "mm", (69, 76), (60, 90), 1,
               instrument="calliper"),
    _head.measured("gasket_uses", "head gasket times used", "times", (1, 1), (0, 10), 0,
                   follows=("head_gasket",), condition=True, whole=True),
    _head.measured("piston_to_head_gap", "piston-to-head gap, measured", "mm", (0.8, 1.8),
                   (0.2, 6), 2, follows=(*_HEIGHTS, "head_gasket", "gasket_thickness"),
                   instrument="light_springs"),
)  # fmt: skip
