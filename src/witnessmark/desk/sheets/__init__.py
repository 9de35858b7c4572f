"""What each sheet shows, as frozen plain data: words, numbers already shown, and drawings.

It knows the state of a job and how the bench speaks. It refuses to know HTML, addresses of static files, and who asked.
"""
