"""Shapes: outlines, poses, solids, and how they look from one side.

Floats in millimetres; nothing here knows what a shape is made of or what it is for.

pose.py       where a body is and how it is turned (plain Python)
outline.py    closed outlines of straight lines and arcs in a plane (plain Python)
rounding.py   outlines from sharp corners and a radius for each (plain Python)
solid.py      bodies: made, joined, cut, moved, measured
near.py       how far two bodies are apart, or how far they run into one another
clash.py      every pair of bodies that runs into one another
motion.py     how a body moves: swings, slides, follows a path, is carried by another
sweep.py      the least gap over a whole motion, missing nothing in between (stretch.py is the mathematics under it)
view.py       which way we look
hidden.py     line drawings with the hidden lines told apart (edges.py finds the lines, lines.py makes them whole)
section.py    what a plane cuts through, and what is left behind it
spots.py      where on a drawing a body shows most, for its letter
triangles.py  distances between many triangles at once
"""
