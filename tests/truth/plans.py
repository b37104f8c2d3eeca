"""Small plans for questions of fit, and the log of what is done to them."""

from fractions import Fraction

from storystick.app.pipeline import Job, Texts
from storystick.model.judged import Judged
from storystick.plan.log import HEAD, Entry, written

WHEN = "2026-11-25 14:03"

CASE = """
title: a small case
units: mm
stock:
  ply:  {sheet: birch plywood, sold as: 18 mm, readings: [17.6, 17.7, 17.5], with: calliper, sizes: {2440 x 1220: 90}}
  thin: {sheet: birch plywood, sold as: 6 mm, readings: [5.6, 5.7], with: calliper, sizes: {1525 x 1525: 30}}
build:
  case:
    case:
      wide: 600
      deep: 300
      high: 700
      stock: ply
      back: {stock: thin, joint: rabbet}
      bays: [open, loose shelf, open, fixed shelf, open, fixed shelf, open, fixed shelf, open]
    sits: {on: floor}
"""

DRAWER = """
title: a drawer in a case
units: inch
stock:
  ply: {sheet: birch plywood, sold as: 18 mm, readings: [17.6 mm], with: calliper, sizes: {4 ft x 8 ft: 90}}
  box: {sheet: birch plywood, sold as: 12 mm, readings: [11.7 mm], with: calliper, sizes: {5 ft x 5 ft: 60}}
  bottom: {sheet: birch plywood, sold as: 1/4, readings: [6.3 mm], with: calliper, sizes: {5 ft x 5 ft: 30}}
build:
  case:
    case:
      wide: 20
      deep: 18
      high: 24
      stock: ply
      drawers: {stock: box, bottom stock: bottom, front: inset, front stock: ply, runs on: slides}
      bays: {rows: [drawer 5, open]}
    sits: {on: floor}
"""


def entry(act: str, about: str, **more: object) -> Entry:
    return Entry(WHEN, act, about, **more)  # type: ignore[arg-type]


def read(name: str, *values: str | float | Fraction, tool: str = "") -> Entry:
    return entry("read", name, values=tuple(Fraction(str(value)) for value in values), tool=tool)


def put(name: str, value: str | float | Fraction) -> Entry:
    return entry("set", name, numbers=((name, Fraction(str(value))),))


def cut(job: Job, part: str) -> Entry:
    from storystick.app.entries import cut as cut_now

    return cut_now(job, part)


def after(plan: str, *entries: Entry) -> Job:
    """The job of a plan with these entries in its log."""
    return Job(Texts(plan, "plan.yaml", None, "", HEAD + "".join(written(one) for one in entries), "plan.log"))


def fit_called(job: Job, name: str) -> Judged:
    return next(one for one in job.judged if one.fit.name == name)


def mm(job: Job, name: str) -> float:
    return float(job.build.pages[name].value)
