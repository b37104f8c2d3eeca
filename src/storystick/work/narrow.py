"""Narrow strips: ripped so that the wide piece runs along the fence and the strip falls free beside the blade."""

from collections.abc import Mapping, Sequence
from fractions import Fraction

from storystick.ground.source import practice
from storystick.model.cutting import Cut, CutTree, Way
from storystick.shop.shop import Saw, Shop

HELD = practice("no piece narrower than the saw rips with the hands clear runs between blade and fence")
STOP_BLOCK = (
    "A stop block on the side of the blade away from the fence, clear before the teeth, stays where it is for all "
    "strips of one size. Before each pass move the fence up until the edge of the board touches the block, then lock "
    "it: the board runs along the fence, the strip falls free beside the blade."
)
FACE_LINE = (
    "First a straight edge, and one slanting line across the face of the board: by it the strips are laid side by side "
    "again as they grew. Number them on the face as they come off."
)
ON_THE_RAIL = "The rail lies on the wide piece, the strip is what falls off."
BESIDE = "No side is wide enough for the rail: lay a scrap of the same thickness close beside the piece to carry it."
CARRIED = (
    "Narrow on both sides of the blade: fix the piece on a wider carrier board with a straight edge, and run that "
    "along the fence."
)


def least_at_fence(saw: Saw | None) -> Fraction | None:
    """The narrowest piece that a saw rips with the hands clear [mm]; None: not known."""
    return saw.narrowest if saw is not None else None


def is_strip(saw: Saw | None, cut: Cut) -> bool:
    """Whether what a rip brings to size is too narrow to run between the blade of this saw and its fence."""
    least = least_at_fence(saw)
    return least is not None and cut.way is Way.RIP and cut.setting is not None and cut.setting < least


def leaves_wide(saw: Saw | None, cut: Cut, tree: CutTree) -> bool:
    """Whether a rip leaves a piece that is wide enough to run along the fence. Source: HELD."""
    least = least_at_fence(saw)
    return least is None or any(piece.wide >= least for piece in tree.pieces if piece.number in cut.frees)


def narrow_words(saw: Saw | None, cuts: Sequence[Cut], trees: Mapping[int, CutTree], solid: bool) -> tuple[str, ...]:
    """How strips are ripped, for a run of rips at one setting; nothing where they are wide enough."""
    strips = [cut for cut in cuts if is_strip(saw, cut)]
    if not strips or saw is None:
        return ()
    guided = saw.kind in ("track saw", "circular saw")
    if not guided and saw.kind != "table saw":
        return ()
    safe = [leaves_wide(saw, cut, trees[cut.number]) for cut in strips]
    words = [FACE_LINE] if solid else []
    if any(safe):
        words.append(ON_THE_RAIL if guided else STOP_BLOCK)
    if not all(safe):
        words.append(BESIDE if guided else CARRIED)
    return tuple(words)


def for_narrow(shop: Shop, saw: Saw | None, cuts: Sequence[Cut], trees: Mapping[int, CutTree]) -> Saw | None:
    """A saw that rips so narrow a strip as it is, where no wide piece is left to run along the first one's fence."""
    if all(leaves_wide(saw, cut, trees[cut.number]) for cut in cuts if is_strip(saw, cut)):
        return saw
    others = [one for one in shop.saws_of("band saw") if not any(is_strip(one, cut) for cut in cuts)]
    return others[0] if others else saw
