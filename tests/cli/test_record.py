"""`record`: how words become a body, what is proposed, what is refused."""

from __future__ import annotations

import json
import shutil
from datetime import UTC, datetime, timedelta

import pytest

from cli import small_tank as tank
from cli.desk import Desk
from wholefilm.ledger.store import Store


def body_of(desk: Desk, kind: str) -> dict[str, object]:
    """Body of the last entry of a kind."""
    store = Store.open(desk.url)
    try:
        found = [e for e in store.entries(store.jobs()[0].id) if e.kind == kind]
    finally:
        store.close()
    return dict(found[-1].body)


def test_dotted_keys_go_deep_and_a_repeated_key_makes_a_list(opened: Desk) -> None:
    tank.tell(opened, "question.raised", "to=adviser", "to=engineer", "about=4.1", "text=which, = or ==?")
    assert body_of(opened, "question.raised") == {
        "number": "Q-01", "to": ["adviser", "engineer"], "about": "4.1", "text": "which, = or ==?",
    }  # fmt: skip
    tank.tell(opened, "question.raised", "to=adviser", "about=4.1", "text=x")
    assert body_of(opened, "question.raised")["to"] == ["adviser"]  # one value for a field that holds a list
    requirement = body_of(opened, "requirement.noted")
    assert requirement["rule"] == {"form": "cure", "by": "maker's table"}


def test_a_body_from_standard_input_and_words_over_it(opened: Desk) -> None:
    body = json.dumps({"reason": "gas alarm", "note": "from the body"})
    done = opened.installed("record", tank.NAME, "delay.noted", "--body", "-", "note=from the words", "--by", tank.INSPECTOR, stdin=body)
    assert done.code == 0, done.err
    assert body_of(opened, "delay.noted") == {"reason": "gas alarm", "note": "from the words"}


@pytest.mark.parametrize("body", ["{", "[]", '"x"', "{'a': 1}"])
def test_a_body_that_is_no_json_object_is_refused(opened: Desk, body: str) -> None:
    file = opened.folder / "body.json"
    file.write_text(body, encoding="utf-8")
    done = tank.refuse(opened, "delay.noted", "--body", str(file))
    assert done.err.startswith("--body: ")
    assert "the fields as JSON in braces" in done.err


def test_a_body_file_that_is_not_there_is_refused(opened: Desk) -> None:
    assert "a JSON file that can be read" in tank.refuse(opened, "delay.noted", "--body", str(opened.folder / "none.json")).err


@pytest.mark.parametrize("who", ["QC inspector", "qc inspector", "Ada Rooke", "ada rooke"])
def test_the_person_by_role_or_name(opened: Desk, who: str) -> None:
    tank.tell(opened, "delay.noted", "reason=rain", by=who)


def test_the_person_by_id_and_who_is_not_known(opened: Desk) -> None:
    store = Store.open(opened.url)
    person = store.entries(store.jobs()[0].id)[0].body["person"]
    store.close()
    tank.tell(opened, "delay.noted", "reason=rain", by=person)
    done = tank.refuse(opened, "delay.noted", "reason=rain", by="nobody")
    assert done.err.startswith(
        "--by: 'nobody' is not accepted. Allowed: one person of the job, by id, role or name: QC inspector; foreman;"
    )
    done = opened.refused("record", tank.NAME, "delay.noted", "reason=rain")
    assert done.err.startswith("--by: nothing is given. Needed: who acts")


def test_wall_numbers_are_proposed_by_letter_and_counter_and_never_given_twice(opened: Desk) -> None:
    raised = ("indication.raised", f"panel={tank.PANEL}")
    assert "recorded: indication.raised B1," in tank.tell(opened, *raised).out
    assert "recorded: indication.raised B7," in tank.tell(opened, *raised, "number=B7").out
    assert "recorded: indication.raised B8," in tank.tell(opened, *raised).out
    twice = tank.refuse(opened, *raised, "number=B7")
    assert twice.err.startswith("number: 'B7' is not accepted. Allowed: a number that is not used yet; the next is B9")
    other = tank.refuse(opened, *raised, "number=A3")
    assert other.err.startswith("number: 'A3' is not accepted. Allowed: the letter of this device, B, and a counter, such as B9")
    burn = json.dumps([{"number": "B8", "place": tank.PLACE}])
    assert "found.number: 'B8'" in tank.refuse(opened, "burn.inspected", "panels=S1-1", f"found={burn}").err


