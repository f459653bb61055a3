"""What the widgets render: plain values, complete in themselves; what holds arrays is compared by identity.

A spec has every text, colour role, dash and limit that the screen shows. A widget computes nothing.
"""

from __future__ import annotations

import numpy as np
from attrs import field, frozen
from numpy.typing import NDArray

from models.codec import KeyPath


@frozen(kw_only=True)
class Ink:
    """Colour and dash of one candidate or source everywhere in the window: a slot of the theme's palette."""

    slot: int = 0
    """Below 0 for what was measured, which looks like no candidate."""


@frozen(kw_only=True)
class AxisSpec:
    """One axis: its unit for tick texts, its kind and the range shown at first (data units)."""

    unit: str = ""
    log: bool = False
    low: float = 0.0
    high: float = 1.0
    room_px: float = 48.0
    """The least room for the texts of a y axis, so that plots under each other can stand flush."""


@frozen(kw_only=True, eq=False)
class CurveSpec:
    """One curve in data units; NaN or non-positive values on a log axis are gaps."""

    label: str
    ink: Ink
    x: NDArray[np.float64]
    y: NDArray[np.float64]
    strong: bool = False
    faint: bool = False
    """A curve that stands behind the others, such as one branch of a candidate."""
    sticks: bool = False
    """Lines that stand on the axis, such as harmonics, instead of a curve through the points."""
    tops: bool = False
    """Of several points in one pixel only the highest, as for levels that are held against a limit."""
    dots: bool = False
    """A dot at each point instead of a curve, for a few points that were read one by one."""
    thin: NDArray[np.bool_] | None = None
    """Where the curve is drawn thin and pale, such as the magnitude of what is negative there; None for nowhere."""
    valid_x: tuple[float, float] | None = None
    """The range of x that rests on data; beyond it the curve is an extrapolation and drawn as one. None for all."""
    z_ohm: NDArray[np.complex128] | None = None
    """What a magnitude in Ω is the magnitude of, so that it can be taken to other programs."""
    low: NDArray[np.float64] | None = None
    """Lower edge of a band around the curve, such as its usual error; with ``high``, at the same x."""
    high: NDArray[np.float64] | None = None


@frozen(kw_only=True, eq=False)
class BandSpec:
    """A tinted range of x with a name: a regulated band, a requirement."""

    label: str
    x_low: float
    x_high: float
    y_limit: float | None = None
    """A level inside the band that the curves should keep below, drawn as a line of its own."""


@frozen(kw_only=True, eq=False)
class LimitSpec:
    """A limit line that the curves should keep below; NaN between stretches that do not meet."""

    label: str
    x: NDArray[np.float64]
    y: NDArray[np.float64]
    strong: bool = False
    """Whether this is the limit that the curves are held against; others stand faint beside it."""


@frozen(kw_only=True, eq=False)
class GuideSpec:
    """A straight line on log-log axes with its name: constant inductance or capacitance."""

    label: str
    x: tuple[float, float]
    y: tuple[float, float]


@frozen(kw_only=True, eq=False)
class ReadoutSpec:
    """What the cursor reads on one curve."""

    label: str
    ink: Ink
    text: str
    y: float | None
    """Where the ring sits on the curve; None where there is none (an open bridge)."""
    note: str = ""
    """What stands behind the text where there is room, such as the phase."""


@frozen(kw_only=True, eq=False)
class MarkSpec:
    """A named point on a curve, such as a resonance."""

    label: str
    ink: Ink
    x: float
    y: float


@frozen(kw_only=True, eq=False)
class PlotSpec:
    """A plot: axes, curves, guides, bands, the cursor and its read-outs."""

    title: str
    subtitle: str = ""
    x: AxisSpec = field(factory=AxisSpec)
    y: AxisSpec = field(factory=AxisSpec)
    curves: tuple[CurveSpec, ...] = ()
    guides: tuple[GuideSpec, ...] = ()
    bands: tuple[BandSpec, ...] = ()
    limits: tuple[LimitSpec, ...] = ()
    marks: tuple[MarkSpec, ...] = ()
    cursor_x: float | None = None
    cursor_text: str = ""
    readouts: tuple[ReadoutSpec, ...] = ()
    note: str = ""
    """A few words inside the plot, such as what a tint means."""
    stale: str = ""
    """Why the curves are the last good ones and not the present ones; empty when they are current."""
    empty: str = ""
    """What to say in place of a plot that has nothing to show."""


