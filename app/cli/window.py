"""`isthmus [CASE]`: the window; without a display, the answers and a picture of it."""

from __future__ import annotations

from pathlib import Path

import click


@click.command()
@click.argument("case", type=click.Path(path_type=Path), required=False)
def window(case: Path | None) -> int:
    """Open the window on CASE, or on the demo case."""
    from app.qt.start import open_window

    return open_window(case)
