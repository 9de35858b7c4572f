"""Every use case once: a command and a snapshot in, events or a refusal out; and what each sheet shows, as plain data.

Pages, commands and notebooks call the same functions. It refuses to know HTTP, SQL, files and clocks: whoever calls
hands in the time, the person and the ids.
"""
