"""What a lesson is: cases, numbers that the solver computes, and steps that ask for a prediction."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import ClassVar, Protocol

from attrs import field, frozen

from models.case.document import Candidate, Case
from models.codec import Between, Count, ListOf, Quantity, Text
from models.declare import Kinds, Table, quantity, value

CASE = "case"
"""Name of the case that stands where no other is named: ``case.toml`` in the lesson's folder."""
PLOTS = ("none", "board", "impedance", "bridge", "waveform", "spectrum", "paths", "field", "discharge", "measured")
FREE = ("candidates", "transformers", "couplings", "cables", "sources")
"""What a design task may leave to the learner; its requirements, mains and regions it keeps."""

_WORD = Text(limit=60)
_WORDS = ListOf(item=Text(limit=80), most=20, noun="a list of names")


@frozen(kw_only=True, cache_hash=True)
class Number:
    """A number of the lesson, computed by the solver, and what the lesson's words claim of it."""

    name: str = value(_WORD, "name, by which texts call it: {name}")
    what: str = value(_WORD, "what is computed", key="quantity")
    claim: str = value(_WORD, 'what the words say of it, such as "> 500 ohm", "about 2 nF", "1 V to 3 V", "pass"')
    case: str = value(_WORD, "the lesson's case that it is computed from", default=CASE)
    candidate: str | None = value(Text(limit=80), "the candidate", default=None)
    at_hz: float | None = quantity("Hz", "frequency", default=None)
    band_hz: tuple[float, float] | None = value(
        ListOf(item=Quantity(unit="Hz", positive=True), least=2, most=2, noun="a band"),
        "band of frequencies",
        default=None,
        key="band",
    )
    source: str | None = value(Text(), "the source; the loudest where it is left out", default=None)
    path: str | None = value(Text(), "name of a path of the return current", default=None)
    requirement: str | None = value(_WORD, "kind of a requirement of the case", default=None)
    level_v: float | None = quantity("V", "level of a discharge", default=None, positive=True, high=1e5)
    of: tuple[str, str] | None = value(Between(), "the two numbers of a ratio, upper and lower", default=None)
    measurement: str | None = value(_WORD, "a measurement in the lesson's folder", default=None)
    fit: str | None = value(Text(choices=("bead", "capacitor", "inductor")), "the kind of part fitted", default=None)
    key: str | None = value(_WORD, "the fitted value", default=None)
    digits: int = value(Count(high=6), "significant digits shown", default=2)


@frozen(kw_only=True, cache_hash=True)
class Plot:
    """What a step shows beside its words."""

    kind: str = value(Text(choices=PLOTS), "kind of plot", default="impedance")
    case: str = value(_WORD, "the case it shows", default=CASE)
    before: tuple[str, ...] = value(_WORDS, "candidates shown while the question stands", default=())
    after: tuple[str, ...] = value(_WORDS, "candidates shown with the answer; all where left out", default=())
    source: str | None = value(Text(), "the source of a waveform; the loudest where left out", default=None)
    at_hz: float | None = quantity("Hz", "where the cursor stands with the answer", default=None, positive=True)
    measurement: str | None = value(_WORD, "the measurement laid over", default=None)
    level_v: float = quantity("V", "level of a discharge", default=8e3, positive=True, high=1e5)
    until_s: float = quantity("s", "how long after a discharge is shown", default=1e3, positive=True, high=1e4)


NO_PLOT = Plot(kind="none")


@frozen(kw_only=True, cache_hash=True)
class Choice:
    """An answer, or a reason, that can be picked."""

    id: str = value(_WORD, "name of the answer, by which its reply is found in the text")
    text: str = value(Text(), "the answer as the learner reads it")
    right: str = value(Text(choices=("yes", "no")), "whether it is right", default="no")

    @property
    def is_right(self) -> bool:
        """Whether it is right."""
        return self.right == "yes"


@frozen(kw_only=True, cache_hash=True)
class Idea:
    """A wrong idea that is common, told by what was predicted."""

    id: str = value(_WORD, "name of the idea, by which its reply is found in the text")
    when: str = value(_WORD, "what the prediction then is, such as > 10 ohm")
    at_hz: float | None = quantity("Hz", "where on a drawn curve", default=None, positive=True)


class Step(Protocol):
    """One step of a lesson."""

    kind: ClassVar[str]

    @property
    def id(self) -> str:
        """Name of the step, by which its text is found."""

    @property
    def title(self) -> str:
        """Heading."""

    @property
    def plot(self) -> Plot:
        """What it shows."""


_ID = "name of the step, by which its text is found"
_TITLE = "heading"


def _plot() -> Plot:
    found: Plot = value(Table(of=Plot), "the plot beside the words", default=NO_PLOT)
    return found


@frozen(kw_only=True, cache_hash=True)
class Read:
    """A page to read."""

    kind: ClassVar[str] = "read"

    id: str = value(_WORD, _ID)
    title: str = value(Text(limit=80), _TITLE)
    plot: Plot = _plot()


