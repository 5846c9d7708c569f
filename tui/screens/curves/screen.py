"""The curves screen: lift, piston and gap over the crank angle, read off degree by degree."""

from __future__ import annotations

from typing import Any, ClassVar

from textual.app import App, ComposeResult
from textual.binding import BindingType
from textual.widgets import Static

from core.bench import Side
from core.errors import UnknownInputError
from core.reckon import GapCurves, gap_curves
from core.setup import Sheet
from tui.commands import bindings_for
from tui.screens.base import HouseScreen
from tui.subject import Subject
from tui.text import safe_lines
from tui.widgets.curve_drawing import Curve, CurvePlot
from tui.widgets.curve_view import CurveView

__all__ = ["CurvesScreen", "show_curves"]

_LEAST_HIGH = 6.0  # mm of the upright axis
_HELP = (
    "A curve needs a lift table of this lobe and a clay reading, both taken at the bench: b in the"
    " log list, then the lines “lift table” and “valve-to-piston gap”."
)
_CAUTION = "Geometry only: rod stretch, float, flex and carbon take from it. Measure it."


class CurvesScreen(HouseScreen[None]):
    """The curves of one valve on one sheet, with the gap as it is beside a plan.

    Args:
        subject: the machine or loose engine as it stands.
        sheet: the sheet that is drawn.
        label: what the sheet is: ``after``; empty: as it stands.
    """

    SCENE = "curves"
    DEFAULT_CSS = "#curve-said { height: auto; padding: 0 1; max-width: 100; }"
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("curves")

    def __init__(self, subject: Subject, sheet: Sheet, label: str = "") -> None:
        super().__init__()
        self._subject = subject
        self._sheet = sheet
        self._label = label
        self._side: Side = "intake"
        self._curves: GapCurves | None = None
        self._before: GapCurves | None = None
        self._at = 0  # index of the angle that is read off

    def compose_body(self) -> ComposeResult:
        """Yield what is read off, and the curves."""
        yield Static(id="curve-said")
        yield CurveView()

    def on_mount(self) -> None:
        """Draw the intake side."""
        self._draw()

    def _found(self, sheet: Sheet) -> GapCurves:
        past = self._subject.past
        clay = past.clay(self._subject.sheet)
        if clay is None:
            raise UnknownInputError("Unknown: no clay reading is on file.", ("clay",))
        tables, halves = past.tables(self._subject.sheet), past.halves(sheet)
        return gap_curves(self._side, sheet, clay, tables, halves=halves)

    def _draw(self) -> None:
        """Work the curves of this side out."""
        self.entitle(f"Curves  {self._side}", f"{self._subject.name}, {self._label or 'as it is'}")
        try:
            self._curves = self._found(self._sheet)
        except UnknownInputError as error:
            self._curves = None
            self.query_one("#curve-said", Static).update(safe_lines(f"{error.message}\n\n{_HELP}"))
            self.query_one(CurveView).show(None)
            return
        self._before = None if self._sheet == self._subject.sheet else self._of_now()
        self.action_closest()

    def _of_now(self) -> GapCurves | None:
        try:
            return self._found(self._subject.sheet)
        except UnknownInputError:  # the plan fills in what is not known now
            return None

    def _show(self) -> None:
        found = self._curves
        if found is None:
            return
        angle = found.angles[self._at]
        self.query_one(CurveView).show(_plot(found, self._before, angle))
        lines = (_read_off(found, self._before, self._at), _CAUTION)
        self.query_one("#curve-said", Static).update(safe_lines("\n".join(lines)))

    def _go(self, steps: int) -> None:
        if self._curves is not None:
            self._at = max(0, min(self._at + steps, len(self._curves.angles) - 1))
            self._show()

    def action_right(self) -> None:
        """Read off one degree later."""
        self._go(1)

    def action_left(self) -> None:
        """Read off one degree earlier."""
        self._go(-1)

    def action_closest(self) -> None:
        """Read off where they come closest."""
        if self._curves is not None:
            self._at = self._curves.angles.index(self._curves.closest[0])
            self._show()

    def action_side(self) -> None:
        """Draw the other valve."""
        self._side = "exhaust" if self._side == "intake" else "intake"
        self._draw()

    def action_back(self) -> None:
        """Go back to the screen below."""
        self.dismiss(None)


def _read_off(found: GapCurves, before: GapCurves | None, at: int) -> str:
    """Return the values at one angle, and the closest place."""
    where, closest = found.closest
    was = "" if before is None else f", before {before.gap[at]:.2f}"
    return (
        f"At {found.angles[at]:+.0f}°: lift {found.lift[at]:.2f}, piston {found.piston[at]:.2f}"
        f" below its top, gap {found.gap[at]:.2f} mm{was}.\n"
        f"Closest {closest:.2f} mm at {where:+.0f}° from the top between exhaust and intake."
    )


def _plot(found: GapCurves, before: GapCurves | None, angle: float) -> CurvePlot:
    high = max(_LEAST_HIGH, 1.15 * max(found.lift), 2.0 * max(0.0, found.closest[1]))
    curves = [
        Curve("l", "valve lift", found.angles, found.lift, "dotted"),
        Curve("p", "piston below its top", found.angles, found.piston, "dashed"),
        *([Curve("b", "gap before", before.angles, before.gap, "dotted")] if before else []),
        Curve("g", "gap", found.angles, found.gap, "solid", "strong"),
    ]
    low = min(0.0, found.closest[1])
    return CurvePlot(tuple(curves), low, high, "mm", "° after top", angle)


async def show_curves(app: App[Any], subject: Subject, sheet: Sheet, label: str = "") -> None:
    """Show the curves of a sheet and wait until they are left.

    Args:
        app: the app.
        subject: the machine or loose engine as it stands.
        sheet: the sheet that is drawn.
        label: what the sheet is; empty: as it stands.
    """
    await app.push_screen_wait(CurvesScreen(subject, sheet, label))
