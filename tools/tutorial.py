"""Write what the commands of docs/tutorial.md and of the pages in docs/jobs print into them, so that they never show anything else.

Arguments: names of pages, such as ``docs/jobs/north-basin.md``; all if none is named. Each page runs in an empty folder of its own.

A block begins with ```` ```console 1-5 9 ````: the lines of the output that it shows, all if none are named. Lines left out
are marked ``...``.
"""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

DOCS = Path(__file__).resolve().parent.parent / "docs"
PLACE = DOCS / "tutorial.md"
PAGES = [PLACE, *sorted((DOCS / "jobs").glob("*.md"))]
PROGRAM = Path(sys.executable).with_name("wholefilm")
BLOCK = re.compile(r"^```console(?P<which>[ 0-9-]*)\n\$ (?P<command>[^\n]*)\n.*?^```$", re.MULTILINE | re.DOTALL)


def runner(folder: Path) -> Callable[[str], list[str]]:
    """Runs a command of the tutorial in a folder and gives the lines that it prints, both streams, as a reader sees them.

    Raises
    ------
    ValueError
        If the command is no command of this program, or it is refused.
    """
    env = {k: v for k, v in os.environ.items() if not k.startswith("WHOLEFILM_")} | {"COLUMNS": "140"}

    def run(command: str) -> list[str]:
        words = shlex.split(command)
        if words[0] != "wholefilm":
            raise ValueError(f"{command!r}: the tutorial shows commands of wholefilm only")
        done = subprocess.run([str(PROGRAM), *words[1:]], cwd=folder, env=env, capture_output=True, text=True, timeout=120, check=False)
        if done.returncode not in (0, 1, 3):
            raise ValueError(f"{command!r} left with {done.returncode}: {done.stderr[-400:]}")
        printed = (done.stdout + done.stderr).replace(str(PROGRAM), "wholefilm")
        return [line.rstrip() for line in printed.splitlines()]

    return run


def chosen(lines: list[str], which: str) -> list[str]:
    """The lines that a block shows, with ``...`` for each gap.

    Raises
    ------
    ValueError
        If a line is asked for that was not printed.
    """
    if not which.split():
        return lines
    numbers: list[int] = []
    for word in which.split():
        first, _, last = word.partition("-")
        numbers += range(int(first), int(last or first) + 1)
    if not lines or max(numbers) > len(lines):
        raise ValueError(f"line {max(numbers)} is asked for, {len(lines)} are printed: {lines[:3]}")
    shown, before = [], 0
    for n in numbers:
        shown += [*(["..."] if n != before + 1 else []), lines[n - 1]]
        before = n
    return [*shown, *(["..."] if before < len(lines) else [])]


def document(text: str, run: Callable[[str], list[str]]) -> str:
    """The tutorial with what its commands print, run in their order."""

    def block(found: re.Match[str]) -> str:
        shown = chosen(run(found["command"]), found["which"])
        return "\n".join([f"```console{found['which']}", f"$ {found['command']}", *shown, "```"])

    return BLOCK.sub(block, text)


if __name__ == "__main__":
    for page in [Path(word).resolve() for word in sys.argv[1:]] or PAGES:
        with tempfile.TemporaryDirectory(prefix="wholefilm-") as folder:
            page.write_text(document(page.read_text(encoding="utf-8"), runner(Path(folder))), encoding="utf-8")
        print(f"written: {page}")
