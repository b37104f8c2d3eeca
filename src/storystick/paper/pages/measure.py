"""Measure first: the few numbers that everything else hangs on, and room to write what was read."""

import re
from collections.abc import Iterator

from storystick.ground.dim import Dim, Leaf, Named, walk
from storystick.ground.length import Manner
from storystick.paper.blocks import Blank, Block, Column, Large, Strong, Table, Text
from storystick.paper.folder import Folder
from storystick.paper.lettering import calliper, said
from storystick.paper.pages import Page
from storystick.paper.press import Paper
from storystick.paper.spoken import spoken_number

UNMEASURED = "not measured yet: calliper it at six places"


def make(folder: Folder, paper: Paper) -> Iterator[Block]:
    """A row for each number, three blanks each; the stock's thickness too where it was not measured."""
    manner = folder.build.manner
    rows: list[tuple[str, tuple[str, str], str]] = []
    guessed = {f"{stock.name}.thick" for stock in folder.build.stock if not stock.measured and stock.form == "sheet"}
    for name in folder.build.drivers:
        number = folder.driver(name)
        if number is not None:
            words = UNMEASURED if name in guessed else reason(number)
            rows.append((name, (said(number, manner), fine(number, manner)), words))
    named = {name.partition(".")[0] for name, _, _ in rows}
    for stock in folder.build.stock:
        if stock.name not in named and any(part.stock is stock for part in folder.build.parts):
            word = "measured before; check the sheet in hand" if stock.measured else UNMEASURED
            thick = (said(stock.thickness, manner), calliper(stock.thickness, manner))
            rows.append((f"{stock.name}.thick", thick, word))
    if not rows:
        return
    yield Text(
        "Take each at three places, or three times, with the rule that you will cut by; thicknesses with a calliper. "
        "Write down what you read, not what you expected. If one is off, change it in the plan and print again before "
        "you cut."
    )
    columns = (
        Column("number", 2.1),
        Column("planned", 1.0),
        Column("first", 0.8),
        Column("second", 0.8),
        Column("third", 0.8),
    )
    yield Table(
        columns,
        tuple(
            ((Strong(spoken_number(name)), why), Large(*value), Blank(22), Blank(22), Blank(22))
            for name, value, why in rows
        ),
        roomy=True,
    )


def fine(number: Dim, manner: Manner) -> str:
    """A number as a calliper shows it, if it is small enough for one."""
    return calliper(number, manner) if number.value < MOUTH else ""


MOUTH = 160
"""What a usual calliper opens [mm]."""


def reason(number: Dim) -> str:
    """What a number is, in the words it was given."""
    match number.node:
        case Named(because=because):
            told = next((one.node.says for one in walk(number) if isinstance(one.node, Leaf)), "")
            how, *words = told.split("; ")
            words = [word for word in words if ", line " not in word]
            return f"{'; '.join(words)} ({how_said(how)})" if words else because
        case Leaf(says=says):
            return says
        case _:
            return ""


SEVERAL = re.compile(r"(\d+) readings, the (\w+) with (.+)")
ONCE = re.compile(r"measured with (.+)")


def how_said(how: str) -> str:
    """How a number was read, in a few words: "the smallest of 3 readings by tape counts"."""
    if several := SEVERAL.fullmatch(how):
        which = {"middle": "mean"}.get(several[2], several[2])
        return f"the {which} of {several[1]} readings by {several[3]} counts"
    return f"by {once[1]}" if (once := ONCE.fullmatch(how)) else how


PAGE = Page("measure", 30, "Measure first", make, follows=True, waits=False)
