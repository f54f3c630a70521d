"""Write the demo: job file, blobs, report and a database of its own."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Sequence
from pathlib import Path

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.demo import DEMOS
from wholefilm.ledger.blobs import Blobs
from wholefilm.ledger.jobfile import write_path
from wholefilm.ledger.store import Store

from .find import find_stored
from .load import load
from .report import write_report
from .view import View, view_of

MARK = ".wholefilm-demo"


class DemoMade(msgspec.Struct):
    """Where the demo lies, and how each of its jobs stands."""

    folder: Path
    database: str
    views: dict[str, View]
    reports: dict[str, list[Path]]


def _fresh(folder: Path) -> None:
    """An empty folder; one that is not a demo of ours is never emptied.

    Raises
    ------
    BadInput
        If the folder holds something else.
    """
    if folder.exists():
        if not folder.is_dir() or (any(folder.iterdir()) and not (folder / MARK).exists()):
            raise BadInput("--to", str(folder), "a folder that is new, empty, or holds an earlier demo")
        shutil.rmtree(folder)
    folder.mkdir(parents=True)
    (folder / MARK).write_text("Made by `wholefilm demo`; made anew at each run.\n", encoding="utf-8")


def make_demo(folder: Path, progress: Callable[[str], None] = lambda _: None, names: Sequence[str] = ()) -> DemoMade:
    """Write demo jobs as job files, load each, assess it, and write its report.

    Parameters
    ----------
    folder : Path
    progress : callable
        Called with the name of each step.
    names : sequence of str
        Which; all if none is named.

    Raises
    ------
    BadInput
        If a name is none of a demo job, or the folder holds something else.
    """
    for name in names:
        if name not in DEMOS:
            raise BadInput("JOB", name, f"one or more of {', '.join(DEMOS)}; all of them if none is named")
    _fresh(folder)
    url = f"sqlite:///{(folder / 'demo.db').resolve()}"
    store = Store.open(url)
    made = DemoMade(folder, url, {}, {})
    beside = Blobs(folder / "blobs")
    try:
        for name in names or DEMOS:
            progress(f"{name}: writing the job file")
            demo = DEMOS[name]()
            for content in demo.blobs.values():
                beside.put(content)
            path = folder / f"{name}.jsonl"
            write_path(path, demo.entries)
            progress(f"{name}: loading it into the database")
            load(store, path)
            view = view_of(find_stored(store, name))
            made.views[name] = view
            progress(f"{name}: setting the report")
            made.reports[name] = write_report(view, folder / f"{name}.pdf")
    finally:
        store.close()
    return made
