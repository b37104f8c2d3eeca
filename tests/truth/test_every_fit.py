"""Every place where something goes into something is a named fit, with its class, its chances and their causes."""

import pytest

from storystick.model.judged import Judged, simulate
from storystick.model.mending import is_broken
from tests.told import job
from tests.truth.plans import CASE, DRAWER, after, fit_called, put

STOCK = """
units: mm
stock:
  ply:  {sheet: birch plywood, sold as: 18 mm, readings: [17.6, 17.7], with: calliper, sizes: {2440 x 1220: 90}}
  thin: {sheet: birch plywood, sold as: 6 mm, readings: [5.6, 5.7], with: calliper, sizes: {1525 x 1525: 30}}
  oak:  {board: white oak, thickness: 20, sizes: {150 x 2000: 40}}
  rail: {bar: aluminium track, thickness: 12, width: 19, sizes: {1000: 12}}
"""
RUNNERS = DRAWER.replace("runs on: slides", "runs on: {runners: in groove}")
DOOR = f"""title: a case with a pair of doors{STOCK}
build:
  case:
    case:
      wide: 700
      deep: 300
      high: 600
      stock: ply
      doors: {{set: inset, stock: ply, leaves: pair}}
      bays: [open]
    sits: {{on: floor}}
"""
FRAMED = DOOR.replace("stock: ply, leaves", "stock: oak, panel stock: thin, made as: frame and panel, leaves")
LID = f"""title: a lid that lifts off{STOCK}
build:
  chest:
    box: {{wide: 600, deep: 400, high: 300, stock: ply, joint: rabbet}}
    sits: {{on: floor}}
  lid:
    slab:
      stock: ply
      wide: 700
      deep: 520
      held by: {{strips: {{stock: ply, round: chest}}}}
    sits: {{on: chest, centred: chest}}
"""
TOP = f"""title: a top over two ways{STOCK}
measure:
  way: {{readings: [12.2, 12.3], with: calliper}}
site:
  bed: {{box: [400, 200, 600], at: [0, 0, 0]}}
  rail one: {{box: [400, 12, way], at: [0, 40, 600]}}
build:
  board:
    slab:
      stock: ply
      layers: 2
      wide: 500
      deep: 240
      channels: {{over: [rail one]}}
      track: {{stock: rail}}
    sits: {{on: bed, centred: bed}}
"""
BETWEEN = f"""title: a case between two walls{STOCK}
measure:
  gap: {{readings: [612, 611, 613], with: tape, takes: smallest}}
site:
  left wall: {{box: [100, 600, 2400], at: [0 - 100, 0, 0]}}
  right wall: {{box: [100, 600, 2400], at: [gap, 0, 0]}}
build:
  case:
    case: {{wide: gap - 8, deep: 300, high: 600, stock: ply}}
    sits: {{on: floor, centred between: [left wall, right wall]}}
"""

PLACES = [
    ("a panel in its dado", CASE, "case.shelf 2 in left side.width", "goes in by hand, then glue"),
    ("a loose shelf in its bay", CASE, "case.shelf 1.length", "drops in"),
    ("a back in its rabbets, across", CASE,
     "case.back width between left side and right side", "drops into its rabbets"),
    ("a back in its rabbets, in height", CASE, "case.back height between bottom and top", "drops into its rabbets"),
    ("a bottom in its groove", DRAWER, "case.drawer 1.bottom in left side.width", "slides in its groove"),
    ("a bottom between the floors of its grooves", DRAWER,
     "case.drawer 1.bottom width between left side and right side", "stays clear of the grooves' floors"),
    ("a drawer in its opening with its slides", DRAWER, "case.drawer 1.box in its opening", "slides"),
    ("a front in its opening", DRAWER, "case.drawer 1.front in its opening", "locates"),
    ("a front in the height of its opening", DRAWER, "case.drawer 1.front in the height of its opening", "locates"),
    ("a wooden runner in its groove", RUNNERS, "runner", "slides"),
    ("a pair of doors across", DOOR, "case.door 1.width in its opening", "locates"),
    ("a pair of doors in height", DOOR, "case.door 1.height in its opening", "locates"),
    ("the gap between two doors over a case", DOOR.replace("inset", "overlay"), "case.door 1.gap between the two",
     "clears the other"),
    ("the gap between two framed doors", FRAMED.replace("inset", "overlay"), "case.door 1.gap between the two",
     "clears the other"),
    ("a stub tenon in its groove", FRAMED,
     "case.door 1.top rail in left stile.thickness", "goes in by hand, then glue"),
    ("a door's panel in its groove", FRAMED, "case.door 1.panel in left stile.width", "slides in its groove"),
    ("a lid's strips round what it lies on", LID, "lid between the strips", "lifts off and drops on"),
    ("a channel over a rail, across", TOP, "board.channel over rail one.width", "drops in"),
    ("a channel over a rail, in depth", TOP, "board.channel over rail one.depth", "stays clear of it"),
    ("a bar in its recess", TOP, "board.track.width", "drops in"),
    ("a piece between the things round it", BETWEEN, "case between left wall and right wall", "goes in between"),
]  # fmt: skip


def found(text: str, name: str) -> Judged:
    work = job(text)
    names = [one.fit.name for one in work.judged]
    close = [one for one in work.judged if one.fit.name == name or (name == "runner" and "runner" in one.fit.name)]
    assert close, names
    return close[0]


@pytest.mark.parametrize(("place", "text", "name", "good"), PLACES, ids=[one[0] for one in PLACES])
def test_every_place_is_a_named_fit_with_its_class_its_chances_and_their_causes(
    place: str, text: str, name: str, good: str
):
    fit = found(text, name)
    assert fit.fit.for_good == good
    assert fit.fit.goes_in
    assert fit.fit.into
    assert fit.fit.least.value < fit.fit.most.value
    assert fit.fit.source
    assert fit.fit.source.text
    assert not is_broken(fit)
    assert fit.sd > 0
    assert 1 <= len(fit.causes()) <= 3
    assert all(cause.better and cause.left <= fit.trouble + 1e-9 for cause in fit.causes())
    drawn = simulate([fit], 20_000).each[fit.fit.name]
    assert sum(drawn) == pytest.approx(fit.trouble, abs=0.015)


def test_a_channel_that_is_not_deep_enough_is_deepened():
    from storystick.model.mending import remedies

    work = job(TOP)
    name = next(name for name in work.build.pages if name.endswith("channel over rail one.deep"))
    now = after(TOP, put(name, float(work.build.pages[name].value) - 2))
    fit = fit_called(now, "board.channel over rail one.depth")
    assert is_broken(fit)
    deepen = [one for one in remedies(now.made, fit, now.judged, {*now.build.parts_by_name}) if one.way == "widen"]
    assert deepen
    assert deepen[0].says.startswith("deepen")
    cured = after(TOP, put(name, work.build.pages[name].value - 2 + deepen[0].by))
    assert not is_broken(fit_called(cured, fit.fit.name))
