"""What docs/plan-file.md and docs/shop-file.md show can be read as it is shown."""

import re
from pathlib import Path

import pytest

from storystick.ground.arithmetic import Names, read_sum
from storystick.ground.dim import given
from storystick.ground.length import inch, read_length
from storystick.ground.marked import Scalar
from storystick.ground.misread import Misread
from storystick.plan import read_plan
from storystick.plan.heading import HEADING
from storystick.shop.file import SHOP
from storystick.shop.read import read_shop

DOCS = Path(__file__).parents[2] / "docs"
PLAN_PAGE = (DOCS / "plan-file.md").read_text("utf-8")
SHOP_PAGE = (DOCS / "shop-file.md").read_text("utf-8")


def blocks(page):
    return re.findall(r"```yaml\n(.*?)```", page, re.DOTALL)


def rows(page, under):
    """The table below a heading, as rows of cells."""
    part = page.split(f"\n## {under}\n")[1].split("\n## ")[0]
    lines = [line for line in part.splitlines() if line.startswith("| ")]
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in lines[2:]]


@pytest.mark.parametrize("text", blocks(PLAN_PAGE))
def test_every_piece_of_plan_on_the_page_is_read(text):
    outcome = read_plan(text, "page")
    assert outcome.sound
    assert not outcome.findings


@pytest.mark.parametrize("text", blocks(SHOP_PAGE))
def test_the_shop_on_the_page_is_read_and_leaves_nothing_to_assume(text):
    outcome = read_shop(text, "page")
    assert outcome.sound
    assert not outcome.findings
    assert outcome.made.assumed == ()


@pytest.mark.parametrize(("written", "inches", "millimetres"), rows(PLAN_PAGE, "Lengths"))
def test_every_notation_of_the_page_is_read_as_it_says(written, inches, millimetres):
    text = written.strip("`")
    assert read_length(text, "inch") == read_length(inches, "mm")
    if millimetres == "asked about":
        with pytest.raises(Misread):
            read_length(text, "mm")
    else:
        assert read_length(text, "mm") == read_length(millimetres, "inch")


@pytest.mark.parametrize("row", rows(PLAN_PAGE, "Sums"))
def test_every_sum_of_the_page_can_be_reckoned(row):
    names = Names("inch", (("opening", given("opening", inch(30), "")), ("side", given("side", inch("3/4"), ""))))
    mistakes = []
    assert read_sum(Scalar(row[0].strip("`")), names, mistakes) is not None
    assert not mistakes


def test_the_page_lists_every_word_of_the_heading():
    listed = {row[0].strip("`") for row in rows(PLAN_PAGE, "Heading")}
    sections = {"measure", "site", "stock", "build", "loads", "accept", "work"}
    assert listed == {field.name for field in HEADING.fields} - sections


def test_the_page_lists_every_word_of_the_shop_file():
    listed = re.findall(r"^\| `([a-z ]+)` \|", SHOP_PAGE, re.MULTILINE)
    assert set(listed) == {field.name for field in SHOP.fields}
