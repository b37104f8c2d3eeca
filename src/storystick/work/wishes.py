"""What somebody wants of the order: one step before another, first or last; kept where it can be, and at what price."""

from collections.abc import Sequence
from dataclasses import replace
from heapq import heappop, heappush

from storystick.ground.finding import NOWHERE, Finding, Grade, Place
from storystick.ground.misread import nearest
from storystick.ground.source import practice
from storystick.model.work import Wish
from storystick.work.jobs import Job
from storystick.work.order import Found, Jobs, best_order
from storystick.work.order.play import worked
from storystick.work.order.task import closure
from storystick.work.telling import entitled, runs_of

BY_TIMES = practice("the table of times: put your own into the shop file")
BEFORE, FIRST, LAST = " before ", " first", " last"


def wish_of(sort: str, text: str, place: Place = NOWHERE) -> Wish:
    """A wish from its words: "A before B", "A first" or "A last"; `sort` is pin, forbid or prefer.

    What is forbidden is wanted the other way round. What doesn't say two steps comes to nothing: see `granted`.
    """
    said = f'{sort} "{text.strip()}"'
    first, before, then = (part.strip() for part in text.partition(BEFORE))
    if not before:
        alone = text.strip()
        first, then = (alone.removesuffix(FIRST), "") if alone.endswith(FIRST) else ("", alone.removesuffix(LAST))
    if sort == "forbid":
        first, then = then, first
    return Wish(first, then, sort != "prefer", said=said, place=place)


def granted(
    jobs: Sequence[Job], tasks: Jobs, found: Found, wish: Wish, rounds: int, findings: list[Finding]
) -> tuple[Jobs, Found]:
    """The tasks with a wish kept, where it can be and is worth it; what it costs, or what is against it, is told."""
    said = wish.said or f'"{wish.first}" before "{wish.then}"'
    named = {words: _named(words, jobs, found) for words in (wish.first, wish.then) if words}
    for words in (words for words, keys in named.items() if not keys):
        titles = dict.fromkeys(entitled(run) for run in runs_of(jobs, found))
        advice = f"Write words of a title, such as: {nearest(words, titles) or next(iter(titles))}."
        says = f"{said}: no step has the words {words!r} in its title."
        findings.append(_told("no-such-step", Grade.CARE, says, wish, advice))
        return tasks, found
    above, number = closure(tasks), tasks.number
    firsts, thens = named.get(wish.first, []), named.get(wish.then, [])
    if not wish.then:  # before all that it does not wait for
        thens = [k for k in number if k not in firsts and not any(_waits(above, number, f, k) for f in firsts)]
    if not wish.first:  # after all that does not wait for it
        firsts = [k for k in number if k not in thens and not any(_waits(above, number, k, t) for t in thens)]
    if not firsts or not thens:
        all_else = "everything else has to wait for it" if not firsts else "it has to wait for everything else"
        findings.append(_told("order-cant-be", Grade.CARE, f"{said} can't be: {all_else}.", wish))
        return tasks, found
    against = next(((a, b) for a in firsts for b in thens if a == b or _waits(above, number, a, b)), None)
    if against is not None:
        findings.append(_told("order-cant-be", Grade.CARE, f"{said} can't be: {_why_not(jobs, tasks, *against)}", wish))
        return tasks, found
    more = tuple(replace(t, after=(*t.after, *firsts)) if t.key in thens else t for t in tasks.tasks)
    wished = Jobs(more, tasks.day)
    kept = best_order(wished, rounds, (_repaired(wished, found.order),))
    if kept.played.cost < found.played.cost:  # it is a better order without the wish as well: it costs nothing
        found = Found(kept.order, kept.played, found.least)
    price = _price(tasks, found, kept)
    if not wish.firm and kept.played.cost - found.played.cost > wish.worth:
        findings.append(_told("order-wish", Grade.NOTE, f"{said} is not kept: it would cost {price}.", wish))
        return tasks, found
    findings.append(_told("order-wish", Grade.NOTE, f"{said} is kept: it costs {price}.", wish))
    return wished, kept


def _named(words: str, jobs: Sequence[Job], found: Found) -> list[str]:
    """Keys of the jobs that words mean: by their own titles, by that of their step, or by their stage."""
    own = [job.key for job in jobs if _has([job], words)]
    by_step = own or [job.key for run in runs_of(jobs, found) if _has(run, words) for job in run]
    return by_step or [job.key for job in jobs if " ".join(words.casefold().split()) in job.stage]


def _has(run: Sequence[Job], words: str) -> bool:
    return " ".join(words.casefold().split()) in entitled(run).casefold()


def _waits(above: Sequence[int], number: dict[str, int], one: str, other: str) -> bool:
    """Whether one job has to wait for another, at first or second hand."""
    return bool(above[number[one]] >> number[other] & 1)


def _why_not(jobs: Sequence[Job], tasks: Jobs, first: str, then: str) -> str:
    """What stands against doing `first` before `then`: the chain of jobs from one to the other, and its reason."""
    if first == then:
        return "it names one step twice."
    of = {job.key: job for job in jobs}
    titles = [entitled([of[key]]) for key in _chain(tasks, first, then)]
    by = f", through {', '.join(repr(one) for one in titles[1:-1][:2])}" if len(titles) > 2 else ""
    why = of[first].why_here
    return f"{titles[0]!r} has to wait for {titles[-1]!r}{by}" + (f": {why}." if why else ".")


def _chain(tasks: Jobs, first: str, then: str) -> list[str]:
    """Keys from a job back to one that it has to wait for, by the shortest way."""
    ways = {tasks.number[first]: -1}
    line = [tasks.number[first]]
    for n in line:
        for b in tasks.before[n]:
            if b not in ways:
                ways[b] = n
                line.append(b)
    found, at = [], tasks.number[then]
    while at >= 0:
        found.append(tasks.tasks[at].key)
        at = ways[at]
    return found[::-1]


def _repaired(tasks: Jobs, order: Sequence[int]) -> tuple[int, ...]:
    """An order as near to a given one as what waits for what allows."""
    rank = {n: p for p, n in enumerate(order)}
    left = [len(b) for b in tasks.before]
    ready = [(rank[n], n) for n in order if not left[n]]
    found = []
    while ready:
        _, n = heappop(ready)
        found.append(n)
        for b in tasks.behind[n]:
            left[b] -= 1
            if not left[b]:
                heappush(ready, (rank[b], b))
    return tuple(found)


def _price(tasks: Jobs, found: Found, kept: Found) -> str:
    """What another order costs: minutes of setting up, and how much later all is done."""
    more = round(kept.played.set_up - found.played.set_up)
    later = round(worked(tasks, kept.played.end) - worked(tasks, found.played.end))
    days = [int(one.played.end // 1440) + 1 for one in (kept, found)]
    on = f", on day {days[0]} instead of day {days[1]}" if days[0] != days[1] else ""
    if not more and not later:
        return "nothing"
    setting = f"{abs(more)} min {'more' if more >= 0 else 'less'} setting up"
    return f"{setting}, and it is done {abs(later)} min of work {'later' if later >= 0 else 'sooner'}{on}"


def _told(code: str, grade: Grade, says: str, wish: Wish, advice: str = "") -> Finding:
    return Finding(code, grade, wish.place, says, advice, BY_TIMES)
