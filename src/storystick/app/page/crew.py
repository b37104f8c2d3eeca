"""The crew: two hands, one for what must be answered at once and one for what takes its time. Seen from the server."""

import asyncio
import multiprocessing
import threading
from collections.abc import Callable
from concurrent.futures import Future
from dataclasses import dataclass, field
from multiprocessing.connection import Connection
from multiprocessing.context import SpawnProcess
from multiprocessing.synchronize import Event
from typing import Any

from storystick.app.page.hand import live
from storystick.app.pipeline import Texts

type Answer = dict[str, Any]
type Told = Callable[[Answer], None]

GIVE_UP_AFTER = 1.5  # seconds that a hand has to put down what it was told to stop


@dataclass(slots=True)
class _Asked:
    future: "Future[Answer]"
    told: Told | None


@dataclass(slots=True)
class Hand:
    """One process and the questions that it has been asked. Questions are answered in the order in which they come."""

    heavy: bool = False
    process: SpawnProcess | None = None
    ends: Connection | None = None
    flag: Event | None = None
    count: int = 0
    waiting: dict[int, _Asked] = field(default_factory=dict)
    lock: threading.RLock = field(default_factory=threading.RLock)

    @property
    def is_there(self) -> bool:
        """Whether the process is running."""
        process = self.process
        return process is not None and process.is_alive()

    def start(self) -> None:
        """Start the process, where it isn't running."""
        with self.lock:
            if self.is_there:
                return
            context = multiprocessing.get_context("spawn")
            mine, theirs = context.Pipe()
            flag = context.Event()
            process = context.Process(target=live, args=(theirs, flag), daemon=True, name="storystick hand")
            process.start()
            theirs.close()
            self.process, self.ends, self.flag = process, mine, flag
            threading.Thread(target=self._listen, args=(mine,), daemon=True).start()
            self._send("warm", Texts("", ""), "", {"heavy": self.heavy}, None)

    def _send(self, question: str, texts: Texts, units: str, more: Answer, told: Told | None) -> "Future[Answer]":
        with self.lock:
            self.count += 1
            future: Future[Answer] = Future()
            assert self.ends is not None
            self.waiting[self.count] = _Asked(future, told)
            try:
                self.ends.send((self.count, question, texts, units, more))
            except OSError:
                self.waiting.pop(self.count)
                future.set_result({"broken": True, "says": "the work could not be handed over"})
            return future

    def _listen(self, ends: Connection) -> None:
        while True:
            try:
                what, number, answer = ends.recv()
            except (EOFError, OSError):
                break
            with self.lock:
                asked = self.waiting.get(number)
                if what == "answer":
                    self.waiting.pop(number, None)
                    if self.flag is not None and not self.waiting:
                        self.flag.clear()
            if asked is None:
                continue
            if what == "tell":
                if asked.told is not None:
                    asked.told(answer)
            elif not asked.future.done():
                asked.future.set_result(answer)
        with self.lock:
            if self.ends is not ends:
                return
            lost, self.waiting, self.process = self.waiting, {}, None
        for asked in lost.values():
            if not asked.future.done():
                asked.future.set_result({"stopped": True})

    async def ask(self, question: str, texts: Texts, units: str = "", told: Told | None = None, **more: Any) -> Answer:
        """The answer to a question. `told` hears how far it has come, from another thread."""
        if not self.is_there:
            await asyncio.to_thread(self.start)
        return await asyncio.wrap_future(self._send(question, texts, units, more, told))

    async def stop(self) -> None:
        """Give up everything that was asked; the process is replaced if it can't put its work down."""
        with self.lock:
            if not self.waiting or self.flag is None:
                return
            waited = [asked.future for asked in self.waiting.values()]
            self.flag.set()
        _, late = await asyncio.wait([asyncio.wrap_future(f) for f in waited], timeout=GIVE_UP_AFTER)
        if late:
            await asyncio.to_thread(self.end)
            await asyncio.to_thread(self.start)

    def end(self) -> None:
        """End the process; whoever waits for it is told that it was stopped."""
        with self.lock:
            process, self.process = self.process, None
            lost, self.waiting = self.waiting, {}
        for asked in lost.values():
            if not asked.future.done():
                asked.future.set_result({"stopped": True})
        if process is not None:
            process.terminate()
            process.join(2)
            if process.is_alive():
                process.kill()


@dataclass(slots=True)
class Crew:
    """The quick hand answers edits; the slow one checks, lays out, orders and prints."""

    quick: Hand = field(default_factory=Hand)
    slow: Hand = field(default_factory=lambda: Hand(heavy=True))

    def start(self) -> None:
        """Start both."""
        self.quick.start()
        self.slow.start()

    def end(self) -> None:
        """End both."""
        self.quick.end()
        self.slow.end()
