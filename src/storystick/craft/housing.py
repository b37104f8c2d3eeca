"""What joints have in common that take a guest into the host's thickness: dado, groove, rabbet."""

from collections.abc import Iterator
from fractions import Fraction

from storystick.craft.draft import Bench, Draft, Wanted, minus
from storystick.craft.fits import FitClass
from storystick.craft.seat import across, host_side, line
from storystick.ground.dim import Dim, chosen
from storystick.ground.finding import mistake
from storystick.ground.length import down_to, show
from storystick.ground.source import Source
from storystick.model.cut import Channel, Corner, Notch
from storystick.model.joining import Fit


def depth(wanted: Wanted, bench: Bench, called: str, asked: Dim | None, share: Fraction, source: Source) -> Dim:
    """How deep the host is cut: as the plan asks, or a share of its thickness rounded down; one depth for one stock."""
    stock = wanted.host.stock
    if asked is not None and asked.value <= 0:
        place, said = wanted.options.place("depth"), show(asked.value, bench.manner)
        bench.mistakes.append(mistake(place, said, "a depth of more than nothing"))
        asked = None
    if asked is not None:
        name = f"{called} depth in {stock.name}"
        known = bench.book.pages.get(bench.book.scope + name)
        if known is not None and known.value != asked.value:
            name += f", {show(asked.value, bench.manner)} deep"
        return bench.once(name, lambda: asked, "as the plan asks")
    mark = bench.step("1/16", "1")
    thick = wanted.host.span[wanted.host.thick] if wanted.axis == wanted.host.thick else wanted.host.whole(wanted.axis)
    return bench.once(
        f"{called} depth in {stock.name}",
        lambda: chosen(down_to(thick.value * share, mark), source, thick),
        "deep enough to carry, and the host keeps its strength",
    )


def slip(bench: Bench, kind: FitClass) -> Dim:
    """The slip of a fit, named once for the piece's assembly."""
    return bench.once(f"slip of a {kind.name} fit", lambda: kind.dims()[0], "room to go home by hand")


def width_fit(wanted: Wanted, cut: Channel, kind: FitClass, for_good: str) -> Fit:
    """The fit of the guest's thickness in its channel."""
    guest = wanted.guest.whole(across(wanted))
    _, least, most = kind.dims()
    return Fit(
        f"{wanted.name}.width", cut.width - guest, least, most, for_good, wanted.guest.name, wanted.host.name,
        cut.name, kind.source, wanted.place,
    )  # fmt: skip


def reach_fit(wanted: Wanted, bench: Bench, deep: Dim, kind: FitClass, for_good: str) -> Iterator[Fit]:
    """The fit of a panel's size between the walls or floors of the two channels that take it."""
    guest, axis = wanted.guest, wanted.axis
    first = next((w for w in bench.piece.joints if w.guest is guest and w.axis == axis and w.sign < 0), None)
    if first is None or wanted.sign < 0 or first.kind is not wanted.kind:
        return
    far_deep = next((c.depth for c in first.host.cuts if isinstance(c, Channel) and c.joint == first.name), deep)
    room = guest.span[axis] + far_deep + deep
    _, least, most = kind.dims()
    word = ("width", "depth", "height")[axis]
    yield Fit(
        f"{guest.name} {word} between {first.host.name.rsplit('.', 1)[-1]} and {wanted.host.name.rsplit('.', 1)[-1]}",
        room - guest.whole(axis), least, most, for_good, guest.name, wanted.host.name, "", kind.source, wanted.place,
    )  # fmt: skip


def stop_short(wanted: Wanted, bench: Bench, end: int, by: Dim, deep: Dim) -> None:
    """Notch the guest's corner so that it passes the end of a stopped channel: `by` along it, `deep` into the host."""
    guest, along = wanted.guest, line(wanted)
    low = guest.lower(along) if end < 0 else guest.upper(along) - by
    high = guest.lower(along) + by if end < 0 else guest.upper(along)
    shoulder = guest.end(wanted.axis, wanted.sign)
    inner = minus(shoulder, deep) if wanted.sign > 0 else shoulder + deep
    ends = (inner, shoulder) if wanted.sign > 0 else (shoulder, inner)
    guest.cuts.append(notch(guest, f"{wanted.name} corner", {along: (low, high), wanted.axis: ends}, wanted))


def notch(guest: Draft, name: str, stretches: dict[int, tuple[Dim, Dim]], wanted: Wanted) -> Notch:
    """A rectangular notch sawn through a board, from two stretches of the assembly's axes that lie in its face."""
    spans: dict[int, tuple[Dim, Dim]] = {}
    for axis, (low, high) in stretches.items():
        start, size = guest.own(axis, low, high)
        spans[guest.lies.index(axis)] = (start, start + size)
    (u0, u1), (v0, v1) = spans[0], spans[1]
    corners = (Corner(u0, v0), Corner(u1, v0), Corner(u1, v1), Corner(u0, v1))
    return Notch(name, corners, "notch", wanted.name, wanted.place)


def flush_across(wanted: Wanted) -> int:
    """+1 or -1 where the guest lies flush with the host's edge or end across the joint; 0 where it lies within."""
    over = across(wanted)
    if wanted.guest.upper(over).value >= wanted.host.upper(over).value:
        return 1
    return -1 if wanted.guest.lower(over).value <= wanted.host.lower(over).value else 0


def into_thickness(wanted: Wanted) -> bool:
    """True where the guest goes into the host's thickness, as it should for a housing."""
    return host_side(wanted).normal == 2
