"""`isthmus [CASE]`: the window; without a display, the answers and a picture of it."""

from __future__ import annotations

from pathlib import Path

import click

from models.assets import DEMO_CASE
from models.case.read import load_case

_PICTURE = Path("isthmus.png")


@click.command()
@click.argument("case", type=click.Path(path_type=Path), required=False)
def window(case: Path | None) -> int:
    """Open the window on CASE, or on the demo case; without a display, print its answers and save its picture."""
    document = load_case(case or DEMO_CASE)
    from app.qt.start import has_display, open_window, save_picture

    if has_display():
        return open_window(case)
    from app.cli.answers_table import print_answers

    print("No display: here are the answers of the case, and its window as a picture.\n")
    print_answers(document, None)
    save_picture(case, _PICTURE)
    print(f"\nPicture of the window: {_PICTURE.resolve()}")
    return 0
