"""Commands to begin with: demo, serve."""

from __future__ import annotations

import shutil
import sys
from pathlib import Path
from typing import Annotated

import typer

from .options import Database, leaving
from .tell import say


def demo(
    jobs: Annotated[list[str] | None, typer.Argument(metavar="[JOB ...]", help="Which demo jobs; all if none is named.")] = None,
    to: Annotated[Path, typer.Option("--to", metavar="DIR", help="Folder for the demo; made anew.")] = Path("out/demo"),
    serve_: Annotated[bool, typer.Option("--serve", help="Then show it as pages.")] = False,
) -> int:
    """Make the demo jobs to try everything on. Their reports and a database of their own go into a folder."""
    from wholefilm.demo import EVENINGS
    from wholefilm.services.demo import make_demo

    made = make_demo(to, lambda step: say(f"  {step}"), jobs or ())
    for name, view in made.views.items():
        a, h = view.assessment.area, view.assessment.holidays
        say()
        say(f"{name}: {view.assessment.title}")
        say(f"  {view.assessment.says}")
        told = f"on written instruction {a.on_instruction_m2:.1f}"
        say(f"  {a.total_m2:.1f} m2: tested {a.tested_m2:.1f}, checked before and after {a.checked_m2:.1f}, {told}")
        repairs = view.assessment.repairs.planned
        say(f"  {h.confirmed} holidays, {h.closed} closed; {h.false_indications} false indications; {repairs} repairs")
        clauses = dict.fromkeys(f.rule.clause for f in view.assessment.findings if f.finding == "not_met")
        if clauses:
            say(f"  not met: clause {', '.join(clauses)}")
    name = next(iter(made.views))
    database = made.folder / "demo.db"
    say()
    say("Open:")
    for paths in made.reports.values():
        for path in paths:
            say(f"  {path}   the test report, with the record inside")
    me = _typed_as()
    say("Try next:")
    for job in made.views:
        evening, why = EVENINGS[job]
        say(f"  {me} assess {made.folder / (job + '.jsonl')} --as-of '{evening}'   {why}")
    say(f"  {me} verify {made.reports[name][0]}")
    say(f"  {me} serve --database {database}   the same as pages, on a desk or a phone")
    say(f"  {me} job show {name} --sheet holidays --database {database}")
    if serve_:
        return serve(database=str(database))
    return 0


def _typed_as() -> str:
    """How this program is called from here: its name if it is on the path, else where it lies."""
    found = shutil.which("wholefilm")
    here = Path(sys.argv[0])
    if found is not None or here.name != "wholefilm":
        return "wholefilm"
    return str(here.relative_to(Path.cwd())) if here.is_absolute() and here.is_relative_to(Path.cwd()) else str(here)


def serve(
    host: Annotated[
        str, typer.Option("--host", metavar="ADDRESS", help="Address to listen on; 127.0.0.1 is this machine alone.")
    ] = "127.0.0.1",
    port: Annotated[int, typer.Option("--port", metavar="PORT", help="Port to listen on, 0 to 65535.", min=0, max=65535)] = 8765,
    database: Database = None,
) -> int:
    """Show jobs as pages on this machine. They can be read there, not changed."""
    import uvicorn

    from wholefilm.services.database import open_store
    from wholefilm.services.library import Library
    from wholefilm.web.app import create_app

    store, _ = open_store(database)
    say(f"Open http://{host}:{port}/   (Ctrl-C stops)")
    try:
        uvicorn.run(create_app(Library(store)), host=host, port=port, log_level="warning")
    finally:
        store.close()
    return 0


def add(app: typer.Typer) -> None:
    """Add the commands of this file."""
    app.command("demo")(leaving(demo))
    app.command("serve")(leaving(serve))
