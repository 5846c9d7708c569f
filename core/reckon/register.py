"""The register of formulas: every one by its id, what is left out of it and why."""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from types import MappingProxyType

from core.errors import NotFoundError
from core.reckon.formula import Formula
from core.reckon.pages.air import AIR
from core.reckon.pages.clay import CLAY
from core.reckon.pages.crank import CRANK
from core.reckon.pages.gearing import GEARING
from core.reckon.pages.road import ROAD
from core.reckon.pages.runs import RUNS
from core.reckon.pages.valves import VALVES
from core.reckon.pages.volumes import VOLUMES
from core.setup.typed import cut_short

__all__ = ["FORMULAS", "LEFT_OUT", "PAGES", "find_formula"]

PAGES: Mapping[str, tuple[Formula, ...]] = MappingProxyType(
    {
        "Volumes and ratio": VOLUMES,
        "Crank, rod and flywheel": CRANK,
        "Valve train": VALVES,
        "Clay": CLAY,
        "Gearing and place": GEARING,
        "Road load": ROAD,
        "Runs": RUNS,
        "Air": AIR,
    }
)
"""The formulas under the headings they are listed by."""

FORMULAS: Mapping[str, Formula] = MappingProxyType(
    {one.id: one for page in PAGES.values() for one in page}
)
"""Every formula by id, in the order of the pages."""

_READS = "it reads or looks something up; it works out no number"

LEFT_OUT: Mapping[str, str] = MappingProxyType(
    {
        "engine.find_instrument": _READS,
        "engine.read_lift_rows": _READS,
        "engine.reading_range": "it gives every reading here its usual doubt",
        "engine.gap_curve": "a curve for a picture, drawn from the same table as clay-projection",
        "drive.fit_efficiency": "it fits a whole list of road tests, to check plausible-time",
    }
)
"""Public functions of air, engine and drive that are no row of the register, with the reason."""


def find_formula(name: str) -> Formula:
    """Return the formula of this id; letter case, blanks and underscores do not matter.

    Raises:
        NotFoundError: there is none; the sentence names the nearest.

    >>> find_formula("Compression ratio").id
    'compression-ratio'
    """
    sought = "-".join(name.strip().casefold().replace("_", " ").replace("-", " ").split())
    found = FORMULAS.get(sought)
    if found is not None:
        return found
    holding = [one for one in FORMULAS if sought and sought in one]
    near = holding or difflib.get_close_matches(sought, FORMULAS, n=4, cutoff=0.5)
    also = f"; the nearest are {', '.join(near[:4])}" if near else ""
    raise NotFoundError(
        f"No formula is called “{cut_short(name)}”{also}.", "backtoback reckon lists them all."
    )
