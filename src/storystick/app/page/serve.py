"""Opening the page: the server on this computer, and the link that lets the first browser in."""

import asyncio
import contextlib
import os
import signal
import socket
import sys
import threading
import webbrowser
from collections.abc import AsyncIterator, Iterator
from dataclasses import dataclass
from pathlib import Path

from starlette.applications import Starlette

from storystick.app.page.desk import Desk
from storystick.app.page.drawn import drawn
from storystick.app.page.folder import Folder
from storystick.app.page.guard import Guard, Keys
from storystick.app.page.routes import ROUTES
from storystick.app.page.takings import TAKINGS
from storystick.app.page.views import VIEWS

PORT = 4863
LOOPBACK = "127.0.0.1"


@dataclass(frozen=True, slots=True)
class Opened:
    """How the page is opened. `lan`: also for others in the local network, who need the link."""

    plans: Path
    samples: Path | None = None
    port: int = PORT
    lan: bool = False
    show: bool = True


def make_page(plans: Path, samples: Path | None, port: int, lan: str = "", keys: Keys | None = None) -> Guard:
    """The page with its guard, ready to be served on a port; `lan` is this computer's address in the local network."""
    keys = keys or Keys(cookie=f"storystick-{port}")
    desk = Desk(Folder(plans))

    @contextlib.asynccontextmanager
    async def open_for_work(app: Starlette) -> AsyncIterator[None]:
        starting = asyncio.create_task(asyncio.to_thread(desk.crew.start))
        yield
        app.state.closing.set()
        await starting
        await asyncio.to_thread(desk.crew.end)

    app = Starlette(routes=[*VIEWS, *ROUTES, *TAKINGS], lifespan=open_for_work)
    app.state.desk = desk
    app.state.keys = keys
    app.state.samples = Folder(samples) if samples is not None and samples.is_dir() else None
    app.state.lan_host = f"{lan}:{port}" if lan else ""
    app.state.closing = threading.Event()
    names = [f"localhost:{port}", f"{LOOPBACK}:{port}", *([f"{lan}:{port}"] if lan else [])]
    return Guard(app, keys, frozenset(names), drawn("locked.html"))


async def close(page: Guard) -> None:
    """Put down all work and let those go who listen for news."""
    assert isinstance(page.page, Starlette)
    state = page.page.state
    state.closing.set()
    for name in tuple(state.desk.listeners):
        state.desk.tell(name, {})
    await asyncio.to_thread(state.desk.crew.end)


def own_address() -> str:
    """This computer's address in the local network; nothing is sent to find it."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # an address kept for documents: RFC 5737
            return str(probe.getsockname()[0])
        except OSError:
            return ""


def door(wanted: int, host: str) -> socket.socket:
    """The port wanted, or the next one that is free: taken at once, so that nobody else gets it meanwhile."""
    for port in range(wanted, min(wanted + 20, 65536)):
        taken = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        taken.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)  # nothing waits for the rest of its answer
        taken.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            taken.bind((host, port))
            taken.listen(128)
        except OSError:
            taken.close()
            continue
        return taken
    raise OSError(f"no port is free from {wanted} on")


def serve(opened: Opened) -> int:
    """Serve the page until it is stopped. Returns the exit code."""
    import uvicorn

    host = "0.0.0.0" if opened.lan else LOOPBACK
    lan = own_address() if opened.lan else ""
    taken = door(opened.port, host)
    port = taken.getsockname()[1]
    keys = Keys(cookie=f"storystick-{port}")
    page = make_page(opened.plans, opened.samples, port, lan, keys)
    link = f"http://{LOOPBACK}:{port}/?key={keys.new_link()}"
    for line in _told(opened, link, lan, port, keys):
        sys.stdout.write(line + "\n")
    sys.stdout.flush()
    if opened.show and _has_screen():
        threading.Timer(0.6, webbrowser.open, args=(link,)).start()
    config = uvicorn.Config(
        page, log_level="warning", server_header=False, date_header=False,
        timeout_graceful_shutdown=2, ws="none", limit_concurrency=200,
    )  # fmt: skip

    class Server(uvicorn.Server):
        async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
            await close(page)  # first, so that nobody waits for what was being worked on
            await super().shutdown(sockets)

    server = Server(config)
    with contextlib.suppress(KeyboardInterrupt, _Ended):
        signal.signal(signal.SIGTERM, _end)
        server.run(sockets=[taken])
    return 0


class _Ended(Exception):
    """The system asked the page to end."""


def _end(signum: int, frame: object) -> None:
    raise _Ended


def _told(opened: Opened, link: str, lan: str, port: int, keys: Keys) -> Iterator[str]:
    yield f"Plans lie in {opened.plans}"
    yield f"The page is open at {link}"
    yield "The link lets one browser in, once. Ctrl-C closes the page."
    if lan:
        import io

        import segno

        phone = f"http://{lan}:{port}/?key={keys.new_link()}"
        drawn_code = io.StringIO()
        segno.make(phone, error="l").terminal(out=drawn_code, compact=True, border=2)
        yield f"\nFor a phone in the same network:\n{drawn_code.getvalue()}\n{phone}"
        yield "Who has this link can see and change the plans. The way to the phone is not encrypted: at home only."
    elif opened.lan:
        yield "No local network was found, so only this computer can open it."


def _has_screen() -> bool:
    """Whether a browser can be shown."""
    return sys.platform in ("darwin", "win32") or bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))
