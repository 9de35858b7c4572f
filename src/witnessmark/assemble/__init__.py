"""Putting an engine together: in which order bolts are turned and through which stages, what a trace of a wrench says,
and the steps of assembly that follow from the engine and the work, with tool, caution and gate.

It knows patterns, stages, traces, steps, and what is done and what is in doubt. It refuses to know who signs, when,
what is shown, where a limit comes from, and what the service information ought to say.
"""
