"""What is saved comes back the same, from a file that can be read without the tool."""

from __future__ import annotations

import json
import math
import os
import random
from datetime import datetime
from pathlib import Path

import msgspec
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from core.errors import BrokenDocumentError, NotFoundError
from tests.core.log.samples import BENCH, VISITS, Bench, Reading, Try, Visit, VisitHead, open_log

WHEN = datetime.fromisoformat("2026-04-12T10:30:00.250000+02:00")
VISIT = Visit(
    id="20260412-083000-aaaaaa",
    label="S01 \N{LATIN SMALL LETTER O WITH DIAERESIS}",
    started=WHEN,
    tries=(Try(value=7.26, text="726"), Try(value=7.31, text="7,31", tags=("bog",))),
)
SECOND = Visit(id="20260412-093000-bbbbbb")

_texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
_numbers = st.floats(allow_nan=False, allow_infinity=False)
_readings = st.builds(Reading, value=st.none() | _numbers, state=_texts)
_benches = st.builds(
    Bench,
    id=st.from_regex(r"b[a-z0-9_-]{0,20}", fullmatch=True),
    slots=st.dictionaries(_texts, _readings, max_size=4),
    rows=st.lists(st.integers(-(2**63), 2**63 - 1), max_size=4),
)


def test_a_document_comes_back_the_same_from_another_log_object(folder: Path) -> None:
    with open_log(folder) as log:
        log.save(VISIT)
        assert log.get(Visit, VISIT.id) == VISIT
    with open_log(folder) as log:
        assert log.get(Visit, VISIT.id) == VISIT
        back = log.get(Visit, VISIT.id).started
        assert back is not None
        assert back.utcoffset() == WHEN.utcoffset()


def test_the_file_is_readable_without_the_tool(folder: Path) -> None:
    with open_log(folder) as log:
        log.save(VISIT)
        text = (folder / "visits" / f"{VISIT.id}.json").read_text(encoding="utf-8")
        assert json.loads((folder / "log.json").read_text()) == {"format": 1, "id": log.id}
    assert text.startswith(
        '{\n  "format": 1,\n  "id": "20260412-083000-aaaaaa",\n  "label": "S01 ö"'
    )
    assert text.endswith("}\n")
    assert json.loads(text)["tries"][1] == {"value": 7.31, "text": "7,31", "tags": ["bog"]}


def test_a_log_id_stays(folder: Path) -> None:
    with open_log(folder) as log:
        first = log.id
    with open_log(folder) as log:
        assert log.id == first
        assert first.startswith("20260412-083000-")


def test_the_same_clock_and_random_source_make_the_same_log(tmp_path: Path) -> None:
    made = []
    for name in ("one", "other"):
        with open_log(tmp_path / name, rng=random.Random(4)) as log:
            log.save(VISIT)
        made.append([p.read_bytes() for p in sorted((tmp_path / name).rglob("*.json"))])
    assert made[0] == made[1]
    assert len(made[0]) == 2


@settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(bench=_benches)
def test_any_document_survives_its_file(folder: Path, bench: Bench) -> None:
    with open_log(folder) as log:
        log.save(bench)
    with open_log(folder, read_only=True) as log:
        assert log.get(Bench, bench.id) == bench


def test_mappings_are_written_in_one_order_whatever_theirs(folder: Path) -> None:
    one = Bench(id="b", slots={"jet": Reading(value=95.0), "air": Reading(value=2.0)})
    other = Bench(id="b", slots=dict(reversed(one.slots.items())))
    with open_log(folder) as log:
        log.save(one)
        before = (folder / "bench/b.json").read_bytes()
        log.save(other)
        assert (folder / "bench/b.json").read_bytes() == before


def test_ids_heads_and_all_are_sorted_by_id(folder: Path) -> None:
    with open_log(folder) as log:
        log.save(SECOND, VISIT)
        assert log.ids(Visit) == [VISIT.id, SECOND.id]
        assert log.all(Visit) == [VISIT, SECOND]
        heads = [VisitHead(id=v.id, label=v.label, started=v.started) for v in (VISIT, SECOND)]
        assert log.heads(Visit) == heads == log.heads(VISITS)


def test_only_changed_bytes_are_written(folder: Path) -> None:
    file = folder / "visits" / f"{VISIT.id}.json"
    with open_log(folder) as log:
        log.save(VISIT)
        os.utime(file, ns=(10**9, 10**9))
        log.save(VISIT)
        assert file.stat().st_mtime_ns == 10**9
        log.save(msgspec.structs.replace(VISIT, note="x"))
        assert file.stat().st_mtime_ns != 10**9


def test_nothing_handed_out_is_part_of_the_log(folder: Path) -> None:
    with open_log(folder) as log:
        log.save(Bench(id="b", slots={"jet": Reading(value=95.0)}, rows=[1, 2]))
        log.get(Bench, "b").rows.append(3)
        log.get(Bench, "b").slots.clear()
        log.heads(BENCH).clear()
        log.ids(Bench).clear()
        assert log.get(Bench, "b").rows == [1, 2]
        assert list(log.get(Bench, "b").slots) == ["jet"]
        assert [head.id for head in log.heads(BENCH)] == log.ids(Bench) == ["b"]


@pytest.mark.parametrize("id_", ["20260412-083000-zzzzzz", "", "../log", "visits/x", "A b"])
def test_an_id_that_is_not_there_is_not_found(folder: Path, id_: str) -> None:
    with open_log(folder) as log, pytest.raises(NotFoundError, match="no visit"):
        log.get(Visit, id_)


@pytest.mark.parametrize("id_", ["", "../x", "Moth", "a.b", "con"])
def test_an_id_that_cannot_be_a_file_name_is_not_saved(folder: Path, id_: str) -> None:
    with open_log(folder) as log, pytest.raises(BrokenDocumentError, match="file name") as caught:
        log.save(Visit(id=id_))
    assert caught.value.field == "id"
    assert list((folder / "visits").iterdir()) == []


@pytest.mark.parametrize(
    ("document", "field"),
    [
        (Visit(id="v", label=3), "label"),  # type: ignore[arg-type]
        (Visit(id="v", tries=(Try(value=math.nan),)), "tries[0].value"),
        (Visit(id="v", tries=[Try(value=1.0)]), "tries"),  # type: ignore[arg-type]
        (Bench(id="v", slots={"jet": Reading(value=math.inf)}), "slots"),
        (Bench(id="v", slots={"jet": Reading(value="95")}), "slots[jet].value"),  # type: ignore[arg-type]
        (Visit(id="v", label="\udcff"), ""),
    ],
)
def test_what_would_not_read_back_is_refused_before_anything_is_written(
    folder: Path, document: Visit | Bench, field: str
) -> None:
    with open_log(folder) as log:
        with pytest.raises(BrokenDocumentError, match="was not saved") as caught:
            log.save(SECOND, document)
        assert caught.value.field == field
        assert log.ids(Visit) == log.ids(Bench) == []


def test_a_type_nobody_registered_is_a_mistake_of_the_program(folder: Path) -> None:
    class Stray(Visit, frozen=True, kw_only=True):
        pass

    with open_log(folder) as log, pytest.raises(TypeError, match="Stray"):
        log.save(Stray(id="s"))
