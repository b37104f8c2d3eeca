"""Answers about fits and the log, as text for a screen of 80 columns."""

from collections.abc import Mapping, Sequence
from typing import Any

from storystick.app import plain
from storystick.app.pipeline import Job
from storystick.app.show import counted, finding, out, put_json, table, wrapped
from storystick.ground.finding import Finding
from storystick.ground.length import Manner, fine, show
from storystick.model.again import Again
from storystick.model.changed import Changed
from storystick.model.closing import closers
from storystick.model.judged import Builds, Judged, fine_of
from storystick.model.mending import Remedy
from storystick.plan.log import Log
from storystick.work.channel_fits import Channels

SOME = 0.02
"""A fit that goes wrong in fewer builds than this is told in a line, without its causes."""


def chance(share: float) -> str:
    """A chance in percent; never a flat 0 or 100 for what may yet happen."""
    if share == 0:
        return "no"
    return "under 1 %" if share < 0.005 else "over 99 %" if share > 0.995 else f"{round(share * 100)} %"


def alike(judged: Sequence[Judged]) -> list[list[Judged]]:
    """Fits that say the same, together; the likeliest to go wrong first."""
    found: dict[tuple[object, ...], list[Judged]] = {}
    for one in judged:
        fit = one.fit
        key = (fit.for_good, one.gap.value, fit.least.value, fit.most.value, round(one.sd, 4), bool(fit.cut))
        found.setdefault(key, []).append(one)
    return sorted(found.values(), key=lambda group: (-round(group[0].trouble, 6), group[0].fit.name))


def fits(
    job: Job, builds: Builds, again: Sequence[Again], channels: Sequence[Channels], manner: Manner, *, as_json: bool
) -> None:
    """Everything about the fits: the chances, their causes, what to measure again, the methods for each channel."""
    if as_json:
        put_json(fits_plain(job, builds, again, channels, manner))
        return
    whole = f"Everything fits in {chance(builds.all_fit)} of {builds.draws} builds drawn at random"
    wrapped(f"{whole} ({chance(builds.apart)} if no two fits had a cause in common).")
    out()
    groups = alike(job.judged)
    table(
        ("fit", "n", "gap", "+ or -", "tight", "loose"),
        [
            (
                group[0].fit.name, str(len(group)), fine(group[0].gap.value, manner), fine_of(2 * group[0].sd, manner),
                chance(group[0].tight), chance(group[0].loose),
            )
            for group in groups
        ],
        right=(1, 2, 3, 4, 5),
    )  # fmt: skip
    out()
    wrapped("How a gap comes about: storystick why PLAN gap of, and the name of the fit.")
    for group in groups:
        if group[0].trouble >= SOME:
            _causes(group, manner)
    to_fit, last = tuple(job.better_to_fit.values()), _takes_up(job)
    if to_fit or last:
        out()
    for fitted in to_fit:
        wrapped(
            f"{fitted.part} is best cut when the rest stands dry, to what is there: its fit then goes wrong "
            f"{chance(fitted.fitted)}, not {chance(fitted.printed)}.",
        )
    for number, others in last:
        wrapped(f"Cut {number} last: it takes up what {others} are off by, as soon as these are in the log.")
    if again:
        out("\nWhat to measure again, and how many bad fits in a hundred builds that saves:")
        table(
            ("number", "with", "saves", "helps"),
            [(one.name, one.tool, f"{100 * one.gain:.1f}", counted(len(one.fits), "fit")) for one in again],
            right=(2, 3),
        )
    for one in channels:
        _channel(one, manner)


def _takes_up(job: Job) -> list[tuple[str, str]]:
    """Sizes that can make good what other parts are off by, and those parts."""
    return [(one.number, " and ".join(one.others)) for one in closers(job.made) if len(one.others) > 1]


