"""A hand: a process that does the heavy work. It keeps the last few jobs, and dies with its parent."""

import gc
import multiprocessing.connection
import os
import threading
import time
from collections import OrderedDict, deque
from collections.abc import Callable
from dataclasses import dataclass
from multiprocessing.connection import Connection
from typing import Any, Protocol

from storystick.app.command import SELDOM
from storystick.app.page import answers, bench_answers, meeting, meshes, putting, whys
from storystick.app.pipeline import CantGoOn, Job, Texts
from storystick.app.plain import finding as plain_finding
from storystick.ground.finding import Broken

KEPT = 4
LONG = ("checked", "mended", "bought", "cut", "steps", "broken", "packet", "shared", "exported")
"""What tells how far it has come."""
AT_ONCE = ("built", "checked", "why", "where", "meshes")
"""What somebody waits for who has just changed a size."""
PAUSE = 0.1  # seconds without a question after which there is time to sweep
MOST_UNSWEPT, WHOLE = 40, 10
TELL_AFTER = 0.4  # seconds between two words on how far something has come

type Answer = dict[str, Any]


class Flag(Protocol):
    """Raised by the parent when the work in hand is not wanted any more."""

    def is_set(self) -> bool:
        """Whether it is raised."""


class GaveWay(Exception):
    """Something else was asked meanwhile that somebody waits for."""


class Stopped(Exception):
    """The work was given up because nobody wants it any more."""


QUESTIONS: dict[str, Callable[..., Answer]] = {
    "built": answers.built,
    "checked": answers.checked,
    "mended": answers.mended,
    "why": whys.why,
    "meshes": meshes.packed,
    "where": meeting.where,
    "bought": bench_answers.bought,
    "cut": bench_answers.cut,
    "steps": bench_answers.steps,
    "packet": bench_answers.packet,
    "shared": bench_answers.shared,
    "formats": bench_answers.formats,
    "exported": bench_answers.exported,
    "reading": bench_answers.reading,
    "changed": bench_answers.changed,
    "broken": putting.broken,
    "taken": putting.taken,
}


def live(ends: Connection, flag: Flag) -> None:
    """Take questions until the parent hangs up: (number, question, texts, units, more) -> ("answer", number, what)."""
    gc.set_threshold(*SELDOM)
    parent = multiprocessing.parent_process()
    if parent is not None:
        threading.Thread(target=_die_with, args=(parent.sentinel,), daemon=True).start()
    jobs: OrderedDict[tuple[Texts, str], Job] = OrderedDict()
    swept, waiting = Swept(), deque[tuple[Any, ...]]()
    while True:
        try:
            if not waiting and not ends.poll(PAUSE):
                swept.while_nobody_asks()
            while not waiting or ends.poll():
                waiting.append(ends.recv())
        except (EOFError, OSError):
            return
        asked = next((one for one in waiting if not _gives_way(one[4])), waiting[0])
        waiting.remove(asked)
        number, question, texts, units, more = asked
        swept.before(question)
        try:
            answer = _answered(ends, flag, jobs, number, question, texts, units, more)
        except GaveWay:
            waiting.appendleft(asked)
            continue
        ends.send(("answer", number, answer))
        if question == "built":  # its bodies will be asked for next, then what is found
            meshes.ahead(jobs.get((texts, units)), ends.poll)
            answers.ahead(jobs.get((texts, units)), ends.poll)


def _gives_way(more: Answer) -> bool:
    """Looking at numbers is put down between two checks while something else is asked, and gone on with after."""
    return more.get("looks") == "numbers"


@dataclass(slots=True)
class Swept:
    """Rings of things that hold one another are looked for between two answers, not while somebody waits for one.

    A plan makes few, and looking takes as long as a good part of an answer. What takes its time is swept meanwhile.
    """

    answers: int = 0  # since it was last swept
    times: int = 0

    def before(self, question: str) -> None:
        """Somebody asks: no sweeping until the answer is there, unless that was so for long."""
        self.answers += 1
        if question in AT_ONCE and self.answers < MOST_UNSWEPT:
            gc.disable()
        else:
            gc.enable()

    def while_nobody_asks(self) -> None:
        """Sweep what came since the last time; now and then everything."""
        if self.answers:
            self.times += 1
            gc.collect(2 if self.times % WHOLE == 0 else 1)
            self.answers = 0


def _die_with(sentinel: int) -> None:
    multiprocessing.connection.wait([sentinel])
    os._exit(0)


def _answered(
    ends: Connection, flag: Flag, jobs: OrderedDict[tuple[Texts, str], Job], number: int, question: str,
    texts: Texts, units: str, more: Answer,
) -> Answer:  # fmt: skip
    told = time.monotonic()

    def tell(what: str, share: float) -> None:
        nonlocal told
        if flag.is_set():
            raise Stopped
        if _gives_way(more) and ends.poll():
            raise GaveWay
        if time.monotonic() - told > TELL_AFTER:
            told = time.monotonic()
            ends.send(("tell", number, {"what": what, "share": round(share, 3)}))

    if question == "warm":
        _warm(more.get("heavy", False))
        return {}
    try:
        key = (texts, units)
        job = jobs.pop(key, None)
        if job is None or question in LONG:
            job = _job(texts, units, job, tell, flag)
        jobs[key] = job
        while len(jobs) > KEPT:
            jobs.popitem(last=False)
        answer: Answer = QUESTIONS[question](job, **more)
        if flag.is_set():
            raise Stopped
    except GaveWay:
        raise
    except Stopped:
        return {"stopped": True}
    except CantGoOn as trouble:
        return {"stuck": True, "findings": [plain_finding(f) for f in trouble.findings]}
    except ImportError as missing:
        return {"missing": True, "says": f"This copy can't do that yet ({missing.name})."}
    except Broken as fault:
        return {"broken": True, "says": str(fault)[:2000]}
    except RecursionError:
        return {"broken": True, "says": "the plan is nested too deeply to be worked out"}
    except Exception as fault:
        return {"broken": True, "says": f"{type(fault).__name__}: {fault}"[:2000]}
    else:
        return answer


def _job(texts: Texts, units: str, before: Job | None, tell: Any, flag: Flag) -> Job:
    """A job for these texts, printing in the units asked for; what one before it has worked out is kept."""
    if before is not None:
        return before.going_on(tell, flag.is_set)
    return answers.in_units(Job(texts, tell=tell, stop=flag.is_set), units)


def _warm(heavy: bool) -> None:
    """Bring in what the first question will need, before it is asked."""
    import storystick.model.scene
    import storystick.resolve

    if heavy:
        import storystick.checks

        storystick.checks.shelf()
    gc.collect()
    gc.freeze()  # what was brought in stays for good: nothing in it has to be looked at again
