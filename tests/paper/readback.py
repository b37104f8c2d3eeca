"""Reading drawings and packets back: what is written in them, where, and how big."""

import io
import re
from collections.abc import Iterable, Iterator
from dataclasses import fields, is_dataclass
from fractions import Fraction
from itertools import combinations, pairwise
from typing import Any
from xml.etree import ElementTree

import pdfplumber

from storystick.paper.drawing.canvas import Box
from storystick.paper.drawing.drawn import Drawn

SVG = "{http://www.w3.org/2000/svg}"


def numbers(svg: str) -> Iterator[tuple[Fraction, str, str]]:
    """Every number of a drawing that says what it stands for: exact length [mm], how it lies, what is printed."""
    for group in ElementTree.fromstring(svg).iter(f"{SVG}g"):
        if "data-mm" in group.attrib:
            printed = "".join(text.text or "" for text in group.iter(f"{SVG}text"))
            yield Fraction(group.attrib["data-mm"]), group.attrib.get("data-along", ""), printed.replace("⁄", "/")


def sizes(svg: str) -> list[float]:
    """Sizes of all lettering [pt]."""
    return [float(size) * 72 / 25.4 for size in re.findall(r'font-size="([0-9.]+)"', svg)]


def overlaps(boxes: Iterable[Box]) -> list[str]:
    """Pairs of lettering that lie on each other."""
    return [f"{a.says!r} on {b.says!r}" for a, b in combinations(boxes, 2) if a.meets(b, -0.05)]


def strays(drawn: Drawn) -> list[str]:
    """Lettering that hangs over the edge of its drawing."""
    paper = Box(-0.01, -0.01, drawn.wide + 0.01, drawn.high + 0.01)
    return [box.says for box in drawn.lettering if not box.within(paper)]


def faults(drawn: Drawn) -> list[str]:
    """Everything that is wrong with a drawing's lettering."""
    small = [f"{size:.1f} pt" for size in sizes(drawn.svg) if size < 6.99]
    return overlaps(drawn.lettering) + strays(drawn) + small


def opened(pdf: bytes) -> Any:
    """A PDF to be looked into."""
    return pdfplumber.open(io.BytesIO(pdf))


def all_text(pdf: bytes) -> str:
    """All characters of a PDF in the order in which they were set, fractions with a plain stroke."""
    with opened(pdf) as book:
        return "".join(char["text"] for page in book.pages for char in page.chars).replace("⁄", "/")


def cut_off(drawn: Drawn) -> list[str]:
    """Marks of a pen that lie off the paper, by as much as half their line."""
    found = []
    for mark in ElementTree.fromstring(drawn.svg):
        half = float(mark.attrib.get("stroke-width", 0)) / 2
        if not half or mark.tag == f"{SVG}g":
            continue
        for x0, y0, x1, y1 in [*strokes_of(mark), *rim_of(mark)]:
            if min(x0, x1) < half - 0.02 or max(x0, x1) > drawn.wide - half + 0.02:
                found.append(f"{mark.tag.removeprefix(SVG)} at {x0:.1f} to {x1:.1f} of {drawn.wide:.1f} across")
            if min(y0, y1) < half - 0.02 or max(y0, y1) > drawn.high - half + 0.02:
                found.append(f"{mark.tag.removeprefix(SVG)} at {y0:.1f} to {y1:.1f} of {drawn.high:.1f} down")
    return list(dict.fromkeys(found))


def rim_of(mark: ElementTree.Element) -> Iterator["Stroke"]:
    """What a ring or a pill reaches to, from corner to corner."""
    if mark.tag == f"{SVG}circle" or (mark.tag == f"{SVG}rect" and "rx" in mark.attrib):
        box = frame_of(mark)
        yield box.left, box.top, box.right, box.bottom


def drawings_in(block: object) -> Iterator[Drawn]:
    """Every drawing that a block of a page holds, however deep."""
    match block:
        case Drawn():
            yield block
        case tuple() | list():
            for one in block:
                yield from drawings_in(one)
        case _ if is_dataclass(block) and not isinstance(block, type):
            for one in fields(block):
                yield from drawings_in(getattr(block, one.name))


