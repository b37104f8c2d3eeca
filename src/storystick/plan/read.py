"""Reading a plan file: heading, sections, names; every mistake of these told together."""

from typing import cast

from storystick.ground.fields import Filled
from storystick.ground.finding import Finding, Grade, Place, in_order, mistake
from storystick.ground.length import Unit
from storystick.ground.marked import Mapping, Marked, Scalar, plain, read_marked
from storystick.ground.outcome import Outcome
from storystick.ground.reads import misfit
from storystick.plan.heading import read_heading
from storystick.plan.names import check_names
from storystick.plan.plan import NAMED, NOTHING, Paper, Plan, Section, Words
from storystick.plan.wanted import read_wanted

SHORT = {
    "measure": "opening: 30 1/4", "site": "bench: {plane: top, height: 34}", "stock": "birch18: {sheet: birch plywood}",
    "build": "carcass: {case: {wide: 24}}", "loads": "carcass.shelf: 20 kg", "accept": "wide-gap: it is meant to be so",
    "work": "pin: glue up the drawers before glue up the cabinet",
}  # fmt: skip


def read_plan(text: str, file: str = "") -> Outcome[Plan]:
    """The plan that a text holds, and everything wrong with its heading, its sections and its names.

    A plan is made whenever the text is YAML at all, so that later stages can tell their mistakes as well; whether it
    is fit to go on with is for `Outcome.sound` to say. Never raises for any text.
    """
    marked = read_marked(text, file)
    mistakes: list[Finding] = list(marked.findings)
    if marked.made is None:
        return Outcome(None, in_order(mistakes))
    root = _root(marked.made, mistakes)
    heading = read_heading(root, mistakes) if root.entries else None
    if heading is None:
        if not mistakes:
            place = Place(file, 1, 1, 1, 1)
            mistakes.append(
                Finding("missing", Grade.STOP, place, "There is nothing in this plan.", "Write units: inch.")
            )
        return Outcome(None, in_order(mistakes))
    plan = _plan(heading, text, file, root, mistakes)
    check_names(tuple(plan.section(name) for name in NAMED), mistakes)
    _check_reasons(plan.accept, mistakes)
    if not plan.build.entries and not heading.has("build"):
        says = "The plan builds nothing: it has no 'build' section."
        mistakes.append(Finding("missing", Grade.STOP, root.place, says, f"Write build: and below it {SHORT['build']}"))
    return Outcome(plan, in_order(mistakes))


def _root(node: Marked, mistakes: list[Finding]) -> Mapping:
    if isinstance(node, Mapping):
        return node
    mistakes.append(misfit(node, "a plan: lines with a word, a colon and a value", "units: inch"))
    return NOTHING


def _plan(heading: Filled, text: str, file: str, root: Mapping, mistakes: list[Finding]) -> Plan:
    units = cast(Unit, heading.text("units"))
    work = _section(heading, "work", mistakes)
    metric = units == "mm"
    return Plan(
        heading.text("title"), units, file, text,
        about=heading.maybe_text("about") or "",
        by=heading.maybe_text("by") or "",
        version=heading.maybe_text("version") or "",
        licence=heading.maybe_text("licence") or "",
        changes=heading.texts("changes"),
        fraction=heading.count("fraction"),
        paper=cast(Paper, heading.maybe_text("paper") or ("a4" if metric else "letter")),
        words=cast(Words, heading.maybe_text("words") or ("british" if metric else "american")),
        currency=heading.maybe_text("currency") or "",
        measure=_section(heading, "measure", mistakes),
        site=_section(heading, "site", mistakes),
        stock=_section(heading, "stock", mistakes),
        build=_section(heading, "build", mistakes),
        loads=_section(heading, "loads", mistakes),
        accept=_section(heading, "accept", mistakes),
        work=work,
        wanted=read_wanted(work, mistakes),
        place=root.place,
    )  # fmt: skip


def _section(heading: Filled, name: Section, mistakes: list[Finding]) -> Mapping:
    node = heading.node(name)
    if node is None:
        return NOTHING
    if isinstance(node, Mapping):
        return node
    if isinstance(node, Scalar) and not node.text and not node.quoted:
        return Mapping((), node.place)
    mistakes.append(misfit(node, f"lines set in below {name}, each with a name and a colon", SHORT[name]))
    return NOTHING


def _check_reasons(accept: Mapping, mistakes: list[Finding]) -> None:
    """What is accepted is accepted for a reason, in words."""
    for key, node in accept:
        if not isinstance(node, Scalar) or plain(node.text) in ("", "yes", "true", "ok"):
            wrong = node.text if isinstance(node, Scalar) else ""
            mistakes.append(
                mistake(node.place, wrong, "a reason in your own words", f"{key.text}: the wall takes that load")
            )
