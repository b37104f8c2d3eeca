"""A new piece from a few questions, asked in the order in which they can be answered with a rule in hand.

The answers become a plan that can be read as it stands: what was measured with all its readings, what is already there,
the stock as it really is, and a first guess at the rest, to be changed on the page.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from storystick.ground.finding import Broken
from storystick.ground.length import Manner, Unit, read_length, show
from storystick.ground.misread import Misread
from storystick.ground.quantities import read_weight
from storystick.plan.write import Answers, skeleton

PURPOSES = ("drawers", "shelves", "doors", "machine", "worktop")
PLACES = ("free", "gap")
FEET = {"floor": "", "feet": "feet", "plinth": "plinth", "castors": "castors"}
MOST = 12
LAST = Fraction(20_000)  # nothing that goes into a shop is longer [mm]


@dataclass(frozen=True, slots=True)
class Asked:
    """The answers, read. Lengths in mm; several readings of one thing as they were taken."""

    title: str
    purpose: str
    units: Unit
    place: str
    wide: tuple[Fraction, ...]
    high: tuple[Fraction, ...]
    deep: Fraction
    under: bool
    count: int
    load: str
    sheet: str
    sold_as: Fraction
    thick: tuple[Fraction, ...]
    stands: str


type Mistakes = dict[str, str]


def read_answers(data: Mapping[str, object]) -> tuple[Asked | None, Mistakes]:
    """The answers as given in text, and what is wrong with each by its name; None when anything is."""
    wrong: Mistakes = {}
    text = {name: value.strip()[:200] for name, value in data.items() if isinstance(value, str)}
    units: Unit = "mm" if text.get("units") == "mm" else "inch"

    def one_of(name: str, words: tuple[str, ...]) -> str:
        if (value := text.get(name, words[0])) not in words:
            wrong[name] = "Choose one of these."
        return value

    def lengths(name: str, least: int = 1) -> tuple[Fraction, ...]:
        given = data.get(name, [])
        rows = [given] if isinstance(given, str) else given if isinstance(given, list) else []
        words = [row.strip() for row in rows if isinstance(row, str) and row.strip()][:8]
        found: list[Fraction] = []
        for row in words:
            try:
                value = read_length(row, units)
            except Misread as trouble:
                wrong[name] = f"{str(trouble)[:1].upper()}{str(trouble)[1:]}."
                return ()
            if not 0 < value < LAST:
                wrong[name] = f"{row} can't be right."
                return ()
            found.append(value)
        if len(found) < least:
            wrong[name] = "Write what the rule says."
        return tuple(found)

    title = " ".join(text.get("title", "").split()) or "New piece"
    count = text.get("count", "3")
    if not count.isdecimal() or not 0 < int(count) <= MOST:
        wrong["count"] = f"A number from 1 to {MOST}."
    load = text.get("load", "")
    if load:
        _try(lambda: read_weight(load, "lb" if units == "inch" else "kg"), "load", wrong)
    wide, high, deep = lengths("wide"), lengths("high"), lengths("deep")
    sold, thick = lengths("sold as"), lengths("thick", 0)
    asked = Asked(
        title, one_of("purpose", PURPOSES), units, one_of("place", PLACES), wide, high, (deep or (Fraction(0),))[0],
        text.get("under") == "yes", int(count) if count.isdecimal() else 1, load, text.get("sheet") or "birch plywood",
        (sold or (Fraction(0),))[0], thick, one_of("stands", tuple(FEET)),
    )  # fmt: skip
    return (None if wrong else asked), wrong


def _try(read: Callable[[], object], name: str, wrong: Mistakes) -> None:
    try:
        read()
    except Misread as trouble:
        wrong[name] = f"{str(trouble)[:1].upper()}{str(trouble)[1:]}."


def plan_text(asked: Asked) -> str:
    """The plan for some answers."""
    manner = Manner(asked.units, 64)
    text = skeleton(
        Answers(
            asked.title, asked.units, min(asked.wide), asked.deep, min(asked.high), sheet=asked.sheet,
            thickness=asked.thick, sold_as=asked.sold_as, fields=_fields(asked),
        )
    )  # fmt: skip
    for before, after in (*_measured(asked, manner), *_there(asked), *_rest(asked)):
        if text.count(before) != 1:
            raise Broken(f"the first page of a plan has no single {before!r}")
        text = text.replace(before, after)
    return text


def _said(value: Fraction, manner: Manner) -> str:
    said = show(value, manner, bare=True)
    whole = (value * manner.denominator / Fraction(254, 10)).denominator == 1
    return said if manner.unit == "mm" or whole else show(value, Manner("mm", decimals=2))


def _measured(asked: Asked, manner: Manner) -> list[tuple[str, str]]:
    """Width and height with all their readings, and how they were taken."""
    found = []
    for word, values, says in (
        ("width", asked.wide, "between what it goes between, at the floor, the middle and the top"),
        ("height", asked.high, "floor to what it goes under"),
    ):
        if len(values) > 1:
            readings = ", ".join(_said(v, manner) for v in values)
            line = f'{word}: {{readings: [{readings}], with: tape, takes: smallest, says: "{says}"}}'
            found.append((f"  {word}: {_said(min(values), manner)}\n", f"  {line}\n"))
    return found


def _there(asked: Asked) -> list[tuple[str, str]]:
    """What it goes between and what it goes under, as plain bodies."""
    thick = "4" if asked.units == "inch" else "100"
    lines = []
    if asked.place == "gap":
        lines.append(f"  left wall:  {{box: [{thick}, depth, height], at: [-{thick}, 0, 0]}}")
        lines.append(f"  right wall: {{box: [{thick}, depth, height], at: [width, 0, 0]}}")
    if asked.under:
        lines.append(f"  top above:  {{box: [width, depth, {thick}], at: [0, 0, height]}}")
    if not lines:
        return []
    return [("\nsite:\n", "\nsite:\n" + "\n".join(lines) + "\n")]


def _rest(asked: Asked) -> list[tuple[str, str]]:
    """Clearances, stock for backs and drawers, where it stands, what it carries."""
    inch = asked.units == "inch"
    room, thin = ("1/2", "1/4") if inch else ("12", "6")
    changes = [
        ("\n\n# What is to be built.", f"\n  thin: {{sheet: {asked.sheet}, sold as: {thin}}}\n\n# What is to be built.")
    ]
    if asked.place == "gap":
        changes.append(("      wide: width\n", f"      wide: width - {room}\n"))
    high = (
        "height" + (f" - {room}" if asked.under else "") + (" - 2 x panel.thick" if asked.purpose == "worktop" else "")
    )
    if high != "height":
        changes.append(("      high: height\n", f"      high: {high}\n"))
    sits = "{on: floor, centred between: [left wall, right wall], front at: 0}" if asked.place == "gap" else "floor"
    more = f"\n    sits: {sits}"
    if asked.purpose == "worktop":
        over = "1" if inch else "25"
        slab = f"stock: panel, layers: 2, covers: carcass, overhang: {{front: {over}}}, held by: {{screws: carcass}}"
        more += f"\n  worktop:\n    slab: {{{slab}}}"
        more += "\n    sits: {on: carcass, flush: {left: carcass, back: carcass}}"
    changes.append(("\n\n# What it has to carry", f"{more}\n\n# What it has to carry"))
    if asked.load:
        loads = "".join(f"  {name}: {asked.load}\n" for name in _carrying(asked))
        changes.append(("\nloads:\n", f"\nloads:\n{loads}"))
    return changes  # fmt: skip


def _carrying(asked: Asked) -> list[str]:
    if asked.purpose == "drawers":
        return [f"carcass.drawer {n}" for n in range(1, asked.count + 1)]
    if asked.purpose in ("shelves", "doors"):
        return [f"carcass.shelf {n}" for n in range(1, asked.count + 1)]
    return ["worktop" if asked.purpose == "worktop" else "carcass.top"]


def _fields(asked: Asked) -> tuple[tuple[str, str], ...]:
    """What the case is told beside its sizes."""
    found = [("back", "{stock: thin}")]
    if FEET[asked.stands]:
        found.append(("stands on", FEET[asked.stands]))
    if asked.purpose == "drawers":
        found.append(("drawers", "{stock: panel, bottom stock: thin, front: inset, runs on: slides}"))
        found.append(("bays", f"[{', '.join(['drawer'] * asked.count)}]"))
    elif asked.purpose in ("shelves", "doors"):
        if asked.purpose == "doors":
            found.append(("doors", "{set: overlay}"))
        rows = ["open"]
        for number in range(asked.count):
            rows += ["fixed shelf" if number == asked.count // 2 else "loose shelf", "open"]
        found.append(("bays", f"[{', '.join(rows)}]"))
    elif asked.purpose == "machine":
        found.append(("bays", "[open, fixed shelf, open]"))
    else:
        found.append(("bays", "[open, loose shelf, open]"))
    return tuple(found)