@frozen(kw_only=True, eq=False)
class BarSpec:
    """One bar: its share of the full width and the number at its end."""

    label: str
    ink: Ink
    fraction: float
    text: str
    strong: bool = False
    worst: bool = False
    reach: tuple[float, float] | None = None
    """Shares between which the value may lie, such as its usual error; drawn pale."""


@frozen(kw_only=True, eq=False)
class BarsSpec:
    """Bars under each other, with one limit across all of them."""

    title: str
    note: str = ""
    bars: tuple[BarSpec, ...] = ()
    limit_fraction: float | None = None
    limit_text: str = ""


@frozen(kw_only=True, eq=False)
class CellSpec:
    """One answer: its outcome and the number with it."""

    outcome: str = "note"
    """pass, fail, not-applicable, or note (a value without a judgement)."""
    text: str = ""
    why: str = ""
    """The working, one sentence with the numbers in it."""
    worst: bool = False
    """Whether this is the worst number of its row."""


@frozen(kw_only=True, eq=False)
class TableSpec:
    """Answers: questions down, candidates across."""

    title: str
    columns: tuple[tuple[str, Ink], ...] = ()
    selected: int | None = None
    rows: tuple[tuple[str, tuple[CellSpec, ...]], ...] = ()
    requirements: int = 0
    """How many of the rows, the first ones, are requirements, which a person can change."""
    note: str = ""
    """What to say under the table until an answer is chosen; empty for how to choose one."""
    offer: str = ""
    """What a button beside that note offers to begin with."""
    empty: str = ""


@frozen(kw_only=True)
class FieldSpec:
    """One value that is typed or dragged, or chosen, or switched."""

    path: KeyPath
    label: str
    text: str
    """What the field shows, in the trade's form: 2.2 nF."""
    unit: str = ""
    """SI unit of the value; empty for a bare text or a choice."""
    value: float | None = None
    """The value in SI units; None where it is not set."""
    low: float | None = None
    high: float | None = None
    """Ends of the slider, the usual range; None for a field without slider."""
    log: bool = True
    zero: bool = False
    """Whether the slider's lowest position means exactly 0."""
    steps: tuple[float, ...] = ()
    """Standard values (SI) that the slider snaps to with a modifier key and the arrow keys step through."""
    choices: tuple[str, ...] = ()
    help: str = ""
    note: str = ""
    """Usual values, or what the value means, in a few words under the field."""
    optional: bool = False
    files: str = ""
    """What a button beside the field lets a person choose from, as file dialogs have it; empty for no button."""
    folder: str = ""
    """Where the name of a file starts."""


@frozen(kw_only=True, eq=False)
class SectionSpec:
    """Fields that belong to one part or source, with the actions offered on it."""

    title: str
    fields: tuple[FieldSpec, ...] = ()
    actions: tuple[tuple[str, str], ...] = ()
    """(action id, label) such as ("remove-part:0:1", "Remove")."""
    note: str = ""


@frozen(kw_only=True, eq=False)
class FormSpec:
    """The inspector's page for whatever is selected."""

    title: str
    subtitle: str = ""
    sections: tuple[SectionSpec, ...] = ()
    caution: str = ""


@frozen(kw_only=True, eq=False)
class ChoiceSpec:
    """A small choice over a plot: what it is called, its options and the one that holds."""

    name: str
    """What it is called in the program, such as ``detector``."""
    label: str
    options: tuple[tuple[str, str], ...]
    """(value, words) of each option."""
    chosen: str


@frozen(kw_only=True, eq=False)
class ConsequenceSpec:
    """What comes of the bridges, in one of the modes: a plot or a table, and a bar for every candidate."""

    mode: str
    title: str
    note: str
    plot: PlotSpec
    bars: BarsSpec
    bars_choose: bool = True
    """Whether the bars are the candidates, so that a click on one chooses it."""
    choices: tuple[ChoiceSpec, ...] = ()
    table: TableSpec | None = None
    """Shown in place of the plot."""
    offer: tuple[str, str] | None = None
    """What can be added so that there is something to show: action id and label."""
    caution: str = ""


@frozen(kw_only=True)
class CandidateTabSpec:
    """One candidate in the header."""

    label: str
    ink: Ink
    selected: bool = False


@frozen(kw_only=True)
class HeaderSpec:
    """The line above the sheet: what case this is, its candidates, what undo and redo would do."""

    title: str
    subtitle: str = ""
    tabs: tuple[CandidateTabSpec, ...] = ()
    undo: str = ""
    """Name of the step that undo takes back, such as "drag capacitance"; empty when there is none."""
    redo: str = ""
