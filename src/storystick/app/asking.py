"""How a call is read: what every verb is made of, the plan and shop that it asks about, and how mistakes are shown."""

import argparse
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from storystick.app import show, tell
from storystick.app.log import log_of, log_text
from storystick.app.pipeline import CantGoOn, Job, Texts
from storystick.app.rack import on_rack, rack_file
from storystick.ground.length import Manner
from storystick.shop.shop import OnHand

type Words = argparse.Namespace
type Add = Callable[[argparse.ArgumentParser], None]

@dataclass(frozen=True, slots=True)
class Verb:
    """A question: what it asks in a line, what it takes, how it is answered (the exit code)."""

    asks: str
    example: str
    takes: tuple[Add, ...]
    run: Callable[[Words], int]


def takes_plan(parser: argparse.ArgumentParser) -> None:
    """The plan, the shop, the units, the form of the answer."""
    parser.add_argument("plan", metavar="PLAN", help="the plan file")
    parser.add_argument("--shop", metavar="FILE", help="your shop file; the usual small shop if not said")
    parser.add_argument("--units", choices=("inch", "mm"), help="print in these units instead of the plan's")
    parser.add_argument("--rack", action="store_true", help="cut first from what is on your rack")
    parser.add_argument("--json", action="store_true", help="answer as JSON")


def job_of(words: Words) -> Job:
    """The job that a call is about: plan, shop and log read from their files. OSError when one can't be opened."""
    things = tuple(kept.thing for kept in on_rack(rack_file())) if getattr(words, "rack", False) else ()
    return job_at(Path(words.plan), Path(words.shop) if words.shop else None, things)


def job_at(plan: Path, shop: Path | None = None, rack: tuple[OnHand, ...] = ()) -> Job:
    """The job of a plan's file with what its log says, in a shop."""
    shop_text, shop_file = (_text(shop), shop.name) if shop else (None, "")
    texts = Texts(_text(plan), plan.name, shop_text, shop_file, log_text(plan), log_of(plan).name)
    return Job(texts, tell=tell.progress(), rack=rack)


def _text(path: Path) -> str:
    return path.read_bytes().decode("utf-8", errors="replace")


def manner_of(words: Words, job: Job) -> Manner:
    """How lengths are printed: as the plan says, or as the call asks."""
    plan = job.plan
    return Manner(words.units, plan.fraction) if words.units else plan.manner


def answered(run: Callable[[Words], int]) -> Callable[[Words], int]:
    """A verb that shows what is wrong with the plan when it can't be worked out."""

    def attempt(words: Words) -> int:
        try:
            return run(words)
        except CantGoOn as trouble:
            tell.done()
            show.findings(trouble.findings, getattr(words, "json", False), heading=str(trouble))
            return 1

    return attempt
