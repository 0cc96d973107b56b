"""The published JSON Schemas of the documents."""

from importlib import resources
from reprlib import repr as brief_repr

__all__ = ["KINDS", "text"]

KINDS = (
    "adjustment",
    "answer",
    "bars-from-stock",
    "batch",
    "batch-record",
    "best-on-model",
    "brief",
    "catalogue",
    "chosen",
    "conflict",
    "costing",
    "design",
    "difference",
    "draft",
    "drying-curve",
    "exposure",
    "formula",
    "formula-micelles",
    "label",
    "made",
    "mixed-micelles",
    "model",
    "model-choice",
    "most-desirable",
    "moulded-bar",
    "offers",
    "portions",
    "prices",
    "product-mix",
    "purchase",
    "rescue",
    "review",
    "rounded",
    "rules",
    "stock",
    "substitution",
    "target-fill",
    "titration",
    "trial-log",
    "unmet",
    "use-up",
    "weighable",
    "weight-test",
    "weights",
)
"""The kinds of documents that have a schema."""


def text(kind: str) -> str:
    """The JSON Schema of the documents of a kind, as text: of what its reader takes, and of results of what is written.

    >>> from tenside import schema
    >>> '"$schema"' in schema.text("brief")
    True
    """
    if kind not in KINDS:
        raise ValueError(f"there is no schema of {brief_repr(kind)}; there are {', '.join(KINDS)}")
    return resources.files(__name__).joinpath(f"{kind}.json").read_text(encoding="utf-8")
