"""`isthmus export`: tables that hold the numbers of the models, Touchstone that others can read."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest
import skrf

from app.cli.main import main
from app.present.origin import produced_by
from models.assets import CASES, DEMO_CASE
from models.case.read import load_case
from models.network.grid import sweep_grid
from models.network.solver import Solver
from models.outcomes.evaluation import Evaluator

EARTHED = CASES / "earthed-or-floating.toml"


def rows(capsys: pytest.CaptureFixture[str], *arguments: str | Path) -> list[dict[str, str]]:
    assert main(["export", *map(str, arguments)]) == 0
    said = capsys.readouterr()
    assert said.err == ""
    return list(csv.DictReader(io.StringIO(said.out)))


def test_impedances_are_those_of_the_models(capsys: pytest.CaptureFixture[str]) -> None:
    found = rows(capsys, DEMO_CASE, "--what", "impedance", "--candidate", "Nothing")
    outcome = Evaluator().evaluate(load_case(DEMO_CASE)).outcome("Nothing")
    z = [complex(float(row["in_circuit_re_ohm"]), float(row["in_circuit_im_ohm"])) for row in found]
    assert z == outcome.in_circuit_ohm.tolist()
    assert {row["bridge_re_ohm"] for row in found} == {"inf"}


def test_transfer_functions_spectra_and_waveforms(capsys: pytest.CaptureFixture[str]) -> None:
    case = load_case(DEMO_CASE)
    copper = next(each for each in case.candidates if each.name == "Copper")
    found = rows(capsys, DEMO_CASE, "--what", "transfer", "--candidate", "Copper")
    expected = Solver().transfer(case, copper, case.sources[0], sweep_grid(case.sweep))
    assert [complex(float(row["transfer_re"]), float(row["transfer_im"])) for row in found] == expected.tolist()
    wave = Evaluator().evaluate(case).outcome("Copper").common_mode[0]
    found = rows(capsys, DEMO_CASE, "--what", "spectrum", "--candidate", "Copper", "--source", "flyback switch")
    assert [float(row["v_rms"]) for row in found] == wave.v_rms.tolist()
    assert found[3]["order"] == "3"
    assert float(found[3]["frequency_hz"]) == 300e3
    found = rows(capsys, DEMO_CASE, "--what", "waveform", "--candidate", "Copper")
    assert [float(row["voltage_v"]) for row in found] == wave.waveform_v.tolist()
    step = float(found[1]["time_s"])
    assert step * len(found) == pytest.approx(1.0 / 100e3)


@pytest.mark.parametrize("what", ["conducted", "radiated"])
def test_readings_of_the_receiver(capsys: pytest.CaptureFixture[str], what: str) -> None:
    found = rows(capsys, EARTHED, "--what", what, "--candidate", "Floating, 2.2 nF")
    assert found
    unit = "dbuv" if what == "conducted" else "dbuv_per_m"
    levels = [(row[f"peak_{unit}"], row[f"average_{unit}"]) for row in found]
    both = [(float(peak), float(average)) for peak, average in levels if peak and average]
    assert both
    assert all(peak >= average - 1e-9 for peak, average in both)


def test_touchstone_of_one_port_reads_back(tmp_path: Path) -> None:
    path = tmp_path / "pair.s1p"
    assert main(["export", str(DEMO_CASE), "--what", "impedance", "--candidate", "Copper", "-o", str(path)]) == 0
    case = load_case(DEMO_CASE)
    copper = next(each for each in case.candidates if each.name == "Copper")
    network = skrf.Network(path)
    z = network.z[:, 0, 0]
    grid = sweep_grid(case.sweep)
    assert network.f == pytest.approx(grid.f_hz, rel=1e-9)
    assert z == pytest.approx(Solver().in_circuit(case, copper, grid), rel=1e-5)
    assert (
        main(["export", str(DEMO_CASE), "--what", "impedance", "--candidate", "Copper", "--bridge", "-o", str(path)])
        == 0
    )
    assert skrf.Network(path).z[:, 0, 0] == pytest.approx(Solver().bridge(case, copper, grid), rel=1e-5)


def test_touchstone_of_what_is_almost_an_open_reads_back_in_full(tmp_path: Path) -> None:
    path = tmp_path / "pair.s1p"
    assert main(["export", str(DEMO_CASE), "--what", "impedance", "--candidate", "Nothing", "-o", str(path)]) == 0
    case = load_case(DEMO_CASE)
    nothing = next(each for each in case.candidates if each.name == "Nothing")
    expected = Solver().in_circuit(case, nothing, sweep_grid(case.sweep))
    assert abs(expected[0]) > 1e8
    network = skrf.Network(path)
    assert network.f == pytest.approx(sweep_grid(case.sweep).f_hz, rel=1e-14)
    assert abs(network.z[:, 0, 0] / expected - 1.0).max() < 1e-8
    assert abs(network.s).max() <= 1.0 + 1e-15


def test_touchstone_of_two_ports_reads_back(tmp_path: Path) -> None:
    path = tmp_path / "transfer.s2p"
    name = "Y-capacitor 1 nF"
    assert main(["export", str(DEMO_CASE), "--what", "transfer", "--candidate", name, "-o", str(path)]) == 0
    case = load_case(DEMO_CASE)
    y = skrf.Network(path).y
    candidate = next(each for each in case.candidates if each.name == name)
    expected = Solver().transfer(case, candidate, case.sources[0], sweep_grid(case.sweep))
    assert -y[:, 1, 0] / y[:, 1, 1] == pytest.approx(expected, rel=1e-4)
    assert path.read_text().startswith(
        f"! {name}. Port 1: flyback switch. Port 2: secondary against primary\n! Isthmus "
    )


def test_the_equivalent_opens_as_a_case(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "equivalent.toml"
    assert main(["export", str(DEMO_CASE), "--what", "equivalent", "-o", str(path)]) == 0
    assert "rms error" in capsys.readouterr().err
    assert main(["evaluate", str(path)]) == 0
    assert load_case(path).couplings


def test_the_origin_is_the_whole_case_as_the_report_has_it(capsys: pytest.CaptureFixture[str]) -> None:
    asked = ("--what", "impedance", "--candidate", "Copper", "--format", "touchstone")
    assert main(["export", str(DEMO_CASE), *asked]) == 0
    assert f"! {produced_by(load_case(DEMO_CASE))}\n" in capsys.readouterr().out


def test_touchstone_is_ascii_whatever_a_candidate_is_called(tmp_path: Path) -> None:
    path = tmp_path / "pair.s1p"
    assert main(["export", str(DEMO_CASE), "--what", "impedance", "--candidate", "Bead 600 Ω", "-o", str(path)]) == 0
    text = path.read_bytes().decode("ascii")
    assert text.startswith("! Bead 600 \\u03a9: impedance between")
    assert len(skrf.Network(path)) > 100


def test_a_wrong_wish_leaves_the_file_that_is_there(tmp_path: Path) -> None:
    path = tmp_path / "pair.s1p"
    path.write_text("kept")
    assert main(["export", str(DEMO_CASE), "--what", "impedance", "-o", str(path)]) == 2
    assert path.read_text() == "kept"
    assert main(["export", str(DEMO_CASE), "--what", "impedance", "--candidate", "Copper", "-o", str(path)]) == 0
    assert list(tmp_path.iterdir()) == [path]


def test_a_transfer_function_says_its_unit(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert {row["transfer_unit"] for row in rows(capsys, DEMO_CASE, "--what", "transfer")} == {"V/V"}
    sensor = rows(capsys, CASES / "sensor-board.toml", "--what", "transfer", "--candidate", "Copper, 5 mm wide")
    assert {row["transfer_unit"] for row in sensor} == {"V/A"}


def test_a_table_without_rows_is_said_to_be_one(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["export", str(DEMO_CASE), "--what", "conducted"]) == 0
    said = capsys.readouterr()
    assert said.out.startswith("candidate,cable,source,frequency_hz,")
    assert said.out.count("\n") == 1
    assert said.err == "isthmus: conducted: the case has none, so the table has no rows\n"


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--what", "spectrum", "--format", "touchstone"), "accepted: csv"),
        (("--what", "equivalent", "--format", "csv"), "accepted: toml"),
        (("--what", "impedance", "--format", "touchstone"), "found 5"),
        (("--what", "impedance", "--candidate", "x"), '"Copper"'),
        (("--what", "transfer", "--source", "x"), '"flyback switch"'),
        (("--what", "everything"), "impedance"),
        ((), "--what"),
        (("--what", "impedance", "--bridge"), "impedance as touchstone"),
        (("--what", "transfer", "--candidate", "Copper", "-o", "port.s1p"), "accepted: .s2p"),
        (("--what", "impedance", "--candidate", "Copper", "-o", "port.s2p"), "accepted: .s1p"),
        (("--what", "impedance", "-o", "/nowhere/at/all.csv"), "No such file"),
    ],
)
def test_what_is_wrong_ends_in_one_line(
    capsys: pytest.CaptureFixture[str], arguments: tuple[str, ...], said: str
) -> None:
    assert main(["export", str(DEMO_CASE), *arguments]) == 2
    printed = capsys.readouterr()
    assert said in printed.err
    assert printed.err.count("\n") == 1
    assert printed.out == ""
