"""Tools: what is needed, down to pencil and paper, and the steps that each is needed in."""

import re
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise

from storystick.model.work import Setup, Stage, Step
from storystick.paper.blocks import Block, Column, Heading, Table, Tick
from storystick.paper.folder import Folder
from storystick.paper.pages import Page
from storystick.paper.press import Paper
from storystick.paper.spoken import listed

type Row = tuple[str, list[int]]
BLADE = "saw blade"
CLAMPS = re.compile(r"(\d+) clamps? that opens? (.+?)(?: \(|$)")
BUSHING = re.compile(r"([\d/ ]+(?:in|mm) guide bushing) against it")
COLUMNS = (Column(""), Column("tool", 2.4), Column("used in", 1.6))


def make(folder: Folder, paper: Paper) -> Iterator[Block]:
    """Machines with their bits, clamps, hand tools and what is used up."""
    steps = folder.order.steps
    if not steps:
        return
    for head, rows in (
        ("Machines and bits", machines(steps)),
        ("Clamps", clamps(steps)),
        ("Hand tools and what is used up", list(by_hand(folder, steps))),
    ):
        if rows:
            yield Heading(head)
            told = tuple((Tick(), name, steps_said(numbers, len(steps))) for name, numbers in rows if numbers)
            yield Table(COLUMNS, told, dense=True)


def machines(steps: Sequence[Step]) -> list[Row]:
    """Each machine, and below it each blade or bit that it is used with."""
    found: dict[str, dict[str, list[int]]] = {}
    for step in steps:
        for setup in step.setups:
            bits = found.setdefault(setup.machine, {})
            if setup.tool and setup.tool != BLADE:
                bits.setdefault(setup.tool, []).append(step.number)
            else:
                bits.setdefault("", []).append(step.number)
            for word in BUSHING.findall(setup.says):
                bits.setdefault(word.strip(), []).append(step.number)
        for need in step.needs if not step.setups and step.stage is Stage.BREAK_DOWN else ():
            found.setdefault(need, {}).setdefault("", []).append(step.number)
    rows: list[Row] = []
    for machine in sorted(found, key=lambda name: (name == "drill", list(found).index(name))):
        bits = found[machine]
        own = bits.pop("", [])
        rows.append((machine, own or [number for numbers in bits.values() for number in numbers]))
        rows.extend((f"   {bit}", numbers) for bit, numbers in sorted(bits.items(), key=lambda pair: pair[1][0]))
    return rows


def clamps(steps: Sequence[Step]) -> list[Row]:
    """The most clamps of each opening that one step wants."""
    found: dict[str, tuple[int, list[int]]] = {}
    for step in steps:
        for need in step.needs:
            if one := CLAMPS.match(need):
                most, numbers = found.get(one[2], (0, []))
                found[one[2]] = (max(most, int(one[1])), [*numbers, step.number])
    return [(f"{count} that open {opening} and the cauls", numbers) for opening, (count, numbers) in found.items()]


def by_hand(folder: Folder, steps: Sequence[Step]) -> Iterator[Row]:
    """What else the steps ask for."""
    every = [step.number for step in steps]

    def of(*stages: Stage) -> list[int]:
        return [step.number for step in steps if step.stage in stages]

    yield "tape measure, rule, square, pencil; a calliper for stock and for what is cut to it", every
    yield (
        "eye and ear protection, a mask",
        of(Stage.BREAK_DOWN, Stage.SAW, Stage.MACHINE, Stage.DRILL, Stage.SAND, Stage.FINISH),
    )
    yield "push blocks, a sled or a mitre gauge with a stop", with_setup(steps, lambda one: one.machine == "table saw")
    yield "trestles or a foam sheet on the floor", of(Stage.BREAK_DOWN)
    yield (
        "a straight board or a rail to guide along",
        with_setup(steps, lambda one: one.name in ("guide offset", "guide", "line", "between guides")),
    )
    yield "a screwdriver or a driver with bits for the screws of the buying list", driven(folder, steps, False)
    yield "a hammer and a nail set, or a nailer", driven(folder, steps, True)
    yield "glue, a brush or a scraper to spread it, cauls, a damp cloth", of(Stage.GLUE)
    yield "120 and 180 grit paper with a block", of(Stage.SAND)
    yield "brush or cloth for the finish, 180 and 320 grit paper", of(Stage.FINISH)


def with_setup(steps: Sequence[Step], wanted: Callable[[Setup], bool]) -> list[int]:
    """Numbers of the steps with such a set-up."""
    return [step.number for step in steps if any(wanted(one) for one in step.setups)]


def driven(folder: Folder, steps: Sequence[Step], is_nail: bool) -> list[int]:
    """Numbers of the steps in which screws, or nails, are driven."""
    rows = {one.row for one in folder.build.fasteners if (one.kind in ("nail", "brad")) == is_nail}
    put = (Stage.GLUE, Stage.ASSEMBLE, Stage.HARDWARE)
    return [s.number for s in steps if s.stage in put and any(row in text for row in rows for text in s.does)]


def steps_said(numbers: Sequence[int], of: int) -> str:
    """Steps by number: "steps 4, 7 and 12 to 15"; "all along" for nearly every one."""
    each = sorted(set(numbers))
    if not each:
        return ""
    if len(each) == of:
        return "all along"
    runs = [[each[0]]]
    for before, after in pairwise(each):
        if after == before + 1:
            runs[-1].append(after)
        else:
            runs.append([after])
    words: list[str] = []
    for run in runs:
        words.extend(map(str, run) if len(run) < 3 else [f"{run[0]} to {run[-1]}"])
    return f"step{'s' if len(each) > 1 else ''} {listed(words)}"


PAGE = Page("tools", 40, "Tools", make, follows=True)
