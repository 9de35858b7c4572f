"""Quantity: trade text to exact numbers with a unit and the size of the last digit written, and back to text without
a digit that the gauge did not resolve. It knows inch and millimetre, leaves, gauge streams and the keys of the entry
line, and asks back what has two meanings; it refuses to know where a number comes from, what it measures, or what it
is held against."""
