"""The notebook of the docs says what it said: run anew in its own kernel, from its cells, without network or home."""

import json
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
FILE = ROOT / "docs" / "notebooks" / "four-heads.ipynb"


def test_the_notebook_run_anew_says_what_is_written():
    command = [sys.executable, "tools/notebook.py", "--check"]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, timeout=200, check=False)
    assert done.returncode == 0, done.stdout[-500:] + done.stderr[-1500:]


def test_it_was_executed_and_tells_nothing_of_the_machine():
    text = FILE.read_text("utf-8")
    book = json.loads(text)
    code = [cell for cell in book["cells"] if cell["cell_type"] == "code"]
    assert code and all(cell["outputs"] for cell in code if "import" not in cell["source"][0])
    assert not [output for cell in code for output in cell["outputs"] if output["output_type"] == "error"]
    assert all(word not in text for word in ("/tmp", "/home", "/root", str(ROOT)))
