"""Sizes of two or three lengths written as one: 4 ft x 8 ft, 12 x 30, 1/2 x 1 x 3, 1220 by 2440 mm."""

import re
from fractions import Fraction

from storystick.ground.length import Unit, read_length, written
from storystick.ground.misread import Misread, not_too_long

_BY = re.compile(r"\s*[×*]\s*|\s+x\s+|\s+by\s+|(?<=[0-9\"'″′”’])x(?=[0-9.])", re.IGNORECASE)
_UNIT = re.compile(r"[0-9.½¼¾⅛⅜⅝⅞]\s*([a-z]+)\.?$", re.IGNORECASE)


def read_sizes(text: str, bare: Unit, least: int = 2, most: int = 3) -> tuple[Fraction, ...]:
    """The lengths of a size in the order written [mm]; a unit behind the last one alone counts for all of them.

    Raises Misread when there are fewer than `least` or more than `most`, or one can't be read.
    """
    example = "4 ft x 8 ft" if bare == "inch" else "1220 x 2440"
    parts = [part for part in _BY.split(not_too_long(text, "a size", example)) if part]
    if not least <= len(parts) <= most:
        raise Misread(text, f"a size of {least if least == most else f'{least} to {most}'} lengths", example)
    unit = _UNIT.search(parts[-1])
    if unit and all(_alone(part) for part in parts[:-1]):
        parts = [f"{part} {unit[1]}" for part in parts[:-1]] + parts[-1:]
    lengths = tuple(read_length(part, bare) for part in parts)
    if any(length <= 0 for length in lengths):
        raise Misread(text, "a size: each length must be more than nothing", example)
    return lengths


def _alone(part: str) -> bool:
    found = written(part)
    return found is not None and not found.unit and found.end == len(part)
