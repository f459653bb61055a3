"""The report as HTML: one file, pictures inside, tagged for assistive tools, fit for print."""

from __future__ import annotations

import unicodedata
from base64 import b64encode
from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

from app.report.blocks import Document
from app.report.figures import svg
from models.assets import ASSETS
from models.quantity import unbroken

SIGNS: Mapping[str, str] = MappingProxyType({"pass": "✓", "fail": "✗", "not-applicable": "–"})
"""Outcomes have a shape of their own, so that a grey copy loses nothing."""
_STRONG = ("L", "R", "AL")


def html(document: Document) -> str:
    """Return a report as HTML."""
    from markupsafe import Markup

    # what goes in is made by the painter, texts in it escaped
    pictures = {each: Markup(svg(each, number)) for number, each in enumerate(document.figures, start=1)}
    return fill("page.html", document=document, pictures=pictures, signs=SIGNS)


def fill(template: str, **values: Any) -> str:
    """Return a template of the report with its values, everything in it escaped, numbers and units held together.

    What is marked as safe, and a listing as such, stands as it is.
    """
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    environment = Environment(
        loader=FileSystemLoader(ASSETS / "report"),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=_held,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    environment.filters |= {"direction": _direction, "isolated": _isolated, "as_link": _as_link}
    return environment.get_template(template).render(**values)


def _direction(text: str) -> str:
    """Return which way a text runs: as its first letter that has a direction."""
    return (
        "rtl" if next((each for each in map(unicodedata.bidirectional, text) if each in _STRONG), "L") != "L" else "ltr"
    )


def _isolated(text: str) -> str:
    """Return a name so that what stands beside it keeps its place, whichever way the name runs."""
    runs_back = any(each in _STRONG[1:] for each in map(unicodedata.bidirectional, text))
    return f"\u2068{text}\u2069" if runs_back else text


def _as_link(text: str) -> str:
    """Return where a link leads that holds a text itself."""
    return f"data:text/plain;charset=utf-8;base64,{b64encode(text.encode()).decode()}"


def _held(value: Any) -> Any:
    return unbroken(value) if type(value) is str else value
