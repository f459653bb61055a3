"""What the lesson window shows, as plain values."""

from __future__ import annotations

from attrs import field, frozen

from app.present.specs import FieldSpec, PlotSpec


@frozen(kw_only=True)
class DotSpec:
    """One step of the lesson as a dot: its heading, and how far it is."""

    title: str
    state: str
    """done, here, open or shut."""


@frozen(kw_only=True)
class ChoiceSpec:
    """One answer or reason to pick."""

    id: str
    text: str
    picked: bool = False
    mark: str = ""
    """right or wrong once the answer is shown; empty before, and for what nobody picked."""


@frozen(kw_only=True, eq=False)
class AskSpec:
    """How the learner predicts.

    Attributes
    ----------
    kind : ``choose``, ``value`` or ``draw``
    hint : how it is done, by mouse and by keyboard
    value : the slider of a value
    at_hz : where on the plot the value can be dragged; None where it cannot
    knots_hz, drawn : the frequencies of a drawn curve, and the points drawn so far (Hz, Ω)
    open : whether the prediction can still be changed
    """

    kind: str
    hint: str
    options: tuple[ChoiceSpec, ...] = ()
    reasons: tuple[ChoiceSpec, ...] = ()
    value: FieldSpec | None = None
    at_hz: float | None = None
    knots_hz: tuple[float, ...] = ()
    drawn: tuple[tuple[float, float], ...] = ()
    open: bool = True


@frozen(kw_only=True, eq=False)
class ReplySpec:
    """What the lesson says to a prediction."""

    outcome: str
    """right, close, off, or none where nothing was predicted."""
    headline: str
    words_html: str = ""


@frozen(kw_only=True)
class CheckSpec:
    """One requirement of a task and whether it is met."""

    outcome: str
    text: str
    why: str


@frozen(kw_only=True, eq=False)
class LessonSpec:
    """One page of a lesson."""

    title: str
    place: str
    place_short: str
    heading: str
    dots: tuple[DotSpec, ...]
    words_html: str
    ask: AskSpec | None = None
    reply: ReplySpec | None = None
    why_html: str = ""
    checks: tuple[CheckSpec, ...] = ()
    check_headline: str = ""
    remember_html: str = ""
    caution: str = ""
    notes_html: str = ""
    changed: str = ""
    """What to say where the learner has changed the case; empty where it is the lesson's own."""
    put_back: bool = False
    """Whether the circuit is another than the lesson's own."""
    plot: PlotSpec | None = None
    board: bool = False
    """Whether the page shows the board from the side in place of a plot."""
    back: bool = False
    forward: str = "Next"
    forward_ready: bool = True
    skip: bool = False
    """Whether the answer can be shown without a prediction."""
    explore: bool = True
    """Whether the parts may stand beside the page; while a question is open they would tell its answer."""
    designs: bool = False
    """Whether the page is a design task, with the parts beside it."""


@frozen(kw_only=True)
class LessonItemSpec:
    """One lesson in the list of the course."""

    id: str
    title: str
    note: str
    state: str
    """new, begun or finished."""


@frozen(kw_only=True, eq=False)
class CourseSpec:
    """The list of lessons."""

    title: str
    note: str
    items: tuple[LessonItemSpec, ...] = field(factory=tuple)
