"""Lengths: exact fractions of a millimetre, read from any notation of the trade and printed in two.

An inch is 25.4 mm by definition, so a sixty-fourth and a tenth of a millimetre are both exact here.
Nothing rounds but `show` (on paper) and the three that say so: `down_to`, `up_to`, `nearest`.
"""

import re
import unicodedata
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor, gcd
from typing import Literal

from storystick.ground.misread import Misread
from storystick.ground.misread import nearest as nearest_word

type Unit = Literal["inch", "mm"]

INCH = Fraction(254, 10)
FOOT = 12 * INCH
LONGEST = Fraction(1_000_000)  # a kilometre: anything longer is a slip of the pen
LONGEST_TEXT = 60

VULGAR = "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"
_UNITS: dict[str, Fraction] = {
    "mm": Fraction(1), "millimetre": Fraction(1), "millimetres": Fraction(1),
    "millimeter": Fraction(1), "millimeters": Fraction(1),
    "cm": Fraction(10), "centimetre": Fraction(10), "centimetres": Fraction(10),
    "centimeter": Fraction(10), "centimeters": Fraction(10),
    "m": Fraction(1000), "metre": Fraction(1000), "metres": Fraction(1000),
    "meter": Fraction(1000), "meters": Fraction(1000),
    "in": INCH, "inch": INCH, "inches": INCH, '"': INCH, "″": INCH, "”": INCH, "“": INCH, "''": INCH, "′′": INCH,
    "ft": FOOT, "foot": FOOT, "feet": FOOT, "'": FOOT, "′": FOOT, "’": FOOT, "‘": FOOT,
}  # fmt: skip
UNIT_WORDS = frozenset(word for word in _UNITS if word.isalpha())

