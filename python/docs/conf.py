"""What Sphinx is told; `build.py` starts it."""

import tenside

project = "tenside"
author = "the makers of tenside"
version = release = tenside.__version__
html_title = f"tenside {release}"

extensions = ["myst_nb"]
myst_enable_extensions = ["colon_fence", "deflist", "attrs_inline"]
myst_heading_anchors = 3
# The notebooks are stored with what they show, and the tests compare it; only a page that asks for it is run (the
# gallery).
nb_execution_mode = "off"
nb_execution_raise_on_error = True
nb_execution_timeout = 300
nb_execution_show_tb = True
nb_merge_streams = True

# Quotes are of words that people copy.
smartquotes = False

python_use_unqualified_type_names = True
python_maximum_signature_line_length = 90
toc_object_entries_show_parents = "hide"
# Types of other packages, for which there is nothing to link to, and how ours are shortened.
nitpick_ignore = [
    ("py:class", name)
    for name in (
        "Any", "Callable", "Client", "Control", "Decimal", "Exception", "Fraction", "Iterable", "Iterator", "LookupError", "Mapping", "Number",
        "os.PathLike", "pathlib.Path", "Path", "PathLike", "datetime.date", "Document", "Progress", "RuntimeError", "Sequence", "ValueError", "collections.abc.Sequence", "_Row",
    )
]  # fmt: skip

html_theme = "pydata_sphinx_theme"
html_static_path = ["static"]
html_css_files = ["guide.css"]
html_show_sourcelink = False
html_copy_source = False
html_last_updated_fmt = None
html_show_copyright = False
html_sidebars = {
    page: [] for page in ("index", "install", "start", "concepts", "gallery", "rust", "limits", "sources", "cite")
}
html_theme_options = {
    "logo": {"text": "tenside"},
    "navbar_align": "left",
    "header_links_before_dropdown": 8,
    "show_prev_next": True,
    "secondary_sidebar_items": ["page-toc"],
    "show_toc_level": 2,
    "navigation_with_keys": False,
    "footer_start": ["sphinx-version"],
    "footer_end": [],
}
pygments_style = "default"
