"""What the browser is given: pages from their templates, and first-party files by their names."""

from functools import cache
from hashlib import sha256
from importlib.resources import files
from typing import Any

from jinja2 import Environment, PackageLoader, select_autoescape

from storystick import __version__

KINDS = {
    ".js": "text/javascript; charset=utf-8", ".css": "text/css; charset=utf-8", ".svg": "image/svg+xml",
    ".ttf": "font/ttf",
}  # fmt: skip


@cache
def templates() -> Environment:
    """The templates; everything that is put into them is escaped."""
    return Environment(
        loader=PackageLoader("storystick.app.page", "templates"),
        autoescape=select_autoescape(default=True),
        trim_blocks=True,
        lstrip_blocks=True,
    )


def drawn(template: str, /, **words: Any) -> str:
    """A page from its template."""
    return templates().get_template(template).render(version=__version__, **words)


@cache
def first_party() -> dict[str, tuple[str, bytes, str]]:
    """Our own files for the browser, by name: kind, bytes, and the mark by which a version is known."""
    found = {}
    for one in files("storystick.app.page").joinpath("static").iterdir():
        ending = "." + one.name.rpartition(".")[2]
        if ending in KINDS:
            data = one.read_bytes()
            found[one.name] = (KINDS[ending], data, f'"{sha256(data).hexdigest()[:20]}"')
    return found
