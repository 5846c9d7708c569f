"""The rows of the setup sheet, one file per corner of the machine."""

from core.setup.tables.breathing import BREATHING
from core.setup.tables.chassis import CHASSIS
from core.setup.tables.drive import DRIVE
from core.setup.tables.engine import ENGINE
from core.setup.tables.rider import RIDER
from core.setup.tables.spinning import SPINNING
from core.setup.tables.valves import VALVES

__all__ = ["ALL_ROWS"]

ALL_ROWS = (*ENGINE, *VALVES, *SPINNING, *BREATHING, *DRIVE, *CHASSIS, *RIDER)
"""Every slot, in the order of the sheet."""
