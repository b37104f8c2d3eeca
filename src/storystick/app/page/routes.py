"""What the page can be asked, and what it answers."""

import asyncio
import json
from collections.abc import AsyncIterator, Awaitable, Callable
from dataclasses import replace
from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response, StreamingResponse
from starlette.routing import Route

from storystick.app.page import change, ticks
from storystick.app.page.desk import Desk, Refused
from storystick.app.page.folder import LARGEST, Gone, Moved, Sheet, Taken
from storystick.app.plain import finding as plain_finding
from storystick.plan.log import Entry

type Data = dict[str, Any]
type Answers = Callable[[Request], Awaitable[Response]]

SLOW = ("checked", "mended", "bought", "cut", "steps", "broken")
PATIENCE = 4  # how often something is asked that others put down meanwhile


class Unreadable(Exception):
    """A request that says nothing we know."""


def desk_of(request: Request) -> Desk:
    """The desk of this server."""
    desk: Desk = request.app.state.desk
    return desk


def guarded(answer: Answers) -> Answers:
    """An answer that turns what can go wrong into plain replies."""

    async def attempt(request: Request) -> Response:
        try:
            return await answer(request)
        except Gone:
            return JSONResponse({"error": "There is no plan of that name."}, 404)
        except Taken:
            return JSONResponse({"error": "There is a plan of that name already."}, 409)
        except Moved as moved:
            told = {"error": "The plan was changed meanwhile.", "text": moved.now.text, "version": moved.now.version}
            return JSONResponse(told, 409)
        except Refused as refused:
            return JSONResponse({"error": str(refused), "findings": [plain_finding(f) for f in refused.findings]}, 422)
        except (Unreadable, ticks.Unfit) as wrong:
            return JSONResponse({"error": str(wrong)}, 400)

    return attempt


async def data_of(request: Request) -> Data:
    """The body of a request: a JSON object. Unreadable when it isn't one."""
    if not request.headers.get("content-type", "").startswith("application/json"):
        raise Unreadable("send JSON")
    try:
        found = json.loads(await request.body())
    except (ValueError, RecursionError) as wrong:
        raise Unreadable("this is no JSON") from wrong
    if not isinstance(found, dict):
        raise Unreadable("send a group of words")
    return found


def word(data: Data, name: str, most: int = 200) -> str:
    """A text of a request."""
    value = data.get(name, "")
    if not isinstance(value, str) or len(value) > most:
        raise Unreadable(f"{name} is a text of {most} letters at most")
    return value


def path_in(data: Data) -> tuple[str, ...]:
    """The path of a request."""
    path = data.get("path", [])
    if not isinstance(path, list) or len(path) > 40 or not all(isinstance(p, str) and len(p) < 200 for p in path):
        raise Unreadable("a path is a list of words")
    return tuple(path)


async def sheet_of(request: Request) -> Sheet:
    """The plan that a request is about."""
    return await asyncio.to_thread(desk_of(request).folder.read, request.path_params["name"])


def units_of(request: Request) -> str:
    """The units that the page shows."""
    units = request.query_params.get("units", "")
    return units if units in ("inch", "mm") else ""


def marks_in(data: Data, name: str) -> list[str]:
    """The marks of a request: of what the page has or wants."""
    marks = data.get(name, [])
    if not isinstance(marks, list) or len(marks) > 2000 or not all(isinstance(w, str) for w in marks):
        raise Unreadable(f"{name} is a list of marks")
    return marks


async def _built(request: Request, sheet: Sheet, have: list[str]) -> Response:
    desk, units = desk_of(request), units_of(request)
    desk.ahead(sheet, units)
    log, answer = await asyncio.gather(
        asyncio.to_thread(desk.log_mark, sheet.name), desk.quick("built", sheet, units, have=have)
    )
    story = desk.story(sheet.name)
    long = len(desk.texts(sheet).log or "")
    told = {
        "version": sheet.version, "log": log, "log_long": long, "text": sheet.text,
        "undo": len(story.past), "redo": len(story.undone),
    }  # fmt: skip
    return JSONResponse({**told, "built": answer})


async def read(request: Request) -> Response:
    """The plan's text and the piece as it stands."""
    return await _built(request, await sheet_of(request), [])


