"""`isthmus evaluate`: the JSON object of the contract, the table, the options, and no Qt."""

from __future__ import annotations

import ast
import json
import math
import subprocess
import sys
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from app.cli.main import main
from models.assets import CASES, DEMO_CASE
from models.case.read import load_case
from models.network.grid import point_grid
from models.network.solver import Solver
from models.outcomes.evaluation import Evaluator

SENSOR = CASES / "sensor-board.toml"


def printed(capsys: pytest.CaptureFixture[str], *arguments: str | Path) -> str:
    """Return what a command prints, after checking that it is done and complains of nothing."""
    assert main(["evaluate", *map(str, arguments)]) == 0
    said = capsys.readouterr()
    assert said.err == ""
    return said.out


def answer(capsys: pytest.CaptureFixture[str], *arguments: str | Path) -> dict[str, Any]:
    """Return the one JSON object that a command prints, refusing NaN and infinity."""
    out = printed(capsys, *arguments, "--json")
    assert out.count("\n") == 1
    result: dict[str, Any] = json.loads(out, parse_constant=lambda word: pytest.fail(f"{word} is no JSON"))
    return result


NUMBER = (int, float)
NONE = type(None)
SHAPE: dict[str, Any] = {
    "case": {"title": str, "pair": [str]},
    "candidates": [
        {
            "name": str,
            "dc": {"bridge_resistance_ohm": (*NUMBER, NONE), "blocks_dc": bool},
            "impedance": [{"frequency_hz": float, "bridge_ohm": ([float], NONE), "in_circuit_ohm": ([float], NONE)}],
            "common_mode": [
                {
                    "source": str,
                    "peak_v": (*NUMBER, NONE),
                    "peak_to_peak_v": (*NUMBER, NONE),
                    "rms_v": (*NUMBER, NONE),
                    "harmonics": [{"order": int, "frequency_hz": float, "vrms": (*NUMBER, NONE)}],
                }
            ],
            "touch_current": (
                {
                    "unweighted_a_rms": float,
                    "weighted_a_rms": float,
                    "worst_unweighted_a_rms": float,
                    "worst_weighted_a_rms": float,
                },
                NONE,
            ),
            "verdicts": [
                {
                    "requirement": str,
                    "outcome": str,
                    "value": (*NUMBER, NONE),
                    "limit": (*NUMBER, NONE),
                    "unit": (str, NONE),
                    "margin_db": (*NUMBER, NONE),
                    "why": str,
                }
            ],
        }
    ],
}


def fits(found: Any, shape: Any) -> bool:
    """Return whether a value has at least the keys of a shape, each of the type that it says."""
    if isinstance(shape, tuple):
        return any(fits(found, each) for each in shape)
    if isinstance(shape, dict):
        return isinstance(found, dict) and all(key in found and fits(found[key], shape[key]) for key in shape)
    if isinstance(shape, list):
        return isinstance(found, list) and all(fits(each, shape[0]) for each in found)
    return type(found) is shape


