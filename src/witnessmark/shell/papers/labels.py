"""Labels as a PDF: 62 x 29 mm, twenty-seven on a sheet, each with a code that a phone or the bench reads.

Codes   QR after ISO/IEC 18004, error correction M (15 in 100 of the code may be lost), with the quiet zone of four
        modules that the standard asks for (value from memory).
"""

from io import BytesIO
from typing import Any

from witnessmark.desk.sheets.labels import Label, labels
from witnessmark.desk.state import State
from witnessmark.shell.papers.plain import plain
from witnessmark.shell.papers.typeset import typeset

QUIET = 4  # modules


def labels_pdf(opened: State, *, date: str = "", base: str = "", paper: str = "a4") -> bytes:
    """Every label of a job's engine; `base` as `http://host:port`, or "". Raises NoLabels, TypesetFault."""
    made = [{**plain(one), "qr": _code(one)} for one in labels(opened, base)]
    return typeset("labels.typ", {"job": plain(opened.job.id), "labels": made, "date": date, "paper": paper})


def _code(label: Label) -> dict[str, Any]:
    """The code as a picture of black modules on white, one unit each."""
    import segno

    code = segno.make_qr(label.code, error="m", boost_error=False)
    out = BytesIO()
    code.save(out, kind="svg", border=QUIET, light="white", xmldecl=False, nl=False)
    side, _ = code.symbol_size(border=QUIET)
    return {"svg": out.getvalue().decode("ascii"), "side": side, "name": f"code: {label.code}"}
