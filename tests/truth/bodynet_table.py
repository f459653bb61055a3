"""Touch current: the body networks over frequency, and the capacitance that limits allow."""

from __future__ import annotations

from models.formulas import bodynet
from tests.truth.row import Row

# f, |Zin| without filter, then U1, U2, U3 and the medical output over I
TRANSFERS = (
    (50.0, 1990.0, 500.0, 498.7, 499.0, 998.7),
    (60.0, 1986.0, 500.0, 498.1, 498.5, 998.1),
    (100.0, 1961.0, 500.0, 494.8, 495.9, 994.7),
    (1e3, 978.6, 500.0, 283.7, 339.7, 694.2),
    (1e4, 508.6, 500.0, 34.37, 79.92, 96.01),
    (1e5, 500.1, 500.0, 3.445, 8.325, 9.645),
    (1e6, 500.0, 500.0, 0.3445, 0.8328, 0.9646),
)
# f, U2/(500·I), U3/(500·I), digits printed of U2; by nodal solution 0.6793488 and 0.06873529, where the sheet prints
# 0.6794 and 0.06873
WEIGHTS = (
    (50.0, 0.9974, 0.9979, 4),
    (60.0, 0.9962, 0.9970, 4),
    (100.0, 0.9896, 0.9919, 4),
    (1e3, 0.5674, 0.6793, 4),
    (1e4, 0.06874, 0.1598, 4),
    (1e5, 0.006890, 0.01665, 4),
    (1e6, 0.000689, 0.001666, 3),
)
LIMITS = (
    (0.10e-3, (1.048e-9, 1.005e-9, 0.8373e-9, 1.675e-9)),
    (0.25e-3, (2.621e-9, 2.512e-9, 2.093e-9, 4.187e-9)),
    (0.50e-3, (5.242e-9, 5.024e-9, 4.187e-9, 8.373e-9)),
    (0.75e-3, (7.863e-9, 7.536e-9, 6.280e-9, 12.56e-9)),
    (3.5e-3, (36.70e-9, 35.17e-9, 29.31e-9, 58.61e-9)),
)
MAINS = ((253.0, 50.0), (264.0, 50.0), (264.0, 60.0), (132.0, 60.0))


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
            for network, output in zip(("unweighted", "perception", "let-go", "medical"), outputs, strict=True)
        ]
    return rows


ROWS = (
    *_transfer_rows(),
    *(
        Row(
            id=f"weight {network} {f:g}",
            section="9.1",
            function=bodynet.weighting,
            args={"f_hz": f, "network": network},
            read=abs,
            expected=weight,
            digits=digits,
        )
        for f, second, third, coarse in WEIGHTS
        for network, weight, digits in (("perception", second, coarse), ("let-go", third, 4))
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
            function=bodynet.touch_current,
            args={"capacitance_f": capacitance, "voltage_v_rms": voltage, "f_hz": f},
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
            function=bodynet.most_capacitance,
            args={"limit_a_rms": limit, "voltage_v_rms": voltage, "f_hz": f, "tolerance": 0.2},
            expected=capacitance,
        )
        for limit, row in LIMITS
        for (voltage, f), capacitance in zip(MAINS, row, strict=True)
    ),
    Row(
        id="half-sine voltage",
        section="9.2",
        function=bodynet.half_sine_ac_rms,
        args={"voltage_v_rms": 1.0},
        expected=0.5453,
    ),
    Row(
        id="half-sine current",
        section="9.2",
        function=lambda: bodynet.half_sine_current(1e-9, 230.0, 50.0) / float(bodynet.touch_current(1e-9, 230.0, 50.0)),
        expected=0.7071,
    ),
)
