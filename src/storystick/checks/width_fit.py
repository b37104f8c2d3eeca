"""Width fit: what goes into something goes in by hand, and does not rattle. With the spread of all that it rests on."""

from collections.abc import Iterator
from fractions import Fraction

from storystick.checks.saying import exact, mm, percent
from storystick.ground.dim import spread_of
from storystick.ground.finding import Finding, Grade
from storystick.ground.length import nearest, show_number
from storystick.ground.source import Source, practice
from storystick.model.check import Asked, Check
from storystick.model.joining import Fit
from storystick.model.part import Part
from storystick.physics.tolerance import chance_below
from storystick.shop.tables import find, panels

CHANCE = 0.10
ODDS = practice("more than one chance in ten of a bad fit is worth a look before cutting")
FINE_STEP = Fraction(1, 20)


def run(asked: Asked) -> Iterator[Finding]:
    """Every fit: the chance that it is too tight, and that it is too loose."""
    for fit in asked.build.fits:
        part = asked.build.parts_by_name.get(fit.goes_in)
        if part is not None and part.stock.form == "sheet" and not part.stock.measured:
            yield _unmeasured(asked, fit, part)
        else:
            yield _finding(asked, fit)


def _finding(asked: Asked, fit: Fit) -> Finding:
    gap, least, most, sd = float(fit.gap), float(fit.least), float(fit.most), spread_of(fit.gap)
    tight, loose = chance_below(least, gap, sd), 1 - chance_below(most, gap, sd)
    give = f", give or take {small(exact(2 * sd))}" if sd else ""
    odds = percent if sd else _sure
    said = (
        f"{fit.goes_in} into {fit.into} ({fit.for_good}): a gap of {small(fit.gap.value)}{give}; "
        f"{small(fit.least.value)} to {small(fit.most.value)} is wanted. "
        f"Too tight: {odds(tight)}; too loose: {odds(loose)}."
    )
    limit = fit.least.value if gap - least < most - gap else fit.most.value
    about, source = (fit.goes_in, fit.into), fit.source or ODDS
    if max(tight, loose) <= CHANCE:
        return Finding(CHECK.code, Grade.FINE, fit.place, said, "", source, fit.gap.value, limit, "mm", about)
    grade = Grade.STOP if tight > 0.5 and gap < 0 else Grade.CARE
    return Finding(CHECK.code, grade, fit.place, said, _advice(fit, sd), source, fit.gap.value, limit, "mm", about)


def _sure(chance: float) -> str:
    return "yes" if chance > 0.5 else "no"


def _advice(fit: Fit, sd: float) -> str:
    middle = (fit.least.value + fit.most.value) / 2
    room = float(fit.most.value - fit.least.value) / 2
    if chance_below(float(fit.least), float(middle), sd) > CHANCE:
        wanted = exact(room / 1.3)  # 1.28 standard deviations leave one in ten on a side
        return (
            f"No setting is sure while the gap is known to {small(exact(2 * sd))} only: measure both parts until it is "
            f"known to {small(2 * wanted)}, or cut to fit on an offcut of the same sheet."
        )
    by = nearest(middle - fit.gap.value, FINE_STEP)
    what = fit.cut or fit.into
    return f"Make {what} {small(abs(by))} {'wider' if by > 0 else 'narrower'}."


def _unmeasured(asked: Asked, fit: Fit, part: Part) -> Finding:
    manner, stock = asked.build.manner, part.stock
    band = band_of(stock.material, stock.nominal.value)
    if band:
        could = f"may be anything from {small(band[0])} to {small(band[1])} thick by {band[2].text}"
        spread, source = band[1] - band[0], band[2]
    else:
        could, spread, source = "may well be thinner or thicker than its name", None, ODDS
    said = f"{fit.goes_in} into {fit.into}: {stock.name}, sold as {mm(stock.nominal.value, manner)}, {could}."
    advice = f"Measure {stock.name} with a calliper in three places before cutting; put the readings into the plan."
    limit, about = fit.most.value - fit.least.value, (fit.goes_in, fit.into)
    return Finding(CHECK.code, Grade.NOTE, fit.place, said, advice, source, spread, limit, "mm", about)


def band_of(material: str, nominal: Fraction) -> tuple[Fraction, Fraction, Source] | None:
    """Least and greatest thickness that a panel sold under a size may have [mm], and who says so; None if not known."""
    row = find(panels(), material)
    for thick in row.thickness if row else ():
        if row and abs(thick.nominal_mm - nominal) < Fraction(3, 10):
            return thick.least_mm, thick.most_mm, row.comes_from
    return None


def small(value: Fraction) -> str:
    """A gap: in hundredths of a millimetre whatever the plan's units are, since no rule shows it."""
    return show_number(value, 2) + " mm"


CHECK = Check(
    "width-fit", "Does each thing go into its place by hand without rattling, stock and cuts being what they are?",
    run, ODDS,
)  # fmt: skip
