"""Pictures of the piece in parallel view: as it stands, pulled apart along its joints, and as it is after a step."""

from collections.abc import Callable, Collection, Mapping, Sequence
from typing import cast

import numpy as np

from storystick.model.build import Build
from storystick.model.scene import Scene
from storystick.paper.drawing.canvas import Canvas, Pen, Spot
from storystick.paper.drawing.drawn import Drawn
from storystick.paper.drawing.labels import PITCH, Pointer, Strokes, place_labels
from storystick.paper.drawing.seen import Frame, Seen, Sighting, frame_of, sighted
from storystick.paper.drawing.shadow import shadow
from storystick.paper.folder import Folder
from storystick.paper.glyphs import POINT
from storystick.shapes.hidden import Line, draw
from storystick.shapes.pose import Vector, direct, shifted
from storystick.shapes.solid import Floats, Solid, moved
from storystick.shapes.view import View, isometric

ROUND = 6.0  # paper left free round a picture [mm]
LETTER = 13.0
LOWEST = 24.0  # a picture that is wide and low gets no less height [mm]
CLEAR_OF = 0.12  # of a piece's depth is left between it and what is drawn before it
FEW = 4  # so many parts are drawn with all their holes


def picture(
    bodies: Sequence[tuple[str, Solid]],
    pens: Mapping[str, Pen],
    frame: Frame,
    view: View,
    wide: float,
    high: float,
    letters: Mapping[str, str],
    seen: Mapping[str, Seen],
    alt: str,
    round_it: float = ROUND,
    drawn: Sequence[Line] | None = None,
) -> Drawn:
    """Draw bodies in a frame; `letters` of those to be pointed out, by name; `pens` other than for an edge.

    `seen` says where each is seen best; `drawn` are the lines, where they are known already.
    """
    aside = 12.0 if letters else round_it
    beside = 3.0 + LETTER * POINT * PITCH * (
        (len(set(letters.values())) + 1) // 2
    )  # room for all letters in two columns
    needed = frame.into(wide - 2 * aside, high)[0] * (frame.high - frame.low) + 2 * round_it
    high = min(high, max(LOWEST, beside, needed))
    canvas = Canvas(wide, high)
    share, dx, dy = frame.into(wide - 2 * aside, high - 2 * round_it)

    def at(spot: Spot) -> Spot:
        return (spot[0] * share + dx + aside, dy + round_it - spot[1] * share)

    wood = [(name, solid) for name, solid in bodies if pens.get(name) != "site"]
    _tint(canvas, [solid for _, solid in wood], view, at)
    lines = list(draw(wood, view, hidden=False) if drawn is None else drawn)
    if len(wood) < len(bodies):  # the surroundings hide nothing of the piece
        lines += draw(bodies, view, hidden=False, only={name for name in pens if pens[name] == "site"})
    runs = [(pens.get(line.owner, "edge"), [at(spot) for spot in line.points]) for line in lines]
    for heavy in ("site", "edge", "new"):  # the heaviest on top
        for pen, run in runs:
            if pen == heavy:
                canvas.run(run, heavy)
    if letters:
        sides = at((frame.left, frame.low))[0], at((frame.right, frame.low))[0]
        place_labels(
            canvas,
            [Pointer(letters[name], at(spot.at), spot.room * share) for name, spot in seen.items() if name in letters],
            LETTER,
            sides,
            Strokes.of(run for _, run in runs),
        )
    return Drawn(canvas.svg(alt), alt, 1 / share, wide, high, tuple(canvas.lettering))


def _tint(canvas: Canvas, solids: Sequence[Solid], view: View, at: Callable[[Spot], Spot]) -> None:
    """The whole shape of the wood in its pale colour, so that it stands off the paper."""
    canvas.areas([[at(spot) for spot in ring] for ring in shadow(solids, view)], "wood")


# ---- the pictures of a packet ----


def whole_piece(folder: Folder, wide: float, high: float) -> Drawn:
    """The finished piece where it will stand, its surroundings faint."""
    view = isometric(from_right=False)
    wood = list(folder.scene.parts.items())
    frame = frame_of([solid for _, solid in wood], view)
    site = [(f"site {name}", solid) for name, solid in folder.scene.site.items()] if _is_small(folder) else []
    if site:
        frame = frame_of([solid for _, solid in (*wood, *site)], view)
    alt = f"{folder.build.title}: the finished piece, seen from its left front and above."
    return picture((*wood, *site), {name: "site" for name, _ in site}, frame, view, wide, high, {}, {}, alt)


