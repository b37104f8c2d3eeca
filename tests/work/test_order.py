"""The order of work: nothing before what it needs, every cut once, holes before glue, drawers after the dry fit."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import given as forall
from hypothesis import strategies as st

from storystick.model.build import Build, Opening, Slider
from storystick.model.cut import Cut, Side
from storystick.model.joining import Item
from storystick.model.work import Stage, Step, WorkOrder
from storystick.shop.read import default_shop
from storystick.shop.shop import Clamp, OwnTime
from storystick.work.jobs import Job
from storystick.work.turns import in_turn
from tests.work.by_hand import assembly, board, bore, case, channel, joined, mm, order_of, piece

SAWING = (Stage.BREAK_DOWN, Stage.SAW)
MAKING = (Stage.MACHINE, Stage.DRILL)
TOGETHER = (Stage.GLUE, Stage.ASSEMBLE)


def first(order: WorkOrder, part: str, *stages: Stage) -> int:
    return min(step.number for step in order.steps if step.stage in stages and part in step.parts)


def last(order: WorkOrder, part: str, *stages: Stage) -> int:
    return max((step.number for step in order.steps if step.stage in stages and part in step.parts), default=0)


def the_step(order: WorkOrder, words: str) -> Step:
    (found,) = [step for step in order.steps if words in step.title]
    return found


def drawers(count: int = 1) -> Build:
    """The case with drawers in it, each of five parts that are cut to fit their opening."""
    plain = case()
    parts, joints, openings, sliders, assemblies = list(plain.parts), list(plain.joints), [], [], list(plain.assemblies)
    for n in range(1, count + 1):
        name = f"case.drawer {n}"
        made = [
            board(f"{name}.left side", (0, 0, 0), (12, 350, 100), "yzx", role="drawer side", fit_to=name),
            board(f"{name}.right side", (500, 0, 0), (12, 350, 100), "yzx", role="drawer side", fit_to=name),
            board(f"{name}.front", (12, 0, 0), (488, 12, 100), "xzy", role="drawer front", fit_to=name),
            board(f"{name}.back", (12, 338, 0), (488, 12, 100), "xzy", role="drawer back", fit_to=name),
        ]
        parts += made
        joints += [
            joined(f"{name}.{end}", f"{name}.{side} side", 0, sign)
            for end in ("front", "back")
            for side, sign in (("left", -1), ("right", 1))
        ]
        assemblies.append(
            assembly(name, (512, 350, 100), kind="drawer", inside_of="case", removable=True, stands_on="case")
        )
        openings.append(Opening(name, "drawer", "case", (mm(18), mm(0), mm(18)), (mm(564), mm(400), mm(200))))
        sliders.append(Slider(name, name, name, mm(300), mm(12), (mm(12), mm(13)), "full extension side slide"))
    pages = {f"case.drawer {n}.opening wide": mm(564) for n in range(1, count + 1)}
    return replace(
        plain,
        parts=tuple(parts),
        joints=tuple(joints),
        openings=tuple(openings),
        sliders=tuple(sliders),
        assemblies=tuple(assemblies),
        pages=pages,
    )


def test_every_cut_is_made_by_exactly_one_step():
    build = drawers(2)
    made = sorted(cut for step in order_of(build).steps for cut in step.cuts)
    assert made == sorted((part.name, cut.name) for part in build.parts for cut in part.cuts)


def test_measuring_comes_first_and_putting_in_place_last():
    steps = order_of(case()).steps
    assert steps[0].stage is Stage.MEASURE
    assert steps[-1].stage is Stage.INSTALL


def test_holes_are_drilled_before_the_glue():
    order = order_of(case())
    for part in case().parts:
        assert last(order, part.name, *MAKING) < first(order, part.name, *TOGETHER)


def test_pilot_holes_are_drilled_through_the_clearance_holes_in_the_dry_fit():
    order = order_of(case())
    in_place = the_step(order, "Drill in place")
    assert the_step(order, "Dry-fit").number < in_place.number < first(order, "case.bottom", *TOGETHER)
    assert {part for part, _ in in_place.cuts} == {"case.bottom", "case.shelf", "case.top"}


def test_a_dry_fit_comes_before_every_glue_up():
    order = order_of(drawers(2))
    for build_part in drawers(2).parts:
        dry = first(order, build_part.name, Stage.DRY_FIT)
        assert dry < first(order, build_part.name, *TOGETHER)


def test_inside_faces_are_sanded_before_the_dry_fit():
    order = order_of(case())
    assert first(order, "case.left side", Stage.SAND) < the_step(order, "Dry-fit").number


def test_the_sides_close_the_case_last():
    order = order_of(case())
    glued = [step for step in order.steps if step.stage is Stage.GLUE]
    assert set(glued[-1].new) >= {"case.left side", "case.right side"}
    assert set(glued[-1].shows) == {part.name for part in case().parts}


def test_drawers_are_cut_after_the_case_has_been_dry_fitted_and_measured():
    order = order_of(drawers(2))
    dry = the_step(order, "Dry-fit the case")
    fit = the_step(order, "Cut what goes into the case to fit")
    assert dry.number < fit.number
    assert "case.drawer 1.opening wide" in dry.reads
    for step in order.steps:
        if step.stage in (*MAKING, *TOGETHER) and any("drawer" in part for part in step.parts):
            assert step.number > fit.number


def test_each_drawer_is_glued_up_once_with_all_its_parts():
    order = order_of(drawers(3))
    glued = [name for step in order.steps if step.stage is Stage.GLUE for name in step.new if "drawer" in name]
    assert sorted(glued) == sorted(part.name for part in drawers(3).parts if "drawer" in part.name)


def test_the_drawers_go_in_after_castors_and_slides():
    build = drawers(1)
    items = (
        Item("case castors", "3 inch swivel castor", "3 inch swivel castor", 4, "case", ("case.bottom",)),
        Item("case.drawer 1 slides", "full extension side slide", "14 in", 1, "case", ("case.left side",), unit="pair"),
    )
    order = order_of(replace(build, items=items))
    castors, slides, on, put_in = (
        the_step(order, w).number
        for w in ("castors", "slides: in the case", "slides: on the drawers", "Put the drawers")
    )
    assert last(order, "case.bottom", Stage.FINISH) < castors < slides < put_in
    assert last(order, "case.drawer 1.front", Stage.FINISH) < on < put_in


def test_what_is_cut_to_fit_the_place_itself_is_cut_last_of_all_sawing():
    plain = case()
    build = replace(
        plain, parts=(*plain.parts, board("scribe", (0, 0, 0), (18, 60, 700), "zyx", assembly="case", fit_to="wall"))
    )
    order = order_of(build)
    assert the_step(order, "the place itself").number > first(order, "scribe", Stage.SAW)


def test_a_part_is_sawn_even_when_no_layout_has_it():
    order = order_of(case(), cuttings=())
    assert the_step(order, "Saw ply to size").parts == tuple(part.name for part in case().parts)


def test_layers_are_glued_and_trimmed_before_anything_is_cut_in_them():
    groove = channel("trough", (100, 0), (40, 600), 6)
    upper = board("top.upper", (0, 0, 18), (1000, 600, 18), role="layer")
    lower = board("top.lower", (0, 0, 0), (1000, 600, 18), cuts=[groove], role="layer")
    build = piece(upper, lower, joints=(joined("top.upper", "top.lower", 2, -1),))
    order = order_of(build)
    glue, trim, cut = (the_step(order, w).number for w in ("Glue up the layers", "Trim", "Cut the trough"))
    assert glue < trim < cut


def test_other_work_is_done_while_glue_sets():
    build = drawers(1)
    steps = order_of(build).steps
    glued = next(step for step in steps if step.stage is Stage.GLUE and step.waits)
    after = steps[glued.number]  # the step that follows it
    assert glued.number not in after.after or all(s.number in after.after for s in steps if s.stage is Stage.GLUE)


def test_too_few_clamps_are_told_with_how_many_are_missing():
    # A case 600 wide closes side to side: screws hold it, so no clamps; without them 3 joints of 400 mm want 2 each.
    loose = case(fasteners=())
    shop = replace(default_shop("mm"), clamps=(Clamp("bar clamp", Fraction(600), 4),))
    order = order_of(loose, shop)
    (finding,) = [f for f in order.findings if f.code == "few-clamps"]
    assert (finding.number, finding.limit) == (6, 4)
    enough = replace(shop, clamps=(Clamp("bar clamp", Fraction(600), 6),))
    assert not [f for f in order_of(loose, enough).findings if f.code == "few-clamps"]


def test_screws_are_clamps_themselves():
    assert not [f for f in order_of(case(), replace(default_shop("mm"), clamps=())).findings if f.code == "few-clamps"]


def test_a_cut_that_no_tool_makes_is_told_and_still_has_its_step():
    build = case()
    shop = replace(default_shop("mm"), router=False, saws=())
    order = order_of(build, shop)
    assert any(f.code == "no-way" for f in order.findings)
    assert sorted(cut for step in order.steps for cut in step.cuts) == sorted(
        (part.name, cut.name) for part in build.parts for cut in part.cuts
    )


def test_like_cuts_of_both_sides_are_made_at_one_set_up():
    order = order_of(case())
    shelf = next(step for step in order.steps if ("case.left side", "shelf in left side") in step.cuts)
    assert ("case.right side", "shelf in right side") in shelf.cuts


def test_the_same_piece_gives_the_same_order():
    def told(order: WorkOrder) -> list[tuple[object, ...]]:
        return [(s.number, s.title, s.does, s.parts, s.cuts, s.after) for s in order.steps]

    assert told(order_of(drawers(2))) == told(order_of(drawers(2)))


def test_jobs_that_wait_for_one_another_are_our_own_fault():
    from storystick.ground.finding import Broken

    one = Job("one", Stage.SAW, "one", (), after=("other",))
    other = Job("other", Stage.SAW, "other", (), after=("one",))
    with pytest.raises(Broken):
        in_turn([one, other], default_shop("mm"))


def test_glue_time_is_filled_with_what_can_be_done_meanwhile():
    glue = Job("glue", Stage.GLUE, "glue", (), hands_on=10, waits=30)
    on = Job("on", Stage.GLUE, "on", (), after=("glue",), hands_on=10)
    finish = Job("coat", Stage.FINISH, "coat something else", (), hands_on=10)
    jobs = [glue, on, finish]
    assert [jobs[n].key for n in in_turn(jobs, default_shop("mm")).found.order] == ["glue", "coat", "on"]


# --- any piece -------------------------------------------------------------------------------------------------------

CHANNELS = st.tuples(st.integers(20, 600), st.integers(4, 20), st.booleans())
BORES = st.tuples(st.integers(20, 600), st.integers(20, 380), st.sampled_from((3, 5, 8, 35, 61)), st.booleans())


@st.composite
def builds(draw: st.DrawFn) -> Build:
    """Some assemblies of some boards, joined at random, with channels and holes; some of them cut to fit others."""
    groups = [draw(st.integers(1, 5)) for _ in range(draw(st.integers(1, 3)))]
    parts, joints = [], []
    for number, count in enumerate(groups):
        names = [f"a{number}.p{n}" for n in range(count)]
        for name in names:
            cuts: list[Cut] = [
                channel(f"{name} c{i}", (u, 0 if through else 30), (w, 400 if through else 300), 6)
                for i, (u, w, through) in enumerate(draw(st.lists(CHANNELS, max_size=2)))
            ]
            cuts += [
                bore(f"{name} b{i}", (u, v), d, None if through else 10, Side.FACE)
                for i, (u, v, d, through) in enumerate(draw(st.lists(BORES, max_size=3)))
            ]
            fit = draw(st.sampled_from(["", "", f"a{draw(st.integers(0, len(groups) - 1))}", "wall"]))
            parts.append(
                board(name, (0, 0, 0), (18, 400, 700), "zyx", cuts, fit_to=fit, layers=draw(st.sampled_from((1, 1, 2))))
            )
        for n in range(1, count):
            host = names[draw(st.integers(0, n - 1))]
            joints.append(
                joined(names[n], host, draw(st.integers(0, 2)), draw(st.sampled_from((-1, 1))), draw(st.booleans()))
            )
    inner = [assembly(f"a{n}", inside_of="a0" if n and draw(st.booleans()) else "") for n in range(len(groups))]
    return piece(*parts, joints=tuple(joints), assemblies=tuple(inner))


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@forall(builds())
def test_in_any_piece_parts_are_sawn_then_machined_then_put_together(build: Build):
    order = order_of(build)
    made = [cut for step in order.steps for cut in step.cuts]
    assert sorted(made) == sorted((part.name, cut.name) for part in build.parts for cut in part.cuts)
    numbers = [step.number for step in order.steps]
    assert numbers == list(range(1, len(numbers) + 1))
    for step in order.steps:
        assert all(before < step.number for before in step.after)
        assert step.hands_on >= 1
        assert step.why_here
        assert step.does
    for part in build.parts:
        sawn = last(order, part.name, *SAWING)
        making = [step.number for step in order.steps if any(name == part.name for name, _ in step.cuts)]
        on = [s.number for s in order.steps if s.stage in TOGETHER and part.name in s.parts and "layers" not in s.title]
        assert sawn
        assert all(sawn < number for number in making)
        if on:
            assert max([sawn, *making]) < min(on)
            assert (
                len([s for s in order.steps if s.stage in TOGETHER and part.name in s.new and "layers" not in s.title])
                == 1
            )


def test_a_single_board_is_measured_sawn_finished_and_put_in_place():
    order = order_of(piece(board("shelf", (0, 0, 0), (800, 300, 18), assembly="shelf")))
    coats = [Stage.FINISH] * 4  # the outside sanded, and three coats
    assert [step.stage for step in order.steps] == [Stage.MEASURE, Stage.SAW, Stage.SAND, *coats, Stage.INSTALL]


def test_a_board_screwed_to_a_case_is_fixed_when_the_case_is_whole():
    plain = case()
    cleat = board("cleat", (0, 0, 0), (500, 40, 18), assembly="cleat")
    build = replace(
        plain,
        parts=(*plain.parts, cleat),
        assemblies=(*plain.assemblies, assembly("cleat", (500, 40, 18))),
        joints=(*plain.joints, joined("cleat", "case.bottom", 2, -1, glued=False)),
    )
    order = order_of(build)
    fixed = the_step(order, "Fix the cleat to the case")
    assert last(order, "case.bottom", Stage.GLUE) < fixed.number < first(order, "case.bottom", Stage.FINISH)
    assert not [step for step in order.steps if step.title.startswith("Put the cleat")]


def test_the_shops_own_times_hold_for_hands_and_for_glue():
    build = case(fasteners=())
    usual = default_shop("mm")
    own = replace(
        usual,
        times={"glue-up": OwnTime(Fraction(9), Fraction(7), Fraction(75)), "finish coat": OwnTime(wait=Fraction(600))},
    )
    plain, slow = order_of(build, usual), order_of(build, own)
    assert {step.waits for step in slow.steps if step.stage is Stage.GLUE} == {75}
    assert {step.waits for step in slow.steps if "Finish" in step.title} == {600}
    glued = [sum(s.hands_on for s in order.steps if s.stage is Stage.GLUE) for order in (plain, slow)]
    assert glued[1] > glued[0]
    assert order_of(build, usual).reckoned == plain.reckoned  # nothing of it is left behind
