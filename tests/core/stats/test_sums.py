"""Sums of blocks: against the whole covariance written out, and added over logs."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from core.errors import InputError
from core.stats import Block, SumMaker, Sums, added, lay_out
from tests.core.stats.club import Club, parted

RATIOS = (0.02, 1.0, 40.0)


def _club(seed: int = 3, machines: int = 6) -> list[Block]:
    club = Club(machines, 14, np.random.default_rng(seed), slots=4, sessions=7)
    return list(club.blocks())


def _written_out(blocks: list[Block], columns: tuple[tuple[str, str], ...], ratio: float) -> Sums:
    """The same sums by an n x n covariance and a projection, as a textbook writes them."""
    n = len(blocks)
    x = np.array([[float(c in b.levels) for c in columns] for b in blocks])
    y = np.array([b.value for b in blocks])
    days = [(b.machine, b.day) for b in blocks]
    same = np.array([[float(a == b) for b in days] for a in days])
    doubt = np.array([b.allowance_sd**2 for b in blocks])
    v = np.diag([1 / b.weight for b in blocks]) + same * (ratio + doubt[:, None])
    flat = [np.array([float(b.machine == m) for b in blocks]) for m in {b.machine for b in blocks}]
    for day in set(days):
        rows = [i for i, one in enumerate(days) if one == day]
        if len(rows) > 2:
            moments = np.array([blocks[i].moment or 0.0 for i in rows])
            if np.ptp(moments) > 0.0:
                drift = np.zeros(n)
                drift[rows] = moments - np.average(
                    moments, weights=[blocks[i].weight for i in rows]
                )
                flat.append(drift)
    z = np.column_stack(flat)
    inverse = np.linalg.inv(v)
    w = inverse - inverse @ z @ np.linalg.inv(z.T @ inverse @ z) @ z.T @ inverse
    return Sums(
        columns=columns,
        ratios=(ratio,),
        gram=(x.T @ w @ x)[None],
        product=(x.T @ w @ y)[None],
        square=np.array([y @ w @ y]),
        log_det=np.zeros(1),
        size=np.zeros(len(columns)),
        rows=n - z.shape[1],
        ss=0.0,
        dof=0.0,
        weighted=0.0,
        total=0.0,
    )


@pytest.mark.parametrize("many_kinds", [False, True])
def test_sums_are_those_of_the_covariance_written_out(many_kinds: bool) -> None:
    """Day luck, drifts, machines' constants and doubts, with few and with many kinds of day."""
    blocks = _club()
    kinds = len(blocks) if many_kinds else 1
    blocks = [replace(b, weight=4.0 + i % kinds / 97) for i, b in enumerate(blocks)]
    doubts = {b.day: 0.1 * (i % 2) for i, b in enumerate(blocks)}
    blocks = [replace(b, allowance_sd=doubts[b.day]) for b in blocks]
    maker = SumMaker.of(lay_out(blocks))
    assert (maker.kinds is None) is many_kinds
    for ratio in RATIOS:
        made = maker.at((ratio,))
        slow = _written_out(blocks, made.columns, ratio)
        assert made.rows == slow.rows
        assert np.allclose(made.gram, slow.gram, atol=1e-9)
        assert np.allclose(made.product, slow.product, atol=1e-9)
        assert np.allclose(made.square, slow.square, atol=1e-9)


def test_sums_of_several_logs_added_in_any_order_are_those_of_one_log() -> None:
    """Each log holds machines of its own, and parts that others have not."""
    blocks = _club(machines=9)
    whole = SumMaker.of(lay_out(blocks)).at(RATIOS)
    logs = [[b for b in blocks if int(b.machine[1:]) % 3 == log] for log in range(3)]
    parts = [SumMaker.of(lay_out(log)).at(RATIOS) for log in logs]
    assert any(len(part.columns) < len(whole.columns) for part in parts)
    for together in (parts[0] + parts[1] + parts[2], added(parts[::-1])):
        assert together.columns == whole.columns
        assert together.rows == whole.rows
        assert together.dof == whole.dof
        for name in ("gram", "product", "square", "log_det", "size"):
            assert np.allclose(getattr(together, name), getattr(whole, name), atol=1e-9), name
        assert together.weighted / together.total == pytest.approx(whole.weighted / whole.total)


def test_sums_at_different_ratios_or_of_nothing_cannot_be_added() -> None:
    maker = SumMaker.of(lay_out(_club()))
    with pytest.raises(InputError):
        added((maker.at((1.0,)), maker.at((2.0,))))
    with pytest.raises(InputError):
        added(())


@pytest.mark.parametrize(
    "wrong",
    [{"value": float("nan")}, {"weight": 0.0}, {"levels": (("clutch", "a"), ("clutch", "b"))}],
)
def test_what_is_no_block_is_refused(wrong: dict[str, object]) -> None:
    block = Block("m", "d", 8.0, 4.0, (("clutch", "a"),))
    with pytest.raises(InputError):
        lay_out([replace(block, **wrong)])  # type: ignore[arg-type]
    with pytest.raises(InputError):
        lay_out([])


def test_the_level_of_a_machine_does_not_touch_the_effects() -> None:
    """Values a thousand times as large on one machine change no effect by more than rounding."""
    blocks = _club()
    moved = [replace(b, value=b.value + 8000.0) if b.machine == "m001" else b for b in blocks]
    one, other = parted(blocks), parted(moved)
    assert np.allclose(one._mean, other._mean, atol=1e-8)
