"""Patches of a mesh: triangles that make one face together, and the loops of edges round them."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from storystick.shapes.solid import Mesh

NEAR = 1e-6
"""How far a corner may be off the plane or the round wall that it belongs to [mm]."""
NONE = -1

Floats = NDArray[np.float64]
type Half = tuple[int, int]  # an edge as one of its two triangles goes along it: from corner to corner
type Loop = tuple[int, ...]  # corners in turn, the patch on the left


@dataclass(frozen=True, eq=False)
class Skin:
    """A closed mesh with its neighbourhoods."""

    mesh: Mesh

    @cached_property
    def triangles(self) -> list[tuple[int, int, int]]:
        """Corner numbers."""
        return [(a, b, c) for a, b, c in self.mesh.triangles.tolist()]

    @cached_property
    def owner(self) -> Mapping[Half, int]:
        """The triangle that goes along each half edge."""
        return {half: t for t, one in enumerate(self.triangles) for half in halves(one)}

    @cached_property
    def across(self) -> Floats:
        """Twice the area of each triangle, as a vector square to it [mm2]."""
        corners = self.mesh.vertices[self.mesh.triangles]
        return np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])

    def neighbours(self, triangle: int) -> Iterator[int]:
        """The three triangles beside one."""
        return (self.owner[b, a] for a, b in halves(self.triangles[triangle]))


def halves(one: tuple[int, int, int]) -> tuple[Half, Half, Half]:
    """The half edges of a triangle."""
    a, b, c = one
    return (a, b), (b, c), (c, a)


def together(skin: Skin, chosen: Iterable[int]) -> Iterator[list[int]]:
    """Chosen triangles in groups that hang together by their edges, in order of their first triangle."""
    waiting = set(chosen)
    for seed in sorted(waiting):
        if seed not in waiting:
            continue
        waiting.discard(seed)
        group = [seed]
        for triangle in group:
            fresh = [other for other in skin.neighbours(triangle) if other in waiting]
            waiting.difference_update(fresh)
            group += dict.fromkeys(fresh)
        yield sorted(group)


def flatten(skin: Skin, patch: list[int], first: int) -> list[int]:
    """Give every triangle without a patch the number of its plane, from `first` on; a seed triangle for each number.

    The largest triangles go first, so that slivers, whose own normals mean nothing, follow their neighbours.
    """
    area = np.linalg.norm(skin.across, axis=1)
    vertices = skin.mesh.vertices
    seeds: list[int] = []
    for seed in np.lexsort((np.arange(len(area)), -area)).tolist():
        if patch[seed] != NONE:
            continue
        normal = skin.across[seed] / area[seed]
        off = (vertices @ normal - vertices[skin.triangles[seed][0]] @ normal).tolist()
        number = first + len(seeds)
        seeds.append(seed)
        patch[seed] = number
        group = [seed]
        for triangle in group:
            for other in skin.neighbours(triangle):
                if patch[other] == NONE and all(abs(off[corner]) <= NEAR for corner in skin.triangles[other]):
                    patch[other] = number
                    group.append(other)
    return seeds


def loops(skin: Skin, patch: list[int]) -> Mapping[int, tuple[Loop, ...]]:
    """The loops round each patch: a patch that touches itself in a corner passes through it twice."""
    rim = {half for half, t in skin.owner.items() if patch[skin.owner[half[1], half[0]]] != patch[t]}
    found: dict[int, list[Loop]] = {}
    done: set[Half] = set()
    for start in sorted(rim):
        if start in done:
            continue
        loop = []
        half = start
        while half not in done:
            done.add(half)
            loop.append(half[0])
            half = _next(skin, half, rim)
        found.setdefault(patch[skin.owner[start]], []).append(tuple(loop))
    return {number: tuple(found[number]) for number in sorted(found)}


def _next(skin: Skin, half: Half, rim: set[Half]) -> Half:
    """The next edge of the rim: round the corner through the patch's own triangles."""
    while True:
        after = {h[0]: h for h in halves(skin.triangles[skin.owner[half]])}[half[1]]
        if after in rim:
            return after
        half = (after[1], after[0])


def others_there(skin: Skin, patch: list[int], rim: Loop) -> bool:
    """Does a third face touch the rim in a corner?"""
    return any(
        len(faces_at(skin, patch, (corner, rim[(number + 1) % len(rim)]))) > 2 for number, corner in enumerate(rim)
    )


def faces_at(skin: Skin, patch: list[int], start: Half) -> set[int]:
    """The patches that meet in a corner; `start` is a half edge that leaves it."""
    half, met = start, set()
    while True:
        triangle = skin.owner[half]
        met.add(patch[triangle])
        last = next(c for c in skin.triangles[triangle] if c not in half)
        half = (start[0], last)
        if half == start:
            return met
