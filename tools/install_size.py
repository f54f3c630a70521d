"""Print how large a base install is, and how much is downloaded for it; fail over the budget.

The base install is what wholefilm needs without its extras: the closure of its dependencies, as installed in this environment.
Installed: the files that each distribution lists as its own. Download: the wheels of the same pinned versions and hashes, fetched once
and remembered by the hash of the lock file; where nothing can be fetched, the size of the same files zipped, and it says so.
"""

import hashlib
import json
import re
import subprocess
import sys
import tempfile
import zipfile
from importlib import metadata
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

HERE = Path(__file__).resolve().parent.parent
LOCK = HERE / "requirements.lock"
REMEMBERED = Path(sys.prefix) / ".install-size.json"
MB = 1_000_000
INSTALL_BUDGET_MB = 600
DOWNLOAD_BUDGET_MB = 150


def closure(root: str) -> list[str]:
    """Names of the distributions that `root` needs here without any extra of its own, itself left out."""
    seen: set[tuple[str, frozenset[str]]] = set()
    queue: list[tuple[str, frozenset[str]]] = [(root, frozenset())]
    while queue:
        here = queue.pop()
        if here in seen:
            continue
        seen.add(here)
        for line in metadata.requires(here[0]) or []:
            need = Requirement(line)
            if need.marker is None or any(need.marker.evaluate({"extra": extra}) for extra in here[1] | {""}):
                queue.append((canonicalize_name(need.name), frozenset(need.extras)))
    return sorted({name for name, _ in seen} - {root})


def files_of(name: str) -> list[Path]:
    """The files that a distribution lists and that are there, compiled caches left out."""
    listed = metadata.files(name)
    if listed is None:
        raise SystemExit(f"install size: {name} lists no files; install it from a wheel")
    paths = [Path(str(entry.locate())) for entry in listed if not str(entry).endswith(".pyc")]
    return [path for path in paths if path.is_file()]


def pinned(names: list[str]) -> str:
    """The part of the lock file that stands for these names, with its hashes."""
    blocks = re.split(r"\n(?=[a-z0-9])", LOCK.read_text())
    wanted = [block for block in blocks if canonicalize_name(re.split(r"[=\[ ;]", block, maxsplit=1)[0]) in names]
    return "\n".join(wanted) + "\n"


def wheels_bytes(lock_text: str) -> int | None:
    """Size of the wheels, None where they cannot be fetched. [byte]"""
    with tempfile.TemporaryDirectory() as folder:
        part = Path(folder) / "part.lock"
        part.write_text(lock_text)
        words = [sys.executable, "-m", "pip", "--quiet", "--disable-pip-version-check", "download", "--no-deps", "--require-hashes"]
        words += ["--only-binary", ":all:", "-d", f"{folder}/wheels", "-r", str(part)]
        if subprocess.run(words, capture_output=True, stdin=subprocess.DEVNULL).returncode != 0:
            return None
        return sum(wheel.stat().st_size for wheel in Path(folder, "wheels").iterdir())


def zipped_bytes(paths: list[Path]) -> int:
    """Size of the same files in one zip. [byte]"""
    with tempfile.TemporaryFile() as sink:
        with zipfile.ZipFile(sink, "w", zipfile.ZIP_DEFLATED) as bundle:
            for number, path in enumerate(paths):
                bundle.write(path, str(number))
        return sink.tell()


def download(names: list[str], paths: list[Path]) -> tuple[int, str]:
    """Bytes to download and how that is known."""
    text = pinned(names)
    key = hashlib.sha256(text.encode()).hexdigest()
    known = json.loads(REMEMBERED.read_text()) if REMEMBERED.exists() else {}
    if known.get("key") == key:
        return known["bytes"], "wheels of the pinned versions"
    fetched = wheels_bytes(text)
    if fetched is None:
        return zipped_bytes(paths), "installed files zipped: the wheels could not be fetched"
    REMEMBERED.write_text(json.dumps({"key": key, "bytes": fetched}))
    return fetched, "wheels of the pinned versions"


def main() -> int:
    """Print both sizes; 1 over budget."""
    names = closure("wholefilm")
    sizes = {name: files_of(name) for name in names}
    own = [path for path in (HERE / "src").rglob("*") if path.is_file() and "__pycache__" not in path.parts]
    own_bytes = sum(path.stat().st_size for path in own)
    installed = sum(path.stat().st_size for paths in sizes.values() for path in paths) + own_bytes
    fetched, how = download(names, [path for paths in sizes.values() for path in paths])
    fetched += zipped_bytes(own)
    biggest = sorted(names, key=lambda name: -sum(path.stat().st_size for path in sizes[name]))[:4]
    shown = ", ".join(f"{name} {sum(p.stat().st_size for p in sizes[name]) / MB:.0f}" for name in biggest)
    print(f"       base install: {installed / MB:.0f} MB of {INSTALL_BUDGET_MB} ({len(names)} packages; {shown})")
    print(f"       download: {fetched / MB:.0f} MB of {DOWNLOAD_BUDGET_MB} ({how})")
    return 1 if installed > INSTALL_BUDGET_MB * MB or fetched > DOWNLOAD_BUDGET_MB * MB else 0


if __name__ == "__main__":
    sys.exit(main())
