"""The house rules that a machine can check: floors, purity, file length, one word for each exemption."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

HERE = Path(__file__).resolve().parent.parent
PACKAGE = HERE / "src" / "wholefilm"
LONGEST = 400

PURE = (
    "base",
    "ledger",
    "rules",
    "electric",
    "film",
    "climate",
    "instruments",
    "surface",
    "job",
    "plan",
    "proof",
    "causes",
    "sheets",
    "drawing",
)
KNOWN = {*PURE, "report", "exchange", "demo", "access", "services", "web", "cli"}

# The only files of the pure floors that may touch a database, a disk or a clock, and why.
EXEMPT = {
    "ledger/store.py": "the only writer",
    "ledger/tables.py": "the tables of the store",
    "ledger/schema.py": "makes and migrates them",
    "ledger/bundle.py": "a job file with its blobs on disk",
    "ledger/blobs.py": "photos and bulk files beside the book",
    "ledger/installation.py": "the device id in its file",
    "ledger/files.py": "writes a file whole or not at all",
    "rules/loader.py": "reads the rule documents shipped with the package",
    "proof/needs_book.py": "reads the needs shipped with the package",
}
EXEMPT_FOLDERS = ("ledger/migrations/",)

# Modules that a pure file does not import: stores, web, PDF engine, clock, chance, processes, network.
BANNED_MODULES = {
    "sqlalchemy", "alembic", "psycopg", "sqlite3", "duckdb", "fastapi", "uvicorn", "starlette", "typst", "typer", "httpx",
    "time", "random", "secrets", "subprocess", "socket", "urllib", "tempfile", "shutil",
}  # fmt: skip
# Calls that read the clock or chance, by their last two names; `datetime.datetime.now` ends in `datetime.now`.
BANNED_CALLS = {
    "datetime.now", "datetime.utcnow", "datetime.today", "date.today", "time.time", "time.monotonic", "time.time_ns",
    "uuid.uuid1", "uuid.uuid4", "os.urandom", "io.open", "os.open",
}  # fmt: skip
BANNED_NAMES = {"open", "input", "print", "uuid4", "uuid1", "urandom"}
BANNED_METHODS = {"write_text", "write_bytes", "read_text", "read_bytes", "mkdir", "unlink", "rmdir", "touch", "rename", "utcnow"}


def dotted(node: ast.expr) -> str:
    """The dotted name of an expression, empty if it is none."""
    if isinstance(node, ast.Name):
        return node.id
    if isinstance(node, ast.Attribute):
        inner = dotted(node.value)
        return f"{inner}.{node.attr}" if inner else ""
    return ""


def impurities(source: str) -> Iterator[str]:
    """Each banned import and call of a file, with its line."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            for alias in node.names:
                if alias.name.split(".")[0] in BANNED_MODULES:
                    yield f"line {node.lineno}: import {alias.name}"
        elif isinstance(node, ast.ImportFrom) and node.level == 0 and node.module:
            if node.module.split(".")[0] in BANNED_MODULES:
                yield f"line {node.lineno}: from {node.module} import"
        elif isinstance(node, ast.Call):
            yield from banned_call(node)


def banned_call(node: ast.Call) -> Iterator[str]:
    """The reason why a call is banned, nothing otherwise."""
    name = dotted(node.func)
    method = node.func.attr if isinstance(node.func, ast.Attribute) else ""
    last_two = ".".join(name.split(".")[-2:])
    unseeded = (name or method).endswith("default_rng") and not node.args and not node.keywords
    if last_two in BANNED_CALLS or name in BANNED_NAMES or method in BANNED_METHODS or name.startswith("np.random.r") or unseeded:
        yield f"line {node.lineno}: {name or method}()"


def pure_files() -> list[Path]:
    """Files of the pure floors, the exempt ones left out."""
    files = [path for room in PURE for path in (PACKAGE / room).rglob("*.py")]
    return [path for path in files if not exempt(path.relative_to(PACKAGE).as_posix())]


def exempt(name: str) -> bool:
    """Whether a file may touch database, disk or clock."""
    return name in EXEMPT or name.startswith(EXEMPT_FOLDERS)


def test_pure_floors_touch_no_store_disk_clock_or_chance() -> None:
    files = pure_files()
    assert len(files) >= 6
    found = [f"{path.relative_to(HERE)}: {what}" for path in files for what in impurities(path.read_text(encoding="utf-8"))]
    assert not found, "\n".join(found)


@pytest.mark.parametrize(
    "source",
    [
        "import sqlalchemy",
        "from sqlalchemy.orm import Session",
        "import datetime\ndatetime.datetime.now()",
        "from datetime import datetime, UTC\ndatetime.now(UTC)",
        "from datetime import date\ndate.today()",
        "import time",
        "from time import time",
        "import uuid\nuuid.uuid4()",
        "from uuid import uuid4\nuuid4()",
        "import random",
        "import numpy as np\nnp.random.default_rng()",
        "import numpy as np\nnp.random.rand(3)",
        "open('x')",
        "from pathlib import Path\nPath('x').write_text('y')",
        "from pathlib import Path\n(Path('x') / 'y').read_bytes()",
    ],
)
def test_the_check_sees_what_is_banned(source: str) -> None:
    assert list(impurities(source))


@pytest.mark.parametrize(
    "source",
    [
        "from datetime import datetime\ndatetime.fromisoformat('2025-06-03T16:55:00+02:00')",
        "import numpy as np\nnp.random.default_rng(7)",
        "from wholefilm.base.times import utc_ms",
    ],
)
def test_the_check_lets_pass_what_is_allowed(source: str) -> None:
    assert not list(impurities(source))


def test_every_room_stands_on_a_floor() -> None:
    rooms = {path.name for path in PACKAGE.iterdir() if path.is_dir() and path.name != "__pycache__"}
    assert rooms <= KNOWN, f"no floor is named for {sorted(rooms - KNOWN)}: see pyproject.toml and this file"


def test_floors_contracts_are_kept() -> None:
    done = subprocess.run(
        [str(Path(sys.executable).parent / "lint-imports"), "--no-logo", "--no-cache"], cwd=HERE, capture_output=True, text=True
    )
    assert done.returncode == 0, done.stdout + done.stderr


def test_no_file_is_longer_than_a_room() -> None:
    code = [
        p
        for folder in ("src", "tests", "tools", "bench")
        for p in (HERE / folder).rglob("*")
        if p.suffix in {".py", ".js", ".css", ".html", ".typ"}
    ]
    assert code
    lengths = {path: len(path.read_text(encoding="utf-8").splitlines()) for path in code}
    long = [f"{path.relative_to(HERE)}: {length} lines" for path, length in lengths.items() if length > LONGEST]
    assert not long, "\n".join(long)


def test_no_test_is_skipped() -> None:
    """A missing part fails; it does not vanish from the count."""
    words = ("pytest.mark.skip", "pytest.skip(", "importorskip", "mark.skipif", "unittest.skip", "mark.xfail")
    me = Path(__file__).resolve()
    found = [
        f"{path.relative_to(HERE)}: {word}"
        for path in (HERE / "tests").rglob("*.py")
        if path.resolve() != me
        for word in words
        if word in path.read_text(encoding="utf-8")
    ]
    assert not found, "\n".join(found)
