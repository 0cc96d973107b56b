"""The pages of the file formats, made of the schemas that come with the package, each with a document that the code writes."""

import json
import re
from collections import Counter, defaultdict

import tenside as td
from tenside import schema

import examples

# Documents that people write; the others are results, which the library writes and reads back.
WRITTEN = ["catalogue", "prices", "brief", "formula", "draft", "rules", "offers", "stock", "trial-log"]
SCHEMAS = {kind: json.loads(schema.text(kind)) for kind in schema.KINDS}
INTRODUCTION = """# File formats

Every document says in its first key what it is: `tenside = "brief/1"`. It may be TOML or JSON; the keys are the same. A reader
reports every fault of a document at once, with line and column, and refuses keys that it does not know. An exact number is a plain number,
or text with a decimal (`"12.5"`) or a fraction (`"7/3"`). A key that is not *required* may be left out. Unless its meaning says what holds then, a
list or table is empty, a true-or-false is false, and anything else is *not stated*, which is never taken for zero.

The same as JSON Schemas: `tenside.schema.text("brief")`. `python -m tenside check FILE` reads files and says every fault. The examples on these pages are written by the library while this guide is built;
what is in them is invented. Materials of the starter catalogue stand in them by name.

"""
SHEETS = """# Sheets (CSV)

Comma, semicolon or tab, decimal point or decimal comma, columns in any order: see {py:meth}`Catalogue.from_csv <tenside.Catalogue.from_csv>`
and {py:meth}`PriceList.from_csv <tenside.PriceList.from_csv>`. Save as UTF-8. Several values in one cell are parted by `|`. Most columns
are keys of [raw materials](parts.md#part-materialdocument) and [constituents](parts.md#part-constituentdocument) and mean the same;
`…_source` says who states the column before it. There must be `id`, `name` and `form` of a material, `material` and `constituent` of a constituent,
`name` and `materials` of a name, `material` and `price_per_kg` of a price.

"""


def title(name: str) -> str:
    return re.sub(r"(?<=[a-z])(?=[A-Z])", " ", name.removesuffix("Document")).capitalize()


def is_words(part: dict) -> bool:
    return "oneOf" in part or "enum" in part


def shared() -> dict[str, dict]:
    """Parts that stand in several documents, and every list of words. What another part of the same name is stands where it is used."""
    forms = defaultdict(Counter)
    for each in SCHEMAS.values():
        for name, part in each.get("$defs", {}).items():
            forms[name][json.dumps(part)] += 1
    commonest = {name: found.most_common(1)[0] for name, found in sorted(forms.items())}
    parts = {name: (json.loads(text), uses) for name, (text, uses) in commonest.items()}
    return {name: part for name, (part, uses) in parts.items() if uses > 1 or is_words(part)}


SHARED = shared()


def local(kind: str) -> dict[str, dict]:
    """The parts that a page says itself: those of its document that no other has so."""
    parts = SCHEMAS[kind].get("$defs", {}) if kind in SCHEMAS else {}
    return {name: part for name, part in parts.items() if name != "Number" and SHARED.get(name) != part}


def kind_of(node: dict, where: str) -> str:
    """What may stand under a key; `where` is the page that says it."""
    if "$ref" in node:
        name = node["$ref"].rpartition("/")[2]
        if name == "Number":
            return "number"
        page = where if name in local(where) else "words" if is_words(SHARED[name]) else "parts"
        return f"[{title(name).lower()}]({'' if page == where else page + '.md'}#part-{name.lower()})"
    for key in ("anyOf", "oneOf"):
        if key in node:
            return " or ".join(dict.fromkeys(kind_of(each, where) for each in node[key] if each.get("type") != "null"))
    if "const" in node:
        return f"`{json.dumps(node['const'])}`"
    types = node.get("type", [])
    types = [each for each in ([types] if isinstance(types, str) else types) if each != "null"]
    if types == ["array"]:
        several = [kind_of(each, where) for each in node.get("prefixItems", [])] or [
            kind_of(node.get("items", {}), where)
        ]
        return f"list of {', '.join(several)}"
    if types == ["object"]:
        if isinstance(more := node.get("additionalProperties"), dict):
            return f"table of {kind_of(more, where)} by name"
        return (
            "table with " + ", ".join(f"`{key}`" for key in node.get("properties", {}))
            if node.get("properties")
            else "table"
        )
    if "integer" in types:
        return "whole number"
    if types == ["string"] and "enum" in node:
        return " or ".join(f"`{json.dumps(word)}`" for word in node["enum"])
    return " or ".join({"string": "text", "boolean": "true or false"}.get(each, each) for each in types) or "anything"


