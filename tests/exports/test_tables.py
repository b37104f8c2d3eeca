"""CSV and XLSX: numbers are numbers, text is never run, and sums reckon what the program reckons."""

import csv
import re
import shutil
import subprocess
import zipfile
from fractions import Fraction
from io import BytesIO, StringIO
from pathlib import Path
from xml.etree import ElementTree

import pytest

from storystick.exports.grids import Column, Grid, grids
from storystick.exports.tables_csv import said
from storystick.exports.tables_csv import text as csv_text
from storystick.exports.workbook import letters, workbook
from tests.exports.pieces import ALL, files, piece

MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
type Cells = dict[str, tuple[str, str]]  # by place: value, formula


def rows(of: str, name: str) -> list[dict[str, str]]:
    (file,) = (one for one in files(of, "csv") if one.name == f"{name}.csv")
    return list(csv.DictReader(StringIO(file.content.decode("utf-8-sig"), newline="")))


@pytest.mark.parametrize("of", ALL)
def test_the_parts_of_the_table_are_the_parts_of_the_piece(of: str):
    build = piece(of).build
    listed = rows(of, "parts")
    assert sum(int(row["count"]) for row in listed) == len(build.parts)
    for row in listed:
        for name in row["parts"].split(", "):
            part = build.part(name)
            assert row["letter"] == part.letter
            assert float(row["length mm"]) == pytest.approx(float(part.length), abs=1e-6)
            assert float(row["width mm"]) == pytest.approx(float(part.width), abs=1e-6)
            assert float(row["thickness mm"]) == pytest.approx(float(part.thickness), abs=1e-6)


@pytest.mark.parametrize("of", ALL)
def test_every_cut_step_and_thing_to_buy_has_its_row(of: str):
    job = piece(of)
    cuts = [cut.number for one in job.cuttings for tree in one.layout.trees for cut in tree.cuts]
    assert len(rows(of, "cutting")) == len(cuts)
    assert [int(row["step"]) for row in rows(of, "steps")] == [step.number for step in job.order.steps]
    bought = rows(of, "buying")
    assert len(bought) == len(job.buying.lines)
    assert sum(float(row["total"] or 0) for row in bought) == pytest.approx(float(job.buying.total))


@pytest.mark.parametrize("words", ["=1+1", "+1", "-1", "@a", "\t=1", " =HYPERLINK(1)"])
def test_a_strangers_text_is_never_run_by_a_spreadsheet(words: str):
    assert said(words).startswith("'")
    grid = Grid("parts", (Column("what"),), ((words,),))
    assert list(csv.reader(StringIO(csv_text(grid).removeprefix("\ufeff"), newline="")))[1] == ["'" + words]
    cells = read(workbook((grid,), ""))["parts"]
    assert cells["A2"] == (words, "")


def test_text_as_it_is_stays_as_it_is():
    assert [said(w) for w in ('1/2" heavy', "a = b", "")] == ['1/2" heavy', "a = b", ""]
    assert [said(n) for n in (Fraction(1, 3), Fraction(20), 3, None)] == ["0.333333", "20", "3", ""]


def read(content: bytes) -> dict[str, Cells]:
    """A workbook's cells by sheet and place, read without the writer."""
    box = zipfile.ZipFile(BytesIO(content))
    assert box.testzip() is None
    names = [s.attrib["name"] for s in ElementTree.fromstring(box.read("xl/workbook.xml")).iter(f"{MAIN}sheet")]
    found: dict[str, Cells] = {}
    for number, name in enumerate(names, 1):
        sheet = ElementTree.fromstring(box.read(f"xl/worksheets/sheet{number}.xml"))
        found[name] = {
            cell.attrib["r"]: (
                "".join(cell.itertext()) if cell.attrib.get("t") == "inlineStr" else cell.findtext(f"{MAIN}v") or "",
                cell.findtext(f"{MAIN}f") or "",
            )
            for cell in sheet.iter(f"{MAIN}c")
        }
    return found


