"""Every collected published value that a formula or a table of ours answers, read where it lies beside the checkout.

The folder is no part of the repository: where it is absent these tests are skipped and say so. The same formulae are
checked against values typed in beside their source in the other files here.
"""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.physics import answers_matter, answers_shop
from tests.physics.answers_formulas import FORMULAS
from tests.physics.answers_matter import Answer, Item

FOLDER = Path(__file__).parents[3] / "shared" / "reference"
ANSWERS: dict[str, Answer] = {**answers_matter.ANSWERS, **answers_shop.ANSWERS}
ABSENT = "no folder shared/reference beside the checkout: the collected values were NOT compared"

# A beginning that stands for a series of items; any other beginning answers the item of just that name.
SERIES = {"emc.T", "scr.D", "scr.head", "scr.modern", "scr.W.G", "mag.D", "nail.G", "mdf.W", "en315.ex"}
# Rules and limits in words inside a series of numbers.
WORDS = {"ps1.tol.unsanded", "ps1.size", "ps1.square", "ps1.mc", "pocket.thread"}
# What is collected and is no number that a formula or a row of ours could give.
NOT_OURS = {
    "words": {
        "en6225.notdesign", "lam.screw.face_edge", "scr.endgrain", "lag.tip", "glue.endgrain", "mag.cpsc.scope",
        "csu.age", "csu.child", "csu.out", "en14749.cg", "en14749.slope", "caster.offset", "saw.comb", "saw.fence",
        "saw.restart", "dust.carc", "ca.glue", "epoxy", "oilrag", "h.work", "h.zone", "sheet.rule", "glue.time",
    },
    "limits that no check of ours asks about": {
        "mov.indoor", "creep.temp", "ps1.mc", "en315.size", "tsca.hwpw", "tsca.pb", "tsca.thin", "csu.interlock",
        "drawer.pull", "saw.spread", "dust.pel", "dust.rel", "noise", "mag.cpsc", "lim.kcma.drawer", "outfeed",
        "ps1.size", "ps1.tol.unsanded", "ps1.square", "pocket.thread", "t.bender", "sheet.path", "rep.fence",
        "en14749.kg",
    },
    "measured on one thing": {
        "osb.mill1", "osb.mill3", "osb.mill4", "osb.mill7", "osb.mill9", "mdf.conflict", "ply.E.aws.hw", "a2081.ratio",
        "mov.rule5",
    },
    "sizes that the maker reads off the thing, or that are his to choose": {
        "mitre.slot", "kerf.band", "blade.proj", "bit.pattern", "forstner", "slide.us", "slide.24", "drawer.groove",
        "dado.depth", "dado.34", "rabbet", "mortise", "toe", "base.h", "tape.res", "thk.quarter", "thk.mdf34",
        "size.pb", "h.us", "h.elbow", "h.saw", "rip",
    },
}  # fmt: skip


def items() -> list[Item]:
    found: list[Item] = []
    for path in sorted(FOLDER.glob("*.json")):
        found += json.loads(path.read_text("utf-8"))["items"]
    return found


ITEMS = items() if FOLDER.is_dir() else []


def answer_for(item: Item) -> Answer | None:
    """By the item's own id, else by the longest beginning of a series that fits; formulae are checked elsewhere."""
    if item["kind"] == "formula" or item["id"] in WORDS:
        return None
    series = [each for each in ANSWERS if item["id"].startswith(each) and (each.endswith(".") or each in SERIES)]
    return ANSWERS.get(item["id"]) or (ANSWERS[max(series, key=len)] if series else None)


def numbers(value: Any) -> Iterator[float | str]:
    """The numbers in a value in order, fractions read as such; words stay words."""
    match value:
        case bool() | None:
            yield str(value)
        case int() | float():
            yield float(value)
        case str():
            yield read_number(value)
        case dict():
            for key in sorted(value):
                yield from numbers(value[key])
        case list() | tuple():
            for each in value:
                yield from numbers(each)


def read_number(text: str) -> float | str:
    try:
        whole, _, part = text.rpartition("-")
        top, _, below = part.partition("/")
        return float(whole or 0) + (float(top) / float(below) if below else float(top))
    except ValueError:
        return text


ASKED = [item for item in ITEMS if answer_for(item)]


@pytest.mark.parametrize("item", ASKED, ids=[each["id"] for each in ASKED])
def test_the_collected_value(item: Item):
    answer = answer_for(item)
    assert answer is not None
    ours, printed = list(numbers(answer(item))), list(numbers(item["value"]))
    assert len(ours) == len(printed)
    for mine, theirs in zip(ours, printed, strict=True):
        if isinstance(theirs, str):
            assert mine == theirs
        else:
            # Where the collection gives no tolerance: a five-hundredth, less than the third figure of any of them.
            assert mine == pytest.approx(theirs, abs=item.get("tol") or max(abs(theirs) * 0.002, 1e-9))


PRINTED = [item for item in ITEMS if item["id"] in FORMULAS]


@pytest.mark.parametrize("item", PRINTED, ids=[each["id"] for each in PRINTED])
def test_the_collected_formula_as_it_is_printed(item: Item):
    pairs = list(FORMULAS[item["id"]](item))
    assert pairs
    for mine, theirs in pairs:
        # Printed constants are rounded to three or four figures.
        assert mine == pytest.approx(theirs, rel=5e-4, abs=1e-9)


def test_all_of_the_collection_is_answered_but_what_is_no_number_of_ours():
    if not ITEMS:
        pytest.skip(ABSENT)
    left = {item["id"] for item in ITEMS if not answer_for(item) and item["id"] not in FORMULAS}
    assert left == set().union(*NOT_OURS.values())
    assert len(ASKED) + len(PRINTED) > 470
    assert [item["id"] for item in ITEMS if item["kind"] == "worked" and item["id"] in left] == []


def test_no_answer_is_without_a_question():
    if not ITEMS:
        pytest.skip(ABSENT)
    asked = [each["id"] for each in ITEMS]
    idle = [start for start in (*ANSWERS, *FORMULAS) if not any(each.startswith(start) for each in asked)]
    assert idle == []