def cell(text: str) -> str:
    return " ".join(text.replace("|", r"\|").split())


def keys(part: dict, where: str) -> str:
    """The table of the keys of one part."""
    if "properties" not in part:
        return f"{part.get('description', '')}\n\n{kind_of({key: value for key, value in part.items() if key != 'description'}, where).capitalize()}.\n"
    required = part.get("required", [])
    rows = ["| key | what stands there | meaning |", "| :-- | :-- | :-- |"]
    for key, value in part["properties"].items():
        said = cell(value.get("description", ""))
        rows.append(
            f"| `{key}` | {cell(kind_of(value, where))} | {said}{' **Required.**' if key in required else ''} |"
        )
    return f"{part.get('description', '')}\n\n" + "\n".join(rows) + "\n"


def words(part: dict) -> str:
    rows = ["| word | meaning |", "| :-- | :-- |"]
    for each in part.get("oneOf", []) or [{"enum": part.get("enum", [])}]:
        for word in [each["const"]] if "const" in each else each["enum"]:
            rows.append(f"| `{word}` | {cell(each.get('description', ''))} |")
    return f"{part.get('description', '')}\n\n" + "\n".join(rows) + "\n"


def heading(name: str) -> str:
    return f"(part-{name.lower()})=\n## {title(name)}\n\n"


def of_kind(kind: str, document: object) -> str:
    whole = SCHEMAS[kind]
    text = f"# `{kind}/1`\n\n{keys(whole, kind)}\n"
    # A part that has the same name in another document has a heading of its own here.
    text += "\n".join(
        f"({kind}-{name.lower()})=\n## {title(name)}\n\n{keys(part, kind)}" for name, part in local(kind).items()
    )
    text = re.sub(r"\(#part-(\w+)\)", rf"(#{kind}-\1)", text)
    written = document.to_toml(materials=False) if kind in ("brief", "formula") else document.to_toml()
    return f"{text}\n## An example\n\n```{{code-block}} toml\n:class: long\n\n{written.strip()}\n```\n"


def sheets() -> str:
    names = ("materials", "constituents", "names")
    parts = [SHEETS]
    # Our own shelf has no name that could mean several; of the starter catalogue's the first few show how it is done.
    ours, starter = examples.UNCERTIFIED.to_csv(), td.Catalogue.starter().to_csv()
    for name, text in zip(names, [*ours[:2], "\n".join(starter[2].splitlines()[:4])]):
        columns = ", ".join(f"`{column}`" for column in text.splitlines()[0].split(","))
        parts.append(
            f"## {name.capitalize()}\n\n{columns}\n\n```{{code-block}} text\n:class: long\n\n{text.strip()}\n```\n\n"
        )
    return "".join([*parts, f"## Prices\n\n```text\n{examples.PRICES.to_csv().strip()}\n```\n"])


def section(caption: str, names: list[str]) -> str:
    """What there is, each with a sentence, and the same for the sidebar."""
    said = {
        "sheets": "what a spreadsheet exports",
        "parts": "tables that several documents have",
        "words": "closed lists, with what each word means",
    }
    rows = [
        f"- [`{name}/1`]({name}.md): {SCHEMAS[name]['description']}"
        if name in SCHEMAS
        else f"- [{name}]({name}.md): {said[name]}"
        for name in names
    ]
    lines = [f"## {caption}", "", *rows, "", "```{toctree}", f":caption: {caption}", ":hidden:", "", *names, "```", ""]
    return "\n".join([*lines, ""])


def pages() -> dict[str, str]:
    results = [kind for kind in schema.KINDS if kind not in WRITTEN]
    listed = {
        "Documents that you write": [*WRITTEN, "sheets"],
        "Results": results,
        "What they are made of": ["parts", "words"],
    }
    contents = "".join(section(caption, names) for caption, names in listed.items())
    parts = {name: part for name, part in SHARED.items() if not is_words(part) and name != "Number"}
    lists = {name: part for name, part in SHARED.items() if is_words(part)}
    return {
        "formats/index.md": INTRODUCTION + contents,
        "formats/parts.md": "# Parts of several documents\n\n"
        + "\n".join(heading(name) + keys(part, "parts") for name, part in parts.items()),
        "formats/words.md": "# Closed lists of words\n\n"
        + "\n".join(heading(name) + words(part) for name, part in lists.items()),
        "formats/sheets.md": sheets(),
        **{f"formats/{kind}.md": of_kind(kind, document) for kind, document in examples.documents().items()},
    }
