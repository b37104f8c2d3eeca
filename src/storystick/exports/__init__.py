"""Exports: the piece as files that other programs and machines open. No length is reckoned here.

Every module in this folder that has an `EXPORT` is a format; adding one is adding a file.
"""

from collections.abc import Mapping
from functools import cache

from storystick.exports.export import Export, File, Piece
from storystick.ground.shelf import taken_from

__all__ = ["Export", "File", "Piece", "shelf"]


@cache
def shelf() -> Mapping[str, Export]:
    """Every format by its name, in the order of the names."""
    found = taken_from(__path__, __name__, "EXPORT", Export)
    return {export.name: export for export in sorted(found, key=lambda one: one.name)}