def _is_small(folder: Folder) -> bool:
    """True where the surroundings do not dwarf the piece."""
    view = isometric(from_right=False)
    wood, site = frame_of(folder.scene.parts.values(), view), list(folder.scene.site.values())
    if not site:
        return False
    both = frame_of([*folder.scene.parts.values(), *site], view)
    return (both.right - both.left) < 2.2 * (wood.right - wood.left) and (both.high - both.low) < 2.2 * (
        wood.high - wood.low
    )


def after_step(
    folder: Folder,
    shows: Sequence[str],
    new: Collection[str],
    wide: float,
    high: float,
    alt: str,
    pointed: bool = True,
    loose: bool = False,
) -> Drawn | None:
    """The state after a step: what is new in heavy lines and, where `pointed` out, with its letter.

    `loose` draws what nothing holds to the piece yet before it: drawers, doors and shelves that are finished apart.

    All steps have the same frame, but for those that show so little that it would come out small.

    The eye is at the left front, unless what is new can only be seen from behind. None where nothing is to be shown.
    """
    names = [name for name in dict.fromkeys(shows) if name in folder.scene.parts]
    wood = folder.scene.parts if len(names) <= FEW else folder.plain
    bodies = [(name, wood[name]) for name in names]
    bodies += [(name, folder.hardware[name]) for name in dict.fromkeys(shows) if name in folder.hardware]
    if not bodies:
        return None
    view, behind = isometric(from_right=False), isometric(from_right=True, from_front=False)
    plain = [(name, folder.plain.get(name, body)) for name, body in bodies]
    away = before_it(folder.build, folder.scene, names) if loose else {}
    if away:
        bodies, plain = _drawn_off(bodies, away), _drawn_off(plain, away)
        alt += " What is not in it yet is drawn before it."
    seen = _seen_once(folder, plain, view, bool(away))
    if _share_seen(seen, plain, view, new) < 0.35:
        other = _seen_once(folder, plain, behind, bool(away))
        if _share_seen(seen, plain, view, new) < 0.5 * _share_seen(other, plain, behind, new):
            view, seen, alt = behind, other, alt + " Seen from behind."
    few = frame_of([solid for _, solid in bodies], view)
    whole = [*folder.scene.parts.values(), *folder.hardware.values()]
    frame = frame_of([*whole, *(solid for name, solid in bodies if name in away)], view)
    if frame.into(wide - 24.0, high)[0] < 0.7 * few.into(wide - 24.0, high)[0]:
        frame = few
    some = any(name not in new for name, _ in bodies)  # where all is new, nothing has to stand out
    pens: dict[str, Pen] = dict.fromkeys(new, "new") if some else {}
    letters = {name: folder.letter_of[name] for name in new if pointed and name in folder.letter_of}
    spots = spots_of(seen, [name for name, _ in bodies if name in letters])
    lines = _lines_once(folder, bodies, view, bool(away))
    return picture(bodies, pens, frame, view, wide, high, letters, spots, alt, 2.0, lines)


def before_it(build: Build, scene: Scene, names: Sequence[str]) -> dict[str, Vector]:
    """How far parts are drawn forward that neither joint nor fastener holds to the largest group of the piece [mm].

    Of each of the plan's own entries by itself; one group as much as another that lies in the same entry.
    """
    group = {name: name for name in names}

    def of(name: str) -> str:
        while group[name] != name:
            name = group[name]
        return name

    held_by = ((one.host, one.guest) for one in build.joints), ((one.through, one.into) for one in build.fasteners)
    for first, second in (pair for pairs in held_by for pair in pairs):
        if first in group and second in group:
            group[of(first)] = of(second)
    tops: dict[str, dict[str, list[str]]] = {}
    for name in names:
        tops.setdefault(build.part(name).assembly.split(".")[0], {}).setdefault(of(name), []).append(name)
    found: dict[str, Vector] = {}
    for top, groups in tops.items():
        held = max(groups.values(), key=lambda some: sum(build.part(name).assembly == top for name in some))
        front = direct(scene.poses[top], (0.0, -1.0, 0.0))
        ends = {name: _along(scene.parts[name], front) for some in groups.values() for name in some}
        near = max(ends[name][1] for name in held)
        deep = near - min(ends[name][0] for name in held)
        for some in groups.values():
            if some is not held:
                far = near - min(ends[name][0] for name in some) + CLEAR_OF * deep
                found |= {name: (front[0] * far, front[1] * far, front[2] * far) for name in some if far > 0}
    return found


def _drawn_off(bodies: Sequence[tuple[str, Solid]], away: Mapping[str, Vector]) -> list[tuple[str, Solid]]:
    return [(name, moved(body, shifted(away[name])) if name in away else body) for name, body in bodies]


