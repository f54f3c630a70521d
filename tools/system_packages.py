"""See that PostgreSQL, Chromium and pdftotext are here for the tests: as root on Debian install them, elsewhere say what to install."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

PACKAGES = {"initdb": "postgresql", "chromium": "chromium", "pdftotext": "poppler-utils"}


def find(program):
    """Path of a program, also in the folders where Debian and Fedora keep a PostgreSQL server; None if it is not here."""
    if program == "chromium":
        named = os.environ.get("WHOLEFILM_TEST_CHROMIUM")
        if named:
            return named if os.access(named, os.X_OK) else None
        names = ["chromium", "chromium-browser", "google-chrome"]
        return next((path for path in map(shutil.which, names) if path), None)
    if program in {"initdb", "pg_ctl", "postgres"}:
        folders = sorted(Path("/usr/lib/postgresql").glob("*/bin"), key=lambda f: int(f.parent.name) if f.parent.name.isdigit() else 0)
        for folder in reversed(folders):
            if (folder / program).exists():
                return str(folder / program)
    return shutil.which(program)


def missing():
    """Names of the Debian packages whose programs are not here."""
    return [package for program, package in PACKAGES.items() if find(program) is None]


def install(packages):
    """Install Debian packages without a question; raises CalledProcessError when apt-get fails."""
    env = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    quiet = {"env": env, "stdin": subprocess.DEVNULL, "check": True}
    subprocess.run(["apt-get", "update", "-q"], **quiet)
    subprocess.run(["apt-get", "install", "-y", "-q", "--no-install-recommends", *packages], **quiet)


def main():
    """0 when everything is here at the end, 1 otherwise."""
    absent = missing()
    if absent and os.geteuid() == 0 and Path("/etc/debian_version").exists() and shutil.which("apt-get"):
        print("Installing for the tests:", " ".join(absent), flush=True)
        try:
            install(absent)
        except subprocess.CalledProcessError as error:
            print(f"apt-get failed: {error}", file=sys.stderr)
        absent = missing()
    if absent:
        print("The tests need programs that are not installed here, and no test is left out for that.", file=sys.stderr)
        print("Debian, Ubuntu (as root): apt-get install --no-install-recommends", " ".join(absent), file=sys.stderr)
        print("Fedora: dnf install postgresql-server chromium poppler-utils", file=sys.stderr)
        print("macOS: brew install postgresql poppler; a Chromium named in WHOLEFILM_TEST_CHROMIUM.", file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
