"""XLSX: parts, buying, cutting and steps as the sheets of one workbook, with sums that go on reckoning.

Numbers are numbers with a format, text is text (nothing in a plan can become a formula), headings stay in sight.
Source: ECMA-376, part 1, 18.2 (workbook), 18.3 (worksheets), 18.8 (styles).
"""

import re
from collections.abc import Iterator
from fractions import Fraction
from xml.sax.saxutils import escape, quoteattr

from storystick.exports.export import Export, File, Piece
from storystick.exports.grids import Cell, Column, Grid, Kind, grids
from storystick.exports.naming import plain
from storystick.exports.packed import packed

_MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_RELATIONS = "http://schemas.openxmlformats.org/package/2006/relationships"
_TYPES = "http://schemas.openxmlformats.org/package/2006/content-types"
_MEDIA = "application/vnd.openxmlformats-officedocument.spreadsheetml"
_XML = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
_UNPRINTABLE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")
LONGEST = 32_767  # letters in a cell

KINDS: tuple[Kind, ...] = ("text", "count", "mm", "money", "minutes")
HEADING = 2 * len(KINDS)  # styles: one a kind, the same in bold for the sums, the headings


def make(piece: Piece) -> Iterator[File]:
    """One file."""
    title = piece.build.title
    yield File(f"{plain(title)}.xlsx", workbook(tuple(grids(piece)), piece.buying.currency))


def workbook(sheets: tuple[Grid, ...], currency: str) -> bytes:
    """The file: what is in it, how cells look, each sheet."""
    files = [
        ("[Content_Types].xml", _contents(len(sheets))),
        ("_rels/.rels", _relations([("officeDocument", "xl/workbook.xml")])),
        ("xl/workbook.xml", _book(sheets)),
        ("xl/_rels/workbook.xml.rels", _relations([
            *(("worksheet", f"worksheets/sheet{n}.xml") for n in range(1, len(sheets) + 1)), ("styles", "styles.xml"),
        ])),
        ("xl/styles.xml", _styles(currency)),
        *((f"xl/worksheets/sheet{n}.xml", "".join(_sheet(grid))) for n, grid in enumerate(sheets, 1)),
    ]  # fmt: skip
    return packed((name, text.encode()) for name, text in files)


def _contents(count: int) -> str:
    kinds = [("/xl/workbook.xml", "sheet.main"), ("/xl/styles.xml", "styles")]
    kinds += [(f"/xl/worksheets/sheet{n}.xml", "worksheet") for n in range(1, count + 1)]
    overrides = "".join(f'<Override PartName="{name}" ContentType="{_MEDIA}.{kind}+xml"/>' for name, kind in kinds)
    return (
        f'{_XML}<Types xmlns="{_TYPES}"><Default Extension="rels" '
        'ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
        f'<Default Extension="xml" ContentType="application/xml"/>{overrides}</Types>'
    )


def _relations(targets: list[tuple[str, str]]) -> str:
    inner = "".join(
        f'<Relationship Id="rId{n}" Type="{_OFFICE}/{kind}" Target="{target}"/>'
        for n, (kind, target) in enumerate(targets, 1)
    )
    return f'{_XML}<Relationships xmlns="{_RELATIONS}">{inner}</Relationships>'


def _book(sheets: tuple[Grid, ...]) -> str:
    inner = "".join(
        f'<sheet name={quoteattr(grid.name)} sheetId="{n}" r:id="rId{n}"/>' for n, grid in enumerate(sheets, 1)
    )
    return (
        f'{_XML}<workbook xmlns="{_MAIN}" xmlns:r="{_OFFICE}"><sheets>{inner}</sheets>'
        '<calcPr calcId="0" fullCalcOnLoad="1"/></workbook>'
    )


