"""The desk: the plans' folder, the crew, what was undone, and everybody who has a plan open."""

import asyncio
from collections import OrderedDict, deque
from collections.abc import AsyncIterator, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any

from storystick.app.log import add as add_to_log
from storystick.app.log import log_at, log_of, log_text
from storystick.app.page.answers import together
from storystick.app.page.crew import Answer, Crew, Told
from storystick.app.page.folder import SHOP, Folder, Sheet, version_of
from storystick.app.page.ticks import changing
from storystick.app.pipeline import Texts
from storystick.ground.finding import Finding
from storystick.ground.outcome import Outcome
from storystick.plan.log import Entry

UNDO = 100  # texts that are kept of one plan
QUEUE = 200
KEPT_ANSWERS = 24
TOO_LONG = 20.0  # seconds that the quick hand may take over one answer
WATCH = 1.5  # seconds between looks at whether a plan was changed by another program


@dataclass(slots=True)
class Story:
    """What a plan said before, and what was undone."""

    past: deque[str] = field(default_factory=lambda: deque(maxlen=UNDO))
    undone: list[str] = field(default_factory=list)


class Refused(Exception):
    """A change that could not be made; the findings say why."""

    def __init__(self, findings: tuple[Finding, ...]) -> None:
        super().__init__(findings[0].says if findings else "it could not be changed")
        self.findings = findings


