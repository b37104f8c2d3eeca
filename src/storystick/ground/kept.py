"""Kept: answers that are kept by what was asked, so that an edit costs nothing for what it leaves alone.

What is asked under is all that an answer may rest on: frozen values, by what they are; solids and builds, which are
never changed, by which they are. So every answer is the same with and without. Each shelf of answers keeps those that
were asked for last. These are the only answers that outlive the plan they were reckoned for; `forget` drops them all.
"""

import atexit
from collections import OrderedDict
from collections.abc import Callable, Hashable
from typing import Any

_ALL: list["Kept[Any]"] = []


class This:
    """A thing that is never changed, as something to ask under: by which it is, not by what it is like."""

    __slots__ = ("one",)

    def __init__(self, one: object) -> None:
        self.one = one

    def __eq__(self, other: object) -> bool:
        return isinstance(other, This) and other.one is self.one

    def __hash__(self) -> int:
        return id(self.one)


class Kept[R]:
    """Answers of one sort, the `most` that were asked for last."""

    def __init__(self, most: int) -> None:
        self.most = most
        self._answers: OrderedDict[Hashable, R] = OrderedDict()
        _ALL.append(self)

    def of(self, asked: Hashable, reckon: Callable[[], R], is_whole: Callable[[R], bool] = lambda answer: True) -> R:
        """The answer to what is asked; reckoned, from that alone, where it is not kept. Kept where it is whole."""
        try:  # what is asked under takes time to tell apart: so twice at most
            answer = self._answers[asked]
        except KeyError:
            pass
        else:
            self._answers.move_to_end(asked)
            return answer
        answer = reckon()
        if is_whole(answer):
            self._answers[asked] = answer
            if len(self._answers) > self.most:
                self._answers.popitem(last=False)
        return answer

    def forget(self) -> None:
        """Drop every answer."""
        self._answers.clear()


@atexit.register
def forget() -> None:
    """Drop every answer of every sort; at the end too: the mesh library complains of any body still held then."""
    for one in _ALL:
        one.forget()
