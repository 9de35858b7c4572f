"""The limit sheet: what the service information in hand says, copied by the user, with document and page.

This room reads a sheet, tells every contradiction at once, and finds the limit that holds for a place. It refuses to
know readings and verdicts, and it never supplies a limit of its own.
"""
