"""Steps: what to do, in order, with a picture of the state after each."""

from collections.abc import Iterator

from storystick.model.work import Setup, Step
from storystick.paper.blocks import Block, Heading, StepBlock
from storystick.paper.drawing.drawn import Drawn
from storystick.paper.drawing.picture import after_step
from storystick.paper.folder import Folder
from storystick.paper.lettering import said, set_to
from storystick.paper.pages import Page
from storystick.paper.press import Paper

WIDE, HIGH = 80.0, 60.0


def make(folder: Folder, paper: Paper) -> Iterator[Block]:
    """A block for each step, under the stage of the job it belongs to."""
    stage = None
    for step in folder.order.steps:
        if step.stage is not stage:
            stage = step.stage
            yield Heading(stage.value.capitalize())
        yield step_block(folder, step)


def step_block(folder: Folder, step: Step) -> StepBlock:
    """One step as a block."""
    return StepBlock(
        step.number,
        step.title,
        step.does,
        tuple(setting(setup, folder) for setup in step.setups),
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
    return after_step(folder, step.shows, step.new, WIDE, HIGH, alt)


def setting(setup: Setup, folder: Folder) -> tuple[str, str, str]:
    """What is set, to what, and what to know about it."""
    to = set_to(setup.to, folder.build.manner) if setup.to is not None else ""
    bare = setup.says.startswith(setup.name) and len(setup.says) < 40  # says no more than the figure beside it
    says = "" if bare and to else setup.says
    remark = ". ".join(text.rstrip(".") for text in (says, f"Prove it: {setup.test}" if setup.test else "") if text)
    return (", ".join(word for word in (setup.machine, setup.tool, setup.name) if word), to, remark)


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
    return f"{name}, planned {said(number, folder.build.manner)}:" if number is not None else f"{name}:"


def minutes(step: Step) -> str:
    """How long it takes, and how long to wait after it."""
    words = [f"{step.hands_on} min" if step.hands_on else "", f"then wait {step.waits} min" if step.waits else ""]
    return ", ".join(word for word in words if word)


PAGE = Page("steps", 90, "Steps", make)
