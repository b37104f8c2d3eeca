"""Exact factors between the inch-pound units of the sources and millimetres, newtons and kilograms.

Source: the international yard and pound (1959) and standard gravity (CGPM 1901): exact by definition.
"""

MM_PER_IN = 25.4
MM_PER_FT = 304.8
KG_PER_LB = 0.45359237
N_PER_KG = 9.80665
"""Weight of a kilogram [N/kg]."""
N_PER_LBF = KG_PER_LB * N_PER_KG
MPA_PER_PSI = N_PER_LBF / MM_PER_IN**2
MPA_PER_PSF = N_PER_LBF / MM_PER_FT**2
"""Load per area: pounds-force on a square foot, as N/mm2."""
KG_M3_PER_LB_FT3 = KG_PER_LB / 0.3048**3
