"""Tops and other flat boards: what holds them up, how far they sag, and how far they are from breaking."""

from dataclasses import replace
from fractions import Fraction

import pytest

from storystick.checks.bearing import bearers
from storystick.checks.resting import resting
from storystick.checks.shelf_strength import FACTOR
from storystick.ground.finding import Grade
from storystick.model.build import Build, Load, Span
from tests.checks.by_hand import Number, asked, assembly, board, box, carcass, lengths, mm, piece, ply, told, troubles

G = 9.80665


def top(kilograms: float, past: Number = 0, clear: Number = 1000, thick: Number = 18, layers: int = 1) -> Build:
    """A top 400 deep on two uprights 20 thick, its ends so far past their outer faces."""
    past, clear, thick = Fraction(past), Fraction(clear), Fraction(thick)
    posts = [
        board(f"base.{word}", (x, 0, 0), (20, 400, 700), "zyx", assembly="base")
        for word, x in (("left", 0), ("right", 20 + clear))
    ]
    slabs = [
        board(
            "top.top" if n == layers - 1 else f"top.layer {n}", (-past, 0, 700 + n * thick),
            (clear + 40 + 2 * past, 400, thick), assembly="top", role="top" if n == layers - 1 else "layer",
        )
        for n in range(layers)
    ]  # fmt: skip
    places = (assembly("base"), assembly("top", stands_on="base", kind="slab"))
    loads = (Load("top", kilograms),) if kilograms else ()
    return piece(*posts, *slabs, assemblies=places, loads=loads)


def test_a_top_bends_between_what_stands_below_it():
    (found,) = resting(asked(top(40)))
    assert (found.axis, found.clear, found.sticks_out) == (0, pytest.approx(1000), pytest.approx(0))
    assert found.is_slab


def test_a_top_sags_as_a_beam_between_its_uprights():
    # 5/384 W L^3 / (E I), the load by length: 40 kg on 1040 mm, and 680 kg/m3 of its own.
    (found,) = told("shelf-sag", top(40))
    weight = 40 * 1000 / 1040 + 680 * 0.4 * 0.018 * 1.0
    first = 5 / 384 * weight * G * 1000**3 / (7500 * 400 * 18**3 / 12)
    assert found.number == pytest.approx(first * 1.8, rel=1e-6)
    assert found.about == ("top.top",)


def test_two_layers_glued_are_eight_times_as_stiff():
    (one,), (two,) = (told("shelf-sag", top(0.001 + 200, layers=n)) for n in (1, 2))
    own = 680 * 0.4 * 0.018
    share = (200.001 / 1.04 + 2 * own) / (200.001 / 1.04 + own) / 8
    assert two.number / one.number == pytest.approx(share, rel=1e-6)  # type: ignore[operator]


def test_what_a_top_sticks_out_is_a_cantilever():
    # W L^3 / (8 E I) for 300 mm past the uprights.
    sticks_out = next(one for one in told("shelf-sag", top(100, past=300)) if "past what is under it" in one.says)
    weight = 100 * 300 / 1640 + 680 * 0.4 * 0.018 * 0.3
    assert sticks_out.number == pytest.approx(1.8 * weight * G * 300**3 / (8 * 7500 * 400 * 18**3 / 12), rel=1e-6)
    assert sticks_out.limit == pytest.approx(600 / 240)


@pytest.mark.parametrize("past", [0, 350])
def test_a_top_as_thick_or_as_short_as_advised_is_stiff_enough(past: int):
    build = top(150, past=past, clear=1000 if not past else 600)
    for found in troubles("shelf-sag", build):
        short, thick = lengths(found.advice)[:2]
        assert not troubles("shelf-sag", top(150, past=past, clear=1000 if not past else 600, thick=thick))
        if not past:
            weight = 150 * float(short + 40) / 1040
            assert not troubles("shelf-sag", top(weight, clear=short))


def test_a_top_with_no_load_is_told_of_only_where_its_own_weight_is_too_much():
    assert told("shelf-sag", top(0)) == []
    assert troubles("shelf-sag", top(0, clear=3000))


def test_a_thing_of_the_site_holds_a_top_up_as_well():
    build = top(40)
    middle = box("bench", (510, 0, 0), (20, 400, 700))
    (found,) = resting(asked(replace(build, site=(middle,))))
    assert found.clear == pytest.approx(490)
    low = box("bench", (510, 0, 0), (20, 400, 690))
    (found,) = resting(asked(replace(build, site=(low,))))
    assert found.clear == pytest.approx(1000)


def test_a_top_on_feet_bends_between_them():
    build = top(40)
    spots = tuple((mm(x), mm(y)) for x in (50, 990) for y in (50, 350))
    places = (build.assemblies[0], replace(build.assemblies[1], feet=spots))
    slab = tuple(part for part in build.parts if part.assembly == "top")
    (found,) = resting(asked(replace(build, parts=slab, assemblies=places)))
    assert (found.axis, found.clear, found.sticks_out) == (0, pytest.approx(940), pytest.approx(50))


def test_the_top_of_a_case_bends_between_its_sides_where_something_stands_on_it():
    assert told("shelf-sag", carcass()) == []
    (found,) = told("shelf-sag", carcass(loads=(Load("case", 30),)))
    assert found.about == ("case.top",)
    raised = carcass(loads=(Load("case.bottom", 30),), assemblies=(assembly(at=(0, 0, 100)),))
    (one,) = bearers(asked(raised))
    assert one.name == "case.bottom"
    assert one.shelf.clear == pytest.approx(564)
    assert one.shelf.reckoned_span == pytest.approx(576)


def loaded(kilograms: float, how: str = "in the middle", thick: Number = 18) -> Build:
    stock = ply(thick, strength=40.0, density=0.0)
    part = board("case.shelf", (0, 0, 0), (900, 300, thick), stock=stock)
    load = Load("case.shelf", kilograms, how)  # type: ignore[arg-type]
    return piece(part, spans=(Span("case.shelf", mm(900), "rests"),), loads=(load,))


@pytest.mark.parametrize(("how", "moment"), [("in the middle", 1 / 4), ("evenly", 1 / 8)])
def test_bending_stress_is_the_moment_over_the_section_modulus(how: str, moment: float):
    # M = P L / 4 or W L / 8, S = b t^2 / 6.
    (found,) = told("shelf-strength", loaded(110, how))
    stress = moment * 110 * G * 900 / (300 * 18**2 / 6)
    assert found.number == pytest.approx(stress / (40 / FACTOR), rel=1e-6)


def test_a_board_that_would_break_stops_the_work_and_one_over_what_is_allowed_is_told():
    assert {one.grade for one in told("shelf-strength", loaded(50))} == {Grade.FINE}
    assert {one.grade for one in told("shelf-strength", loaded(150))} == {Grade.CARE}
    assert {one.grade for one in told("shelf-strength", loaded(400))} == {Grade.STOP}
    assert "on average" in told("shelf-strength", loaded(150))[0].says  # failure is called failure


def test_a_thicker_board_or_a_lighter_load_as_advised_is_strong_enough():
    (found,) = troubles("shelf-strength", loaded(150))
    (thick,) = lengths(found.advice)
    assert not troubles("shelf-strength", loaded(150, thick=thick))
    less = float(found.advice.split("; ")[1].split(" kg")[0])
    assert not troubles("shelf-strength", loaded(less))
    assert less > 50