async def write(request: Request) -> Response:
    """A whole new text, from the plan in writing."""
    data = await data_of(request)
    text = word(data, "text", LARGEST)
    if len(text.encode()) > LARGEST:
        raise Unreadable("the plan is too long")
    name = request.path_params["name"]
    have = marks_in(data, "have")
    sheet = await desk_of(request).write(name, text, word(data, "version"), by=word(data, "by"))
    return await _built(request, sheet, have)


async def edit(request: Request) -> Response:
    """One change: put, add, take, mend, undo or redo."""
    data = await data_of(request)
    desk, name, version, by = desk_of(request), request.path_params["name"], word(data, "version"), word(data, "by")
    what, have = word(data, "do"), marks_in(data, "have")
    if what in ("undo", "redo"):
        return await _built(request, await desk.undo(name, version, again=what == "redo", by=by), have)
    sheet = await sheet_of(request)
    if sheet.version != version:
        raise Moved(sheet)
    new, path = word(data, "value", change.LONGEST), path_in(data)
    if what == "put":
        made = await asyncio.to_thread(change.put, sheet.text, path, new)
    elif what == "mend":
        made = await asyncio.to_thread(change.put_at, sheet.text, _spot(data), new)
    elif what == "add":
        made = await asyncio.to_thread(change.add, sheet.text, path, word(data, "key"), new)
    elif what == "take":
        made = await asyncio.to_thread(change.take, sheet.text, path)
    else:
        raise Unreadable("do is put, add, take, mend, undo or redo")
    return await _built(request, await desk.change(name, version, made, by=by), have)


def _spot(data: Data) -> tuple[int, int, int, int]:
    at = data.get("at")
    if not isinstance(at, list) or len(at) != 4 or not all(isinstance(n, int) and 0 < n < 10**7 for n in at):
        raise Unreadable("at is line, column, end line and end column")
    return (at[0], at[1], at[2], at[3])


async def slow(request: Request) -> Response:
    """What takes its time: checks, buying list, sheets, steps."""
    question = request.path_params["question"]
    if question not in SLOW:
        return JSONResponse({"error": "There is no such question."}, 404)
    sheet = await sheet_of(request)
    desk, units = desk_of(request), units_of(request)
    answer = await (desk.checked(sheet, units) if question == "checked" else desk.slow(question, sheet, units))
    return JSONResponse({"version": sheet.version, question: answer})


async def stop(request: Request) -> Response:
    """Put down what takes its time."""
    await sheet_of(request)
    await desk_of(request).stop()
    return JSONResponse({"stopped": True})


async def why(request: Request) -> Response:
    """Where a number comes from."""
    of = request.query_params.get("of", "")[:300]
    sheet = await sheet_of(request)
    desk = desk_of(request)
    asked = desk.slow if of.startswith("setup:") else desk.quick
    return JSONResponse(await asked("why", sheet, units_of(request), of=of))


async def where(request: Request) -> Response:
    """The place in which two things meet."""
    one, other = (request.query_params.get(word, "")[:200] for word in ("one", "other"))
    return JSONResponse(
        await desk_of(request).quick("where", await sheet_of(request), units_of(request), one=one, other=other)
    )


async def bodies(request: Request) -> Response:
    """The bodies with the marks asked for."""
    wanted = marks_in(await data_of(request), "wanted")
    answer = await desk_of(request).quick("meshes", await sheet_of(request), units_of(request), wanted=wanted)
    if "bytes" not in answer:
        return JSONResponse(answer, 409)
    return Response(answer["bytes"], media_type="application/octet-stream")


async def read_log(request: Request) -> Response:
    """What was ticked and read."""
    desk = desk_of(request)
    path = await asyncio.to_thread(desk.folder.path, request.path_params["name"])
    return JSONResponse({"entries": await asyncio.to_thread(ticks.entries, path)})


