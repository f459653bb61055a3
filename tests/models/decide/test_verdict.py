from __future__ import annotations

import pytest

from models.case.document import Case
from models.case.read import parse_case
from models.decide.judges import JUDGES, judge_one
from models.decide.subject import Subject
from models.errors import CaseError
from models.network.solver import Solver
from tests.models.decide.small_case import (
    CONVERTER,
    HEAD,
    SWITCH,
    T1,
    branch,
    capacitor,
    case_of,
    coupling,
    mains,
    requirement,
    verdict_of,
)
from tests.models.decide.verdict_table import ROWS, Row


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.name)
def test_known_answer(row: Row) -> None:
    verdict = verdict_of(case_of(row.pieces, bridge=row.bridge))
    assert verdict.outcome == row.outcome, verdict.why
    if row.value is not None:
        assert verdict.value == pytest.approx(row.value, rel=row.within)
    assert row.says in verdict.why
    if verdict.margin_db is not None:
        assert (verdict.margin_db >= 0.0) == (verdict.outcome == "pass")


def test_there_are_forty_known_answers_and_every_trap() -> None:
    assert len(ROWS) >= 40
    assert len({row.name for row in ROWS if row.outcome == "fail"}) >= 15


def _judged(kind: str, more: str = "", *pieces: str, bridge: str = "") -> Case:
    return case_of(*pieces, requirement(kind, more), bridge=bridge)


def test_an_unrated_gap_is_said_not_passed_in_silence() -> None:
    verdict = verdict_of(_judged("withstand", 'limit = "4 kV"', bridge=branch(capacitor(1e-9, 'safety_class = "Y1"'))))
    assert verdict.outcome == "pass"
    assert any("gap" in text and "taken as sound" in text for text in verdict.assumed)


def test_a_verdict_on_safety_carries_its_caution_and_source() -> None:
    for kind, more in (("withstand", "limit = 4000"), ("separation", ""), ("touch-current", "limit = 0.25e-3")):
        verdict = verdict_of(_judged(kind, more, mains(), bridge=branch(capacitor(1e-9))))
        assert "not a certification" in verdict.caution, kind
        assert verdict.source, kind


def test_what_fails_with_a_fault_is_not_said_to_pass_at_nominal_values() -> None:
    """Two of 4.7 nF, 20 %: 224 µA at 253 V, 170 µA at nominal values, and about twice that with one shorted."""
    bridge = branch(*[capacitor(4.7e-9, "tolerance = 0.2")] * 2)
    limits = (("limit = 0.2e-3", ""), ("limit = 0.2e-3\nfault_limit = 1e-3", "passes only at nominal values"))
    for limit, said in limits:
        verdict = verdict_of(_judged("touch-current", limit, mains(230.0, 50.0), bridge=bridge))
        assert verdict.outcome == "fail"
        assert verdict.nominal == pytest.approx(2.0 * 3.141592653589793 * 50.0 * 230.0 * 2.35e-9, rel=2e-3)
        assert ("passes only at nominal values" in verdict.why) == bool(said), verdict.why


def test_shorting_one_of_two_doubles_the_touch_current() -> None:
    bridge = branch(*[capacitor(1e-9, "tolerance = 0.2")] * 2)
    verdict = verdict_of(_judged("touch-current", 'limit = "0.05 mA"', mains(), bridge=bridge))
    # the gap's 1.5 pF does not double
    both, one = 2.0 * 3.141592653589793 * 50.0 * 253.0 * 0.6e-9, 2.0 * 3.141592653589793 * 50.0 * 253.0 * 1.2e-9
    assert both < 0.05e-3 < one
    assert verdict.outcome == "fail"
    assert verdict.value == pytest.approx(one, rel=2e-3)


def test_loss_of_earth_is_a_fault_where_its_limit_is_stated() -> None:
    earthed = coupling("earth wire", "s", "earth", '{ kind = "copper", resistance = 0.1 }')
    bridge = branch(capacitor(47e-9))
    calm = verdict_of(_judged("touch-current", 'limit = "0.5 mA"', mains(), earthed, bridge=bridge))
    more = 'limit = "0.5 mA"\nfault_limit = "3.5 mA"'
    faulted = verdict_of(_judged("touch-current", more, mains(), earthed, bridge=bridge))
    assert calm.outcome == "pass"
    assert faulted.outcome == "fail"
    assert "protective conductor interrupted" in faulted.why


