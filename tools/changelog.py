"""Check the fragments of changelog.d, or put them into CHANGELOG.md under a version and remove them.

A fragment is a file NAME.md. Its first line is `results: change` (a figure, a finding or an assessment can come out different) or
`results: same`; after it comes one paragraph for the reader.
"""

import re
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent.parent
FOLDER = HERE / "changelog.d"
BOOK = HERE / "CHANGELOG.md"
MARK = "<!-- new versions go below this line -->\n"
TITLES = {"change": "Results change", "same": "Results stay the same"}


def read(path: Path) -> tuple[str, str]:
    """Whether results change, and the paragraph. Raises ValueError that names the file and what is allowed."""
    first, _, rest = path.read_text().partition("\n")
    found = re.fullmatch(r"results: (change|same)", first.strip())
    if not found:
        raise ValueError(f"{path.name}: first line {first!r} is not accepted. Allowed: 'results: change' or 'results: same'")
    text = " ".join(rest.split())
    if not text:
        raise ValueError(f"{path.name}: no text after the first line. Allowed: one paragraph that says what changed")
    return found[1], text


def section(version: str, date: str, fragments: list[tuple[str, str]]) -> str:
    """The section of one version: what changes results first."""
    parts = [f"## {version} ({date})\n"]
    for kind, title in TITLES.items():
        lines = [f"- {text}" for which, text in fragments if which == kind]
        if lines:
            parts.append(f"### {title}\n\n" + "\n".join(lines) + "\n")
    return "\n".join(parts) + "\n"


def main(words: list[str]) -> int:
    """`--check`, or VERSION DATE; returns 2 for bad input."""
    paths = sorted(path for path in FOLDER.glob("*.md") if path.name != "README.md")
    try:
        fragments = [read(path) for path in paths]
        if words == ["--check"]:
            return 0
        if len(words) != 2 or not re.fullmatch(r"\d+\.\d+\.\d+", words[0]) or not re.fullmatch(r"\d{4}-\d\d-\d\d", words[1]):
            raise ValueError(f"VERSION DATE: {' '.join(words)!r} is not accepted. Allowed: 1.2.3 2031-05-30")
        if not fragments:
            raise ValueError("changelog.d: no fragment. Allowed: at least one NAME.md")
    except ValueError as error:
        print(error, file=sys.stderr)
        return 2
    book = BOOK.read_text()
    if book.count(MARK) != 1:
        print(f"CHANGELOG.md: the line {MARK.strip()!r} must stand in it once", file=sys.stderr)
        return 2
    BOOK.write_text(book.replace(MARK, f"{MARK}\n{section(words[0], words[1], fragments)}"))
    for path in paths:
        path.unlink()
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
