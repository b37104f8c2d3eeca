"""Drawings: lines and lettering in millimetres of paper, written as SVG."""
