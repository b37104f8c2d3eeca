"""About how high blocks come out on a page: enough to tell which are surely kept together on one.

To keep a block together the press has to know that a page is long enough for it, and measuring it costs as much as
setting it. What is reckoned here is on the high side by a fifth and more, and even so shorter than a page.
"""

from collections.abc import Mapping, Sequence
from typing import Any

SHORT = 215.0
"""What comes to no more than this is short [mm]; the lowest page has 245 mm from head to foot, its heading and all."""
ROOM = 170.0  # between the margins of the narrower paper, about [mm]
LETTER = 2.3  # of a line, spaces and its ragged end included [mm]
LINE = 5.6  # from line to line [mm]
DENSE = 0.88  # of a dense table's lettering beside a usual one
LEAST = 12.0  # a column is taken to be at least so wide [mm]


def is_short(*blocks: Any) -> bool:
    """True where blocks, as plain data for the press, surely come out lower together than a page is high."""
    return sum(high_of(block) for block in blocks) <= SHORT


def is_brief(text: Mapping[str, Any]) -> bool:
    """True where a text comes out no longer than two lines, or not much."""
    return _lines(text["says"], ROOM) <= 2 * LINE


def high_of(block: Mapping[str, Any], wide: float = ROOM) -> float:
    """About how high a block is in so much width [mm], rather too much; infinite for what is a page by itself."""
    match block["is"]:
        case "heading":
            return 14.0
        case "text":
            return 4.0 + _lines(block["says"], wide)
        case "points":
            return sum(2.0 + _lines(says, wide - 8.0) for says in block["says"])
        case "big":
            return 25.0
        case "table":
            return _table(block, wide)
        case "figure":
            return float(block["high"]) + 3.0 + _lines(block["caption"], wide)
        case "card":
            sizes = 8.0 * len(block["sizes"]) if block["narrow"] else 0.0
            return 42.0 + sizes + sum(3.0 + _lines(says, wide) for says in (*block["remarks"], block["provisional"]))
        case "step":
            return _step(block, wide)
        case "row":
            shares = [float(share) for share in block["shares"]]
            least = min((share for share in shares if share), default=1.0) / (sum(shares) or 1.0)
            return max((high_of(one, wide * least) for one in block["blocks"]), default=0.0)
        case "whole":
            return sum(high_of(one, wide) for one in block["blocks"])
        case _:
            return float("inf")


def _step(block: Mapping[str, Any], wide: float) -> float:
    picture = block["picture"]
    beside = wide - 12.0 - (float(picture["wide"]) + 5.0 if picture else 0.0)
    texts = [*block["does"], block["parts"], block["check"], block["caution"], *block["reads"]]
    words = sum(4.0 + _lines(says, beside) for says in texts)
    settings = sum(10.0 + _lines([*what, *remark], beside * 0.5) for what, _, remark, _ in block["settings"])
    return 16.0 + max(words, float(picture["high"]) if picture else 0.0) + settings


def _table(block: Mapping[str, Any], wide: float) -> float:
    shares, small = [float(share) for share in block["shares"]], DENSE if block["dense"] else 1.0
    whole = sum(shares) or 1.0
    widths = [max(LEAST, wide * share / whole - 3.0) if share else wide / len(shares) for share in shares]
    around = 5.0 if block["roomy"] else 3.2
    rows = [[_cell(cell, width / small) for cell, width in zip(row, widths, strict=True)] for row in block["rows"]]
    return 16.0 + sum(around + max(row, default=0.0) * small for row in rows)


def _cell(cell: Mapping[str, Any], wide: float) -> float:
    if "stack" in cell:
        return float(sum(1.5 + _cell(part, wide) for part in cell["stack"]))
    if "boxes" in cell:
        return sum(_lines([*word, "    "], wide) for word in cell["boxes"])
    if "tick" in cell:
        return 6.0 * (1 + int(cell["tick"]) * 6.0 // wide)
    return 1.0 + _lines([*cell["says"], *cell.get("fine", ())], wide) * (1.4 if "large" in cell else 1.0)


def _lines(runs: Sequence[Sequence[str]], wide: float) -> float:
    """About how high a text comes out that is broken into lines so wide [mm]."""
    letters = sum(len(run) if isinstance(run, str) else sum(map(len, run)) for run in runs)
    return LINE * (1 + letters * LETTER // max(wide, LEAST)) if letters else 0.0