def _causes(group: Sequence[Judged], manner: Manner) -> None:
    first = group[0]
    more = f" (and {len(group) - 1} more like it)" if len(group) > 1 else ""
    out()
    wanted = " to ".join(fine(one.value, manner) for one in (first.fit.least, first.fit.most))
    wrapped(
        f"{first.fit.name}{more}, {first.fit.for_good}: {wanted} is wanted; it goes wrong {chance(first.trouble)}. "
        "It hangs on:"
    )
    for cause in first.causes():
        says = f"{cause.says}, {chance(cause.share)} of the doubt: {cause.better}; then {chance(cause.left)}"
        wrapped(says, "    ", "  · ")


def _channel(one: Channels, manner: Manner) -> None:
    out()
    more = f" (and {len(one.fits) - 1} more like it)" if len(one.fits) > 1 else ""
    wrapped(f"To cut {one.fits[0].cut}{more}, {fine(one.width.value, manner)} wide:")
    for method in one.methods:
        gap = f"gap {fine(method.gap, manner)}" if method.gap >= 0 else f"{fine(-method.gap, manner)} too tight"
        wrapped(
            f"{method.method}: {gap}; tight {chance(method.tight)}, loose {chance(method.loose)}", "    ", "  · "
        )
        for setup in method.setups:
            if setup.to is not None:
                wrapped(setup.says, "        ", "      ")


def fits_plain(
    job: Job, builds: Builds, again: Sequence[Again], channels: Sequence[Channels], manner: Manner
) -> Mapping[str, object]:
    """The same as plain data."""
    return {
        "draws": builds.draws, "all fit": builds.all_fit, "all fit if apart": builds.apart,
        "fits": [judged_plain(one, builds, manner) for one in job.judged],
        "to fit": [
            {"part": f.part, "fits": list(f.fits), "printed": f.printed, "fitted": f.fitted}
            for f in job.better_to_fit.values()
        ],
        "last": [{"number": number, "takes up": others} for number, others in _takes_up(job)],
        "again": [{"name": a.name, "with": a.tool, "saves": round(a.gain, 6), "helps": list(a.fits)} for a in again],
        "channels": [
            {
                "cuts": [fit.cut for fit in one.fits], "width": plain.length(one.width.value, manner),
                "methods": [
                    {
                        "method": m.method, "gap": plain.length(m.gap, manner), "tight": m.tight, "loose": m.loose,
                        "settings": [s.says for s in m.setups],
                    }
                    for m in one.methods
                ],
            }
            for one in channels
        ],
    }  # fmt: skip


def judged_plain(one: Judged, builds: Builds, manner: Manner) -> Mapping[str, object]:
    """One fit as plain data."""
    return {
        "name": one.fit.name, "goes in": one.fit.goes_in, "into": one.fit.into, "for": one.fit.for_good,
        "gap": plain.length(one.gap.value, manner), "sd mm": round(one.sd, 6),
        "least": plain.length(one.fit.least.value, manner), "most": plain.length(one.fit.most.value, manner),
        "tight": one.tight, "loose": one.loose, "drawn": list(builds.each.get(one.fit.name, ())),
        "causes": [
            {"says": c.says, "share": round(c.share, 6), "better": c.better, "left": c.left} for c in one.causes()
        ],
    }  # fmt: skip


def change(found: Changed, manner: Manner, *, as_json: bool, wrote: Sequence[str]) -> None:
    """What an entry of the log changed."""
    if as_json:
        put_json({"wrote": [line.rstrip() for line in wrote], **change_plain(found, manner)})
        return
    for line in wrote:
        out(f"wrote  {line.rstrip() if len(line) < 200 else line[:190] + ' ...'}")
    if not found:
        out("Nothing else changes.")
        return
    if found.sizes:
        out("\nThese numbers change:")
        for one in found.sizes:
            old, new = show(one.old.value, manner), show(one.new.value, manner)
            if old == new:
                old, new = fine(one.old.value, manner), fine(one.new.value, manner)
            wrapped(f"{one.number}: {old}, now {new} ({one.why})", "    ", "  ")
    for label, names in (("No longer there", found.gone), ("New", found.come)):
        if names:
            wrapped(f"{label}: {', '.join(names)}")
    if found.fits:
        out("\nThese fits move:")
        for moved in found.fits:
            gaps = f"gap {fine(moved.old.gap.value, manner)}, now {fine(moved.new.gap.value, manner)}"
            odds = f"goes wrong {chance(moved.old.trouble)}, now {chance(moved.new.trouble)}"
            wrapped(f"{moved.new.fit.name}: {gaps}; {odds}", "    ", "  ")
    if found.cards:
        out("\nPrint again:")
        wrapped(f"cards {', '.join(found.cards)}", "  ")
        if found.sheets:
            wrapped(f"sheet maps of {', '.join(found.sheets)}", "  ")


