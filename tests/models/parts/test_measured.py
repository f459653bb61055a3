from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest
from attrs import evolve

from app.state.edits import set_value
from app.state.store import Store
from models.arrays import Complex, Real
from models.case.document import Case
from models.case.read import load_case
from models.case.relocate import case_in
from models.case.write import case_text
from models.errors import CaseError, DataError, QuantityError
from models.fitting.data import make_measurement
from models.fitting.export import write_touchstone
from models.outcomes.evaluation import Evaluator
from models.parts.capacitor import Capacitor
from models.parts.inductor import Inductor
from models.parts.measured import JOIN_DECADES, Measured
from models.parts.measured_file import curve_of, opened
from models.parts.part import Part, valid_hz
from tests.models.fitting.synthetic import ferrite, noisy

F_HZ: Real = np.geomspace(1e6, 1e8, 201)
WIDE_HZ: Real = np.geomspace(10.0, 1e10, 2001)
CASE = """isthmus = 1   # kept
[pair]
a = "left"
b = "right"
[[candidate]]
name = "bead as measured"   # mine
[[candidate.branch]]
parts = [ {{ kind = "measured", file = "{file}", connection = "one-port", rdc = "0.2 ohm" }} ]
[[candidate]]
name = "nothing"
[[coupling]]
name = "gap"
between = ["left", "right"]
parts = [ {{ kind = "capacitor", capacitance = "2 pF" }} ]
"""
PART = ("candidates", 0, "branches", 0, "parts", 0)


def of(z_ohm: Complex, f_hz: Real = F_HZ, rdc_ohm: float | None = None) -> Measured:
    curve = curve_of(make_measurement(f_hz, z_ohm, source="made up"))
    return Measured(file="made-up.s1p", curve=curve, rdc_ohm=rdc_ohm)


def noisy_ferrite() -> Measured:
    return of(noisy(ferrite(F_HZ), np.random.default_rng(5), 0.05))


def case_file(folder: Path, *, file: str = "data/bead.s1p") -> Path:
    (folder / "data").mkdir(parents=True, exist_ok=True)
    write_touchstone(folder / "data" / "bead.s1p", F_HZ, ferrite(F_HZ))
    path = folder / "case.toml"
    path.write_text(CASE.format(file=file), encoding="utf-8")
    return path


def part_of(case: Case) -> Measured:
    part = case.candidates[0].branches[0].parts[0]
    assert isinstance(part, Measured)
    return part


def test_inside_its_range_it_is_the_data() -> None:
    z = noisy(ferrite(F_HZ), np.random.default_rng(5), 0.05)
    assert of(z).impedance(2 * np.pi * F_HZ) == pytest.approx(z, rel=1e-12)


def test_between_two_points_it_lies_between_them() -> None:
    z = np.array([10.0 + 0j, 10.0 + 100j, 100.0 + 100j, 90.0 + 10j, 20.0 - 20j])
    f = np.array([1e6, 2e6, 4e6, 8e6, 16e6])
    between = of(z, f).impedance(2 * np.pi * np.sqrt(f[:-1] * f[1:]))
    assert np.abs(between) == pytest.approx(np.sqrt(np.abs(z[:-1] * z[1:])), rel=1e-12)


@pytest.mark.parametrize("edge", [1e6, 1e8])
def test_the_join_has_no_step_and_no_kink(edge: float) -> None:
    part = noisy_ferrite()
    f = edge * np.exp(np.linspace(-0.002, 0.002, 41))
    log_z = np.log(part.impedance(2 * np.pi * f))
    assert np.abs(np.diff(log_z)).max() < 5e-4


def test_far_beyond_the_data_it_is_the_fit() -> None:
    part = noisy_ferrite()
    beyond = 1e8 * 10**JOIN_DECADES * np.array([1.0, 2.0, 30.0])
    below = 1e6 * 10**-JOIN_DECADES * np.array([0.01, 0.5, 1.0])
    for f in (beyond, below):
        omega = 2 * np.pi * f
        assert part.impedance(omega) == pytest.approx(part.model().impedance(omega), rel=1e-12)


