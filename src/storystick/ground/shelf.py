"""A shelf: a folder of modules that each put one thing on it under an agreed word. Adding a thing is adding a file."""

import importlib
import pkgutil
from collections.abc import Iterable, Iterator


def taken_from[T](path: Iterable[str], package: str, word: str, kind: type[T]) -> Iterator[T]:
    """What the modules of a package put under `word`, where it is of `kind`, in the order of the modules' names.

    path, package  the package's own __path__ and __name__
    """
    for module in sorted(pkgutil.iter_modules(path), key=lambda one: one.name):
        thing = getattr(importlib.import_module(f"{package}.{module.name}"), word, None)
        if isinstance(thing, kind):
            yield thing
