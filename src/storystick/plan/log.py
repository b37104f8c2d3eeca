"""The log of a piece: what was measured, cut and done, one entry a line, only ever added to.

    2026-11-25 14:03  read  birch18.thick  17.6 mm, 17.7 mm  with calliper
    2026-11-25 14:20  cut  cabinet.bottom  length 734.7375 mm; width 406.4 mm; thickness 17.6 mm
    2026-11-25 14:31  done  step:4f1c22d09ab3e6f1  step 12: Cut the dadoes  =cabinet.left side.shelf 1.wide 17.75 mm
    2026-11-25 14:40  note  the second sheet is a little darker

Fields are parted by two spaces or more. A line that lacks its end was torn by a crash: it is told, and doesn't count.
Later lines overrule earlier ones; a line with a mark (#) may have been sent late and counts from the time it bears.
Nothing here reads a file or the clock.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, get_args

from storystick.ground.finding import Finding, Grade, Place
from storystick.ground.length import Unit, read_length, show_number
from storystick.ground.misread import Misread, nearest, one_of
from storystick.ground.outcome import Outcome
from storystick.plan.readings import Readings

type Act = Literal["read", "set", "cut", "anew", "done", "undone", "note", "chose"]
ACTS: tuple[Act, ...] = get_args(Act.__value__)
MEANS: Mapping[Act, str] = {
    "read": "a named number was measured on the real thing",
    "set": "a named number is to be this, whatever the sums say",
    "cut": "a part was cut, with every number that was printed for it",
    "anew": "a part that was cut is to be cut again",
    "done": "a step is done, with every number that it cut",
    "undone": "a step is not done after all",
    "note": "a note",
    "chose": "what was done about a fit that broke, and the numbers that this moves",
}
HEAD = "# What was measured, cut and done, the latest last. Only ever added to: later lines overrule earlier ones.\n"
TORN = "  (torn)"
LONGEST = 200_000


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry: when, what kind, of what, and what it says.

    when     as written: 2026-11-25 14:03
    about    name of the number, part, fit or step; "" for a note
    values   readings in order [mm];  numbers  name and value of every number that is held from now on [mm]
    tool     what it was measured with;  says  in words;  tag  a mark of who sent it, so that one sent twice counts once
    """

    when: str
    act: Act
    about: str = ""
    values: tuple[Fraction, ...] = ()
    numbers: tuple[tuple[str, Fraction], ...] = ()
    tool: str = ""
    says: str = ""
    tag: str = ""
    place: Place = Place()


@dataclass(frozen=True, slots=True)
class Log:
    """All entries, in the order in which they were written."""

    entries: tuple[Entry, ...] = ()

    @property
    def readings(self) -> Mapping[str, Readings]:
        """What was read last of each number, less what was settled otherwise since."""
        return {name: found for name, found in self._now().items() if isinstance(found, Readings)}

    @property
    def held(self) -> Mapping[str, tuple[Fraction, Entry]]:
        """Numbers that stay as they were cut or settled [mm], with the entry that says so."""
        return {name: found for name, found in self._now().items() if isinstance(found, tuple)}

    def _now(self) -> dict[str, Readings | tuple[Fraction, Entry]]:
        found: dict[str, Readings | tuple[Fraction, Entry]] = {}
        for one in self.entries:
            match one.act:
                case "read":
                    found[one.about] = Readings(one.values, one.tool, "middle", f"the log, {one.when}", one.place)
                case "anew":
                    for name in [name for name in found if name.startswith(f"{one.about}.")]:
                        del found[name]
                case "undone":
                    named = {name for name, _ in one.numbers}
                    for name in [name for name, held in found.items() if _by_doing(held, one.about, name in named)]:
                        del found[name]
                case "cut" | "done" | "set" | "chose":
                    for name, value in one.numbers:
                        measured = isinstance(found.get(name), Readings)
                        if one.act in ("set", "chose") or not measured:  # what was measured beats what was printed
                            found[name] = (value, one)
        return found

    @property
    def cut(self) -> Mapping[str, Entry]:
        """Parts that are cut, by name, with the entry that says so: a part is, too, once its length and width are."""
        found: dict[str, Entry] = {}
        for one in self.entries:
            if one.act == "cut":
                found[one.about] = one
            elif one.act == "anew":
                found.pop(one.about, None)
        held = self.held
        for name, (_, one) in held.items():
            part = name.removesuffix(".length")
            if one.act == "done" and part != name and f"{part}.width" in held:
                found.setdefault(part, one)
        return found

    @property
    def in_wood(self) -> frozenset[str]:
        """Names of the parts that are cut, and of the numbers that were held or measured as they were cut."""
        held = (name for name, (_, one) in self.held.items() if one.act in ("cut", "done"))
        return frozenset((*self.cut, *held))

    @property
    def chosen(self) -> Mapping[str, Entry]:
        """What was last chosen for each fit that broke."""
        return {one.about: one for one in self.entries if one.act == "chose"}

    @property
    def done(self) -> tuple[str, ...]:
        """Steps that are done, in the order in which they were."""
        found: dict[str, None] = {}
        for one in self.entries:
            if one.act == "done":
                found[one.about] = None
            elif one.act == "undone":
                found.pop(one.about, None)
        return tuple(found)


def _by_doing(held: Readings | tuple[Fraction, Entry], about: str, named: bool) -> bool:
    """Whether a number is held because something was done that is not done after all."""
    return isinstance(held, tuple) and held[1].act == "done" and (named or held[1].about == about)


