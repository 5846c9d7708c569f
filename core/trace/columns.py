"""Which column of a CSV is what, as it is remembered by its header."""

from __future__ import annotations

from typing import Literal

import msgspec

__all__ = ["Columns", "DateForm", "TimeForm"]

TimeForm = Literal["seconds", "milliseconds", "epoch", "epoch-ms", "clock", "moment"]
"""How a column tells time; ``epoch`` counts from 1970."""

DateForm = Literal["", "year first", "day first", "month first"]
"""Order of day, month and year in a column of dates."""


class Columns(msgspec.Struct, frozen=True, omit_defaults=True):
    """What the columns of a CSV are, by the names in its header; empty: there is none."""

    time: str
    time_form: TimeForm
    speed: str = ""
    speed_unit: str = ""  # one of `SPEED_UNITS`
    date: str = ""
    date_form: DateForm = ""
    heading: str = ""
    lat: str = ""
    lon: str = ""
    confirmed: bool = False  # a person has said so
