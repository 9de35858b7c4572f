"""The best use of the parts on the shelf: which lash shim goes where, which spring shims make a height, whether an
adjuster has travel left. It knows sizes, stock and targets. It refuses to know why they are needed and what they cost
in the end.
"""
