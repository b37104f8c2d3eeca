"""Reading a shop file. What it leaves out entirely is taken from the usual shop, and said to be."""

from dataclasses import replace
from fractions import Fraction
from functools import cache

from storystick.ground.fields import Filled, fill
from storystick.ground.finding import Broken, Finding, Grade, in_order, worst
from storystick.ground.length import Unit
from storystick.ground.marked import Mapping, Marked, Scalar, plain, read_marked
from storystick.ground.outcome import Outcome
from storystick.ground.source import Source
from storystick.ground.sums import Names
from storystick.shop.file import SHOP
from storystick.shop.rack import read_air, read_prices, read_rack
from storystick.shop.shop import OWN, USUAL, Bushing, DadoSet, Driver, Shop
from storystick.shop.tools import (
    read_bits,
    read_clamps,
    read_drills,
    read_measuring,
    read_saws,
    sizes_of,
    value_of,
)
from storystick.shop.tried import read_workmanship
from storystick.shop.usual import usual_text


def read_shop(text: str, file: str = "") -> Outcome[Shop]:
    """The shop that a text describes, and everything wrong with it. Never raises for any text."""
    marked = read_marked(text, file)
    mistakes = list(marked.findings)
    if marked.made is None:
        return Outcome(None, in_order(mistakes))
    units = _units(marked.made)
    filled = fill(SHOP, marked.made, Names(units), mistakes, partly=True)
    shop = _shop(filled, units, OWN, mistakes) if filled is not None else None
    if filled is None or shop is None or worst(mistakes) == Grade.STOP:
        return Outcome(None, in_order(mistakes))
    shop = _with_usual(shop, filled, default_shop(units))
    if shop.assumed:
        says = f"The shop file says nothing of {', '.join(shop.assumed)}: those of a usual small shop are assumed."
        advice = "Write what you have, or none."
        mistakes.append(Finding("assumed", Grade.NOTE, filled.place(), says, advice, USUAL))
    return Outcome(shop, in_order(mistakes))


@cache
def default_shop(habit: Unit = "inch") -> Shop:
    """The usual small shop of those who measure in inches, or in millimetres; every tool marked as common practice."""
    marked = read_marked(usual_text(habit), "the usual shop").made
    mistakes: list[Finding] = []
    filled = fill(SHOP, marked, Names(habit), mistakes) if marked is not None else None
    shop = _shop(filled, habit, USUAL, mistakes) if filled is not None else None
    if shop is None or mistakes:
        raise Broken("the usual shop can't be read", mistakes)
    return shop


def _units(root: Marked) -> Unit:
    """The unit of the file, needed before anything else can be read."""
    node = root.get("units") if isinstance(root, Mapping) else None
    word = plain(node.text) if isinstance(node, Scalar) else ""
    return "mm" if word in ("mm", "metric", "millimetres") else "inch"


def _with_usual(shop: Shop, filled: Filled, usual: Shop) -> Shop:
    """The shop with what its file says nothing of taken from the usual one."""
    names: dict[str, tuple[str, ...]] = {
        "saws": ("saws",), "dado set": ("dado_set",), "router": ("router",), "bits": ("bits",),
        "bushings": ("bushings",), "drill bits": ("drills",), "countersinks": ("countersinks",),
        "drivers": ("drivers",), "pocket jig": ("pocket_jig",), "clamps": ("clamps",),
        "measuring": ("measuring",), "lift": ("lift",), "trim": ("trim",), "air": ("air",),
    }  # fmt: skip
    left_out = tuple(name for name in names if not filled.has(name))
    taken = {attribute: getattr(usual, attribute) for name in left_out for attribute in names[name]}
    return replace(shop, **taken, assumed=left_out)


def _shop(filled: Filled, units: Unit, source: Source, mistakes: list[Finding]) -> Shop:
    dado = filled.made("dado set", tuple)
    door = filled.made("door", tuple)
    lift, air = filled.maybe_weight("lift"), filled.maybe_record("air")
    return Shop(
        filled.text("name"), units,
        saws=read_saws(filled, source, mistakes),
        dado_set=DadoSet(dado[0], dado[1], source) if dado else None,
        router=filled.flag("router"),
        bits=read_bits(filled, source, mistakes),
        bushings=tuple(Bushing(one.size, source) for one in sizes_of(filled, "bushings").all),
        drills=read_drills(filled, source, mistakes),
        countersinks=filled.texts("countersinks"),
        drivers=tuple(
            Driver(key.text, each.length("long").value, each.length("across").value, source)
            for key, each in filled.table("drivers", Filled)
        ),
        pocket_jig=filled.flag("pocket jig"),
        clamps=read_clamps(filled, units, source, mistakes),
        measuring=read_measuring(filled, source, mistakes),
        helpers=filled.count("helpers"),
        hours=min(24, max(1, filled.count("hours"))),
        benches=max(1, filled.count("benches")),
        door=(door[0], door[1]) if door else None,
        lift=lift.kg if lift else Fraction(23),
        trim=value_of(filled.maybe_length("trim")) or Fraction(0),
        air=read_air(air, source) if air else None,
        others=filled.texts("other tools"),
        on_hand=read_rack(filled, mistakes),
        prices=read_prices(filled),
        currency=filled.maybe_text("currency") or "",
        errors=read_workmanship(filled, mistakes),
        times=filled.made("times", dict) or {},
    )  # fmt: skip
