"""Answers about other shops and other sheets, as text for a screen of 80 columns."""

from collections.abc import Sequence
from fractions import Fraction

from storystick.app import plain
from storystick.app.elsewhere import Elsewhere, Trial
from storystick.app.show import counted, finding, out, put_json, wrapped
from storystick.ground.finding import Grade
from storystick.ground.length import Manner, fine, show
from storystick.model.changed import NOTHING


def other_shop(found: Elsewhere, manner: Manner, *, as_json: bool) -> None:
    """What another shop makes of the plan."""
    if as_json:
        put_json({
            "works": found.works,
            "sizes": [{"part": name, "here": [plain.length(v, manner) for v in here],
                       "there": [plain.length(v, manner) for v in there]} for name, here, there in found.sizes],
            "ways": [{"cuts": count, "here": one, "there": two} for count, one, two in found.ways],
            "cant": [plain.finding(one) for one in found.cant], "worse": [plain.finding(one) for one in found.worse],
            "better": [plain.finding(one) for one in found.better],
        })  # fmt: skip
        return
    out("It can be made there." if found.works else "It can't be made there as it stands.")
    if found.sizes:
        out(f"\n{counted(len(found.sizes), 'part')} in another size:")
    for says, names in _in_other_sizes(found, manner).items():
        more = f" and {counted(len(names) - 3, 'other')}" if len(names) > 4 else ""
        wrapped(f"{', '.join(names[: 3 if more else 4])}{more}: {says}", "    ", "  ")
    if found.ways:
        out("\nCuts that are made in another way:")
    for count, one, two in found.ways:
        wrapped(f"{counted(count, 'cut')}: {one}; there {two}", "    ", "  ")
    stops, other = ([one for one in found.cant if (one.grade is Grade.STOP) is stop] for stop in (True, False))
    told = (
        ("Can't be made there:", stops), ("Made there, but in another size:", other),
        ("Found there and not here:", found.worse), ("Found here and not there:", found.better),
    )  # fmt: skip
    for label, some in told:
        if some:
            out(f"\n{label}\n")
        for each in some:
            finding(each)


def _in_other_sizes(found: Elsewhere, manner: Manner) -> dict[str, list[str]]:
    """Parts by what is not the same with them, here and there, each in the units of its shop."""
    told: dict[str, list[str]] = {}
    for name, here, there in found.sizes:
        if here and there:
            pairs = zip(("length", "width", "thickness"), here, there, strict=True)
            other = ((word, one, two) for word, one, two in pairs if abs(one - two) > NOTHING)
            says = ", ".join(f"{word} {_apart(one, two, manner, found.manner)}" for word, one, two in other)
        else:
            says = "only here" if here else "only there"
        told.setdefault(says, []).append(name)
    return told


def _apart(here: Fraction, there: Fraction, ours: Manner, theirs: Manner) -> str:
    """Two lengths so that they are seen to differ."""
    said = show if show(here, ours) != show(there, ours) else fine
    return f"{said(here, ours)}, there {said(there, theirs)}"


def trials(found: Sequence[Trial], *, as_json: bool) -> None:
    """For which variations the plan works."""
    if as_json:
        put_json([
            {"tried": t.says, "works": t.works, "stops": [plain.finding(f) for f in t.stops], "cares": len(t.cares)}
            for t in found
        ])  # fmt: skip
        return
    works = sum(t.works for t in found)
    out(f"It works in {works} of {len(found)}.\n")
    for t in found:
        care = f", {counted(len(t.cares), 'thing')} to look at" if t.cares else ""
        wrapped(f"{t.says}: {'works' if t.works else 'does not work'}{care}", "    ", "  ")
        for one in t.stops[:3]:
            wrapped(one.says, "        ", "      ")
