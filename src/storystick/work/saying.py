"""How parts, sizes and lists are said in the steps."""

from collections import Counter
from collections.abc import Iterable, Sequence
from fractions import Fraction
from functools import lru_cache

from storystick.ground.dim import Dim
from storystick.ground.length import INCH, Manner, show, show_number
from storystick.model.build import Build
from storystick.model.part import Part

SIXTY_FOURTHS = 64
MANY = 5  # more parts than this are told by their letters
FEW_ALIKE = 3  # more parts of one letter than this are counted, and not named one by one
ROLES = {"drawer face": "drawer front", "drawer front": "box front", "drawer back": "box back"}


def and_of(words: Iterable[str]) -> str:
    """A list as a sentence says it: "bottom, top and back"."""
    said = list(words)
    return " and ".join([", ".join(said[:-1]), said[-1]] if len(said) > 1 else said)


@lru_cache(maxsize=1024)
def tool_size(size: Fraction) -> str:
    """The size of a bit in the unit it is sold in: 5 mm, 3/4 in."""
    sixty_fourths = size / INCH * SIXTY_FOURTHS
    if sixty_fourths.denominator != 1 or size.denominator == 1:
        return f"{show_number(size, 2)} mm"
    return show(size, Manner("inch", SIXTY_FOURTHS), bare=True) + " in"


def short(part: Part, build: Build) -> str:
    """A part's name in a few words: "right side", "cabinet right side" of several pieces, "drawer 1 left side"."""
    if _is_alone(part, build):
        return part.assembly.replace(".", " ") if len(build.entries) > 1 else " ".join(part.assembly.split(".")[1:])
    words = part.name.split(".")
    return " ".join(words[1 if len(words) > 2 or (len(build.entries) == 1 and len(words) > 1) else 0 :])


def _is_alone(part: Part, build: Build) -> bool:
    """The only part of an assembly, such as a door of one board: it goes by the assembly's name."""
    return _parts_in(build)[part.assembly] == 1 and ("." in part.assembly or len(build.entries) > 1)


@lru_cache(maxsize=2)
def _parts_in(build: Build) -> Counter[str]:
    """How many parts each assembly has, in itself and in what is inside it."""
    found: Counter[str] = Counter()
    for part in build.parts:
        words = part.assembly.split(".")
        found.update(".".join(words[:n]) for n in range(1, len(words) + 1))
    return found


def called(part: Part, build: Build) -> str:
    """A part by letter and name: "B right side"."""
    return f"{part.letter} {short(part, build)}".strip()


def all_called(parts: Sequence[Part], build: Build) -> str:
    """Parts by letter and name: "A left side, A right side and C bottom"; of many the letters, and what they are."""
    names = Counter(called(part, build) for part in parts)
    if len(names) > MANY and all(part.letter for part in parts):
        letters = Counter(part.letter for part in parts)
        said = and_of(f"{letter} ({count} of them)" if count > 1 else letter for letter, count in letters.items())
        return f"{said} ({_roles(parts)})"
    if len(parts) > FEW_ALIKE and parts[0].letter and len({part.letter for part in parts}) == 1:
        return f"{parts[0].letter} ({_roles(parts)})"
    return and_of(f"{name} ({count} of them)" if count > 1 else name for name, count in names.items())


def _roles(parts: Sequence[Part]) -> str:
    roles = Counter(role_said(part) for part in parts)
    return and_of(many(count, role) for role, count in roles.items())


def role_said(part: Part) -> str:
    """What a part does, in the words of its card: of a drawer with a front of its own, the box has a box front."""
    return ROLES.get(part.role, part.role)


def said(dim: Dim, build: Build) -> str:
    """A length in the manner of the plan."""
    return show(dim.value, build.manner)


def cap(text: str) -> str:
    """The first letter made large."""
    return text[:1].upper() + text[1:]


def many(count: int, one: str, several: str = "") -> str:
    """So many of something: "1 screw", "4 screws"."""
    return f"{count} {one if count == 1 else several or plural(one)}"


def plural(word: str) -> str:
    """More than one of it: "notches", "holes for a pull"."""
    head, link, rest = word.partition(" for ")
    if rest.startswith(("a ", "an ")) and head.endswith("hole"):  # each has its own: "holes for the pulls"
        rest = f"the {plural(rest.partition(' ')[2])}"
    for between in (" of ", " with ", " x "):
        if not link and not (between == " x " and word[:1].isdigit()):  # a size before its name: "1 in x 1/8 in magnet"
            head, link, rest = word.partition(between)
    if not head.endswith("s") or head.endswith("ss"):
        head += "es" if head.endswith(("ch", "sh", "x", "ss")) else "s"
    return head.replace("shelfs", "shelves").replace("foots", "feet") + link + rest


def spoken(assembly: str) -> str:
    """An assembly in a sentence: "the cabinet", "drawer 1 of the cabinet"."""
    *outer, own = assembly.split(".")
    if not outer:
        return f"the {own}"
    return f"{own if own[-1:].isdigit() else 'the ' + own} of {spoken('.'.join(outer))}"


def spoken_all(assemblies: Sequence[str]) -> str:
    """Assemblies in a sentence: "drawers 1 to 3 of the cabinet"; "the cabinet and the board"."""
    groups: dict[str, list[str]] = {}
    for one in assemblies:
        groups.setdefault(one.rpartition(".")[0], []).append(one)
    said: list[str] = []
    for outer, inside in groups.items():
        if outer and len(inside) > 1:
            said.append(f"{and_of(_numbered([one.rpartition('.')[2] for one in inside]))} of {spoken(outer)}")
        else:
            said.extend(spoken(one) for one in inside)
    return and_of(said)


def _numbered(names: Sequence[str]) -> list[str]:
    """Names that differ in their number together, in its order: "drawers 1, 3 and 4", "drawers 1 to 5"."""
    words: dict[str, list[int]] = {}
    for name in names:
        word, _, number = name.rpartition(" ")
        if word and number.isdecimal():
            words.setdefault(word, []).append(int(number))
        else:
            words.setdefault(name, [])
    found = []
    for word, numbers in words.items():
        row = sorted(set(numbers))
        if len(row) > 2 and row[-1] - row[0] == len(row) - 1:
            found.append(f"{plural(word)} {row[0]} to {row[-1]}")
        elif len(row) > 1:
            found.append(f"{plural(word)} {and_of(map(str, row))}")
        else:
            found.append(f"{word} {row[0]}" if row else word if word[-1:].isdigit() else f"the {word}")
    return found


COUNTS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")


def so_many(count: int, what: str) -> str:
    """A count before what is counted: "2 x swivel castor"; in words before a size: "four 5 mm shelf pins"."""
    if not what[:1].isdigit():
        return f"{count} x {what}"
    return f"{COUNTS[count]} {what}" if count < len(COUNTS) else f"{count} of the {what}"
