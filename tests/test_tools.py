"""The scripts in tools do what the commands promise: services stop whatever happens, fragments are read or refused by name."""

from __future__ import annotations

import importlib.util
import os
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType

import pytest

TOOLS = Path(__file__).resolve().parent.parent / "tools"


def tool(name: str) -> ModuleType:
    spec = importlib.util.spec_from_file_location(f"tool_{name}", TOOLS / f"{name}.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture
def temporary() -> Iterator[Path]:
    """A folder that the server's user can enter, unlike pytest's own when root runs the tests."""
    with tempfile.TemporaryDirectory(prefix="t-") as name:
        Path(name).chmod(0o711)
        yield Path(name)


def with_services(words: list[str], temporary: Path) -> subprocess.Popen[str]:
    """The script with its temporary folder inside ours."""
    env = {**os.environ, "TMPDIR": str(temporary)}
    return subprocess.Popen(
        [sys.executable, str(TOOLS / "with_services.py"), *words], env=env, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    )


SAY_SERVER = "import os, sys; print(os.environ['WHOLEFILM_TEST_POSTGRES'], flush=True); "


def server_answers(url: str) -> bool:
    from sqlalchemy import create_engine
    from sqlalchemy.exc import OperationalError

    engine = create_engine(url)
    try:
        with engine.connect():
            return True
    except OperationalError:
        return False
    finally:
        engine.dispose()


def test_exit_code_is_handed_on_and_the_server_is_gone(temporary: Path) -> None:
    child = with_services([sys.executable, "-c", SAY_SERVER + "sys.exit(7)"], temporary)
    out, err = child.communicate(timeout=90)
    assert child.returncode == 7, err
    assert not server_answers(out.strip())
    assert not list(temporary.glob("wholefilm-pg-*"))


def test_a_signal_stops_the_command_and_the_server(temporary: Path) -> None:
    child = with_services([sys.executable, "-c", SAY_SERVER + "import time; time.sleep(300)"], temporary)
    assert child.stdout is not None
    url = child.stdout.readline().strip()
    assert server_answers(url)
    started = time.monotonic()
    child.send_signal(signal.SIGTERM)
    child.communicate(timeout=90)
    assert child.returncode != 0
    assert time.monotonic() - started < 60
    assert not server_answers(url)
    assert not list(temporary.glob("wholefilm-pg-*"))


def test_changelog_puts_what_changes_results_first(tmp_path: Path) -> None:
    changelog = tool("changelog")
    (tmp_path / "a.md").write_text("results: same\nA page prints\nfaster.\n")
    (tmp_path / "b.md").write_text("results: change\nA limit is read as at most, not below.\n")
    fragments = [changelog.read(tmp_path / name) for name in ("a.md", "b.md")]
    assert changelog.section("0.2.0", "2031-05-30", fragments) == (
        "## 0.2.0 (2031-05-30)\n\n"
        "### Results change\n\n- A limit is read as at most, not below.\n\n"
        "### Results stay the same\n\n- A page prints faster.\n\n"
    )


@pytest.mark.parametrize(
    ("text", "says"), [("changed\nText.\n", "results: change"), ("results: same\n\n", "one paragraph"), ("", "results: same")]
)
def test_changelog_refuses_a_fragment_by_name(tmp_path: Path, text: str, says: str) -> None:
    (tmp_path / "bad.md").write_text(text)
    with pytest.raises(ValueError, match=r"bad\.md") as caught:
        tool("changelog").read(tmp_path / "bad.md")
    assert says in str(caught.value)


def test_lock_files_have_hashes_for_each_package_and_name_no_host() -> None:
    for name in ("requirements.lock", "requirements-dev.lock", "requirements-build.lock"):
        text = (TOOLS.parent / name).read_text()
        lines = text.splitlines()
        pins = [number for number, line in enumerate(lines) if "==" in line and not line.startswith((" ", "#"))]
        assert pins, name
        assert all(lines[number + 1].startswith("    --hash=sha256:") for number in pins), name
        assert "://" not in text, name
        assert "index-url" not in text, name


def test_install_size_reads_only_the_named_pins() -> None:
    part = tool("install_size").pinned(["typer", "numpy"])
    names = {line.split("==")[0] for line in part.splitlines() if "==" in line and not line.startswith(" ")}
    assert names == {"typer", "numpy"}
    assert "--hash=sha256:" in part
