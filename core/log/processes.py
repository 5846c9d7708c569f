"""Is a process still there, and is it the one it was: asked of the system by its number."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import Final

__all__ = ["is_running", "start_mark"]

_PROC: Final = Path("/proc")
_START_FIELD: Final = 19  # starttime, field 22 of proc_pid_stat(5), counted after the name's ')'

if sys.platform == "win32":
    import ctypes
    from ctypes import wintypes

    _QUERY: Final = 0x1000  # PROCESS_QUERY_LIMITED_INFORMATION, Win32 process access rights
    _STILL_ACTIVE: Final = 259  # exit code of a process that has not ended

    def _times(pid: int) -> tuple[bool, str]:
        """Return whether a process runs and when it was made, in the system's own count."""
        kernel = ctypes.WinDLL("kernel32", use_last_error=True)
        kernel.OpenProcess.restype = wintypes.HANDLE
        handle = kernel.OpenProcess(_QUERY, False, pid)
        if not handle:
            denied = ctypes.get_last_error() == 5  # ERROR_ACCESS_DENIED: there, but not ours
            return denied, ""
        code, made, other = wintypes.DWORD(), wintypes.FILETIME(), wintypes.FILETIME()
        rest = (ctypes.byref(other), ctypes.byref(other), ctypes.byref(other))
        try:
            kernel.GetExitCodeProcess(wintypes.HANDLE(handle), ctypes.byref(code))
            kernel.GetProcessTimes(wintypes.HANDLE(handle), ctypes.byref(made), *rest)
        finally:
            kernel.CloseHandle(wintypes.HANDLE(handle))
        return code.value == _STILL_ACTIVE, f"{made.dwHighDateTime}:{made.dwLowDateTime}"


def is_running(pid: int) -> bool:
    """Tell whether a process of this number runs on this computer."""
    if pid <= 0:
        return False
    if sys.platform == "win32":
        return _times(pid)[0]
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    except (PermissionError, OverflowError) as error:
        return isinstance(error, PermissionError)  # there, but not ours
    return True


def start_mark(pid: int) -> str:
    """Return what tells a process from a later one of the same number; empty if unknown.

    Two marks of one process are equal however the clock was set in between.
    """
    if sys.platform == "win32":
        return _times(pid)[1]
    if (_PROC / "self").exists():
        return _start_in_proc(pid)
    return _start_by_ps(pid)


def _start_in_proc(pid: int) -> str:
    """Return this boot's name and the ticks from boot to the start of a process (Linux)."""
    try:
        boot = (_PROC / "sys/kernel/random/boot_id").read_text().strip()
        status = (_PROC / str(pid) / "stat").read_text()
    except OSError:
        return ""
    return f"{boot}:{status.rpartition(')')[2].split()[_START_FIELD]}"


def _start_by_ps(pid: int) -> str:
    """Return the start of a process as the system's process list has it (macOS, BSD)."""
    import subprocess  # lazy: 9 ms

    try:
        answer = subprocess.run(  # noqa: S603 - fixed words and a number
            ["/bin/ps", "-o", "lstart=", "-p", str(pid)],
            capture_output=True,
            text=True,
            timeout=2,
            check=False,
            env={"LC_ALL": "C", "TZ": "UTC"},
        )
    except (OSError, subprocess.TimeoutExpired):
        return ""
    return " ".join(answer.stdout.split())
