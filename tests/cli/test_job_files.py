"""Ready to test, from small job files on disk: read, judged and asked by the installed commands.

The facts are those of the demo stories: film that is thin at edges and ends, a tab without continuity, a sponge tester that trips too
late, solvent beside a retest.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from builder import Book

from cli.desk import Desk, here
from wholefilm.demo import DEMOS
from wholefilm.ledger.blobs import Blobs
from wholefilm.ledger.jobfile import write_path
from wholefilm.ledger.order import as_of


def written(folder: Path, name: str, time: str) -> str:
    """A demo job as it stood at a time of its site, as a job file with its bytes beside it."""
    demo = DEMOS[name]()
    beside = Blobs(folder / "blobs")
    for data in demo.blobs.values():
        beside.put(data)
    path = folder / f"{name}.jsonl"
    write_path(path, as_of(demo.entries, time=f"{time}:00.000+02:00"))
    return str(path)


def states(*words: str) -> dict[str, str]:
    """Need to its state, as `ready --json` prints them; the worst where a need stands twice."""
    done = here("ready", *words, "--json")
    assert done.code in (0, 1, 3), done.err
    rank = {"not asked": 0, "met": 0, "cannot tell": 1, "not met": 2}
    found: dict[str, str] = {}
    for row in done.json["needs"]:
        if rank[row["state"]] > rank.get(found.get(row["need"], "met"), 0) or row["need"] not in found:
            found[row["need"]] = row["state"]
    return found


@pytest.mark.parametrize(
    ("name", "read", "raised", "instructed", "area", "begin", "number"),
    [
        ("north-basin", "2025-05-28T17:00", "2025-05-29T10:00", "2025-06-02T07:42", "F-1", "2025-06-02 07:45", "NCR-01"),
        ("penstock", "2025-10-02T16:30", "2025-10-02T18:00", "2025-10-06T07:55", "P-05", "2025-10-06 08:00", "NCR-01"),
    ],
)
def test_thin_edges_and_ends_raise_a_nonconformance_first(
    tmp_path: Path, name: str, read: str, raised: str, instructed: str, area: str, begin: str, number: str
) -> None:
    """(a) and (e): the gauge says no before any electrode touches the film; then NCR, then the engineer's written word."""
    path = written(tmp_path, name, read)
    assert states(path, area, "--as-of", "2025-12-01", "--at", begin)["thickness"] == "not met"
    assert number not in here("assess", path).out
    path = written(tmp_path, name, raised)
    assert f"{number} is open" in here("assess", path).out
    path = written(tmp_path, name, instructed)
    found = states(path, area, "--as-of", "2025-12-01", "--at", begin)
    assert {need for need, state in found.items() if state == "not met"} == {"thickness"}  # lifted only by the written instruction
    desk = Desk(tmp_path)
    assert desk.run("load", path).code == 0
    letters = {"north-basin": "K", "penstock": "K"}
    assert desk.run("record", name, "device.joined", f"letter={letters[name]}", "holder=x", "--by", "QC inspector").code == 0
    tester = {"north-basin": ("HV-01", "brush 0.30 m", "L-1", "3.00 kV"), "penstock": ("LV-01", "sponge 0.30 m", "L-3", "80 kohm")}[name]
    words = [f"{k}={v}" for k, v in zip(("instrument", "electrode", "lead", "set"), tester, strict=True)]
    wet = ["liquid=water with wetting agent", "dose=5 ml/l"] if name == "penstock" else []
    start = ["record", name, "panel.started", f"panel={area}", "stage=final", *words, *wet, "--by", "QC inspector", "--at-site", begin]
    refused = desk.run(*start)
    assert refused.code == 2
    assert "thickness: film thickness" in refused.err
    why = ["although.needs=thickness", "although.why=NCR-01, as instructed", "although.instruction=last:instruction.received"]
    assert desk.run(*start, *why).code == 0


@pytest.mark.parametrize("bay", ["E3", "E4", "F3", "F4"])
def test_bays_of_a_dead_tab_wait_for_a_new_one(tmp_path: Path, bay: str) -> None:
    """(c): T3 has no continuity; E3 to F4 cannot be tested until T3b is proved; a bay of a good tab can."""
    path = written(tmp_path, "acid-store", "2025-08-05T08:00")
    asked = ("--as-of", "2025-12-01", "--at", "2025-08-05 09:00")
    assert states(path, bay, *asked)["ground_open"] == "not met"
    assert "T3" in here("ready", path, bay, *asked).out
    assert states(path, "E1", *asked)["ground_open"] == "met"
    path = written(tmp_path, "acid-store", "2025-08-06T07:50")
    assert states(path, bay, "--as-of", "2025-12-01", "--at", "2025-08-06 13:10")["ground_open"] == "met"


def test_a_sponge_tester_that_trips_only_below_41_kohm_fails(tmp_path: Path) -> None:
    """(e): 80 kohm set, 41 kohm found: -48.8 %, 10 % allowed. What was swept since is in doubt; nothing starts with it."""
    path = written(tmp_path, "penstock", "2025-10-08T16:50")
    done = here("assess", path, "--json")
    assert (done.code, done.json["area"]["in_doubt_m2"]) == (1, pytest.approx(62.8, abs=0.05))
    assert "End check of LV-01 as found 41 kohm on 80 kohm set (-48.8 %)" in here("assess", path).out
    found = states(path, "P-09", "--as-of", "2025-12-01", "--at", "2025-10-08 17:00", "--tester", "LV-01")
    assert found["check_before"] == "not met"


@pytest.mark.parametrize(("solvent", "expected"), [(True, "not met"), (False, "met"), (None, "cannot tell")])
def test_solvent_wiping_beside_a_retest_stops_it(tmp_path: Path, solvent: bool | None, expected: str) -> None:
    """Common practice: no spark beside solvent. A look that says nothing of it tells nothing."""
    book = Book().usual()
    book.check("3 07:30")
    book.test_all()
    found = book.holiday("A1", "3 08:05")
    book.check("3 12:00", occasion="after")
    book.mend(book.plan("R-01", [found]))
    book.check("6 09:30")
    seen = {"panels": ["F"], "dry": True, "clean": True, "overspray": False, "old_water": False}
    book.write("surface.inspected", "6 09:50", version=2, **seen, **({} if solvent is None else {"solvent": solvent}))
    path = tmp_path / "small.jsonl"
    write_path(path, book.entries)
    assert states(str(path), "R-01", "--as-of", "2025-12-01", "--at", "2025-03-06 10:00")["solvent"] == expected
