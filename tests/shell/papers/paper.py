"""Papers read back: text page by page, places of words, structure. Tools of the test alone."""

import io
import os
import re
import shutil
import subprocess
from collections.abc import Iterator
from typing import Any

import pikepdf
import pytest

MM = 72 / 25.4


def _tool(*arguments: str, pdf: bytes) -> str:
    if shutil.which("pdftotext") is None:
        missing = "pdftotext (poppler-utils) is not on this machine, so papers were not read back"
        (pytest.fail if os.environ.get("CI") else pytest.skip)(missing)
    run = subprocess.run(["pdftotext", *arguments, "-", "-"], input=pdf, capture_output=True, check=True)
    return run.stdout.decode("utf-8")


def pages(pdf: bytes) -> list[str]:
    """The text of each page in reading order of the eye, without invisible places to break a line."""
    return _tool("-layout", pdf=pdf).replace("\u200b", "").split("\f")[:-1]


def read_in_order(pdf: bytes) -> str:
    """All text in the order in which it was set: a cell of a table is not mixed with its neighbours."""
    return _tool("-raw", pdf=pdf).replace("\u200b", "")


def words(pdf: bytes) -> list[tuple[int, tuple[float, ...], str]]:
    """Every word with its page and its box in mm from the top left corner of the sheet."""
    found, page = [], 0
    for line in _tool("-bbox", pdf=pdf).splitlines():
        page += "<page " in line
        box = re.findall(r'[xy]M(?:in|ax)="([-0-9.]+)"', line)
        if "<word " in line:
            found.append((page, tuple(float(n) / MM for n in box), re.sub("<[^>]+>", "", line).strip()))
    return found


def opened(pdf: bytes) -> pikepdf.Pdf:
    """The document as objects."""
    return pikepdf.open(io.BytesIO(pdf))


def structure(pdf: pikepdf.Pdf) -> Iterator[Any]:
    """Every element of the tag tree."""
    waiting: list[Any] = [pdf.Root.StructTreeRoot]
    while waiting:
        one = waiting.pop()
        if isinstance(one, pikepdf.Array):
            waiting += list(one)
        elif isinstance(one, pikepdf.Dictionary):
            if "/S" in one:
                yield one
            if "/K" in one:
                waiting.append(one.K)
