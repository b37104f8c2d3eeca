"""The screws of pulls and knobs: those that come with them where they fit the wood, else longer ones to be bought."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from storystick.ground.length import show, up_to
from storystick.ground.source import practice
from storystick.model.build import Build
from storystick.model.joining import Item
from storystick.model.part import Part
from storystick.shop.tables import pulls, screws, written
from storystick.work.saying import plural

INTO = Fraction(5)
HOLDS = practice("a machine screw goes 5 mm (3/16 in) or more into its pull; pulls come with screws for one board")


@dataclass(frozen=True, slots=True)
class PullScrews:
    """The screws of all pulls of a sort that go through wood of one thickness [mm].

    row    what is bought in their place, "" where the pull's own do; `long` how long those that fit are
    """

    count: int
    pulls: str
    thick: Fraction
    long: Fraction
    row: str = ""
    boards: int = 1
    used_for: tuple[str, ...] = ()


def pull_screws(build: Build) -> tuple[PullScrews, ...]:
    """The screws of a build's pulls, by the pull and by the thickness that they go through. Source: HOLDS."""
    groups: dict[tuple[str, Fraction, int], list[Item]] = {}
    for item in build.items:
        if item.kind in pulls():
            bored = _bored(build, item)
            thick = sum((part.thickness.value for part in bored), Fraction(0))
            groups.setdefault((item.kind, thick, len(bored)), []).append(item)
    return tuple(_screws(build, *key, items) for key, items in sorted(groups.items(), key=lambda pair: pair[0]))


def _bored(build: Build, item: Item) -> list[Part]:
    """The boards that a pull's screws go through."""
    own = [part for part in build.parts if part.assembly == build.part(item.on[0]).assembly]
    return [part for part in own if any("for a pull" in cut.called for cut in part.cuts)]


def _screws(build: Build, kind: str, thick: Fraction, boards: int, items: list[Item]) -> PullScrews:
    row = pulls()[kind]
    count = sum(item.count for item in items) * (2 if row.centres_mm else 1)
    tops = tuple(dict.fromkeys(f"the {item.assembly.split('.')[0]}" for item in items))
    if row.screw_long_mm >= thick + INTO:
        return PullScrews(count, kind, thick, row.screw_long_mm, "", boards, tops)
    screw = screws()[row.screws_in(build.manner.unit)]
    sold = [long for long in sorted(screw.lengths_mm) if long >= thick + INTO]
    long = sold[0] if sold else up_to(thick + INTO, build.manner.mark)
    return PullScrews(count, kind, thick, long, screw.name, boards, tops)


def pull_lines(build: Build) -> Iterator[str]:
    """Which screws pulls are fixed with: their own, or others where they go through more than one board."""
    for one in pull_screws(build):
        long = show(one.long, build.manner)
        if not one.row:
            yield f"Fasten each {one.pulls} with the screws that come with it ({long} long)."
        else:
            which = "the box front and the front, from inside" if one.boards > 1 else "from inside"
            yield (
                f"Their screws go through {which}: those that come with them are too short for that. "
                f"Take {one.count} x {plural(written(one.row))} ({long} long) from the buying list."
            )
