"""A study of tolerances, all draws at once, against the plain loop: one network after the other."""

from __future__ import annotations

import time

import numpy as np
from attrs import evolve

from models.assets import CASES
from models.case.read import load_case
from models.decide.tolerance import Request, drawn_case, study
from models.network.grid import point_grid
from models.network.solver import Solver

_PLAIN_DRAWS = 50
_PEAKS = 64


def main() -> None:
    """Print the time of 1,000 draws of four candidates at 200 frequencies, and the ratio to the plain loop."""
    for name in ("gateway", "class-ii-supply"):
        whole = load_case(CASES / f"{name}.toml")
        case = evolve(whole, candidates=whole.candidates[:4], requirements=())
        request = Request(case=case)
        study(request)
        judged = Request(case=whole, peaks=_PEAKS)
        start = time.perf_counter()
        study(judged)
        judged_s = time.perf_counter() - start
        start = time.perf_counter()
        found = study(request)
        together_s = time.perf_counter() - start
        assert found is not None
        grid = point_grid(tuple(float(f) for f in found.f_hz))
        start = time.perf_counter()
        for spread in found.candidates:
            for number in range(_PLAIN_DRAWS):
                alone = drawn_case(case, spread, number)
                np.abs(Solver().in_circuit(alone, alone.candidates[0], grid))
        plain_s = (time.perf_counter() - start) * request.draws / _PLAIN_DRAWS
        print(f"{name}: {together_s:.3f} s all at once, {plain_s:.2f} s one by one, ratio {plain_s / together_s:.1f}")
        print(f"  all {len(whole.candidates)} candidates judged, as in the window: {judged_s:.3f} s")


if __name__ == "__main__":
    main()
