"""Laws for any piece: what can be is replayed, what can't be is so by trying everything; counted out in whole cubes."""

from dataclasses import replace
from fractions import Fraction
from itertools import combinations, product
from random import Random

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from storystick.assembly import put_together
from storystick.model.build import Build
from storystick.model.cut import Side
from storystick.model.part import Lean, Part
from storystick.model.scene import Scene
from storystick.model.sequence import AssemblyOrder
from tests.assembly.replay import faults
from tests.assembly.test_cannot import TOOLED
from tests.checks.by_hand import assembly, board, channel, piece
from tests.told import job

CUBE = 20
WAYS = [(1, 0, 0), (-1, 0, 0), (0, 1, 0), (0, -1, 0), (0, 0, 1), (0, 0, -1)]
type Cubes = frozenset[tuple[int, int, int]]

LONG, DEEP, HIGH = 3, 3, 2
CELLS = sorted(product(range(LONG), range(DEEP), range(HIGH)))
INTO = {
    Side.END: (1, 0, 0), Side.FAR_END: (-1, 0, 0), Side.EDGE: (0, 1, 0), Side.FAR_EDGE: (0, -1, 0),
    Side.FACE: (0, 0, 1), Side.BACK: (0, 0, -1),
}  # fmt: skip

shares = st.lists(st.sampled_from("abcd"), min_size=len(CELLS), max_size=len(CELLS))


def shared_out(letters: list[str]) -> tuple[Build, dict[str, Cubes]]:
    """A block of cubes shared out among boards, each a box with square troughs in it; those that can be cut so."""
    bodies: dict[str, Cubes] = {}
    parts = []
    for letter in sorted(set(letters)):
        mine = frozenset(cell for cell, whose in zip(CELLS, letters, strict=True) if whose == letter)
        part = cut_out(f"case.{letter}", mine)
        if part is not None:
            bodies[part.name] = mine
            parts.append(part)
    assume(len(parts) > 1)
    return piece(*parts), bodies


def cut_out(name: str, mine: Cubes) -> Part | None:
    """A board of just those cubes; None where one that it lacks can't be cut out straight from any side."""
    low = [min(cell[a] for cell in mine) for a in range(3)]
    size = [max(cell[a] for cell in mine) - low[a] + 1 for a in range(3)]
    cuts = []
    for cell in product(*(range(low[a], low[a] + size[a]) for a in range(3))):
        if cell in mine:
            continue
        side = next((side for side in INTO if _open(cell, side, mine, low, size)), None)
        if side is None:
            return None
        down = side.normal
        deep = low[down] + size[down] - cell[down] if side.is_far else cell[down] - low[down] + 1
        first, second = side.axes
        spot = ((cell[first] - low[first]) * CUBE, (cell[second] - low[second]) * CUBE)
        cuts.append(channel(f"{name} {cell}", spot, (CUBE, CUBE), deep * CUBE, side))
    where = (low[0] * CUBE, low[1] * CUBE, low[2] * CUBE)
    return board(name, where, (size[0] * CUBE, size[1] * CUBE, size[2] * CUBE), cuts=cuts, datum=(1, 1, -1))


def _open(cell: tuple[int, ...], side: Side, mine: Cubes, low: list[int], size: list[int]) -> bool:
    """Whether a trough from a side down to a cube takes nothing that is to stay."""
    here = list(cell)
    while all(low[a] <= here[a] < low[a] + size[a] for a in range(3)):
        if tuple(here) in mine:
            return False
        here = [h - step for h, step in zip(here, INTO[side], strict=True)]
    return True


def leaves(some: Cubes, others: Cubes, way: tuple[int, int, int]) -> bool:
    """Whether some cubes, pushed on and on, never meet the others."""
    for far in range(1, 16):
        if any((x + far * way[0], y + far * way[1], z + far * way[2]) in others for x, y, z in some):
            return False
    return True


