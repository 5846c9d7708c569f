"""A block of lines as NMEA 0183 sentences, all at once: frames, checksums, kinds, fields."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from core.trace.formats.decimals import decimals, letters
from core.trace.formats.line_ends import lines_in

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Bytes = NDArray[np.uint8]
    Places = NDArray[np.int64]
    Floats = NDArray[np.float64]
    Marks = NDArray[np.bool_]

__all__ = ["Fields", "Frames", "frames"]

_DOLLAR, _STAR, _COMMA = 36, 42, 44
_SHORTEST: Final = 9  # ``$GPXXX*HH``
_MOST_FIELDS: Final = 12  # fields that are looked at


@dataclass(frozen=True, eq=False)
class Frames:
    """The lines of a block that are not empty; all arrays are equally long."""

    block: Bytes
    number: Places  # of the line in the file
    starts: Places  # where the line begins
    ends: Places  # where it ends, not counted in
    framed: Marks  # from ``$`` to ``*`` and two characters
    said: Places  # checksum as written; 256 or more: not two hex digits
    found: Places  # checksum as reckoned, where framed
    kind: Places  # the three letters of the kind as one number; 0 where there is none
    commas: Places  # where the commas of the block are

    @property
    def sound(self) -> Marks:
        """Whether the line is a sentence with the right checksum."""
        sound: Marks = self.framed & (self.said == self.found)
        return sound

    def text(self, index: int) -> str:
        """Return one line."""
        line = self.block[self.starts[index] : self.ends[index]].tobytes()
        return line.decode("ascii", "replace")

    def fields(self, rows: Places) -> Fields:
        """Return the fields of some of the lines, which must be sound."""
        import numpy as np  # lazy: 0.1 s

        first = np.searchsorted(self.commas, self.starts[rows])
        stars = self.ends[rows] - 3
        count = np.searchsorted(self.commas, stars) - first
        padded = np.concatenate((self.commas, np.zeros(_MOST_FIELDS + 1, np.int64)))
        places = np.lib.stride_tricks.sliding_window_view(padded, _MOST_FIELDS + 1)[first]
        return Fields(self.block, np.ascontiguousarray(places.T), count, stars)


@dataclass(frozen=True, eq=False)
class Fields:
    """The fields of some sentences; the first behind the kind is field 1."""

    block: Bytes
    commas: Places  # by field: where the comma before it is, in each sentence
    count: Places  # fields behind the kind
    stars: Places  # where the sentence's ``*`` is

    def _ends_of(self, field: int) -> tuple[Places, Places]:
        import numpy as np  # lazy: 0.1 s

        starts = np.where(field <= self.count, self.commas[field - 1] + 1, self.stars)
        ends = np.where(field < self.count, self.commas[field], self.stars)
        return starts, ends

    def numbers(self, field: int) -> tuple[Floats, Marks]:
        """Return one field as numbers, and whether it is one or empty; see `decimals`."""
        return decimals(self.block, *self._ends_of(field))

    def letters(self, field: int) -> Bytes:
        """Return one field as letters, 0 where it is empty or longer."""
        return letters(self.block, *self._ends_of(field))


def frames(data: bytes, first_line: int) -> Frames:
    """Return the lines of a block as frames.

    Args:
        data: whole lines, ended with ``\\n``, ``\\r`` or both, also mixed.
        first_line: number of the first one.

    Source: NMEA 0183: exclusive or of all characters between ``$`` and ``*`` (from memory).
    """
    import numpy as np  # lazy: 0.1 s

    block = np.frombuffer(data, np.uint8)
    number, starts, ends = lines_in(block, first_line)
    long_enough = ends - starts >= _SHORTEST
    stars = np.maximum(ends - 3, 0)
    framed = long_enough & (block[starts] == _DOLLAR) & (block[stars] == _STAR)
    found = np.zeros(len(starts), np.int64)
    found[framed] = _sums(block, starts[framed] + 1, stars[framed])
    hexes = _hex_digits()
    said = hexes[block[np.maximum(ends - 2, 0)]] * 16 + hexes[block[ends - 1]]
    a, b, c, comma = (
        block[np.minimum(starts + place, len(block) - 1)].astype(np.int64) for place in (3, 4, 5, 6)
    )
    kind = np.where(framed & (comma == _COMMA), a << 16 | b << 8 | c, 0)
    commas = np.flatnonzero(block == _COMMA)
    return Frames(block, number, starts, ends, framed, said, found, kind, commas)


def _sums(block: Bytes, starts: Places, ends: Places) -> Places:
    """Exclusive or of the bytes from each start to each end."""
    import numpy as np  # lazy: 0.1 s

    if len(starts) == 0:
        return np.zeros(0, np.int64)
    places = np.stack((starts, ends), axis=1).ravel()
    sums: Places = np.bitwise_xor.reduceat(block, places)[::2].astype(np.int64)
    return sums


def _hex_digits() -> Places:
    """For each byte the value of the hex digit it is, or 256."""
    import numpy as np  # lazy: 0.1 s

    values = np.full(256, 256, np.int64)
    for value, digit in enumerate("0123456789ABCDEF"):
        values[[ord(digit), ord(digit.lower())]] = value
    return values
