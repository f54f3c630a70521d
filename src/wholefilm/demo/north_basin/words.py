"""What the inspector of the demo job north-basin tells of each day on site, and the four drawn pictures. Invented."""

from __future__ import annotations

from dataclasses import dataclass

from ..drawn import Point

NARRATIVES = {
    1: (
        "Floor, course 1 and the column swept. Seven sparks in one line on F-2 where a scaffold foot stood, six on the thin rim of M2, "
        "three at the toe of the pad of N2. Two at the damp corner of S1-5 fell silent when dried."
    ),
    2: (
        "Roof and courses 2 to 4 swept. Eleven along V2-4, eleven scattered on the sun side of course 3, two at the joint to the roof. "
        "The end check as found read 2.46 kV, 18 % low: battery. S3 and S4 are in doubt and wait for leave to be swept again."
    ),
    3: (
        "Courses 3 and 4 swept again with the coating maker's leave. Two more on course 3. The cleat of the ladder covered and decided "
        "again. End check passed."
    ),
    4: "Q-02 answered, hold before repair released. All 19 repairs done, two coats each, 5 h apart.",
    9: "All repairs retested. 18 passed. R-01 sparked twice on the feather edge, one coat only there. Prepared and coated again.",
    15: "R-01 retested, passed. Hold after retest released.",
}


@dataclass(frozen=True)
class Drawing:
    """A picture: day, time, device, number, caption, lines and marks [px], direction of view."""

    day: int
    at: str
    device: str
    number: str
    caption: str
    lines: tuple[tuple[Point, ...], ...]
    marks: tuple[Point, ...]
    direction: str


DRAWINGS = (
    Drawing(
        1, "09:42", "B", "B1", "scratch on the floor, F-2", (((60, 250), (420, 60)),),
        tuple((80 + 53 * n, 240 - 28 * n) for n in range(7)), "looking north",
    ),
    Drawing(
        1, "14:16", "B", "B8", "rim of manway M2, below", (((60, 80), (110, 180), (240, 230), (370, 180), (420, 80)),),
        ((140, 192), (190, 211), (290, 211), (340, 192)), "looking south",
    ),
    Drawing(
        2, "15:21", "D", "D12", "cleat of the ladder, 20 deg", (((200, 20), (200, 290)), ((280, 20), (280, 290)), ((200, 150), (280, 150))),
        ((200, 150),), "looking north",
    ),
    Drawing(
        9, "08:55", "D", "R-01", "strip at V2-4, feather edge",
        (((240, 10), (240, 290)), ((140, 20), (340, 20), (340, 280), (140, 280), (140, 20))), ((146, 200), (334, 110)), "looking south",
    ),
)  # fmt: skip