def comes_apart(bodies: dict[str, Cubes], names: frozenset[str]) -> bool:
    """By trying every group on every way, and both halves again."""
    if len(names) < 2:
        return True
    for count in range(1, len(names) // 2 + 1):
        for group in combinations(sorted(names), count):
            some, rest = frozenset(group), names - set(group)
            one = frozenset().union(*(bodies[name] for name in some))
            other = frozenset().union(*(bodies[name] for name in rest))
            if any(leaves(one, other, way) for way in WAYS):
                return comes_apart(bodies, some) and comes_apart(bodies, rest)
    return False


@settings(max_examples=120)
@given(shares)
def test_it_finds_an_order_exactly_where_trying_everything_finds_one(letters: list[str]):
    build, bodies = shared_out(letters)
    order = put_together(build, Scene(build), TOOLED)
    assert order.can_be == comes_apart(bodies, frozenset(bodies))
    if order.can_be:
        assert list(faults(Scene(build), TOOLED, order)) == []
    for one in order.stuck:
        assert not comes_apart(bodies, frozenset(one.names))
        for gone in one.names:
            assert comes_apart(bodies, frozenset(one.names) - {gone})


def test_among_boards_cut_from_one_block_some_lock_and_some_do_not():
    """So that the law above is about both."""
    chance = Random(4)
    found = []
    while len(found) < 60:
        letters = chance.choices("abcd", k=len(CELLS))
        cells = {x: frozenset(c for c, whose in zip(CELLS, letters, strict=True) if whose == x) for x in set(letters)}
        bodies = {f"case.{x}": mine for x, mine in cells.items() if cut_out(x, mine)}
        if len(bodies) > 2:
            found.append(comes_apart(bodies, frozenset(bodies)))
    assert 5 < sum(found) < 55


def test_trying_everything_knows_a_ball_in_a_cage_from_two_bent_bars():
    """The referee itself."""
    bars = {
        "a": frozenset({(0, 1, 1), (1, 1, 1), (2, 1, 1), (0, 0, 1), (2, 2, 1)}),
        "b": frozenset({(1, 0, 1), (1, 0, 0), (1, 1, 0)}),
    }
    assert comes_apart(bars, frozenset("a"))
    assert comes_apart(bars, frozenset("ab"))
    caged = {
        "cage": frozenset(set(product(range(3), repeat=3)) - {(1, 1, 1)}),
        "ball": frozenset({(1, 1, 1)}),
    }
    assert not comes_apart(caged, frozenset(caged))


rows = st.lists(
    st.sampled_from(["open", "fixed shelf", "loose shelf", "drawer 120", "open with lip"]), min_size=1, max_size=3
)


def told_rows(some: list[str]) -> str:
    """Rows of a column, with something open between any two boards."""
    listed: list[str] = []
    for row in some:
        if listed and "shelf" in row and "shelf" in listed[-1]:
            listed.append("open")
        listed.append(row)
    if "shelf" in listed[0]:
        listed.insert(0, "open")
    if "shelf" in listed[-1]:
        listed.append("open")
    if not any(row.startswith("open") for row in listed):
        listed.append("open")
    return "{rows: [" + ", ".join(listed) + "]}"


@settings(max_examples=25)
@given(
    st.lists(rows, min_size=1, max_size=3),
    st.sampled_from(["dado", "rabbet", "butt", "screws", '{dado: {screws: "4 x 40"}}']),
    st.sampled_from(["groove", "rabbet", "screwed on"]),
    st.sampled_from(["", "stands on: castors, ", "stands on: plinth, ", "stands on: feet, "]),
    st.sampled_from([500, 900]),
)
def test_any_case_goes_together_and_replays_or_names_what_does_not(
    columns: list[list[str]], joint: str, back: str, stands: str, wide: int
):
    listed = [told_rows(one) for one in columns]
    bays = "{columns: [" + ", ".join(listed) + "]}" if len(columns) > 1 else listed[0][7:-1]
    text = f"""
title: any case
units: mm
stock:
  ply: {{sheet: birch plywood, thickness: 18 mm}}
  thin: {{sheet: birch plywood, thickness: 6 mm}}
  oak: {{board: white oak, thickness: 20 mm}}
build:
  case:
    case: {{wide: {wide}, deep: 450, high: 1400, stock: ply, joint: {joint}, back: {{stock: thin, joint: {back}}},
      {stands}lip: {{stock: oak, proud: 15}}, drawers: {{stock: ply, bottom stock: thin}}, bays: {bays}}}
"""
    one = job(text)
    assume(one.resolved.sound)
    order: AssemblyOrder = one.sequence
    if order.can_be:
        assert list(faults(one.scene, one.shop, order)) == []
    for stuck in order.stuck:
        for gone in stuck.names:
            parts = tuple(p for p in one.build.parts if p.name in stuck.names and p.name != gone)
            names = {p.name for p in parts}
            left = replace(
                one.build, parts=parts, items=(), sliders=(), spans=(),
                joints=tuple(j for j in one.build.joints if {j.host, j.guest} <= names),
                fasteners=tuple(f for f in one.build.fasteners if {f.through, f.into} <= names),
            )  # fmt: skip
            assert put_together(left, Scene(left), one.shop).can_be


def test_a_piece_turned_and_leaning_in_the_room_goes_together_the_same_way():
    text = """
title: turned
units: mm
stock:
  ply: {sheet: birch plywood, thickness: 18 mm}
build:
  case:
    case: {wide: 600, deep: 300, high: 700, stock: ply, bays: [open, fixed shelf, open]}
"""
    build = job(text).build
    straight = put_together(build, Scene(build), TOOLED)
    for turns, lean in ((1, None), (2, None), (3, None), (0, 10.0), (1, 20.0)):
        whole = build.assemblies[0]
        turned = replace(whole, turns=turns, lean=Lean(0, lean) if lean else None)
        other = replace(build, assemblies=(turned,))
        order = put_together(other, Scene(other), TOOLED)
        assert [one.moves for one in order.comings] == [one.moves for one in straight.comings]
        assert list(faults(Scene(other), TOOLED, order)) == []


@pytest.mark.parametrize(("slot", "goes"), [("20.3", True), ("20", True), ("19.95", True), ("19.5", False)])
def test_a_board_goes_into_a_slot_of_its_own_thickness_and_not_into_a_narrower_one(slot: str, goes: bool):
    """A bar 20 thick on the floor of a box that is closed but for a slot in its lid, right over the bar."""
    wide = Fraction(slot)
    left, right = Fraction(30) - wide / 2, Fraction(30) + wide / 2
    walls = [
        board("case.floor", (0, 0, 0), (60, 100, 10)),
        board("case.front", (0, -10, 0), (60, 10, 60), "xzy"),
        board("case.back", (0, 100, 0), (60, 10, 60), "xzy"),
        board("case.left", (-10, 0, 0), (10, 100, 60), "yzx"),
        board("case.right", (60, 0, 0), (10, 100, 60), "yzx"),
        board("case.left lid", (0, 0, 60), (left, 100, 10), "yxz"),
        board("case.right lid", (right, 0, 60), (60 - right, 100, 10), "yxz"),
    ]
    bar = board("bar.bar", (20, 0, 10), (20, 100, 40), "zyx", assembly="bar")
    both = (assembly(size=(60, 100, 70)), assembly("bar", removable=True, stands_on="case"))
    build = piece(*walls, bar, assemblies=both)
    order = put_together(build, Scene(build), TOOLED)
    assert order.can_be is goes
    assert goes or "bar" in {one.caught for one in order.stuck}
