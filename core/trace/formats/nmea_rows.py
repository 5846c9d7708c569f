"""NMEA 0183 recordings (RMC, GGA, VTG) to rows: whole blocks at once, odd lines one by one."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Final

from core.errors import InputError
from core.trace.formats.blocks import FileBlocks
from core.trace.formats.fix_table import FixTable, joined
from core.trace.formats.fixes import KINDS
from core.trace.formats.odd_sentences import read_odd
from core.trace.formats.rejects import NO_FIX, Rejects
from core.trace.formats.rows import RawRows, check_count, many
from core.trace.formats.sentences import Frames, frames

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Places = NDArray[np.int64]
    Marks = NDArray[np.bool_]

__all__ = ["read_nmea_rows"]

_MOST_ODD: Final = 200_000  # lines that are looked at one by one: some ten seconds


@dataclass
class _Reading:
    """What is gathered while the file goes by."""

    name: str
    rejects: Rejects
    tables: dict[str, list[FixTable]] = field(default_factory=lambda: {k: [] for k in KINDS})
    rows: int = 0
    odd: int = 0
    passed_over: int = 0


def read_nmea_rows(file: FileBlocks, rejects: Rejects) -> RawRows:
    """Return the rows of a recording in NMEA 0183 sentences.

    Only lines with the right checksum count; RMC with status V and GGA of quality 0 are left out.

    Args:
        file: to be read.
        rejects: takes the lines that are left out, with their reasons.

    Raises:
        InputError: no row in it, or far too many.

    Source: NMEA 0183, fields of RMC, GGA and VTG (from memory).
    """
    found = _Reading(file.name, rejects)
    for data, first_line in file.lines(rejects):
        _take(found, frames(data, first_line))
    if found.rows == 0:
        raise InputError(f"{file.name} holds no row with a position: {_why(rejects)}.")
    return joined(found.tables, found.passed_over)


def _why(rejects: Rejects) -> str:
    counts = sorted(rejects.counts.items(), key=lambda item: -item[1])
    if not counts:
        return "no RMC or GGA sentence is in it"
    kind, count = counts[0]
    words = {
        NO_FIX: "the receiver had no position in {}",
        "checksum": "the checksum of {} is wrong",
        "no checksum": "{} without a checksum",
        "no sentence": "{} that are no sentences",
    }
    return words.get(kind, "{} cannot be read").format(many(count, "line"))


def _take(found: _Reading, lines: Frames) -> None:
    """Sort the lines of a block: rows, other sentences, and what is wrong."""
    import numpy as np  # lazy: 0.1 s

    sound = lines.sound
    odd = np.zeros(len(sound), bool)
    known = np.zeros(len(sound), bool)
    for name, read in KINDS.items():
        chosen = np.flatnonzero(sound & (lines.kind == int.from_bytes(name.encode(), "big")))
        if len(chosen) == 0:
            continue
        known[chosen] = True
        table, good, fixed = read(lines.fields(chosen), lines.number[chosen])
        found.tables[name].append(table.where(good & fixed))
        found.rows += int(np.count_nonzero(good & fixed)) if name != "VTG" else 0
        odd[chosen[~good]] = True
        _add_unfixed(found.rejects, lines.number[chosen[good & ~fixed]])
    check_count(found.rows, found.name)
    found.passed_over += int(np.count_nonzero(sound & ~known))
    _refuse(found, lines, ~sound, odd)


def _add_unfixed(rejects: Rejects, numbers: Places) -> None:
    words = "The receiver had no position (status V or quality 0)."
    rejects.add_many(NO_FIX, numbers.tolist(), lambda _: words)


def _refuse(found: _Reading, lines: Frames, bad: Marks, odd: Marks) -> None:
    """Give every line that is no sound sentence its reason; odd ones get a second look."""
    import numpy as np  # lazy: 0.1 s

    garbled = np.flatnonzero(bad & lines.framed & (lines.said < 256))
    found.rejects.add_many(
        "checksum",
        lines.number[garbled].tolist(),
        lambda i: (
            f"Checksum is {lines.said[garbled[i]]:02X} but the sentence gives"
            f" {lines.found[garbled[i]]:02X}: it was garbled."
        ),
    )
    left = bad.copy()
    left[garbled] = False
    for index in np.flatnonzero(left | odd).tolist():
        _look(found, int(lines.number[index]), lines.text(index))


def _look(found: _Reading, number: int, text: str) -> None:
    """Look at one line by itself."""
    found.odd += 1
    if found.odd > _MOST_ODD:
        raise InputError(
            f"{found.name} has more than {many(_MOST_ODD, 'line')} that are no plain sentences."
        )
    outcome: Any = read_odd(text)
    if outcome.reason:
        found.rejects.add(outcome.kind, number, outcome.reason)
    elif outcome.fix is None:
        found.passed_over += 1
    else:
        name, values = outcome.fix
        found.tables[name].append(FixTable.of_one(number, values))
        found.rows += 1 if name != "VTG" else 0
