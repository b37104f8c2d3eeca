"""Exports: the piece as files that other programs and machines open. No length is reckoned here.

Every module in this folder that has an `EXPORT` is a format; adding one is adding a file.
"""

import importlib
import pkgutil
from collections.abc import Mapping
from functools import cache

from storystick.exports.export import Export, File, Piece

__all__ = ["Export", "File", "Piece", "shelf"]


@cache
def shelf() -> Mapping[str, Export]:
    """Every format by its name, in the order of the names."""
    found: dict[str, Export] = {}
    for module in sorted(pkgutil.iter_modules(__path__), key=lambda m: m.name):
        export = getattr(importlib.import_module(f"{__name__}.{module.name}"), "EXPORT", None)
        if isinstance(export, Export):
            found[export.name] = export
    return {name: found[name] for name in sorted(found)}
