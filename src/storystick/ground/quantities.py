"""Everything that is written in a plan and isn't a length: angles, weights, money, counts, climate.

Each has a value, a reader and a printer. The readers raise Misread with the nearest text that works.
"""

import math
import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from storystick.ground.length import LONGEST_TEXT, VULGAR, show_number, written
from storystick.ground.misread import Misread, nearest, not_too_long

POUND = Fraction(45359237, 100_000_000)  # in kilograms, by definition

_NUMBER = rf"[-−+]?(?:[0-9]+(?:[ -][0-9]+[/⁄][0-9]+|[/⁄][0-9]+|\s?[{VULGAR}])?|[{VULGAR}]|[0-9]*\.[0-9]+|[0-9]+\.)"
_COUNT_WORDS = {
    "none": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6,
    "seven": 7, "eight": 8, "nine": 9, "ten": 10, "eleven": 11, "twelve": 12,
}  # fmt: skip
_CURRENCY = r"[^\W\d_]{1,4}|[$€£¥₹₩₺₽₫]"


def read_number(text: str) -> Fraction:
    """A plain number without a unit: 3, 2.5, 1/3, 2 1/2."""
    value = _number(not_too_long(text, "a plain number"))
    if value is None:
        raise Misread(text, "a plain number", text.strip().replace(",", ".") if _comma(text) else "3, 2.5 or 2 1/2")
    return value


def read_count(text: str) -> int:
    """How many: 3, three, none. Raises Misread for anything but a whole number up to ten thousand."""
    word = not_too_long(text, "a count, a whole number", "3").lower()
    if word in _COUNT_WORDS:
        return _COUNT_WORDS[word]
    if not re.fullmatch(r"[0-9]{1,6}", word) or int(word) > 10_000:
        value = _number(word)
        guess = nearest(word, _COUNT_WORDS) if word.isalpha() else str(math.ceil(value)) if value and value > 0 else ""
        raise Misread(text, "a count, a whole number", guess if value is None or value < 10_000 else "3")
    return int(word)


def read_flag(text: str) -> bool:
    """Yes or no."""
    word = not_too_long(text, "yes or no").lower()
    if word in ("yes", "true", "on", "y"):
        return True
    if word in ("no", "false", "off", "n", "none"):
        return False
    raise Misread(text, "yes or no", nearest(word, ("yes", "no")) or "yes or no")


@dataclass(frozen=True, slots=True)
class Angle:
    """An angle in degrees; `slope` is the rise for a run of one where it was written as 1:8."""

    degrees: Fraction
    slope: Fraction | None = None


def read_angle(text: str) -> Angle:
    """An angle: 75 deg, 75°, 22 1/2 degrees, a slope such as 1:8, or a number of degrees."""
    stripped = not_too_long(text, "an angle", "75 deg or 1:8")
    if slope := re.fullmatch(rf"({_NUMBER})\s*(?::|in)\s*({_NUMBER})", stripped):
        rise, run = _number(slope[1]), _number(slope[2])
        if rise is not None and run is not None and run > 0:
            degrees = Fraction(math.degrees(math.atan2(rise, run))).limit_denominator(10**9)
            return Angle(degrees, rise / run)
    match = re.fullmatch(rf"({_NUMBER})\s*(?:°|deg\.?|degrees?|º)?", stripped, re.IGNORECASE)
    value = _number(match[1]) if match else None
    if value is None:
        found = re.match(_NUMBER, stripped)
        raise Misread(text, "an angle", f"{found[0]} deg" if found and "," not in text else "75 deg, 7.5 deg or 1:8")
    if abs(value) > 360:
        raise Misread(text, "an angle of at most a full turn", f"{show_number(value % 360)} deg")
    return Angle(value)


def show_angle(angle: Angle) -> str:
    """75 degrees, or the slope as it was written with its angle: 1:8 (7.1 degrees)."""
    said = f"{show_number(angle.degrees, 1)} degrees"
    if angle.slope is None or angle.slope <= 0:
        return said
    run = 1 / angle.slope
    return f"1:{show_number(run, 2)} ({said})"


@dataclass(frozen=True, slots=True)
class Weight:
    """A weight, as the mass in kilograms."""

    kg: Fraction


type WeightUnit = Literal["kg", "lb"]

_WEIGHTS = {
    "kg": Fraction(1), "kilo": Fraction(1), "kilos": Fraction(1), "kilogram": Fraction(1), "kilograms": Fraction(1),
    "g": Fraction(1, 1000), "gram": Fraction(1, 1000), "grams": Fraction(1, 1000),
    "lb": POUND, "lbs": POUND, "pound": POUND, "pounds": POUND,
    "oz": POUND / 16, "ounce": POUND / 16, "ounces": POUND / 16,
}  # fmt: skip


