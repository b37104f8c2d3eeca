"""The shelf of joints: every module in this folder that has a `KIND` is one. Adding a joint is adding a file."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from storystick.craft.draft import JointWork
from storystick.ground.fields import Fields
from storystick.ground.shelf import taken_from


@dataclass(frozen=True, slots=True)
class JointKind:
    """A way to join two boards. `sample` is a plan that shows it; `also` are other names that it goes by.

    fields   what a plan may say about it
    seats    what it can take: 'corner' (guest at the host's end), 'inside' (guest within the host), 'panel' (all round)
    """

    name: str
    work: JointWork
    fields: Fields
    says: str
    also: tuple[str, ...] = ()
    seats: tuple[str, ...] = ("corner", "inside")


@cache
def kinds() -> Mapping[str, JointKind]:
    """Every kind of joint by name, in the order of their names."""
    return {kind.name: kind for kind in taken_from(__path__, __name__, "KIND", JointKind)}


@cache
def by_word() -> Mapping[str, JointKind]:
    """Every kind of joint by every word it goes by."""
    return {word: kind for kind in kinds().values() for word in (kind.name, *kind.also)}
