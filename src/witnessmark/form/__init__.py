"""Form: how far a face is from flat, an edge from straight, a section from round, from the heights or points of a
survey. It knows minimum zones, least squares and what a two-point gauge sees. It refuses to know doubt, limits, which
part it is, and what a cut would do to it."""
