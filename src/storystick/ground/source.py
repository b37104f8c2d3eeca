"""Where a value, a rule or a formula comes from, and how sure we are of that."""

from dataclasses import dataclass
from typing import Literal

type How = Literal["read", "memory", "practice"]

HOW_SAID: dict[str, str] = {
    "read": "published",
    "memory": "published, quoted from memory: check it",
    "practice": "house rule: common practice, no published source",
}


@dataclass(frozen=True, slots=True)
class Source:
    """A document and the place in it; `how` says whether it was read, remembered, or is common practice."""

    text: str
    how: How = "practice"

    def __str__(self) -> str:
        return f"{self.text} ({HOW_SAID[self.how]})"


def practice(text: str) -> Source:
    """A custom of the trade without a printed source; shown as one, never dressed up."""
    return Source(text, "practice")
