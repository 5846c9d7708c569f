"""The one place that prints: what a verb returns to standard output, refusals to standard error."""

from __future__ import annotations

import contextlib
import json
import math
import os
import sys
from dataclasses import dataclass
from typing import Any, TextIO

from core.errors import BackToBackError
from core.report import Report, as_text
from core.report.width import to_ascii, visible

__all__ = ["Result", "admit", "complain", "show"]


@dataclass(frozen=True)
class Result:
    """What a verb has to say."""

    report: Report | None = None  # for a person
    data: Any = None  # the same as plain data, for --json
    raw: bytes | None = None  # a file's content for standard output, in place of a report
    remarks: tuple[str, ...] = ()  # sentences for standard error
    code: int = 0  # exit code


def show(result: Result, *, as_json: bool = False) -> int:
    """Print a result; return the exit code.

    A reader that hangs up early (``| head``) is no error.

    Raises:
        BackToBackError: nothing can be printed, as standard output is closed or full.
    """
    for remark in result.remarks:
        _to_stderr(remark)
    try:
        if as_json:
            _write(_stdout(), _json(result.data))
        elif result.raw is not None:
            _write_raw(_stdout(), result.raw)
        elif result.report is not None:
            _write_report(_stdout(), result.report)
    except BrokenPipeError:
        _give_up(sys.stdout)
    except OSError as error:
        _give_up(sys.stdout)
        raise BackToBackError(f"Nothing could be printed ({error.strerror or error}).") from error
    return result.code


def complain(error: BackToBackError) -> int:
    """Print a refusal as one line on standard error; return its exit code."""
    _to_stderr(f"{error.message} ({error.hint})" if error.hint else error.message)
    return error.exit_code


def admit() -> int:
    """Say that the program itself is at fault, after writing the details to a file; return 1."""
    from tui.faults import last_words  # lazy: rich, 60 ms

    for line in "".join(segment.text for segment in last_words().segments).splitlines():
        _to_stderr(line)
    return 1


def _stdout() -> TextIO:
    stream: TextIO | None = sys.stdout
    if stream is None or stream.closed:
        raise BackToBackError("Nothing could be printed: standard output is closed.")
    return stream


def _write_report(stream: TextIO, report: Report) -> None:
    text = as_text(report)
    _write(stream, text if _can_show(stream, text) else as_text(report, ascii_only=True))


def _can_show(stream: TextIO, text: str) -> bool:
    try:
        text.encode(stream.encoding or "utf-8")
    except (UnicodeEncodeError, LookupError):
        return False
    return True


def _write_raw(stream: TextIO, data: bytes) -> None:
    """Write a file's content as it is; on a terminal without its control codes."""
    buffer = getattr(stream, "buffer", None)
    if stream.isatty() or buffer is None:
        lines = data.decode("utf-8", "replace").split("\n")
        shown = "\n".join(map(visible, lines))
        _write(stream, shown if _can_show(stream, shown) else to_ascii(shown))
        return
    stream.flush()
    buffer.write(data)
    buffer.flush()


def _write(stream: TextIO, text: str) -> None:
    stream.write(text)
    stream.flush()


def _json(data: Any) -> str:
    """Return data as JSON in plain ASCII, so that no control code of a name reaches a terminal."""
    text = json.dumps(_finite(data), ensure_ascii=True, allow_nan=False, indent=2)
    return text.replace("\x7f", "\\u007f") + "\n"


def _finite(data: Any) -> Any:
    """Return the data with null in place of what is no number; JSON has no NaN."""
    if isinstance(data, dict):
        return {key: _finite(value) for key, value in data.items()}
    if isinstance(data, (list, tuple)):
        return [_finite(value) for value in data]
    if isinstance(data, float) and not math.isfinite(data):
        return None
    return data


def _to_stderr(sentence: str) -> None:
    stream: TextIO | None = sys.stderr
    if stream is None or stream.closed:
        return
    line = visible(f"backtoback: {sentence}")
    with contextlib.suppress(OSError):
        _write(stream, f"{line if _can_show(stream, line) else to_ascii(line)}\n")


def _give_up(stream: TextIO) -> None:
    """Let nothing more be written there, so that Python does not complain when it ends."""
    with contextlib.suppress(OSError, ValueError, AttributeError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, stream.fileno())
        os.close(nowhere)
