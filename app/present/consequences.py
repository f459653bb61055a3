"""What comes of the bridges, in the mode that is looked at; nothing that is not shown is computed."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from attrs import frozen

from app.present.cable_plot import CABLE_CAUTION, along_cable, cable_bars, cable_choices, cable_plot, shown_choice
from app.present.common_mode import peak_bars, source_choice, spectrum_plot, waveform_plot
from app.present.emission_plot import (
    emission_bars,
    emission_caution,
    emission_choices,
    emission_plot,
    emission_title,
    missing,
)
from app.present.log_bars import log_fraction, upper_end
from app.present.numbers import reading
from app.present.specs import BarSpec, BarsSpec, ChoiceSpec, ConsequenceSpec, PlotSpec
from app.present.tabs import ink
from app.present.transient_plot import TransientSpec, current_bars, rating_bars, transient_spec
from app.state.chosen import ALONG_CABLE, asked_emission, chosen_event
from app.state.events import Events
from app.state.results import Desk, Results
from app.state.view import View
from models.case.document import Case
from models.outcomes.emitted import Asked
from models.outcomes.event import KINDS, Event
from models.outcomes.transient import Transient
from models.quantity import format_quantity

_SHOWS = (("voltage", "voltage"), ("currents", "currents"), ("left", "what stays"), ("ratings", "ratings"))
_NO_BARS = BarsSpec(title="")


@frozen(kw_only=True, eq=False)
class Shown:
    """What there is to show, and how what is not there yet is computed."""

    desk: Desk
    events: Events
    results: Results
    view: View


def consequence(shown: Shown) -> tuple[ConsequenceSpec, bool]:
    """Return what comes of the bridges in the mode of the view, and whether all of it is up to date."""
    return _MODES.get(shown.view.mode, _waveform)(shown)


def _waveform(shown: Shown) -> tuple[ConsequenceSpec, bool]:
    return _common_mode(shown, waveform_plot(shown.results, shown.view)), True


def _spectrum(shown: Shown) -> tuple[ConsequenceSpec, bool]:
    return _common_mode(shown, spectrum_plot(shown.results, shown.view)), True


def _common_mode(shown: Shown, plot: PlotSpec) -> ConsequenceSpec:
    results, view = shown.results, shown.view
    title, _, across = plot.title.partition(", ")
    if view.mode == "spectrum" and plot.subtitle:
        across = ""
    return ConsequenceSpec(
        mode=view.mode,
        title=title,
        note=": ".join(part for part in (across, plot.subtitle) if part),
        plot=plot,
        bars=peak_bars(results, view),
        choices=source_choice(results, view),
        offer=None if results.case.sources else ("add-switch-node", "Add a switch node"),
    )


def _emission(shown: Shown) -> tuple[ConsequenceSpec, bool]:
    results, view = shown.results, shown.view
    if view.mode == "radiated" and view.radiated_shows == ALONG_CABLE:
        return _cable(shown)
    asked = asked_emission(results.case, view)
    found = shown.desk.emissions(results, asked)
    lacks = missing(results, found, asked)
    spec = ConsequenceSpec(
        mode=view.mode,
        title=emission_title(asked),
        note="",
        plot=emission_plot(results, found, asked, view),
        bars=_NO_BARS if lacks else emission_bars(results, found, asked, view),
        choices=_emission_choices(results.case, asked, view, lacks=bool(lacks)),
        offer=_offer(results.case, asked.kind) if lacks else None,
        caution="" if lacks else emission_caution(asked),
    )
    return spec, True


def _emission_choices(case: Case, asked: Asked, view: View, *, lacks: bool) -> tuple[ChoiceSpec, ...]:
    """Return what can be chosen; from a field that no harmonic makes, the current along the cables still."""
    along = (shown_choice(view),) if asked.kind == "radiated" and case.cables else ()
    return along if lacks else (*along, *emission_choices(asked, view))


def _cable(shown: Shown) -> tuple[ConsequenceSpec, bool]:
    results, view = shown.results, shown.view
    found = along_cable(results, view)
    plot = cable_plot(results, found, view)
    spec = ConsequenceSpec(
        mode=view.mode,
        title=plot.title,
        note=plot.subtitle,
        plot=plot,
        bars=cable_bars(results, found, view),
        choices=cable_choices(results, view),
        offer=_offer(results.case, view.mode) if found is None else None,
        caution=CABLE_CAUTION if found is not None else "",
    )
    return spec, True


def _offer(case: Case, kind: str) -> tuple[str, str] | None:
    """Return what can be added so that there is an emission to show."""
    if not case.candidates:
        return None
    if not case.sources:
        return "add-switch-node", "Add a switch node"
    if kind == "conducted" and not any(each.far_end == "lisn" for each in case.cables):
        return "add-mains-lead", "Add a mains lead"
    return None if case.cables else ("add-signal-cable", "Add a signal cable")


def _event(shown: Shown) -> tuple[ConsequenceSpec, bool]:
    results, view = shown.results, shown.view
    event = chosen_event(results.case, view)
    known = shown.events.advance(results.case, event, view.candidate)
    transients = known.transients
    spec = transient_spec(results.case, transients, view.candidate)
    plot = spec.current if view.event.shows == "currents" else spec.voltage
    return ConsequenceSpec(
        mode=view.mode,
        title="What stays" if view.event.shows == "left" else plot.title.partition(", ")[0],
        note=event.standard.standard if transients else "",
        plot=plot,
        table=spec.answers if view.event.shows == "left" and transients else None,
        bars=_event_bars(transients, view),
        bars_choose=view.event.shows == "voltage",
        choices=event_choices(results.case, event, view) if transients else (),
        caution=_event_caution(spec) if transients else "",
    ), not known.late


def _event_caution(spec: TransientSpec) -> str:
    """Return what has to be said of an event: first that it is an estimate, then what this one is about."""
    estimate, stop, rest = spec.caution.partition(". ")
    return " ".join(part for part in (f"{estimate}{stop}".strip(), *spec.notes, rest) if part)


def _event_bars(transients: tuple[Transient, ...], view: View) -> BarsSpec:
    """Return the bars under an event: what the table tells is not told twice."""
    if not transients or view.event.shows == "left":
        return _NO_BARS
    selected = transients[min(view.candidate, len(transients) - 1)]
    if view.event.shows == "ratings":
        return rating_bars(selected)
    if view.event.shows == "currents":
        return current_bars(selected)
    return event_bars(transients, view)


def event_choices(case: Case, event: Event, view: View) -> tuple[ChoiceSpec, ...]:
    """Return what can be chosen of an event: kind, level, region, and what is shown of it."""
    return (
        ChoiceSpec(name="kind", label="Event", options=tuple((kind, kind) for kind in KINDS), chosen=event.kind),
        ChoiceSpec(
            name="level",
            label="Test level",
            options=tuple((repr(each), format_quantity(each, "V")) for each in event.standard.levels_v),
            chosen=repr(event.level_v),
        ),
        ChoiceSpec(
            name="into",
            label="Into",
            options=tuple((region, region) for region in case.regions),
            chosen=event.into,
        ),
        ChoiceSpec(name="shows", label="Shown", options=_SHOWS, chosen=view.event.shows),
    )


def event_bars(transients: tuple[Transient, ...], view: View) -> BarsSpec:
    """Return the peak across the pair of every candidate, on a log scale."""
    peaks = [each.peak_v for each in transients]
    upper = upper_end(peaks)
    return BarsSpec(
        title="Peak across the pair",
        note="log scale",
        bars=tuple(
            BarSpec(
                label=each.candidate,
                ink=ink(index),
                fraction=log_fraction(peak, upper),
                text=reading(peak, "V"),
                strong=index == view.candidate,
            )
            for index, (each, peak) in enumerate(zip(transients, peaks, strict=True))
        ),
    )


_MODES: Mapping[str, Callable[[Shown], tuple[ConsequenceSpec, bool]]] = MappingProxyType(
    {
        "waveform": _waveform,
        "spectrum": _spectrum,
        "conducted": _emission,
        "radiated": _emission,
        "event": _event,
    }
)