def read_weight(text: str, bare: WeightUnit | None = None) -> Weight:
    """A weight: 20 kg, 44 lb, 3 lb 4 oz, 500 g.

    bare  the unit of a number that stands alone; None refuses such a number
    """
    stripped = not_too_long(text, "a weight", "20 kg or 44 lb")
    unit_words = "|".join(sorted(_WEIGHTS, key=len, reverse=True))
    one = re.fullmatch(rf"({_NUMBER})\s*({unit_words})?\.?", stripped, re.IGNORECASE)
    two = re.fullmatch(rf"([0-9]+)\s*(?:lbs?|pounds?)\.?,?\s+({_NUMBER})\s*(?:oz|ounces?)\.?", stripped, re.IGNORECASE)
    if two and (ounces := _number(two[2])) is not None:
        return _weighed(text, (int(two[1]) + ounces / 16) * POUND)
    value = _number(one[1]) if one else None
    if one is None or value is None or (one[2] is None and bare is None):
        raise Misread(text, "a weight", _weight_guess(stripped))
    return _weighed(text, value * _WEIGHTS[(one[2] or bare or "kg").lower()])


def _weighed(text: str, kg: Fraction) -> Weight:
    if not 0 <= kg <= 100_000:
        raise Misread(text, "a weight that a shop can hold", "20 kg or 44 lb")
    return Weight(kg)


def _weight_guess(text: str) -> str:
    found = re.match(r"([0-9]+(?:\.[0-9]+)?)\s*([a-z]*)", text.replace(",", "."), re.IGNORECASE)
    if not found:
        return "20 kg, 44 lb or 3 lb 4 oz"
    unit = nearest(found[2], _WEIGHTS) if found[2] else ""
    return f"{found[1]} {unit}" if unit else f"{found[1]} kg or {found[1]} lb"


def show_weight(weight: Weight, unit: WeightUnit) -> str:
    """20 kg, 44 lb; light things in grams or ounces. To about three figures."""
    light = weight.kg < (1 if unit == "kg" else POUND)
    if unit == "kg":
        return f"{show_number(weight.kg * 1000, 0)} g" if light else f"{show_number(weight.kg, 1)} kg"
    pounds = weight.kg / POUND
    return f"{show_number(pounds * 16, 1)} oz" if light else f"{show_number(pounds, 1)} lb"


@dataclass(frozen=True, slots=True)
class Money:
    """An exact amount and the sign or word of its currency; "" where none was written."""

    amount: Fraction
    sign: str = ""


def read_money(text: str) -> Money:
    """A price: 92.00, $92, € 85, 85 EUR, 1,250.00. The currency is kept and never changed into another."""
    match = re.fullmatch(
        rf"({_CURRENCY})?\s*([0-9][0-9,]*(?:\.[0-9]{{1,4}})?)\s*({_CURRENCY})?", not_too_long(text, "a price")
    )
    grouped = match is not None and re.fullmatch(r"[0-9]+(?:\.[0-9]*)?|[0-9]{1,3}(?:,[0-9]{3})+(?:\.[0-9]*)?", match[2])
    if match is None or not grouped or (match[1] and match[3]) or len(match[2]) > 15:
        comma = re.search(r"[0-9]+,[0-9]{1,2}(?![0-9])", text)
        raise Misread(text, "a price", comma[0].replace(",", ".") if comma else "92.00, $92 or € 85")
    return Money(Fraction(match[2].replace(",", "")), match[1] or match[3] or "")


def show_money(money: Money) -> str:
    """$92.00, 85.00 EUR; a word stands behind the amount, a sign before it."""
    cents = int(money.amount * 100 + Fraction(1, 2))
    amount = f"{cents // 100:,}.{cents % 100:02d}"
    if money.sign.isalpha():
        return f"{amount} {money.sign}"
    return money.sign + amount


def read_percent(text: str) -> Fraction:
    """A share in hundredths: 45 %, 45%, 45 percent, 45. Gives 45."""
    match = re.fullmatch(rf"({_NUMBER})\s*(?:%|percent|per cent)?", not_too_long(text, "a percentage"), re.IGNORECASE)
    value = _number(match[1]) if match else None
    if value is None or not 0 <= value <= 100:
        raise Misread(text, "a percentage from 0 to 100", "45 %")
    return value


def read_temperature(text: str, bare: Literal["C", "F"] | None = None) -> Fraction:
    """A temperature in degrees Celsius: 20 C, 68 F, 20 °C; `bare` is the scale of a number that stands alone."""
    match = re.fullmatch(
        rf"({_NUMBER})\s*(?:°|º|deg(?:rees)?)?\s*(c|celsius|f|fahrenheit)?",
        not_too_long(text, "a temperature", "20 C or 68 F"),
        re.IGNORECASE,
    )
    value = _number(match[1]) if match else None
    scale = (match[2] or bare or "")[:1].upper() if match else ""
    if value is None or not scale:
        raise Misread(text, "a temperature", f"{match[1]} C or {match[1]} F" if match else "20 C or 68 F")
    celsius = value if scale == "C" else (value - 32) * Fraction(5, 9)
    if not -60 <= celsius <= 100:
        raise Misread(text, "a temperature that wood lives in", "20 C or 68 F")
    return celsius


def _number(text: str) -> Fraction | None:
    """A bare number with its sign, or None."""
    negative = text[:1] in ("-", "−")
    start = 1 if text[:1] in ("-", "−", "+") else 0
    found = written(text, start) if text and len(text) <= LONGEST_TEXT else None
    if found is None or found.unit or found.end != len(text):
        return None
    return -found.value if negative else found.value


def _comma(text: str) -> bool:
    return re.fullmatch(r"\s*[0-9]+,[0-9]+\s*", text) is not None
