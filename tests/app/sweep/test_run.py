"""The run: the numbers of an evaluation, the same whoever computes them, never more in hand than asked for."""

from __future__ import annotations

import math
import pickle
from collections.abc import Callable
from concurrent.futures import Future, ProcessPoolExecutor, ThreadPoolExecutor
from multiprocessing import get_context
from typing import Any

import pytest
from attrs import evolve

from app.sweep.address import find
from app.sweep.columns import Columns
from app.sweep.faults import SweepError
from app.sweep.here import Here
from app.sweep.plan import CHUNK, Plan, compute, make_plan
from app.sweep.run import run
from app.sweep.values import axis
from models.assets import CASES, DEMO_CASE
from models.case.read import load_case
from models.decide.judges import judge
from models.network.grid import point_grid
from models.outcomes.evaluation import Evaluator

DEMO = load_case(DEMO_CASE)
C = "candidate[1].branch[0].parts[0].capacitance"
CHEAP = Columns(groups=("impedance",))


def plan(*texts: str, columns: Columns = CHEAP, names: tuple[str, ...] = ()) -> Plan:
    return make_plan(DEMO, tuple(axis(DEMO, text) for text in texts), columns, names)


def rows(asked: Plan, executor: Any = None, **options: Any) -> list[tuple[Any, ...]]:
    return [row for done in run(asked, executor or Here(), **options) for row in done.rows]


def test_every_number_is_that_of_an_evaluation() -> None:
    asked = plan(f"{C}=1n,2n2", "mains.voltage=120,230", columns=Columns(at_hz=(1e6,)), names=("Y-capacitor 1 nF",))
    found = [dict(zip(asked.headings, row, strict=True)) for row in rows(asked)]
    assert len(found) == 4
    for row in found:
        case = find(DEMO, C).put(DEMO, row[f"{C} (F)"])
        case = find(case, "mains.voltage").put(case, row["mains.voltage (V)"])
        evaluator = Evaluator()
        outcome = evaluator.evaluate(case).outcomes[1]
        assert row["flyback switch: peak_v"] == pytest.approx(outcome.peak_v(), rel=1e-12)
        assert row["bridge_dc_ohm"] == outcome.dc.bridge_ohm
        z = evaluator.solver.in_circuit(case, outcome.candidate, point_grid((1e6,)))[0]
        assert complex(row["in_circuit_re_ohm at 1 MHz"], row["in_circuit_im_ohm at 1 MHz"]) == pytest.approx(z)
        assert outcome.touch is not None
        assert row["touch_worst_weighted_a_rms"] == pytest.approx(outcome.touch.worst_weighted_a, rel=1e-12)
        for index, verdict in enumerate(judge(evaluator, case, outcome)):
            name = f"requirement[{index}] {verdict.requirement}"
            assert row[f"{name}: outcome"] == verdict.outcome
            assert row[f"{name}: value"] == (None if verdict.value is None else pytest.approx(verdict.value))


def test_emission_is_judged_too() -> None:
    case = load_case(CASES / "earthed-or-floating.toml")
    values = axis(case, "source[0].amplitude=5,50")
    asked = make_plan(case, (values,), Columns(groups=("verdicts",)), (case.candidates[0].name,))
    found = [dict(zip(asked.headings, row, strict=True)) for row in rows(asked)]
    for row in found:
        changed = find(case, "source[0].amplitude").put(case, row["source[0].amplitude (V)"])
        evaluator = Evaluator()
        verdicts = judge(evaluator, changed, evaluator.evaluate(changed).outcomes[0])
        for index, verdict in enumerate(verdicts):
            margin = row[f"requirement[{index}] {verdict.requirement}: margin_db"]
            assert margin == (None if verdict.margin_db is None else pytest.approx(verdict.margin_db))


class Modest:
    """An executor of somebody else: it knows submit alone, and computes when asked for the result."""

    def __init__(self) -> None:
        self.in_hand = 0
        self.most = 0
        self.cancelled = 0

    def submit(self, fn: Callable[..., Any], /, *args: Any) -> Late:
        self.in_hand += 1
        self.most = max(self.most, self.in_hand)
        return Late(self, pickle.dumps((fn, args)))


class Late:
    """A value that is computed when it is asked for, from what went through a pickle."""

    def __init__(self, owner: Modest, packed: bytes) -> None:
        self._owner, self._packed = owner, packed

    def result(self) -> Any:
        fn, args = pickle.loads(self._packed)
        self._owner.in_hand -= 1
        return pickle.loads(pickle.dumps(fn(*args)))

    def cancel(self) -> None:
        self._owner.cancelled += 1