def change_plain(found: Changed, manner: Manner) -> dict[str, Any]:
    """The same as plain data."""
    return {
        "sizes": [
            {
                "part": one.part, "number": one.number, "old": plain.length(one.old.value, manner),
                "new": plain.length(one.new.value, manner), "why": one.why,
            }
            for one in found.sizes
        ],
        "fits": [
            {
                "name": m.new.fit.name, "old": plain.length(m.old.gap.value, manner),
                "new": plain.length(m.new.gap.value, manner), "trouble": [m.old.trouble, m.new.trouble],
            }
            for m in found.fits
        ],
        "stale cards": list(found.cards), "stale sheets": list(found.sheets),
        "gone": list(found.gone), "come": list(found.come),
    }  # fmt: skip


def log(found: Log, findings: Sequence[Finding], *, as_json: bool) -> None:
    """What the log holds now."""
    if as_json:
        put_json([{"when": e.when, "act": e.act, "about": e.about, "says": e.says} for e in found.entries])
        return
    for entry in found.entries:
        values = ", ".join(f"{float(value):g} mm" for value in entry.values)
        held = f"{len(entry.numbers)} numbers held" if len(entry.numbers) > 1 else ""
        if len(entry.numbers) == 1:
            held = f"{float(entry.numbers[0][1]):g} mm"
        with_tool = f"with {entry.tool}" if entry.tool else ""
        about = "" if entry.act in ("done", "undone") and entry.says else entry.about  # a mark says nothing to a reader
        words = (entry.when, entry.act, about, values, entry.says, held, with_tool)
        wrapped("  ".join(word for word in words if word), "    ", "")
    out(f"\n{counted(len(found.cut), 'part')} cut, {counted(len(found.done), 'step')} done.")
    for one in findings:
        finding(one)


def mends(broken: Sequence[tuple[Judged, Sequence[Remedy]]], log: Log, manner: Manner, *, as_json: bool) -> None:
    """The fits that broke, each with what can be done."""
    if as_json:
        put_json([
            {"fit": one.fit.name, "gap": plain.length(one.gap.value, manner), "remedies": [
                {"way": r.way, "says": r.says, "number": r.number, "by": plain.length(r.by, manner), "enough": r.enough,
                 "left": r.left, "minutes": r.minutes,
                 "also": [{"fit": o.fit.name, "by": plain.length(by, manner)} for o, by in r.also]} for r in remedies]}
            for one, remedies in broken
        ])  # fmt: skip
        return
    if not broken:
        out("No fit is broken, as far as is known.")
    for one, remedies in broken:
        fit = one.fit
        wanted = f"{fine(fit.least.value, manner)} to {fine(fit.most.value, manner)} is wanted"
        wrapped(f"{fit.name}: {fit.goes_in} into {fit.into}, gap {fine(one.gap.value, manner)}; {wanted}")
        wrapped(f"(ask why: gap of {fit.name}; mend of {fit.name})", "    ", "  ")
        if fit.name in log.chosen:
            wrapped(f"chosen {log.chosen[fit.name].when}: {log.chosen[fit.name].says}", "    ", "  ")
        for number, remedy in enumerate(remedies, 1):
            left = f" ({remedy.left})" if remedy.left else ""
            short = "" if remedy.enough else "; not enough for it"
            wrapped(f"{number}. {remedy.says}{left}{short}", "     ", "  ")
            for other, by in remedy.also:
                gap = other.gap.value + by
                good = "still good" if other.fit.least.value <= gap <= other.fit.most.value else "no longer good"
                wrapped(f"moves {other.fit.name} too: gap {fine(gap, manner)}, {good}", "         ", "       ")
        out()
