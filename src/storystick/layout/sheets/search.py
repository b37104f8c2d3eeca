"""Looks for a good plan: ours and the engine's, judged by one measure. It is never trusted; `refute` looks after it."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import islice
from random import Random

from storystick.layout.sheets.begin import reckon
from storystick.layout.sheets.bound import least_cost
from storystick.layout.sheets.construct import Filler, Taste, construct
from storystick.layout.sheets.engine import FIRST, SEVERAL, THOROUGH, Asking, ask
from storystick.layout.sheets.grouped import kept_together
from storystick.layout.sheets.on_hand import endless, on_hand_first, slots, to_buy
from storystick.layout.sheets.patterns import LONG, by_patterns
from storystick.layout.sheets.plan import Begun, Judged, Plan, Score
from storystick.layout.sheets.problem import CROSSCUT, RIP, Job, SheetProblem
from storystick.layout.sheets.settings import in_turn
from storystick.layout.sheets.table import Table
from storystick.layout.sheets.varying import reworked, varied

Tell = Callable[[str, float], None]
Stop = Callable[[], bool]


@dataclass(frozen=True, slots=True)
class Patience:
    """How long to look, in steps and not in seconds. A `stop` ends the search between two steps.

    effort     how many blanks are placed, all in all, in our own constructions after the first few
    asking     ways of asking the library, for sheets of one size
    several    ways of asking it for sheets of several sizes
    patterns   how many sheets are filled to find a cheaper layout, where the cost is not shown to be least
    thorough   slower ways of asking, before that
    """

    effort: int = 32000
    asking: tuple[Asking, ...] = FIRST
    several: tuple[Asking, ...] = SEVERAL
    patterns: int = 240
    thorough: tuple[Asking, ...] = ()


WITHOUT = 3
"""With so many ways of asking it is tried whether the job does without what is on hand, at no more cost."""

MANY = 100
"""With more blanks than these, fewer patterns are made: each takes longer, and more of them are needed."""

VERY_MANY = 400
"""With more blanks than these the slower ways of asking are left out: patterns do better there, and sooner."""

SOME_SIZES = 3
"""With more sizes than these too, and patterns are made for longer."""

MORE_MIXED = 8
"""So many times as many patterns are made where the library is not asked for whole layouts."""

FOR_EACH = 20
MANY_ALIKE = 10
"""With very many blanks, of which so many are alike, at least FOR_EACH sheets are filled for each kind."""

EACH = 150
"""With few blanks no more than so many rounds for each of them: there is little to vary."""

BEFORE = 8
"""Such a part of the rounds is done before anything slower: for few blanks it is often enough."""

FINAL_WIDTH = 40
"""How hard the order of settings is looked for once the plan is chosen."""

NOTHING = Judged(Plan(()), Score(0, 0, Fraction(0), 0, 0, 0), ())
"""The answer where nothing can be cut."""

HASTY = Patience(0, (), (), 0)
"""A first answer, in some tenths of a second."""

USUAL = Patience()
"""Some seconds for the parts of a piece of furniture."""

PATIENT = Patience(patterns=4000, thorough=THOROUGH)
"""Some minutes at most: for large jobs, and to see whether a sheet less would do."""


@dataclass(frozen=True, slots=True)
class Found:
    """The best plan, the job it is for, and the least cost that could be shown."""

    job: Job
    judged: Judged
    least_cost: Fraction
    tried: int


def search(
    problem: SheetProblem, *, patience: Patience = USUAL, tell: Tell | None = None, stop: Stop | None = None
) -> Found:
    """The best plan found: whole if the stock allows it, then cheapest, fewest sheets, settings, best leftover."""
    job = reckon(problem)
    table = Table(job, problem, least_cost(job))
    for says, share, sheets in _answers(table, patience) if job.kinds else ():
        if sheets:
            table.offer(sheets)
        if tell is not None:
            tell(says, share)
        if table.best is not None and stop is not None and stop():
            break
    best = table.best or NOTHING
    turns = in_turn(best.plan.chains, FINAL_WIDTH)
    if len(turns) < len(best.turns):
        best = replace(best, turns=turns)
    return Found(job, best, table.bound, table.tried)


def _answers(table: Table, patience: Patience) -> Iterator[tuple[str, float, list[Begun] | None]]:
    """Answers one after another, with what was done and how far the search has come."""
    job = table.job
    filler = Filler(job)
    even = [1.0] * len(job.kinds)
    for number, first in enumerate((RIP, CROSSCUT, None)):
        sheets = construct(filler, Taste(even, 0.0, first, 0.0, 0.0, Random(number)))
        yield "strips laid out", 0.02, sheets
    placings = sum(job.counts) * sum(len(stock.kits) for stock in job.stocks) or 1
    rounds = min(patience.effort // placings // 2, EACH * sum(job.counts))
    more = varied(table, filler, rounds)
    for says, _, sheets_or_none in islice(more, rounds // BEFORE):
        yield says, 0.03, sheets_or_none
    free = any(stock.cost == 0 for stock in job.stocks)
    sizes = slots(job, paid=free)
    ways = patience.several if sizes > 1 else patience.asking
    if sum(job.counts) > VERY_MANY or sizes > SOME_SIZES:
        ways = tuple(asking for asking in ways if not asking.slow)
    if table.whole and patience.patterns and _patterns_alone(job):
        ways = ()
    kits = max((len(stock.kits) for stock in job.stocks), default=1)
    steps = [(asking, kit) for asking in ways for kit in range(min(kits, 2))]
    most = [stock.copies for stock in job.stocks]
    for number, (asking, kit) in enumerate(steps):
        if table.done:
            return
        if not asking.stages and table.cheapest():
            continue  # cuts of any number of turns save sheets, and seldom settings
        share = 0.05 + 0.25 * number / len(steps)
        found = on_hand_first(job, asking, kit, most) if free else ask(job, asking, kit, None, most)
        if not found and most != (others := endless(job)):
            most = others  # the library is not good at stocks of which there are few: patterns are
            found = on_hand_first(job, asking, kit, most) if free else ask(job, asking, kit, None, most)
        yield asking.name, share, found
        if free and number < WITHOUT and not table.judge.problem.rack_first:
            yield asking.name, share, ask(job, asking, kit, job.counts, to_buy(job, most))
    for found in kept_together(job, ways[:3]):
        yield "groups kept together", 0.3, found
    yield from _mixed(table, patience.patterns)
    yield from _asked_thoroughly(table, patience.thorough, free)
    yield from more
    yield from reworked(table, filler, patience.effort // 2, EACH * sum(job.counts))


def _asked_thoroughly(
    table: Table, ways: Sequence[Asking], free: bool
) -> Iterator[tuple[str, float, list[Begun] | None]]:
    """The library's slower answers, until one costs no more than what is shown to be least."""
    for number, asking in enumerate(ways):
        if table.cheapest():
            return
        share = 0.3 + 0.1 * number / len(ways)
        yield asking.name, share, ask(table.job, asking)
        if free and not table.cheapest():
            yield asking.name, share, on_hand_first(table.job, asking, 0, endless(table.job))


def _patterns_alone(job: Job) -> bool:
    """True with many sizes to be bought, each cut as it is: whole layouts by the library take long and gain less."""
    return len(job.stocks) > SOME_SIZES and all(stock.cost > 0 and len(stock.kits) == 1 for stock in job.stocks)


def _mixed(table: Table, most: int) -> Iterator[tuple[str, float, list[Begun] | None]]:
    """Cheaper layouts out of many patterns, unless none can be cheaper."""
    if not most or table.best is None or not table.whole or table.cheapest() or len(table.job.kinds) < 2:
        return
    number = max(MANY, sum(table.job.on_one))
    most = most * MANY // number
    very_many = sum(table.job.counts) > max(VERY_MANY, MANY_ALIKE * len(table.job.kinds))
    enough = FOR_EACH * len(table.job.kinds) if very_many else 0
    long = max(most, enough) >= LONG
    if slots(table.job, paid=False) > SOME_SIZES:
        most *= MORE_MIXED if _patterns_alone(table.job) else SOME_SIZES + 1
    most = max(most, enough)
    for share, found in by_patterns(table.job, table.filled, float(table.best.score.cost), most=most, long=long):
        yield "patterns mixed", 0.4 + 0.2 * share, found
        if table.cheapest():
            return
