"""Flat tables as files: CSV for a spreadsheet, Parquet for who reckons with many records.

CSV       RFC 4180: commas, CRLF, quotes doubled, UTF-8 without a mark at its beginning, heads in the first line.
          A text that a spreadsheet would take for a formula gets an apostrophe before it. Numbers keep their digits.
Parquet   numbers as doubles, empty cells as null. It needs pyarrow, which is not installed with the tool.
"""

import csv
import importlib
import re
from io import BytesIO, StringIO
from typing import Any

from witnessmark.desk.bench import Refused
from witnessmark.desk.tables import Cell, Column, Flat

_FORMULA = ("=", "+", "-", "@", "\t", "\r")  # what makes a formula of a cell (OWASP, CSV injection; from memory)
_NUMBER = re.compile(r"[+-]?[0-9]+([.,][0-9]+)?")
INSTALL = "pip install 'witnessmark[parquet]'"


def csv_bytes(table: Flat) -> bytes:
    """The table as CSV."""
    out = StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow([column.name for column in table.columns])
    for row in table.rows:
        writer.writerow([_cell(cell, column) for cell, column in zip(row, table.columns, strict=True)])
    return out.getvalue().encode("utf-8")


def _cell(cell: Cell, column: Column) -> str:
    if cell is None:
        return ""
    if isinstance(cell, bool):
        return "true" if cell else "false"
    text = str(cell)
    guarded = column.kind == "text" and text.startswith(_FORMULA) and not _NUMBER.fullmatch(text)
    return f"'{text}" if guarded else text


def parquet_bytes(table: Flat) -> bytes:
    """The table as Parquet. Raises Refused with the command that installs what it needs."""
    try:
        arrow: Any = importlib.import_module("pyarrow")
        parquet: Any = importlib.import_module("pyarrow.parquet")
    except ModuleNotFoundError:
        raise Refused(f"Parquet needs pyarrow, which is not installed: {INSTALL}; or name a file that ends in .csv") \
            from None
    kinds = {"text": arrow.string(), "number": arrow.float64(), "whole": arrow.int64(), "flag": arrow.bool_()}
    columns = list(zip(*table.rows, strict=True)) or [()] * len(table.columns)
    arrays = [arrow.array([_value(cell, column) for cell in cells], type=kinds[column.kind])
              for column, cells in zip(table.columns, columns, strict=True)]  # fmt: skip
    out = BytesIO()
    parquet.write_table(arrow.table(arrays, names=[column.name for column in table.columns]), out)
    return out.getvalue()


def _value(cell: Cell, column: Column) -> Any:
    return float(cell) if column.kind == "number" and cell is not None else cell
