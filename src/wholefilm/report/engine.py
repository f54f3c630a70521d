"""Sets one volume in a process of its own, so that the memory of its pictures goes back.

Run as `python -m wholefilm.report.engine FOLDER SECONDS`.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from wholefilm.base.errors import WholefilmError

FONTS = Path(__file__).resolve().parent / "fonts"
SOURCE, TARGET = "report.typ", "volume.pdf"


class NotSet(WholefilmError):
    """The PDF engine refused the pages."""


def set_volume(folder: Path, seconds: int) -> bytes:
    """Set the pages that lie ready in a folder.

    Parameters
    ----------
    folder : Path
        Holds ``report.typ``, ``data.json`` and every file that they name; nothing outside it is read but the fonts.
    seconds : int
        Time written into the file. [s since 1970, UTC]

    Raises
    ------
    NotSet
        If the engine refuses, with its words.
    """
    words = [sys.executable, "-m", "wholefilm.report.engine", str(folder), str(seconds)]
    done = subprocess.run(words, capture_output=True, text=True, check=False)
    if done.returncode:
        raise NotSet(f"the pages could not be set: {done.stderr.strip()[-2000:]}")
    return (folder / TARGET).read_bytes()


def main(folder: str, seconds: str) -> int:
    """Set `report.typ` in a folder to `volume.pdf` beside it."""
    import typst

    root = Path(folder)
    try:
        typst.compile(
            str(root / SOURCE),
            output=str(root / TARGET),
            root=folder,
            font_paths=[str(FONTS)],
            ignore_system_fonts=True,
            package_path=folder,
            package_cache_path=folder,
            pdf_standards=["a-3a", "ua-1"],
            timestamp=int(seconds),
        )
    except typst.TypstError as error:
        print(error, getattr(error, "hints", ""), file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
