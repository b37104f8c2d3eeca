"""DXF and SVG read back by others: sound, in millimetres, and the same outlines and holes as were drawn."""

import math
import re
from io import StringIO
from xml.etree import ElementTree

import ezdxf
import pytest

from storystick.exports.dxf import side_text
from storystick.exports.flat import Closed, Line, Round, flats
from storystick.exports.naming import by_letter
from storystick.exports.sheets import sheet_maps
from storystick.exports.svg import side_text as svg_text
from storystick.shapes.outline import Outline, sides
from tests.exports.pieces import ALL, files, piece

SVG = "{http://www.w3.org/2000/svg}"


def read(content: bytes) -> "ezdxf.document.Drawing":
    return ezdxf.read(StringIO(content.decode("ascii")))


def sides_of(of: str):
    return [flat for parts in by_letter(piece(of).build).values() for flat in flats(parts[0])]


@pytest.mark.parametrize("of", ALL)
def test_every_drawing_passes_the_auditor_and_is_in_millimetres(of: str):
    for file in files(of, "dxf"):
        drawing = read(file.content)
        audit = drawing.audit()
        assert audit.errors == [], file.name
        assert audit.fixes == [], file.name
        assert drawing.header["$INSUNITS"] == 4
        assert drawing.header["$MEASUREMENT"] == 1


@pytest.mark.parametrize("of", ALL)
def test_a_part_reads_back_to_the_same_outlines_holes_and_layers(of: str):
    for flat in sides_of(of):
        space = read(side_text(flat)).modelspace()
        closed = [
            (one.dxf.layer, Outline(tuple((x, y) for x, y, _ in rows), tuple(b for *_, b in rows)))
            for one in space.query("LWPOLYLINE")
            if (rows := one.get_points("xyb")) and one.closed
        ]
        wanted = [(mark.layer, mark.outline) for mark in flat.marks if isinstance(mark, Closed)]
        assert len(closed) == len(space.query("LWPOLYLINE")) == len(wanted)
        for (layer, got), (named, asked) in zip(closed, wanted, strict=True):
            assert layer == named
            assert sum(got.corners, ()) == pytest.approx(sum(asked.corners, ()), abs=1e-9)
            assert got.bulges == pytest.approx(asked.bulges, abs=1e-9)
        round_ones = [(c.dxf.layer, c.dxf.center.x, c.dxf.center.y, 2 * c.dxf.radius) for c in space.query("CIRCLE")]
        asked_round = [(m.layer, *m.centre, m.diameter) for m in flat.marks if isinstance(m, Round)]
        assert [one[0] for one in round_ones] == [one[0] for one in asked_round]
        for got_hole, asked_hole in zip(round_ones, asked_round, strict=True):
            assert got_hole[1:] == pytest.approx(asked_hole[1:], abs=1e-9)
        assert len(space.query("LINE")) == sum(isinstance(m, Line) for m in flat.marks)


def test_in_inches_every_number_is_the_same_length_and_the_file_says_so():
    pairs = list(zip(files("lathe-cabinet", "dxf"), files("lathe-cabinet", "dxf-inches"), strict=True))
    assert len(pairs) > 20
    for metric, english in pairs:
        one, other = read(metric.content), read(english.content)
        assert other.audit().errors == []
        assert (other.header["$INSUNITS"], other.header["$MEASUREMENT"]) == (1, 0)
        for kind in ("LWPOLYLINE", "CIRCLE", "LINE", "TEXT"):
            assert len(one.modelspace().query(kind)) == len(other.modelspace().query(kind))
        for a, b in zip(one.modelspace().query("LWPOLYLINE"), other.modelspace().query("LWPOLYLINE"), strict=True):
            for (x, y, bulge), (u, v, same) in zip(a.get_points("xyb"), b.get_points("xyb"), strict=True):
                assert (x, y, bulge) == pytest.approx((u * 25.4, v * 25.4, same), abs=1e-9)
        for a, b in zip(one.modelspace().query("CIRCLE"), other.modelspace().query("CIRCLE"), strict=True):
            assert a.dxf.radius == pytest.approx(b.dxf.radius * 25.4)
    layers = {layer.dxf.name for _, english in pairs for layer in read(english.content).layers}
    assert "BORE-0.2-DEEP-0.5" in layers or any(re.fullmatch(r"BORE-0\.\d+-DEEP-0\.\d+", name) for name in layers)


