"""The rack: what was left of earlier jobs, for all plans of one person; a small database in the folder for such data.

Two who write at once wait for one another: every change is one transaction that takes the lock before it reads.
"""

import os
import sqlite3
import sys
from collections.abc import Iterable, Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path
from typing import cast

from storystick.shop.shop import Form, OnHand, Spoilt

WAIT = 10.0  # how long a writer waits for another one [s]
TABLE = """
create table if not exists pieces (
    number integer primary key,
    form text not null,
    material text not null,
    long text not null,
    wide text,
    thickness text,
    count integer not null check (count > 0),
    says text not null,
    spoilt text not null default ''
) strict
"""


@dataclass(frozen=True, slots=True)
class Kept:
    """A row of the rack: its number, and what it is."""

    number: int
    thing: OnHand


def rack_file() -> Path:
    """Where the rack lies: in the folder that STORYSTICK_DATA names, or in the person's own folder for data."""
    said = os.environ.get("STORYSTICK_DATA")
    if said:
        return Path(said) / "rack.sqlite"
    if sys.platform == "win32":
        own = Path(os.environ.get("LOCALAPPDATA") or Path.home() / "AppData" / "Local")
    elif sys.platform == "darwin":
        own = Path.home() / "Library" / "Application Support"
    else:
        own = Path(os.environ.get("XDG_DATA_HOME") or Path.home() / ".local" / "share")
    return own / "storystick" / "rack.sqlite"


def on_rack(file: Path) -> tuple[Kept, ...]:
    """Everything on the rack, by number; nothing where there is no rack yet. OSError if it can't be read."""
    if not file.exists():
        return ()
    with _opened(file) as store:
        return tuple(_rows(store))


def put(file: Path, things: Iterable[OnHand]) -> tuple[int, ...]:
    """Put things on the rack; their numbers. Something of the same kind and size is counted up. OSError."""
    with _writing(file) as store:
        return tuple(_put(store, thing) for thing in things)


def take(file: Path, number: int, count: int | None = None) -> Kept | None:
    """Take some of a row, or all; what was taken, None if there are not so many. OSError."""
    with _writing(file) as store:
        return _take(store, number, count)


def settle(file: Path, used: Iterable[tuple[int, int]], left: Iterable[OnHand]) -> bool:
    """After a job: take what was used (number, count) and put back what was left, all or nothing. OSError."""
    with _writing(file) as store:
        if not all(_take(store, number, count) for number, count in used):
            store.rollback()
            return False
        for thing in left:
            _put(store, thing)
        return True


@contextmanager
def _opened(file: Path) -> Iterator[sqlite3.Connection]:
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        with closing(sqlite3.connect(file, timeout=WAIT, isolation_level=None)) as store:
            store.execute(f"pragma busy_timeout = {int(WAIT * 1000)}")
            store.execute("pragma journal_mode = wal")
            store.execute(TABLE)
            if "spoilt" not in {row[1] for row in store.execute("pragma table_info(pieces)")}:
                _with_spoilt(store)
            yield store
    except sqlite3.Error as trouble:
        raise OSError(0, f"the rack can't be used: {trouble}", str(file)) from trouble


@contextmanager
def _writing(file: Path) -> Iterator[sqlite3.Connection]:
    with _opened(file) as store:
        store.execute("begin immediate")
        try:
            yield store
        except BaseException:
            if store.in_transaction:
                store.rollback()
            raise
        if store.in_transaction:
            store.commit()


def _with_spoilt(store: sqlite3.Connection) -> None:
    """A rack from before spoilt corners were kept learns of them; another one may have just done it."""
    try:
        store.execute("alter table pieces add column spoilt text not null default ''")
    except sqlite3.OperationalError as trouble:
        if "duplicate" not in str(trouble):
            raise


def _rows(store: sqlite3.Connection) -> Iterator[Kept]:
    asked = "select number, form, material, long, wide, thickness, count, says, spoilt from pieces order by number"
    for number, form, material, long, wide, thickness, count, says, spoilt in store.execute(asked):
        thing = OnHand(
            cast(Form, form), material, Fraction(long), _number(wide), _number(thickness), count, says,
            spoilt=_spots(spoilt),
        )  # fmt: skip
        yield Kept(number, thing)


def _number(text: str | None) -> Fraction | None:
    return None if text is None else Fraction(text)


def _text(number: Fraction | None) -> str | None:
    return None if number is None else str(number)


def _spots(text: str) -> tuple[Spoilt, ...]:
    found = []
    for line in text.splitlines():
        long, wide, along, across, corner = line.split(" ", 4)
        found.append(Spoilt(Fraction(long), Fraction(wide), corner, Fraction(along), Fraction(across)))
    return tuple(found)


def _spots_text(spots: Iterable[Spoilt]) -> str:
    return "\n".join(f"{s.long} {s.wide} {s.along} {s.across} {s.corner}" for s in spots)


def _put(store: sqlite3.Connection, thing: OnHand) -> int:
    if thing.count < 1:
        raise ValueError("nothing to put on the rack")
    spots = _spots_text(thing.spoilt)
    values = (thing.form, thing.of, str(thing.long), _text(thing.wide), _text(thing.thickness), thing.says, spots)
    found = store.execute(
        "select number from pieces where form = ? and material = ? and long = ? and wide is ? and thickness is ?"
        " and says = ? and spoilt = ?", values,
    ).fetchone()  # fmt: skip
    if found is not None:
        store.execute("update pieces set count = count + ? where number = ?", (thing.count, found[0]))
        return int(found[0])
    number = _last(store) + 1
    store.execute(
        "insert into pieces (form, material, long, wide, thickness, says, spoilt, count, number)"
        " values (?, ?, ?, ?, ?, ?, ?, ?, ?)",
        (*values, thing.count, number),
    )
    _remember(store, number)
    return number


def _last(store: sqlite3.Connection) -> int:
    """The highest number that was ever given: none is given twice, so that nobody takes another piece by it."""
    (kept,) = store.execute("pragma user_version").fetchone()
    (there,) = store.execute("select coalesce(max(number), 0) from pieces").fetchone()
    return max(int(kept), int(there))


def _remember(store: sqlite3.Connection, number: int) -> None:
    store.execute(f"pragma user_version = {int(number)}")


def _take(store: sqlite3.Connection, number: int, count: int | None) -> Kept | None:
    there = next((kept for kept in _rows(store) if kept.number == number), None)
    wanted = there.thing.count if there is not None and count is None else (count or 0)
    if there is None or not 0 < wanted <= there.thing.count:
        return None
    if wanted == there.thing.count:
        _remember(store, _last(store))
        store.execute("delete from pieces where number = ?", (number,))
    else:
        store.execute("update pieces set count = count - ? where number = ?", (wanted, number))
    return Kept(number, replace(there.thing, count=wanted))
