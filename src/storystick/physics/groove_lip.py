"""The lip beside a groove: the strip between a groove and the edge of its panel, which a loaded bottom pries at.

A short cantilever, as the textbook has it: as long as the groove is deep, as thick as the lip, loaded where the
bottom bears.
A cantilever this stubby is stronger than the formula says; a lip whose grain runs along the groove is far weaker than
one whose grain runs out into it, and plywood splits between its plies. So take a generous factor on strength and treat
the answer as a warning light.
"""


def lip_bending_stress_mpa(force_n: float, arm_mm: float, lip_mm: float, run_mm: float) -> float:
    """Bending stress at the root of a groove's lip.

        s = 6 F a / (run t^2)

    force_n  force that pries the lip outwards, over the whole run [N]
    arm_mm   from the bottom of the groove to where the force bears: at most the depth [mm]
    lip_mm   thickness of the lip, from the groove to the edge of the panel [mm]
    run_mm   length of groove that shares the force [mm]
    returns  stress at the root [N/mm2]

    Source: textbook beam theory, short cantilever; no published test of groove lips was found.
    """
    return 6 * force_n * arm_mm / (run_mm * lip_mm**2)


def lip_shear_stress_mpa(force_n: float, lip_mm: float, run_mm: float) -> float:
    """Shear stress along the root of a groove's lip.

        t = 1.5 F / (run t)

    force_n  force on the lip, over the whole run [N]
    lip_mm   thickness of the lip [mm]
    run_mm   length of groove that shares the force [mm]
    returns  shear stress [N/mm2]

    Source: textbook beam theory.
    """
    return 1.5 * force_n / (run_mm * lip_mm)


def lip_force_n(strength_mpa: float, arm_mm: float, lip_mm: float, run_mm: float, factor: float = 4.0) -> float:
    """Force that a groove's lip may take.

        F = strength / factor * run t^2 / (6 a)

    strength_mpa  bending strength of the wood across the root of the lip [N/mm2]
    arm_mm        from the bottom of the groove to where the force bears [mm]
    lip_mm        thickness of the lip [mm]
    run_mm        length of groove that shares the force [mm]
    factor        margin on strength; 4 is practice [-]
    returns       force over the whole run [N]

    Source: textbook beam theory, short cantilever, turned round.
    """
    return strength_mpa / factor * run_mm * lip_mm**2 / (6 * arm_mm)
