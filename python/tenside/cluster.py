"""Sweeps beyond one machine (extra ``cluster``): their parts worked out by the workers of an existing dask.distributed client.

A part is consecutive rows. It knows nothing of the others and comes to the same numbers wherever it is worked out, so that what comes back
equals the run on one machine bit for bit, and a part whose worker dies is simply worked out again by another. Every part keeps all cores of
its machine busy, so workers of one thread each are the right ones. The workers need the same version of tenside.

The engine is dask.distributed's own: it starts a lost part again elsewhere, which is right since parts are deterministic. The sweep travels
with every part (some 40 kB), since what is scattered is lost with its worker. A worker finishes the part in hand after Ctrl-C; only parts
that have not begun are cancelled.

>>> import tenside as td
>>> from tenside import cluster, measure as m
>>> from distributed import Client
>>> brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
>>> sweep = td.Sweep(brief.target(m.active_matter, 50), td.axis("wash.capb-30", range(1, 31)), measures=[m.water])
>>> with Client(processes=False, n_workers=1, threads_per_worker=1, dashboard_address=None) as client:
...     seen = cluster.stream(client, sweep, parts=3, best=(2, m.water))
>>> seen == sweep.stream(best=(2, m.water))
True
"""

from __future__ import annotations

import os
import pathlib
import secrets
import shutil
from collections.abc import Callable, Iterator
from typing import Any

from tenside._native import StreamResult, StreamPart, Sweep, SweepPart, __version__
from tenside.progress import bar

__all__ = ["stream", "write_parquet"]

Progress = bool | Callable[[int, int], object] | None
_PARTS_A_WORKER = 4


def stream(
    client: Any, sweep: Sweep, *, parts: int | None = None, progress: Progress = None, **query: Any
) -> StreamResult:
    """What `Sweep.stream` keeps of a sweep, gathered by the workers of a client; `query` are its keywords.

    The sweep is cut into `parts` (four a worker). `progress` is True for a bar, or is called here, in the caller's process, with rows done
    and rows in all; it never travels and need not be picklable. If it raises, on Ctrl-C and after any failure the parts that have not begun
    are cancelled.
    """
    library = _library(client)
    # One row is gathered here, so that wrong wishes are refused before anything is sent, and columns travel by name.
    query = dict(SweepPart(sweep, 0, 1).stream(**query).query)
    pieces = sweep.parts(parts if parts is not None else _usual(client))
    return sweep.join([found for _, found in _worked(library, client, _gathered, pieces, progress, query)])


def write_parquet(
    client: Any,
    sweep: Sweep,
    folder: str | os.PathLike[str],
    *,
    parts: int | None = None,
    max_gib: int | None = None,
    progress: Progress = None,
) -> list[pathlib.Path]:
    """The table of a sweep as Parquet files in a new folder, one a part, written by the workers; gives their paths in the order of rows.

    The folder is one that all workers reach. It is filled under another name beside its own and renamed when every file is whole: after a
    failure or Ctrl-C there is none. A part of more than `max_gib` GiB (8) is refused; take more parts. `progress` as in `stream`.
    """
    library = _library(client)
    target = pathlib.Path(folder).absolute()
    if target.exists():
        raise FileExistsError(f"{target} is there already; name a folder that is not")
    pieces = sweep.parts(parts if parts is not None else _usual(client))
    draft = target.with_name(f".{target.name}.{secrets.token_hex(6)}.part")
    draft.mkdir(parents=True)
    try:
        names = dict(_worked(library, client, _written, pieces, progress, str(draft), len(str(len(pieces))), max_gib))
        for left in draft.glob(".*.part"):
            # A worker that was killed while it wrote.
            left.unlink()
        os.replace(draft, target)
    except BaseException:
        # A worker that is at its part still would write into the folder while it is emptied: it finds none of that name
        # any more.
        gone = draft.with_name(f"{draft.name}.gone")
        if draft.is_dir():
            os.replace(draft, gone)
            shutil.rmtree(gone, ignore_errors=True)
        raise
    return [target / names[index] for index in range(len(pieces))]


def _library(client: Any) -> Any:
    try:
        import distributed
    except ImportError as error:
        raise ImportError(
            "a sweep over several machines needs dask.distributed: install tenside with the extra `cluster`"
        ) from error
    if not isinstance(client, distributed.Client):
        raise TypeError(f"the first argument is a dask.distributed client (found {type(client).__name__})")
    if client.asynchronous:
        raise ValueError("the client is asynchronous; make one with asynchronous=False")
    return distributed


def _usual(client: Any) -> int:
    return max(1, _PARTS_A_WORKER * len(client.nthreads()))


def _worked(
    library: Any, client: Any, work: Callable[..., Any], pieces: list[SweepPart], progress: Progress, *arguments: Any
) -> Iterator[tuple[int, Any]]:
    """What the workers made of the pieces, with their places, as they come."""
    total, done = sum(len(piece) for piece in pieces), 0
    report = bar(total) if progress is True else progress or None
    if report is not None and not callable(report):
        raise TypeError(
            f"progress is True, or is called with rows done and rows in all (found {type(progress).__name__})"
        )
    futures = client.map(
        work, range(len(pieces)), pieces, [arguments] * len(pieces), [__version__] * len(pieces), pure=False
    )
    try:
        for future in library.as_completed(futures):
            index, found = future.result()
            # The result is here now: the worker may forget it, or die.
            future.release()
            done += len(pieces[index])
            if report is not None:
                report(done, total)
            yield index, found
    except BaseException:
        client.cancel(futures)
        raise


def _same(version: str) -> None:
    if version != __version__:
        raise RuntimeError(
            f"a worker has tenside {__version__}, and the sweep comes from {version}; install the same on both"
        )


def _gathered(index: int, piece: SweepPart, arguments: tuple[dict[str, Any]], version: str) -> tuple[int, StreamPart]:
    _same(version)
    return index, piece.stream(**arguments[0])


def _written(index: int, piece: SweepPart, arguments: tuple[str, int, int | None], version: str) -> tuple[int, str]:
    _same(version)
    folder, digits, max_gib = arguments
    if not os.path.isdir(folder):
        raise FileNotFoundError(f"a worker does not find the folder {folder}; it must be one that all workers reach")
    name = f"part-{index:0{digits}}.parquet"
    piece.table(max_gib=max_gib).write_parquet(os.path.join(folder, name))
    return index, name
