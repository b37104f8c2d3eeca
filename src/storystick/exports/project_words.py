"""How lengths and their reasons are said in the project's JSON."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from storystick.ground.dim import Dim, Leaf, Named, formula, terms
from storystick.ground.length import show
from storystick.model.build import Build
from storystick.model.part import Three

type Json = dict[str, Any]


@dataclass(frozen=True, slots=True, eq=False)
class Words:
    """Says the numbers of one build."""

    build: Build

    def plain(self, value: Fraction) -> Json:
        """A length that has no name of its own, as those of a layout."""
        return {"mm": round(float(value), 6) + 0.0, "text": show(value, self.build.manner)}

    def length(self, dim: Dim) -> Json:
        """A length with the name to ask why; one without a name tells what it rests on, or what says so."""
        if dim.name in self.build.pages:
            return {**self.plain(dim.value), "name": dim.name}
        says = dim.node.says if isinstance(dim.node, Leaf) else ""
        return {**self.plain(dim.value), "name": None, "says": says, "rests_on": self.rests_on(dim)}

    def maybe(self, dim: Dim | None) -> Json | None:
        """A length, or null."""
        return None if dim is None else self.length(dim)

    def spot(self, at: tuple[Dim, ...]) -> list[Json]:
        """Coordinates."""
        return [self.length(dim) for dim in at]

    def whd(self, size: Three) -> Json:
        """A size by the words for its three ways."""
        return {word: self.length(dim) for word, dim in zip(("wide", "deep", "high"), size, strict=True)}

    def said(self, dim: Dim) -> str:
        """A number of any power as text."""
        return show(dim.value, self.build.manner) if dim.power == 1 else f"{float(dim.value):g}"

    def page(self, dim: Dim) -> Json:
        """A named number with its reason: its formula, and the numbers it rests on, or where it was given."""
        node = dim.node
        made = node.by if isinstance(node, Named) else dim
        start = made.node if isinstance(made.node, Leaf) else None
        value = round(float(dim.value), 6) + 0.0
        return {
            "mm": value if dim.power == 1 else None,
            "value": value,
            "power": dim.power,
            "text": self.said(dim),
            "because": node.because if isinstance(node, Named) else "",
            "formula": "" if start else formula(made, self.said),
            "kind": start.kind if start else "reckoned",
            "says": start.says if start else "",
            "file": start.place.file if start else "",
            "line": start.place.line if start else 0,
            "rests_on": self.rests_on(made),
        }

    def rests_on(self, dim: Dim) -> list[str]:
        """Names of the nearest numbers with a page that a number was reckoned from, in the order of its formula."""
        first = dim.node.looked_at if isinstance(dim.node, Leaf) else (dim,)
        return list(dict.fromkeys(name for one in first for name in self._below(one)))

    def _below(self, dim: Dim) -> Iterator[str]:
        """Names of the nearest numbers that have a page."""
        if dim.name in self.build.pages:
            yield dim.name
            return
        for term in terms(dim):
            yield from self._below(term)
