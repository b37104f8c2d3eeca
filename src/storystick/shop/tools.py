"""The tools of a shop file: saws, cutters, drills, clamps, and what is measured with."""

from fractions import Fraction
from typing import cast

from storystick.ground.arithmetic import read_sum
from storystick.ground.dim import Dim, limits
from storystick.ground.fields import Filled
from storystick.ground.finding import Finding, Place, mistake
from storystick.ground.length import Unit
from storystick.ground.marked import Scalar, plain
from storystick.ground.misread import nearest, one_of
from storystick.ground.reads import Pairs
from storystick.ground.source import Source
from storystick.ground.sums import Names
from storystick.shop.file import SAW_KINDS
from storystick.shop.lists import Sizes
from storystick.shop.shop import USUAL, Clamp, Drill, MeasuringTool, RouterBit, Saw
from storystick.shop.tables import find, instruments, saws

PROFILES = {
    "straight": "straight", "spiral": "spiral", "pattern": "pattern", "template": "pattern", "flush trim": "flush trim",
    "rabbet": "rabbet", "rabbeting": "rabbet", "rebate": "rabbet", "rebating": "rabbet", "round-over": "round-over",
    "roundover": "round-over", "rounding": "round-over", "chamfer": "chamfer", "dovetail": "dovetail", "slot": "slot",
    "slot cutter": "slot", "plywood": "straight",
}  # fmt: skip
BEARING = frozenset({"pattern", "flush trim", "rabbet", "round-over", "chamfer", "slot"})
DRILLS = {
    "twist": "twist", "brad point": "brad point", "dowel": "brad point", "forstner": "forstner", "spade": "spade",
    "flat": "spade", "hole saw": "hole saw", "pocket": "pocket", "stepped": "stepped",
}  # fmt: skip


def value_of(dim: Dim | None) -> Fraction | None:
    """A length's value [mm], where there is one."""
    return dim.value if dim is not None else None


def sizes_of(filled: Filled, name: str) -> Sizes:
    """The sizes of a list; none where it was left out."""
    return filled.made(name, Sizes) or Sizes(())


def read_saws(filled: Filled, source: Source, mistakes: list[Finding]) -> tuple[Saw, ...]:
    """The saws, by name alone or each with what it can do."""
    listed = [(name, None, filled.place("saws")) for name in filled.texts("saws")]
    tabled = [(key.text, each, key.place) for key, each in filled.table("saws", Filled)]
    found = [_saw(name, each, place, source, mistakes) for name, each, place in (*listed, *tabled)]
    return tuple(saw for saw in found if saw is not None)


def _saw(name: str, said: Filled | None, place: Place, source: Source, mistakes: list[Finding]) -> Saw | None:
    """One saw: what the file says of it, and the usual for a saw of its kind where the file says nothing."""

    def get(word: str) -> Fraction | None:
        return value_of(said.maybe_length(word)) if said else None

    kind = said.maybe_text("kind") if said else None
    row = find(saws(), name) or (find(saws(), kind) if kind else None)
    if row is None:
        near = nearest(name, saws())
        wanted = f"a saw that is known: say its kind, {one_of(SAW_KINDS)}"
        mistakes.append(mistake(place, name, wanted, near or f"{name}: {{kind: table saw}}"))
        return None
    own = source if said else USUAL
    return Saw(
        name,
        kind or row.kind,
        kerf=get("kerf") or row.kerf_mm,
        deep=get("depth") or row.deep_mm,
        tilted=get("tilted") or row.deep_tilted_mm,
        rip=get("rip") or row.rip_mm,
        crosscut=get("crosscut") or row.crosscut_mm,
        narrowest=get("narrowest") or row.narrowest_rip_mm,
        source=own,
        place=place,
    )


def _known(key: Scalar, words: dict[str, str], what: str, mistakes: list[Finding]) -> str:
    """The trade's one word for what a key says; "" and a mistake when it is none."""
    word = plain(key.text).removesuffix(" bits").removesuffix(" bit").strip()
    if word not in words:
        mistakes.append(
            mistake(key.place, key.text, f"a {what}: {one_of(dict.fromkeys(words.values()))}", nearest(word, words))
        )
    return words.get(word, "")


def _tables(filled: Filled, name: str) -> tuple[tuple[Scalar, Sizes], ...]:
    return cast(tuple[tuple[Scalar, Sizes], ...], filled.made(name, tuple) or ())


def read_bits(filled: Filled, source: Source, mistakes: list[Finding]) -> tuple[RouterBit, ...]:
    """The router bits: a size, or size x cutting length."""
    found = [(_known(key, PROFILES, "router bit", mistakes), sizes) for key, sizes in _tables(filled, "bits")]
    return tuple(
        RouterBit(profile, one.size, one.other, profile in BEARING, source, one.place)
        for profile, sizes in found for one in sizes.all
    )  # fmt: skip


def read_drills(filled: Filled, source: Source, mistakes: list[Finding]) -> tuple[Drill, ...]:
    """The drill bits: a diameter, or diameter x reach."""
    found = [(_known(key, DRILLS, "drill bit", mistakes), sizes) for key, sizes in _tables(filled, "drill bits")]
    return tuple(Drill(kind, one.size, one.other, source, one.place) for kind, sizes in found for one in sizes.all)


def read_clamps(filled: Filled, units: Unit, source: Source, mistakes: list[Finding]) -> tuple[Clamp, ...]:
    """The clamps: so many of each kind and opening."""
    found: list[Clamp] = []
    for kind, openings in filled.table("clamps", Pairs):
        for key, count in openings.all:
            opening = read_sum(key, Names(units), mistakes)
            if opening is not None and isinstance(count, int):
                found.append(Clamp(plain(kind.text).removesuffix("s"), opening.value, count, source))
    return tuple(found)


def read_measuring(filled: Filled, source: Source, mistakes: list[Finding]) -> tuple[MeasuringTool, ...]:
    """Tools by name alone, with the usual error; or with how far off they may be, every value as likely as another."""
    tools = [
        MeasuringTool(key.text, limits(float(abs(off.value))).sd, 0.0, None, source)
        for key, off in filled.table("measuring", Dim)
    ]
    for name in filled.texts("measuring"):
        row = find(instruments(), name)
        if row is None:
            some = nearest(name, instruments()) or f"{name}: 1/32, saying how far off it may be"
            mistakes.append(mistake(filled.place("measuring"), name, "a measuring tool whose error is known", some))
        else:
            tools.append(MeasuringTool(name, row.sd_mm, row.sd_per_m_mm, row.reads_to_mm, row.comes_from))
    return tuple(tools)
