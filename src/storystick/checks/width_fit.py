"""Width fit: what goes into something goes in by hand, and does not rattle. With the spread of all that it rests on."""

from collections.abc import Iterator
from fractions import Fraction

from storystick.checks.saying import like_it, mm, percent, small
from storystick.checks.stated import changes
from storystick.ground.finding import Finding, Grade
from storystick.ground.length import Manner, nearest
from storystick.ground.source import Source, practice
from storystick.model.check import Asked, Check
from storystick.model.joining import Fit
from storystick.model.judged import Judged, judge
from storystick.model.made import made
from storystick.physics.tolerance import chance_below
from storystick.shop.tables import find, panels

CHANCE = 0.10
ODDS = practice("more than one chance in ten of a bad fit is worth a look before cutting")
FINE_STEP = Fraction(1, 20)
SURE_MM = Fraction(2)


def run(asked: Asked) -> Iterator[Finding]:
    """Every fit: the chance that it is too tight, and that it is too loose. Fits that are alike are told together."""
    alike: dict[tuple[object, ...], list[Judged]] = {}
    unmeasured: dict[str, list[Fit]] = {}
    known: list[Fit] = []
    for fit in asked.build.fits:
        part = asked.build.parts_by_name.get(fit.goes_in)
        if part is not None and fit.cut and part.stock.form == "sheet" and not part.stock.measured:
            unmeasured.setdefault(part.stock.name, []).append(fit)
        else:
            known.append(fit)
    for one in judge(made(asked.build, asked.shop.errors), known):
        fit = one.fit
        gap = (one.gap.value, fit.least.value, fit.most.value, round(one.sd, 4))
        alike.setdefault((fit.for_good, bool(fit.cut), *gap), []).append(one)
    for found in alike.values():
        yield _finding(asked, found)
    for fits in unmeasured.values():
        yield _unmeasured(asked, fits)


def _finding(asked: Asked, alike: list[Judged]) -> Finding:
    manner, fit, sd = asked.build.manner, alike[0].fit, alike[0].sd
    gap, least, most = alike[0].gap.value, fit.least.value, fit.most.value
    tight, loose = alike[0].tight, alike[0].loose
    give = f", give or take {small(2 * sd, manner)}" if sd else ""
    said_odds = percent if sd else _sure
    said = (
        f"{fit.goes_in} into {fit.into}{like_it(len(alike))}, {fit.for_good}: a gap of {small(gap, manner)}"
        f"{give}; {small(least, manner)} to {small(most, manner)} is wanted. "
        f"Too tight: {said_odds(tight)}; too loose: {said_odds(loose)}."
    )
    limit = least if gap - least < most - gap else most
    about = tuple(dict.fromkeys(name for one in alike for name in (one.fit.goes_in, one.fit.into)))
    source = fit.source or ODDS
    if max(tight, loose) <= CHANCE:
        return Finding(CHECK.code, Grade.FINE, fit.place, said, "", source, gap, limit, "mm", about)
    grade = Grade.STOP if gap < 0 else Grade.CARE
    advice = _advice(asked, alike[0], manner)
    tries = tuple(changes(alike[0].fit.gap, aim(alike[0]) - gap, manner))
    return Finding(CHECK.code, grade, fit.place, said, advice, source, gap, limit, "mm", about, None, tries)


def _sure(chance: float) -> str:
    return "yes" if chance > 0.5 else "no"


def aim(judged: Judged) -> Fraction:
    """The gap to aim at [mm]: the middle of what is wanted, or where that is far off so far in as makes it sure."""
    least, most = judged.fit.least.value, judged.fit.most.value
    return least + min((most - least) / 2, max(SURE_MM, Fraction(str(round(2 * judged.sd, 6)))))


def _advice(asked: Asked, judged: Judged, manner: Manner) -> str:
    fit, sd = judged.fit, judged.sd
    middle = (fit.least.value + fit.most.value) / 2
    room = float(fit.most.value - fit.least.value) / 2
    if chance_below(float(fit.least), float(middle), sd) > CHANCE:
        wanted = room / 1.3  # 1.28 sd: one in ten a side
        most = "; ".join(f"{cause.says} ({percent(cause.share)})" for cause in judged.causes(2))
        return (
            f"No setting is sure while the gap is known to {small(2 * sd, manner)} only: measure both parts until it "
            f"is known to {small(1.98 * wanted, manner)}, or cut to fit on an offcut of the same sheet."
            + (f" Most of it comes from {most}." if most else "")
        )
    by = nearest(aim(judged) - judged.gap.value, FINE_STEP)
    what = fit.cut or fit.into
    if not fit.cut and fit.into not in asked.build.parts_by_name:  # what stands there is as it is
        return f"Make {fit.goes_in} {small(abs(by), manner)} {'narrower' if by > 0 else 'wider'}."
    return f"Make {what} {small(abs(by), manner)} {'wider' if by > 0 else 'narrower'}."


def _unmeasured(asked: Asked, fits: list[Fit]) -> Finding:
    manner, fit = asked.build.manner, fits[0]
    stock = asked.build.part(fit.goes_in).stock
    band = band_of(stock.material, stock.nominal.value)
    if band:
        could = f"may be anything from {small(band[0], manner)} to {small(band[1], manner)} thick by {band[2].text}"
        spread, source = band[1] - band[0], band[2]
    else:
        could, spread, source = "may well be thinner or thicker than its name", None, ODDS
    said = (
        f"{fit.goes_in} into {fit.into}{like_it(len(fits))} rests on {stock.name}, sold as "
        f"{mm(stock.nominal.value, manner)} and not measured: it {could}."
    )
    advice = f"Measure {stock.name} with a calliper in three places before cutting; put the readings into the plan."
    limit = fit.most.value - fit.least.value
    about = tuple(dict.fromkeys(one.goes_in for one in fits))
    return Finding(CHECK.code, Grade.NOTE, fit.place, said, advice, source, spread, limit, "mm", about)


def band_of(material: str, nominal: Fraction) -> tuple[Fraction, Fraction, Source] | None:
    """Least and greatest thickness that a panel sold under a size may have [mm], and who says so; None if not known."""
    row = find(panels(), material)
    for thick in row.thickness if row else ():
        if row and abs(thick.nominal_mm - nominal) < Fraction(3, 10):
            return thick.least_mm, thick.most_mm, row.comes_from
    return None


CHECK = Check(
    "width-fit", "Does each thing go into its place by hand without rattling, stock and cuts being what they are?",
    run, ODDS,
)  # fmt: skip
