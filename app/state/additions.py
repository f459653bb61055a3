"""What can be added to a case besides bridges, each with usual values as a starting point."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from types import MappingProxyType
from typing import Any

from attrs import evolve, frozen

from app.state.edits import free_name
from models.case.document import Cable, Case, Coupling, Mains, Transformer
from models.case.requirement import DEMANDS, Requirement
from models.codec import Place
from models.declare import set_path
from models.errors import DataError
from models.network.edges import earth_edges
from models.parts.capacitor import Capacitor
from models.parts.copper import Copper
from models.parts.part import Part
from models.parts.plane_gap import PlaneGap
from models.sources.current import CrossingSignal, ReturnCurrent, Ripple
from models.sources.mains_offset import MainsOffset
from models.sources.measured import MeasuredSpectrum, MeasuredWaveform
from models.sources.record import SPECTRUM_FILE, WAVE_FILE, Table, TableFile
from models.sources.sine import Sine
from models.sources.source import Source
from models.sources.switch_node import SwitchNode
from models.sources.trapezoid import Trapezoid
from models.sources.triangle import Triangle

Subject = tuple[str, int]
Edit = Callable[[Case], tuple[Case, Subject]]

_USUAL_LINE = "CISPR 32 class B"


@frozen(kw_only=True)
class Addition:
    """One thing that can be added: where a menu lists it, what it is called, and the edit that adds it."""

    group: str
    label: str
    edit: Edit


def _named(case: Case, owner: str, entry: Any) -> tuple[Case, Subject]:
    """Return the case with an entry under a free name, and the entry as what is selected."""
    entries = getattr(case, owner)
    fresh = evolve(entry, name=free_name(entry.name, tuple(each.name for each in entries)))
    longer: Case = set_path(case, (owner,), (*entries, fresh))
    return longer, (owner.removesuffix("s"), len(entries))


def _transformer(case: Case) -> tuple[Case, Subject]:
    return _named(
        case,
        "transformers",
        Transformer(name="T1", between=case.pair.ends, interwinding_capacitance_f=60e-12, tolerance=0.2),
    )


def _coupling(name: str, part: Part, ends: Callable[[Case], tuple[str, str]]) -> Edit:
    return lambda case: _named(case, "couplings", Coupling(name=name, between=ends(case), parts=(part,)))


def _pair(case: Case) -> tuple[str, str]:
    return case.pair.ends


def _a_to_chassis(case: Case) -> tuple[str, str]:
    """Return the first region and what a heat sink is screwed to: a further region, else the surroundings."""
    return case.pair.a, case.pair.others[0] if case.pair.others else case.surroundings.name


def _b_to_earth(case: Case) -> tuple[str, str]:
    return case.pair.b, case.surroundings.name


def _switch_node(case: Case) -> tuple[Case, Subject]:
    """Add a switch node, and the transformer that it drives where there is none."""
    with_one = case if case.transformers else _transformer(case)[0]
    wave = Trapezoid(frequency_hz=65e3, duty=0.4, rise_s=50e-9, fall_s=30e-9)
    through = with_one.transformers[0].name
    return _named(with_one, "sources", SwitchNode(name="switch node", through=through, amplitude_v=325.0, wave=wave))


def _source(make: Callable[[Case], Source]) -> Edit:
    return lambda case: _named(case, "sources", make(case))


def _return_current(case: Case) -> ReturnCurrent:
    wave = Trapezoid(frequency_hz=400e3, duty=0.4, rise_s=10e-9, fall_s=10e-9)
    return ReturnCurrent(name="return current", between=_pair(case), amplitude_a=1.0, wave=wave)


def _ripple(case: Case) -> Ripple:
    wave = Triangle(frequency_hz=400e3, duty=0.4)
    return Ripple(name="ripple", between=_pair(case), amplitude_a=0.3, mean_a=1.0, wave=wave)


def _signal(case: Case) -> CrossingSignal:
    wave = Trapezoid(frequency_hz=10e6, duty=0.5, rise_s=2e-9, fall_s=2e-9)
    return CrossingSignal(name="signal", between=_pair(case), swing_v=3.3, impedance_ohm=100.0, wave=wave)


def _data(case: Case) -> CrossingSignal:
    return evolve(_signal(case), name="data lines", pattern="random", count=4)


def _mains_offset(case: Case) -> tuple[Case, Subject]:
    """Add an offset between the earths, and the earth of the second region where it has none."""
    ends = next((pair for pair in (_pair(case), _pair(case)[::-1]) if earth_edges(case, pair[1])), None)
    if ends is None:
        case, _ = _earth_of(case.pair.b)(case)
        ends = _pair(case)
    offset = MainsOffset(name="offset of the earths", between=(ends[0], ends[1]), voltage_v=0.1, wave=Sine())
    return _named(case, "sources", offset)


def measured_waveform(case: Case, path: Path) -> tuple[Case, Subject]:
    """Return the case with one measured period as a source: behind its transformer, else as a current over the pair.

    Raises
    ------
    DataError, QuantityError
        where the file is no period in even steps
    """
    return _named(case, "sources", MeasuredWaveform(name=path.stem, table=_table(path, WAVE_FILE), **_place(case)))


def measured_spectrum(case: Case, path: Path) -> tuple[Case, Subject]:
    """Return the case with measured lines as a source; the lowest one counts as the repetition frequency.

    Raises
    ------
    DataError, QuantityError
        where the file has no lines, or lines that are no multiples of the lowest
    """
    table = _table(path, SPECTRUM_FILE)
    lines = [row[0] for row in table.rows or () if row[0] > 0.0]
    if not lines:
        raise DataError(f"{path.name}: found no line above 0 Hz; accepted: {SPECTRUM_FILE.names}")
    source = MeasuredSpectrum(name=path.stem, table=table, frequency_hz=min(lines), **_place(case))
    return _named(case, "sources", source)


def _table(path: Path, codec: TableFile) -> Table:
    place = Place((path.name,), [], path.parent)
    table = codec.read(path.name, place)
    if place.problems:
        raise DataError(place.problems[0][1].text())
    return Table(file=str(path.resolve()), rows=table.rows)


def _place(case: Case) -> dict[str, Any]:
    return {"through": case.transformers[0].name} if case.transformers else {"between": _pair(case)}


def _earth_of(region: str) -> Edit:
    bond = Copper(resistance_ohm=20e-3, inductance_h=1e-6)
    return lambda case: _named(
        case,
        "couplings",
        Coupling(name=f"earth of {region}", between=(region, case.surroundings.name), parts=(bond,)),
    )


def _cable(name: str, far_end: str | float, length_m: float, region: Callable[[Case], str]) -> Edit:
    def add(case: Case) -> tuple[Case, Subject]:
        cable = Cable(name=name, region=region(case), length_m=length_m, diameter_m=7e-3, height_m=0.4, far_end=far_end)
        return _named(case, "cables", cable)

    return add


def _fed(case: Case) -> str:
    return case.pair.a if case.mains is None else case.mains.feeds


def _other(case: Case) -> str:
    return case.pair.b if _fed(case) == case.pair.a else case.pair.a


def usual_mains(feeds: str, touched: str) -> Mains:
    """Return mains to begin with."""
    return Mains(voltage_v=230.0, frequency_hz=50.0, feeds=feeds, touched=touched)


def _mains(case: Case) -> tuple[Case, Subject]:
    return evolve(case, mains=case.mains or usual_mains(*case.pair.ends)), ("case", 0)


def _region(case: Case) -> tuple[Case, Subject]:
    """Add a region, and the stray to the surroundings without which nothing would join it."""
    name = free_name("chassis", (*case.regions, case.surroundings.name))
    wider = evolve(case, pair=evolve(case.pair, others=(*case.pair.others, name)))
    stray = Coupling(
        name=f"stray of {name}", between=(name, case.surroundings.name), parts=(Capacitor(capacitance_f=50e-12),)
    )
    return _named(wider, "couplings", stray)[0], ("case", 0)


_LIMITS: Mapping[str, float] = MappingProxyType(
    {
        "withstand": 3e3,
        "return-impedance": 1.0,
        "common-mode-voltage": 3.0,
        "touch-current": 0.25e-3,
        "dc-drop": 50e-3,
        "loop-current": 10e-3,
        "static-bleed": 1.0,
    }
)
"""A limit to begin with, in the SI unit of its kind; what holds is in the product's own standard."""


