"""What a plan wants of the order of work: steps pinned, forbidden or preferred, in words of their titles."""

from dataclasses import dataclass
from typing import Literal, get_args

from storystick.ground.finding import NOWHERE, Finding, Place, mistake
from storystick.ground.marked import Mapping, Scalar, Sequence, plain
from storystick.ground.misread import nearest
from storystick.ground.reads import misfit

type Sort = Literal["pin", "forbid", "prefer"]
SORTS: tuple[str, ...] = get_args(Sort.__value__)
LIKE = "glue up the drawers before glue up the cabinet"
BEFORE, FIRST, LAST = " before ", " first", " last"


@dataclass(frozen=True, slots=True)
class Wanted:
    """One wish: its sort, its words, and where they stand."""

    sort: Sort
    text: str
    place: Place = NOWHERE


def unclear(sort: str, text: str) -> bool:
    """Whether a wish says neither which step before which nor, where nothing is forbidden, which one first or last."""
    first, before, then = text.partition(BEFORE)
    if before:
        return not (first.strip() and then.strip())
    alone = text.removesuffix(FIRST) if text.endswith(FIRST) else text.removesuffix(LAST)
    return sort == "forbid" or alone == text or not alone.strip()


def read_wanted(section: Mapping, mistakes: list[Finding]) -> tuple[Wanted, ...]:
    """The wishes of a plan's work section, in their order; everything wrong with them told."""
    found: list[Wanted] = []
    for key, node in section:
        word = plain(key.text)
        if word not in SORTS:
            mistakes.append(mistake(key.place, key.text, "pin, forbid or prefer", nearest(word, SORTS)))
            continue
        for one in node.items if isinstance(node, Sequence) else (node,):
            if not isinstance(one, Scalar):
                mistakes.append(misfit(one, "two steps in words of their titles", LIKE))
            elif unclear(word, one.text):
                expected = "which step before which, or one step first or last"
                mistakes.append(mistake(one.place, one.text, expected, LIKE))
            else:
                sort: Sort = "pin" if word == "pin" else "forbid" if word == "forbid" else "prefer"
                found.append(Wanted(sort, one.text, one.place))
    return tuple(found)
