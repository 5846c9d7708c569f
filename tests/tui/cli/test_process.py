"""The command as its own process: pipes, closed streams, full devices, signals, what it loads."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.core.exchange.samples import HEADER, row, rows

ROOT = Path(__file__).parents[3]
COMMAND = [sys.executable, "-m", "tui.cli"]
POSIX = pytest.mark.skipif(os.name == "nt", reason="needs a POSIX shell")


def run(*words: str | Path, **options: object) -> subprocess.CompletedProcess[str]:
    """Run the command in its own process."""
    told = {"capture_output": True, "text": True, "encoding": "utf-8", "timeout": 60, **options}
    command = [*COMMAND, *map(str, words)]
    return subprocess.run(command, cwd=ROOT, check=False, **told)  # type: ignore[call-overload,no-any-return]


def shell(line: str, **environment: str) -> subprocess.CompletedProcess[str]:
    """Run a line of shell with ``$BTB`` as the command."""
    told = {**os.environ, "BTB": " ".join(COMMAND), **environment}
    return subprocess.run(
        ["bash", "-c", line],
        cwd=ROOT, env=told, capture_output=True, text=True, timeout=60, check=False,
    )  # fmt: skip


def test_a_whole_job_on_real_files(tmp_path: Path) -> None:
    file, log = tmp_path / "notes.csv", tmp_path / "log"
    lines = [
        row(f",{teeth}", value=v, direction="WE"[i % 2], session=s, started=d)
        for s, d, teeth, values in (
            ("before", "2026-04-12", "60T", ("8.81", "8.33", "8.59", "8.00")),
            ("after", "2026-05-03", "66T", ("7.34", "6.88", "7.49", "7.10")),
        )
        for i, v in enumerate(values)
    ]
    text = rows(*lines, header=f"{HEADER},slot:final_sprocket")
    file.write_text(text, encoding="utf-8")
    assert run("import", file, "--log", log).returncode == 0
    found = json.loads(run("compare", "bef", "aft", "--json", "--log", log).stdout)
    # means of pairs: (8.81 + 8.33 + 8.59 + 8.00) / 4 and (7.34 + 6.88 + 7.49 + 7.10) / 4
    assert found["mean_a"] == pytest.approx(8.4325)
    assert found["difference"] == pytest.approx(7.2025 - 8.4325)
    assert (found["n_a"], found["n_b"], found["verdict"]) == (2, 2, "quicker")
    assert [c["words"] for c in found["changed"] if c["is_cause"]] == ["final sprocket: 60T -> 66T"]


@POSIX
@pytest.mark.parametrize("verb", ["list", "sheet S07", "export", "list --json", "demo --text"])
def test_a_reader_that_hangs_up(season: Path, verb: str) -> None:
    log = "" if verb.startswith("demo") else f"--log {season}"
    done = shell(f"$BTB {verb} {log} | head -c 1; echo ${{PIPESTATUS[0]}}")
    assert done.stdout[1:].strip() == "0"
    assert done.stderr == ""


@POSIX
def test_nowhere_to_print_to(season: Path) -> None:
    done = shell(f"$BTB list --log {season} >&-; echo $? >&2")
    assert "standard output is closed" in done.stderr
    assert done.stderr.endswith("\n1\n")
    if Path("/dev/full").exists():
        done = shell(f"$BTB export --log {season} > /dev/full; echo $?")
        assert done.stdout == "1\n"
        assert done.stderr.startswith("backtoback: Nothing could be printed (")
        assert done.stderr.count("\n") == 1


@POSIX
def test_refusals_with_standard_error_closed(season: Path) -> None:
    assert shell(f"$BTB show S99 --log {season} 2>&-; echo $?").stdout == "2\n"


@POSIX
def test_standard_input(tmp_path: Path) -> None:
    log = tmp_path / "log"
    done = run("import", "-", "--log", log, input=rows(row(value="7.26")))
    assert (done.returncode, done.stdout) == (0, done.stdout)
    assert done.stdout.startswith("standard input: 1 row in, 0 rejected.")
    done = run("import", "-", "--log", log, input="")
    assert (done.returncode, done.stderr) == (1, "backtoback: standard input is empty.\n")
    done = shell(f"$BTB import - --log {log} <&-; echo $?")
    assert (done.stdout, done.stderr.count("\n")) == ("1\n", 1)
    assert "Standard input is closed" in done.stderr


@POSIX
@pytest.mark.parametrize("line", ["$BTB", "$BTB < /dev/null", "$BTB <&- >&-", "echo | $BTB"])
def test_the_app_without_a_terminal(tmp_path: Path, line: str) -> None:
    done = shell(f"{line}; echo $? >&2", BACKTOBACK_LOG=str(tmp_path / "log"))
    assert "The app needs a terminal" in done.stderr
    assert done.stderr.endswith("\n2\n")
    assert not (tmp_path / "log").exists()


@POSIX
def test_output_that_takes_only_ascii(season: Path) -> None:
    done = shell(f"$BTB sheet S07 --log {season}", PYTHONIOENCODING="ascii")
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.isascii()
    assert "swept volume" in done.stdout
    assert "207.8 cm3" in done.stdout
    assert max(map(len, done.stdout.splitlines())) <= 80


@POSIX
def test_interrupted_while_it_reads_in(tmp_path: Path) -> None:
    lines = [
        row(value="7.2", session=f"S{i:03d}", started=f"2026-01-01T{i // 60:02d}:{i % 60:02d}Z")
        for i in range(600)
    ]
    file, log = tmp_path / "a.csv", tmp_path / "log"
    file.write_text(rows(*lines), encoding="utf-8")
    command = [*COMMAND, "import", str(file), "--log", str(log)]
    with subprocess.Popen(
        command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    ) as process:
        deadline = time.monotonic() + 60
        while len(list(log.glob("sessions/*.json"))) < 5 and time.monotonic() < deadline:
            time.sleep(0.002)
        process.send_signal(signal.SIGINT)
        out, err = process.communicate(timeout=60)
    assert (process.returncode, out, err) == (130, "", "")
    assert run("health", "--log", log).returncode == 0
    done = run("import", file, "--log", log)
    assert done.returncode == 0
    assert len(json.loads(run("list", "--json", "--log", log).stdout)) == 600


_INTERRUPTED = """
import sys