_NUMBER = re.compile(
    rf"""(?P<whole>[0-9]+)(?:\s+|-)(?P<top>[0-9]+)[/⁄](?P<below>[0-9]+)   # 23 5/8, 23-5/8
       | (?P<vwhole>[0-9]+)(?:\s*|-)(?P<vulgar>[{VULGAR}])               # 23⅝
       | (?P<lone>[{VULGAR}])
       | (?P<ftop>[0-9]+)[/⁄](?P<fbelow>[0-9]+)                          # 5/8
       | (?P<plain>[0-9]+\.[0-9]*|\.[0-9]+|[0-9]+)                       # 601.5, .75, 23
    """,
    re.VERBOSE,
)
_UNIT = re.compile(
    r"\s*(?:(?P<word>" + "|".join(sorted(UNIT_WORDS, key=lambda w: (-len(w), w))) + r")(?![^\W_])\.?"
    r"|(?P<mark>''|′′|[\"″”“'′’‘]))",
    re.IGNORECASE,
)  # fmt: skip
_SHADE = re.compile(r"\s+(?:heavy|scant)\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Written:
    """A number as it stands in a text, with its unit if it has one.

    value     millimetres where `unit` is True, else the bare number
    fraction  written with a fraction stroke (5/8, ⅝) and not as a decimal
    end       where it ends in the text
    feet      ends in feet, so that inches might follow
    """

    value: Fraction
    unit: bool
    fraction: bool
    end: int
    feet: bool = False


def mm(number: int | str | Fraction) -> Fraction:
    """So many millimetres: mm("0.5")."""
    return Fraction(number)


def inch(number: int | str | Fraction) -> Fraction:
    """So many inches, in millimetres: inch("3/4"), inch("23 5/8")."""
    return read_length(number, "inch") if isinstance(number, str) else number * INCH


def in_unit(number: Fraction, unit: Unit) -> Fraction:
    """A bare number taken in a unit, as millimetres."""
    return number * INCH if unit == "inch" else number


def read_length(text: str, bare: Unit) -> Fraction:
    """The length that a text gives, in exact millimetres.

    text  any notation: 23 5/8, 23-5/8", 5' 3 1/2", 1 ft 6 in, .75, 23⅝, 601.5 mm, 60 cm, 0.6 m
    bare  the unit of a number that stands alone

    A bare fraction is refused where the unit is millimetres: whoever writes 3/4 there means inches.
    "heavy" and "scant" after a length are read, and give the mark itself.
    Raises Misread with the nearest text that works.
    """
    stripped = text.strip()
    sign, start = (-1, 1) if stripped[:1] in "-−" and stripped else (1, 1 if stripped[:1] == "+" else 0)
    if len(stripped) > LONGEST_TEXT:
        raise Misread(stripped[:20] + "...", f"a length: it is {len(stripped)} characters long", _example(bare))
    found = written(stripped, start + len(stripped[start:]) - len(stripped[start:].lstrip()))
    if found is None or _after(stripped, found.end) != len(stripped):
        raise Misread(text, "a length", _guess(stripped, bare), found.end if found else 0)
    value = as_length(text, found, bare)
    return sign * value


def as_length(text: str, found: Written, bare: Unit) -> Fraction:
    """A written number taken as a length in millimetres; raises Misread as `read_length` does."""
    if not found.unit and found.fraction and bare == "mm":
        decimal = show_number(found.value)
        raise Misread(text, "a length in this plan, whose plain numbers are millimetres",
                      f"{text.strip()} in, or {decimal} mm")  # fmt: skip
    value = found.value if found.unit else in_unit(found.value, bare)
    if value > LONGEST:
        raise Misread(text, "a length that a shop can hold (a kilometre at most)")
    return value


def written(text: str, start: int = 0) -> Written | None:
    """The number, with its units, that begins at `start`; None where there is none to be read."""
    first = _number(text, start)
    if first is None:
        return None
    value, end, fraction = first
    unit = _UNIT.match(text, end)
    if unit is None:
        return None if _glued(text, end) else Written(value, False, fraction, end)
    scale = _UNITS[(unit["word"] or unit["mark"]).lower()]
    total, end = value * scale, unit.end()
    if scale == FOOT:
        return _with_inches(text, total, end, fraction)
    while scale in (1000, 10) and (more := _smaller_metric(text, end, scale)):
        total, end, scale = total + more[0], more[1], more[2]
    return None if _glued(text, end, marked=True) else Written(total, True, fraction, end)


def _number(text: str, start: int) -> tuple[Fraction, int, bool] | None:
    match = _NUMBER.match(text, start)
    if match is None or len(match[0]) > LONGEST_TEXT:
        return None
    if match["plain"]:
        return Fraction(match["plain"].rstrip(".") if match["plain"][-1] == "." else match["plain"]), match.end(), False
    if match["lone"] or match["vulgar"]:
        return int(match["vwhole"] or 0) + _vulgar(match["lone"] or match["vulgar"]), match.end(), True
    whole = int(match["whole"] or 0)
    top, below = int(match["top"] or match["ftop"]), int(match["below"] or match["fbelow"])
    if below == 0 or (match["whole"] and top >= below):
        return None
    return whole + Fraction(top, below), match.end(), True


def _vulgar(letter: str) -> Fraction:
    return Fraction(unicodedata.numeric(letter)).limit_denominator(100)


def _with_inches(text: str, total: Fraction, end: int, fraction: bool) -> Written | None:
    """Feet, and the inches that may follow with or without a mark of their own: 5' 3 1/2", 5'-3, 1 ft 6 in."""
    gap = re.compile(r"\s*-(?=[0-9.])|\s*").match(text, end)
    more = _number(text, gap.end()) if gap and not re.match(r"\s-", text[end:]) else None
    if more is None:
        return None if _glued(text, end, marked=True) else Written(total, True, fraction, end, feet=True)
    value, after, _ = more
    unit = _UNIT.match(text, after)
    if unit and _UNITS[(unit["word"] or unit["mark"]).lower()] == INCH:
        after = unit.end()
    elif unit or _glued(text, after):
        return None
    return Written(total + value * INCH, True, fraction, after)


def _smaller_metric(text: str, end: int, scale: Fraction) -> tuple[Fraction, int, Fraction] | None:
    """A smaller metric part that follows: the 20 cm of 1 m 20 cm."""
    gap = re.compile(r"\s+").match(text, end)
    more = _number(text, gap.end()) if gap else None
    unit = _UNIT.match(text, more[1]) if more else None
    if more is None or unit is None or unit["mark"]:
        return None
    smaller = _UNITS[unit["word"].lower()]
    return (more[0] * smaller, unit.end(), smaller) if smaller < scale and smaller in (1, 10) else None


def _glued(text: str, end: int, marked: bool = False) -> bool:
    """True when what follows belongs to the number and spoils it: 12abc, 1.2.3, 23,5, 5/8/, 23 5."""
    rest = text[end:]
    if re.match(r"[.,][0-9]|[/⁄]\s*0(?![0-9.])", rest):
        return True
    return bool(rest) and not marked and (rest[0].isalnum() or rest[0] == "_")


def _after(text: str, end: int) -> int:
    shade = _SHADE.match(text, end)
    return shade.end() if shade else end


def _example(bare: Unit) -> str:
    return '23 5/8", 23.625 in or 600 mm' if bare == "inch" else '600 mm, 601.5 or 23 5/8"'


def _guess(text: str, bare: Unit) -> str:
    """The nearest text that is a length: the comma made a point, the unit spelt right; else examples."""
    if re.fullmatch(r"[0-9]{1,3}(,[0-9]{3})+(\.[0-9]+)?\W*\w*", text):
        whole = text.replace(",", "")
        return f"{whole} (or {text.replace(',', '.', 1)}, if the comma was a decimal point)"
    if re.match(r"[-−+]?[0-9]+,[0-9]+", text):
        return _works(text.replace(",", ".", 1), bare)
    spaced = re.fullmatch(r"([0-9]{1,3}) ([0-9]{3})(\s*[a-z]*)", text)
    if spaced:
        return _works("".join(spaced.groups()), bare)
    improper = re.fullmatch(r"([0-9]{1,6})(?:\s+|-)([0-9]{1,6})[/⁄]([0-9]{1,6})(.*)", text)
    if improper and int(improper[3]):
        return _works(_mixed(int(improper[1]) + Fraction(int(improper[2]), int(improper[3]))) + improper[4], bare)
    word = re.fullmatch(r"(.*[0-9.½¼¾])\s*([a-z]+)\.?", text, re.IGNORECASE)
    if word and (unit := nearest_word(word[2], UNIT_WORDS - {"m"})):
        return _works(f"{word[1].rstrip()} {unit}", bare)
    return _example(bare)


def _works(text: str, bare: Unit) -> str:
    """The text itself if it can be read, else what would be."""
    found = written(text, 1 if text[:1] in "-−+" else 0)
    if found is None or found.end != len(text):
        return _example(bare)
    try:
        as_length(text, found, bare)
    except Misread as still:
        return still.nearest or _example(bare)
    return text


# ---- rounding, each in a stated direction ----


def down_to(value: Fraction, step: Fraction) -> Fraction:
    """The largest multiple of `step` that is not more than `value`; both in millimetres."""
    return floor(value / step) * step


def up_to(value: Fraction, step: Fraction) -> Fraction:
    """The smallest multiple of `step` that is not less than `value`; both in millimetres."""
    return ceil(value / step) * step


def nearest(value: Fraction, step: Fraction) -> Fraction:
    """The multiple of `step` nearest to `value`, the larger one when it lies in the middle; in millimetres."""
    return floor(value / step + Fraction(1, 2)) * step


# ---- printing ----


@dataclass(frozen=True, slots=True)
class Manner:
    """How lengths are printed.

    unit         inch or mm
    denominator  the finest mark of the rule, in parts of an inch (16, 32, 64); for inches
    feet         print 5' 3 1/2" from a foot upwards; for inches
    decimals     digits after the point; for millimetres
    """

    unit: Unit = "inch"
    denominator: int = 32
    feet: bool = False
    decimals: int = 1

    @property
    def mark(self) -> Fraction:
        """The finest step that is printed, in millimetres."""
        return INCH / self.denominator if self.unit == "inch" else Fraction(1, 10**self.decimals)


def show(value: Fraction, manner: Manner, bare: bool = False) -> str:
    """A length in millimetres as the shop reads it: 23 5/8", 23 5/8" scant, 601.5 mm.

    Between two marks of an inch rule it says so: heavy, a little more than the mark printed; scant, a
    little less; nothing within a tenth of a mark. `bare` leaves the unit off, for a table whose heading has it.
    """
    sign, top = ("-", -value.numerator) if value.numerator < 0 else ("", value.numerator)
    if manner.unit == "mm":
        scale = 10**manner.decimals
        digits = _decimal(_rounded(top * scale, value.denominator), manner.decimals)
        return ("" if digits == "0" else sign) + digits + ("" if bare else " mm")
    parts, below = top * 10 * manner.denominator, value.denominator * 254  # parts/below is the size in marks
    marks = _rounded(parts, below)
    off = parts - marks * below
    if 10 * abs(off) <= below:
        shade = ""
    elif marks == 0:
        thousandths = _rounded(top * 10_000, below)
        return f"{sign}{_decimal(thousandths, 3)}{'' if bare else chr(34)}"
    else:
        shade = " heavy" if off > 0 else " scant"
    return ("" if marks == 0 else sign) + _inches(marks, manner, bare) + shade


def fine(value: Fraction, manner: Manner) -> str:
    """A length as a calliper shows it, whatever the marks of the rule: 0.693" or 17.63 mm. Rounds to nearest."""
    if manner.unit == "inch":
        return f'{float(value / INCH):.3f}"'
    return f"{float(value):.2f} mm"


def _inches(marks: int, manner: Manner, bare: bool) -> str:
    feet, rest = divmod(marks, 12 * manner.denominator) if manner.feet else (0, marks)
    if feet:
        return f"{feet}'" + (f' {_parts(rest, manner.denominator)}"' if rest else "")
    return _parts(rest, manner.denominator) + ("" if bare else '"')


def _mixed(number: Fraction) -> str:
    """23 5/8 from 189/8."""
    return _parts(number.numerator, number.denominator)


def _parts(count: int, of: int) -> str:
    """So many parts of a whole, as a mixed number in least terms: 23 5/8 from 378 sixteenths."""
    whole, part = divmod(count, of)
    if not part:
        return str(whole)
    shared = gcd(part, of)
    return (f"{whole} " if whole else "") + f"{part // shared}/{of // shared}"


def _rounded(top: int, below: int) -> int:
    """The whole number nearest to top/below, the larger one in the middle."""
    return (2 * top + below) // (2 * below)


def show_number(number: Fraction, decimals: int = 4) -> str:
    """A number as a decimal, rounded to so many digits after the point, without trailing zeros."""
    scaled = _rounded(abs(number.numerator) * 10**decimals, number.denominator)
    return ("-" if number < 0 and scaled else "") + _decimal(scaled, decimals)


def _decimal(scaled: int, decimals: int) -> str:
    """12.5 from 1250 with two digits after the point."""
    whole, part = divmod(scaled, 10**decimals)
    return f"{whole}.{part:0{decimals}d}".rstrip("0").rstrip(".") if decimals else str(whole)


_BARE_SIZE = re.compile(r"[\d ./]+( x [\d ./]+)*")


def with_unit(size: str, manner: Manner) -> str:
    """The size that something is sold in, bare numbers with the plan's unit: 5" x 96", 2440 x 1220 mm."""
    if not _BARE_SIZE.fullmatch(size):
        return size
    numbers = size.split(" x ")
    told = " x ".join(f'{one}"' for one in numbers) if manner.unit == "inch" else f"{size} mm"
    return f"{told} long" if len(numbers) == 1 else told
