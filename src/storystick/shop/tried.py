"""How well the shop's own cuts come out, from the five-minute test: five pieces at one setting, five set anew.

The scatter of pieces cut at one setting is each piece's own. Pieces set anew scatter by the setting and by their own;
what is left when the own is taken out is the setting's. Source: JCGM 100:2008 (GUM), 4.2.2 and 5.1.2.
"""

import math
import statistics
from collections.abc import Mapping

from storystick.ground.dim import Dim
from storystick.ground.fields import Filled
from storystick.ground.finding import Finding, mistake
from storystick.ground.marked import plain
from storystick.ground.misread import nearest, one_of
from storystick.shop.file import KINDS_OF_CUT
from storystick.shop.shop import Error
from storystick.shop.tables import workmanship


def read_workmanship(filled: Filled, mistakes: list[Finding]) -> Mapping[str, Error]:
    """By kind of cut what the shop file says of it; what it leaves out of one kind is as in the table."""
    found: dict[str, Error] = {}
    for key, tried in filled.table("workmanship", Filled):
        kind = plain(key.text)
        if kind not in KINDS_OF_CUT:
            expected = f"a kind of cut: {one_of(KINDS_OF_CUT)}"
            mistakes.append(mistake(key.place, key.text, expected, nearest(kind, KINDS_OF_CUT)))
            continue
        found[kind] = error_of(tried, kind)
    return found


def error_of(tried: Filled, kind: str) -> Error:
    """The two numbers of one kind of cut, from what was cut and measured or as it was said outright."""
    usual = workmanship()[kind]
    own, setting = tried.maybe_length("own"), tried.maybe_length("setting")
    own_sd = abs(float(own.value)) if own else scatter(tried.lengths("at one setting"))
    if own_sd is None:
        own_sd = usual.own_mm
    anew = scatter(tried.lengths("set anew"))
    if setting is not None:
        return Error(abs(float(setting.value)), own_sd)
    return Error(usual.setting_mm if anew is None else math.sqrt(max(0.0, anew**2 - own_sd**2)), own_sd)


def scatter(pieces: tuple[Dim, ...]) -> float | None:
    """The standard deviation of some pieces [mm]; None where there are none."""
    return statistics.stdev(float(piece.value) for piece in pieces) if len(pieces) > 1 else None
