"""The door: who may come in, from where, with how much. Everything else is turned away before anything is read.

Host names are held against a list (a page elsewhere can point its own name at this computer), writes must come from our
own pages, everybody needs the secret of a link once and its cookie afterwards, and no request may be larger than
a plan.
"""

import hmac
import secrets
import time
from dataclasses import dataclass, field

from starlette.datastructures import Headers, MutableHeaders, QueryParams
from starlette.exceptions import HTTPException
from starlette.responses import HTMLResponse, PlainTextResponse, RedirectResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; "
    "font-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
LARGEST_BODY = 1_500_000
LINK_LASTS = 900.0  # seconds that an unused link stays good
SAFE = ("GET", "HEAD")


@dataclass(slots=True)
class Keys:
    """The secret of this run, and the links that were handed out and not yet used."""

    cookie: str
    secret: str = field(default_factory=lambda: secrets.token_urlsafe(24))
    links: dict[str, float] = field(default_factory=dict)

    def new_link(self) -> str:
        """A word that lets one browser in, once."""
        now = time.monotonic()
        self.links = {word: until for word, until in self.links.items() if until > now}
        word = secrets.token_urlsafe(18)
        self.links[word] = now + LINK_LASTS
        return word

    def take(self, word: str) -> bool:
        """Whether a link's word is good; it is used up by asking."""
        good = next((known for known in self.links if hmac.compare_digest(known, word)), None)
        return good is not None and self.links.pop(good) > time.monotonic()

    def knows(self, value: str) -> bool:
        """Whether a cookie is the one of this run."""
        return hmac.compare_digest(self.secret.encode(), value.encode())


class TooLarge(HTTPException):
    """A request that goes on for too long."""

    def __init__(self) -> None:
        super().__init__(413, "too large")


class Guard:
    """Stands before the page. `hosts` are the names that it answers to, with port; `locked` is said to strangers."""

    def __init__(self, page: ASGIApp, keys: Keys, hosts: frozenset[str], locked: str) -> None:
        self.page, self.keys, self.hosts, self.locked = page, keys, hosts, locked

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "lifespan":
            await self.page(scope, receive, send)
            return
        if scope["type"] != "http":
            if scope["type"] == "websocket":
                await send({"type": "websocket.close", "code": 1008})
            return
        answer = self._turned_away(scope)
        if answer is not None:
            await answer(scope, receive, _with_policy(send))
            return
        await self.page(scope, _counted(receive), _with_policy(send))

    def _turned_away(self, scope: Scope) -> ASGIApp | None:
        headers = Headers(scope=scope)
        host = headers.get("host", "").lower()
        if host not in self.hosts:
            return PlainTextResponse("This is not the page that you asked for.", 421)
        if scope["method"] not in SAFE and not _from_our_own(headers, host):
            return PlainTextResponse("Writes are taken from the page itself only.", 403)
        if headers.get("sec-fetch-site") == "cross-site" and headers.get("sec-fetch-mode") != "navigate":
            return PlainTextResponse("Not from another page.", 403)
        length = headers.get("content-length", "0")
        if not length.isdecimal() or int(length) > LARGEST_BODY:
            return PlainTextResponse("too large", 413)
        if scope["path"].startswith("/static/"):
            return None
        if scope["path"] == "/" and (word := QueryParams(scope["query_string"]).get("key")):
            return self._let_in(word)
        if not self.keys.knows(_cookie(headers, self.keys.cookie)):
            return HTMLResponse(self.locked, 401)
        return None

    def _let_in(self, word: str) -> ASGIApp:
        if not self.keys.take(word):
            return HTMLResponse(self.locked, 401)
        answer = RedirectResponse("/", 303)
        answer.set_cookie(self.keys.cookie, self.keys.secret, httponly=True, samesite="strict", max_age=30 * 86400)
        return answer


def _from_our_own(headers: Headers, host: str) -> bool:
    """A write must say where it comes from, and that must be here."""
    return headers.get("origin", "").lower() == f"http://{host}" and headers.get("sec-fetch-site", "same-origin") in (
        "same-origin",
        "none",
    )


def _cookie(headers: Headers, name: str) -> str:
    for part in headers.get("cookie", "").split(";"):
        key, _, value = part.strip().partition("=")
        if key == name:
            return value.strip('"')
    return ""


def _counted(receive: Receive) -> Receive:
    seen = 0

    async def counting() -> Message:
        nonlocal seen
        message = await receive()
        seen += len(message.get("body", b""))
        if seen > LARGEST_BODY:
            raise TooLarge
        return message

    return counting


def _with_policy(send: Send) -> Send:
    async def sending(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            headers["Content-Security-Policy"] = POLICY
            headers["X-Content-Type-Options"] = "nosniff"
            headers["Referrer-Policy"] = "no-referrer"
            headers["Cross-Origin-Opener-Policy"] = "same-origin"
            headers["Cross-Origin-Resource-Policy"] = "same-origin"
            headers.setdefault("Cache-Control", "no-store")
        await send(message)

    return sending
