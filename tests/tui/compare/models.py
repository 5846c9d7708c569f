"""Pictures of any kind for property tests, and small ones with known numbers."""

from __future__ import annotations

from hypothesis import strategies as st

from core.report.pictures import Bar, Dot, Mark, Picture, PictureRow, Role

__all__ = ["difference_pictures", "dot", "one_row", "pictures"]

LABELS = st.sampled_from(["W", "E", "A1 W", "out", "S05:A", "", "表示", "x" * 30, "[/] \x1b[31m"])
MARKS: st.SearchStrategy[Mark] = st.sampled_from(["counts", "counts", "struck", "odd"])


def dot(value: float, mark: Mark = "counts", n: int = 1) -> Dot:
    """One attempt."""
    return Dot(value, mark, (n,))


def one_row(*dots: Dot, bar: Bar | None = None, said: str = "") -> Picture:
    """A picture of one row, without anything beside the axis."""
    return Picture((PictureRow("", "way", dots=dots, bar=bar, said=said),), "s", 2)


def _values(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high).map(lambda value: round(value, 2))


@st.composite
def bars(draw: st.DrawFn, low: float = 6.0, high: float = 9.0) -> Bar:
    """A mean, with a range or without one."""
    middle = draw(_values(low, high))
    half = draw(st.one_of(st.none(), st.floats(0.0, 2.0)))
    return Bar(middle, None, None) if half is None else Bar(middle, middle - half, middle + half)


@st.composite
def pictures(draw: st.DrawFn) -> Picture:
    """Attempts of up to three blocks, with struck ones that may be far out."""
    rows: list[PictureRow] = []
    for block in draw(st.sampled_from([("",), ("A1", "B", "A2"), ("A", "B")])):
        for _ in range(draw(st.integers(0, 3))):
            marks = draw(st.lists(MARKS, max_size=6))
            far = 20.0 if draw(st.booleans()) else 9.0
            dots = tuple(
                dot(draw(_values(6.0, far if mark == "struck" else 9.0)), mark) for mark in marks
            )
            rows.append(PictureRow(draw(LABELS), "way", "×4", dots, said="7.64", block=block))
        if draw(st.booleans()):
            bar = draw(bars())
            rows.append(PictureRow(block or "mean", "main", "4 pairs", (), bar, "7.39 ±0.08"))
    return Picture(tuple(rows), draw(st.sampled_from(["s", "km/h", ""])), draw(st.integers(0, 2)))


@st.composite
def difference_pictures(draw: st.DrawFn) -> Picture:
    """A difference and up to two other looks at it."""
    kinds: tuple[tuple[str, Role], ...] = (("difference", "main"), ("without odd", "beside"))
    rows = tuple(
        PictureRow(name, role, bar=draw(bars(-2.0, 2.0)), said="0.08 s slower")
        for name, role in kinds[: draw(st.integers(0, 2))]
    )
    gain = draw(st.one_of(st.none(), st.floats(0.01, 1.0)))
    return Picture(rows, "s", 2, is_difference=True, gain=gain, ends=("quicker", "slower"))
