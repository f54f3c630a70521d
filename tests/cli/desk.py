"""A desk for the tests of the command line: runs commands, in this process or as the installed program, on a database of its own."""

from __future__ import annotations

import contextlib
import io
import os
import sqlite3
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from unittest import mock

import msgspec

from wholefilm.cli.main import run

PROGRAM = Path(sys.executable).with_name("wholefilm")
NO_DATABASE = ("rules", "demo")


@dataclass(frozen=True)
class Done:
    """What a command left: exit code and both streams."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        """Standard output read as JSON."""
        return msgspec.json.decode(self.out)


def here(*words: str) -> Done:
    """Run a command in this process."""
    out, err = io.StringIO(), io.StringIO()
    code: object = None
    with mock.patch.object(sys, "argv", ["wholefilm", *words]), contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        try:
            run()
        except SystemExit as left:
            code = left.code
    assert isinstance(code, int)
    return Done(code, out.getvalue(), err.getvalue())


def installed(*words: str, stdin: str = "", env: dict[str, str] | None = None, cwd: Path | None = None) -> Done:
    """Run the installed program."""
    kept = {k: v for k, v in os.environ.items() if not k.startswith("WHOLEFILM_")}
    done = subprocess.run(
        [str(PROGRAM), *words], input=stdin, capture_output=True, text=True, env=kept | (env or {}), cwd=cwd, timeout=60, check=False
    )
    return Done(done.returncode, done.stdout, done.stderr)


class Desk:
    """Commands on one database.

    Parameters
    ----------
    folder : Path
        Where the database lies, unless `url` names another.
    url : str, optional
    """

    def __init__(self, folder: Path, url: str = "") -> None:
        self.folder = folder
        self.file = folder / "job.db"
        self.url = url or f"sqlite:///{self.file}"

    def run(self, *words: str) -> Done:
        """Run a command in this process on this database."""
        own = words[0] in NO_DATABASE and not {"cite", "enter"} & set(words[1:2])
        return here(*words) if own else here(*words, "--database", self.url)

    def installed(self, *words: str, stdin: str = "") -> Done:
        """The same by the installed program."""
        return installed(*words, "--database", self.url, stdin=stdin)

    def good(self, *words: str) -> Done:
        """Run a command that must exit with 0."""
        done = self.run(*words)
        assert done.code == 0, f"{words}\n{done.out}{done.err}"
        return done

    def kept(self) -> tuple[list[str], list[str]]:
        """Everything that is stored: every row of the database, every file of photos and cards."""
        with contextlib.closing(sqlite3.connect(self.file)) as connection:
            rows = list(connection.iterdump())
        blobs = self.file.with_name(self.file.name + ".blobs")
        return rows, sorted(str(p) for p in blobs.rglob("*") if p.is_file())

    def refused(self, *words: str) -> Done:
        """Run a command that must be refused with exit code 2, with nothing stored and no word for a program's maker."""
        before = self.kept()
        done = self.run(*words)
        assert done.code == 2, f"{words}\n{done.out}{done.err}"
        assert done.out == ""
        assert "Traceback" not in done.err
        assert self.kept() == before
        return done
