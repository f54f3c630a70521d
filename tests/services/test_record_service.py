"""Recording through the services: nothing acknowledged is lost, two programs never write one number, both databases."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from wholefilm.base.errors import BadInput
from wholefilm.ledger.chain import check_chains
from wholefilm.ledger.store import Store
from wholefilm.services.database import open_store
from wholefilm.services.export import export
from wholefilm.services.find import find_stored
from wholefilm.services.load import load
from wholefilm.services.open_job import NewJob, open_job
from wholefilm.services.record import record
from wholefilm.services.verify import verify_file, verify_stored
from wholefilm.services.view import view_of

CHILD = Path(__file__).with_name("record_writer.py")
JOB = NewJob(name="kill", title="Kill test", contract="none", person="Ada Rooke", roles=["QC inspector"])


@pytest.fixture(autouse=True)
def own_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The user's data folder, where the device id of a server's database lies, is this test's own."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "share"))
    monkeypatch.delenv("WHOLEFILM_DATABASE", raising=False)
    monkeypatch.delenv("WHOLEFILM_BLOBS", raising=False)


def opened(store_url: str) -> tuple[Store, str]:
    """A store with the job in it."""
    store, url = open_store(store_url)
    open_job(store, url, JOB)
    return store, url


def child(url: str, most: int = 1_000_000) -> subprocess.Popen[bytes]:
    """A program that records."""
    process = subprocess.Popen([sys.executable, str(CHILD), url, "kill", str(most)], stdout=subprocess.PIPE)
    assert process.stdout is not None
    assert process.stdout.readline() == b"ready\n"
    return process


def test_kill_minus_9_while_recording(store_url: str) -> None:
    """No acknowledged entry is lost, the record stays intact, and the next program goes on. The machine lives on."""
    store, url = opened(store_url)
    chance = random.Random(5)
    acknowledged: list[str] = []
    for _ in range(4):
        process = child(url)
        assert process.stdout is not None
        first = process.stdout.readline().decode()
        time.sleep(chance.uniform(0.02, 0.3))
        os.kill(process.pid, signal.SIGKILL)
        printed = first + process.stdout.read().decode()
        process.wait()
        process.stdout.close()
        acknowledged += [line.strip() for line in printed.splitlines(keepends=True) if line.endswith("\n")]
        found = find_stored(store, "kill")
        there = {e.id for e in found.entries}
        assert [ident for ident in acknowledged if ident not in there] == []
        assert found.aside == []
        assert check_chains(found.entries, whole=True) == []
    assert len(acknowledged) >= 4
    assert verify_stored(find_stored(store, "kill")).intact
    store.close()


def test_programs_of_one_installation_take_turns(store_url: str) -> None:
    """Without turns two of them read the same last entry and write its number twice, which forks the record."""
    store, url = opened(store_url)
    writers = [child(url, 12) for _ in range(4)]
    for process in writers:
        assert process.stdout is not None
        assert len(process.stdout.read().split()) == 12
        assert process.wait() == 0
        process.stdout.close()
    found = find_stored(store, "kill")
    assert found.aside == []
    assert sorted(e.seq for e in found.entries) == list(range(1, 4 * 12 + 2))
    assert check_chains(found.entries, whole=True) == []
    store.close()


def test_record_assess_export_load_on_both_databases(store_url: str, tmp_path: Path) -> None:
    store, url = opened(store_url)
    done = record(store, url, "kill", "person.joined", ["roles=QA", "card.name=Ben Tarn"], "QC inspector")
    assert done.receipt.state == "stored"
    assert done.receipt.position == 2
    record(store, url, "kill", "delay.noted", ["reason=rain"], "Ben Tarn", at_site="2025-06-03 08:00")
    before = store.position(store.jobs()[0].id)
    for words, says in ((["reason="], "reason"), ([], "reason")):
        with pytest.raises(BadInput, match=says):
            record(store, url, "kill", "delay.noted", words, "QA")
    assert store.position(store.jobs()[0].id) == before == 3
    view = view_of(find_stored(store, "kill"))
    assert view.assessment.assessment == "cannot_tell"
    assert "no requirement is entered: nothing can be assessed" in view.assessment.missing
    out = tmp_path / "out.zip"
    assert export(find_stored(store, "kill"), out) == 3
    assert verify_file(out).intact
    other, _ = open_store(f"sqlite:///{tmp_path / 'other.db'}")
    loaded = load(other, out)
    assert (loaded.stored, loaded.known, loaded.aside, loaded.blobs) == (3, 0, 0, 2)
    assert view_of(find_stored(other, "kill")).digest == view.digest
    export(find_stored(other, "kill"), tmp_path / "again.zip")
    assert (tmp_path / "again.zip").read_bytes() == out.read_bytes()
    store.close()
    other.close()


def test_a_card_or_file_of_a_refused_entry_is_not_kept(tmp_path: Path) -> None:
    store, url = opened(f"sqlite:///{tmp_path / 'job.db'}")
    kept = sorted((tmp_path / "job.db.blobs").rglob("*"))
    with pytest.raises(BadInput, match="roles"):
        record(store, url, "kill", "person.joined", ["card.name=Ben Tarn"], "QC inspector")
    assert sorted((tmp_path / "job.db.blobs").rglob("*")) == kept
    store.close()


def test_two_people_of_one_role_must_be_told_apart(tmp_path: Path) -> None:
    store, url = opened(f"sqlite:///{tmp_path / 'job.db'}")
    for name in ("Ben Tarn", "Cor Veld"):
        record(store, url, "kill", "person.joined", ["roles=QA", f"card.name={name}"], "QC inspector")
    with pytest.raises(BadInput, match="one person of the job, by id, role or name"):
        record(store, url, "kill", "delay.noted", ["reason=rain"], "QA")
    record(store, url, "kill", "delay.noted", ["reason=rain"], "Cor Veld")
    store.close()
