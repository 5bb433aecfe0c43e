"""How the documentation is built: plain pages, nothing fetched from elsewhere."""

import tomllib
from pathlib import Path

_project = tomllib.loads((Path(__file__).parents[1] / "pyproject.toml").read_text(encoding="utf-8"))[
    "project"
]

project = "Leverwright"
author = "The Leverwright contributors"
project_copyright = "2026, the Leverwright contributors, MIT licence"
release = version = _project["version"]

extensions = ["myst_parser"]
source_suffix = {".md": "markdown"}
exclude_patterns = ["_build"]
nitpicky = True
myst_enable_extensions = ["deflist", "colon_fence"]
myst_heading_anchors = 3

html_theme = "furo"
html_title = f"Leverwright {release}"
html_show_sphinx = False
html_copy_source = False
html_theme_options = {"footer_icons": []}
pygments_style = "friendly"
