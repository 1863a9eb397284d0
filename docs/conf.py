"""How Sphinx builds these pages: `bash python/bootstrap.sh docs`. Nothing in them is fetched from elsewhere."""

from __future__ import annotations

import re
from collections.abc import Iterator
from importlib import metadata
from pathlib import Path
from typing import Any

from docutils import nodes
from docutils.utils.math import latex2mathml
from sphinx.addnodes import pending_xref
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


# Pages for builders, in which a word of the glossary is a link to it where it is first used.
TOLD = {"start", "methods", "limits", "cautions", "exports", "scale"}
GLOSSARY = (Path(__file__).parent / "glossary.md").read_text(encoding="utf-8").partition("```{glossary}\n")[2]
WORDS = re.findall(r"^\w.*", GLOSSARY, re.MULTILINE)


def _to_the_glossary(app: Sphinx, tree: nodes.document) -> None:
    if app.env.docname not in TOLD:
        return
    left = {word.lower() for word in WORDS}
    for text in list(tree.findall(nodes.Text)):
        kinds = {type(parent) for parent in _above(text)}
        if kinds & {nodes.literal, nodes.literal_block, nodes.reference, nodes.title, nodes.math, pending_xref}:
            continue
        made: list[nodes.Node] = []
        rest = str(text)
        while found := _first(rest, left):
            word, place = found
            left.discard(word)
            shown = rest[place.start() : place.end()]
            told = {"refdomain": "std", "reftype": "term", "reftarget": word, "refexplicit": True, "refwarn": True}
            link = pending_xref("", nodes.inline(shown, shown, classes=["word"]), refdoc=app.env.docname, **told)
            made += [nodes.Text(rest[: place.start()]), link]
            rest = rest[place.end() :]
        if made:
            text.parent.replace(text, [*made, nodes.Text(rest)])


def _above(node: nodes.Node) -> Iterator[nodes.Node]:
    while node.parent is not None:
        node = node.parent
        yield node


def _first(text: str, words: set[str]) -> tuple[str, re.Match[str]] | None:
    """The word that comes first in a text, the longest of those that begin there."""
    ends = [(word, re.compile(rf"(?<![\w-]){re.escape(word)}s?(?![\w-])", re.IGNORECASE)) for word in words]
    found = [(word, place) for word, end in ends if (place := end.search(text))]
    return min(found, key=lambda each: (each[1].start(), -len(each[0])), default=None)


def setup(app: Sphinx) -> None:
    """Formulas as MathML, which browsers draw by themselves: no script, no font."""
    app.add_html_math_renderer("mathml", (_inline, None), (_block, None))
    app.add_css_file("pages.css")
    app.connect("autodoc-skip-member", _left_out)
    app.connect("doctree-read", _to_the_glossary)


html_static_path = [str(Path(__file__).parent / "look")]
