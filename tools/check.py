"""Everything that `make check` looks at, one line each; all are run even if one fails."""

import subprocess
import sys
import time
from pathlib import Path

HERE = Path(__file__).resolve().parent.parent
BIN = Path(sys.executable).parent
CODE = ["src", "tests", "tools", "bench"]
STEPS = {
    "style": [str(BIN / "ruff"), "check", *CODE],
    "format": [str(BIN / "ruff"), "format", "--check", *CODE],
    "types": [str(BIN / "mypy"), "--strict", "src"],
    "floors": [str(BIN / "lint-imports"), "--no-logo"],
    "house and documentation": [str(BIN / "python"), "-m", "pytest", "-q", "tests/test_house.py", "tests/test_docs.py"],
    "changelog": [str(BIN / "python"), "tools/changelog.py", "--check"],
    "install size": [str(BIN / "python"), "tools/install_size.py"],
}


def main() -> int:
    """0 if every step passed, 1 otherwise."""
    failed = []
    for name, words in STEPS.items():
        started = time.monotonic()
        done = subprocess.run(words, cwd=HERE, capture_output=True, text=True, stdin=subprocess.DEVNULL)
        good = done.returncode == 0
        print(f"{'ok    ' if good else 'FAILED'} {name} ({time.monotonic() - started:.1f} s)", flush=True)
        if not good or name == "install size":
            print(done.stdout + done.stderr, end="", flush=True)
        if not good:
            failed.append(name)
    print("make check: " + (f"FAILED: {', '.join(failed)}" if failed else "all passed"))
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