def test_a_transformer_tolerance_counts_against_the_pass() -> None:
    source = (
        '[[source]]\nname = "switch"\nkind = "switch-node"\nthrough = "T1"\namplitude = "400 V"\nfrequency = 1e5\n'
        "duty = 0.5\nrise = 5e-8\nfall = 5e-8\n"
    )
    verdict = verdict_of(
        _judged(
            "common-mode-voltage", 'limit = "8 V"', T1 + "tolerance = 0.2\n", source, bridge=branch(capacitor(1e-9))
        )
    )
    assert verdict.value == pytest.approx(200.0 * 48.0 / (1120.0 + 1.5), rel=1e-3)
    assert verdict.outcome == "fail"


def test_only_what_is_asked_is_computed() -> None:
    case = _judged("blocks-dc", "", CONVERTER)
    subject = Subject(solver=Solver(), case=case, candidate=case.candidates[0])
    judge_one(subject, case.requirements[0])
    assert "common_mode" not in vars(subject)


@pytest.mark.parametrize(
    "text",
    [
        'kind = "blocks-dc"\ninsulation = "basic"',
        'kind = "dc-drop"\nlimit = 1\nfault_limit = 1',
        'kind = "withstand"\nlimit = 1\npreset = "x"',
        'kind = "separation"\ninsulation = "thick"',
        'kind = "separation"\nlimit = 1',
    ],
)
def test_a_key_that_means_nothing_to_the_kind_is_refused(text: str) -> None:
    coupled = (
        '[[coupling]]\nname = "gap"\nbetween = ["p", "s"]\nparts = [{ kind = "capacitor", capacitance = 1e-12 }]\n'
    )
    with pytest.raises(CaseError):
        parse_case(HEAD.replace('others = ["chassis"]\n', "") + coupled + f"[[requirement]]\n{text}\n")


def test_every_kind_of_requirement_has_a_judge() -> None:
    from models.case.requirement import DEMANDS

    assert set(JUDGES) == set(DEMANDS)


_LEAD = '[[cable]]\nname = "mains lead"\nregion = "p"\nlength = 1.5\ndiameter = 0.006\nheight = 0.8\nfar_end = "lisn"\n'
_SENSOR = (
    '[[cable]]\nname = "sensor lead"\nregion = "s"\nlength = 2.0\ndiameter = 0.004\nheight = 0.8\nfar_end = "open"\n'
)


@pytest.mark.parametrize(
    ("kind", "line"),
    [("conducted-emission", "CISPR 32 class B"), ("radiated-emission", "CISPR 32 class B, 10 m")],
)
def test_emission_is_judged_with_its_closest_line(kind: str, line: str) -> None:
    limit = f'limit_line = "{line}"'
    loud = verdict_of(_judged(kind, limit, T1, SWITCH, _LEAD, _SENSOR))
    calm = verdict_of(_judged(kind, limit, T1, SWITCH, _LEAD, _SENSOR, bridge=branch(capacitor(4.7e-9))))
    assert loud.outcome == "fail"
    assert loud.margin_db is not None
    assert calm.margin_db is not None
    assert calm.margin_db > loud.margin_db + 10.0
    assert loud.limit is not None
    assert loud.value == pytest.approx(loud.limit - loud.margin_db)
    assert "at" in loud.why
    assert "CISPR 32" in loud.source


def test_amplitudes_are_added_only_where_there_are_several_sources() -> None:
    second = SWITCH.replace('"switch"', '"second"').replace("100 kHz", "130 kHz")
    for sources, added in ((SWITCH, False), (SWITCH + second, True)):
        found = verdict_of(_judged("conducted-emission", 'limit_line = "CISPR 32 class B"', T1, sources, _LEAD))
        assert any("sources added" in each for each in found.assumed) == added


