"""The dialog that works out a value from geometry: what it offers, what comes of it, what would be used."""

from __future__ import annotations

from collections.abc import Iterator

import attrs
from attrs import frozen

from app.present.estimate import amount_name, amount_text, error_text
from app.present.estimate_sketch import sketch
from app.present.fields import Walk
from app.present.section_specs import DrawingSpec, Measure
from app.present.specs import FieldSpec, FormSpec, SectionSpec
from app.state.estimable import Target, targets
from app.state.estimating import Draft, amount_for, suited, taken, target_of
from models.case.document import Case
from models.codec import KeyPath
from models.declare import get_path, keys_of
from models.errors import QuantityError
from models.estimate.estimate import Amount, Result
from models.quantity import format_quantity, unbroken

NO_TARGET = "no value of the case"


@frozen(kw_only=True, eq=False)
class EstimateSpec:
    """What the dialog shows; ``use`` is empty where there is nothing to set."""

    targets: tuple[str, ...]
    target: int
    names: tuple[str, ...]
    titles: tuple[str, ...]
    chosen: int
    form: FormSpec
    drawing: DrawingSpec
    name: str
    value: str
    error: str
    equation: str
    working: str
    limits: str
    """What else comes of these dimensions, and how far it holds."""
    judge: str
    """What it takes for granted, and where it comes from."""
    caution: str
    now: str
    """What the case has."""
    use: str
    refused: str = ""
    """Why the case cannot take the value."""


def estimate_spec(draft: Draft, case: Case, measure: Measure) -> EstimateSpec:
    """Return what the dialog shows for a draft."""
    found, target = targets(case), target_of(draft, case)
    offered = suited(target)
    result = draft.result()
    amount = amount_for(target, result)
    refused = _refused(case, target, amount)
    names = tuple(each.name for each in offered)
    return EstimateSpec(
        targets=(*map(target_label, found), NO_TARGET),
        target=len(found) if target is None else found.index(target),
        names=names,
        titles=tuple(each.title for each in offered),
        chosen=names.index(draft.name) if draft.name in names else 0,
        form=FormSpec(title=draft.made.title, subtitle="", sections=(_section(draft, case),)),
        drawing=sketch(draft.made, measure),
        name=amount_name(amount),
        value=amount_text(amount),
        error=unbroken(error_text(amount)),
        equation=result.equation,
        working=unbroken(result.working),
        limits=unbroken("\n".join((*_also(result, amount), *result.notes))),
        judge=unbroken(f"{result.assumes}\nSource: {result.source}"),
        caution=result.caution,
        now=_now(case, target),
        use="" if target is None or refused or _stands(case, target, amount) else f"Use {_used(amount)}",
        refused=refused,
    )


def target_label(target: Target) -> str:
    """Return a value of the case by its name: ``T1, interwinding capacitance``."""
    words = "driven share" if target.key == "driven_fraction" else target.words
    return ", ".join((*target.of, words))


def step_name(target: Target) -> str:
    """Return what undo calls the step."""
    return f"Work out {target_label(target)}"


def _section(draft: Draft, case: Case) -> SectionSpec:
    made = draft.made
    of = keys_of(type(made))
    signs: dict[KeyPath, str] = {key.path: made.symbols.get(name, "") for name, key in of.items()}
    walked = Walk(case=case, everything=True).fields_of(made)
    return SectionSpec(title="Geometry", fields=tuple(_signed(each, signs[each.path]) for each in walked))


def _signed(field: FieldSpec, sign: str) -> FieldSpec:
    """Return a field with the sign of the equation behind its name and its meaning under it."""
    label = f"{field.label}, {sign}" if sign else field.label
    note = "" if field.help == field.label.lower() else field.help
    return attrs.evolve(field, label=label, note=note)


def _also(result: Result, amount: Amount) -> Iterator[str]:
    return (f"{amount_name(each)} {amount_text(each)}." for each in result.amounts if each is not amount)


def _used(amount: Amount) -> str:
    return format_quantity(amount.used(), amount.unit)


def _now(case: Case, target: Target | None) -> str:
    if target is None:
        return ""
    value = get_path(case, target.path)
    return f"{target_label(target)} is {format_quantity(value, _unit(case, target))} in the case."


def _unit(case: Case, target: Target) -> str:
    owner = get_path(case, target.path[:-1])
    return keys_of(type(owner))[target.key].unit or ""


def _stands(case: Case, target: Target, amount: Amount) -> bool:
    return bool(get_path(case, target.path) == amount.used())


def _refused(case: Case, target: Target | None, amount: Amount) -> str:
    if target is None:
        return ""
    try:
        taken(case, target, amount.used())
    except QuantityError as error:
        return f"The case takes {error.accepted}."
    return ""
