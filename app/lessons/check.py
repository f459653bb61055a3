"""What no single table of a lesson can know: names that refer to each other, and words that are missing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from itertools import chain

from app.lessons.claim import parse_claim
from app.lessons.document import CASE, Choose, Design, Drag, Draw, Idea, Lesson, Number, Step
from app.lessons.emission import radiates
from app.lessons.quantities import QUANTITIES, unit_of
from app.lessons.text import Section, links_in, unknown_names
from app.lessons.truth import read_measurement
from models.case.document import Case
from models.codec import KeyPath, path_text
from models.errors import DataError, Problem, QuantityError
from models.quantity import parse_quantity

TEACHER = "teacher"
"""The section of notes for the one who teaches."""
_FIELD = "a case with a cable, a source and a radiated-emission requirement on a known line"

Found = tuple[KeyPath, str, str]


def contradictions(lesson: Lesson) -> list[tuple[KeyPath, Problem]]:
    """Return every way in which a lesson's script contradicts itself or its cases."""
    # without its case a lesson has nothing that its names could be found in
    rest = chain(_unique(lesson), _numbers(lesson), _steps(lesson), _measurements(lesson))
    found = tuple(_cases(lesson)) or rest
    return [(path, Problem(where=path_text(path), found=what, accepted=accepted)) for path, what, accepted in found]


def text_findings(lesson: Lesson, words: Iterable[Section]) -> Iterator[tuple[str, str, str, int | None]]:
    """Yield what is wrong with the text file: where, what was found, what is accepted, and the line."""
    wanted = set(_wanted_sections(lesson))
    known = {number.name: number for number in lesson.script.numbers}
    lines: dict[str, int] = {}
    for section in words:
        if section.name in lines:
            yield section.name, "a second section of this name", "one section of each name", section.line
        lines[section.name] = section.line
        if section.name not in {*wanted, TEACHER}:
            yield section.name, "a section that nothing asks for", ", ".join(sorted(wanted)), section.line
        for name in unknown_names(section.words, known):
            yield section.name, f"{{{name}}}", f"a number of the lesson: {', '.join(known)}", section.line
        yield from (
            (section.name, f"a link to {target}", accepted, section.line)
            for target, accepted in _broken_links(lesson, section)
        )
    for name in sorted(wanted):
        if not lesson.text(name):
            yield name, "no words", "a section of this name with words in it", lines.get(name)


def _wanted_sections(lesson: Lesson) -> Iterator[str]:
    for step in lesson.steps:
        yield step.id
        if step.kind != "read":
            yield f"{step.id}/why"
        if isinstance(step, Drag | Draw):
            yield from (f"{step.id}/if {idea.id}" for idea in step.ideas)
        if isinstance(step, Choose):
            yield from (f"{step.id}/if {each.id}" for each in step.options if not each.is_right)
            yield from (f"{step.id}/because {each.id}" for each in step.reasons if not each.is_right)


def _broken_links(lesson: Lesson, section: Section) -> Iterator[tuple[str, str]]:
    step = next((each for each in lesson.steps if each.id == section.name.partition("/")[0]), None)
    case = lesson.cases.get(step.plot.case if step else CASE)
    if case is None:
        return
    names = set(names_of(case))
    for kind, target in links_in(section.words):
        if kind == "at":
            try:
                parse_quantity(target, "Hz")
            except QuantityError as error:
                yield target, error.accepted
        elif target not in names:
            yield target, f"a name of the case: {', '.join(sorted(names))}"


def names_of(case: Case) -> tuple[str, ...]:
    """Return what the words about a case can point at."""
    windings, couplings = [each.name for each in case.transformers], [each.name for each in case.couplings]
    bridges, cables = [each.name for each in case.candidates], [each.name for each in case.cables]
    branches = {f"branch {k}" for each in case.candidates for k in range(1, len(each.branches) + 1)}
    return (*windings, *couplings, *bridges, *cables, *(each.name for each in case.sources), *branches, "measured")


def _cases(lesson: Lesson) -> Iterator[Found]:
    if CASE not in lesson.cases:
        yield (), f"no {CASE}.toml", f"a case in {CASE}.toml beside the lesson"


def _unique(lesson: Lesson) -> Iterator[Found]:
    for table, names in (
        ("number", [each.name for each in lesson.script.numbers]),
        ("step", [each.id for each in lesson.steps]),
    ):
        for name, count in Counter(names).items():
            if count > 1:
                yield (table, names.index(name)), f'"{name}" {count} times', "a different name for each"


def _numbers(lesson: Lesson) -> Iterator[Found]:
    for index, number in enumerate(lesson.script.numbers):
        path: KeyPath = ("number", index)
        case = lesson.cases.get(number.case)
        if case is None:
            yield (*path, "case"), f'"{number.case}"', f"a case of the lesson: {', '.join(lesson.cases)}"
            continue
        if number.what not in QUANTITIES:
            yield (*path, "quantity"), f'"{number.what}"', ", ".join(QUANTITIES)
            continue
        yield from _number_keys(lesson, number, case, path)


