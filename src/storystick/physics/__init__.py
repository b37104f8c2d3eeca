"""Formulae in plain floats: what they say, where they hold, which unit each letter has, and where they come from.

Lengths are millimetres, forces newtons, stresses N/mm2 (MPa), masses kilograms, unless a name says otherwise.
Constants that were printed in inches and pounds stay as printed and are turned with the exact factors in `units`.
"""
