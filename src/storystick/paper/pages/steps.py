"""Steps: what to do, in order, with a picture of the state after each."""

import re
from collections.abc import Iterator, Sequence
from fractions import Fraction

from storystick.ground.length import show
from storystick.model.work import Setup, Stage, Step
from storystick.paper.blocks import Block, Heading
from storystick.paper.drawing.drawn import Drawn
from storystick.paper.drawing.picture import after_step
from storystick.paper.folder import Folder
from storystick.paper.forms import StepBlock
from storystick.paper.lettering import calliper, said, set_to
from storystick.paper.pages import Page
from storystick.paper.press import Paper
from storystick.paper.spoken import MEASURES, spoken_number

WIDE, SLIM, HIGH = 66.0, 48.0, 40.0
MUCH = 330  # so many letters of words beside it make a picture slim


def make(folder: Folder, paper: Paper) -> Iterator[Block]:
    """A block for each step, under the stage of the job it belongs to."""
    stage = None
    for step in folder.order.steps:
        if step.stage is not stage:
            stage = step.stage
            yield Heading(stage.value.capitalize())
        yield step_block(folder, step)


def step_block(folder: Folder, step: Step) -> StepBlock:
    """One step as a block; a sentence that only says a setting or its proof goes into that setting's line."""
    settings, told = [], set()
    for setup in step.setups:
        line, used = setting(setup, folder, step.does)
        settings.append(line)
        told |= used
    return StepBlock(
        step.number,
        step.title,
        tuple(text for text in step.does if text not in told),
        tuple(settings),
        step_picture(folder, step),
        letters(folder, step),
        step.check,
        step.caution,
        tuple(asked(folder, name) for name in step.reads),
        minutes(step),
    )


def step_picture(folder: Folder, step: Step) -> Drawn | None:
    """The state after a step; None for one that shows nothing."""
    shown = ", ".join(dict.fromkeys(folder.letter_of[name] for name in step.shows if name in folder.letter_of))
    alt = f"After step {step.number}: parts {shown} as they stand then."
    words = sum(map(len, step.does)) + 80 * len(step.setups)
    pointed = step.stage not in (Stage.HARDWARE, Stage.INSTALL)  # what is whole by then is known by its name
    loose = step.stage is Stage.FINISH
    return after_step(folder, step.shows, step.new, WIDE if words < MUCH else SLIM, HIGH, alt, pointed, loose)


def setting(setup: Setup, folder: Folder, does: Sequence[str]) -> tuple[tuple[str, str, str, str], set[str]]:
    """What is set, to what, what to know about it, the calliper's figure; and the sentences that it takes in."""
    manner = folder.build.manner
    to = set_to(setup.to, manner) if setup.to is not None else ""
    fine = calliper(setup.to, manner) if setup.to is not None and setup.to.power and setup.to.value < MOUTH else ""
    told = {text for text in does if setup.test and text.rstrip(".") == setup.test.rstrip(".")}
    says = setup.says
    if setup.to is not None and setup.to.power:
        start = re.compile(
            rf"{re.escape(setup.name)}(?: at)? {re.escape(show(setup.to.value, manner))}(, or as measured)?: ", re.I
        )
        own = next(((text, found) for text in does if (found := start.match(text))), None)
        if own:
            told.add(own[0])
            says = ("as measured; " if own[1][1] else "") + own[0][own[1].end() :]
    bare = to and says == setup.says and says.startswith(setup.name) and len(says) < 40
    if setup.tool and says.startswith(f"{setup.tool}, "):  # the tool stands before it already
        says = says.removeprefix(f"{setup.tool}, ")
    remark = ". ".join(
        text.rstrip(".")
        for text in ("" if bare else says, f"Prove it: {lowered(setup.test)}" if setup.test else "")
        if text
    )
    tool = "" if setup.tool == BLADE else setup.tool
    name = "" if setup.name in remark else setup.name  # the sentence says it
    what = ", ".join(word for word in (setup.machine, tool, name) if word)
    return (f"{what}:" if remark else what, to, f"{remark}." if remark else "", fine), told


BLADE = "saw blade"
MOUTH = Fraction(160)
"""What a usual calliper opens [mm]; above that its figure is of no use."""


def lowered(text: str) -> str:
    """A sentence that goes on after a colon."""
    return text[:1].lower() + text[1:]


def letters(folder: Folder, step: Step) -> str:
    """The letters of the parts in hand, each with its count."""
    counts: dict[str, int] = {}
    for name in step.parts:
        letter = folder.letter_of.get(name, name)
        counts[letter] = counts.get(letter, 0) + 1
    return ", ".join(letter if count == 1 else f"{count} x {letter}" for letter, count in counts.items())


def asked(folder: Folder, name: str) -> str:
    """A number to measure now, and what it was planned to be."""
    number = folder.driver(name)
    said_so = opening_said(name) or spoken_number(name)
    return f"{said_so}, planned {said(number, folder.build.manner)}:" if number is not None else f"{said_so}:"


OPENING = re.compile(r"(?:.*\.)?([^.]+)\.opening (wide|high|deep)")


def opening_said(name: str) -> str:
    """The size of an opening in few words, for a line with room to write: "drawer 1, width of its opening"."""
    found = OPENING.fullmatch(name)
    return f"{found[1]}, {MEASURES[found[2]]} of its opening" if found else ""


def minutes(step: Step) -> str:
    """How long it takes, and how long to wait after it."""
    waits = f"then wait {lasting(step.waits)}" if step.waits else ""
    return ", ".join(word for word in (lasting(step.hands_on), waits) if word)


def lasting(minutes: int) -> str:
    """A time in minutes, a long one in hours where it comes out in halves: "45 min", "3 h"."""
    if minutes >= LONG and minutes % 30 == 0:
        return f"{minutes / 60:g} h"
    return f"{minutes} min" if minutes else ""


LONG = 120


PAGE = Page("steps", 90, "Steps", make, follows=True)
