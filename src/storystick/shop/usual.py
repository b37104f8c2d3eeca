"""The usual small shop, in inches and in millimetres: what is assumed until somebody says what theirs has.

Both are shop files as anyone would write them, so they show how it is done. None of it is measured: every tool of
them carries the mark of common practice.
"""

from storystick.ground.length import Unit

INCHES = """\
# The usual small shop. Cross out what you don't have, put in what you have, and your own numbers.
name: a usual small shop
units: inch
currency: $

saws:
  table saw: {rip: 30, crosscut: 24, depth: 3 1/8, tilted: 2 1/4, kerf: 1/8, narrowest: 2}
  circular saw: {rip: 96, crosscut: 48, depth: 2 3/8, kerf: 0.075}
  mitre saw: {crosscut: 5 1/2, depth: 3 1/2, kerf: 0.1}
dado set: none

router: yes
bits:
  straight: [1/8, 1/4, 3/8, 1/2 x 1 1/4, 3/4]       # the diameter, or diameter x cutting length
  pattern: [1/2 x 1]
  flush trim: [1/2 x 1]
  rabbet: [1/4, 3/8, 1/2]                           # the width that it cuts
  round-over: [1/8, 1/4]                            # the radius
  chamfer: [1/2]
bushings: [5/8]

drill bits:
  twist: [1/16 to 1/2 by 1/64]
  brad point: [1/8, 3/16, 1/4, 5/16, 3/8, 1/2]
  forstner: [1/4 to 2 1/8 by 1/8, 35 mm]
countersinks: ["#6", "#8", "#10"]
drivers:
  drill: {long: 9, across: 3}
  screwdriver: {long: 10, across: 1 1/2}
pocket jig: yes

clamps:
  bar clamp: {12: 4, 24: 4}                         # the opening, and how many
  pipe clamp: {48: 2}
measuring: [tape measure, steel rule, calliper, story stick]
other tools: [square, block plane, chisels, sander]

helpers: none
door: 32 x 80
lift: 50 lb
trim: 1/4
air: {driest: 30 %, dampest: 65 %, temperature: 68 F}
"""

MILLIMETRES = """\
# The usual small shop. Cross out what you don't have, put in what you have, and your own numbers.
name: a usual small shop
units: mm
currency: €

saws:
  track saw: {rip: 2440, crosscut: 1220, depth: 55, tilted: 43, kerf: 2.2, narrowest: 100}
  table saw: {rip: 630, crosscut: 600, depth: 80, tilted: 55, kerf: 3, narrowest: 50}
  mitre saw: {crosscut: 140, depth: 85, kerf: 2.6}
dado set: none

router: yes
bits:
  straight: [4, 6, 8, 10, 12 x 30, 16, 18]          # the diameter, or diameter x cutting length
  pattern: [12 x 25, 19 x 25]
  flush trim: [12.7 x 25]
  rabbet: [6, 9.5, 12]                              # the width that it cuts
  round-over: [3, 6]                                # the radius
  chamfer: [12]
bushings: [17, 24, 30]

drill bits:
  twist: [1 to 13 by 0.5]
  brad point: [3, 4, 5, 6, 8, 10, 12]
  forstner: [15, 20, 25, 26, 30, 35, 40]
countersinks: [3.5 mm, 4 mm, 5 mm]
drivers:
  drill: {long: 220, across: 75}
  screwdriver: {long: 250, across: 35}
pocket jig: yes

clamps:
  bar clamp: {300: 4, 600: 4}                       # the opening, and how many
  pipe clamp: {1200: 2}
measuring: [metric tape, metric steel rule, calliper, story stick]
other tools: [square, block plane, chisels, sander]

helpers: none
door: 800 x 2000
lift: 23 kg
trim: 6
air: {driest: 30 %, dampest: 65 %, temperature: 20 C}
"""


def usual_text(habit: Unit) -> str:
    """The usual shop file of those who measure in inches, or in millimetres."""
    return INCHES if habit == "inch" else MILLIMETRES
