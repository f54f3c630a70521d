"""The hands that write a demo refuse what does not fit; pictures say that they are drawn."""

from __future__ import annotations

import io

import pytest
from PIL import Image

from wholefilm.base.errors import BadInput
from wholefilm.demo.acts import Act, Ref, later, stamp
from wholefilm.demo.digest import digest_of
from wholefilm.demo.drawn import SIZE, picture
from wholefilm.demo.scribe import Book, Scribe

A, B, P = (f"{n}0000000-0000-4000-8000-000000000001" for n in "ab1")
OPENED = {
    "name": "x", "title": "x", "contract": "x", "units": {}, "language": "en", "time_zone": "Europe/Berlin", "device": A, "letter": "A",
    "person": P, "roles": ["x"], "card": "0" * 64,
}  # fmt: skip
AT = "2025-06-02T08:00:00.000+02:00"
OPEN = Act(AT, "A", "p", "job.opened", OPENED, "job")


def book() -> Book:
    return Book("x", {"A": A, "B": B}, {"p": P}, "A")


def test_first_entry_of_another_device_hangs_on_the_opening() -> None:
    sync = Act(later(AT, 5), "B", "p", "clock.compared", {"device": A, "offset_ms": 1, "round_trip_ms": 2}, sync=True)
    entries = book().play([sync, OPEN]).entries
    assert [e.kind for e in entries] == ["job.opened", "clock.compared"]
    assert (entries[1].seq, entries[1].prev, entries[1].job) == (1, entries[0].hash, entries[0].id)
    assert entries[1].heads == {A: (1, entries[0].hash)}


def test_body_is_checked_when_written() -> None:
    with pytest.raises(BadInput, match=r"^because: .rain. is not accepted\. Allowed: one of the fields .*reason$"):
        book().play([OPEN, Act(later(AT, 1), "A", "p", "delay.noted", {"because": "rain"})])


def test_unknown_and_doubled_labels_are_refused() -> None:
    with pytest.raises(BadInput, match="nothing there"):
        book().play([OPEN, Act(later(AT, 1), "A", "p", "entry.agreed", {"of": Ref("nothing there")})])
    with pytest.raises(BadInput, match="label"):
        book().play([OPEN, Act(later(AT, 1), "A", "p", "delay.noted", {"reason": "rain"}, "job")])


def test_time_does_not_run_back_on_a_device() -> None:
    scribe = Scribe("x", A)
    scribe.write("job.opened", P, AT, OPENED)
    with pytest.raises(BadInput, match="at"):
        scribe.write("delay.noted", P, later(AT, -1), {"reason": "rain"})


def test_session_is_new_each_day_and_tick_counts_from_its_start() -> None:
    scribe = Scribe("x", A)
    one = scribe.write("job.opened", P, AT, OPENED)
    two = scribe.write("delay.noted", P, later(AT, 10), {"reason": "rain"})
    three = scribe.write("delay.noted", P, later(AT, 24 * 60), {"reason": "rain"})
    assert one.session == two.session != three.session
    assert two.tick - one.tick == 600_000
    assert two.prev == one.hash


def test_a_device_states_only_what_it_has_seen() -> None:
    told = book()
    told.play([
        OPEN,
        Act(later(AT, 1), "B", "p", "clock.compared", {"device": A, "offset_ms": 1, "round_trip_ms": 2}, sync=True),
        Act(later(AT, 2), "A", "p", "delay.noted", {"reason": "rain"}),
        Act(later(AT, 3), "B", "p", "day.closed", {"date": "2025-06-02", "narrative": "x", "marks_counted": 0}, heads=True),
    ])  # fmt: skip
    last = told.entries[-1]
    assert {device: seq for device, (seq, _) in (last.heads or {}).items()} == {A: 1, B: 1}
    assert {device: seq for device, (seq, _) in (told.entries[2].heads or {}).items()} == {A: 1, B: 1}
    assert [e.kind for e in told.seen_by("B")] == ["job.opened", "clock.compared", "day.closed"]
    assert [e.kind for e in told.seen_by("A")] == ["job.opened", "clock.compared", "delay.noted"]


def test_digest_turns_with_entries_and_with_blobs(story) -> None:
    every = digest_of(story.entries, story.blobs)
    assert every == digest_of(reversed(story.entries), dict(reversed(story.blobs.items())))
    assert every != digest_of(story.entries[:-1], story.blobs)
    assert every != digest_of(story.entries, {})


def test_times_are_written_as_the_book_writes_them() -> None:
    assert stamp("2025-06-02", "07:30") == "2025-06-02T07:30:00.000+02:00"
    assert stamp("2025-06-02", "07:30:20") == "2025-06-02T07:30:20.000+02:00"
    assert later("2025-06-02T23:59:00.000+02:00", 1.5) == "2025-06-03T00:00:30.000+02:00"


def test_pictures_are_small_and_say_that_they_are_drawn(story) -> None:
    shas = [b["blob"] for b in story.bodies("photo.taken")]
    assert len(shas) == 4
    assert [b["about"] for b in story.bodies("photo.taken")] == [["B1"], ["B8"], ["D12"], ["R-01"]]
    for sha in shas:
        with Image.open(io.BytesIO(story.blobs[sha])) as image:
            assert (image.format, image.size) == ("PNG", SIZE)
            image.load()
    assert all("not a photograph" in b["note"] for b in story.bodies("photo.taken"))


def test_words_on_a_picture_are_drawn_not_only_told() -> None:
    """Band below: the number, the caption, the sentence and the bar leave ink; another number leaves other ink."""

    def ink(data: bytes, box: tuple[int, int, int, int]) -> int:
        with Image.open(io.BytesIO(data)) as image:
            return image.crop(box).tobytes().count(0)

    one, other = (picture(n, "caption", [], [], "100 mm") for n in ("B1", "B888"))
    sentence = (110, 330, 350, 350)
    assert ink(one, sentence) == ink(other, sentence) > 200
    assert ink(one, (16, 300, 100, 350)) < ink(other, (16, 300, 100, 350))
    assert ink(one, (360, 322, 480, 330)) >= 500