def test_numbers_of_papers_are_proposed_and_stand_for_ids(opened: Desk) -> None:
    question = ("to=adviser", "about=4.1", "text=x")
    tank.tell(opened, "question.raised", *question, "number=Q-05")
    assert "question.raised Q-06," in tank.tell(opened, "question.raised", *question).out
    assert "number: 'Q-05'" in tank.refuse(opened, "question.raised", *question, "number=Q-05").err
    answer = ("from=adviser", f"dated={tank.DAY}", "text=yes", "evidence=letter")
    tank.tell(opened, "question.answered", "question=Q-06", *answer)
    done = tank.refuse(opened, "question.answered", "question=Q-09", *answer)
    assert done.err.startswith("question: 'Q-09' is not accepted. Allowed: the id of an entry, a number that is in the job")
    raised = ("requirement=4.1", "finding=x", "extent=S1", "containment=stop")
    assert "NCR-01" in tank.tell(opened, "nonconformance.raised", *raised).out
    tank.tell(opened, "nonconformance.closed", "nonconformance=NCR-01", "disposition=rework", f"authorised_by={tank.QA}", "evidence=letter")


def test_at_site_is_read_in_the_zone_of_the_job(opened: Desk) -> None:
    tank.tell(opened, "delay.noted", "reason=rain", "--at-site", "2025-01-15 08:30")
    assert body_of(opened, "delay.noted")["happened"] == {"from": "2025-01-15T08:30:00.000+01:00"}  # winter time of Berlin, UTC+1
    tank.tell(opened, "delay.noted", "reason=rain", "--at-site", "2025-07-15 08:30")
    assert body_of(opened, "delay.noted")["happened"] == {"from": "2025-07-15T08:30:00.000+02:00"}  # summer time, UTC+2
    tank.tell(opened, "delay.noted", "reason=rain", "happened.from=2025-07-15 08:30", "happened.to=2025-07-15 09:00")
    assert body_of(opened, "delay.noted")["happened"] == {"from": "2025-07-15T08:30:00.000+02:00", "to": "2025-07-15T09:00:00.000+02:00"}
    bad = tank.refuse(opened, "delay.noted", "reason=rain", "--at-site", "yesterday")
    assert bad.err.startswith("happened.from: 'yesterday' is not accepted. Allowed: YYYY-MM-DD")


def test_the_future_is_refused(opened: Desk) -> None:
    later = (datetime.now(UTC) + timedelta(days=2)).strftime("%Y-%m-%d %H:%M")
    done = tank.refuse(opened, "delay.noted", "reason=rain", "--at-site", later)
    assert done.err.startswith("happened: ")
    assert "not later than now" in done.err


