"""What each hole is for: the screw that is driven through it or into it, and what that screw holds."""

from collections.abc import Mapping
from dataclasses import dataclass

from storystick.model.build import Build
from storystick.model.cut import Bore
from storystick.model.joining import Fastener
from storystick.model.part import Part


@dataclass(frozen=True, slots=True)
class Purpose:
    """The fastener of a hole, and what hardware it holds, in the trade's word; "" where it holds two parts together."""

    fastener: Fastener
    holds: str = ""

    @property
    def words(self) -> str:
        """What the hole is for, without the length: "#8 wood screws", "the slides' #6 pan head screws"."""
        row = self.fastener.row
        rows = row if row.endswith("s") else f"{row}s"
        if not self.holds:
            return rows
        several = {"foot": "feet"}.get(self.holds, f"{self.holds}s")
        return f"the {several}{"'" if several.endswith('s') else "'s"} {rows}"


def purposes(build: Build) -> Mapping[tuple[str, str], Purpose]:
    """What each hole is for, by the names of its part and its cut; holes that no fastener goes into are left out.

    A hole carries its fastener's name. Where it does not, as between two assemblies, it is for the fasteners of that
    part that no other hole is named after, if they are all of one size.
    """
    items = {item.name: item.kind or item.name for item in build.items}
    by_part: dict[str, list[Fastener]] = {}
    for one in build.fasteners:
        for name in {one.through, one.into} & build.parts_by_name.keys():
            by_part.setdefault(name, []).append(one)
    found: dict[tuple[str, str], Purpose] = {}
    for part in build.parts:
        fasteners = by_part.get(part.name, [])
        for cut, one in _matched(part, fasteners):
            found[part.name, cut.name] = Purpose(one, items.get(one.through, "").split(" ")[-1])
    return found


def _matched(part: Part, fasteners: list[Fastener]) -> list[tuple[Bore, Fastener]]:
    by_words = {one.name.removeprefix(f"{one.assembly}."): one for one in fasteners}
    found, nameless, used = [], [], set()
    for cut in part.cuts:
        if not isinstance(cut, Bore) or not any(word in cut.called for word in ("pilot", "clearance")):
            continue
        words = cut.name.removeprefix(f"{part.name}.").removeprefix(f"{part.assembly}.").rpartition(" ")[0]
        one = by_words.get(words)
        if one is None:
            nameless.append(cut)
        else:
            found.append((cut, one))
            used.add(one.name)
    rest = [one for one in fasteners if one.name not in used and one.kind not in ("nail", "brad")]
    if nameless and len({(one.row, one.length.value) for one in rest}) == 1:
        found.extend((cut, rest[0]) for cut in nameless)
    return found
