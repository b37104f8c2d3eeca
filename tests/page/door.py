"""A page to knock at, in a folder of its own, and a browser of the plainest sort that needs no network."""

import asyncio
import json as as_json
import shutil
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from urllib.parse import quote, unquote, urlencode, urlsplit

from storystick.app.page.guard import Guard, Keys
from storystick.app.page.serve import make_page
from tests.told import SAMPLES

PORT = 4863
HOME = f"http://127.0.0.1:{PORT}"
SMALL = """\
title: Small case
units: inch
measure:
  opening: {readings: [24, 24 1/16], with: tape, takes: smallest}   # at the bench
stock:
  ply: {sheet: birch plywood, readings: [17.6 mm], sizes: {4 ft x 8 ft: $92.00}}
build:
  case one:
    case: {wide: opening - 1/2, deep: 12, high: 30, stock: ply, bays: [open, fixed shelf, open]}
    sits: floor
loads:
"""


def plans_in(folder: Path) -> Path:
    """A folder of plans: a small one, and a sample."""
    plans = folder / "plans"
    plans.mkdir()
    (plans / "small.yaml").write_text(SMALL, "utf-8")
    shutil.copy(SAMPLES / "lathe-cabinet.yaml", plans)
    return plans


@dataclass
class Reply:
    """What the page answered."""

    status_code: int
    headers: dict[str, str]
    content: bytes

    @property
    def text(self) -> str:
        return self.content.decode("utf-8", "replace")

    def json(self) -> Any:
        return as_json.loads(self.content)


@dataclass
class Browser:
    """Asks, keeps its cookie, follows nothing. All that it asks runs in one loop."""

    page: Guard
    headers: dict[str, str] = field(default_factory=dict)
    cookies: dict[str, str] = field(default_factory=dict)
    loop: asyncio.Runner = field(default_factory=asyncio.Runner)

    def request(
        self, method: str, path: str, *, headers: Mapping[str, str] | None = None, json: object = None,
        content: bytes | Iterable[bytes] | None = None, params: Mapping[str, str] | None = None,
    ) -> Reply:  # fmt: skip
        said = {"host": f"127.0.0.1:{PORT}", **{k.lower(): v for k, v in {**self.headers, **(headers or {})}.items()}}
        if self.cookies and "cookie" not in said:
            said["cookie"] = "; ".join(f"{k}={v}" for k, v in self.cookies.items())
        pieces = [b""] if content is None else [content] if isinstance(content, bytes) else list(content)
        if json is not None:
            pieces, said["content-type"] = [as_json.dumps(json).encode()], "application/json"
        if content is None or isinstance(content, bytes):
            said["content-length"] = str(len(pieces[0]))
        parts = urlsplit(path)
        query = "&".join(filter(None, (parts.query, urlencode(params or {}))))
        raw = quote(parts.path, safe="/%:@!$&'()*+,;=~")
        scope = {
            "type": "http", "asgi": {"version": "3.0"}, "http_version": "1.1", "method": method, "scheme": "http",
            "path": unquote(raw), "raw_path": raw.encode(), "query_string": query.encode(), "root_path": "",
            "headers": [(k.encode("latin-1"), v.encode("latin-1", "replace")) for k, v in said.items()],
            "client": ("127.0.0.1", 50000), "server": ("127.0.0.1", PORT), "state": {},
        }  # fmt: skip
        return self.loop.run(self._asked(scope, pieces))

    async def _asked(self, scope: dict[str, Any], pieces: list[bytes]) -> Reply:
        start: dict[str, Any] = {}
        body = bytearray()

        async def receive() -> dict[str, Any]:
            if not pieces:
                await asyncio.sleep(3600)
            piece = pieces.pop(0)
            return {"type": "http.request", "body": piece, "more_body": bool(pieces)}

        async def send(message: Any) -> None:
            if message["type"] == "http.response.start":
                start.update(message)
            else:
                body.extend(message.get("body", b""))

        await self.page(scope, receive, send)
        headers = {k.decode().lower(): v.decode("latin-1") for k, v in start["headers"]}
        if "set-cookie" in headers:
            name, _, value = headers["set-cookie"].partition(";")[0].partition("=")
            self.cookies[name] = value
        return Reply(start["status"], headers, bytes(body))

    def get(self, path: str, **more: Any) -> Reply:
        return self.request("GET", path, **more)

    def post(self, path: str, json: object = None, **more: Any) -> Reply:
        return self.request("POST", path, json=json, **more)

    def put(self, path: str, json: object = None, **more: Any) -> Reply:
        return self.request("PUT", path, json=json, **more)

    def close(self) -> None:
        """Send the crew home."""
        self.page.page.state.desk.crew.end()  # type: ignore[attr-defined]
        self.loop.close()


def knock(plans: Path, lan: str = "") -> Browser:
    """A browser that wasn't let in, at the door of a page for these plans. Nothing heavy is started."""
    return Browser(make_page(plans, SAMPLES, PORT, lan, Keys(cookie="storystick-4863")))


def let_in(plans: Path, lan: str = "") -> Browser:
    """A browser that was let in, and says where it comes from when it writes."""
    client = knock(plans, lan)
    assert client.get(f"/?key={client.page.keys.new_link()}").status_code == 303
    client.headers["Origin"] = HOME
    return client
