"""Files that a person asked for: written whole, or what was there is left."""

from __future__ import annotations

import contextlib
import os
import tempfile
from pathlib import Path

from core.errors import BackToBackError

__all__ = ["write_whole"]


def write_whole(path: Path, data: bytes) -> None:
    """Write the whole file or leave what was there.

    Args:
        path: the file; a pipe or a device is written to as it is.
        data: all that is to stand in it.

    Raises:
        BackToBackError: it cannot be written.
    """
    temporary = ""
    try:
        if path.exists() and not path.is_file():  # a pipe or a device
            path.write_bytes(data)
            return
        handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=".backtoback-")
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        mode = path.stat().st_mode & 0o777 if path.exists() else 0o666 & ~_umask()
        Path(temporary).chmod(mode)
        Path(temporary).replace(path)
    except OSError as error:
        with contextlib.suppress(OSError):
            if temporary:
                Path(temporary).unlink(missing_ok=True)
        raise BackToBackError(f"{path} was not written ({error.strerror or error}).") from error


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
