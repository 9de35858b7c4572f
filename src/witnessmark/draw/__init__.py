"""States into pictures: verdict marks, the gasket face, where the gauge goes now, a doubt budget.

The room knows shapes with roles (outline, hidden, wall, within, out, now), the geometry of the marks, how wide a text
runs, and how to write shapes as SVG for a page or for paper. It refuses to know colours on screen (a role becomes a
class), readings, limits, verdict rules and pages: numbers and words come in, a drawing goes out, and the same input
gives the same bytes.
"""
