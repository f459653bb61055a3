"""`isthmus sweep`: one case evaluated at many values, into one table."""

from __future__ import annotations

import signal
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from app.cli.arguments import Frequencies, case_argument, once
from app.cli.cases import the_case
from app.cli.output import say
from app.cli.progress import Progress

if TYPE_CHECKING:
    from app.sweep.run import Executor
    from app.sweep.values import Axis
    from models.case.document import Case

_GROUPS = ("impedance", "common-mode", "touch-current", "verdicts")
_INTERRUPTED = 130


class _Groups(click.ParamType[tuple[str, ...]]):
    """Some groups of results, ``impedance,verdicts``."""

    name = "groups"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> tuple[str, ...]:
        """Parse the list, or fail naming the entry that is wrong."""
        if isinstance(value, tuple):
            return value
        groups = tuple(entry.strip() for entry in str(value).split(","))
        for entry in groups:
            if entry not in _GROUPS:
                self.fail(f'found "{entry}"; accepted: {", ".join(_GROUPS)}', param, ctx)
        return groups


@click.command(short_help="Evaluate a case at many values, into one table.")
@case_argument
@click.option(
    "--vary",
    "varied",
    multiple=True,
    metavar="PATH=VALUES",
    help="A value by its path in the file, lists counted from 0, and what it takes: low..high:count evenly over the "
    "logarithm, low..high:count:lin evenly, low..high:E12 standard values, or a list a,b,c. Several make a grid.",
)
@click.option(
    "--points",
    "tables",
    multiple=True,
    type=click.Path(path_type=Path),
    help="A CSV table with paths in its first line and one point in each further line.",
)
@click.option("--set", "settings", multiple=True, metavar="PATH=VALUE", help="A value that differs from the file.")
@click.option("--what", "groups", type=_Groups(), default=_GROUPS, help=f"Some of {', '.join(_GROUPS)}; else all.")
@click.option("--at", type=Frequencies(), default=(), help="Frequencies of the impedances, such as 1MHz,100MHz.")
@click.option("--candidate", "names", multiple=True, help="Only these; by default those that the values touch.")
@click.option("-o", "--output", required=True, type=click.Path(path_type=Path), help="The table: .csv or .parquet.")
@click.option("--jobs", type=click.IntRange(1, 1024), help="Processes; by default one for every core.")
@click.option("--cluster", metavar="ADDRESS", help="Run on the workers of a Dask scheduler instead.")
@click.option("--resume", is_flag=True, help="Go on where an interrupted sweep stopped.")
def sweep(
    *,
    case: Path,
    varied: tuple[str, ...],
    tables: tuple[Path, ...],
    settings: tuple[str, ...],
    groups: tuple[str, ...],
    at: tuple[float, ...],
    names: tuple[str, ...],
    output: Path,
    jobs: int | None,
    cluster: str | None,
    resume: bool,
) -> int:
    """Evaluate CASE at every combination of values and write one table, a row a point and candidate.

    Ctrl-C keeps what is done; --resume goes on from there, to the same table.
    """
    from concurrent.futures import BrokenExecutor

    from app.sweep.columns import Columns
    from app.sweep.faults import SweepError
    from app.sweep.plan import make_plan
    from app.sweep.run import run
    from app.sweep.table import Table

    document = _set(the_case(case), settings)
    plan = make_plan(
        document, _axes(document, varied, tables), Columns(groups=groups, at_hz=tuple(dict.fromkeys(at))), names
    )
    with (
        Table(output, plan.headings, plan.fingerprint(), resume=resume) as table,
        _workers(jobs, cluster) as (executor, ahead),
        Progress(plan.points, table.done) as progress,
        closing(run(plan, executor, start=table.done, ahead=ahead)) as results,
    ):
        try:
            for done in results:
                table.add(done)
                progress.reached(done.stop)
        except KeyboardInterrupt:
            progress.say(f"stopped at {table.done:,} of {plan.points:,} points; --resume goes on from there")
            return _INTERRUPTED
        except BrokenExecutor:
            raise SweepError(
                "the workers", "one that ended", "--resume, with fewer --jobs where memory ran out"
            ) from None
        table.finish()
    return 0


def _set(case: Case, settings: tuple[str, ...]) -> Case:
    from app.sweep.address import put_all

    return put_all(case, once(_pair(setting) for setting in settings))


def _pair(setting: str) -> tuple[str, str]:
    path, sign, value = setting.partition("=")
    if not sign:
        raise click.BadParameter(f'found "{setting}"; accepted: PATH=VALUE', param_hint="--set")
    return path.strip(), value.strip()


def _axes(case: Case, varied: tuple[str, ...], tables: tuple[Path, ...]) -> tuple[Axis, ...]:
    from app.sweep.values import axis, listed

    if not varied and not tables:
        raise click.UsageError("found nothing that varies; accepted: --vary PATH=VALUES or --points TABLE")
    return (*(axis(case, text) for text in varied), *(listed(case, path) for path in tables))


@contextmanager
def _workers(jobs: int | None, cluster: str | None) -> Iterator[tuple[Executor, int]]:
    """Give the executor and how many chunks it is to have in hand; let go of it at once in the end."""
    import os

    if cluster is not None:
        with _cluster(cluster) as found:
            yield found
        return
    count = jobs or os.cpu_count() or 1
    if count == 1:
        from app.sweep.here import Here

        yield Here(), 1
        return
    from concurrent.futures import ProcessPoolExecutor
    from multiprocessing import get_context

    # spawned, so that every system does alike
    pool = ProcessPoolExecutor(count, mp_context=get_context("spawn"), initializer=_follow_parent)
    try:
        yield pool, 2 * count
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


def _follow_parent() -> None:
    """Leave Ctrl-C to the first process, and end with it even where it was killed."""
    import threading

    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    import os
    from multiprocessing import connection, parent_process

    parent = parent_process()
    if parent is not None:
        connection.wait([parent.sentinel])
        os._exit(1)


@contextmanager
def _cluster(address: str) -> Iterator[tuple[Executor, int]]:
    try:
        from distributed import Client
    except ImportError:
        accepted = "a run without --cluster, or pip install distributed"
        raise click.BadParameter(f"found no distributed; accepted: {accepted}", param_hint="--cluster") from None
    try:
        client = Client(address, timeout=10)
    except (OSError, ValueError) as error:
        accepted = "the address of a running scheduler, tcp://host:8786"
        raise click.BadParameter(f"found {address}: {error}; accepted: {accepted}", param_hint="--cluster") from None
    with client:
        workers = sum(client.nthreads().values())
        say(f"{workers} workers of {address}")
        yield client.get_executor(), max(2, 2 * workers)
