"""The published JSON Schemas of the documents."""

from importlib import resources


def text(kind: str) -> str:
    """The JSON Schema of ``"catalogue"``, ``"brief"``, ``"formula"`` or ``"rules"`` documents, as text.

    >>> from tenside import schema
    >>> '"$schema"' in schema.text("brief")
    True
    """
    kinds = ("catalogue", "brief", "formula", "rules")
    if kind not in kinds:
        raise ValueError(f"there is no schema of {kind!r}; there are {', '.join(kinds)}")
    return resources.files(__name__).joinpath(f"{kind}.json").read_text(encoding="utf-8")
