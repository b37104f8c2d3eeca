"""How parts, sizes and lists are said in the steps."""

from collections import Counter
from collections.abc import Iterable, Sequence
from fractions import Fraction

from storystick.ground.dim import Dim
from storystick.ground.length import INCH, Manner, show, show_number
from storystick.model.build import Build
from storystick.model.part import Part

SIXTY_FOURTHS = 64


def and_of(words: Iterable[str]) -> str:
    """A list as a sentence says it: "bottom, top and back"."""
    said = list(words)
    return " and ".join([", ".join(said[:-1]), said[-1]] if len(said) > 1 else said)


def tool_size(size: Fraction) -> str:
    """The size of a bit in the unit it is sold in: 5 mm, 3/4 in."""
    sixty_fourths = size / INCH * SIXTY_FOURTHS
    if sixty_fourths.denominator != 1 or size.denominator == 1:
        return f"{show_number(size, 2)} mm"
    return show(size, Manner("inch", SIXTY_FOURTHS), bare=True) + " in"


def short(part: Part, build: Build) -> str:
    """A part's name without its assembly where there is only one assembly."""
    only = len({one.assembly for one in build.parts}) == 1
    return part.name.rpartition(".")[2] if only else part.name.replace(".", " ")


def called(part: Part, build: Build) -> str:
    """A part by letter and name: "B right side"."""
    return f"{part.letter} {short(part, build)}".strip()


def all_called(parts: Sequence[Part], build: Build) -> str:
    """Parts by letter and name, each once: "A left side, A right side and C bottom"."""
    names = Counter(called(part, build) for part in parts)
    return and_of(f"{name} ({count} of them)" if count > 1 else name for name, count in names.items())


def said(dim: Dim, build: Build) -> str:
    """A length in the manner of the plan."""
    return show(dim.value, build.manner)


def cap(text: str) -> str:
    """The first letter made large."""
    return text[:1].upper() + text[1:]


def many(count: int, one: str, several: str = "") -> str:
    """So many of something: "1 screw", "4 screws"."""
    return f"{count} {one if count == 1 else several or one + 's'}"


def spoken(assembly: str) -> str:
    """An assembly in a sentence: "the cabinet drawer 1"."""
    return "the " + assembly.replace(".", " ")