@pytest.mark.parametrize(
    ("kind", "words", "says"),
    [
        ("panel.tsted", (), "KIND: 'panel.tsted' is not accepted. Allowed: one of: area.disturbed"),
        ("delay.noted", ("reason",), "KEY=VALUE: 'reason' is not accepted"),
        ("delay.noted", ("=rain",), "KEY=VALUE: '=rain' is not accepted"),
        ("delay.noted", (), "reason: nothing is given. Needed: a value"),
        ("delay.noted", ("reason=",), "reason: '' is not accepted. Allowed: a value; leave the field out if there is none"),
        ("delay.noted", ("reason=rain", "raeson=rain"), "raeson: 'rain' is not accepted. Allowed: one of the fields "),
        ("delay.noted", ("reason=rain", "reason.why=x"), "reason.why: 'x' is not accepted. Allowed: reason is given as a value already"),
        ("delay.noted", ("reason=rain", "files=[1"), "files: '[1' is not accepted. Allowed: JSON"),
        (
            "surface.inspected",
            ("panels=S1-1", "dry=maybe", "clean=yes", "overspray=no", "old_water=no"),
            "dry: 'maybe' is not accepted. Allowed: yes or no",
        ),
        (
            "day.closed",
            ("date=2025-06-03", "narrative=x", "marks_counted=few"),
            "marks_counted: 'few' is not accepted. Allowed: a whole number",
        ),
        ("climate.read", ("place=S1", "air=21", "surface=19 degC", "instrument=C1"), "air: '21' is not accepted"),
        (
            "permit.noted",
            ("topic=gas", "what=x", "by=y", "until=soon", "stops_when=z"),
            "until: 'soon' is not accepted. Allowed: YYYY-MM-DD",
        ),
        ("hold.released", ("point=before test", "about=S1", "by=nobody"), "by: 'nobody' is not accepted. Allowed: one person of the job"),
        (
            "requirement.noted",
            ("topic=x", "document=x", "edition=x", "grade=entered", "says=x", "rule.form=guess"),
            "rule.form: 'guess' is not accepted. Allowed: one of limits, ",
        ),
        ("device.joined", ("letter=B", "holder=foreman"), "letter: 'B' is not accepted. Allowed: a letter that no device has: B are taken"),
        ("device.joined", ("letter=O", "holder=foreman"), "letter: 'O' is not accepted. Allowed: A to Z without I, O and Q"),
        ("person.joined", ("card.name=Only Name",), "roles: nothing is given"),
        (
            "person.joined",
            ("roles=x", "card.phone=1"),
            "card.phone: '1' is not accepted. Allowed: card.name, card.certificate or card.contact",
        ),
    ],
)
def test_bad_input_names_field_value_and_what_is_allowed(opened: Desk, kind: str, words: tuple[str, ...], says: str) -> None:
    assert tank.refuse(opened, kind, *words).err.startswith(says)


def test_a_device_that_has_not_joined_is_told_how_to(opened: Desk) -> None:
    """The database as taken to another place is another device: two devices never write one chain."""
    place = opened.folder / "elsewhere"
    place.mkdir()
    (place / "job.db").write_bytes(opened.file.read_bytes())
    shutil.copytree(opened.folder / "job.db.blobs", place / "job.db.blobs")
    other = Desk(place)
    done = tank.refuse(other, "indication.raised", f"panel={tank.PANEL}")
    assert done.err.startswith("device: ")
    assert f"wholefilm record {tank.NAME} device.joined letter=K holder='...' --by '{tank.INSPECTOR}'" in done.err
    tank.tell(other, "device.joined", "letter=K", "holder=foreman")
    assert "recorded: indication.raised K1," in tank.tell(other, "indication.raised", f"panel={tank.PANEL}").out
    assert other.run("verify", tank.NAME).code == 0
    assert "letter: 'K'" in tank.refuse(other, "device.joined", "letter=K", "holder=x").err


def test_a_job_that_is_not_there_and_a_job_file_are_refused(opened: Desk) -> None:
    done = opened.refused("record", "other", "delay.noted", "reason=x", "--by", tank.INSPECTOR)
    assert done.err.startswith("JOB: 'other' is not accepted")
    assert tank.NAME in done.err
    done = opened.refused("record", "x.jsonl", "delay.noted", "reason=x", "--by", tank.INSPECTOR)
    assert "a job file is read-only" in done.err


def test_a_job_is_opened_once_and_only_by_job_new(opened: Desk) -> None:
    words = ("--title", "t", "--contract", "c", "--person", "p", "--role", "r")
    assert "a name that no job in this database has" in opened.refused("job", "new", tank.NAME, *words).err
    assert "--time-zone: 'Mars/Base'" in opened.refused("job", "new", "b", *words, "--time-zone", "Mars/Base").err
    assert "NAME: 'Two Words'" in opened.refused("job", "new", "Two Words", *words).err
    assert "letter" in opened.refused("job", "new", "b", *words, "--letter", "O").err
    assert "another kind; a job is opened by" in tank.refuse(opened, "job.opened", "name=b").err