def test_an_unknown_limit_line_is_refused_with_the_known_ones() -> None:
    with pytest.raises(CaseError, match=r"house rule.*CISPR 32"):
        _judged("conducted-emission", 'limit_line = "house rule"', T1, SWITCH, _LEAD)


def test_a_bleed_says_that_further_regions_hold_charge_of_their_own() -> None:
    resistor = branch('{ kind = "resistor", resistance = "1 Mohm" }')
    three = _judged("static-bleed", "limit = 1.0", bridge=resistor)
    two = parse_case(
        'isthmus = 1\n[pair]\na = "p"\nb = "s"\n'
        + coupling("gap", "p", "s", capacitor(1e-9))
        + requirement("static-bleed", "limit = 1.0")
        + f'[[candidate]]\nname = "it"\n{resistor}'
    )
    said = [any("what another region holds" in each for each in verdict_of(case).assumed) for case in (three, two)]
    assert said == [True, False]


def test_the_mean_of_a_signal_says_how_the_line_is_taken_to_end() -> None:
    text = (
        '[[source]]\nname = "clock"\nkind = "crossing-signal"\nbetween = ["p", "s"]\nswing = "3.3 V"\n'
        'impedance = "50 ohm"\nfrequency = "10 MHz"\nduty = 0.5\nrise = "1 ns"\nfall = "1 ns"\n'
    )
    wire = branch('{ kind = "copper", resistance = "10 mohm" }')
    signal = verdict_of(_judged("dc-drop", "limit = 1.0", CONVERTER, text, bridge=wire))
    assert any(each.startswith("clock: the current flows as long as a line is high") for each in signal.assumed)
    assert verdict_of(_judged("dc-drop", "limit = 1.0", CONVERTER, bridge=wire)).assumed == ()


def test_the_working_of_a_loop_current_goes_round_the_whole_loop() -> None:
    """0.1 V between earths, 20 mΩ and 30 mΩ of bonds, 0.1 Ω of bridge."""
    bonds = [coupling(f"bond of {each}", each, "earth", f'{{ kind = "copper", resistance = {ohm} }}')
             for each, ohm in (("p", 0.02), ("s", 0.03))]  # fmt: skip
    offset = (
        '[[source]]\nname = "offset"\nkind = "mains-offset"\nbetween = ["p", "s"]\nvoltage = "0.1 V"\n'
        'frequency = "50 Hz"\n'
    )
    bridge = branch('{ kind = "copper", resistance = "100 mohm" }')
    verdict = verdict_of(_judged("loop-current", "limit = 1.0", *bonds, offset, bridge=bridge))
    assert verdict.equation == "I = 100 mV/150 mΩ = 667 mA rms, round the whole loop"


def test_the_crests_of_a_loop_current_saturate_a_bead() -> None:
    """0.1 V over 0.1 Ω and 0.3 Ω of bonds and 0.3 Ω of bead: 143 mA; L/L0 = 1/(1 + (202 mA/175 mA)^1.6) = 0.4428."""
    bonds = [
        coupling(f"bond of {each}", each, "earth", f'{{ kind = "copper", resistance = {ohm} }}')
        for each, ohm in (("p", 0.1), ("s", 0.3))
    ]
    offset = (
        '[[source]]\nname = "offset"\nkind = "mains-offset"\nbetween = ["p", "s"]\nvoltage = "0.1 V"\n'
        'frequency = "50 Hz"\n'
    )
    bead = (
        '{{ kind = "bead", rdc = 0.3, rated_current = {}, cells = [{{ resistance = 700.0, inductance = 1.39e-6, '
        "capacitance = 0.455e-12 }}] }}"
    )
    said = [
        verdict_of(_judged("loop-current", "limit = 1.0", *bonds, offset, bridge=branch(bead.format(rated)))).assumed
        for rated in (0.5, 5.0, "0.5, bias_current = 0.1")
    ]
    assert any("the crests of the loop current leave 44 % of its inductance" in each for each in said[0])
    assert not any("crests" in each for each in said[1])
    # 1/(1 + (302 mA/175 mA)^1.6) = 0.295 under the bias and the crest together
    assert any("the crests of the loop current leave 29 % of its inductance" in each for each in said[2])
