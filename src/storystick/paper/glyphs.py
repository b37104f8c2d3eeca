"""How wide the packet's letters are, and which of them it has: read from the typeface itself."""

import struct
import unicodedata
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from typing import Literal

type Weight = Literal["regular", "semibold", "light"]

FAMILY = "Source Sans Pro"
POINT = 25.4 / 72
"""A printer's point [mm]."""
CAP = 0.66
"""Height of a capital or a digit, as a share of the size."""
DROP = 0.21
"""How far a letter hangs below the line, as a share of the size."""
UNKNOWN = "?"

_FILES: dict[Weight, str] = {
    "regular": "SourceSansPro-Regular.ttf",
    "semibold": "SourceSansPro-Semibold.ttf",
    "light": "SourceSansPro-Light.ttf",
}


@dataclass(frozen=True)
class Face:
    """Advance of each character, as a share of the size."""

    advance: dict[int, float]

    def width(self, text: str) -> float:
        """Width of a run of text at size 1."""
        usual = self.advance[ord("n")]
        return sum(self.advance.get(ord(letter), usual) for letter in text)


def width(text: str, points: float, weight: Weight = "regular") -> float:
    """Width of a run of text [mm] at a size in points, without kerning, which only ever narrows it here."""
    return face(weight).width(text) * points * POINT


NO_BREAK = "\N{NO-BREAK SPACE}"


def printable(text: str) -> str:
    """The text with everything that the typeface cannot print shown as a question mark, and line breaks as spaces."""
    if text.isascii() and text.isprintable():
        return text
    known = face("regular").advance
    shown = []
    for letter in unicodedata.normalize("NFC", text):
        if letter.isspace():
            shown.append(letter if letter == NO_BREAK and ord(letter) in known else " ")
        elif ord(letter) in known and unicodedata.category(letter) != "Cf":
            shown.append(letter)
        elif unicodedata.category(letter) not in ("Cf", "Mn"):
            shown.append(UNKNOWN)
    return "".join(shown)


def font_folder() -> str:
    """Where the typeface is installed."""
    return str(files("font_source_sans_pro").joinpath("files"))


@lru_cache(maxsize=3)
def face(weight: Weight) -> Face:
    """The typeface in one weight."""
    data = files("font_source_sans_pro").joinpath("files", _FILES[weight]).read_bytes()
    tables = _tables(data)
    per_em = struct.unpack_from(">H", data, tables["head"] + 18)[0]
    count = struct.unpack_from(">H", data, tables["hhea"] + 34)[0]
    wide = struct.unpack_from(">" + "Hh" * count, data, tables["hmtx"])[::2]
    glyphs = _glyphs(data, tables["cmap"])
    return Face({code: wide[min(glyph, count - 1)] / per_em for code, glyph in glyphs.items()})


def _tables(data: bytes) -> dict[str, int]:
    """Where each table starts. Source: ISO/IEC 14496-22, Open Font Format, 4.3."""
    count = struct.unpack_from(">H", data, 4)[0]
    entries = (struct.unpack_from(">4sIII", data, 12 + 16 * i) for i in range(count))
    return {tag.decode("latin-1"): start for tag, _, start, _ in entries}


def _glyphs(data: bytes, cmap: int) -> dict[int, int]:
    """Glyph of each character of the basic plane. Source: ISO/IEC 14496-22, 5.2.1.3.3, subtable format 4."""
    count = struct.unpack_from(">H", data, cmap + 2)[0]
    starts = [cmap + struct.unpack_from(">HHI", data, cmap + 4 + 8 * i)[2] for i in range(count)]
    start = next(s for s in starts if struct.unpack_from(">H", data, s)[0] == 4)
    half = struct.unpack_from(">H", data, start + 6)[0]
    n, at = half // 2, start + 14
    ends = struct.unpack_from(f">{n}H", data, at)
    firsts = struct.unpack_from(f">{n}H", data, at + half + 2)
    deltas = struct.unpack_from(f">{n}h", data, at + 2 * half + 2)
    offsets_at = at + 3 * half + 2
    offsets = struct.unpack_from(f">{n}H", data, offsets_at)
    found: dict[int, int] = {}
    for i in range(n):
        for code in range(firsts[i], ends[i] + 1):
            glyph = code
            if offsets[i]:
                place = offsets_at + 2 * i + offsets[i] + 2 * (code - firsts[i])
                glyph = struct.unpack_from(">H", data, place)[0]
                if glyph == 0:
                    continue
            if number := (glyph + deltas[i]) & 0xFFFF:
                found[code] = number
    return found
