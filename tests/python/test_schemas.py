"""What a reader takes, the published schema takes too: examples of the documentation, and documents as people write them."""

import copy
import json
import random
import re

import pytest
import tenside as td
from tenside import measure as m
from tenside import schema

jsonschema = pytest.importorskip("jsonschema")
toml = pytest.importorskip("tomllib", reason="comes with Python 3.11")

CATALOGUE = td.Catalogue.starter()
READERS = {
    "catalogue": td.Catalogue.from_json,
    "brief": lambda text: td.Brief.from_json(text, CATALOGUE),
    "formula": td.Formula.from_json,
    "rules": td.review.RuleList.from_json,
    "draft": td.Draft.from_json,
}
VALIDATORS = {kind: jsonschema.Draft202012Validator(json.loads(schema.text(kind))) for kind in schema.KINDS}


def is_read(kind, document):
    try:
        READERS.get(kind, lambda text: td.read(text, CATALOGUE))(json.dumps(document))
    except td.TensideError:
        return False
    return True


def why_not(kind, document):
    return [
        f"{'/'.join(map(str, fault.absolute_path))}: {fault.message[:200]}"
        for fault in VALIDATORS[kind].iter_errors(document)
    ]


def examples(project):
    """Every document in raw strings of Rust and Python, in documents of tests and in notebooks: kind, place, tree."""
    for path in sorted(
        each for each in project.rglob("*") if each.suffix in (".rs", ".py", ".md", ".toml", ".json", ".ipynb")
    ):
        if {"target", ".git", "schema"} & set(path.relative_to(project).parts) or any(
            part.startswith(".") for part in path.relative_to(project).parts
        ):
            continue
        text = path.read_text(encoding="utf-8")
        if path.suffix == ".ipynb":
            text = "\n".join("".join(cell["source"]) for cell in json.loads(text)["cells"])
        text = re.sub(r"^\s*//[/!] ?", "", text, flags=re.MULTILINE)
        whole = [text] if path.suffix in (".toml", ".json") else []
        for found in [
            *whole,
            *re.findall(r'r#+"(.*?)"#', text, re.DOTALL),
            *re.findall(r'"""\n(.*?)"""', text, re.DOTALL),
            *re.findall(r"```(?:toml|json)\n(.*?)```", text, re.DOTALL),
        ]:
            kind = re.search(r'"?tenside"?\s*[=:]\s*"(\w+)/1"', found)
            if kind and kind[1] in VALIDATORS:
                try:
                    tree = toml.loads(found) if not found.lstrip().startswith("{") else json.loads(found)
                except ValueError:
                    continue
                yield kind[1], str(path.relative_to(project)), json.loads(json.dumps(tree, default=str))


def written():
    """Documents of every kind that say as much as can be said."""
    some = ["sci-powder", "capb-30", "lavender-oil", "sodium-benzoate", "kaolin", "citric-acid-50", "cetyl-alcohol"]
    own = {
        "inci": "HOUSE ESTER",
        "class": "ester",
        "source": "own",
        "molar_mass": {"typical": 300, "low": 290, "high": 310, "chain": "C12"},
        "pka": [4.2],
    }
    own |= {
        "label_eu": "A",
        "label_us": "B",
        "charge_per_gram": 1,
        "counts_as_active": True,
        "attributes": {"palm": {"value": True, "source": "own"}},
    }
    bought = {
        "id": "house",
        "name": "House",
        "form": "oil",
        "source": "own",
        "constituents": [{"inci": "HOUSE ESTER", "typical": 100, "low": 99}],
    }
    bought |= {
        "descending": False,
        "density": 0.9,
        "melting_point": 40,
        "highest_process_temperature": 80,
        "bound_water": 1,
    }
    bounds = {
        "id": "bounds",
        "name": "Bounds",
        "form": "liquid",
        "source": "own",
        "descending": True,
        "constituents": [{"inci": "WATER"}, {"inci": "GLYCERIN", "high": 20}],
    }
    premix = {
        "id": "mix",
        "name": "Mix",
        "form": "powder",
        "source": "own",
        "premix": [{"material": "kaolin", "percent": 40}, {"material": "house", "percent": 60}],
    }
    lot = {
        "id": "W",
        "material": "capb-30",
        "active": {"percent": 29, "method": "titrated", "molar_mass": 355},
        "salt": 5,
        "ph": 6,
        "retest": "2027-01-31",
    }
    alias = {"name": "mud", "candidates": ["kaolin", "bounds"], "note": "which"}
    catalogue = json.loads(td.Catalogue().to_json()) | {
        "substance": [own],
        "material": [bought, bounds],
        "lot": [],
        "alias": [],
    }
    catalogue = td.Catalogue.from_json(json.dumps(catalogue))
    for name in some:
        catalogue = catalogue.with_material(CATALOGUE.material(name))
    tree = json.loads(catalogue.to_json())
    tree = {**tree, "material": [*tree["material"], premix], "lot": [lot], "alias": [alias]}
    catalogue = td.Catalogue.from_json(json.dumps(tree))
    brief = (
        td.Brief("Bar", catalogue, prices={"capb-30": 3, "kaolin": "0.3"}, currency="EUR")
        .phase("melted", 70)
        .line("betaine", "capb-30", lot="W", phase="melted", low=0, high=30)
        .between("sci-powder", 10, 70)
        .absent_or_between("cetyl-alcohol", 2, 5)
        .fix("lavender-oil", "0.5")
        .free("house")
        .group("fats", ["cetyl-alcohol", "house"])
        .at_most_of("fats", 2)
        .split({"sci-powder": 3, "betaine": 1}, by="active", name="wash")
        .qs("kaolin")
        .at_most(m.constituent("LIMONENE"), "0.1", for_every_composition=True)
        .within(m.water.within(phase="melted"), 0, 100, basis=td.finished(moisture=5))
        .at_least(
            m.score(
                "slip", {"sci-powder": 1, "capb-30": 2, "house": 1, "lavender-oil": 0, "kaolin": 0, "cetyl-alcohol": 1}
            ),
            "0.1",
        )
        .minimise(m.cost.per(m.active_matter))
    )
    formula = td.Formula(
        "Bar", [td.Line(catalogue.material("kaolin"), 60, name="clay", phase="p", groups=["g"], qs=True), td.Line(catalogue.material("mix"), 40, fixed=True)], catalogue,
        prices={"kaolin": 1, "mix": 2}, currency="EUR",
    )  # fmt: skip
    rules = [rules for rules in td.review.RuleList.starter()]
    lines = [
        ("kaolin", "10-15 %"),
        td.formula.DraftLine("Rosemary oil", "3 drops", phase="cool-down", optional=True),
        ("water", "q.s."),
    ]
    draft = (
        td.Draft("Half-written", lines)
        .set_amount(1, "12 %")
        .drop_optional(2)
        .with_batch("1 kg")
        .with_figures_in("gram")
    )
    return [
        ("catalogue", catalogue),
        ("brief", brief),
        ("formula", formula),
        ("draft", draft),
        *(("rules", each) for each in rules),
    ]


