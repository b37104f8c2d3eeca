"""The plans' folder: the only place that the page reads from and writes to."""

import hashlib
import os
import re
import threading
from dataclasses import dataclass
from pathlib import Path

from storystick.app.files import write_new, write_whole

ENDINGS = (".yaml", ".yml")
SHOP = "shop.yaml"
LARGEST = 1_000_000  # bytes of a plan; the reader refuses larger ones as well
_NAME = re.compile(r"[^\W_][\w .,()&+'-]{0,79}\.ya?ml")


@dataclass(frozen=True, slots=True)
class Sheet:
    """A text of the folder as it stands: its name, its words, and the mark by which a version is known."""

    name: str
    text: str
    version: str


class Gone(Exception):
    """There is no plan of that name."""


class Moved(Exception):
    """The plan was changed by somebody else meanwhile; `now` is what it says now."""

    def __init__(self, now: Sheet) -> None:
        super().__init__("the plan was changed meanwhile")
        self.now = now


class Taken(Exception):
    """There is a plan of that name already."""


def version_of(text: str) -> str:
    """The mark of a text: equal texts have equal ones."""
    return hashlib.sha256(text.encode()).hexdigest()[:20]


def is_plan_name(name: str) -> bool:
    """Whether a name can be that of a plan: one file of the folder itself, with no way out of it."""
    return bool(_NAME.fullmatch(name)) and name.casefold() != SHOP and ".." not in name


def file_name(title: str) -> str:
    """A file name for a title: `Bench cabinet` -> bench-cabinet.yaml."""
    words = re.findall(r"[^\W_]+", title.casefold())
    stem = "-".join(words)[:60].strip("-") or "plan"
    return f"{stem}.yaml"


class Folder:
    """The plans of one folder. Names are checked at every call; links that lead out of the folder are not followed."""

    def __init__(self, place: Path) -> None:
        self.place = place.resolve()
        self.lock = threading.Lock()

    def names(self) -> tuple[str, ...]:
        """Every plan of the folder, by name."""
        if not self.place.is_dir():
            return ()
        return tuple(sorted((p.name for p in self.place.iterdir() if self._is_one(p)), key=str.casefold))

    def _is_one(self, path: Path) -> bool:
        return is_plan_name(path.name) and path.is_file() and path.resolve().parent == self.place

    def path(self, name: str) -> Path:
        """Where a plan lies. Gone when there is none of that name, or it isn't a plan of this folder."""
        path = self.place / name if is_plan_name(name) else None
        if path is None or not self._is_one(path):
            raise Gone(name)
        return path

    def read(self, name: str) -> Sheet:
        """A plan as it stands. Gone when there is none."""
        path = self.path(name)
        with path.open("rb") as file:
            text = file.read(LARGEST + 1).decode("utf-8", errors="replace")
        return Sheet(name, text, version_of(text))

    def write(self, name: str, text: str, version: str) -> Sheet:
        """Put a new text in place of the version that its writer saw. Moved when that is not how it stands now."""
        with self.lock:
            now = self.read(name)
            if now.version != version:
                if now.text == text:
                    return now
                raise Moved(now)
            if text != now.text:
                write_whole(self.path(name), text.encode())
            return Sheet(name, text, version_of(text))

    def begin(self, name: str, text: str) -> Sheet:
        """A new plan. Taken when the name is in use; Gone when it can't be a name."""
        if not is_plan_name(name):
            raise Gone(name)
        with self.lock:
            self.place.mkdir(parents=True, exist_ok=True)
            if not write_new(self.place / name, text.encode()):
                raise Taken(name)
        return Sheet(name, text, version_of(text))

    def free_name(self, name: str) -> str:
        """The name itself, or with a number where it is taken."""
        stem, ending = os.path.splitext(name)
        for number in range(1, 1000):
            tried = name if number == 1 else f"{stem}-{number}{ending}"
            if not (self.place / tried).exists():
                return tried
        raise Taken(name)

    def shop(self) -> str | None:
        """The text of the shop file that lies in the folder; None where there is none."""
        path = self.place / SHOP
        if not path.is_file() or path.resolve().parent != self.place:
            return None
        return path.read_bytes()[: LARGEST + 1].decode("utf-8", errors="replace")
