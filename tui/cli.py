"""The command ``backtoback``: reads its words, runs the verb or the app, answers with an exit code.

Exit codes: 0 done, 1 something is wrong, 2 used wrongly, 130 interrupted.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence

__all__ = ["main"]

_INTERRUPTED = 130  # 128 + SIGINT, as shells have it


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command.

    What it needs is loaded in here, so that Ctrl+C ends it quietly from the first moment on.

    Args:
        argv: its words without the program's name; None: those of the process.

    Returns:
        The exit code; refusals are one line on standard error, never a traceback.
    """
    try:
        return _answered(sys.argv[1:] if argv is None else argv)
    except KeyboardInterrupt:
        return _INTERRUPTED


def _answered(argv: Sequence[str]) -> int:
    from core.errors import BackToBackError  # in here: see `main`
    from tui.output import admit, complain  # in here: see `main`

    try:
        return _run(argv)
    except BackToBackError as error:
        return complain(error)
    except SystemExit as asked:  # --help and --version
        return asked.code if isinstance(asked.code, int) else 0
    except Exception:  # noqa: BLE001  a fault of the program; said in words, details to a file
        return admit()


def _run(argv: Sequence[str]) -> int:
    from tui.arguments import parsed  # in here: see `main`
    from tui.output import show  # in here: see `main`

    arguments, verb = parsed(argv)
    if verb is None:
        from tui.launch import run_app  # lazy: textual, 0.2 s
        from tui.verbs.opening import chosen_folder  # in here: see `main`

        return run_app(chosen_folder(arguments))
    return show(verb.run(arguments), as_json=arguments.json)


if __name__ == "__main__":
    sys.exit(main())
