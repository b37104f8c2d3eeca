"""A check: its stable name, what it asks, and the function that asks it."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Literal

from storystick.ground.finding import Finding
from storystick.ground.source import Source
from storystick.model.build import Build
from storystick.model.scene import Scene
from storystick.model.sequence import AssemblyOrder
from storystick.shop.shop import Shop

type Looks = Literal["numbers", "bodies"]
"""What a check looks at: sizes, weights, loads, and each part in its place; or how bodies move and come together."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What a check may look at: build, solids, shop, and the order it goes together in, if that is known."""

    build: Build
    scene: Scene
    shop: Shop
    sequence: AssemblyOrder | None = None


@dataclass(frozen=True, slots=True)
class Check:
    """`code` never changes; `asks` says in a sentence what is asked and why; `run` gives findings, good ones too.

    One that looks at numbers gives the same whether or not it is known in which order things go together.
    """

    code: str
    asks: str
    run: Callable[[Asked], Iterator[Finding]]
    source: Source
    looks: Looks = "numbers"
