from __future__ import annotations

from attrs import evolve

from models.assets import CASES
from models.case.document import Case
from models.case.read import load_case
from models.case.requirement import Requirement
from models.decide.judges import judge_one
from models.decide.subject import Subject
from models.decide.verdict import Verdict
from models.network.solver import Solver
from models.sources.switch_node import SwitchNode


def _case(stop_hz: float) -> Case:
    case = load_case(CASES / "earthed-or-floating.toml")
    return evolve(case, sweep=evolve(case.sweep, stop_hz=stop_hz))


def _judged(case: Case, kind: str, line: str) -> Verdict:
    subject = Subject(solver=Solver(), case=case, candidate=case.candidates[0])
    return judge_one(subject, Requirement(kind=kind, limit_line=line))


def test_a_field_is_said_with_its_distance_and_its_usual_error() -> None:
    verdict = _judged(_case(300e6), "radiated-emission", "CISPR 32 class B")
    assert verdict.why.endswith("against 30.0 dBµV/m at 10 m.")
    assert any("±6 dB." in each for each in verdict.assumed)


def test_the_equation_subtracts_levels_in_their_unit_with_a_minus_sign() -> None:
    verdict = _judged(_case(300e6), "radiated-emission", "CISPR 32 class B")
    assert verdict.equation == f"30.0 dBµV/m − {verdict.value:.1f} dBµV/m = −{abs(verdict.margin_db or 0.0):.1f} dB"


def test_a_margin_within_the_usual_error_says_so() -> None:
    far = _judged(_case(300e6), "radiated-emission", "CISPR 32 class B")
    assert far.margin_db is not None
    case = _case(300e6)
    quieter = 10.0 ** ((far.margin_db - 2.0) / 20.0)
    (source,) = case.sources
    assert isinstance(source, SwitchNode)
    case = evolve(case, sources=(evolve(source, amplitude_v=source.amplitude_v * quieter),))
    near = _judged(case, "radiated-emission", "CISPR 32 class B")
    assert near.outcome == "pass"
    assert near.why.endswith("at 10 m, nearer than the usual error of ±6 dB.")


def test_what_the_sweep_leaves_out_of_a_line_is_said() -> None:
    said = "Judged to 10 MHz, the end of the sweep; the line goes on to 30 MHz."
    assert said in _judged(_case(10e6), "conducted-emission", "CISPR 32 class B").assumed
    assert not any(
        "end of the sweep" in each for each in _judged(_case(30e6), "conducted-emission", "FCC class B").assumed
    )


def test_what_a_line_is_measured_with_otherwise_is_said() -> None:
    verdict = _judged(_case(108e6), "conducted-emission", "CISPR 25 class 5")
    assert any("5 µH network" in each for each in verdict.assumed)