@pytest.mark.parametrize("path", sorted(CASES.glob("*.toml")), ids=lambda path: path.stem)
def test_every_shipped_case_has_the_shape_of_the_contract(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = answer(capsys, path, "--at", "1kHz,1MHz")
    assert fits(found, SHAPE)
    case = load_case(path)
    assert [each["name"] for each in found["candidates"]] == [each.name for each in case.candidates]
    for each in found["candidates"]:
        assert {verdict["outcome"] for verdict in each["verdicts"]} <= {"pass", "fail", "not-applicable"}
        assert [verdict["requirement"] for verdict in each["verdicts"]] == [it.kind for it in case.requirements]
        assert [voltage["source"] for voltage in each["common_mode"]] == [source.name for source in case.sources]


def test_the_shape_is_strict() -> None:
    assert not fits({"title": "x"}, SHAPE["case"])
    assert not fits({"title": 5, "pair": []}, SHAPE["case"])
    assert not fits(True, NUMBER)


def test_numbers_are_those_of_the_models_in_full(capsys: pytest.CaptureFixture[str]) -> None:
    found = answer(capsys, DEMO_CASE)
    case = load_case(DEMO_CASE)
    f_hz = case.sweep.f_hz()
    rows = found["candidates"][0]["impedance"]
    assert [row["frequency_hz"] for row in rows] == pytest.approx(f_hz.tolist(), rel=1e-15)
    z = Solver().in_circuit(case, case.candidates[0], point_grid(f_hz.tolist()))
    assert np.array([complex(*row["in_circuit_ohm"]) for row in rows]) == pytest.approx(z, rel=1e-12)
    assert found["case"] == {"title": case.title, "pair": ["primary", "secondary"]}


def test_harmonics_go_from_the_mean_to_the_end_of_the_sweep(capsys: pytest.CaptureFixture[str]) -> None:
    found = answer(capsys, DEMO_CASE, "--candidate", "Copper", "--at", "1MHz")
    lines = found["candidates"][0]["common_mode"][0]["harmonics"]
    assert [line["order"] for line in lines] == list(range(10_001))
    assert lines[-1]["frequency_hz"] == pytest.approx(1e9)
    rms = math.sqrt(sum(line["vrms"] ** 2 for line in lines))
    assert found["candidates"][0]["common_mode"][0]["rms_v"] == pytest.approx(rms)


LOADED = """
isthmus = 1
bead_bias = "load"
[pair]
a = "power"
b = "quiet"
[[cable]]
name = "lead"
region = "quiet"
length = "1 m"
diameter = "2 mm"
height = "0.5 m"
far_end = "lisn"
[[candidate]]
name = "bead"
[[candidate.branch]]
parts = [
  { kind = "bead", rdc = "0.1 ohm", rated_current = "1 A", cells = [ { resistance = 600, inductance = 1e-6 } ] },
]
[[source]]
name = "load"
kind = "return-current"
between = ["power", "quiet"]
amplitude = "1.2 A"
frequency = "20 kHz"
duty = 0.5
rise = "10 ns"
fall = "10 ns"
[[coupling]]
name = "stray"
between = ["power", "earth"]
parts = [ { kind = "capacitor", capacitance = "20 pF" } ]
"""


def test_the_load_and_the_bias_of_a_bead_are_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "loaded.toml"
    path.write_text(LOADED)
    found = answer(capsys, path, "--at", "1MHz")["candidates"][0]
    (load,), (bead,) = found["load"], found["beads"]
    assert load["between"] == ["power", "quiet"]
    assert (load["current_a"], load["drop_v"]) == pytest.approx((-0.6, -0.06))
    left = 1.0 / (1.0 + (0.6 / 0.35) ** 1.6)
    assert (bead["bias_from"], bead["bias_a"], bead["load_a"]) == ("load", pytest.approx(0.6), pytest.approx(0.6))
    assert bead["inductance_left"] == bead["inductance_left_by_load"] == pytest.approx(left, rel=1e-3)
    x = 2.0e6 * math.pi * left * 1e-6
    z = 0.1 + 1.0 / (1.0 / 600.0 + 1.0 / (1j * x))
    assert complex(*found["impedance"][0]["bridge_ohm"]) == pytest.approx(z, rel=1e-3)


def test_long_spectra_of_cables_are_bounded_and_the_voltage_is_whole(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """20 kHz to 1 GHz are 50 000 lines: the contract's voltage has all of them, what stands beside it the strongest."""
    path = tmp_path / "loaded.toml"
    path.write_text(LOADED)
    found = answer(capsys, path, "--at", "1MHz")["candidates"][0]
    assert len(found["common_mode"][0]["harmonics"]) == 50_001
    (cable,), (lead,), (field,) = found["cables"], found["conducted"], found["radiated"]
    assert cable["harmonics_in_all"] == 50_001
    assert len(cable["harmonics"]) <= 2001
    assert [line["order"] for line in cable["harmonics"][:5]] == [0, 1, 2, 3, 4]
    case = load_case(path)
    current = Evaluator().evaluate(case).outcomes[0].cables[0]
    strongest = int(current.largest_a_rms[1:].argmax()) + 1
    told = {line["order"]: line["largest_a_rms"] for line in cable["harmonics"]}
    assert told[strongest] == current.largest_a_rms[strongest]
    for spectrum in (lead["sources"][0], *field["fields"]):
        assert 0 < len(spectrum["lines"]) <= 2000 <= spectrum["lines_in_all"]
        assert all(line["frequency_hz"] == pytest.approx(line["order"] * 20e3) for line in spectrum["lines"])


def test_an_open_bridge_is_null(capsys: pytest.CaptureFixture[str]) -> None:
    found = answer(capsys, DEMO_CASE, "--candidate", "Nothing", "--at", "0Hz,1MHz")["candidates"][0]
    assert found["dc"]["bridge_resistance_ohm"] is None
    assert found["dc"]["blocks_dc"] is True
    assert [row["bridge_ohm"] for row in found["impedance"]] == [None, None]
    assert found["impedance"][0]["in_circuit_ohm"] is None
    assert len(found["impedance"][1]["in_circuit_ohm"]) == 2


def test_a_direct_current_without_way_back_is_null(capsys: pytest.CaptureFixture[str]) -> None:
    found = answer(capsys, SENSOR, "--candidate", "Nothing", "--at", "1MHz")["candidates"][0]["common_mode"][0]
    assert found["peak_v"] is None
    assert found["rms_v"] is None
    assert found["harmonics"][0]["vrms"] is None
    assert found["harmonics"][1]["vrms"] > 0.0


def test_at_gives_these_frequencies_in_this_order(capsys: pytest.CaptureFixture[str]) -> None:
    found = answer(capsys, DEMO_CASE, "--at", "100MHz, 1k,0 Hz,1e6", "--candidate", "Copper")
    rows = found["candidates"][0]["impedance"]
    assert [row["frequency_hz"] for row in rows] == [100e6, 1e3, 0.0, 1e6]
    assert rows[2]["bridge_ohm"] == [pytest.approx(0.6e-3), 0.0]
    assert abs(complex(*rows[0]["bridge_ohm"])) == pytest.approx(2 * math.pi * 100e6 * 1.5e-9, rel=1e-6)


def test_candidate_gives_it_alone(capsys: pytest.CaptureFixture[str]) -> None:
    whole = answer(capsys, DEMO_CASE, "--at", "1MHz")
    alone = answer(capsys, DEMO_CASE, "--at", "1MHz", "--candidate", "Copper")
    assert alone["candidates"] == [each for each in whole["candidates"] if each["name"] == "Copper"]


def test_unknown_candidate_names_those_there_are(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["evaluate", str(DEMO_CASE), "--candidate", "copper"]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert '"copper"' in said.err
    assert '"Copper"' in said.err
    assert '"Nothing"' in said.err


def table_of(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, *arguments: str | Path) -> list[str]:
    monkeypatch.setenv("COLUMNS", "220")
    return printed(capsys, *arguments).splitlines()


def row_of(lines: list[str], start: str) -> str:
    return next(line for line in lines if line.strip().startswith(start))


def test_the_table_has_candidates_across_and_questions_down(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    lines = table_of(capsys, monkeypatch, DEMO_CASE)
    case = load_case(DEMO_CASE)
    header = next(line for line in lines if "Nothing" in line and "Copper" in line)
    places = [header.index(candidate.name) for candidate in case.candidates]
    assert places == sorted(places)
    assert "✗" in row_of(lines, "Blocks DC")
    assert "✓" in row_of(lines, "Blocks DC")
    assert "250 µA" in row_of(lines, "Touch current under")
    assert row_of(lines, "Common-mode rms").count("▲") == 1
    assert any("certification" in line for line in lines)
    assert any("qualified person" in line for line in lines)


def test_the_table_has_the_frequencies_that_are_asked_for(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    lines = table_of(capsys, monkeypatch, DEMO_CASE, "--at", "0Hz,30MHz")
    asked = [line.split("  ")[0].strip() for line in lines if line.strip().startswith("Impedance at")]
    assert asked == ["Impedance at DC", "Impedance at 30 MHz"]
    assert "open" in row_of(lines, "Impedance at DC")


def test_the_table_without_a_candidate(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "bare.toml"
    path.write_text(
        'isthmus = 1\n[pair]\na = "x"\nb = "y"\n[[coupling]]\nname = "k"\nbetween = ["x", "y"]\n'
        'parts = [ { kind = "copper", resistance = "1 ohm" } ]\n'
    )
    assert "No candidate yet" in printed(capsys, path)
    assert answer(capsys, path)["candidates"] == []


def test_markup_in_names_is_shown_as_it_is(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "marked.toml"
    path.write_text(DEMO_CASE.read_text().replace('"Copper"', '"[red]Copper[/]"'))
    assert any("[red]Copper[/]" in line for line in table_of(capsys, monkeypatch, path))


_NEVER = (
    "PySide6",
    "shiboken6",
    "pyqtgraph",
    "scipy",
    "skrf",
    "PIL",
    "matplotlib",
    "pandas",
    "multiprocessing",
    "tomlkit",
)


@pytest.mark.parametrize(
    ("options", "heavy"),
    [([], _NEVER), (["--json"], (*_NEVER, "rich")), (["--at", "1MHz"], _NEVER), (["--help"], (*_NEVER, "rich"))],
)
def test_nothing_is_loaded_that_it_does_not_need(options: list[str], heavy: tuple[str, ...]) -> None:
    code = (
        "import sys; from app.cli.main import main; status = main(sys.argv[1:]); "
        "print(sorted({name.split('.')[0] for name in sys.modules}), file=sys.stderr); sys.exit(status)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, "evaluate", str(DEMO_CASE), *options], capture_output=True, text=True, check=True
    )
    assert not set(ast.literal_eval(done.stderr)) & set(heavy)


def test_json_tells_paths_purpose_and_recommendation(capsys: pytest.CaptureFixture[str]) -> None:
    found = answer(capsys, DEMO_CASE, "--at", "1MHz")
    assert [each["requirement"] for each in found["purpose"]] == [
        each["requirement"] for each in found["candidates"][0]["verdicts"]
    ]
    taken = found["recommendation"]
    assert taken["candidate"] in [each["name"] for each in found["candidates"]]
    assert taken["why"]
    for each in found["candidates"]:
        (at,) = each["paths"]
        leaving = [path for path in at["paths"] if path["leaves_b"]]
        assert sum(path["share"] for path in leaving) == pytest.approx(1.0)
        assert sum(complex(*path["current_a"]) for path in leaving) == pytest.approx(1.0)
        assert "events" not in each


def test_events_without_json_are_told(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["evaluate", str(DEMO_CASE), "--with", "events"]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err == "isthmus: Invalid value for --with: found events without --json; accepted: both together\n"


def test_json_tells_events_where_they_are_asked_for(capsys: pytest.CaptureFixture[str]) -> None:
    found = answer(capsys, DEMO_CASE, "--at", "1MHz", "--with", "events", "--candidate", "Copper")
    (each,) = found["candidates"]
    assert [event["kind"] for event in each["events"]] == ["discharge", "burst", "surge"]
    for event in each["events"]:
        assert event["peak_v"] > 0.0
        assert "not a certification" in event["caution"] or event["caution"]
        assert set(event["left"]) == {"pair_v", "region_v", "charge_c", "pair_bleed_s", "region_bleed_s"}
