"""Placing things that must not overlap: along a line, in their order, each as near as can be to its own spot."""

from collections.abc import Sequence


def spread_out(wanted: Sequence[float], sizes: Sequence[float], low: float, high: float) -> list[float] | None:
    """Middles for things of some sizes that want to be at `wanted` (rising), between `low` and `high`; None: no room.

    The least sum of squared shifts, by pooling neighbours that would overlap. Source: M. Ayer et al., An empirical
    distribution function for sampling with incomplete information, Ann. Math. Stat. 26 (1955), p. 641 (memory).
    """
    if not wanted:
        return []
    if sum(sizes) > high - low + 1e-9:
        return None
    before = [sum(sizes[:i]) + sizes[i] / 2 for i in range(len(sizes))]
    pools: list[tuple[float, int]] = []  # mean start, how many
    for spot, offset in zip(wanted, before, strict=True):
        pools.append((spot - offset, 1))
        while len(pools) > 1 and pools[-2][0] >= pools[-1][0]:
            (a, n), (b, m) = pools[-2:]
            pools[-2:] = [((a * n + b * m) / (n + m), n + m)]
    room = high - low - sum(sizes)
    starts = [min(max(start, low), low + room) for start, count in pools for _ in range(count)]
    return [start + offset for start, offset in zip(starts, before, strict=True)]