async def add_to_log(request: Request) -> Response:
    """Ticks and readings in the order in which they were made; each counts once, however often it is sent."""
    data = await data_of(request)
    given = data.get("entries", [])
    if not isinstance(given, list) or len(given) > 2000:
        raise Unreadable("entries is a list")
    desk = desk_of(request)
    name = request.path_params["name"]
    path = await asyncio.to_thread(desk.folder.path, name)
    refused: list[Data] = []
    fitting: list[Entry] = []
    for one in given:
        try:
            kept = ticks.fit(one)
            fitting.extend(await _entries(request, kept))
        except ticks.Unfit as wrong:
            refused.append({"id": one.get("id") if isinstance(one, dict) else None, "says": str(wrong)})
    if fitting:
        await desk.logged(name, fitting)
    return JSONResponse({"entries": await asyncio.to_thread(ticks.entries, path), "refused": refused})


async def _entries(request: Request, one: Data) -> tuple[Entry, ...]:
    if one["what"] == "tick":
        return (ticks.ticked(one),)
    return await _putting(request, one) if one["what"] == "remedy" else (await _reading(request, one),)


async def _putting(request: Request, one: Data) -> tuple[Entry, ...]:
    """A remedy that was taken, as entries of the log. Unfit when the fit is not as it was when it was offered."""
    desk, name = desk_of(request), request.path_params["name"]
    if await asyncio.to_thread(desk.has, name, one["id"]):
        return ()  # it was sent twice; what it changed is changed already
    for _ in range(PATIENCE):
        answer = await desk.slow("taken", await sheet_of(request), "", fit=one["key"], mark=one["text"])
        if "stopped" not in answer:
            break
    written = answer.get("entries", ())
    if not written:
        raise ticks.Unfit(answer.get("refused") or answer.get("says") or "the plan has mistakes that come first")
    tags = (one["id"], *(f"{one['id']}-{number}" for number in range(2, len(written) + 1)))
    return tuple(replace(each, when=ticks.when(one), tag=tag) for each, tag in zip(written, tags, strict=True))


async def _reading(request: Request, one: Data) -> Entry:
    """A reading as an entry of the log. Unfit when the piece has no such number, or it can't be read."""
    sheet = await sheet_of(request)
    tool = one.get("with", "")
    answer = await desk_of(request).quick("reading", sheet, "", name=one["key"], text=one["text"], tool=tool)
    entry = answer.get("entry")
    if not isinstance(entry, Entry):
        raise ticks.Unfit(answer.get("refused") or answer.get("says") or "the plan has mistakes that come first")
    return replace(entry, when=ticks.when(one), tag=one["id"])


async def changed(request: Request) -> Response:
    """What is not as it was when the log was only so long: parts, fits, drawings to print anew."""
    sheet = await sheet_of(request)
    desk = desk_of(request)
    since = request.query_params.get("since", "")
    if not since.isascii() or not since.isdigit() or len(since) > 9:
        raise Unreadable("since is how long the log was")
    before = (desk.texts(sheet).log or "")[: int(since)]
    return JSONResponse(await desk.quick("changed", sheet, units_of(request), before=before))


async def news(request: Request) -> Response:
    """News of a plan, as they come."""
    desk = desk_of(request)
    name = request.path_params["name"]
    await sheet_of(request)

    async def stream() -> AsyncIterator[str]:
        try:
            async for one in desk.news(name):
                if request.app.state.closing.is_set():
                    return
                yield f"data: {json.dumps(one)}\n\n" if one else ": still here\n\n"
        except Gone:
            yield 'data: {"news": "gone"}\n\n'

    return StreamingResponse(stream(), media_type="text/event-stream")


ROUTES = [
    Route("/api/{name}", guarded(read)),
    Route("/api/{name}", guarded(write), methods=["PUT"]),
    Route("/api/{name}/edit", guarded(edit), methods=["POST"]),
    Route("/api/{name}/answer/{question}", guarded(slow)),
    Route("/api/{name}/stop", guarded(stop), methods=["POST"]),
    Route("/api/{name}/why", guarded(why)),
    Route("/api/{name}/where", guarded(where)),
    Route("/api/{name}/bodies", guarded(bodies), methods=["POST"]),
    Route("/api/{name}/log", guarded(read_log)),
    Route("/api/{name}/log", guarded(add_to_log), methods=["POST"]),
    Route("/api/{name}/changed", guarded(changed)),
    Route("/api/{name}/news", guarded(news)),
]
