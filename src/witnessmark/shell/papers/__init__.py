"""Papers: a view of the desk set on A4 or Letter as PDF that proves the same bytes for the same job.

The room knows the sheet (frame, filing edge, title block), its fonts, and the one function that calls the typesetter.
It refuses to know readings, limits and verdicts: words, marks and drawings come in ready, and go to the typesetter as
data, never as source. It reads no clock, no font of the system and no network.
"""

from witnessmark.shell.papers.report import inspection_report, report_pdf, short_pdf
from witnessmark.shell.papers.typeset import TypesetFault

__all__ = ["TypesetFault", "inspection_report", "report_pdf", "short_pdf"]