@frozen(kw_only=True, cache_hash=True)
class Choose:
    """Pick an answer and, where reasons are offered, the reason."""

    kind: ClassVar[str] = "choose"

    id: str = value(_WORD, _ID)
    title: str = value(Text(limit=80), _TITLE)
    truth: tuple[str, ...] = value(ListOf(item=_WORD, least=1), "numbers that bear the right answer out")
    options: tuple[Choice, ...] = value(ListOf(item=Table(of=Choice), least=2, most=6), "answers", key="option")
    reasons: tuple[Choice, ...] = value(
        ListOf(item=Table(of=Choice), most=6), "reasons to pick from", key="reason", default=()
    )
    plot: Plot = _plot()


@frozen(kw_only=True, cache_hash=True)
class Drag:
    """Drag a value to where it is thought to belong."""

    kind: ClassVar[str] = "value"

    id: str = value(_WORD, _ID)
    title: str = value(Text(limit=80), _TITLE)
    number: str = value(_WORD, "the number that is predicted")
    low: str = value(_WORD, "lower end of the slider")
    high: str = value(_WORD, "upper end of the slider")
    scale: str = value(Text(choices=("log", "linear")), "how values lie along the slider", default="log")
    ideas: tuple[Idea, ...] = value(ListOf(item=Table(of=Idea), most=6), "wrong ideas", key="idea", default=())
    plot: Plot = _plot()


@frozen(kw_only=True, cache_hash=True)
class Draw:
    """Draw a candidate's impedance by hand over the plot."""

    kind: ClassVar[str] = "draw"

    id: str = value(_WORD, _ID)
    title: str = value(Text(limit=80), _TITLE)
    candidate: str = value(Text(limit=80), "whose impedance is drawn")
    truth: tuple[str, ...] = value(ListOf(item=_WORD, least=1), "numbers that the words about the curve rest on")
    ideas: tuple[Idea, ...] = value(ListOf(item=Table(of=Idea), most=6), "wrong ideas", key="idea", default=())
    plot: Plot = value(Table(of=Plot), "the plot that is drawn on", factory=Plot)


@frozen(kw_only=True, cache_hash=True)
class Design:
    """A small task that is checked by the requirements of its case."""

    kind: ClassVar[str] = "design"

    id: str = value(_WORD, _ID)
    title: str = value(Text(limit=80), _TITLE)
    solution: Candidate = value(Table(of=Candidate), "one candidate that meets the requirements")
    free: tuple[str, ...] = value(
        ListOf(item=Text(choices=FREE), least=1), "what the learner may change", default=("candidates",)
    )
    plot: Plot = value(Table(of=Plot), "the plot, and the case of the task", factory=Plot)


Asking = Choose | Drag | Draw
"""Steps that want a prediction before they show anything."""

STEPS: Mapping[str, type[Step]] = MappingProxyType({each.kind: each for each in (Read, Choose, Drag, Draw, Design)})


def step_kinds() -> Mapping[str, type[Step]]:
    """Return every kind of step by the name that files use."""
    return STEPS


@frozen(kw_only=True, cache_hash=True)
class Script:
    """What ``lesson.toml`` holds."""

    title: str = value(Text(limit=80), "title")
    minutes: int = value(Count(high=60), "how long it takes, minutes")
    remember: str = value(Text(limit=400), "the one sentence to remember")
    numbers: tuple[Number, ...] = value(ListOf(item=Table(of=Number)), "numbers", key="number", default=())
    steps: tuple[Step, ...] = value(ListOf(item=Kinds(registry=step_kinds), least=1, most=40), "steps", key="step")


@frozen(kw_only=True, eq=False)
class Lesson:
    """A whole lesson: its script, its texts by section, its cases and where its measurements lie.

    Attributes
    ----------
    id : name of its folder, such as ``02-bead``
    texts : section → Markdown; ``dc`` is what a step says, ``dc/why`` the reason, ``dc/if flat`` the reply to an idea
    cases : name → case
    measurements : name → (f in Hz, |Z| in Ω) as text files hold them
    """

    id: str
    script: Script
    texts: Mapping[str, str]
    cases: Mapping[str, Case]
    measurements: Mapping[str, str] = field(factory=dict)

    @property
    def steps(self) -> tuple[Step, ...]:
        """The steps in order."""
        return self.script.steps

    @property
    def touches_safety(self) -> bool:
        """Whether a case speaks of mains, of people or of what protects them."""
        kinds = {each.kind for case in self.cases.values() for each in case.requirements}
        levels = any(number.level_v is not None for number in self.script.numbers)
        mains = any(case.mains is not None for case in self.cases.values())
        mains = mains or any(each.kind == "mains-offset" for case in self.cases.values() for each in case.sources)
        return mains or levels or bool(kinds & {"withstand", "touch-current", "static-bleed", "separation"})

    def number(self, name: str) -> Number:
        """Return the number of that name; the lesson was checked to have it."""
        return next(each for each in self.script.numbers if each.name == name)

    def text(self, section: str) -> str:
        """Return a section of the text, empty where there is none."""
        return self.texts.get(section, "")

    def case_of(self, step: Step) -> Case:
        """Return the case that a step is about."""
        return self.cases[step.plot.case]
