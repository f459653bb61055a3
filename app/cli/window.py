"""`isthmus [CASE]`: the window; without a display, the answers and a picture of it."""

from __future__ import annotations

from pathlib import Path

import click

from models.assets import DEMO_CASE
from models.case.read import read_case_file

_PICTURE = Path("isthmus.png")


@click.command(short_help="Open the window on a case.")
@click.argument("case", type=click.Path(path_type=Path), required=False)
def window(case: Path | None) -> int:
    """Open the window on CASE, or on the demo case; without a display, print its answers and save its picture."""
    file, as_example = read_case_file(case or DEMO_CASE), case is None
    from app.qt.start import has_display, open_window, save_picture

    if has_display():
        return open_window(file, as_example=as_example)
    from app.cli.answers_table import print_answers

    print("No display: here are the answers of the case, and its window as a picture.\n")
    print_answers(file.case, None)
    save_picture(file, _PICTURE, as_example=as_example)
    print(f"\nPicture of the window: {_PICTURE.resolve()}")
    return 0