def _number_keys(lesson: Lesson, number: Number, case: Case, path: KeyPath) -> Iterator[Found]:
    kind = QUANTITIES[number.what]
    for need in kind.needs:
        if getattr(number, need) is None:
            key = need.removesuffix("_hz").removesuffix("_v")
            yield (*path, key), "nothing", f"the key {key} for {number.what}"
    if kind.candidate:
        yield from _candidate(case, number.candidate, (*path, "candidate"))
    lack = kind.lack(case)
    if lack is not None:
        yield (*path, "quantity"), f'"{number.what}" of {lack[0]}', lack[1]
    for name in number.of or ():
        if name not in {each.name for each in lesson.script.numbers} or name == number.name:
            yield (*path, "of"), f'"{name}"', "two other numbers of the lesson"
    if number.requirement is not None and number.requirement not in {each.kind for each in case.requirements}:
        yield (*path, "requirement"), f'"{number.requirement}"', "the kind of a requirement of the case"
    if number.source is not None and number.source not in {each.name for each in case.sources}:
        yield (*path, "source"), f'"{number.source}"', ", ".join(each.name for each in case.sources) or "no source"
    try:
        parse_claim(number.claim, unit_of(number, case))
    except QuantityError as error:
        yield (*path, "claim"), error.found, error.accepted


def _candidate(case: Case, name: str | None, path: KeyPath) -> Iterator[Found]:
    names = [each.name for each in case.candidates]
    if name not in names:
        yield path, "nothing" if name is None else f'"{name}"', f"a candidate of the case: {', '.join(names)}"


def _steps(lesson: Lesson) -> Iterator[Found]:
    for index, step in enumerate(lesson.steps):
        path: KeyPath = ("step", index)
        if step.plot.case not in lesson.cases:
            yield (*path, "plot", "case"), f'"{step.plot.case}"', f"a case of the lesson: {', '.join(lesson.cases)}"
            continue
        yield from _step(lesson, step, path)
    if not isinstance(lesson.steps[-1], Design):
        yield ("step", len(lesson.steps) - 1), f"{lesson.steps[-1].kind} as the last step", "a design task at the end"


def _step(lesson: Lesson, step: Step, path: KeyPath) -> Iterator[Found]:
    case = lesson.case_of(step)
    for key in ("before", "after"):
        for name in getattr(step.plot, key):
            yield from _candidate(case, name, (*path, "plot", key))
    if step.plot.kind == "field" and not radiates(case):
        yield (*path, "plot", "kind"), '"field" of a case without one', _FIELD
    numbers = {number.name for number in lesson.script.numbers}
    for name in getattr(step, "truth", ()):
        if name not in numbers:
            yield (*path, "truth"), f'"{name}"', f"a number of the lesson: {', '.join(sorted(numbers))}"
    if isinstance(step, Drag):
        yield from _drag(lesson, step, path)
    if isinstance(step, Draw):
        yield from _candidate(case, step.candidate, (*path, "candidate"))
        yield from _ideas(step.ideas, "ohm", path)
        yield from _missing_places(step.ideas, path)
    if isinstance(step, Choose):
        yield from _choices(step, path)
    if isinstance(step, Design) and not case.requirements:
        yield (*path, "plot", "case"), "a case without requirements", "a case whose requirements check the task"


def _drag(lesson: Lesson, step: Drag, path: KeyPath) -> Iterator[Found]:
    number = next((each for each in lesson.script.numbers if each.name == step.number), None)
    if number is None or number.case not in lesson.cases or number.what not in QUANTITIES:
        yield (*path, "number"), f'"{step.number}"', "a number of the lesson"
        return
    unit = unit_of(number, lesson.cases[number.case])
    ends = []
    for key in ("low", "high"):
        try:
            ends.append(parse_quantity(getattr(step, key), unit))
        except QuantityError as error:
            yield (*path, key), error.found, error.accepted
    if len(ends) == 2 and (ends[0] >= ends[1] or (step.scale == "log" and ends[0] <= 0.0)):
        yield (*path, "low"), f'"{step.low}"', "less than high, and more than 0 on a log scale"
    yield from _ideas(step.ideas, unit, path)


def _ideas(ideas: tuple[Idea, ...], unit: str, path: KeyPath) -> Iterator[Found]:
    for index, idea in enumerate(ideas):
        try:
            parse_claim(idea.when, unit)
        except QuantityError as error:
            yield (*path, "idea", index, "when"), error.found, error.accepted


def _missing_places(ideas: tuple[Idea, ...], path: KeyPath) -> Iterator[Found]:
    for index, idea in enumerate(ideas):
        if idea.at_hz is None:
            yield (*path, "idea", index, "at"), "nothing", "the frequency at which the drawn curve is looked at"


def _choices(step: Choose, path: KeyPath) -> Iterator[Found]:
    for key, choices in (("option", step.options), ("reason", step.reasons)):
        if choices and sum(each.is_right for each in choices) != 1:
            yield (*path, key), f"{sum(each.is_right for each in choices)} right ones", "exactly one that is right"


def _measurements(lesson: Lesson) -> Iterator[Found]:
    for name, path in _named_measurements(lesson).items():
        if name not in lesson.measurements:
            yield path, f'"{name}", and no {name}.csv', f"a measurement in {name}.csv beside the lesson"
    for name, text in lesson.measurements.items():
        try:
            read_measurement(text, name)
        except ValueError as error:
            yield (), f"{name}.csv: {error}", "lines of frequency in Hz, resistance and reactance in Ω"
        except DataError as error:
            found, accepted = error.parts()
            yield (), f"{name}.csv: {found.partition(': ')[2]}", accepted


def _named_measurements(lesson: Lesson) -> dict[str, KeyPath]:
    """Return the measurements that a lesson speaks of, each with the first place that names it."""
    places: dict[str, KeyPath] = {}
    for k, number in enumerate(lesson.script.numbers):
        if number.measurement is not None:
            places.setdefault(number.measurement, ("number", k, "measurement"))
    for k, step in enumerate(lesson.steps):
        if step.plot.measurement is not None:
            places.setdefault(step.plot.measurement, ("step", k, "plot", "measurement"))
    return places
