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
    words = part.name.split(".")
    return " ".join(words[1 if len(words) > 2 or (len(build.entries) == 1 and len(words) > 1) else 0 :])


def called(part: Part, build: Build) -> str:
    """A part by letter and name: "B right side"."""
    return f"{part.letter} {short(part, build)}".strip()


def all_called(parts: Sequence[Part], build: Build) -> str:
    """Parts by letter and name: "A left side, A right side and C bottom"; of many the letters, and what they are."""
    names = Counter(called(part, build) for part in parts)
    if len(names) > MANY and all(part.letter for part in parts):
        letters = Counter(part.letter for part in parts)
        roles = Counter(part.role for part in parts)
        said = and_of(f"{letter} ({count} of them)" if count > 1 else letter for letter, count in letters.items())
        return f"{said} ({and_of(many(count, role) for role, count in roles.items())})"
    return and_of(f"{name} ({count} of them)" if count > 1 else name for name, count in names.items())


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
    for between in (" of ", " with "):
        if not link:
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
    """Assemblies in a sentence: "drawer 1, drawer 2 and drawer 3 of the cabinet"; "the cabinet and the board"."""
    groups: dict[str, list[str]] = {}
    for one in assemblies:
        groups.setdefault(one.rpartition(".")[0], []).append(one)
    said: list[str] = []
    for outer, inside in groups.items():
        if outer and len(inside) > 1:
            said.append(f"{and_of(one.rpartition('.')[2] for one in inside)} of {spoken(outer)}")
        else:
            said.extend(spoken(one) for one in inside)
    return and_of(said)