class Interruption:
    at = ""

    def find_spec(self, name, path=None, target=None):
        if name == self.at:
            raise KeyboardInterrupt

hook = Interruption()
sys.meta_path.insert(0, hook)
from tui.cli import main
for hook.at in sys.argv[2:]:
    print(main(["list", "--log", sys.argv[1]]))
"""


def test_interrupted_while_it_is_still_loading(season: Path) -> None:
    """Ctrl+C while a module is looked for, from the first one on: the code of shells, no words."""
    modules = ["core.errors", "argparse", "tui.verbs.table", "msgspec", "core.session.book", ""]
    command = [sys.executable, "-c", _INTERRUPTED, str(season), *modules]
    done = subprocess.run(
        command, cwd=ROOT, check=False, capture_output=True, text=True, timeout=60
    )
    assert done.stderr == ""
    assert done.stdout.split("\n")[:5] == ["130"] * 5
    assert done.stdout.splitlines()[-1] == "0"


_LOADED = """
import json, sys
from tui.cli import main
code = main(sys.argv[1:])
print(json.dumps(sorted(sys.modules)), file=sys.stderr)
sys.exit(code)
"""


def loaded(*words: str | Path) -> set[str]:
    """Return the modules that are loaded after a verb ran."""
    command = [sys.executable, "-c", _LOADED, *map(str, words)]
    done = subprocess.run(command, cwd=ROOT, check=True, capture_output=True, text=True, timeout=60)
    return set(json.loads(done.stderr.splitlines()[-1]))


@pytest.mark.parametrize(
    "words",
    [
        ["list"],
        ["show", "S06"],
        ["sheet", "S07"],
        ["changes", "S01", "S03"],
        ["compare", "S01", "S03"],
        ["export"],
        ["export", "--lines"],
        ["health"],
        ["demo", "--text"],
    ],
)
def test_verbs_without_a_screen_load_none(season: Path, words: list[str]) -> None:
    log = [] if words[0] == "demo" else ["--log", str(season)]
    found = loaded(*words, *log)
    assert found.isdisjoint({"textual", "rich"})


def test_reading_the_list_loads_no_numerics(season: Path, tmp_path: Path) -> None:
    file = tmp_path / "a.csv"
    file.write_text(rows(row(value="7.26")), encoding="utf-8")
    cases: list[list[str | Path]] = [
        ["list", "--log", season],
        ["import", file, "--log", tmp_path / "log"],
    ]
    for words in cases:
        assert loaded(*words).isdisjoint({"numpy", "scipy", "pint", "textual"})


def test_words_alone_load_no_core(season: Path) -> None:
    assert loaded("--help").isdisjoint({"core.session", "msgspec", "tinydb", "textual"})