def test_holes_are_where_the_plan_puts_them_from_end_and_edge():
    """By hand: the side's screws go into the middle of the bottom, which stands 18 mm thick at the foot of the side."""
    part = piece("plain").build.part("cabinet.left side")
    face, back = flats(part)
    bores = [mark for mark in back.marks if isinstance(mark, Round) and mark.layer.startswith("BORE")]
    assert len(bores) == 6
    assert {round(min(b.centre[0], back.size[0] - b.centre[0]), 6) for b in bores} == {9.0}
    assert back.size == face.size == (700.0, 300.0)


@pytest.mark.parametrize("of", ALL)
def test_a_sheet_holds_its_pieces_side_by_side_with_their_letters(of: str):
    sheets = {sheet.file: sheet for sheet in sheet_maps(piece(of))}
    found = 0
    for file in files(of, "dxf"):
        sheet = sheets.get(file.name.removesuffix(".dxf"))
        if sheet is None:
            continue
        found += 1
        space = read(file.content).modelspace()
        boxes = [
            (min(x), min(y), max(x), max(y))
            for one in space.query('LWPOLYLINE[layer=="PIECE"]')
            for x, y in [list(zip(*((p[0], p[1]) for p in one.get_points("xy")), strict=True))]
        ]
        assert boxes
        for i, (a, b, c, d) in enumerate(boxes):
            assert -1e-9 <= a < c <= sheet.size[0] + 1e-9
            assert -1e-9 <= b < d <= sheet.size[1] + 1e-9
            assert all(c <= e or g <= a or d <= f or h <= b for e, f, g, h in boxes[i + 1 :])
        for text, (a, b, c, d) in zip(space.query("TEXT"), boxes, strict=True):
            assert re.fullmatch(r"[A-Z]{1,2}", text.dxf.text)
            high = text.dxf.height
            assert a < text.dxf.insert.x < text.dxf.insert.x + high * len(text.dxf.text) <= c
            assert b < text.dxf.insert.y < text.dxf.insert.y + high <= d
    assert found == len(sheets) > 0


def numbers(words: str) -> list[float]:
    return [float(word) for word in re.findall(r"-?[\d.]+", words)]


@pytest.mark.parametrize("of", ALL)
def test_a_millimetre_of_the_svg_is_a_millimetre_of_wood(of: str):
    for flat in sides_of(of):
        root = ElementTree.fromstring(svg_text(flat))
        box = numbers(root.attrib["viewBox"])
        assert root.attrib["width"].endswith("mm")
        assert numbers(root.attrib["width"]) == pytest.approx([box[2]])
        assert numbers(root.attrib["height"]) == pytest.approx([box[3]])
        holes = [
            (float(c.attrib["cx"]), float(c.attrib["cy"]), 2 * float(c.attrib["r"])) for c in root.iter(f"{SVG}circle")
        ]
        asked = [(m.centre[0], flat.size[1] - m.centre[1], m.diameter) for m in flat.marks if isinstance(m, Round)]
        assert sorted(holes) == [pytest.approx(one, abs=2e-6) for one in sorted(asked)]
        assert [g.attrib["id"] for g in root.iter(f"{SVG}g")] == list(flat.layers)


def test_arcs_of_the_svg_bow_the_way_they_are_sawn():
    """The area inside a path, reckoned from its ends and arcs as SVG defines them, is that of the outline."""
    for flat in sides_of("boards"):
        root = ElementTree.fromstring(svg_text(flat))
        path = next(root.iter(f"{SVG}path")).attrib["d"]
        outline = next(mark.outline for mark in flat.marks if isinstance(mark, Closed))
        assert area_of(path) == pytest.approx(outline.area, abs=0.01)
        assert path.count("A") == sum(1 for _, _, arc in sides(outline) if arc)


def area_of(path: str) -> float:
    """Area of a path of M, L, A and Z, its y running down."""
    at, total = (0.0, 0.0), 0.0
    start = at
    for letter, words in re.findall(r"([MLAZ])([^MLAZ]*)", path):
        values = numbers(words)
        end = start if letter == "Z" else (values[-2], values[-1])
        if letter == "M":
            start = at = end
            continue
        total += (at[0] * -end[1] + at[1] * end[0]) / 2
        if letter == "A":
            radius, large, sweep = values[0], values[3], values[4]
            half = math.asin(min(1.0, math.dist(at, end) / 2 / radius))
            angle = 2 * (math.pi - half if large else half)
            segment = radius**2 * (angle - math.sin(angle)) / 2
            total += -segment if sweep else segment  # sweep 1 turns clockwise as seen with y upward
        at = end
    return abs(total)
