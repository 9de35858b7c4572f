"""What an engine consists of: its layout, and the places that follow from it, in the order a hand walks.

This room knows cylinders, banks, valves, camshafts and how they are numbered. It refuses to know readings, money
and which engine is on the bench: a layout comes in as the plain text of a job file.
"""
