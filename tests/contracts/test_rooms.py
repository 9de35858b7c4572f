"""Imports go one way, and the core does no input or output."""

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]


def test_the_import_contracts_hold():
    linter = Path(sys.executable).with_name("lint-imports")
    done = subprocess.run([linter, "--no-cache"], cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