def _along(solid: Solid, way: Vector) -> tuple[float, float]:
    """From where to where a solid reaches along a way [mm]."""
    far = solid.mesh.vertices @ np.array(way)
    return float(far.min()), float(far.max())


def _seen_once(folder: Folder, bodies: Sequence[tuple[str, Solid]], view: View, apart: bool = False) -> Sighting:
    """Where bodies are seen; asked once for steps that show the same."""
    key = ("seen", view, apart, tuple(name for name, _ in bodies))
    if key not in folder.drawn_before:
        folder.drawn_before[key] = sighted(bodies, view)
    return cast(Sighting, folder.drawn_before[key])


def spots_of(seen: Sighting, names: Collection[str]) -> dict[str, Seen]:
    """Where each of some bodies is seen best; those of which nothing is seen are left out."""
    return {name: spot for name in names if (spot := seen.best(name)) is not None}


def _lines_once(
    folder: Folder, bodies: Sequence[tuple[str, Solid]], view: View, apart: bool = False
) -> Sequence[Line]:
    """The lines of a picture; drawn once for steps that show the same."""
    key = ("lines", view, apart, tuple(name for name, _ in bodies))
    if key not in folder.drawn_before:
        folder.drawn_before[key] = draw(bodies, view, hidden=False)
    return cast(Sequence[Line], folder.drawn_before[key])


def _share_seen(
    seen: Sighting, bodies: Sequence[tuple[str, Solid]], view: View, names: Collection[str]
) -> float:
    """How much of the named bodies is seen, against what each would show if it stood alone; 1 where none is named."""
    here = [(name, solid) for name, solid in bodies if name in names]
    alone = sum(_turned_to(solid, view) for _, solid in here)
    return sum(seen.area(name) for name, _ in here) / alone if alone else 1.0


def _turned_to(solid: Solid, view: View) -> float:
    """Area on paper of all faces turned to the eye [mm2]."""
    flat = solid.mesh.vertices @ np.array([view.right, view.up]).T
    corners = flat[solid.mesh.triangles]
    a, b = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    return float(np.maximum(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0], 0.0).sum()) / 2


def pulled_apart(folder: Folder, assembly: str, wide: float, high: float) -> Drawn:
    """The parts of one assembly drawn apart along the ways in which they go together, each with its letter."""
    view = isometric(from_right=False)
    names = [part.name for part in folder.build.parts if part.assembly == assembly]
    away = ways_apart(folder.build, folder.scene, names)
    bodies = [(name, moved(folder.scene.parts[name], shifted(away[name]))) for name in names]
    plain = [(name, moved(folder.plain[name], shifted(away[name]))) for name in names]
    seen = spots_of(sighted(plain, view), names)
    letters = {name: folder.letter_of[name] for name in names}
    alt = f"{assembly}: its parts pulled apart, with their letters."
    return picture(bodies, {}, frame_of([solid for _, solid in bodies], view), view, wide, high, letters, seen, alt)


def ways_apart(build: Build, scene: Scene, names: Sequence[str]) -> dict[str, Vector]:
    """How far each part is drawn away from its place [mm]: every joint opened by one gap, or nearly."""
    number = {name: i for i, name in enumerate(names)}
    solids = [scene.parts[name] for name in names if not scene.parts[name].is_empty]
    reach = max((max(b[i] - a[i] for i in range(3)) for a, b in (s.bounds for s in solids)), default=100.0)
    gap = 0.28 * reach
    rows, wanted = [], []
    for joint in build.joints:
        if joint.host in number and joint.guest in number:
            axis = [0.0, 0.0, 0.0]
            axis[joint.axis] = float(joint.sign)
            assembly = build.part(joint.guest).assembly
            way = direct(scene.poses[assembly], (axis[0], axis[1], axis[2]))
            row = np.zeros(len(names))
            row[number[joint.guest]], row[number[joint.host]] = 1.0, -1.0
            rows.append(row)
            wanted.append([-gap * c for c in way])
    if not rows:
        return {name: (0.0, 0.0, gap * i) for i, name in enumerate(names)}
    anchor = np.eye(len(names)) * 1e-3  # holds what no joint moves
    asked: Floats = np.vstack([wanted, np.zeros((len(names), 3))])
    moves: Floats = np.asarray(np.linalg.lstsq(np.vstack([*rows, anchor]), asked, rcond=None)[0])
    rounded: Floats = np.round(moves, 3) + 0.0
    return {name: (float(rounded[i, 0]), float(rounded[i, 1]), float(rounded[i, 2])) for name, i in number.items()}
