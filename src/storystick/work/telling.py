"""From jobs in their order to steps: what is done at one machine in one go is one step, and says why it is here."""

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Sequence
from itertools import groupby

from storystick.model.work import Stage, Step
from storystick.work.bench import reminder
from storystick.work.jobs import Job, Line, as_one
from storystick.work.order import Found, Jobs, Stand
from storystick.work.saying import and_of, plural, spoken_all

SETTING = 20
"""Minutes of waiting that are worth telling."""
WORDS = 4


def steps_of(jobs: Sequence[Job], tasks: Jobs, found: Found) -> tuple[Step, ...]:
    """The steps, numbered; jobs of one kin that follow one another told as one."""
    runs = runs_of(jobs, found)
    number = {job.key: n for n, run in enumerate(runs, 1) for job in run}
    return tuple(_steps(runs, number, tasks, found))


def runs_of(jobs: Sequence[Job], found: Found) -> list[list[Job]]:
    """The jobs in their turn, those of one kin that follow one another together."""
    runs: list[list[Job]] = []
    for job in (jobs[n] for n in found.order):
        if runs and job.kin and runs[-1][-1].kin == job.kin:
            runs[-1].append(job)
        else:
            runs.append([job])
    return runs


def _steps(runs: Sequence[Sequence[Job]], number: dict[str, int], tasks: Jobs, found: Found) -> Iterator[Step]:
    told: set[str] = set()
    why = Reasons(tasks, found, number)
    for n, run in enumerate(runs, 1):
        last = run[-1]
        ids = [tasks.number[job.key] for job in run]
        parts = tuple({p.name: p.name for job in run for p in job.parts})
        cautions = dict.fromkeys(c for job in run for c in job.cautions)
        says = [reminder(c) if c in told else c for c in cautions]
        told |= cautions.keys()
        set_up = sum(found.played.setting[i] for i in ids)
        begins = found.played.begins[ids[0]]
        yield Step(
            n,
            _dry_first(run)[0].stage,
            entitled(run),
            tuple(_sentences(run)),
            parts,
            as_one(one for job in run for one in job.setups),
            _union(job.shows for job in run),
            _union(job.new for job in run),
            " ".join(dict.fromkeys(job.check for job in run if job.check)),
            " ".join(dict.fromkeys(says)),
            _union(job.reads for job in run),
            _union(job.needs for job in run),
            max(1, round(sum(job.hands_on for job in run) + set_up)),
            max(job.waits for job in run) if len(run) == 1 else last.waits,
            tuple(sorted({number[key] for job in run for key in job.after if key in number} - {n})),
            why.of(run),
            tuple(cut for job in run for cut in job.cuts),
            set_up=round(set_up),
            begins=round(begins),
            to_fit=tuple(cut for job in run for cut in job.to_fit),
        )


def _union(names: Iterable[tuple[str, ...]]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(name for some in names for name in some))


def entitled(run: Sequence[Job]) -> str:
    """The title of a step: what its jobs are about, told together; each sort of job by itself."""
    sorts = dict.fromkeys(job.stage for job in _dry_first(run))
    first, *others = [_titled([job for job in run if job.stage is stage]) for stage in sorts]
    return ", and ".join([first, *(f"{title[:1].lower()}{title[1:]}" for title in others)])


def _dry_first(run: Sequence[Job]) -> list[Job]:
    """The jobs of a step, dry fits before what is done in them."""
    return sorted(run, key=lambda job: job.stage is not Stage.DRY_FIT)


def _titled(run: Sequence[Job]) -> str:
    title = run[0].title
    words = [word for job in run for word in job.words]
    if "{}" not in title:
        return title
    if run[0].stage in (Stage.MACHINE, Stage.DRILL):
        counts = Counter(words)
        names = [plural(word) if count > 1 else word for word, count in counts.items()]
    elif run[0].stage in (Stage.BREAK_DOWN, Stage.SAW):
        names = list(dict.fromkeys(words))
    else:
        return title.replace("{}", spoken_all(list(dict.fromkeys(words))))
    many = f"{names[0]}, {names[1]} and more" if len(names) > WORDS else and_of(names)
    return title.replace("{}", many)


