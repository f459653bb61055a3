"""Tables of numbers in every usual shape are read right, or refused in one clear sentence."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

import numpy as np
import pytest

from models.errors import DataError
from models.fitting.table import read_table

Z = np.array([3 + 4j, 30 + 40j, 40 - 30j])
F = np.array([1e6, 1e7, 1e8])
W = 2 * np.pi * F
MAG, DEG = np.abs(Z), np.degrees(np.angle(Z))
CAP = np.array([0.1 - 5j, 0.2 - 0.5j, 0.3 - 0.05j])


def rows(*columns: Iterable[float], mark: str = ",", comma: bool = False) -> str:
    text = "".join(mark.join(f"{value:.12g}" for value in row) + "\n" for row in zip(*columns, strict=True))
    return text.replace(".", ",") if comma else text


READ = {
    "csv": ("Frequency (Hz),|Z| (ohm),Phase (deg)\n" + rows(F, MAG, DEG), Z),
    "megahertz": ("Frequency (MHz),|Z| [Ohm],Phase/deg\n" + rows(F / 1e6, MAG, DEG), Z),
    "any order": ("X (ohm);R (ohm);f (kHz)\n" + rows(Z.imag, Z.real, F / 1e3, mark=";"), Z),
    "decimal comma": ("f [MHz];R [Ω];X [Ω]\n" + rows(F / 1e6, Z.real, Z.imag, mark=";", comma=True), Z),
    "tab, decimal comma": (
        "f [MHz]\tR [mΩ]\tX [mΩ]\n" + rows(F / 1e6, Z.real * 1e3, Z.imag * 1e3, mark="\t", comma=True),
        Z,
    ),
    "spaces": ("Freq(Hz)  |Z|(Ohm)  Phase(rad)\n" + rows(F, MAG, np.angle(Z), mark="   "), Z),
    "single spaces": ("# Frequency (Hz) R (ohm) X (ohm)\n" + rows(F, Z.real, Z.imag, mark=" "), Z),
    "units under names": ("Freq,Z,theta\nHz,ohm,deg\n" + rows(F, MAG, DEG), Z),
    "preface": ("Instrument,x\nDate,2024-01-01\n\nFrequency_Hz,Rs_ohm,Xs_ohm\n" + rows(F, Z.real, Z.imag), Z),
    "quotes": ('"Frequency (Hz)","Re(Z) (ohm)","Im(Z) (ohm)"\n' + rows(F, Z.real, Z.imag), Z),
    "primes": ("freq/Hz;Z'/Ohm;Z''/Ohm\n" + rows(F, Z.real, Z.imag, mark=";"), Z),
    "SI without units": ("f,R,X\n" + rows(F, Z.real, Z.imag), Z),
    "degrees by size": ("f,|Z|,phase\n" + rows(F, MAG, DEG), Z),
    "decibels": ("f (Hz),|Z| (dBohm),phase (deg)\n" + rows(F, 20 * np.log10(MAG), DEG), Z),
    "trailing separators": ("f,R,X,\n" + rows(F, Z.real, Z.imag).replace("\n", ",\n"), Z),
    "comments": ("! note\nf,R,X\n! more\n" + rows(F, Z.real, Z.imag) + "! end\n", Z),
    "Cs and Rs": ("f,Cs (nF),ESR (mohm)\n" + rows(F, -1e9 / (W * CAP.imag), CAP.real * 1e3), CAP),
    "C and R": ("f (Hz),C (pF),R (ohm)\n" + rows(F, -1e12 / (W * CAP.imag), CAP.real), CAP),
    "Cs and D": ("f,Cs,D\n" + rows(F, -1 / (W * CAP.imag), -CAP.real / CAP.imag), CAP),
    "Cp and D": ("f,Cp,tan δ (%)\n" + rows(F, (1 / CAP).imag / W, 100 * (1 / CAP).real / (1 / CAP).imag), CAP),
    "Cp and Rp": ("f,Cp (nF),Rp (kohm)\n" + rows(F, (1 / CAP).imag / W * 1e9, 1e-3 / (1 / CAP).real), CAP),
    "Ls and Q": ("f,Ls (uH),Q\n" + rows(F, 1e6 * Z.imag / W, Z.imag / Z.real), Z),
    "Ls and Rs": ("f,Ls (µH),Rs\n" + rows(F, 1e6 * Z.imag / W, Z.real), Z),
    "Lp and Rp": ("f,Lp,Rp\n" + rows(F, -1 / (W * (1 / Z).imag), 1 / (1 / Z).real), Z),
    "G and B": ("f,G (mS),B (mS)\n" + rows(F, 1e3 * (1 / Z).real, 1e3 * (1 / Z).imag), Z),
}


@pytest.mark.parametrize("name", READ)
def test_reads_right(tmp_path: Path, name: str) -> None:
    text, expected = READ[name]
    path = tmp_path / "data.csv"
    path.write_text(text, "utf-8")
    measurement = read_table(path)
    np.testing.assert_allclose(measurement.f_hz, F, rtol=1e-9)
    np.testing.assert_allclose(measurement.z_ohm, expected, rtol=1e-9)
    assert measurement.warnings == ()


SAID = {
    "left out after the numbers": ("f,R,X\n" + rows(F, Z.real, Z.imag) + "END\n", "line 5 on is left out"),
    "column not used": ("f,R,X,Temp\n" + rows(F, Z.real, Z.imag, F), "not used: Temp"),
    "contradiction": ("f,R,X,|Z|\n" + rows(F, Z.real, Z.imag, 2 * MAG), "differs from the other columns by 69 %"),
    "series assumed": ("f,C,D\n" + rows(F, F * 1e-18, F * 1e-10), "taken as the series value"),
    "magnitude alone": ("f,|Z|\n" + rows(F, MAG), "no phase"),
    "gap": ("f,R,X\n" + rows(F, Z.real, Z.imag) + "2e8,,3\n", "1 point without a finite impedance"),
}


@pytest.mark.parametrize("name", SAID)
def test_says_what_it_assumed(tmp_path: Path, name: str) -> None:
    text, words = SAID[name]
    path = tmp_path / "data.csv"
    path.write_text(text, "utf-8")
    measurement = read_table(path)
    assert words in " | ".join(measurement.warnings)
    assert measurement.has_phase == (name != "magnitude alone")


NUMBERS = rows(F, Z.real, Z.imag)
REFUSED = {
    "no header": (NUMBERS, "no header"),
    "no numbers": ("f,R,X\n", "no line of two or more numbers"),
    "phase of unknown unit": ("f,|Z|,phase\n1e6,3,0.5\n2e6,4,0.6\n", '"phase" without unit'),
    "strange phase unit": ("f,|Z|,phase (turns)\n1e6,3,0.5\n", '"turns"'),
    "strange unit": ("f (Hz),R (V),X (ohm)\n" + NUMBERS, '"V"'),
    "millihertz": ("f (mHz),R (ohm),X (ohm)\n" + NUMBERS, "Hz, kHz, MHz or GHz"),
    "twice": ("f,R,R,X\n" + rows(F, MAG, MAG, MAG), 'two columns like "R"'),
    "no frequency": ("time,R,X\n" + NUMBERS, "no header"),
    "R alone": ("f,R\n" + rows(F, Z.real), "columns for f, r only"),
    "|Z| and R": ("f,|Z|,R\n" + rows(F, MAG, Z.real), "sign of X"),
    "C and large D": ("f,C,D\n" + rows(F, F * 1e-18, F * 1e-8), "series or parallel"),
    "comma as separator and sign": ("f,R,X\n1,5,2,5,3,5\n", "6 columns of numbers under 3 names"),
    "thousands": ("f;R;X\n1.000,5;2,5;3,5\n", "no line of two or more numbers"),
    "word in the middle": ("f,R,X\n1e6,1,2\nfault\n2e6,1,2\n", 'line 3: found "fault"'),
    "short line": ("f,R,X\n1e6,1,2\n2e6,1\n3e6,1,2\n", "line 3"),
    "binary": ("\0\1\2" * 100, "not text"),
}


@pytest.mark.parametrize("name", REFUSED)
def test_refuses_in_one_sentence(tmp_path: Path, name: str) -> None:
    text, words = REFUSED[name]
    path = tmp_path / "data.csv"
    path.write_text(text, "utf-8")
    with pytest.raises(DataError) as caught:
        read_table(path)
    message = str(caught.value)
    assert message.startswith("data.csv")
    assert words in message
    assert "\n" not in message
    assert "; accepted: " in message


def test_names_can_be_given(tmp_path: Path) -> None:
    path = tmp_path / "data.txt"
    path.write_text(NUMBERS)
    measurement = read_table(path, columns=("frequency (Hz)", "R (ohm)", "X (ohm)"))
    np.testing.assert_allclose(measurement.z_ohm, Z, rtol=1e-9)


def test_magnitude_alone_keeps_the_magnitude(tmp_path: Path) -> None:
    path = tmp_path / "data.txt"
    path.write_text("f (MHz)\tZ (kohm)\n" + rows(F / 1e6, MAG / 1e3, mark="\t"))
    np.testing.assert_allclose(read_table(path).z_ohm, MAG, rtol=1e-9)
