"""How checks speak: numbers in the build's own manner, advice rounded to the safe side, names as a maker says them."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction

from storystick.ground.finding import Finding, Grade
from storystick.ground.length import INCH, Manner, down_to, show, show_number, up_to
from storystick.ground.quantities import Weight, show_weight

G_N_PER_KG = 9.80665


def exact(value: Fraction | float) -> Fraction:
    """A length as a fraction; the dust behind the sixth digit of a float is wiped off."""
    return value if isinstance(value, Fraction) else Fraction(str(round(value, 6)))


def mm(value: Fraction | float, manner: Manner) -> str:
    """A length [mm] as the build prints it."""
    return show(exact(value), manner)


def small(value: Fraction | float, manner: Manner) -> str:
    """A gap or a sag [mm], finer than a rule shows: hundredths of a millimetre, or thousandths of an inch."""
    if manner.unit == "inch":
        return show_number(exact(value) / INCH, 3) + '"'
    return show_number(exact(value), 2) + " mm"


def thin(value: Fraction | float, manner: Manner) -> str:
    """A thickness of a screw to stay within, rounded down, finer than a rule shows."""
    step = INCH / 1000 if manner.unit == "inch" else Fraction(1, 10)
    return small(down_to(exact(value), step), manner)


def at_least(value: Fraction | float, manner: Manner) -> str:
    """A length to make something at least, rounded up to a mark."""
    return show(up_to(exact(value), manner.mark), manner)


def at_most(value: Fraction | float, manner: Manner) -> str:
    """A length to make something at most, rounded down to a mark."""
    return show(down_to(exact(value), manner.mark), manner)


def kg(value: float, manner: Manner) -> str:
    """A weight [kg] as the build prints it: pounds where it prints inches."""
    return show_weight(Weight(exact(value)), "lb" if manner.unit == "inch" else "kg")


def decimal(value: float, digits: int = 1) -> str:
    """A plain number."""
    return show_number(exact(value), digits)


def percent(share: float) -> str:
    """A chance in percent; never a flat 0 or 100 for what may yet happen."""
    if share < 0.005:
        return "under 1 %"
    return "over 99 %" if share > 0.995 else f"{round(share * 100)} %"


def listed(names: Iterable[str], most: int = 4) -> str:
    """a, b and c; after `most` of them, how many more."""
    found = list(dict.fromkeys(names))
    if len(found) > most:
        found = [*found[: most - 1], f"{len(found) - most + 1} more"]
    return found[0] if len(found) == 1 else f"{', '.join(found[:-1])} and {found[-1]}" if found else ""


def where(point: tuple[float, float, float], manner: Manner) -> str:
    """A place in the room, as one would point at it."""
    x, y, z = point
    left = f"{mm(x, manner)} from the left" if x >= 0 else f"{mm(-x, manner)} left of the room's corner"
    front = f"{mm(y, manner)} from the front" if y >= 0 else f"{mm(-y, manner)} forward of the room's front"
    return f"{left}, {front}, {mm(z, manner)} up"


def like_it(count: int) -> str:
    """How many more of the same kind there are, in words that follow a name."""
    return f" (and {count - 1} more like it)" if count > 1 else ""


def worth_telling(found: Iterable[tuple[str, Finding]]) -> Iterator[Finding]:
    """All that is not fine, as it comes, what is alike but for its name once; then of what is fine only the tightest
    of each sort.
    """
    tightest: dict[str, Finding] = {}
    told: dict[tuple[object, ...], list[Finding]] = {}
    for sort, one in found:
        if one.grade > Grade.FINE:
            told.setdefault(_alike(one), []).append(one)
        elif sort not in tightest or (one.margin or 0) < (tightest[sort].margin or 0):
            tightest[sort] = one
    yield from (_together(group) for group in told.values())
    yield from tightest.values()


def _alike(one: Finding) -> tuple[object, ...]:
    """What two findings have in common that say the same of two things and are mended in the same way."""
    name = one.about[0] if one.about else ""
    says, advice = (text.replace(name, "") if name else text for text in (one.says, one.advice))
    return one.place.file, one.place.line, one.grade, says, advice, one.mend, one.tries


def _together(group: list[Finding]) -> Finding:
    first = group[0]
    about = tuple(dict.fromkeys(name for one in group for name in one.about))
    if len(group) == 1 or len(about) < len(group):
        return first
    name = first.about[0]
    return replace(first, says=first.says.replace(name, name + like_it(len(group)), 1), about=about)
