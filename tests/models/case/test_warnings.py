"""What a case has to say before its numbers are believed."""

from __future__ import annotations

import pytest

from models.assets import CASES
from models.case.document import Case
from models.case.read import load_case, parse_case


def _case(frequency: str, edges: str, stop: str) -> Case:
    return parse_case(
        f'isthmus = 1\n[pair]\na = "a"\nb = "b"\n[sweep]\nstop = "{stop}"\n'
        '[[transformer]]\nname = "T1"\nbetween = ["a", "b"]\ninterwinding_capacitance = "100 pF"\n'
        '[[source]]\nname = "switch"\nkind = "switch-node"\nthrough = "T1"\namplitude = "100 V"\n'
        f'frequency = "{frequency}"\nduty = 0.5\nrise = "{edges}"\nfall = "{edges}"\n'
    )


def test_a_source_beyond_the_sweep_is_said_for_it_comes_to_nothing() -> None:
    (said,) = _case("2 MHz", "10 ns", "1 MHz").warnings()
    assert said == 'source "switch", 2 MHz, lies beyond the end of the sweep, 1 MHz: nothing of it counts'


@pytest.mark.parametrize(("edges", "left_out"), [("1 ns", True), ("1.1 ns", False), ("0 s", True)])
def test_edges_whose_corner_the_sweep_does_not_reach_are_said(edges: str, *, left_out: bool) -> None:
    """1/(π·1 ns) = 318 MHz and 1/(π·1.1 ns) = 289 MHz, in a sweep to 300 MHz."""
    said = _case("1 MHz", edges, "300 MHz").warnings()
    assert any(f"edges of {edges}" in each for each in said) == left_out


def test_the_shipped_cases_have_nothing_to_warn_of() -> None:
    assert [load_case(path).warnings() for path in CASES.glob("*.toml")] == [()] * len(list(CASES.glob("*.toml")))
