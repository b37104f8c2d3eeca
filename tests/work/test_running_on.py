"""Troughs that run on into an edging, what is pressed from both sides at once, and what is made alike."""

from collections.abc import Sequence
from dataclasses import replace

from storystick.model.build import Build
from storystick.model.cut import Channel, Side
from storystick.model.work import Stage, WorkOrder
from storystick.shop.read import default_shop
from storystick.work.peeling import Closing
from storystick.work.together import in_goes_pressed_at_once
from tests.work.by_hand import assembly, board, case, channel, joined, order_of, piece
from tests.work.replay import faults
from tests.work.test_order import drawers
from tests.work.test_turns import turn_of
from tests.work.test_words import sample


def trough(name: str, at: tuple[int, int], size: tuple[int, int], side: Side, runs: int) -> Channel:
    return replace(channel(name, at, size, 8, side, runs), joint="")


def edged(deep: int = 8, front: Sequence[object] = ()) -> Build:
    """A board with an edging at both ends, and a trough 40 wide, 50 from the front, through all three."""
    own = trough("board trough", (0, 50), (600, 40), Side.FACE, 0)
    ends = [
        board(
            f"top.{word}", (x, 0, 0), (6, 200, 18), "yzx", role="edging",
            cuts=[replace(trough(f"{word} trough", (50, 0), (40, 6), Side.EDGE, 1), depth=own.depth)] if deep else [],
        )
        for word, x in (("left", 0), ("right", 606))
    ]  # fmt: skip
    parts = [board("top.board", (6, 0, 0), (600, 200, 18), "xyz", [own]), *ends, *front]
    joints = (joined("top.left", "top.board", 0, 1), joined("top.right", "top.board", 0, -1))
    return piece(*parts, joints=joints, assemblies=(assembly("top", (612, 200, 18)),))


def numbers(order: WorkOrder, *stages: Stage) -> list[int]:
    return [step.number for step in order.steps if step.stage in stages]


def test_a_trough_that_runs_on_into_edgings_is_cut_in_one_go_when_they_are_glued_on():
    order = order_of(edged())
    (cut,) = [step for step in order.steps if step.cuts]
    assert {part for part, _ in cut.cuts} == {"top.board", "top.left", "top.right"}
    assert max(numbers(order, Stage.GLUE)) < cut.number < min(numbers(order, Stage.FINISH))
    assert any("Clamp a scrap" in text for text in cut.does)
    jobs, turn = turn_of(edged(), default_shop("mm"))
    assert faults(edged(), jobs, turn, default_shop("mm").clamps) == []


def test_a_trough_that_ends_at_the_edging_is_cut_before_as_it_always_was():
    order = order_of(edged(deep=0))
    (cut,) = [step for step in order.steps if step.cuts]
    assert cut.number < min(numbers(order, Stage.GLUE))


def test_a_trough_set_from_an_edge_that_something_covers_is_cut_before():
    """A board in front of all: the guide would ride on that, and no part tells how far from it the trough is."""
    order = order_of(edged(front=[board("top.front", (0, -6, 0), (612, 6, 18), "xzy", role="edging")]))
    assert all(step.number < min(numbers(order, Stage.GLUE)) for step in order.steps if step.cuts)


def test_edgings_of_two_ends_are_pressed_on_at_once_but_not_what_stands_on_them():
    left, right = (joined(f"t.{w}", "t.board", 0, sign) for w, sign in (("left", 1), ("right", -1)))
    on_left = joined("t.cap", "t.left", 0, 1)
    goes = [Closing(("t.board", "t.left"), (left,), 0), Closing(("t.right",), (right,), 0)]
    (both,) = in_goes_pressed_at_once(goes)
    assert both.parts == ("t.board", "t.left", "t.right")
    assert both.joints == (left, right)
    assert len(list(in_goes_pressed_at_once([goes[0], Closing(("t.cap",), (on_left,), 0)]))) == 2
    same = joined("t.right", "t.board", 0, 1)
    assert len(list(in_goes_pressed_at_once([goes[0], Closing(("t.right",), (same,), 0)]))) == 2


def test_a_dry_fit_holds_the_clamps_that_its_glue_up_wants():
    jobs, _ = turn_of(case(fasteners=()), default_shop("mm"))
    dry = next(job for job in jobs if job.stage is Stage.DRY_FIT)
    assert dry.clamps == max(job.clamps for job in jobs if job.stage is Stage.GLUE) > 0
    assert dry.waits == 0


def test_drawers_that_are_made_alike_are_sanded_together():
    order = order_of(drawers(3))
    steps = [step for step in order.steps if step.stage is Stage.SAND and any("drawer" in name for name in step.parts)]
    assert len(steps) == 1
    assert len([step for step in order.steps if step.stage is Stage.DRY_FIT]) <= 3


def test_why_a_step_is_here_names_machines_that_are_still_set_and_no_sander_or_clamps():
    for step in order_of(drawers(3)).steps:
        assert "still in the sander" not in step.why_here
        assert "still in the clamps" not in step.why_here
        assert "still in the what" not in step.why_here


def test_drawers_that_are_made_alike_are_each_drilled_while_they_stand_together_dry():
    """Clamped up once, not twice: the fronts' screws are drilled for before the next drawer is tried."""
    (step,) = [one for one in sample("drawer-tower") if "drill in place" in one.title.lower()]
    assert step.stage is Stage.DRY_FIT
    assert step.title.startswith("Dry-fit drawers 1 to 5 of the tower, and drill in place: ")
    assert len({part.partition(".")[2].partition(".")[0] for part, _ in step.cuts}) == 5
    dry = next(n for n, text in enumerate(step.does) if "without glue" in text)
    assert dry < next(n for n, text in enumerate(step.does) if "drill through" in text)
    assert "Drill each while it stands together, before the next is tried." in step.does


def test_what_is_tried_dry_alone_is_drilled_in_a_step_of_its_own():
    steps = sample("alcove-bookcase")
    assert not [step for step in steps if any("Drill each" in text for text in step.does)]
    assert [step.stage for step in steps if step.title.startswith("Drill in place")] == [Stage.DRILL]
