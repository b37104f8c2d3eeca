"""How long the whole shelf of checks takes over a piece of sixty boards made by hand:  python -m bench.checks"""

from dataclasses import replace
from fractions import Fraction
from time import perf_counter

from storystick.checks import run_one, shelf
from storystick.model.build import Build, Opening, Slider, Span
from storystick.model.check import Asked
from storystick.model.scene import Scene
from tests.checks.by_hand import SHOP, assembly, board, box, carcass, joined, mm, screw, three

DRAWERS, SHELVES = 8, 15


def sixty() -> Build:
    """The case of the tests, fifteen more shelves, eight drawers of five boards, 240 screws, three things beside it."""
    whole = carcass()
    parts, joints, fasteners, spans = list(whole.parts), list(whole.joints), [], []
    for n in range(SHELVES):
        name = f"case.shelf {n}"
        parts.append(board(name, (18, 0, 320 + 24 * n), (564, 380, 12), role="shelf"))
        joints += [joined(name, f"case.{side} side", "glue") for side in ("left", "right")]
        spans.append(Span(name, mm(564), "rests"))
        for row in range(16):
            side, x, way = ("left", 0, 1.0) if row < 8 else ("right", 600, -1.0)
            at = (x, 30 + 45 * (row % 8), 326 + 24 * n)
            fasteners.append(screw(f"{name} screw {row}", f"case.{side} side", name, at, (way, 0.0, 0.0), 45))
    assemblies, sliders, openings = [assembly()], [], []
    for n in range(DRAWERS):
        name = f"case.drawer {n}"
        low = 20 + 34 * n
        assemblies.append(assembly(name, (31, 0, low), (538, 380, 30), stands_on="", inside_of="case"))
        boards = (
            ("left", (0, 20, 0), (12, 360, 30), "yzx"), ("right", (526, 20, 0), (12, 360, 30), "yzx"),
            ("back", (12, 368, 0), (514, 12, 30), "xzy"), ("bottom", (12, 20, 4), (514, 348, 6), "xyz"),
            ("front", (-11, 0, 0), (560, 18, 31), "xzy"),
        )  # fmt: skip
        parts += [board(f"{name}.{word}", at, size, lies, assembly=name) for word, at, size, lies in boards]
        openings.append(Opening(name, "drawer", "case", three((18, 0, low - 2)), three((564, 400, 36))))
        wants = (mm("12.7"), mm("13.5"))
        sliders.append(Slider(name, name, name, mm(340), mm(13), wants, "full extension side slide"))
    site = (
        box("wall", (640, -500, 0), (100, 2000, 2400), keep=mm(20)),
        box("bench", (-900, -300, 0), (880, 900, 850), keep=mm(10)),
        box("post", (250, Fraction(-600), 0), (60, 60, 2400), keep=mm(50)),
    )
    return replace(
        whole, parts=tuple(parts), joints=tuple(joints), fasteners=tuple(fasteners), assemblies=tuple(assemblies),
        sliders=tuple(sliders), openings=tuple(openings), spans=tuple(spans), site=site,
    )  # fmt: skip


def main() -> None:
    """Run each check once on fresh solids and tell how long it took."""
    shelf()
    build = sixty()
    asked = Asked(build, Scene(build), SHOP)
    start = perf_counter()
    litres = sum(solid.volume for solid in asked.scene.parts.values()) / 1e6
    print(f"{len(build.parts)} parts, {len(build.fasteners)} screws, {litres:.0f} l; {perf_counter() - start:.2f} s")
    total = 0.0
    for code, check in shelf().items():
        start = perf_counter()
        count = sum(1 for _ in run_one(check, asked))
        taken = perf_counter() - start
        total += taken
        print(f"{code:16} {taken:6.3f} s  {count} findings")
    print(f"{'together':16} {total:6.3f} s")


if __name__ == "__main__":
    main()
