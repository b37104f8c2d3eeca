"""Why a step stands where it does: what it waits for, its reason, and what waits for it."""

import re
from collections.abc import Iterator, Sequence

from storystick.model.work import Step, WorkOrder


def steps_named(order: WorkOrder, asked: str) -> list[Step]:
    """The steps that words mean: "step 12", or two words and more of a title."""
    words = " ".join(asked.casefold().split())
    number = re.fullmatch(r"step ([0-9]{1,4})", words)
    if number is not None:
        return [step for step in order.steps if step.number == int(number[1])]
    return [step for step in order.steps if " " in words and words in step.title.casefold()]


def why_step(step: Step, steps: Sequence[Step]) -> Iterator[str]:
    """Sentences: its reason, what has to be done before it, and what can't begin until it is done."""
    yield f"{step.number}. {step.title}, on day {step.day}."
    yield f"Why here: {step.why_here}."
    of = {one.number: one for one in steps}
    if step.after:
        yield f"It waits for {_told([of[n] for n in step.after if n in of])}."
    behind = [one for one in steps if step.number in one.after]
    if behind:
        yield f"For it wait {_told(behind)}."
    if not step.after and not behind:
        yield "Nothing waits for it, and it waits for nothing."


def _told(steps: Sequence[Step], most: int = 6) -> str:
    names = [f"step {one.number} ({one.title[:1].lower()}{one.title[1:]})" for one in steps[:most]]
    more = f" and {len(steps) - most} more" if len(steps) > most else ""
    return ", ".join(names) + more
