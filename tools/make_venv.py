"""Make the virtual environment, or say plainly what the machine lacks. Plain Python: nothing is installed yet."""

import subprocess
import sys
from pathlib import Path

NEEDED = (3, 11)


def main(folder: str) -> int:
    """Make `folder` unless a usable one stands there; 0 when it does, 1 when the machine lacks something."""
    if sys.version_info < NEEDED:
        found = ".".join(map(str, sys.version_info[:3]))
        print(f"wholefilm needs Python 3.11 or later; {sys.executable} is {found}.", file=sys.stderr)
        print("If a later one is installed, name it: make PYTHON=python3.12 ...", file=sys.stderr)
        return 1
    here = Path(folder) / "bin" / "python"
    if here.exists() and subprocess.run([here, "-m", "pip", "--version"], capture_output=True).returncode == 0:
        return 0
    made = subprocess.run([sys.executable, "-m", "venv", "--clear", folder], capture_output=True, text=True)
    if made.returncode != 0:
        version = f"{sys.version_info.major}.{sys.version_info.minor}"
        print(f"The virtual environment could not be made:\n{made.stdout}{made.stderr}", file=sys.stderr)
        print(
            f"On Debian or Ubuntu this is usually a missing package: apt-get install python{version}-venv (or python3-venv).",
            file=sys.stderr,
        )
        print("On Fedora: dnf install python3-pip. Then run the same command again.", file=sys.stderr)
    return made.returncode


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
