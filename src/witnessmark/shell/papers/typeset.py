"""The one door to the typesetter: a template of ours and plain data in, a PDF out that is accessible and archivable.

Standards   PDF/UA-1 (ISO 14289-1) and PDF/A-2a (ISO 19005-2) at once.
Stable      Fonts come from the package alone, dates from the data; the same data give the same bytes.
Errors      TypesetFault, naming the template and what the typesetter said. A warning is one too: it would mean that
            letters were replaced by those of another font.
"""

import json
from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from witnessmark.shell.papers.folder import FONTS, PAPERS

PAPERS_KNOWN = ("a4", "letter")
UNDATED = "1970-01-01"  # an archivable PDF must carry a date; a record without any gets the zero of computer time


class TypesetFault(RuntimeError):
    """A paper that could not be set; the message says which template, and what to look at."""


def typeset(template: str, data: Mapping[str, Any]) -> bytes:
    """Set `data` with the template of that file name, on the `paper` that it names (A4 where it names none).

    Raises TypesetFault.
    """
    import typst

    paper = data.get("paper", PAPERS_KNOWN[0])
    if paper not in PAPERS_KNOWN:
        raise TypesetFault(f"{template}: there is no paper called {paper!r}; name one of {', '.join(PAPERS_KNOWN)}")
    whole = {**data, "paper": paper, "date": data.get("date") or UNDATED}
    inputs = {"data": json.dumps(whole, ensure_ascii=False, sort_keys=True)}
    try:
        pdf, warnings = typst.compile_with_warnings(
            str(PAPERS / template), root=str(PAPERS), font_paths=_fonts(), sys_inputs=inputs, format="pdf",
            pdf_standards=["ua-1", "a-2a"], timestamp=0,
        )  # fmt: skip
    except typst.TypstError as fault:
        told = " ".join([str(fault.message), *map(str, fault.hints)])
        raise TypesetFault(f"{template}: {told}; report this text with the job's export") from fault
    if warnings:
        said = "; ".join(str(getattr(one, "message", one)) for one in warnings)
        raise TypesetFault(f"{template}: {said}; the fonts of the package should hold every letter")
    if not isinstance(pdf, bytes):
        raise TypesetFault(f"{template}: the typesetter gave {type(pdf).__name__} in place of one PDF")
    return pdf


@lru_cache(maxsize=1)
def _fonts() -> Any:
    """The fonts of the package and no others."""
    import typst

    return typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(FONTS)])