def places(tree, path=()):
    """Every key and item of a document."""
    pairs = tree.items() if isinstance(tree, dict) else enumerate(tree) if isinstance(tree, list) else ()
    for key, value in pairs:
        yield (*path, key), value
        yield from places(value, (*path, key))


def changed(tree, path, change):
    tree = copy.deepcopy(tree)
    inner = tree
    for key in path[:-1]:
        inner = inner[key]
    change(inner, path[-1])
    return tree


def remove(inner, key):
    del inner[key]


def to_text(inner, key):
    inner[key] = str(inner[key])


def to_null(inner, key):
    inner[key] = None


def to_its_value(inner, key):
    """Without the source that stands beside it."""
    inner[key] = inner[key].get("value", inner[key].get("share"))


def to_sourced(inner, key):
    inner[key] = {{"density": "value", "bound_water": "share"}[key]: inner[key], "source": "sheet"}


def variants(tree, rng, count):
    """Documents that say less, or the same otherwise, as people write them."""
    found = []
    for path, value in places(tree):
        found.append((path, remove))
        if isinstance(path[-1], str):
            found.append((path, to_null))
        if isinstance(value, (int, float)) and not isinstance(value, bool):
            found.append((path, to_text))
        if isinstance(value, dict) and {"value", "share"} & set(value):
            found.append((path, to_its_value))
        if path[-1] in ("density", "bound_water") and not isinstance(value, dict):
            found.append((path, to_sourced))
    for path, change in rng.sample(found, min(count, len(found))):
        yield path, change.__name__, changed(tree, path, change)


def test_every_example_is_valid(project):
    read = 0
    for kind, place, tree in examples(project):
        if is_read(kind, tree):
            read += 1
            assert why_not(kind, tree) == [], (place, tree)
    assert read >= 30


WRITTEN = written()


@pytest.mark.parametrize("number", range(len(WRITTEN)), ids=lambda number: f"{WRITTEN[number][0]}{number}")
def test_what_a_reader_takes_its_schema_takes(number):
    kind, document = WRITTEN[number]
    tree = json.loads(document.to_json())
    assert why_not(kind, tree) == []
    taken = 0
    for path, change, variant in variants(tree, random.Random(number), 60 if kind == "rules" else 500):
        if is_read(kind, variant):
            taken += 1
            assert why_not(kind, variant) == [], (change, path)
    assert taken > 0


def test_wrong_documents_are_no_documents_of_a_schema():
    tree = json.loads(td.Catalogue().with_material(CATALOGUE.material("kaolin")).to_json())
    assert why_not("catalogue", tree) == []
    for path, value in [
        (("material", 0, "form"), "steam"),
        (("material", 0, "colour"), "white"),
        (("material", 0, "density"), [1]),
        (("tenside",), 1),
    ]:
        assert why_not("catalogue", changed(tree, path, lambda inner, key: inner.__setitem__(key, value))), path
    for path in [("material", 0, "id"), ("material", 0, "form"), ("tenside",)]:
        assert why_not("catalogue", changed(tree, path, remove)), path


@pytest.mark.parametrize("kind", schema.KINDS)
def test_schemas_say_what_they_are(kind):
    tree = json.loads(schema.text(kind))
    jsonschema.Draft202012Validator.check_schema(tree)
    assert tree["$id"] == f"urn:tenside:schema:{kind}:1" and tree["description"]


def described(tree, place=""):
    """Every property below a node of a schema: its place and its description."""
    if isinstance(tree, dict):
        for name, property_of in tree.get("properties", {}).items():
            yield f"{place}/{name}", property_of.get("description")
        for name, below in tree.items():
            yield from described(below, f"{place}/{name}")
    elif isinstance(tree, list):
        for index, below in enumerate(tree):
            yield from described(below, f"{place}/{index}")


@pytest.mark.parametrize("kind", schema.KINDS)
def test_every_property_is_described(kind):
    found = dict(described(json.loads(schema.text(kind))))
    assert len(found) >= 3
    assert not [place for place, description in found.items() if not description]
