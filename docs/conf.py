"""How Sphinx builds these pages: `bash python/bootstrap.sh docs`. Nothing in them is fetched from elsewhere."""

from __future__ import annotations

from importlib import metadata
from pathlib import Path
from typing import Any

from docutils import nodes
from docutils.utils.math import latex2mathml
from sphinx.application import Sphinx

project = "armwright"
author = "the armwright developers"
copyright = author
try:
    release = metadata.version("armwright")
except metadata.PackageNotFoundError:  # the source tree, with the module built in place
    release = "from the source tree"

extensions = ["myst_parser", "sphinx.ext.autodoc"]
myst_enable_extensions = ["colon_fence", "deflist", "dollarmath"]
myst_heading_anchors = 4

html_theme = "furo"
html_title = "armwright"
html_copy_source = False
html_show_sourcelink = False
html_domain_indices = False
html_math_renderer = "mathml"
templates_path: list[str] = []
pygments_style = "friendly"
pygments_dark_style = "monokai"

autodoc_member_order = "bysource"
autodoc_preserve_defaults = True
autodoc_class_signature = "mixed"
python_use_unqualified_type_names = True
python_maximum_signature_line_length = 100


def _inline(translator: Any, node: nodes.math) -> None:
    translator.body.append(latex2mathml.tex2mathml(node.astext()))
    raise nodes.SkipNode


def _block(translator: Any, node: nodes.math_block) -> None:
    made = latex2mathml.tex2mathml(node.astext()).replace("<math ", '<math display="block" ', 1)
    translator.body.append(f'<div class="math">{made}</div>')
    raise nodes.SkipNode


def _left_out(app: Sphinx, what: str, name: str, member: Any, skip: bool, options: Any) -> bool | None:
    return True if type(member).__name__ == "_tuplegetter" else None  # a field of a named tuple, told with its class


def setup(app: Sphinx) -> None:
    """Formulas as MathML, which browsers draw by themselves: no script, no font."""
    app.add_html_math_renderer("mathml", (_inline, None), (_block, None))
    app.add_css_file("pages.css")
    app.connect("autodoc-skip-member", _left_out)


html_static_path = [str(Path(__file__).parent / "look")]