def written(entry: Entry) -> str:
    """An entry as a line with its end."""
    words: list[str] = [entry.when, entry.act]
    if entry.about:
        words.append(_one_field(entry.about))
    if entry.values:
        words.append(", ".join(exact_mm(value) for value in entry.values))
    if entry.says:
        words.append(_one_field(entry.says).lstrip("=#"))
    if entry.act == "set":
        words.extend(exact_mm(value) for _, value in entry.numbers)
    elif entry.numbers:
        words.append("; ".join(f"{_shortened(name, entry.about)} {exact_mm(value)}" for name, value in entry.numbers))
    if entry.tool:
        words.append(f"with {_one_field(entry.tool)}")
    if entry.tag:
        words.append(f"#{_one_field(entry.tag)}")
    return "  ".join(words) + "\n"


def exact_mm(value: Fraction) -> str:
    """A length to a millionth of a millimetre: 734.7375 mm."""
    return f"{show_number(value, 6)} mm"


def _one_field(text: str) -> str:
    return " ".join(text.split())


def _shortened(name: str, about: str) -> str:
    return name.removeprefix(f"{about}.") if name.startswith(f"{about}.") else f"={name}"


def read_log(text: str, file: str = "", unit: Unit = "mm") -> Outcome[Log]:
    """The log that a text holds, and what in it can't be read: such a line doesn't count. Never raises."""
    found: list[Entry] = []
    faults: list[Finding] = []
    tags: set[str] = set()
    lines = text.split("\n")
    for number, line in enumerate(lines, 1):
        bare = line.rstrip("\r")
        place = Place(file, number, 1, number, len(bare) + 1)
        if not bare.strip() or bare.lstrip().startswith("#"):
            continue
        if number == len(lines) or bare.endswith(TORN):
            said = "The line broke off while it was being written; it doesn't count."
            faults.append(Finding("log-torn", Grade.NOTE, place, said, "Write that entry again if it is missed."))
            continue
        try:
            entry = _entry(bare, place, unit)
        except Misread as trouble:
            faults.append(_care(trouble.finding(place)))
            continue
        if not entry.tag or entry.tag not in tags:
            found.insert(_place_of(entry, found), entry)
            tags.add(entry.tag)
    return Outcome(Log(tuple(found)), tuple(faults))


def _place_of(entry: Entry, found: list[Entry]) -> int:
    """Where an entry comes among the others: at the end; one that was sent late, after those before its time."""
    at = len(found)
    while entry.tag and _TIME.fullmatch(entry.when) and at and found[at - 1].when > entry.when:
        at -= 1
    return at


_TIME = re.compile(r"\d{4}-\d\d-\d\d \d\d:\d\d(:\d\d)?")


def _care(finding: Finding) -> Finding:
    return Finding("log-line", Grade.CARE, finding.place, finding.says, finding.advice or "The line doesn't count.")


def _entry(line: str, place: Place, unit: Unit) -> Entry:
    if len(line) > LONGEST:
        raise Misread("a line of the log", line[:40], "a shorter line")
    fields = [field.strip() for field in line.strip().split("  ") if field.strip()]
    if len(fields) < 2 or fields[1] not in ACTS:
        act = fields[1] if len(fields) > 1 else ""
        raise Misread(line[:60], f"a time and then {one_of(ACTS)}", nearest(act, ACTS))
    when, act, rest = fields[0], _act(fields[1]), fields[2:]
    tag = rest.pop()[1:] if rest and rest[-1].startswith("#") else ""
    tool = rest.pop().removeprefix("with ") if rest and rest[-1].startswith("with ") and act == "read" else ""
    if act == "note":
        return Entry(when, act, says="  ".join(rest), tag=tag, place=place)
    if not rest:
        raise Misread(line[:60], "what it is about", "")
    about, rest = rest[0], rest[1:]
    if act == "read":
        values = tuple(read_length(one.strip(), unit) for one in " ".join(rest).split(",") if one.strip())
        if not values:
            raise Misread(line[:60], "what was read", f"{about}  17.6 mm")
        return Entry(when, act, about, values, tool=tool, tag=tag, place=place)
    if act == "set":
        if not rest:
            raise Misread(line[:60], "what it is to be", f"{about}  17.75 mm")
        return Entry(when, act, about, numbers=((about, read_length(rest[-1], unit)),), tag=tag, place=place)
    numbers: tuple[tuple[str, Fraction], ...] = ()
    if rest and act in ("done", "undone"):
        if rest[-1].startswith("="):
            numbers = tuple(_numbers(rest.pop(), about, unit))
    elif rest and act in ("cut", "chose") and not (act == "chose" and len(rest) == 1):
        numbers = tuple(_numbers(rest.pop(), about, unit))
    return Entry(when, act, about, numbers=numbers, says=" ".join(rest), tag=tag, place=place)


def _act(word: str) -> Act:
    return next(act for act in ACTS if act == word)


def _numbers(text: str, about: str, unit: Unit) -> Iterator[tuple[str, Fraction]]:
    for one in text.split(";"):
        words = one.strip().rsplit(" ", 2)
        if len(words) < 3:
            raise Misread(one, "a name and a length", "length 734.7 mm")
        name = words[0][1:] if words[0].startswith("=") else f"{about}.{words[0]}"
        yield name, read_length(" ".join(words[1:]), unit)