def _styles(currency: str) -> str:
    sign = _UNPRINTABLE.sub("", currency).replace('"', "")
    money = f'"{sign}"#,##0.00' if sign in ("$", "£", "€") else f'#,##0.00" {sign}"' if sign else "#,##0.00"
    formats = {"mm": (164, "0.00"), "money": (165, money)}
    own = "".join(f'<numFmt numFmtId="{n}" formatCode={quoteattr(code)}/>' for n, code in formats.values())
    ids = {"text": 49, "count": 1, "minutes": 1, **{kind: n for kind, (n, _) in formats.items()}}
    top = '<alignment vertical="top"/>'
    wrap = '<alignment vertical="top" wrapText="1"/>'
    cells = "".join(
        f'<xf numFmtId="{ids[kind]}" fontId="{font}" fillId="0" borderId="{font}" xfId="0" applyNumberFormat="1" '
        f'applyFont="1" applyBorder="1" applyAlignment="1">{wrap if kind == "text" else top}</xf>'
        for font in (0, 1)
        for kind in KINDS
    )
    heading = (
        f'<xf numFmtId="49" fontId="1" fillId="2" borderId="0" xfId="0" applyFont="1" applyFill="1" '
        f'applyAlignment="1">{wrap}</xf>'
    )
    return (
        f'{_XML}<styleSheet xmlns="{_MAIN}"><numFmts count="{len(formats)}">{own}</numFmts>'
        '<fonts count="2"><font><sz val="11"/><name val="Calibri"/></font>'
        '<font><b/><sz val="11"/><name val="Calibri"/></font></fonts>'
        '<fills count="3"><fill><patternFill patternType="none"/></fill>'
        '<fill><patternFill patternType="gray125"/></fill>'
        '<fill><patternFill patternType="solid"><fgColor rgb="FFEDE6DA"/></patternFill></fill></fills>'
        '<borders count="2"><border><left/><right/><top/><bottom/><diagonal/></border>'
        '<border><left/><right/><top style="thin"/><bottom/><diagonal/></border></borders>'
        '<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>'
        f'<cellXfs count="{HEADING + 1}">{cells}{heading}</cellXfs></styleSheet>'
    )


def _sheet(grid: Grid) -> Iterator[str]:
    widths = "".join(
        f'<col min="{n}" max="{n}" width="{column.wide}" customWidth="1"/>' for n, column in enumerate(grid.columns, 1)
    )
    yield (
        f'{_XML}<worksheet xmlns="{_MAIN}"><sheetPr><pageSetUpPr fitToPage="1"/></sheetPr>'
        '<sheetViews><sheetView workbookViewId="0">'
        '<pane ySplit="1" topLeftCell="A2" activePane="bottomLeft" state="frozen"/></sheetView></sheetViews>'
        f"<cols>{widths}</cols><sheetData>"
    )
    yield _row(1, (_text(f"{letters(n)}1", HEADING, column.heading) for n, column in enumerate(grid.columns)))
    for number, row in enumerate(grid.rows, 2):
        yield _row(number, _cells(grid.columns, row, number))
    if grid.rows and any(column.total for column in grid.columns):
        yield _row(len(grid.rows) + 2, _sums(grid))
    yield '</sheetData><pageSetup orientation="landscape" fitToWidth="1" fitToHeight="0"/></worksheet>'


def _row(number: int, cells: Iterator[str]) -> str:
    return f'<row r="{number}">{"".join(cells)}</row>'


def _cells(columns: tuple[Column, ...], row: tuple[Cell, ...], number: int) -> Iterator[str]:
    for n, (column, cell) in enumerate(zip(columns, row, strict=True)):
        at, style = f"{letters(n)}{number}", KINDS.index(column.kind)
        if isinstance(cell, str):
            yield _text(at, style, cell) if cell else ""
        elif cell is not None:
            yield _number(at, style, cell, _formula(columns, column, number))
        elif column.reckons:
            yield f'<c r="{at}" s="{style}" t="str"><f>{escape(_formula(columns, column, number))}</f><v></v></c>'


def _formula(columns: tuple[Column, ...], column: Column, number: int) -> str:
    """A cell's own reckoning, with the cells of its row in place of the headings."""
    places = {other.heading: f"{letters(n)}{number}" for n, other in enumerate(columns)}
    return column.reckons.format_map(places)


def _sums(grid: Grid) -> Iterator[str]:
    number = len(grid.rows) + 2
    first = True
    for n, column in enumerate(grid.columns):
        at, style = f"{letters(n)}{number}", KINDS.index(column.kind) + len(KINDS)
        if column.total:
            found = [row[n] for row in grid.rows]
            sum_ = sum((cell for cell in found if isinstance(cell, int | Fraction)), Fraction(0))
            yield _number(at, style, sum_, f"SUM({letters(n)}2:{letters(n)}{number - 1})")
        elif first:
            yield _text(at, style, "in all")
        first = False


def _number(at: str, style: int, value: int | Fraction, formula: str = "") -> str:
    reckons = f"<f>{escape(formula)}</f>" if formula else ""
    return f'<c r="{at}" s="{style}">{reckons}<v>{round(float(value), 6):.15g}</v></c>'


def _text(at: str, style: int, words: str) -> str:
    clean = escape(_UNPRINTABLE.sub("", words)[:LONGEST])
    return f'<c r="{at}" s="{style}" t="inlineStr"><is><t xml:space="preserve">{clean}</t></is></c>'


def letters(column: int) -> str:
    """A column's letters: 0 is A, 26 is AA."""
    word = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        word = chr(65 + rest) + word
    return word


EXPORT = Export("xlsx", ".xlsx", "one workbook: parts, buying with sums, cutting, steps", make)
