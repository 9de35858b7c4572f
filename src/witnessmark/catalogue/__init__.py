"""What the trade measures and how: characteristics, gauges, operations, hazards and sources, read from data files.

This room knows terms, stations, laws by name, usual ranges, remedies and teaching notes, and the grammar of places.
It refuses to know any one engine, any limit of acceptance and any reading. It takes texts; it opens no file.
"""
