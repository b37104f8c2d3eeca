"""What has to lie ready at the bench for a job, until another of its sort is wanted: the sander's paper, clamps set."""

from storystick.work.bench import Bench
from storystick.work.ways import minutes

type Ready = tuple[str, str, float]
"""What, which of them, and the minutes it takes."""

SANDER, CLAMPS, TOGETHER = "sander", "clamps", "together dry"
AGAIN = 0.5
"""What has been together once goes together again in half the time. Source: practice."""


def clamps_out(bench: Bench, assembly: str) -> Ready:
    """Clamps opened to the width of an assembly: one width for all that are made alike, dry and with glue."""
    return CLAMPS, bench.first_alike(assembly), minutes("set clamps")[0]


def again_together(bench: Bench, assembly: str, parts: int) -> tuple[Ready, ...]:
    """So many parts of an assembly clamped together dry once more, where they have come apart since its dry fit."""
    closed = max(1, parts - 1)
    return clamps_out(bench, assembly), (TOGETHER, assembly, minutes("dry fit")[1] * closed * AGAIN)
