"""Reading drawings and packets back: what is written in them, where, and how big."""

import io
import re
from collections.abc import Iterable, Iterator
from fractions import Fraction
from itertools import combinations
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
