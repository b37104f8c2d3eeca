"""What can be taken along: the packet, one file for anybody, the plan itself, and files for other programs."""

from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from storystick.app.page.folder import Sheet
from storystick.app.page.routes import desk_of, guarded, sheet_of, units_of

type Data = dict[str, Any]


async def packet(request: Request) -> Response:
    """The packet for the bench as a PDF."""
    sheet = await sheet_of(request)
    paper = request.query_params.get("paper", "")[:10]
    host = request.app.state.lan_host
    page = f"http://{host}" if host else ""
    answer = await desk_of(request).slow("packet", sheet, units_of(request), paper=paper, page=page)
    return _as_file(answer, f"{_stem(sheet)}.pdf", "application/pdf")


async def one_file(request: Request) -> Response:
    """The whole plan as one file for any browser; to be kept, not to be shown from here."""
    sheet = await sheet_of(request)
    answer = await desk_of(request).slow("shared", sheet, units_of(request))
    return _as_file(answer, f"{_stem(sheet)}.html", "text/html; charset=utf-8")


async def formats(request: Request) -> Response:
    """What it can be written as for other programs and machines."""
    return JSONResponse(await desk_of(request).slow("formats", await sheet_of(request), ""))


async def export(request: Request) -> Response:
    """The piece in a format for other programs and machines."""
    sheet, form = await sheet_of(request), request.path_params["form"][:20]
    answer = await desk_of(request).slow("exported", sheet, units_of(request), form=form)
    if "unknown" in answer:
        return JSONResponse({"error": "There is no such format."}, 404)
    return _as_file(answer, f"{_stem(sheet)}-{answer.get('name', '')}", "application/octet-stream")


def _stem(sheet: Sheet) -> str:
    return sheet.name.rpartition(".")[0]


def _as_file(answer: Data, name: str, kind: str) -> Response:
    if "bytes" not in answer:
        found = [one["says"] for one in answer.get("findings", ())][:1]
        says = answer.get("says") or (f"The plan has a mistake that comes first: {found[0]}" if found else "")
        return JSONResponse({**answer, "error": says or "It was stopped before it was ready; ask again."}, 409)
    return Response(answer["bytes"], media_type=kind, headers=_save_as(name))


async def plan_file(request: Request) -> Response:
    """The plan itself, to keep or to hand on."""
    sheet = await sheet_of(request)
    return Response(sheet.text.encode(), media_type="application/yaml", headers=_save_as(sheet.name))


def _save_as(name: str) -> dict[str, str]:
    plain = "".join(letter if letter.isascii() and letter not in '"\\' else "-" for letter in name)
    return {"Content-Disposition": f'attachment; filename="{plain}"'}


TAKINGS = [
    Route("/api/{name}/packet.pdf", guarded(packet)),
    Route("/api/{name}/shared.html", guarded(one_file)),
    Route("/api/{name}/formats", guarded(formats)),
    Route("/api/{name}/export/{form}", guarded(export)),
    Route("/api/{name}/plan", guarded(plan_file)),
]
