from __future__ import annotations

import math

import pytest
from attrs import evolve

from app.present.matters import matters_spec
from app.state.edits import set_value
from models.assets import CASES
from models.case.document import Branch, Candidate, Case, Pair
from models.case.read import load_case
from models.network.grid import point_grid
from models.network.solver import Solver
from models.parts.capacitor import Capacitor


@pytest.fixture(scope="module")
def case() -> Case:
    return load_case(CASES / "class-ii-supply.toml")


def level_db(case: Case, f_hz: float) -> float:
    z = Solver().in_circuit(case, case.candidates[0], point_grid((f_hz,)))[0]
    return 20.0 * math.log10(abs(z))


def test_what_a_row_says_is_what_solving_anew_gives(case: Case) -> None:
    rows = matters_spec(Solver(), case, 0, 60e6).rows
    row = next(each for each in rows if each.text == "1 nH less ESL")
    path = ("candidates", 0, "branches", 0, "parts", 0, "esl_h")
    # the list speaks of a step as if all were linear: a tenth of it is
    moved = 10.0 * (level_db(set_value(case, path, 7.9e-9), 60e6) - level_db(case, 60e6))
    said = float(row.change.removesuffix(" dB").replace("−", "-"))
    assert said == pytest.approx(moved, rel=0.05)


def test_the_strongest_comes_first_and_fills_its_bar(case: Case) -> None:
    fractions = [row.fraction for row in matters_spec(Solver(), case, 0, 10e6).rows]
    assert fractions[0] == 1.0
    assert fractions == sorted(fractions, reverse=True)
    assert len(fractions) <= 4


def test_the_list_says_where_it_holds(case: Case) -> None:
    assert matters_spec(Solver(), case, 0, 60e6).note.startswith("at 60 MHz")


def test_low_down_the_leads_do_not_matter(case: Case) -> None:
    texts = [row.text for row in matters_spec(Solver(), case, 0, 1e3).rows]
    assert any("capacitance" in text for text in texts)
    assert not any("ESL" in text for text in texts)


def test_regions_that_nothing_joins_have_no_list() -> None:
    bare = Case(pair=Pair(a="A", b="B"), candidates=(Candidate(name="Nothing"),))
    assert matters_spec(Solver(), bare, 0, 1e6).empty == "Nothing joins the regions."


def test_an_ideal_capacitor_is_all_that_matters() -> None:
    branch = Branch(parts=(Capacitor(capacitance_f=1e-9),))
    bare = Case(pair=Pair(a="A", b="B"), candidates=(Candidate(name="C", branches=(branch,)),))
    (row,) = matters_spec(Solver(), bare, 0, 1e6).rows
    # |Z| = 1/(ωC): a tenth less, taken as linear, is 0.1·8.686 dB more
    assert (row.text, row.change) == ("10 % less capacitance", "+0.87 dB")


def test_without_candidates_it_says_so(case: Case) -> None:
    assert matters_spec(Solver(), evolve(case, candidates=()), 0, 1e6).empty == "No candidate is selected."


def test_the_branch_of_a_value_is_named_only_where_there_are_several(case: Case) -> None:
    (branch,) = case.candidates[0].branches
    two = evolve(case, candidates=(evolve(case.candidates[0], branches=(branch, branch)),))
    alone, beside = ({row.owner for row in matters_spec(Solver(), each, 0, 1e6).rows} for each in (case, two))
    assert alone == {"capacitor"}
    assert {"branch 1, capacitor", "branch 2, capacitor"} <= beside
