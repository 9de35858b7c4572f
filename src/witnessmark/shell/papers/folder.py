"""Where the templates and fonts of the papers lie inside the package."""

from importlib.resources import files
from pathlib import Path

PAPERS = Path(str(files("witnessmark.shell.papers")))
FONTS = PAPERS / "fonts"
