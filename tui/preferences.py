"""What the user chose and what was used last, in one small file; a broken one costs nothing.

The file is ``preferences.json`` in the platform's configuration folder. It is no part of the log.
"""

from __future__ import annotations

import contextlib
import os
from pathlib import Path
from typing import Any, Final, Literal

import msgspec

__all__ = ["Preferences", "PreferencesFile", "Units", "preferences_path"]

_APP: Final = "backtoback"
_MODE: Final = 0o600  # the file says which machine was run where


class Units(msgspec.Struct, frozen=True, kw_only=True):
    """The units that values are shown in; any unit may be typed."""

    speed: Literal["km/h", "mph"] = "km/h"
    length: Literal["mm", "in"] = "mm"  # small lengths: clay, lash, gaskets
    pressure: Literal["kPa", "bar", "psi"] = "kPa"  # tyres
    air: Literal["hPa", "inHg"] = "hPa"  # air pressure
    temperature: Literal["°C", "°F"] = "°C"


class Preferences(msgspec.Struct, frozen=True, kw_only=True):
    """Everything that is remembered beside the log."""

    units: Units = Units()
    theme: Literal["sun", "dusk"] = "sun"
    keys: dict[str, str] = {}  # by command id: keys, with commas between them
    cautions_seen: bool = False  # the caution text was read and accepted
    machine: str = ""  # id of the machine used last
    place: str = ""  # id of the place used last
    test: str = ""  # name of the test used last
    timing: str = ""  # name of the timing gear used last


def preferences_path() -> Path:
    """Return where the file is on this platform."""
    from platformdirs import user_config_path  # lazy: 8 ms

    return user_config_path(_APP, appauthor=False) / "preferences.json"


class PreferencesFile:
    """The preferences as they are now, written out at each change.

    Args:
        path: the file; None keeps them in memory only.
    """

    def __init__(self, path: Path | None = None) -> None:
        self.path = path
        self.now = Preferences()
        """What holds now."""
        self.problem = ""
        """One line when the file could not be read or written; empty otherwise."""
        if path is not None:
            self._read(path)

    def change(self, **fields: Any) -> Preferences:
        """Set these fields, save, and return what holds now.

        A file that cannot be written only leaves a line in ``problem``.

        Raises:
            msgspec.ValidationError: a value does not fit its field.
        """
        wanted = {**msgspec.to_builtins(self.now), **msgspec.to_builtins(fields)}
        self.now = msgspec.convert(wanted, Preferences)
        if self.path is not None:
            self._write(self.path)
        return self.now

    def _read(self, path: Path) -> None:
        try:
            self.now = msgspec.json.decode(path.read_bytes(), type=Preferences)
        except FileNotFoundError:
            return
        except (OSError, ValueError, RecursionError):
            self.problem = (
                "The preferences file cannot be read, so the usual settings are used "
                "until one is changed."
            )

    def _write(self, path: Path) -> None:
        temporary = path.with_name(f".{path.name}.{os.getpid()}")
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            temporary.write_bytes(msgspec.json.format(msgspec.json.encode(self.now)) + b"\n")
            temporary.chmod(_MODE)
            temporary.replace(path)
            self.problem = ""
        except OSError as error:
            self.problem = f"The preferences were not saved ({error.strerror or error})."
            with contextlib.suppress(OSError):
                temporary.unlink(missing_ok=True)