def usual_requirement(kind: str) -> Requirement:
    """Return a requirement of a kind with a usual limit, band or limit line to begin with."""
    demand = DEMANDS[kind]
    return Requirement(
        kind=kind,
        limit=_LIMITS.get(kind),
        band_hz=(150e3, 30e6) if demand.band else None,
        limit_line=_USUAL_LINE if demand.line else None,
    )


def _requirement(kind: str) -> Edit:
    def add(case: Case) -> tuple[Case, Subject]:
        wanted = (*case.requirements, usual_requirement(kind))
        return evolve(case, requirements=wanted), ("requirement", len(case.requirements))

    return add


def requirement_words(kind: str) -> str:
    """Return what a kind of requirement is called."""
    own = {"blocks-dc": "Blocks DC", "dc-drop": "DC drop", "common-mode-voltage": "Common-mode voltage"}
    return own.get(kind, kind.replace("-", " ").capitalize())


def _addition(group: str, label: str, edit: Edit) -> Addition:
    return Addition(group=group, label=label, edit=edit)


ADDITIONS: Mapping[str, Addition] = MappingProxyType(
    {
        "add-transformer": _addition("", "Transformer", _transformer),
        "add-switch-node": _addition("Source", "Switch node", _switch_node),
        "add-ripple": _addition("Source", "Ripple and load current", _source(_ripple)),
        "add-return-current": _addition("Source", "Pulsed return current", _source(_return_current)),
        "add-signal": _addition("Source", "Clock that crosses", _source(_signal)),
        "add-data": _addition("Source", "Data that crosses", _source(_data)),
        "add-mains-offset": _addition("Source", "Mains offset of the earths", _mains_offset),
        "add-stray": _addition(
            "Coupling", "Stray to the surroundings", _coupling("stray", Capacitor(capacitance_f=30e-12), _b_to_earth)
        ),
        "add-isolator": _addition(
            "Coupling", "Isolator barrier", _coupling("isolator", Capacitor(capacitance_f=1e-12), _pair)
        ),
        "add-plane-gap": _addition(
            "Coupling", "Gap between planes", _coupling("gap", PlaneGap(gap_m=2e-3, length_m=0.05, depth_m=0.04), _pair)
        ),
        "add-heat-sink": _addition(
            "Coupling", "Heat sink", _coupling("heat sink", Capacitor(capacitance_f=50e-12), _a_to_chassis)
        ),
        "add-earth": _addition(
            "Coupling",
            "Bond to earth",
            _coupling("bond to earth", Copper(resistance_ohm=20e-3, inductance_h=300e-9), _b_to_earth),
        ),
        "add-mains-lead": _addition("Cable", "Mains lead into a LISN", _cable("mains lead", "lisn", 0.8, _fed)),
        "add-signal-cable": _addition("Cable", "Cable with an open end", _cable("cable", "open", 1.5, _other)),
        "add-earthed-cable": _addition(
            "Cable", "Cable to earthed equipment", _cable("earthed cable", "earthed", 2.0, _other)
        ),
        "add-loaded-cable": _addition("Cable", "Cable into an impedance", _cable("cable", 150.0, 1.5, _other)),
        **{
            f"add-{kind}-wanted": _addition("Requirement", requirement_words(kind), _requirement(kind))
            for kind in DEMANDS
        },
        "add-mains": _addition("", "Mains", _mains),
        "add-region": _addition("", "Further region", _region),
    }
)
"""Everything that can be added, by action id, in the order of the menu."""


def offered(case: Case) -> Mapping[str, Addition]:
    """Return what can be added to a case: mains only once."""
    return {name: each for name, each in ADDITIONS.items() if name != "add-mains" or case.mains is None}
