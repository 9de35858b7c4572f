"""What intended work does to an engine, and which work is the cheapest that brings everything inside its limits.

It knows operations, the geometry, limits, costs and doubt: the ledger, the plan with its proof, what stands in the way.
It refuses to know pages, papers and how anything is said.
"""
