"""The whole case, and what produced the report: enough to make it again."""

from __future__ import annotations

from collections.abc import Iterator

from app.present.origin import case_digest, measured_files, version
from app.report.blocks import Block, Bullets, Listing, Paragraph
from app.report.matter import Matter
from models.case.write import case_text

_DIGITS = 12
FILE = "case.toml"
"""The name under which a report carries its case."""


def whole_case(matter: Matter) -> Iterator[Block]:
    """Yield the case file, its fingerprint and the program's version."""
    case = matter.case
    measured = dict.fromkeys(measured_files(case))
    yield Paragraph(
        text=f"The text of the case, which goes with this report as the file {FILE}; the same version of the program "
        "makes the same report of it."
    )
    yield Bullets(
        items=(
            f"Isthmus {version()}",
            f"Fingerprint of the case (SHA-256): {case_digest(case)}",
            f"Regions: {', '.join(case.regions)}; surroundings: {case.surroundings.name}",
            *(f"Measured data, in a file of its own: {file} ({digest[:_DIGITS]})" for file, digest in measured),
        )
    )
    yield Listing(text=matter.options.case_text or case_text(case), file=FILE)
