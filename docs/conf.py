"""How Sphinx builds the handbook: MyST pages, nothing fetched from outside, warnings are errors (scripts/check.py)."""

import tomllib
from pathlib import Path

_project = tomllib.loads((Path(__file__).parent.parent / "pyproject.toml").read_text(encoding="utf-8"))["project"]

project = "Flueproof"
author = "The Flueproof founders"
copyright = "the Flueproof founders, Apache-2.0"
version = release = _project["version"]

extensions = ["myst_parser"]
myst_enable_extensions = ["colon_fence", "deflist"]
myst_heading_anchors = 3
source_suffix = {".md": "markdown"}
exclude_patterns = ["_build"]
nitpicky = True

html_theme = "furo"
html_title = f"Flueproof {release}"
html_show_sphinx = False
html_copy_source = False
