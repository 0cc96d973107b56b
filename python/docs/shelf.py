"""The pages of the starter catalogue, made of the catalogue itself: one for each class of the largest constituent."""

from decimal import Decimal

import tenside as td

HEAD = """# The starter catalogue

:::{{attention}}
**DRAFT.** {count} generic raw materials with typical values from memory and common practice. No supplier stands behind a figure: replace them
by your suppliers' data before you rely on one. Cautions are the usual ones and replace no safety data sheet.
:::

By the class of the largest named constituent. Each row has the id that scripts use; percent as supplied.

"""


def number(value: Decimal | None) -> str:
    return "?" if value is None else f"{float(value):g}"


def row(material: td.Material) -> str:
    inci = ", ".join(each.substance.inci for each in material.constituents if each.declaration != "not-declared")
    active = f"{float(material.active()):.3g} %" if material.active() else ""
    uses = "<br>".join(
        f"{level.product_use} {number(level.low)} to {number(level.high)}" for level in material.use_levels
    )
    return f"| `{material.id}`<br>{material.name} | {inci} | {material.form} | {active} | {uses} | {', '.join(material.cautions)} |"


def page(title: str, materials: list[td.Material]) -> str:
    head = [
        "| id and name | INCI | form | active | use levels, % | cautions |",
        "| :-- | :-- | :-- | --: | :-- | :-- |",
    ]
    draft = "**DRAFT:** typical values from memory; your suppliers' data replace them.\n"
    return "\n".join([f"# {title}\n", draft, ":::{container} shelf", *head, *map(row, materials), ":::", ""])


def pages() -> dict[str, str]:
    classes: dict[str, list[td.Material]] = {}
    catalogue = td.Catalogue.starter()
    for material in catalogue.materials():
        classes.setdefault(material.main_class, []).append(material)
    contents = "\n".join(
        [
            "| class | raw materials |",
            "| :-- | --: |",
            *(f"| [{each}]({each}.md) | {len(rows)} |" for each, rows in classes.items()),
        ]
    )
    tree = "```{toctree}\n:hidden:\n\n" + "\n".join(classes) + "\n```\n"
    found = {f"shelf/{each}.md": page(each.replace("-", " ").capitalize(), rows) for each, rows in classes.items()}
    return {"shelf/index.md": f"{HEAD.format(count=len(catalogue))}{contents}\n\n{tree}", **found}
