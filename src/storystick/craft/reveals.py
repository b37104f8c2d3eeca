"""How a front or a door lies to its opening: within it by a gap, or over the boards round it."""

from collections.abc import Mapping
from dataclasses import dataclass

from storystick.craft.carcass import Room
from storystick.craft.draft import Draft, X, Z, minus, plus
from storystick.ground.dim import Dim
from storystick.ground.source import practice

COVER = practice("an overlay front covers a board that it shares to the middle, an outer board all over, less the gap")
SHARED = ("divider", "shelf", "mid rail", "mid stile")


@dataclass(frozen=True, slots=True, eq=False)
class Edge:
    """One edge of a front: how far it lies outside of its opening (`out`) or inside it [mm]."""

    out: bool
    by: Dim


@dataclass(frozen=True, slots=True, eq=False)
class Lie:
    """All four edges of a front, by axis and sign."""

    edges: Mapping[tuple[int, int], Edge]

    def size(self, axis: int, opening: Dim) -> Dim:
        """The front's size along an axis."""
        low, high = self.edges[axis, -1], self.edges[axis, 1]
        if low.by is high.by and low.out == high.out:
            return opening + 2 * low.by if low.out else opening - 2 * low.by
        for edge in (low, high):
            opening = opening + edge.by if edge.out else opening - edge.by
        return opening

    def start(self, axis: int, opening: Dim) -> Dim:
        """Where the front begins along an axis, for an opening that begins there."""
        edge = self.edges[axis, -1]
        return minus(opening, edge.by) if edge.out else plus(opening, edge.by)


def lie(room: Room, reveal: Dim, overhang: Dim | None, *, covers: bool) -> Lie:
    """How a front lies; where no board bounds the opening it stays inside by half the gap."""
    edges = {}
    for axis in (X, Z):
        for sign in (-1, 1):
            bound = room.bounds.get((axis, sign))
            if bound is None:
                edges[axis, sign] = Edge(False, reveal / 2)
            elif covers:
                edges[axis, sign] = Edge(True, overhang or cover(bound, axis, reveal))
            else:
                edges[axis, sign] = Edge(False, reveal)
    return Lie(edges)


def cover(bound: Draft, axis: int, reveal: Dim) -> Dim:
    """How far an overlay front lies over a board beside its opening."""
    wide = bound.span[axis]
    return wide / 2 - reveal / 2 if bound.role in SHARED else wide - reveal
