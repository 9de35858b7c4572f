"""Tables as CSV and Parquet, read back by readers that are not ours."""

import csv
import io
import sys

import pandas
import pytest

from witnessmark.desk.bench import Refused
from witnessmark.desk.tables import Column, Flat
from witnessmark.shell.flat import csv_bytes, parquet_bytes

COLUMNS = (Column("words"), Column("value", "number"), Column("count", "whole"), Column("yes", "flag"))
ODD = ('say "no", then\r\nyes', "5.950", 3, True), (None, None, None, None), ("ü ½ 中", "-0.071", 0, False)


def read(data):
    return list(csv.reader(io.StringIO(data.decode("utf-8"), newline="")))


def test_csv_is_that_of_rfc_4180_and_keeps_every_digit():
    data = csv_bytes(Flat("t", COLUMNS, ODD))
    assert data.startswith(b"words,value,count,yes\r\n") and data.endswith(b"\r\n")
    assert read(data)[1:] == [['say "no", then\r\nyes', "5.950", "3", "true"], [""] * 4, ["ü ½ 中", "-0.071", "0", "false"]]


@pytest.mark.parametrize("text", ["=1+1", "+cmd|' /C calc'!A0", "-2+3+cmd", "@SUM(A1)", "\t=1", "\r=1", "--1"])
def test_a_text_that_a_spreadsheet_would_run_is_kept_from_it(text):
    assert read(csv_bytes(Flat("t", COLUMNS[:1], ((text,),))))[1] == [f"'{text}"]


@pytest.mark.parametrize("text", ["-0.071", "+0.12", "-3", "5.952", "a=1", "0.04 0.05", "-0,5"])
def test_a_number_and_a_plain_text_stay_as_they_are(text):
    assert read(csv_bytes(Flat("t", COLUMNS[:1], ((text,),))))[1] == [text]


def test_parquet_has_numbers_as_numbers_and_nothing_as_nothing():
    frame = pandas.read_parquet(io.BytesIO(parquet_bytes(Flat("t", COLUMNS, ODD))))
    assert list(frame.columns) == ["words", "value", "count", "yes"]
    assert frame["value"].tolist()[::2] == [5.95, -0.071] and frame["value"].isna().tolist() == [False, True, False]
    assert frame["words"][2] == "ü ½ 中" and frame["count"].tolist()[::2] == [3, 0]


def test_an_empty_table_still_has_its_columns():
    assert csv_bytes(Flat("t", COLUMNS, ())) == b"words,value,count,yes\r\n"
    assert list(pandas.read_parquet(io.BytesIO(parquet_bytes(Flat("t", COLUMNS, ())))).columns) == ["words", "value", "count", "yes"]


def test_without_pyarrow_the_command_that_installs_it_is_told(monkeypatch):
    monkeypatch.setitem(sys.modules, "pyarrow", None)
    with pytest.raises(Refused, match=r"pip install 'witnessmark\[parquet\]'; or name a file that ends in .csv"):
        parquet_bytes(Flat("t", COLUMNS, ODD))
