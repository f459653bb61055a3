"""Touch current: the body networks over frequency, what flows, and the capacitance that limits allow."""

from __future__ import annotations

import math

from models.case.document import Branch, Candidate, Case, Mains, Pair
from models.case.requirement import Requirement
from models.decide.bounds import Problem, most_capacitance
from models.decide.template import Template
from models.formulas import bodynet
from models.network.solver import Solver
from models.outcomes.touch import touch_current
from models.parts.capacitor import Capacitor
from models.parts.part import Rating
from tests.truth.row import Row

# f, |Zin| without filter, then U1 and U2 over I
TRANSFERS = (
    (50.0, 1990.0, 500.0, 498.7),
    (60.0, 1986.0, 500.0, 498.1),
    (100.0, 1961.0, 500.0, 494.8),
    (1e3, 978.6, 500.0, 283.7),
    (1e4, 508.6, 500.0, 34.37),
    (1e5, 500.1, 500.0, 3.445),
    (1e6, 500.0, 500.0, 0.3445),
)
# f, U2/(500·I), digits printed; by nodal solution 0.06873529, where the sheet prints 0.06873
WEIGHTS = (
    (50.0, 0.9974, 4),
    (60.0, 0.9962, 4),
    (100.0, 0.9896, 4),
    (1e3, 0.5674, 4),
    (1e4, 0.06874, 4),
    (1e5, 0.006890, 4),
    (1e6, 0.000689, 3),
)
LIMITS = (
    (0.10e-3, (1.048e-9, 1.005e-9, 0.8373e-9, 1.675e-9)),
    (0.25e-3, (2.621e-9, 2.512e-9, 2.093e-9, 4.187e-9)),
    (0.50e-3, (5.242e-9, 5.024e-9, 4.187e-9, 8.373e-9)),
    (0.75e-3, (7.863e-9, 7.536e-9, 6.280e-9, 12.56e-9)),
    (3.5e-3, (36.70e-9, 35.17e-9, 29.31e-9, 58.61e-9)),
)
MAINS = ((253.0, 50.0), (264.0, 50.0), (264.0, 60.0), (132.0, 60.0))


def _case(voltage_v: float, f_hz: float, limit_a: float = 0.0) -> Case:
    return Case(
        pair=Pair(a="hot", b="out"),
        candidates=(),
        mains=Mains(voltage_v=voltage_v, frequency_hz=f_hz, tolerance=0.0, feeds="hot", touched="out"),
        requirements=(Requirement(kind="touch-current", limit=limit_a),),
    )


def person_left_out(capacitance_f: float, f_hz: float) -> float:
    """What a current through a capacitor rises by where the sheet's rule I = 2πfCV leaves the person out."""
    capacitor = 1.0 / (2j * math.pi * f_hz * capacitance_f)
    return abs((capacitor + complex(bodynet.input_impedance(f_hz, "unweighted"))) / capacitor)


def touched(capacitance_f: float, voltage_v: float, f_hz: float) -> float:
    """Touch current over a capacitor, the person left out, A rms."""
    candidate = Candidate(name="it", branches=(Branch(parts=(Capacitor(capacitance_f=capacitance_f),)),))
    found = touch_current(Solver(), _case(voltage_v, f_hz), candidate)
    assert found is not None
    return found.unweighted_a * person_left_out(capacitance_f, f_hz)


def most(limit_a: float, voltage_v: float, f_hz: float) -> float:
    """Greatest nominal capacitance of ±20 % that a limit allows, the person left out, F."""
    part = Capacitor(capacitance_f=1e-9, rating=Rating(tolerance=0.2))
    problem = Problem(case=_case(voltage_v, f_hz, limit_a), template=Template(parts=(part,)), solver=Solver())
    found = most_capacitance(problem)
    assert found is not None
    return found / person_left_out(1.2 * found, f_hz)


def _transfer_rows() -> list[Row]:
    rows = []
    for f, impedance, *outputs in TRANSFERS:
        rows.append(
            Row(
                id=f"Zin {f:g}",
                section="9.1",
                function=bodynet.input_impedance,
                args={"f_hz": f, "network": "unweighted"},
                read=abs,
                expected=impedance,
            )
        )
        rows += [
            Row(
                id=f"{network} {f:g}",
                section="9.1",
                function=bodynet.transfer_impedance,
                args={"f_hz": f, "network": network},
                read=abs,
                expected=output,
            )
            for network, output in zip(("unweighted", "perception"), outputs, strict=True)
        ]
    return rows


ROWS = (
    *_transfer_rows(),
    *(
        Row(
            id=f"weight {f:g}",
            section="9.1",
            function=bodynet.weighting,
            args={"f_hz": f, "network": "perception"},
            read=abs,
            expected=weight,
            digits=digits,
        )
        for f, weight, digits in WEIGHTS
    ),
    *(
        Row(
            id=f"Zin with filter {f:g}",
            section="9.1",
            function=bodynet.input_impedance,
            args={"f_hz": f, "network": "perception"},
            read=abs,
            expected=impedance,
        )
        for f, impedance in ((50.0, 1990.0), (1e3, 972.5), (1e4, 485.4), (1e5, 476.3))
    ),
    *(
        Row(
            id=f"{1e9 * capacitance:g} nF at {voltage:g} V, {f:g} Hz",
            section="9.2",
            function=touched,
            args={"capacitance_f": capacitance, "voltage_v": voltage, "f_hz": f},
            expected=current,
        )
        for capacitance, voltage, f, current in (
            (2.2e-9, 230.0, 50.0, 0.1590e-3),
            (2.2e-9, 264.0, 50.0, 0.1825e-3),
            (2.2e-9, 264.0, 60.0, 0.2190e-3),
            (2.64e-9, 264.0, 60.0, 0.2627e-3),
            (4.7e-9, 253.0, 50.0, 0.3736e-3),
        )
    ),
    *(
        Row(
            id=f"most for {1e3 * limit:g} mA at {voltage:g} V, {f:g} Hz",
            section="9.2",
            function=most,
            args={"limit_a": limit, "voltage_v": voltage, "f_hz": f},
            expected=capacitance,
        )
        for limit, row in LIMITS
        for (voltage, f), capacitance in zip(MAINS, row, strict=True)
    ),
)
