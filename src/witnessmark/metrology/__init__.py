"""Metrology: how far a reading can be trusted and what it proves about a limit. It knows gauges as models, budgets of
shared and own doubt, correlated values, coverage, conformity and what would settle a doubt. It refuses to know parts,
places, engines, who measured, where a limit comes from, and how any of it is said or drawn."""
