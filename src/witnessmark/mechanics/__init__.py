"""The laws of the parts, as pure functions: springs, cams, clearances, lash.

Each law carries the catalogue id of what it computes, and so do its arguments; units stand once, in the annotations.
This room refuses to know limits, gauges and which part of which engine a number came from.
"""
