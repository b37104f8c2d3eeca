"""What must hold for every piece, whatever its kind and joints."""

import pytest

from storystick.craft.joints import kinds as joint_kinds
from storystick.craft.kinds import kinds
from storystick.ground.finding import Grade
from storystick.model.cut import Bore
from storystick.model.scene import Scene
from storystick.shapes.clash import clashes
from tests.craft.plans import aside, bored, head_of, samples, shifted, tip_of
from tests.told import job

SAMPLES = samples()
BUILT = {name: job(text) for name, text in SAMPLES.items()}
every = pytest.mark.parametrize("name", list(SAMPLES))


@every
def test_it_builds_without_a_mistake(name: str) -> None:
    outcome = BUILT[name].resolved
    assert [f"{f.place}: {f.says} {f.advice}" for f in outcome.findings if f.grade >= Grade.CARE] == []
    assert outcome.made is not None
    assert outcome.made.parts


@every
def test_no_two_boards_are_in_one_place(name: str) -> None:
    scene = Scene(BUILT[name].build)
    assert [(c.first, c.other, round(c.volume)) for c in clashes(list(scene.parts.items()))] == []


@every
def test_every_part_is_still_one_piece_of_wood(name: str) -> None:
    scene = Scene(BUILT[name].build)
    for part in BUILT[name].build.parts:
        whole = float(part.length) * float(part.width) * float(part.thickness)
        assert 0.4 * whole < scene.own_solids[part.name].volume <= whole * 1.000001, part.name


@every
def test_every_screw_goes_down_the_middle_of_its_holes(name: str) -> None:
    build = BUILT[name].build
    for one in build.fasteners:
        if one.kind not in ("screw", "pocket screw"):
            continue
        for board in (one.through, one.into):
            if board not in build.parts_by_name or (one.kind == "pocket screw" and board == one.into):
                continue
            part = build.part(board)
            head = shifted(build, head_of(one), one.assembly, part.assembly)
            near = [
                aside(mouth, head, one.way)
                for _, mouth, way in bored(build, part)
                if sum(a * b for a, b in zip(way, one.way, strict=True)) > 0.999
            ]
            assert min(near, default=99.0) < 1e-3, f"{one.name} misses its hole in {board}"


@every
def test_no_screw_comes_out_of_the_wood_that_it_holds_in(name: str) -> None:
    build = BUILT[name].build
    for one in build.fasteners:
        part = build.part(one.into)
        point = shifted(build, tip_of(one), one.assembly, part.assembly)
        inside = min(
            min(point[axis] - float(part.low(axis)), float(part.high(axis)) - point[axis]) for axis in range(3)
        )
        assert inside > 0.2, f"{one.name} comes within {inside:.2f} mm of the outside of {one.into}"


@every
def test_a_pilot_ends_where_its_screw_ends(name: str) -> None:
    build = BUILT[name].build
    for one in build.fasteners:
        if one.kind != "screw":
            continue
        part = build.part(one.into)
        tip = shifted(build, tip_of(one), one.assembly, part.assembly)
        ends = [
            tuple(m + float(bore.depth) * w for m, w in zip(mouth, way, strict=True))
            for bore, mouth, way in bored(build, part)
            if bore.called == "pilot hole" and bore.depth is not None
        ]
        assert min(sum((a - b) ** 2 for a, b in zip(tip, end, strict=True)) for end in ends) < 1e-6, one.name


@every
def test_every_bore_begins_on_its_board(name: str) -> None:
    for part in BUILT[name].build.parts:
        for cut in part.cuts:
            if isinstance(cut, Bore):
                for axis, at in zip(cut.side.axes, cut.at, strict=True):
                    assert 0 < at.value < part.size[axis].value, f"{cut.name} in {part.name}"


@every
def test_names_of_parts_fasteners_and_items_are_their_own(name: str) -> None:
    build = BUILT[name].build
    for things in (build.parts, build.fasteners, build.items, build.assemblies, build.joints):
        names = [thing.name for thing in things]  # type: ignore[attr-defined]
        assert len(names) == len(set(names)), [n for n in names if names.count(n) > 1][:3]


def test_every_kind_of_assembly_shows_itself_in_a_plan() -> None:
    assert {f"kind {name}" for name in kinds()} <= set(SAMPLES)


def test_every_kind_of_joint_is_used_in_some_plan() -> None:
    used = {joint.kind for one in BUILT.values() for joint in one.build.joints}
    assert set(joint_kinds()) - {"screws", "nails"} <= used | {"butt"}
    assert any("screws" in joint.holds for one in BUILT.values() for joint in one.build.joints)
