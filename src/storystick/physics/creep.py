"""What time adds to a sag: under a load that stays, wood goes on giving way, and boards of chips more so.

The sources differ by more than a factor of four for the same board. None is hidden here: each rule has a
name, the caller picks one and prints which.
"""

from typing import NamedTuple


class CreepRule(NamedTuple):
    """How much a lasting load adds to its first sag, by one source."""

    material: str
    added: float
    """Share of the first sag that years add to it [-]."""
    source: str
    how: str


_HANDBOOK = "Wood Handbook, FPL-GTR-190 (2010), ch. 5, creep and relaxation"
_NDS = "National Design Specification for Wood Construction, 3.5.2"
_EN = "EN 1995-1-1, Table 3.2, service class 1, permanent load"
_MDF = "MDF association, shelves guidance"

CREEP_RULES: dict[str, CreepRule] = {
    "handbook, solid wood": CreepRule("solid wood", 1.0, _HANDBOOK, "read"),
    "american code, dry lumber": CreepRule("solid wood", 0.5, _NDS, "read"),
    "american code, green lumber": CreepRule("solid wood", 1.0, _NDS, "read"),
    "european code, solid wood": CreepRule("solid wood", 0.6, _EN, "memory"),
    "european code, plywood": CreepRule("plywood", 0.8, _EN, "memory"),
    "european code, particleboard": CreepRule("particleboard", 2.25, _EN, "memory"),
    "european code, mdf": CreepRule("mdf", 2.25, _EN, "memory"),
    "makers, mdf": CreepRule("mdf", 0.5, _MDF, "read"),
}
"""The rules that have a source, by name."""


def sag_in_the_long_run_mm(first_sag_mm: float, lasting_share: float, added: float) -> float:
    """Sag after years, of a shelf of which a part of the load stays on.

        d = d_first * (1 + lasting * added)

    first_sag_mm   sag on the first day under the whole load [mm]
    lasting_share  share of the load that stays on; self weight always does [-]
    added          share of the first sag that years add to it, from CREEP_RULES [-]
    returns        sag after years [mm]

    Source: National Design Specification for Wood Construction, eq. 3.5-1, in other letters.
    """
    return first_sag_mm * (1 + lasting_share * added)


def creep_added(rule: str) -> float:
    """Share of the first sag that years add to it, by a named rule.

        table CREEP_RULES

    rule     name of the rule [-]
    returns  share [-]

    Source: the one named with the rule in CREEP_RULES.
    """
    return CREEP_RULES[rule].added
