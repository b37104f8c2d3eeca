"""How a plan asks for a joint: `dado`, or `dado: {depth: 1/4, stopped: 3/8}`, or `{dado: {...}}`."""

from dataclasses import dataclass

from storystick.craft.draft import Bench
from storystick.craft.joints import JointKind, by_word, kinds
from storystick.ground.arithmetic import Scope
from storystick.ground.fields import Filled, fill
from storystick.ground.finding import Place, mistake
from storystick.ground.marked import Mapping, Marked, Scalar
from storystick.ground.misread import nearest, one_of


@dataclass(frozen=True, slots=True, eq=False)
class Way:
    """A kind of joint with its options filled."""

    kind: JointKind
    options: Filled
    place: Place


def read_way(node: Marked | None, usual: str, scope: Scope, bench: Bench, seat: str, place: Place) -> Way:
    """The joint that a node asks for; the usual one where there is none, or where it can't be read (a mistake is told).

    seat  what it has to take: 'corner', 'inside' or 'panel'
    """
    words = by_word()
    word, inner, at = usual, None, place
    if isinstance(node, Scalar):
        word, at = " ".join(node.text.lower().split()), node.place
    elif isinstance(node, Mapping) and len(node.entries) == 1:
        key, inner = node.entries[0]
        word, at = " ".join(key.text.lower().split()), key.place
    elif node is not None:
        bench.mistakes.append(mistake(node.place, "", "one joint, such as dado or {dado: {depth: 1/4}}"))
    if word not in words:
        bench.mistakes.append(mistake(at, word, f"a joint: {one_of(list(kinds()))}", nearest(word, words)))
        word, inner = usual, None
    kind = words[word]
    if seat not in kind.seats:
        fitting = [k.name for k in words.values() if seat in k.seats]
        wanted = {"corner": "a corner", "inside": "a board inside another", "panel": "a panel all round"}[seat]
        bench.mistakes.append(mistake(at, word, f"a joint for {wanted}: {one_of(sorted(set(fitting)))}"))
        kind = words[usual]
        inner = None
    empty = Mapping((), at)
    options = fill(kind.fields, inner if isinstance(inner, Mapping) else empty, scope, bench.mistakes)
    if options is None:
        options = fill(kind.fields, empty, scope, [])
        assert options is not None
    return Way(kind, options, at)
