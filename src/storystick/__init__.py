"""storystick: from a plan on one page of text to everything that is needed to build the piece.

The house has floors, and a floor imports only from floors below it:

    app                                        brings everything together; files, clock and screen
    paper | checks | work | layout | resolve   verbs: nouns in, nouns and findings out
    craft                                      what a maker knows: joints, kinds of assembly, hardware, fits
    model                                      nouns: parts, cuts, joints, builds, cuttings, steps
    plan | shop                                what was asked for | what there is to make it from
    shapes | physics                           solids, outlines, views | formulae in plain floats
    ground                                     lengths, dimensions, findings, sources

tests/house/floors.py holds the same order for the tests.
"""

__version__ = "0.1.0"
