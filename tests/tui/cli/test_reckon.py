"""The verb ``reckon``: the list, one formula, answers as text and as data, refusals, exit codes."""

from __future__ import annotations

import io
import json
import sys
from pathlib import Path
from typing import Any

import pytest

from core.bench import USUAL_GAUGES, put_right
from core.reckon import FORMULAS, GAUGES
from core.session import Book
from tests.core.reckon.cases import CASES, Case
from tests.tui.cli.conftest import Call, Said

RATIO = (
    "bore=70", "stroke=54", "chamber=22.5", "gasket=1.1", "gasket-bore=71", "deck=0.25",
)  # fmt: skip


def data(said: Said) -> Any:
    """Return what was printed as JSON."""
    return json.loads(said.out)


def flat(text: str) -> str:
    return " ".join(text.split())


def test_alone_it_lists_every_formula_with_its_inputs(call: Call) -> None:
    said = call("reckon")
    assert (said.code, said.err) == (0, "")
    assert all(f"\n{name} " in said.out for name in FORMULAS)
    assert "stroke bore chamber gasket gasket-bore deck [crown]" in flat(said.out)
    assert all(len(line) <= 80 for line in said.out.splitlines())
    listed = data(call("reckon", "--json"))
    assert [one["name"] for one in listed] == list(FORMULAS)
    assert all(one["equation"] and one["source"] and one["inputs"] for one in listed)


@pytest.mark.parametrize("name", FORMULAS)
def test_a_name_alone_shows_inputs_equation_and_source(call: Call, name: str) -> None:
    said = call("reckon", name)
    assert (said.code, said.err) == (0, "")
    formula = FORMULAS[name]
    for one in formula.inputs:
        assert f"\n{one.name} " in said.out
    text = flat(said.out)
    assert flat(formula.equation) in text
    assert flat(formula.source) in text
    assert flat(formula.caution) in text
    assert all(len(line) <= 80 for line in said.out.splitlines())


def test_an_answer_with_its_range_inputs_and_caution(call: Call) -> None:
    said = call("reckon", "compression-ratio", *RATIO)
    assert (said.code, said.err) == (0, "")
    text = flat(said.out)
    assert "compression ratio 8.47:1 (8.41 to 8.53)" in text
    assert "chamber 22.5 cm³, from 22.3 to 22.7 by the usual burette and plate" in text
    assert "look for knock" in text


def test_an_answer_as_data(call: Call) -> None:
    found = data(call("reckon", "compression-ratio", *RATIO, "--json"))
    assert found["value"] == pytest.approx(1 + 207.816 / 27.8172, abs=1e-4)
    assert found["low"] == pytest.approx(8.41, abs=0.005)
    assert found["high"] == pytest.approx(8.53, abs=0.005)
    assert (found["unit"], found["missing"], found["unknown"]) == (":1", [], None)
    assert found["inputs"]["chamber"] == {
        "text": "22.5", "unit": "cm³", "value": 22.5, "low": pytest.approx(22.298, abs=1e-3),
        "high": pytest.approx(22.702, abs=1e-3), "doubt": "burette and plate",
    }  # fmt: skip
    assert found["equation"].startswith("(swept + clearance)/clearance")
    assert "Heywood" in found["source"]
    assert found["caution"]
    assert [one["name"] for one in found["results"]] == ["ratio", "swept", "clearance"]


def test_exact_numbers_have_a_range_without_width(call: Call) -> None:
    found = data(call("reckon", "compression-ratio", *RATIO, "--exact", "--json"))
    assert found["low"] == found["value"] == found["high"]
    typed = data(
        call("reckon", "compression-ratio", *RATIO[:2], "chamber=22.3..22.7", *RATIO[3:],
             "--exact", "--json")
    )  # fmt: skip
    assert typed["low"] < typed["value"] < typed["high"]
    assert typed["inputs"]["chamber"]["doubt"] == "typed"


@pytest.mark.parametrize("case", CASES, ids=lambda c: c.formula)
def test_every_formula_from_the_command_line(call: Call, case: Case, tmp_path: Path) -> None:
    words = []
    for name, text in case.typed.items():
        if "\n" in text:
            file = tmp_path / f"{name}.csv"
            file.write_text(text, encoding="utf-8")
            text = str(file)
        words.append(f"{name}={text}")
    found = data(call("reckon", case.formula, *words, "--json", "--exact"))
    values = {one["name"]: one["value"] for one in found["results"]}
    for name, wanted in case.expected.items():
        assert values[name] == pytest.approx(wanted, rel=case.rel, abs=1e-9)
    said = call("reckon", case.formula, *words)
    assert (said.code, said.err) == (0, "")
    assert "…" not in said.out
    assert all(len(line) <= 80 for line in said.out.splitlines())


def test_units_with_the_values(call: Call) -> None:
    said = call("reckon", "head-gap", "deck=10thou", "gasket=.048in")
    assert "piston-to-head gap 1.47 mm" in flat(said.out)
    assert "deck 0.254 mm (10thou)" in flat(said.out)


