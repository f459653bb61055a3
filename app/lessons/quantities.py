"""What a number of a lesson can be: each quantity with its unit, what it needs, and how the solver finds it."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from types import MappingProxyType

import numpy as np
from attrs import frozen

from app.lessons.bench import Bench
from app.lessons.document import Number
from app.lessons.emission import Field, field, radiates
from models.case.document import Candidate, Case
from models.decide.judges import judge_one
from models.decide.sizing import size
from models.decide.subject import Subject
from models.decide.verdict import Verdict
from models.formulas.discharge import fast_voltage, shared_voltage
from models.outcomes.common_mode import CommonMode

_BAND_POINTS = 2001
_SLOW_HZ = 1e3
"""Low enough for a capacitance with its leads of no account."""

Compute = Callable[[Bench, Number, Case, Candidate], float]


@frozen(kw_only=True)
class Kind:
    """A quantity: its unit, the keys that it needs besides the candidate, and how it is found."""

    unit: str
    needs: tuple[str, ...] = ()
    compute: Compute
    candidate: bool = True
    on: str = ""
    """What the case has to have: source, mains or field; empty for nothing."""

    def lack(self, case: Case) -> tuple[str, str] | None:
        """Return what the case lacks, found and accepted; None for nothing."""
        there = {"": True, "source": bool(case.sources), "mains": case.mains is not None, "field": radiates(case)}
        return None if there[self.on] else _LACKS[self.on]


_LACKS: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "source": ("a case without sources", "a source, or another quantity"),
        "mains": ("a case without mains", "the mains, or another quantity"),
        "field": (
            "a case without a field",
            "a cable, a source and a radiated-emission requirement on a known line, or another quantity",
        ),
    }
)


def _bridge(bench: Bench, number: Number, case: Case, candidate: Candidate) -> float:
    return abs(bench.impedance(case, candidate, number.at_hz or 0.0, alone=True))


def _in_circuit(bench: Bench, number: Number, case: Case, candidate: Candidate) -> float:
    return abs(bench.impedance(case, candidate, number.at_hz or 0.0))


def _extreme_ohm(bench: Bench, number: Number, case: Case, candidate: Candidate) -> float:
    return extreme(bench, number, case, candidate)[1]


def _extreme_at(bench: Bench, number: Number, case: Case, candidate: Candidate) -> float:
    return extreme(bench, number, case, candidate)[0]


def extreme(bench: Bench, number: Number, case: Case, candidate: Candidate) -> tuple[float, float]:
    """Return where a band's highest or lowest impedance stands, in Hz, and what it is, in Ω."""
    assert number.band_hz is not None
    f_hz = np.geomspace(*number.band_hz, _BAND_POINTS)
    z = np.abs(bench.curve(case, candidate, f_hz, alone=number.what.startswith("bridge-")))
    found = int(z.argmax() if "highest" in number.what else z.argmin())
    return float(f_hz[found]), float(z[found])


def _mode(bench: Bench, number: Number, case: Case, candidate: Candidate) -> CommonMode:
    modes = bench.common_mode(case, candidate)
    if number.source is not None:
        return next(each for each in modes if each.source == number.source)
    return max(modes, key=lambda each: each.peak_v)


def _peak(bench: Bench, number: Number, case: Case, candidate: Candidate) -> float:
    return _mode(bench, number, case, candidate).peak_v


def _drop(bench: Bench, number: Number, case: Case, candidate: Candidate) -> float:
    return abs(_mode(bench, number, case, candidate).dc_v)


def _harmonic(bench: Bench, number: Number, case: Case, candidate: Candidate) -> float:
    mode = _mode(bench, number, case, candidate)
    order = max(1, round((number.at_hz or 0.0) / mode.frequency_hz))
    return float(mode.v_rms[order]) if order < mode.v_rms.size else 0.0


def _bridge_current(bench: Bench, number: Number, case: Case, candidate: Candidate) -> float:
    ohm = _bridge(bench, number, case, candidate)
    return _harmonic(bench, number, case, candidate) / ohm


def _share(bench: Bench, number: Number, case: Case, candidate: Candidate) -> float:
    paths = bench.paths(case, candidate, np.array([number.at_hz or 0.0]))
    return float(next(each for each in paths if each.name == number.path).share[0])


def _touch(bench: Bench, _number: Number, case: Case, candidate: Candidate) -> float:
    found = bench.touch(case, candidate)
    return math.nan if found is None else found.worst_weighted_a


def _field(bench: Bench, number: Number, case: Case, candidate: Candidate) -> tuple[Field, int]:
    found = field(bench, case, candidate)
    assert found is not None
    return found, found.nearest(number.at_hz or 0.0)


def _over_limit(bench: Bench, number: Number, case: Case, candidate: Candidate) -> float:
    found, k = _field(bench, number, case, candidate)
    return float(found.field_v_per_m[k] / found.limit_v_per_m[k])


def _cable_current(bench: Bench, number: Number, case: Case, candidate: Candidate) -> float:
    found, k = _field(bench, number, case, candidate)
    return float(found.cable_a[k])


def _enough_current(bench: Bench, number: Number, case: Case, candidate: Candidate) -> float:
    return _cable_current(bench, number, case, candidate) / _over_limit(bench, number, case, candidate)


def _enough_voltage(bench: Bench, number: Number, case: Case, candidate: Candidate) -> float:
    found, k = _field(bench, number, case, candidate)
    return float(found.drive_v[k]) / _over_limit(bench, number, case, candidate)


def _capacitance(bench: Bench, number: Number, case: Case, candidate: Candidate) -> float:
    return bench.capacitance(case, candidate, number.at_hz or _SLOW_HZ)


