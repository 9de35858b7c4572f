"""Readings held against limits: value, doubt, chance, verdict, what would settle it, and what looks like a slip.

It knows values, budgets and limits. It refuses to know plans, pages, sentences, and who asked.
"""
