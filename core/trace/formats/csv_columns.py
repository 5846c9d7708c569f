"""Which column of a CSV is what: proposed from its header, confirmed once, remembered by it."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Final

import msgspec

from core.errors import InputError
from core.trace.columns import Columns, TimeForm
from core.trace.formats.csv_layout import Layout, is_value
from core.trace.formats.csv_times import date_forms, time_form
from core.trace.formats.speed_units import SPEED_UNITS

__all__ = ["Doubt", "Proposal", "as_named", "propose_columns", "read_columns"]


class Doubt(msgspec.Struct, frozen=True):
    """Something about the columns that only a person can say."""

    field: str  # of `Columns`
    sentence: str  # the question
    choices: tuple[str, ...]  # values of that field


class Proposal(msgspec.Struct, frozen=True):
    """What the columns seem to be."""

    layout: Layout
    columns: Columns
    doubts: tuple[Doubt, ...] = ()


ROLES: Final[Mapping[str, tuple[str, ...]]] = MappingProxyType(
    {
        "time": ("time", "t", "timestamp", "elapsed", "elapsed time", "seconds", "utc time", "utc",
                 "clock", "time stamp", "date time", "datetime", "gps time", "gnss time",
                 "local time", "time utc", "time of day", "zeit", "sec"),
        "date": ("date", "day", "utc date", "datum"),
        "speed": ("speed", "v", "velocity", "gps speed", "ground speed", "speed over ground",
                  "sog", "speed gps", "gnss speed", "geschwindigkeit", "vehicle speed"),
        "heading": ("heading", "course", "cog", "bearing", "track", "true course", "hdg",
                    "course over ground"),
        "lat": ("lat", "latitude", "gps latitude", "gps lat"),
        "lon": ("lon", "lng", "long", "longitude", "gps longitude", "gps lon", "gps long"),
    }
)  # fmt: skip
"""By role: the names a column of it has, in lower case and with single blanks."""

_UNIT_WORDS: Final[Mapping[str, str]] = MappingProxyType(
    {"km/h": "km/h", "kmh": "km/h", "kph": "km/h", "kmph": "km/h", "km h": "km/h", "mph": "mph",
     "mi/h": "mph", "m/s": "m/s", "mps": "m/s", "m s": "m/s", "kn": "kn", "kt": "kn", "kts": "kn",
     "knots": "kn", "knot": "kn", "ft/s": "ft/s", "fps": "ft/s", "s": "s", "sec": "s", "secs": "s",
     "seconds": "s", "ms": "ms", "msec": "ms", "millis": "ms", "milliseconds": "ms"}
)  # fmt: skip
_BRACKETS: Final = re.compile(r"^(.*?)\s*[(\[{<]\s*([^)\]}>]*?)\s*[)\]}>]\s*$")
_NONE: Final = Columns("", "seconds")


def _named(cell: str) -> tuple[str, str]:
    """Split the name of a column into the name and the unit in it, if there is one.

    >>> _named("Speed (km/h)"), _named("speed_mph"), _named("Time")
    (('speed', 'km/h'), ('speed', 'mph'), ('time', ''))
    """
    match = _BRACKETS.match(cell)
    if match:
        return _plain(match[1]), _unit(match[2])
    words = _plain(cell).split()
    for count in (2, 1):
        unit = _unit(" ".join(words[-count:]))
        if len(words) > count and unit:
            return " ".join(words[:-count]), unit
    return " ".join(words), ""


def _plain(text: str) -> str:
    spaced = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", text)
    return " ".join(re.sub(r"[_\-.:/]+", " ", spaced).casefold().split())


def _unit(text: str) -> str:
    word = " ".join(text.casefold().strip(" []()").split())
    return _UNIT_WORDS.get(word, "")


def propose_columns(layout: Layout) -> Proposal:
    """Return what the columns seem to be, and what a person has to say about them.

    Args:
        layout: of the file.

    Raises:
        InputError: no column can be the time, or neither speed nor positions are there.
    """
    named = [_named(cell) for cell in layout.header]
    found = {role: _find(role, named, layout) for role in ROLES}
    if found["time"] is None:
        raise InputError(
            f"No column can be the time; there are: {_listed(layout.header)}.",
            "Name it: --columns time=NAME,speed=NAME:km/h",
        )
    doubts: list[Doubt] = []
    fields: dict[str, object] = {
        role: layout.header[place] if place is not None else "" for role, place in found.items()
    }
    fields |= _time_fields(found, named, layout, doubts)
    if found["speed"] is not None:
        fields["speed_unit"] = _speed_unit(found["speed"], named, layout, doubts)
    if found["lat"] is None or found["lon"] is None:
        fields["lat"] = fields["lon"] = ""
    if not fields["speed"] and not fields["lat"]:
        raise InputError(
            f"No column can be the speed; there are: {_listed(layout.header)}.",
            "Name it: --columns time=NAME,speed=NAME:km/h",
        )
    return Proposal(layout, msgspec.structs.replace(_NONE, **fields), tuple(doubts))


def _listed(header: Sequence[str]) -> str:
    shown = ", ".join(cell[:30] for cell in header[:12])
    return shown + (" ..." if len(header) > 12 else "")


def _find(role: str, named: Sequence[tuple[str, str]], layout: Layout) -> int | None:
    """Place of the column that plays a role: the best name of those that hold values."""
    for word in ROLES[role]:
        for place, (name, unit) in enumerate(named):
            if name == word and (role != "time" or _form(place, unit, layout) is not None):
                return place
    return None


def _cells(place: int, layout: Layout) -> list[str]:
    """The first cells of a column that hold values, with a decimal point."""
    cells = [row[place] for row in layout.sample if is_value(row[place])]
    return [cell.replace(",", ".") for cell in cells] if layout.decimal == "," else cells


def _form(place: int, unit: str, layout: Layout) -> TimeForm | None:
    told = unit or (_unit(layout.units[place]) if layout.units else "")
    return time_form(_cells(place, layout), told)


def _time_fields(
    found: Mapping[str, int | None],
    named: Sequence[tuple[str, str]],
    layout: Layout,
    doubts: list[Doubt],
) -> dict[str, object]:
    """Form of the time, and the date beside a clock."""
    place = found["time"]
    assert place is not None  # noqa: S101  asked before
    form = _form(place, named[place][1], layout)
    fields: dict[str, object] = {"time_form": form}
    if form != "clock" or found["date"] is None:
        return fields | {"date": ""}
    forms = date_forms([row[found["date"]] for row in layout.sample])
    if not forms:
        return fields | {"date": ""}
    if len(forms) > 1:
        column = layout.header[found["date"]]
        sentence = f"Is “{layout.sample[0][found['date']]}” in “{column}” day first or month first?"
        doubts.append(Doubt("date_form", sentence, forms))
    return fields | {"date_form": forms[0]}


def _speed_unit(
    place: int, named: Sequence[tuple[str, str]], layout: Layout, doubts: list[Doubt]
) -> str:
    """Unit of the speed from its name and the units row; a doubt where they do not say."""
    below = _unit(layout.units[place]) if layout.units else ""
    told = [unit for unit in (named[place][1], below) if unit in SPEED_UNITS]
    column = layout.header[place]
    if not told:
        sentence = f"In which unit is the column “{column}”?"
        doubts.append(Doubt("speed_unit", sentence, tuple(SPEED_UNITS)))
        return ""
    if len(set(told)) > 1:
        sentence = f"The column “{column}” is named {told[0]} and its units row says {told[1]}."
        doubts.append(Doubt("speed_unit", sentence, tuple(told)))
    return told[0]


def as_named(columns: Columns, layout: Layout) -> Columns:
    """Return columns by the names that this file gives them, as to capitals and blanks.

    Args:
        columns: as confirmed for a file of the same header.
        layout: of this file; a name that it does not have is left as it is.
    """
    known = {_folded(name): name for name in layout.header}
    named = {role: getattr(columns, role) for role in ROLES}
    found = {role: known.get(_folded(name), name) for role, name in named.items() if name}
    return msgspec.structs.replace(columns, **found)


def _folded(name: str) -> str:
    return " ".join(name.casefold().split())


def read_columns(text: str, layout: Layout) -> Columns:
    """Return columns that a person typed: ``time=Time,speed=Speed:km/h,lat=Lat,lon=Lon``.

    What is not told is proposed. A column is named as in the header, or by its number.

    Args:
        text: as typed.
        layout: of the file.

    Raises:
        InputError: a role, column or unit that is none.
    """
    try:
        base = propose_columns(layout).columns
    except InputError:
        base = _NONE
    fields: dict[str, object] = {"confirmed": True}
    for part in filter(None, (part.strip() for part in text.split(","))):
        role, mark, told = part.partition("=")
        role = role.strip().casefold()
        if not mark or role not in ROLES:
            raise InputError(f"“{part}” names no column.", f"Roles are: {', '.join(ROLES)}.")
        name, form = _column(told, layout)
        fields[role] = name
        fields |= _told_form(role, name, form, layout)
    columns = msgspec.structs.replace(base, **fields)
    if not columns.time or not (columns.speed or columns.lat):
        raise InputError("Time is needed, and speed or lat and lon.", "time=NAME,speed=NAME:km/h")
    if columns.speed and not columns.speed_unit:
        units = ", ".join(SPEED_UNITS)
        raise InputError(f"The unit of “{columns.speed}” is missing.", f"One of: {units}.")
    return columns


def _column(told: str, layout: Layout) -> tuple[str, str]:
    """Name of the column that was typed, and what stands behind the colon."""
    word, _, form = told.strip().rpartition(":") if ":" in told else (told, "", "")
    wanted = " ".join(word.casefold().split())
    for name in layout.header:
        if wanted in (" ".join(name.casefold().split()), _named(name)[0]):
            return name, form.strip()
    if wanted.isdigit() and 1 <= int(wanted) <= len(layout.header):
        return layout.header[int(wanted) - 1], form.strip()
    raise InputError(
        f"There is no column “{word.strip()}”.", f"There are: {_listed(layout.header)}."
    )


def _told_form(role: str, name: str, form: str, layout: Layout) -> dict[str, object]:
    """Unit or form that goes with a column that was typed."""
    place = layout.header.index(name)
    if role == "speed":
        unit = (
            _unit(form) or _named(name)[1] or (_unit(layout.units[place]) if layout.units else "")
        )
        return {"speed_unit": unit if unit in SPEED_UNITS else ""}
    if role == "time":
        found = _form(place, form if form in ("s", "ms") else _named(name)[1], layout)
        if found is None:
            raise InputError(f"The column “{name}” tells no time.")
        return {"time_form": found}
    if role == "date":
        forms = date_forms([row[place] for row in layout.sample])
        wanted = [f for f in forms if f.split()[0] == form] or list(forms)
        if not wanted:
            raise InputError(f"The column “{name}” holds no dates.")
        return {"date_form": wanted[0]}
    return {}
