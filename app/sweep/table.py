"""The table that a sweep writes: grown chunk by chunk, safe against any interruption, whole when it has its name.

Rows go to ``NAME.part``; after each chunk a small journal beside it says how far they can be trusted. What a crash left
behind that point is cut off when the sweep goes on.
"""

from __future__ import annotations

import csv
import io
import json
import os
from collections.abc import Sequence
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from app.state.files import write_whole
from app.sweep.columns import Row
from app.sweep.faults import SweepError
from app.sweep.run import Done

try:
    import fcntl
except ImportError:  # a system without it does not put a file in the place of one that is open
    fcntl = None  # type: ignore[assignment]

FORMATS = (".csv", ".parquet")
_BLOCK_BYTES = 1 << 22


class Table:
    """A table in the making; use it as a context."""

    def __init__(self, path: Path, headings: Sequence[str], fingerprint: str, *, resume: bool) -> None:
        """Begin a table, or go on with one.

        Raises
        ------
        SweepError
            for an ending that is no table's, an unfinished table of another sweep, or one that is not to be resumed
        """
        _check_format(path)
        self._path = path
        self._part = path.with_name(f"{path.name}.part")
        self._journal = path.with_name(f"{path.name}.part.json")
        self._fingerprint = fingerprint
        self._headings = tuple(headings)
        self.done = 0
        """The first point that is not in the table yet."""
        self._stream = self._resumed() if resume and self._journal.exists() else self._begun(resume=resume)

    def __enter__(self) -> Self:
        """Return the table."""
        return self

    def __exit__(self, *_: type[BaseException] | BaseException | TracebackType | None) -> None:
        """Close the file; what is in it stays for a resume."""
        self._stream.close()

    def add(self, done: Done) -> None:
        """Write the rows of some points, and then that they are written."""
        self._write(done.rows)
        self._note(done.stop)

    def finish(self) -> None:
        """Give the whole table its name."""
        if fcntl is None:
            self._stream.close()
        if self._path.suffix.lower() == ".parquet":
            _to_parquet(self._part, self._path)
            self._part.unlink()
        else:
            self._part.replace(self._path)
        self._journal.unlink()
        self._stream.close()

    def _begun(self, *, resume: bool) -> io.BufferedIOBase:
        if self._journal.exists() and not resume:
            accepted = f"--resume to go on with it, another name, or no {self._journal.name}"
            raise SweepError(self._path.name, f"an unfinished sweep, {self._part.name}", accepted)
        try:
            self._stream = self._part.open("ab")
        except OSError as error:
            raise SweepError(str(self._path), error.strerror or str(error), "a file that can be written") from None
        self._claim(self._stream)
        self._stream.truncate(0)
        self._write([self._headings])
        self._note(0)
        return self._stream

    def _resumed(self) -> io.BufferedIOBase:
        try:
            stream = self._part.open("r+b")
        except OSError:
            raise self._broken() from None
        try:
            self._claim(stream)
            self.done, size = self._trusted(os.fstat(stream.fileno()).st_size)
        except SweepError:
            stream.close()
            raise
        stream.truncate(size)
        stream.seek(size)
        return stream

    def _trusted(self, there: int) -> tuple[int, int]:
        """Return how many points and bytes an earlier run wrote for certain, of those that are there."""
        try:
            journal = json.loads(self._journal.read_text(encoding="utf-8"))
            known, points, size = journal["fingerprint"], int(journal["points"]), int(journal["bytes"])
        except (OSError, ValueError, KeyError, TypeError):
            raise self._broken() from None
        if known != self._fingerprint or there < size:
            found = "less than was written" if there < size else "the table of another sweep"
            raise SweepError(self._part.name, found, "the same case, values, results and version as before")
        return points, size

    def _broken(self) -> SweepError:
        return SweepError(self._journal.name, "no journal of a sweep", "the one beside the table")

    def _claim(self, stream: io.BufferedIOBase) -> None:
        """Let no second process write the same table; the system lets go of it, however this one ends."""
        if fcntl is None:
            return
        try:
            fcntl.flock(stream.fileno(), fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            stream.close()
            accepted = "another name, or --resume once that has ended"
            raise SweepError(self._path.name, "another sweep that is writing it now", accepted) from None

    def _write(self, rows: Sequence[Row]) -> None:
        text = io.StringIO()
        csv.writer(text, lineterminator="\n").writerows([_cell(value) for value in row] for row in rows)
        self._stream.write(text.getvalue().encode())

    def _note(self, points: int) -> None:
        self._stream.flush()
        os.fsync(self._stream.fileno())
        self.done = points
        journal = {"fingerprint": self._fingerprint, "points": points, "bytes": self._stream.tell()}
        write_whole(self._journal, json.dumps(journal) + "\n")


def _cell(value: Any) -> str:
    """Return a value as it stands in the table: numbers in full, nothing for what means nothing."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    return repr(value) if isinstance(value, float) else str(value)


def _check_format(path: Path) -> None:
    ending = path.suffix.lower()
    if ending not in FORMATS:
        raise SweepError(path.name, f'the ending "{ending}"', " or ".join(FORMATS))
    if ending == ".parquet":
        try:
            import pyarrow  # noqa: F401
        except ImportError:
            raise SweepError(path.name, "no pyarrow, which writes Parquet", ".csv, or pip install pyarrow") from None


def _to_parquet(source: Path, target: Path) -> None:
    """Turn the finished rows into Parquet, a block at a time."""
    import pyarrow.csv
    import pyarrow.parquet

    fresh = target.with_name(f".{target.name}.new")
    types = _types(source)
    reading = pyarrow.csv.ReadOptions(block_size=_BLOCK_BYTES)
    kinds = pyarrow.csv.ConvertOptions(
        column_types={name: getattr(pyarrow, kind)() for name, kind in types.items()}, strings_can_be_null=True
    )
    with (
        pyarrow.csv.open_csv(source, read_options=reading, convert_options=kinds) as blocks,
        pyarrow.parquet.ParquetWriter(fresh, blocks.schema) as writer,
    ):
        for block in blocks:
            writer.write_batch(block)
    fresh.replace(target)


def _types(source: Path) -> dict[str, str]:
    """Return the type of every column: a number where each of its cells is one."""
    with source.open(encoding="utf-8", newline="") as stream:
        reader = csv.reader(stream)
        names = next(reader)
        types = dict.fromkeys(names, "float64")
        for row in reader:
            for name, cell in zip(names, row, strict=True):
                if types[name] == "float64" and cell and not _is_number(cell):
                    types[name] = "bool_" if cell in ("true", "false") else "string"
    return {name: _known(name) or kind for name, kind in types.items()}


def _known(name: str) -> str:
    """Return the type of a column that has it whatever it holds: a name may be a row of digits."""
    if name == "point":
        return "int64"
    return "string" if name in ("candidate", "problem") or name.endswith(": outcome") else ""


def _is_number(cell: str) -> bool:
    """Return whether a cell is a number as this table writes one, which a text such as 007 is not."""
    try:
        return cell in (repr(float(cell)), f"{float(cell):.0f}")
    except ValueError:
        return False