def test_any_executor_gives_the_same_to_the_last_bit() -> None:
    asked = plan(f"{C}=100p..10n:250", columns=Columns(groups=("common-mode",)))
    expected = rows(asked)
    assert len(expected) == 250
    with ThreadPoolExecutor(2) as threads:
        assert rows(asked, threads) == expected
    with ProcessPoolExecutor(2, mp_context=get_context("spawn")) as processes:
        assert rows(asked, processes) == expected
    modest = Modest()
    assert rows(asked, modest, ahead=2) == expected
    assert modest.most == 2


def test_a_start_in_the_middle_gives_the_rest() -> None:
    asked = plan(f"{C}=100p..10n:250")
    assert rows(asked, start=CHUNK) == rows(asked)[CHUNK:]
    assert rows(asked, start=250) == []


def test_closing_cancels_what_waits() -> None:
    modest = Modest()
    running = run(plan(f"{C}=100p..10n:1000"), modest, ahead=3)
    assert next(running).stop == CHUNK
    running.close()
    assert modest.cancelled == 2


def test_a_failure_in_a_worker_comes_out() -> None:
    class Broken:
        def submit(self, _fn: Callable[..., Any], /, *_args: Any) -> Future[Any]:
            future: Future[Any] = Future()
            future.set_exception(MemoryError("no more"))
            return future

    with pytest.raises(MemoryError, match="no more"):
        rows(plan(f"{C}=100p..10n:10"), Broken())


def test_a_point_that_cannot_be_has_its_reason_and_nothing_else() -> None:
    asked = plan("sweep.stop=5,1k", "sweep.start=10,100", names=("Copper",))
    found = [dict(zip(asked.headings, row, strict=True)) for row in rows(asked)]
    assert [bool(row["problem"]) for row in found] == [True, True, False, False]
    assert "more than start" in found[0]["problem"]
    assert found[0]["bridge_dc_ohm"] is None
    assert found[2]["bridge_dc_ohm"] == 0.6e-3


def test_a_contradiction_is_a_reason_too() -> None:
    asked = plan("mains.feeds=primary,nowhere", names=("Copper",))
    assert [row[-1] != "" for row in rows(asked)] == [False, True]


def test_what_is_cheap_to_move_moves_fastest() -> None:
    asked = plan("requirement[3].limit=1,2", f"{C}=1n,2n", "transformer[0].driven_fraction=0.2,0.4")
    assert [each.path[0] for each in asked.addresses] == ["transformers", "candidates", "requirements"]
    assert [asked.values(point) for point in range(3)] == [(0.2, 1e-9, 1.0), (0.2, 1e-9, 2.0), (0.2, 2e-9, 1.0)]
    assert asked.values(7) == (0.4, 2e-9, 2.0)


def test_rows_are_of_the_candidates_that_are_touched() -> None:
    assert plan(f"{C}=1n,2n").candidates == (1,)
    assert plan(f"{C}=1n,2n", "mains.voltage=120,230").candidates == (0, 1, 2, 3, 4)
    assert plan(f"{C}=1n,2n", names=("Copper", "Nothing")).candidates == (3, 4)


def test_plans_that_make_no_sense_are_refused() -> None:
    with pytest.raises(SweepError, match="varies twice"):
        plan(f"{C}=1n,2n", f"{C}=3n")
    with pytest.raises(SweepError, match='"Copper"'):
        plan(f"{C}=1n,2n", names=("copper",))
    with pytest.raises(SweepError, match="100000000 points"):
        plan(f"{C}=1n..2n:10000", "mains.voltage=1..2:10000")
    bare = evolve(DEMO, candidates=())
    with pytest.raises(SweepError, match="no candidate"):
        make_plan(bare, (axis(bare, "mains.voltage=120,230"),), CHEAP)


def test_a_chunk_is_small_to_send() -> None:
    asked = plan(f"{C}=1n..2n:2000", "mains.voltage=1..2:100")
    assert asked.points == 200_000
    assert len(pickle.dumps((compute, asked.chunk(150_000)))) < 60_000


def test_infinite_stays_infinite() -> None:
    asked = plan("mains.voltage=120,230", names=("Nothing",))
    assert rows(asked)[0][asked.headings.index("bridge_dc_ohm")] == math.inf
