"""The report as HTML: one file, pictures inside, tagged for assistive tools, fit for print."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

from app.report.blocks import Document
from app.report.figures import svg
from models.assets import ASSETS

SIGNS: Mapping[str, str] = MappingProxyType({"pass": "✓", "fail": "✗", "not-applicable": "–"})
"""Outcomes have a shape of their own, so that a grey copy loses nothing."""


def html(document: Document) -> str:
    """Return a report as HTML."""
    from markupsafe import Markup

    # what goes in is made by the painter, texts in it escaped
    pictures = {each: Markup(svg(each, number)) for number, each in enumerate(document.figures, start=1)}
    return fill("page.html", document=document, pictures=pictures, signs=SIGNS)


def fill(template: str, **values: Any) -> str:
    """Return a template of the report with its values, everything in it escaped."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    environment = Environment(
        loader=FileSystemLoader(ASSETS / "report"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    return environment.get_template(template).render(**values)