@pytest.mark.parametrize("share", [0.7, 1.0, 1.4])
def test_it_is_passive_everywhere_whatever_was_measured(share: float) -> None:
    rng = np.random.default_rng(1)
    wild = ferrite(F_HZ) * np.exp(0.3 * (rng.standard_normal(F_HZ.size) + 1j * rng.standard_normal(F_HZ.size)))
    for part in (of(wild), of(np.asarray(-1 + 1j * F_HZ / 1e5, np.complex128)), noisy_ferrite()):
        assert (part.scaled(share).impedance(2 * np.pi * WIDE_HZ).real >= 0.0).all()


def test_a_known_resistance_is_that_at_dc_and_at_the_low_end() -> None:
    part = of(ferrite(F_HZ), rdc_ohm=0.12)
    assert part.dc_ohm() == 0.12
    assert abs(part.impedance(np.array([1.0]))[0]) == pytest.approx(0.12, rel=1e-3)
    assert not part.blocks_dc()


def test_a_coil_with_a_known_resistance_has_it_beside_its_core_loss() -> None:
    coil = Inductor(inductance_h=10e-6, rdc_ohm=0.05, capacitance_f=5e-12, parallel_resistance_ohm=5e3)
    f = np.geomspace(1e4, 1e8, 200)
    part = of(coil.impedance(2 * np.pi * f), f, rdc_ohm=0.08)
    assert part.model().kind == "inductor"
    assert part.dc_ohm() == pytest.approx(0.08, rel=1e-12)


def test_a_measured_capacitor_blocks_dc() -> None:
    capacitor = Capacitor(capacitance_f=2.2e-9, esr_ohm=0.2, esl_h=9e-9)
    f = np.geomspace(1e5, 3e8, 200)
    part = of(capacitor.impedance(2 * np.pi * f), f)
    assert part.blocks_dc()
    assert part.dc_ohm() > 1e9
    low = part.impedance(np.array([2 * np.pi * 50.0]))[0]
    assert abs(low) == pytest.approx(1 / (2 * np.pi * 50 * 2.2e-9), rel=5e-3)
    assert evolve(part, rdc_ohm=1e9).dc_ohm() == pytest.approx(1e9)
    with pytest.raises(QuantityError, match="rdc 1 Ω"):
        evolve(part, rdc_ohm=1.0)


def test_a_magnitude_alone_takes_the_phase_of_its_fit() -> None:
    z = ferrite(F_HZ)
    part = Measured(file="x", curve=curve_of(make_measurement(F_HZ, np.abs(z), source="made up", has_phase=False)))
    found = part.impedance(2 * np.pi * F_HZ)
    assert np.abs(found) == pytest.approx(np.abs(z), rel=1e-12)
    assert np.abs(np.degrees(np.angle(found / z))).max() < 10.0


def test_a_tolerance_moves_the_data_as_it_moves_the_fit() -> None:
    part = noisy_ferrite()
    omega = 2 * np.pi * WIDE_HZ
    ratio = part.scaled(1.2).impedance(omega) / part.impedance(omega)
    expected = part.model().scaled(1.2).impedance(omega) / part.model().impedance(omega)
    assert ratio == pytest.approx(expected, rel=1e-9)
    assert part.scaled(1.0) == part


def test_equal_data_is_an_equal_part_and_other_data_another() -> None:
    assert noisy_ferrite() == noisy_ferrite()
    assert hash(noisy_ferrite()) == hash(noisy_ferrite())
    assert of(ferrite(F_HZ)) != of(ferrite(F_HZ) * 1.001)


def test_its_range_is_said() -> None:
    part: Part = noisy_ferrite()
    assert valid_hz(part) == pytest.approx((1e6, 1e8))
    assert valid_hz(Capacitor(capacitance_f=1e-9)) is None
    assert 'made-up.s1p": measured from 1 MHz to 100 MHz' in noisy_ferrite().warnings()[0]


def test_a_case_file_names_it_from_its_own_folder_and_solves(tmp_path: Path) -> None:
    case = load_case(case_file(tmp_path))
    outcome = Evaluator().evaluate(case).outcomes[0]
    assert outcome.dc.bridge_ohm == 0.2
    assert any("beyond, a bead fitted" in said for said in case.warnings())
    assert load_case(tmp_path / "case.toml") == case
    assert hash(load_case(tmp_path / "case.toml")) == hash(case)