@pytest.mark.parametrize("of", ALL)
def test_the_workbook_holds_what_the_tables_hold(of: str):
    sheets = read(files(of, "xlsx")[0].content)
    for grid in grids(piece(of)):
        cells = sheets[grid.name]
        assert [cells[f"{letters(n)}1"][0] for n in range(len(grid.columns))] == [c.heading for c in grid.columns]
        for number, row in enumerate(grid.rows, 2):
            for n, cell in enumerate(row):
                there = cells.get(f"{letters(n)}{number}", ("", ""))[0]
                if isinstance(cell, str) or cell is None:
                    assert there == (cell or "")
                else:
                    assert float(there) == pytest.approx(float(cell), abs=1e-6)


@pytest.mark.parametrize("of", ALL)
def test_formulas_give_the_numbers_that_stand_beside_them(of: str):
    for name, cells in read(files(of, "xlsx")[0].content).items():
        for place, (value, formula) in cells.items():
            if formula:
                assert reckoned(formula, cells) == pytest.approx(float(value) if value else None), (
                    name,
                    place,
                    formula,
                )


def reckoned(formula: str, cells: Cells) -> float | None:
    """The three formulas that are used, worked out by hand."""

    def at(place: str) -> float | None:
        value = cells.get(place, ("", ""))[0]
        return float(value) if value else None

    if found := re.fullmatch(r"SUM\(([A-Z]+)(\d+):\1(\d+)\)", formula):
        return sum(at(f"{found[1]}{n}") or 0 for n in range(int(found[2]), int(found[3]) + 1))
    if found := re.fullmatch(r"MAX\(0,(\w+)-(\w+)\)", formula):
        return max(0.0, (at(found[1]) or 0) - (at(found[2]) or 0))
    found = re.fullmatch(r'IF\(ISNUMBER\((\w+)\),(\w+)\*\1,""\)', formula)
    assert found, formula
    price = at(found[1])
    return None if price is None else price * (at(found[2]) or 0)


def test_headings_stay_in_sight_and_columns_have_their_widths():
    box = zipfile.ZipFile(BytesIO(files("lathe-cabinet", "xlsx")[0].content))
    for number, grid in enumerate(grids(piece("lathe-cabinet")), 1):
        sheet = ElementTree.fromstring(box.read(f"xl/worksheets/sheet{number}.xml"))
        pane = next(sheet.iter(f"{MAIN}pane"))
        assert (pane.attrib["ySplit"], pane.attrib["state"]) == ("1", "frozen")
        assert [int(col.attrib["width"]) for col in sheet.iter(f"{MAIN}col")] == [
            column.wide for column in grid.columns
        ]


@pytest.mark.parametrize("number", [0, 25, 26, 51, 52, 701, 702])
def test_columns_are_lettered_as_spreadsheets_letter_them(number: int):
    value = 0
    for letter in letters(number):
        value = value * 26 + ord(letter) - 64
    assert value == number + 1


@pytest.mark.parametrize("of", ["lathe-cabinet", "stranger"])
def test_libreoffice_opens_the_workbook_and_comes_to_the_same_sums(of: str, tmp_path: Path):
    office = shutil.which("soffice") or shutil.which("libreoffice")
    if office is None:
        pytest.skip(
            "no LibreOffice here (apt-get install libreoffice-calc), so the workbook is judged by our own reading alone"
        )
    (file,) = files(of, "xlsx")
    (tmp_path / file.name).write_bytes(file.content)
    sheets = "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,true,false,false,false,-1"
    home = f"-env:UserInstallation={tmp_path.as_uri()}/profile"
    done = subprocess.run(
        [office, home, "--headless", "--convert-to", sheets, "--outdir", tmp_path, tmp_path / file.name],
        capture_output=True, text=True, timeout=120,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    for grid in grids(piece(of)):
        (found,) = tmp_path.glob(f"*-{grid.name}.csv")
        lines = list(csv.reader(StringIO(found.read_text("utf-8"), newline="")))
        assert not re.search(r"#(REF|NAME|VALUE|DIV)|Err:\d", found.read_text("utf-8"))
        assert lines[0] == [column.heading for column in grid.columns]
        sums = {n for n, column in enumerate(grid.columns) if column.total}
        assert len(lines) == len(grid.rows) + 1 + bool(sums)
        for n in sums:
            wanted = sum(float(row[n]) for row in grid.rows if isinstance(row[n], int | Fraction))
            assert float(lines[-1][n]) == pytest.approx(wanted)