def _discharge(bench: Bench, number: Number, case: Case, candidate: Candidate) -> float:
    assert number.level_v is not None
    return shared_voltage(number.level_v, bench.capacitance(case, candidate, _SLOW_HZ))


def _edge(bench: Bench, number: Number, case: Case, candidate: Candidate) -> float:
    """Return what the steep front of a discharge drops over the bridge's own inductance."""
    assert number.level_v is not None
    at_hz = 1e9
    henry = bench.impedance(case, candidate, at_hz, alone=True).imag / (math.tau * at_hz)
    return fast_voltage(number.level_v, max(henry, 0.0))


def _verdict(bench: Bench, number: Number, case: Case, candidate: Candidate) -> Verdict:
    wanted = next(each for each in case.requirements if each.kind == number.requirement)
    return judge_one(Subject(solver=bench.solver, case=case, candidate=candidate), wanted)


def _ruling(bench: Bench, number: Number, case: Case, candidate: Candidate) -> float:
    return 1.0 if _verdict(bench, number, case, candidate).outcome == "pass" else 0.0


def _found(bench: Bench, number: Number, case: Case, candidate: Candidate) -> float:
    value = _verdict(bench, number, case, candidate).value
    return math.inf if value is None else value


def _least(_bench: Bench, _number: Number, case: Case, _candidate: Candidate) -> float:
    found = size(case).least_f
    return math.nan if found is None else found


def _most(_bench: Bench, _number: Number, case: Case, _candidate: Candidate) -> float:
    found = size(case).most_f
    return math.nan if found is None else found


def _fitted(bench: Bench, number: Number, _case: Case, _candidate: Candidate) -> float:
    assert number.measurement is not None
    assert number.fit is not None
    assert number.key is not None
    return float(bench.fitted(number.measurement, number.fit)[number.key])


def _measured(bench: Bench, number: Number, _case: Case, _candidate: Candidate) -> float:
    assert number.measurement is not None
    seen = bench.measured(number.measurement)
    return float(abs(seen.z_ohm[int(np.argmin(np.abs(np.log(seen.f_hz / (number.at_hz or 1.0)))))]))


def _ratio(bench: Bench, number: Number, _case: Case, _candidate: Candidate) -> float:
    assert number.of is not None
    upper, lower = (bench.number(name) for name in number.of)
    return upper / lower if lower else math.inf


QUANTITIES: Mapping[str, Kind] = MappingProxyType(
    {
        "bridge": Kind(unit="ohm", needs=("at_hz",), compute=_bridge),
        "in-circuit": Kind(unit="ohm", needs=("at_hz",), compute=_in_circuit),
        "highest": Kind(unit="ohm", needs=("band_hz",), compute=_extreme_ohm),
        "lowest": Kind(unit="ohm", needs=("band_hz",), compute=_extreme_ohm),
        "highest-at": Kind(unit="Hz", needs=("band_hz",), compute=_extreme_at),
        "lowest-at": Kind(unit="Hz", needs=("band_hz",), compute=_extreme_at),
        "bridge-highest": Kind(unit="ohm", needs=("band_hz",), compute=_extreme_ohm),
        "bridge-lowest": Kind(unit="ohm", needs=("band_hz",), compute=_extreme_ohm),
        "bridge-highest-at": Kind(unit="Hz", needs=("band_hz",), compute=_extreme_at),
        "bridge-lowest-at": Kind(unit="Hz", needs=("band_hz",), compute=_extreme_at),
        "common-mode-peak": Kind(unit="V", compute=_peak, on="source"),
        "dc-drop": Kind(unit="V", compute=_drop, on="source"),
        "harmonic": Kind(unit="V", needs=("at_hz",), compute=_harmonic, on="source"),
        "bridge-current": Kind(unit="A", needs=("at_hz",), compute=_bridge_current, on="source"),
        "path-share": Kind(unit="", needs=("at_hz", "path"), compute=_share),
        "over-limit": Kind(unit="", needs=("at_hz",), compute=_over_limit, on="field"),
        "cable-current": Kind(unit="A", needs=("at_hz",), compute=_cable_current, on="field"),
        "enough-current": Kind(unit="A", needs=("at_hz",), compute=_enough_current, on="field"),
        "enough-voltage": Kind(unit="V", needs=("at_hz",), compute=_enough_voltage, on="field"),
        "touch-current": Kind(unit="A", compute=_touch, on="mains"),
        "capacitance": Kind(unit="F", compute=_capacitance),
        "discharge-voltage": Kind(unit="V", needs=("level_v",), compute=_discharge),
        "discharge-edge": Kind(unit="V", needs=("level_v",), compute=_edge),
        "verdict": Kind(unit="", needs=("requirement",), compute=_ruling),
        "found": Kind(unit="", needs=("requirement",), compute=_found),
        "least-capacitance": Kind(unit="F", compute=_least, candidate=False),
        "most-capacitance": Kind(unit="F", compute=_most, candidate=False),
        "fitted": Kind(unit="", needs=("measurement", "fit", "key"), compute=_fitted, candidate=False),
        "measured": Kind(unit="ohm", needs=("measurement", "at_hz"), compute=_measured, candidate=False),
        "ratio": Kind(unit="", needs=("of",), compute=_ratio, candidate=False),
    }
)
_KEY_UNITS = {"capacitance": "F", "esl": "H", "inductance": "H", "esr": "ohm", "rdc": "ohm"}


def unit_of(number: Number, case: Case) -> str:
    """Return the unit of a number."""
    if number.what == "found":
        wanted = next((each for each in case.requirements if each.kind == number.requirement), None)
        return "" if wanted is None else wanted.demand.unit or ""
    if number.what == "fitted":
        return _KEY_UNITS.get(number.key or "", "")
    return QUANTITIES[number.what].unit
