"""The numbers of the buying list, so that each can be asked why: what one costs, how many, what that is, the sum."""

from collections.abc import Iterator
from fractions import Fraction
from functools import reduce
from operator import add

from storystick.app.pipeline import Job
from storystick.app.plain import money
from storystick.ground.dim import Dim, Leaf, Named
from storystick.model.work import Buy, From

ALL = "buying list, in all"


def bought(job: Job) -> Iterator[Dim]:
    """Every number of the buying list by name: "1/4 inch shelf pin, price", ", need", ", on hand", ", total"."""
    totals = []
    for line, name in zip(job.buying.lines, _names(job.buying.lines), strict=True):
        count = _number(f"{name}, need", Fraction(line.count), line.counted)
        yield count
        to_buy = count
        if line.have:
            have = _number(f"{name}, on hand", Fraction(line.have), From("on hand, as the plan or the rack says"))
            yield have
            to_buy = count - have
        if line.price is not None and line.total is not None:
            price = _number(f"{name}, price", line.price, line.priced)
            yield price
            total = price * to_buy if line.count > line.have else price * 0
            total = Dim(line.total, Named(f"{name}, total", "what has to be bought", total), 0)
            yield total
            totals.append(total)
    if totals:
        whole = reduce(add, totals)
        yield Dim(whole.value, Named(ALL, "what has a price, together", whole), 0)


def _names(lines: tuple[Buy, ...]) -> Iterator[str]:
    """What each line is called: what it is and its size; numbered where two are called the same."""
    seen: dict[str, int] = {}
    for line in lines:
        name = f"{line.what} {line.size}".strip()
        seen[name] = seen.get(name, 0) + 1
        yield name if seen[name] == 1 else f"{name}, no. {seen[name]}"


def _number(name: str, value: Fraction, by: From) -> Dim:
    where = f"{by.place.file}, line {by.place.line}" if by.place.line else ""
    says = "; ".join(word for word in (by.says, where, "" if by.source is None else str(by.source)) if word)
    if by.looked_at:
        return Dim(value, Leaf(name, "chosen", says, None, by.place, by.source, looked_at=by.looked_at), 0)
    return Dim(value, Leaf(name, "given" if by.source is None else "rule", says, None, by.place, by.source), 0)


def paid(job: Job, text: str) -> tuple[str, ...]:
    """Names of the numbers of the buying list that are printed as the text is: "$92.00", "16", "$1.92 ~"."""
    said = text.replace("~", "").strip()
    if not any(sign.isdigit() for sign in said):
        return ()
    signed = any(not sign.isdigit() and sign not in ".," for sign in said)
    found = []
    for dim in bought(job):
        is_money = dim.name.endswith((", price", ", total", ALL))
        printed = {money(dim.value, job.buying.currency), money(dim.value, "")} if is_money else {str(dim.value)}
        if said in printed and (is_money or not signed):
            found.append(dim.name)
    return tuple(found)