def _sentences(run: Sequence[Job]) -> Iterator[str]:
    yield from dict.fromkeys(text for job in _dry_first(run) for text in job.does)
    yield from told_together([line for job in _dry_first(run) for line in job.lines])
    yield from _in_clamps(run)
    yield from _each_drilled(run)
    yield from dict.fromkeys(text for job in run for text in job.ends)


def _each_drilled(run: Sequence[Job]) -> Iterator[str]:
    """Of several that are tried dry and drilled in one step each stands together only once."""
    dry = [job for job in run if job.stage is Stage.DRY_FIT]
    if len(dry) > 1 and any(job.stage is Stage.DRILL for job in run):
        yield "Drill each while it stands together, before the next is tried."


def _in_clamps(run: Sequence[Job]) -> Iterator[str]:
    """How many clamps stand when several are glued up one after the other."""
    held = [job.clamps for job in run if job.stage is Stage.GLUE and job.clamps]
    if len(held) > 1:
        yield (
            f"One after the other, each spread, closed and clamped before the next: {sum(held)} clamps in all if none "
            "comes off in between."
        )


def told_together(lines: Sequence[Line]) -> Iterator[str]:
    """Lines as sentences: one for each setting, and one for lines that differ only in where."""
    merged: dict[tuple[str, str, str], list[str]] = {}
    for line in lines:
        merged.setdefault((line.at, line.head, line.tail), []).append(line.where)
    texts: dict[str, list[str]] = {}
    for (at, head, tail), where in merged.items():
        texts.setdefault(at, []).append(f"{head}{and_of(dict.fromkeys(w for w in where if w))}{tail}")
    for at, said in texts.items():
        if at:
            yield f"{at}: {'; '.join(said)}."
        else:
            yield from (f"{text}." for text in said)


class Reasons:
    """Why each step stands where it does: what it waits for, what it uses, and what it fills."""

    def __init__(self, tasks: Jobs, found: Found, number: dict[str, int]) -> None:
        self.tasks, self.found, self.number = tasks, found, number
        self.place = {n: p for p, n in enumerate(found.order)}

    def of(self, run: Sequence[Job]) -> str:
        """In words, the firm reasons first."""
        said = list(dict.fromkeys(job.why_here for job in run if job.why_here))[:2]
        n = self.tasks.number[run[0].key]
        machines = {one.machine for job in run for one in job.setups}
        return "; ".join([*said, *self._held(n, machines), *self._meanwhile(n)])

    def _held(self, n: int, machines: Collection[str]) -> Iterator[str]:
        """What is still set from before on the machines that a step is done with."""
        for stand in self.tasks.tasks[n].stands:
            before = self._last(n, stand.machine)
            if before is None or stand.machine not in machines:
                continue
            step, was = before
            if step == self.number[self.tasks.tasks[n].key] or was.tool != stand.tool:
                continue
            same = [name for name, value, _ in stand.marks if (name, value) in {(a, b) for a, b, _ in was.marks}]
            if same:
                yield f"the {and_of(same)} of the {stand.machine} still as set in step {step}"
                return
            if stand.tool_minutes and stand.tool != "saw blade":
                yield f"the {stand.tool} is still in the {stand.machine} from step {step}"
                return

    def _last(self, n: int, machine: str) -> tuple[int, Stand] | None:
        for other in reversed(self.found.order[: self.place[n]]):
            for stand in reversed(self.tasks.tasks[other].stands):
                if stand.machine == machine:
                    return self.number[self.tasks.tasks[other].key], stand
        return None

    def _meanwhile(self, n: int) -> Iterator[str]:
        """What sets by itself while it is done."""
        begin, played = self.found.played.begins[n], self.found.played
        setting = [
            other
            for other in self.found.order[: self.place[n]]
            if self.tasks.tasks[other].waits >= SETTING
            and played.ends[other] <= begin < played.ends[other] + self.tasks.tasks[other].waits
        ]
        numbers = [step for step, _ in groupby(sorted({self.number[self.tasks.tasks[o].key] for o in setting}))]
        if numbers:
            yield f"meanwhile what was done in step {and_of(map(str, numbers))} sets or dries"