@pytest.mark.parametrize(
    ("file", "says"),
    [("lost.s1p", "no such file"), ("case.toml", "found"), ("data/short.s1p", "4 points or more")],
)
def test_a_missing_or_broken_file_is_a_located_error(tmp_path: Path, file: str, says: str) -> None:
    path = case_file(tmp_path, file=file)
    (tmp_path / "data" / "short.s1p").write_text("# MHz S RI R 50\n1 0.1 0.2\n")
    with pytest.raises(CaseError) as caught:
        load_case(path)
    message = str(caught.value)
    assert message.startswith("case.toml: line 8, candidate[0].branch[0].parts[0].file: found")
    assert says in message
    assert "accepted: " in message
    assert "\n" not in message


def test_an_unknown_key_and_a_wrong_connection_are_errors(tmp_path: Path) -> None:
    path = case_file(tmp_path)
    path.write_text(path.read_text().replace("one-port", "thru").replace("rdc", "dcr"))
    with pytest.raises(CaseError) as caught:
        load_case(path)
    assert {problem.where.rsplit(".")[-1] for problem in caught.value.problems} == {"connection", "dcr"}


def test_saving_keeps_the_text_of_the_file(tmp_path: Path) -> None:
    path = case_file(tmp_path)
    text = path.read_text(encoding="utf-8")
    case = load_case(path)
    assert case_text(case, text) == text
    changed = set_value(case, (*PART, "rdc_ohm"), 0.4)
    saved = case_text(changed, text)
    assert saved == text.replace('"0.2 ohm"', '"400 mΩ"')


def test_saving_elsewhere_still_finds_the_data(tmp_path: Path) -> None:
    case = load_case(case_file(tmp_path / "one"))
    other = tmp_path / "two" / "copy.toml"
    other.parent.mkdir()
    other.write_text(case_text(case_in(case, other.parent)), encoding="utf-8")
    assert part_of(load_case(other)).file == "../one/data/bead.s1p"
    assert part_of(load_case(other)).curve == part_of(case).curve
    assert case_in(case, tmp_path / "one") == case


def test_another_file_or_connection_is_read_at_once_and_undone(tmp_path: Path) -> None:
    case = load_case(case_file(tmp_path))
    write_touchstone(tmp_path / "data" / "other.s1p", F_HZ, 2 * ferrite(F_HZ))
    store = Store(case)
    store.edit("Change file", set_value(case, (*PART, "file"), "data/other.s1p"))
    omega = 2 * np.pi * F_HZ
    assert part_of(store.case).impedance(omega) == pytest.approx(2 * ferrite(F_HZ), rel=1e-6)
    with pytest.raises(DataError, match=r"gone\.s1p: found no such file"):
        set_value(case, (*PART, "file"), "gone.s1p")
    with pytest.raises(DataError, match="two ports"):
        set_value(case, (*PART, "connection"), "series-thru")
    store.undo()
    assert store.case == case
    assert part_of(store.case).impedance(omega) == pytest.approx(ferrite(F_HZ), rel=1e-6)


def test_a_file_that_changed_is_read_anew(tmp_path: Path) -> None:
    path = case_file(tmp_path)
    before = load_case(path)
    write_touchstone(tmp_path / "data" / "bead.s1p", F_HZ[::2], ferrite(F_HZ[::2]))
    assert part_of(load_case(path)).curve != part_of(before).curve


def test_an_unopened_part_says_so() -> None:
    with pytest.raises(DataError, match="not opened"):
        Measured(file="x.s1p").impedance(np.array([1.0]))
    with pytest.raises(DataError, match="no such file"):
        opened(Measured(file="x.s1p"), Path("/nowhere"))


def test_the_fit_beyond_the_data_is_a_circuit_with_limits() -> None:
    part = noisy_ferrite()
    assert math.isfinite(part.dc_ohm())
    assert abs(part.impedance(np.array([1e-3]))[0]) == pytest.approx(part.dc_ohm(), abs=1e-6)
