from __future__ import annotations

import json
import subprocess
import sys
import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from app.cli.main import main
from models.arrays import Complex, Real
from models.codec import Place
from models.fitting.export import write_touchstone
from models.fitting.load import load_measurement
from models.parts.bead import Bead, Cell
from models.parts.part import Part

F_HZ: Real = np.geomspace(1e6, 1e9, 121)
OMEGA: Real = 2 * np.pi * F_HZ
BEAD = Bead(rdc_ohm=0.3, cells=(Cell(resistance_ohm=700.0, inductance_h=1.39e-6, capacitance_f=0.455e-12),))


@pytest.fixture
def touchstone(tmp_path: Path) -> Path:
    path = tmp_path / "bead.s1p"
    write_touchstone(path, F_HZ, BEAD.impedance(OMEGA))
    return path


def table(path: Path, z_ohm: Complex, head: str = "Frequency (MHz), |Z| (ohm), Phase (deg)") -> Path:
    rows = zip(F_HZ / 1e6, np.abs(z_ohm), np.degrees(np.angle(z_ohm)), strict=True)
    path.write_text(head + "\n" + "\n".join(", ".join(f"{each:.9g}" for each in row) for row in rows))
    return path


def read_part(table: dict[str, Any]) -> Part:
    from models.catalogue.codec import PartKinds

    problems: list[Any] = []
    part: Part = PartKinds().read(table, Place((), problems))
    assert not problems
    return part


def test_json_is_the_contract(touchstone: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["fit", str(touchstone), "--kind", "bead", "--connection", "one-port", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert {"part", "rms_error_db", "rms_error_deg", "range_hz", "warnings"} <= set(found)
    assert found["rms_error_db"] < 0.02
    assert found["range_hz"] == pytest.approx([1e6, 1e9])
    ratio = read_part(found["part"]).impedance(OMEGA) / BEAD.impedance(OMEGA)
    assert np.abs(20 * np.log10(np.abs(ratio))).max() < 0.05
    low, high = found["confidence_95"]["cells[0].resistance"]
    assert low < found["part"]["cells"][0]["resistance"] < high


def test_text_is_ready_to_paste(touchstone: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["fit", str(touchstone), "--kind", "bead"]) == 0
    printed = capsys.readouterr()
    part = read_part(tomllib.loads(f"part = {printed.out}")["part"])
    assert isinstance(part, Bead)
    assert part.cells[0].inductance_h == pytest.approx(1.39e-6, rel=1e-3)
    assert "1 MHz to 1 GHz" in printed.out
    assert printed.err == ""


def test_a_table_is_data_as_well_and_the_kind_is_guessed_and_said(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = table(tmp_path / "capacitor.csv", 0.1 + 1j * OMEGA * 1e-9 + 1 / (1j * OMEGA * 2.2e-9))
    assert main(["fit", str(path), "--json", "--connection", "series-thru"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["part"]["kind"] == "capacitor"
    assert found["part"]["capacitance"] == pytest.approx(2.2e-9, rel=1e-3)
    assert "no kind was given: the data looks like a capacitor" in found["warnings"]
    assert "a table holds impedances: the connection series-thru is not used" in found["warnings"]


def test_the_range_is_what_was_asked_for(touchstone: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["fit", str(touchstone), "--kind", "bead", "--from", "10MHz", "--to", "0.2 GHz", "--json"]) == 0
    low, high = json.loads(capsys.readouterr().out)["range_hz"]
    assert 10e6 <= low < 11e6
    assert 190e6 < high <= 200e6


def test_a_known_resistance_is_kept(touchstone: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["fit", str(touchstone), "--kind", "bead", "--rdc", "0.25", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["part"]["rdc"] == 0.25


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["nothing.s1p"], "no such file"),
        (["BEAD", "--kind", "bead", "--connection", "shunt-thru"], "one port"),
        (["BEAD", "--from", "2 GHz"], "no point from 2 GHz on"),
        (["BEAD", "--kind", "inductor", "--rdc", "1"], "found it for an inductor; accepted: for a bead alone"),
        (["BEAD", "--from", "2 ohm"], "a frequency"),
        (["BEAD", "--kind", "copper"], "--kind"),
        (["EMPTY"], "empty"),
    ],
)
def test_bad_input_is_one_line_and_status_2(
    arguments: list[str], says: str, touchstone: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    empty = touchstone.with_name("empty.csv")
    empty.write_text("")
    paths = {"BEAD": str(touchstone), "EMPTY": str(empty)}
    assert main(["fit", *(paths.get(each, each) for each in arguments)]) == 2
    printed = capsys.readouterr()
    assert printed.out == ""
    assert len(printed.err.splitlines()) == 1
    assert says in printed.err


def test_touchstone_is_known_by_its_option_line_whatever_its_name(touchstone: Path) -> None:
    renamed = touchstone.with_name("bead.dat")
    text = touchstone.read_text().replace("# Hz S RI R 50.0", "# hz s ri r 50 ! 0 dBm")
    renamed.write_text(text)
    assert np.abs(load_measurement(renamed).z_ohm / BEAD.impedance(OMEGA) - 1).max() < 1e-9


def test_a_table_whose_header_is_a_comment_is_no_touchstone(tmp_path: Path) -> None:
    path = table(tmp_path / "data.txt", BEAD.impedance(OMEGA), head="# Freq(MHz), |Z| (ohm), Phase (deg)")
    assert load_measurement(path).f_hz[-1] == pytest.approx(1e9)


def test_an_exported_impedance_comes_back_and_an_open_stays_open(tmp_path: Path) -> None:
    z = BEAD.impedance(OMEGA)
    z[3] = np.inf
    write_touchstone(tmp_path / "out.s1p", F_HZ, z)
    found = load_measurement(tmp_path / "out.s1p")
    assert found.f_hz == pytest.approx(np.delete(F_HZ, 3), rel=1e-11)
    assert np.abs(found.z_ohm / np.delete(z, 3) - 1).max() < 1e-9
    assert any("1 point without a finite impedance" in said for said in found.warnings)


def test_fit_starts_without_qt(touchstone: Path) -> None:
    code = f"import sys; from app.cli.main import main; main(['fit', {str(touchstone)!r}, '--json']); "
    code += "assert not [each for each in sys.modules if 'PySide6' in each or 'pyqtgraph' in each]"
    subprocess.run([sys.executable, "-c", code], check=True, capture_output=True)
