"""Reasons as data turned into one sentence with numbers, in the words of the bench.

It knows words and units of display. It refuses to compute: a number that a sentence needs comes in with the reason.
"""