NEAR = 0.25
"""So much of a lettering's box may be touched by a line: letters do not fill it [mm]."""


def struck(drawn: Drawn) -> list[str]:
    """Lettering that a line runs through; paper that is laid over a line before the letters are set clears it."""
    boxes = iter(drawn.lettering)
    strokes: list[tuple[float, float, float, float]] = []
    lettered: list[Box] = []
    found: dict[str, None] = {}
    for mark in ElementTree.fromstring(drawn.svg):
        if mark.tag == f"{SVG}g" and mark.find(f"{SVG}text") is not None:
            box = next(boxes)
            box = Box(box.left + NEAR, box.top + NEAR, box.right - NEAR, box.bottom - NEAR, box.says)
            if any(runs_through(stroke, box) for stroke in strokes):
                found[box.says] = None
            lettered.append(box)
        else:
            if mark.attrib.get("fill") == "#ffffff" and mark.tag in (f"{SVG}rect", f"{SVG}circle"):
                strokes = [piece for stroke in strokes for piece in outside(stroke, frame_of(mark))]
            own = list(strokes_of(mark))
            strokes += own
            found |= {box.says: None for box in lettered if any(runs_through(stroke, box) for stroke in own)}
    return list(found)


Stroke = tuple[float, float, float, float]


def frame_of(rect: ElementTree.Element) -> Box:
    """The rectangle of a mark, or round a ring."""
    if rect.tag == f"{SVG}circle":
        x, y, radius = (float(rect.attrib[key]) for key in ("cx", "cy", "r"))
        return Box(x - radius, y - radius, x + radius, y + radius)
    x, y, wide, high = (float(rect.attrib[key]) for key in ("x", "y", "width", "height"))
    return Box(x, y, x + wide, y + high)


def strokes_of(mark: ElementTree.Element) -> Iterator[Stroke]:
    """The straight stretches of a mark that is drawn with a pen."""
    if mark.attrib.get("stroke") is None:
        return
    if mark.tag == f"{SVG}path" and not re.search("[CQASHV]", mark.attrib["d"]):
        for run in mark.attrib["d"].split("M")[1:]:
            spots = [tuple(map(float, spot.split())) for spot in run.rstrip("Z").split("L")]
            spots += spots[:1] if run.endswith("Z") else []
            for a, b in pairwise(spots):
                yield (*a, *b)
    elif mark.tag == f"{SVG}rect" and "rx" not in mark.attrib:
        box = frame_of(mark)
        for x in (box.left, box.right):
            yield (x, box.top, x, box.bottom)
        for y in (box.top, box.bottom):
            yield (box.left, y, box.right, y)


def clipped(stroke: Stroke, box: Box) -> tuple[float, float] | None:
    """From where to where of its length a stroke lies in a box; None where it does not."""
    x0, y0, x1, y1 = stroke
    low, high = 0.0, 1.0
    for start, way, a, b in ((x0, x1 - x0, box.left, box.right), (y0, y1 - y0, box.top, box.bottom)):
        if abs(way) < 1e-9:
            if not a < start < b:
                return None
            continue
        one, two = sorted(((a - start) / way, (b - start) / way))
        low, high = max(low, one), min(high, two)
    return (low, high) if high - low > 1e-6 else None


def runs_through(stroke: Stroke, box: Box) -> bool:
    """True where a stroke runs through a box."""
    return clipped(stroke, box) is not None


def outside(stroke: Stroke, box: Box) -> Iterator[Stroke]:
    """What of a stroke is not in a box."""
    part = clipped(stroke, box)
    if part is None:
        yield stroke
        return
    x0, y0, x1, y1 = stroke
    for a, b in ((0.0, part[0]), (part[1], 1.0)):
        if b - a > 1e-6:
            yield (x0 + a * (x1 - x0), y0 + a * (y1 - y0), x0 + b * (x1 - x0), y0 + b * (y1 - y0))