class Desk:
    """All that the routes need. One for each server."""

    def __init__(self, folder: Folder) -> None:
        self.folder = folder
        self.crew = Crew()
        self.stories: dict[str, Story] = {}
        self.listeners: dict[str, set[asyncio.Queue[Answer]]] = {}
        self.answers: OrderedDict[tuple[object, ...], Answer] = OrderedDict()
        self.under_way: dict[tuple[object, ...], asyncio.Task[Answer]] = {}
        self.stopping: asyncio.Task[None] | None = None
        self.beginning: asyncio.Task[Answer] | None = None

    # --- texts ------------------------------------------------------------------------------------------------------

    def texts(self, sheet: Sheet) -> Texts:
        """What a job is made from."""
        shop = self.folder.shop()
        path = self.folder.path(sheet.name)
        log = log_text(path)
        return Texts(
            sheet.text, sheet.name, shop, SHOP if shop is not None else "", log, log_of(path).name if log else ""
        )  # fmt: skip

    async def logged(self, name: str, entries: Sequence[Entry]) -> None:
        """Write what was ticked and read into the log beside a plan, in one go; readings overrule what was reckoned."""
        before = await asyncio.to_thread(self.log_mark, name)
        await asyncio.to_thread(add_to_log, self.folder.path(name), *entries)
        self.tell(name, {"news": "log"})
        if await asyncio.to_thread(self.log_mark, name) != before:
            self.tell(name, {"news": "measured"})
            self.stopping = asyncio.create_task(self.crew.slow.stop())

    def log_mark(self, name: str) -> str:
        """A mark of what the log says of numbers: where it is the same, nothing has to be reckoned anew."""
        return version_of(changing(log_at(self.folder.path(name))))

    def has(self, name: str, tag: str) -> bool:
        """Whether an entry with this tag is in the log of a plan."""
        return any(one.tag == tag for one in log_at(self.folder.path(name)).entries)

    def story(self, name: str) -> Story:
        """What happened to a plan since the server was started."""
        return self.stories.setdefault(name, Story())

    async def write(self, name: str, text: str, version: str, *, by: str = "") -> Sheet:
        """A new text instead of the version seen. Raises folder.Moved when that isn't how it stands."""
        folder = self.folder
        before, sheet = await asyncio.to_thread(lambda: (folder.read(name), folder.write(name, text, version)))
        if sheet.version != before.version:
            story = self.story(name)
            story.past.append(before.text)
            story.undone.clear()
            await self._changed(sheet, by)
        return sheet

    async def change(self, name: str, version: str, made: Outcome[str], *, by: str = "") -> Sheet:
        """A changed text. Raises Refused when there is none."""
        if made.made is None:
            raise Refused(made.findings)
        return await self.write(name, made.made, version, by=by)

    async def undo(self, name: str, version: str, *, again: bool, by: str = "") -> Sheet:
        """One change back, or forth `again`; the plan as it stands when there is none."""
        story = self.story(name)
        now = await asyncio.to_thread(self.folder.read, name)
        if not (story.undone if again else story.past):
            return now
        text = story.undone[-1] if again else story.past[-1]
        sheet = await asyncio.to_thread(self.folder.write, name, text, version)
        if again:
            story.undone.pop()
            story.past.append(now.text)
        else:
            story.past.pop()
            story.undone.append(now.text)
        await self._changed(sheet, by)
        return sheet

    async def stop(self) -> None:
        """Put down what takes its time."""
        await self.crew.slow.stop()

    async def _changed(self, sheet: Sheet, by: str) -> None:
        self.tell(sheet.name, {"news": "version", "version": sheet.version, "by": by})
        self.stopping = asyncio.create_task(self.crew.slow.stop())  # what is out of date; nobody waits for it here

    # --- answers ----------------------------------------------------------------------------------------------------

    async def quick(self, question: str, sheet: Sheet, units: str, **more: Any) -> Answer:
        """An answer of the quick hand."""
        asked = self.crew.quick.ask(question, self.texts(sheet), units, None, **more)
        try:
            return await asyncio.wait_for(asked, TOO_LONG)
        except TimeoutError:
            await asyncio.to_thread(self.crew.quick.end)
            await self.crew.slow.stop()  # which began with the same plan
            return {"broken": True, "says": "This plan takes too long to work out; something in it is far too large."}

    def ahead(self, sheet: Sheet, units: str) -> None:
        """Begin with checking, which will be asked for next, while something else is being answered."""
        self.beginning = asyncio.create_task(self.slow("checked", sheet, units, looks="bodies"))

    async def checked(self, sheet: Sheet, units: str) -> Answer:
        """What was found. The slow hand looks at the bodies; the quick one, which has shown the piece, at the rest."""
        bodies = asyncio.create_task(self.slow("checked", sheet, units, looks="bodies"))
        numbers = await self.quick("checked", sheet, units, looks="numbers")
        return together(numbers, await bodies)

    async def slow(self, question: str, sheet: Sheet, units: str, **more: Any) -> Answer:
        """An answer of the slow hand, kept; those who have the plan open hear how far it has come."""
        if self.stopping is not None:
            await asyncio.shield(self.stopping)
        texts = self.texts(sheet)
        key = (question, texts, units, *sorted(more.items()))
        if key in self.answers:
            self.answers.move_to_end(key)
            return self.answers[key]
        task = self.under_way.get(key)
        if task is None:
            told = self._telling(question, sheet)
            task = asyncio.create_task(self.crew.slow.ask(question, texts, units, told, **more))
            self.under_way[key] = task
            task.add_done_callback(lambda done: self._keep(key, done))
        return await asyncio.shield(task)

    def _telling(self, question: str, sheet: Sheet) -> Told:
        loop = asyncio.get_running_loop()

        def told(how_far: Answer) -> None:
            news = {"news": "progress", "question": question, "version": sheet.version, **how_far}
            loop.call_soon_threadsafe(self.tell, sheet.name, news)

        return told

    def _keep(self, key: tuple[object, ...], done: "asyncio.Task[Answer]") -> None:
        self.under_way.pop(key, None)
        if done.cancelled() or done.exception() is not None:
            return
        answer = done.result()
        if not {"stopped", "broken", "missing"} & answer.keys():
            self.answers[key] = answer
            while len(self.answers) > KEPT_ANSWERS:
                self.answers.popitem(last=False)

    # --- news -------------------------------------------------------------------------------------------------------

    def tell(self, name: str, news: Answer) -> None:
        """Tell everybody who has a plan open; one who doesn't listen misses it."""
        for queue in self.listeners.get(name, ()):
            if queue.full():
                queue.get_nowait()
            queue.put_nowait(news)

    @contextmanager
    def listening(self, name: str) -> "Iterator[asyncio.Queue[Answer]]":
        """A queue of news about a plan."""
        queue: asyncio.Queue[Answer] = asyncio.Queue(QUEUE)
        self.listeners.setdefault(name, set()).add(queue)
        try:
            yield queue
        finally:
            self.listeners[name].discard(queue)

    async def news(self, name: str) -> AsyncIterator[Answer]:
        """News of a plan as they come; also when another program changes its file. An empty one now and then."""
        last = (await asyncio.to_thread(self.folder.read, name)).version
        log = await asyncio.to_thread(self._log_now, name, (-1, ""))
        with self.listening(name) as queue:
            yield {"news": "version", "version": last}
            while True:
                try:
                    one = await asyncio.wait_for(queue.get(), WATCH)
                    if one.get("news") == "version":
                        last = one["version"]
                    elif one.get("news") in ("log", "measured"):
                        log = await asyncio.to_thread(self._log_now, name, log)
                    yield one
                except TimeoutError:
                    now = (await asyncio.to_thread(self.folder.read, name)).version
                    kept = await asyncio.to_thread(self._log_now, name, log)
                    yield {"news": "version", "version": now} if now != last else {}
                    if kept[0] != log[0]:  # somebody wrote into it at the command line
                        yield {"news": "log"}
                    if kept[1] != log[1]:
                        yield {"news": "measured"}
                    last, log = now, kept

    def _log_now(self, name: str, before: tuple[int, str]) -> tuple[int, str]:
        """How long the log is, in bytes, and the mark of what it says of numbers; it is only ever added to."""
        path = log_of(self.folder.path(name))
        size = path.stat().st_size if path.is_file() else 0
        return before if size == before[0] else (size, self.log_mark(name))
