"""Many decimal numbers in a block of bytes at once: fields by where they start and end."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Bytes = NDArray[np.uint8]
    Places = NDArray[np.int64]
    Floats = NDArray[np.float64]
    Marks = NDArray[np.bool_]

__all__ = ["decimals", "letters"]

_LONGEST: Final = 15  # characters: as many digits as a float keeps apart
_POINT, _MINUS, _ZERO = 46, 45, 48


def decimals(block: Bytes, starts: Places, ends: Places) -> tuple[Floats, Marks]:
    """Return the numbers that stand between starts and ends.

    Args:
        block: the bytes.
        starts: where each field begins.
        ends: where it ends, not counted in.

    Returns:
        The numbers, NaN for an empty field; and whether each field is empty or a plain decimal
        number of at most 15 characters, with or without a minus.
    """
    import numpy as np  # lazy: 0.1 s

    length = ends - starts
    numbers = np.full(len(starts), np.nan)
    good = length == 0
    for size in np.flatnonzero(np.bincount(np.clip(length, 0, _LONGEST + 1))).tolist():
        if 0 < size <= _LONGEST:
            rows = np.flatnonzero(length == size)
            numbers[rows], good[rows] = _of_length(block, starts[rows], size)
    return numbers, good


def _of_length(block: Bytes, starts: Places, size: int) -> tuple[Floats, Marks]:
    """The same for fields of one length; as a rule all have their point in the same place."""
    import numpy as np  # lazy: 0.1 s

    chars = np.lib.stride_tricks.sliding_window_view(block, size)[starts]
    place = chars[0].tobytes().find(b".")
    is_point = chars == _POINT
    if is_point[:, place].all() if place >= 0 else not is_point.any():
        return _of_digits(chars, place)
    point = np.where(is_point.any(axis=1), is_point.argmax(axis=1), -1)
    numbers = np.full(len(starts), np.nan)
    good = np.zeros(len(starts), bool)
    for place in (np.flatnonzero(np.bincount(point + 1)) - 1).tolist():
        rows = np.flatnonzero(point == place)
        numbers[rows], good[rows] = _of_digits(chars[rows], place)
    return numbers, good


def _of_digits(chars: Bytes, place: int) -> tuple[Floats, Marks]:
    """The numbers of rows of digits with a point at one place (-1: none); a minus may lead."""
    import numpy as np  # lazy: 0.1 s

    size = chars.shape[1]
    values = chars - np.uint8(_ZERO)  # what is below "0" comes out far above 9
    negative = chars[:, 0] == _MINUS
    places = [column for column in range(size) if column != place]
    if len(places) > 1 and negative.any():
        values[negative, 0] = 0
    power = np.zeros(size)
    power[places] = np.power(10.0, np.arange(len(places) - 1, -1, -1))
    if place >= 0:
        values[:, place] = 0
    good = np.full(len(chars), bool(places))
    if (values > 9).any():
        good &= (values <= 9).all(axis=1)
    numbers = values @ power / 10.0 ** (size - place - 1 if place >= 0 else 0)  # exact over exact
    return np.where(good, np.where(negative, -numbers, numbers), np.nan), good


def letters(block: Bytes, starts: Places, ends: Places) -> Bytes:
    """Return the one letter of each field; 0 where the field is empty or longer."""
    import numpy as np  # lazy: 0.1 s

    single = ends - starts == 1
    return np.where(single, block[np.minimum(starts, len(block) - 1)], 0).astype(np.uint8)
