"""Records that are made by the thousand: as frozen as any other, and made in half the time.

A frozen dataclass puts each field in through the guard that keeps it from being changed. Where a plan makes thousands
of a sort, that is a good part of resolving it; so these put their fields in by their slots, past the guard.
"""

from collections.abc import Callable
from dataclasses import MISSING, fields
from typing import Any


def quickly_made[R](record: type[R]) -> type[R]:
    """A frozen dataclass with slots, as it is but for how fast it is made. Stands before `@dataclass`.

    Raises TypeError for what makes more of a dataclass than its fields: factories, fields that aren't asked for, work
    that is done after.
    """
    params: Any = getattr(record, "__dataclass_params__", None)
    if params is None or not params.frozen or "__slots__" not in record.__dict__:
        raise TypeError(f"{record.__name__} is no frozen dataclass with slots")
    own = fields(record)  # type: ignore[arg-type]
    plain = all(one.default_factory is MISSING and one.init and not one.kw_only for one in own)
    if not plain or hasattr(record, "__post_init__"):
        raise TypeError(f"{record.__name__} is made from more than its fields")
    known: dict[str, Any] = {f"_put_{one.name}": getattr(record, one.name).__set__ for one in own}
    known |= {f"_usual_{one.name}": one.default for one in own}
    asked = [one.name if one.default is MISSING else f"{one.name}=_usual_{one.name}" for one in own]
    lines = [f"    _put_{one.name}(self, {one.name})" for one in own]
    exec("\n".join((f"def __init__(self, {', '.join(asked)}):", *lines)), known)
    made: Callable[..., None] = known["__init__"]
    made.__qualname__, made.__annotations__ = f"{record.__qualname__}.__init__", record.__init__.__annotations__
    record.__init__ = made  # type: ignore[method-assign]
    return record
