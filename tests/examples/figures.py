"""Key figures of the shipped cases. `python -m tests.examples.figures` prints them anew, to be read before kept."""

from __future__ import annotations

from collections.abc import Mapping

from attrs import frozen

from models.assets import CASES
from models.case.read import load_case
from models.network.grid import point_grid
from models.outcomes.evaluation import Evaluator, Outcome


@frozen(kw_only=True)
class Figures:
    """What one candidate comes to: impedance in circuit, peak, rms, touch current; None where there is none."""

    bridge_ohm: float
    at_1_mhz_ohm: float
    at_100_mhz_ohm: float
    peak_v: float
    rms_v: float
    touch_a: float | None


def figures(path_stem: str) -> dict[str, Figures]:
    """Return the figures of every candidate of a shipped case."""
    case = load_case(CASES / f"{path_stem}.toml")
    evaluator = Evaluator()
    found = {}
    for outcome in evaluator.evaluate(case).outcomes:
        z = evaluator.solver.in_circuit(case, outcome.candidate, point_grid((1e6, 100e6)))
        found[outcome.name] = _figures(outcome, abs(z[0]), abs(z[1]))
    return found


def _figures(outcome: Outcome, low_ohm: float, high_ohm: float) -> Figures:
    return Figures(
        bridge_ohm=outcome.dc.bridge_ohm,
        at_1_mhz_ohm=float(low_ohm),
        at_100_mhz_ohm=float(high_ohm),
        peak_v=outcome.peak_v(),
        rms_v=max(each.total_rms_v for each in outcome.common_mode),
        touch_a=None if outcome.touch is None else outcome.touch.worst_unweighted_a,
    )


def as_text(table: Mapping[str, Figures]) -> str:
    """Return the figures of a case as rows of a table, to 6 digits."""
    rows = []
    for name, each in table.items():
        values = (each.bridge_ohm, each.at_1_mhz_ohm, each.at_100_mhz_ohm, each.peak_v, each.rms_v, each.touch_a)
        rows.append(f'"{name}" = [{", ".join("nan" if value is None else f"{value:.6g}" for value in values)}]')
    return "\n".join(rows)


if __name__ == "__main__":
    for path in sorted(CASES.glob("*.toml")):
        print(f'["{path.stem}"]\n{as_text(figures(path.stem))}\n')
