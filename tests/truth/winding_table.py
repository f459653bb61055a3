"""Interwinding coupling: shares by construction, gap voltage, sizing."""

from __future__ import annotations

from models.case.document import Case, Pair, Transformer
from models.case.requirement import Requirement
from models.decide.bounds import Problem, least_capacitance
from models.decide.template import Template
from models.formulas import winding
from models.network.grid import point_grid
from models.network.solver import Solver
from models.sources.switch_node import SwitchNode
from models.sources.trapezoid import Trapezoid
from tests.truth.row import Row

SWITCH_V = 400.0


def _case(*requirements: Requirement) -> Case:
    """40 pF from the switch node and 60 pF from the quiet end, 400 V between them."""
    transformer = Transformer(name="T", between=("p", "s"), interwinding_capacitance_f=100e-12, driven_fraction=0.4)
    wave = Trapezoid(frequency_hz=100e3, duty=0.5, rise_s=1e-6, fall_s=1e-6)
    source = SwitchNode(name="switch", through="T", amplitude_v=SWITCH_V, wave=wave)
    return Case(
        pair=Pair(a="p", b="s"),
        transformers=(transformer,),
        candidates=(),
        sources=(source,),
        requirements=requirements,
    )


def gap_voltage(bridge_f: float) -> float:
    """Voltage between the windings over a capacitor, V peak to peak."""
    case, candidate = _case(), Template().candidate(bridge_f)
    return SWITCH_V * abs(complex(Solver().transfer(case, candidate, case.sources[0], point_grid((1e6,)))[0]))


def least_bridge_capacitance(wanted_v: float) -> float:
    """Least capacitor that holds the windings at a voltage peak to peak: half of it to either side of the mean."""
    case = _case(Requirement(kind="common-mode-voltage", limit=0.5 * wanted_v))
    found = least_capacitance(Problem(case=case, template=Template(), solver=Solver()))
    assert found is not None
    return found


ROWS = (
    *(
        Row(
            id=f"single layer, secondary to {swing:.3g}",
            section="4.1",
            function=winding.driven_share,
            args={"primary": (0.0, 1.0), "secondary": (0.0, swing)},
            expected=share,
        )
        for swing, share in ((0.0, 0.5), (10 / 60, 0.4167), (-10 / 60, 0.5833))
    ),
    *(
        Row(
            id=f"three layers {facing}",
            section="4.1",
            function=winding.layered_share,
            args={"layers": 3, "facing": facing},
            expected=share,
        )
        for facing, share in (("hot", 0.8333), ("cold", 0.1667))
    ),
    *(
        Row(
            id=f"gap voltage {bridge:g}",
            section="4.2",
            function=gap_voltage,
            args={"bridge_f": bridge},
            expected=voltage,
        )
        for bridge, voltage in ((0.0, 160.0), (470e-12, 28.07), (1e-9, 14.55), (2.2e-9, 6.957))
    ),
    *(
        Row(
            id=f"least capacitor {wanted:g} V",
            section="4.2",
            function=least_bridge_capacitance,
            args={"wanted_v": wanted},
            expected=capacitance,
        )
        for wanted, capacitance in ((10.0, 1.500e-9), (5.0, 3.100e-9))
    ),
)