def test_unknown_is_never_a_number(call: Call) -> None:
    said = call("reckon", "head-gap", "deck=?", "gasket=1.1")
    assert said.code == 1
    assert "Unknown, missing: deck." in said.out
    assert "1.1 mm" in said.out
    found = call("reckon", "head-gap", "gasket=1.1", "--json")
    assert found.code == 1
    parsed = data(found)
    assert (parsed["value"], parsed["low"], parsed["high"]) == (None, None, None)
    assert parsed["missing"] == ["deck"]
    assert parsed["results"] == []


def test_a_table_of_sprockets_with_reasons(call: Call) -> None:
    said = call(
        "reckon", "sprocket-table", "drivers=12", "driven=60,66", "circumference=1.06",
        "trap-speed=77", "limit=6500", "run-out=200",
    )  # fmt: skip
    assert said.code == 0
    assert "12/66 5.50 6,659 75.2 km/h 6,659 rpm is above the lowest" in flat(said.out)
    rows = data(
        call("reckon", "sprocket-table", "drivers=12", "driven=60,66", "circumference=1.06",
             "trap-speed=77", "limit=6500", "run-out=200", "--json")
    )["rows"]  # fmt: skip
    assert [row["teeth"] for row in rows] == ["12/60", "12/66"]
    assert rows[0]["greyed out because"] == ""


def test_a_lift_table_from_standard_input(call: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    rows = b"deg, lift mm\n0, 0\n10, 1\n20, 2\n30, 1\n40, 0\n"
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(rows)))
    found = data(call("reckon", "duration", "table=-", "checking-lift=0.5", "--json"))
    assert found["value"] == pytest.approx(30.0)
    assert found["inputs"]["table"]["text"] == "rows"


def test_inputs_from_a_setup_sheet(call: Call, season: Path) -> None:
    said = call("reckon", "compression-ratio", "--sheet", "S01", "--log", season)
    assert "compression ratio 8.47:1" in flat(said.out)
    other = call("reckon", "compression-ratio", "gasket=0.8", "--sheet", "S01", "--log", season)
    assert "compression ratio 8.80:1" in flat(other.out)
    gears = data(call("reckon", "overall-ratio", "--sheet", "S05:B", "--log", season, "--json"))
    assert gears["value"] == 5.0
    assert call("reckon", "overall-ratio", "--sheet", "S99", "--log", season).code == 2


def test_the_instruments_of_that_log_count(call: Call, own_season: Path) -> None:
    with Book.open(own_season) as book:
        book.save(put_right(USUAL_GAUGES["burette"], book.clock(), repeatability="1.0"))
    found = data(
        call("reckon", "compression-ratio", "--sheet", "S01", "--log", own_season, "--json")
    )
    assert found["high"] - found["low"] > 0.4
    assert GAUGES["burette"].repeatability == 0.2e-6


@pytest.mark.parametrize(
    ("words", "code", "sentence"),
    [
        (["swept-volume", "bore=0", "stroke=54"], 1, "Bore is 0 mm: a bore must be above zero."),
        (["swept-volume", "bore=-70", "stroke=54"], 1, "a bore must be above zero"),
        (["piston-travel", "angle=90", "stroke=54", "rod=20"], 1, "the crank cannot turn"),
        (["air-density", "temperature=20", "pressure=30", "humidity=50"], 1, "inHg typed as hPa"),
        (["air-density", "temperature=20", "pressure=1013", "humidity=120"], 1, "120 %"),
        (["humidity", "temperature=20", "dew-point=25"], 1, "cannot lie above"),
        (["link-count", "links=105"], 1, "half link"),
        (["rod-load", "rpm=6,500"], 1, "is it 6500 or 6.500?"),
        (["rod-load", "rpm=fast"], 1, "Engine speed: “fast” is not a number."),
        (["rod-load", "rpm="], 1, "a blank is not a value"),
        (["duration", "table=/no/such/file.csv", "checking-lift=1"], 1, "There is no file"),
        (["duration", "table=.", "checking-lift=1"], 1, "is a folder"),
        (["swept-volume", "bor=70"], 2, "swept-volume has no input “bor”"),
        (["swept-volume", "70"], 2, "“70” is not key=value."),
        (["swept-volume", "=70"], 2, "is not key=value"),
        (["swept-volume", "bore=70", "BORE=71"], 2, "bore is given twice"),
        (["sweptvolume"], 2, "No formula is called “sweptvolume”"),
        (["swept-volume", "--nonsense"], 2, "--nonsense"),
    ],
)
def test_refusals_are_one_line_on_standard_error(
    call: Call, words: list[str], code: int, sentence: str
) -> None:
    said = call("reckon", *words)
    assert (said.code, said.out) == (code, "")
    assert sentence in said.err
    assert said.err.count("\n") == 1
    assert "Traceback" not in said.err


def test_hostile_words_never_reach_the_terminal_as_control_codes(call: Call) -> None:
    for words in (["\x1b[31mred"], ["swept-volume", "bore=\x1b[31m"], ["rod-load", "\x07=1"]):
        said = call("reckon", *words)
        assert said.code in (1, 2)
        assert "\x1b" not in said.out + said.err
        assert "\x07" not in said.out + said.err
