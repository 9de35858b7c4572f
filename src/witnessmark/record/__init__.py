"""What happened to one job: readings, gauges, settings, limits as text, and every change of mind, as events.

The room knows events and their one canonical form, the replay that turns any order of arrival into the same snapshot,
and the job file that a hand may write and an export must return byte for byte. It refuses to know what a reading means
for the engine, which limits it stands against, what may be done next, and where events are kept.
"""
