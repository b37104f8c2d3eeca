"""The pages themselves: the shelf of plans, the first questions, the notebook of one plan, and the code for a phone."""

import asyncio
import json
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, RedirectResponse, Response
from starlette.routing import Route

from storystick.app.page import lettering, starting
from storystick.app.page.drawn import KINDS, drawn, first_party
from storystick.app.page.folder import Folder, Gone, file_name, is_plan_name
from storystick.app.page.routes import data_of, desk_of, guarded, word
from storystick.ground.finding import Broken
from storystick.ground.marked import Mapping, Scalar, read_marked

FONTS = {"regular.ttf": lettering.WEIGHTS[400], "semibold.ttf": lettering.WEIGHTS[600]}


def _heading(folder: Folder, name: str) -> dict[str, str]:
    """What a plan is called, without working it out."""
    try:
        text = folder.read(name).text
    except (Gone, OSError):
        return {"file": name, "title": name, "about": "", "units": ""}
    root = read_marked(text).made
    found = {"file": name, "title": name.rpartition(".")[0], "about": "", "units": ""}
    if isinstance(root, Mapping):
        for key in ("title", "about", "units"):
            value = root.get(key)
            if isinstance(value, Scalar) and value.text.strip():
                found[key] = " ".join(value.text.split())
    return found


async def home(request: Request) -> Response:
    """The shelf: plans of the folder, samples, and the way to a new piece."""
    desk = desk_of(request)
    samples: Folder | None = request.app.state.samples

    def listed(folder: Folder | None) -> list[dict[str, str]]:
        return [_heading(folder, name) for name in folder.names()] if folder else []

    return HTMLResponse(
        drawn(
            "shelf.html",
            plans=await asyncio.to_thread(listed, desk.folder),
            samples=[s for s in await asyncio.to_thread(listed, samples) if s["file"] != "mistakes.yaml"],
            folder=desk.folder.place.name,
            lan=request.app.state.lan_host,
        )
    )


async def new_page(request: Request) -> Response:
    """The first questions."""
    return HTMLResponse(drawn("new.html"))


@guarded
async def begin(request: Request) -> Response:
    """A plan from the answers; or what is wrong with each of them."""
    data = await data_of(request)
    asked, wrong = starting.read_answers(data)
    if isinstance(only := data.get("only"), list):  # an answer on the way: nothing is begun yet
        return JSONResponse({"wrong": {name: says for name, says in wrong.items() if name in only}})
    if asked is None:
        return JSONResponse({"wrong": wrong}, 422)
    try:
        text = starting.plan_text(asked)
    except Broken as fault:
        return JSONResponse({"error": str(fault)}, 500)
    return await _begun(request, file_name(asked.title), text)


async def _begun(request: Request, name: str, text: str) -> Response:
    folder = desk_of(request).folder
    free = await asyncio.to_thread(folder.free_name, name)
    sheet = await asyncio.to_thread(folder.begin, free, text)
    return JSONResponse({"plan": sheet.name, "go": f"/plan/{sheet.name}"}, 201)


@guarded
async def copy(request: Request) -> Response:
    """A copy of a sample, or a plan that somebody handed on, put into the folder."""
    data = await data_of(request)
    name = word(data, "sample")
    if name:
        samples: Folder | None = request.app.state.samples
        if samples is None:
            raise Gone(name)
        return await _begun(request, name, (await asyncio.to_thread(samples.read, name)).text)
    given = word(data, "name")
    stem = given.rpartition(".")[0] if given.endswith((".yaml", ".yml")) else given
    name = given if is_plan_name(given) else file_name(stem)
    return await _begun(request, name, word(data, "text", 1_000_000))


async def notebook(request: Request) -> Response:
    """One plan."""
    desk = desk_of(request)
    name = request.path_params["name"]
    try:
        heading = await asyncio.to_thread(_heading, desk.folder, desk.folder.path(name).name)
    except Gone:
        return HTMLResponse(drawn("gone.html", name=name), 404)
    return HTMLResponse(drawn("notebook.html", **heading, boot=json.dumps({"name": name})))


async def part(request: Request) -> Response:
    """One part of a plan, as a label’s code asks for it: `/part?plan=NAME&part=LETTER`, or with its whole name."""
    name, of = (request.query_params.get(word, "")[:200] for word in ("plan", "part"))
    return RedirectResponse(f"/plan/{quote(name, safe='')}#piece/{quote(of, safe='')}", 303)


async def phone(request: Request) -> Response:
    """The code that lets a phone in, once."""
    host = request.app.state.lan_host
    link = f"http://{host}/?key={request.app.state.keys.new_link()}" if host else ""
    return HTMLResponse(drawn("phone.html", host=host, link=link, picture=qr(link) if link else ""))


def qr(link: str) -> str:
    """A link as a picture to be read by a phone: a data address."""
    import segno

    return str(segno.make(link, error="m").svg_data_uri(scale=8, border=3, dark="#1c2b36", light="#ffffff"))


async def static(request: Request) -> Response:
    """First-party files, by name; nothing but them."""
    name = request.path_params["name"]
    if name in FONTS:
        data = await asyncio.to_thread(lettering.whole, FONTS[name])
        return Response(data, media_type=KINDS[".ttf"], headers={"Cache-Control": "max-age=86400"})
    found = first_party().get(name)
    if found is None:
        return Response("There is no such file.", 404)
    kind, data, mark = found
    if request.headers.get("if-none-match") == mark:
        return Response(status_code=304, headers={"ETag": mark})
    return Response(data, media_type=kind, headers={"ETag": mark, "Cache-Control": "no-cache"})


async def icon(request: Request) -> Response:
    """The small picture in the browser's tab."""
    kind, data, _ = first_party()["icon.svg"]
    return Response(data, media_type=kind)


VIEWS = [
    Route("/", home),
    Route("/new", new_page),
    Route("/new", begin, methods=["POST"]),
    Route("/copy", copy, methods=["POST"]),
    Route("/phone", phone),
    Route("/part", part),
    Route("/plan/{name}", notebook),
    Route("/static/{name}", static),
    Route("/favicon.ico", icon),
]
