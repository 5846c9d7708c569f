"""Slots of the drive: clutch, sprockets, jackshaft, chains, rolling circumference.

Ranges: common practice, no source. Pitches: the chain sizes that such machines are built with.
"""

from core.setup.tables.rows import Group

__all__ = ["DRIVE"]

_drive = Group("drive")

_SPROCKETS = (
    "engine_sprocket", "engine_sprocket_teeth", "jackshaft_in", "jackshaft_in_teeth",
    "jackshaft_out", "jackshaft_out_teeth", "final_sprocket", "final_sprocket_teeth",
)  # fmt: skip
_PITCHES = (6.35, 7.774, 9.525, 12.70, 15.875)
_ODD = "An odd number of links needs a half-link: sure?"
_COUNTED = {"whole": True, "usual_state": "measured"}

DRIVE = (
    _drive.part("clutch"),
    _drive.choice("clutch_kind", "kind of clutch", ("drum clutch", "disc clutch", "belt variator"),
                  of="clutch"),
    _drive.part("clutch_springs", follows=("clutch",)),
    _drive.setting("engagement_rpm", "clutch engagement", "rpm", (1800, 3600), (1000, 6500), 0,
                   follows=("clutch", "clutch_springs"), instrument="tachometer",
                   usual_state="measured"),
    _drive.measured("clutch_wear", "clutch shoe or disc thickness", "mm", (2, 6), (0, 20), 1,
                    follows=("clutch",), condition=True),
    _drive.choice("clutch_lubed", "clutch bearing lubed", ("yes", "no"), follows=("clutch",),
                  condition=True),
    _drive.limit("clutch_rpm_limit", "clutch", "clutch rpm limit"),
    _drive.part("engine_sprocket"),
    _drive.fact("engine_sprocket_teeth", "engine_sprocket", "engine sprocket teeth", "teeth",
                (9, 14), (6, 25), 0, **_COUNTED),
    _drive.part("jackshaft"),
    _drive.part("jackshaft_in", "jackshaft sprocket in"),
    _drive.fact("jackshaft_in_teeth", "jackshaft_in", "jackshaft teeth in", "teeth",
                (9, 30), (6, 60), 0, **_COUNTED),
    _drive.part("jackshaft_out", "jackshaft sprocket out"),
    _drive.fact("jackshaft_out_teeth", "jackshaft_out", "jackshaft teeth out", "teeth",
                (9, 30), (6, 60), 0, **_COUNTED),
    _drive.part("final_sprocket"),
    _drive.fact("final_sprocket_teeth", "final_sprocket", "final sprocket teeth", "teeth",
                (28, 80), (10, 120), 0, **_COUNTED),
    _drive.part("chain", follows=_SPROCKETS),
    _drive.fact("chain_pitch", "chain", "chain pitch", "mm", None, (6.35, 15.875), None,
                steps=_PITCHES),
    _drive.fact("chain_links", "chain", "chain links", "links", (60, 130), (20, 260), 0,
                follows=_SPROCKETS, at_odd=_ODD, **_COUNTED),
    _drive.measured("chain_stretch", "chain stretch", "%", (0, 1.5), (-0.5, 6), 1,
                    follows=("chain",), condition=True),
    _drive.setting("chain_slack", "chain slack", "mm", (6, 15), (0, 60), 0,
                   follows=("chain", "chain_links", *_SPROCKETS), condition=True),
    _drive.text("chain_lube", follows=("chain",), condition=True),
    _drive.part("second_chain", follows=_SPROCKETS),
    _drive.fact("second_chain_pitch", "second_chain", "second chain pitch", "mm", None,
                (6.35, 15.875), None, steps=_PITCHES),
    _drive.fact("second_chain_links", "second_chain", "second chain links", "links",
                (60, 130), (20, 260), 0, follows=_SPROCKETS, at_odd=_ODD, **_COUNTED),
    _drive.measured("second_chain_stretch", "second chain stretch", "%", (0, 1.5), (-0.5, 6), 1,
                    follows=("second_chain",), condition=True),
    _drive.setting("second_chain_slack", "second chain slack", "mm", (6, 15), (0, 60), 0,
                   follows=("second_chain", "second_chain_links", *_SPROCKETS), condition=True),
    _drive.measured("circumference", "driven rolling circumference, with rider", "m",
                    (0.80, 1.25), (0.40, 2.50), 3,
                    follows=("tyre_rear", "tyre_size_rear", "wheel_rear", "tyre_pressure_rear"),
                    instrument="tape"),
)  # fmt: skip
