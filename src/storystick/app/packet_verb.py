"""The packet asked for from the command line: on which paper, for which printer, as pages or as one long strip."""

import argparse
import sys
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any

from storystick.app import show, tell
from storystick.app.asking import Verb, Words, answered, job_of, manner_of, takes_plan
from storystick.ground.finding import Grade, worst
from storystick.ground.length import Manner, Unit, read_length
from storystick.ground.misread import Misread

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from storystick.app.beside import Beside
    from storystick.app.pipeline import Job
    from storystick.paper.blocks import Block
    from storystick.paper.drawing.label import LabelSheet
    from storystick.paper.press import Paper

type Drawn = "Mapping[str, Sequence[Block]]"

LABELS = "COLUMNS,ROWS,WIDE,HIGH,LEFT,TOP,ACROSS,DOWN"


class Refused(Exception):
    """An option that can't be taken; says why and what would be."""


def _into(parser: argparse.ArgumentParser) -> None:
    add = parser.add_argument
    add("--to", metavar="FILE", help="the file or folder to write it to; beside the plan if not said")
    add("--paper", choices=("letter", "a4"), help="paper size instead of the plan's")
    add("--angle", choices=("first", "third"), help="views in first or third angle instead of the plan's habit")
    add(
        "--arms", nargs=2, metavar=("LEVEL", "UPRIGHT"),
        help="how long both arms of the rule came out on a print without this: full size is made good by it",
    )  # fmt: skip
    add("--roll", metavar="WIDTH", help="only sticks and strips, each in one piece, for a plotter's roll so wide")
    add("--labels", metavar=LABELS, help="print the labels on a bought sheet: its grid, from the sheet's corner")
    add("--page", metavar="ADDRESS", help="where the page answers (http://...): the labels' codes open the part there")


@answered
def packet(words: Words) -> int:
    """The packet for the bench, as a PDF."""
    from storystick.app.beside import order_beside
    from storystick.app.files import aimed, write_whole
    from storystick.app.page.answers import in_units
    from storystick.app.pressing import press_waiting
    from storystick.paper import PAPERS, draw_pages, roll_out, wait_for_nothing
    from storystick.paper import packet as make_packet

    job = in_units(job_of(words), words.units or "")
    paper = words.paper or job.plan.paper
    try:
        asked = _asked(words, job, PAPERS[paper])
        wide = _roll(words.roll, job.plan.units)
    except (Refused, Misread) as trouble:
        tell.done()
        sys.stderr.write(f"storystick: {trouble}.\n")
        return 2
    own = Path(words.plan).with_suffix(".pdf")
    target = aimed(words.to, own if wide is None else own.with_stem(f"{own.stem}-sticks"))

    def steps(job: "Job") -> "Drawn":
        return {} if wide is not None else draw_pages(replace(job.work_folder, **asked), paper=paper, pages=("steps",))

    with order_beside(job, steps) as beside, press_waiting() as printed:
        _ = job.findings
        first = replace(job.first_folder, **asked)
        if wide is not None:
            pdf = roll_out(first, float(wide), printed=printed)
            beside.order_into(job)
        else:
            drawn = draw_pages(first, paper=paper, pages=wait_for_nothing(), tell=job.tell)
            beside.order_into(job)
            folder = replace(job.folder, **asked)
            lookup = _drawn(drawn, beside)
            pdf = make_packet(folder, paper=paper, tell=job.tell, printed=printed, drawn=lookup)
    write_whole(target, pdf)
    tell.done()
    show.wrote(target, len(pdf), job.all_findings, as_json=words.json)
    return 1 if worst(job.all_findings) is Grade.STOP else 0


def _drawn(here: "Drawn", beside: "Beside") -> "Callable[[str], Sequence[Block] | None]":
    """What is on a page, where it was drawn before: here, or, the steps, by the second process."""

    def drawn(name: str) -> "Sequence[Block] | None":
        if name == "steps":
            return (beside.next() or {}).get(name)
        return here.get(name)

    return drawn


def _asked(words: Words, job: "Job", paper: "Paper") -> "dict[str, Any]":
    """What the call asks for, by the names of the folder. Raises Refused or Misread."""
    plan = job.plan
    asked: dict[str, Any] = {}
    if words.angle:
        asked["words"] = "british" if words.angle == "first" else "american"
    if words.arms:
        level, upright = (read_length(text, plan.units) for text in words.arms)
        asked["print_off"] = printed_as(level, upright, manner_of(words, job))
    if words.labels:
        asked["label_sheet"] = label_sheet(words.labels, plan.units, paper)
    if words.page:
        if not words.page.startswith(("http://", "https://")) or len(words.page) > 200:
            raise Refused(f"--page: {words.page!r} is not an address such as http://192.168.1.20:4863")
        asked["page"] = words.page
    return asked


def printed_as(level: Fraction, upright: Fraction, manner: Manner) -> tuple[Fraction, Fraction]:
    """What a printer makes of a length, across and up, from the arms as measured [mm]. Refused beyond a tenth."""
    from storystick.paper.drawing.full_size import arm

    true, word = arm(manner)
    for way, found in (("level", level), ("upright", upright)):
        if abs(found / true - 1) > Fraction(1, 10):
            raise Refused(
                f"--arms: the {way} arm is {word} long in the file; a printer that is off by more than a tenth fits "
                "the pages to the paper: print at 100 % first, then measure"
            )
    return level / true, upright / true


def _roll(text: str | None, units: Unit) -> Fraction | None:
    """How wide the roll is [mm]. Raises Refused where it is too narrow for a strip or too wide for any plotter."""
    if text is None:
        return None
    wide = read_length(text, units)
    if not 150 <= wide <= 2000:
        raise Refused("--roll: a roll is between 150 mm and 2 m wide, as 24 in or 610 mm")
    return wide


def label_sheet(text: str, units: Unit, paper: "Paper") -> "LabelSheet":
    """A sheet of labels from eight numbers. Raises Refused or Misread."""
    from storystick.paper.drawing.label import LabelSheet

    words = [word.strip() for word in text.split(",")]
    if len(words) != 8 or not all(word.isdecimal() and 0 < int(word) < 100 for word in words[:2]):
        raise Refused(f"--labels: eight numbers are needed, {LABELS}, as 3,10,2 5/8,1,3/16,1/2,2 3/4,1")
    columns, rows = int(words[0]), int(words[1])
    wide, high, left, top, across, down = (float(read_length(word, units)) for word in words[2:])
    sheet = LabelSheet(columns, rows, wide, high, left, top, across, down)
    if wide < 20 or high < 12:
        raise Refused("--labels: a label is at least 20 mm wide and 12 mm high, else nothing can be read on it")
    if not sheet.goes_on(paper):
        raise Refused(f"--labels: these labels lie on one another or do not go on {paper.name} paper")
    return sheet


PACKET_VERBS = {
    "packet": Verb(
        "write the packet for the bench (PDF)", "storystick packet PLAN --paper a4", (takes_plan, _into), packet
    ),
}
