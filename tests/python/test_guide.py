"""The parts of the guide that are made of code and data leave nothing out."""

import collections
import importlib
import sys
import types

import pytest
import tenside
from printed import PROJECT
from tenside import _native, schema

DOCS = PROJECT / "python/docs"


@pytest.fixture
def part(monkeypatch):
    """A file of the guide that makes pages, by its name."""
    monkeypatch.syspath_prepend(str(DOCS))
    made = []

    def load(name):
        made.append(name)
        return importlib.import_module(name)

    yield load
    for name in ("rooms", "api", "examples", "formats", "law", "shelf"):
        sys.modules.pop(name, None)


def test_every_public_name_stands_in_one_room(part):
    rooms = part("rooms")
    names = rooms.names()
    assert sorted(set(names)) == sorted(names)
    top, held = set(tenside.__all__), collections.defaultdict(set)
    for module, *_, row in rooms.ROOMS.values():
        held[module] |= set(row.split()) - top
    assert top <= set(names)
    for module, expected in held.items():
        # What a module has of its own stands on its own page.
        own = {name for name, thing in vars(_module(module)).items() if not hasattr(_native, name)}
        assert expected - own == set(_module(module).__all__) - own, module


def test_the_top_of_the_package_holds_what_a_script_starts_from():
    """Some thirty names; what stands there stands nowhere else, and what does not is told where it is."""
    assert len(tenside.__all__) <= 35
    rooms = {name for name in dir(tenside) if isinstance(getattr(tenside, name), types.ModuleType)}
    assert {"solve", "batch", "label", "measure", "errors"} <= rooms
    with pytest.raises(AttributeError, match="it is tenside.solve.Answer$"):
        _ = tenside.Answer
    with pytest.raises(AttributeError, match="the module 'tenside' has no 'Nothing'$"):
        _ = tenside.Nothing


def test_every_class_says_the_module_that_holds_it(part):
    """So that `help` and a pickle name the place where it is found."""
    for module, *_, row in part("rooms").ROOMS.values():
        for name in row.split():
            top = name in tenside.__all__
            thing = getattr(tenside if top else _module(module), name)
            if isinstance(thing, type):
                assert thing.__module__ == ("tenside" if top and module != "errors" else f"tenside.{module}"), name


def _module(name):
    return importlib.import_module(f"tenside.{name}")


def test_every_public_name_has_its_entry(part):
    pages = "\n".join(part("api").pages().values())
    entries = {
        line.partition("} ")[2].partition("(")[0]
        for line in pages.splitlines()
        if line.startswith((":::{py:", ":::::{py:"))
    }
    assert [name for name in part("rooms").names() if name not in entries] == []


def test_every_kind_of_document_has_its_page_with_an_example(part):
    formats = part("formats")
    pages = formats.pages()
    assert set(part("examples").documents()) == set(schema.KINDS)
    for kind in schema.KINDS:
        page = pages[f"formats/{kind}.md"]
        assert f'tenside = "{kind}/1"' in page
        assert all(f"| `{key}` |" in page for key in formats.SCHEMAS[kind]["properties"])


def test_every_key_of_every_document_is_explained(part):
    formats = part("formats")
    named = {
        (name, key): value for name, part in formats.SHARED.items() for key, value in part.get("properties", {}).items()
    }
    named |= {
        (kind, key): value for kind, whole in formats.SCHEMAS.items() for key, value in whole["properties"].items()
    }
    assert [place for place, value in named.items() if not value.get("description")] == []


def test_every_raw_material_of_the_starter_catalogue_is_on_a_page_that_says_draft(part):
    pages = part("shelf").pages()
    assert all("DRAFT" in page for page in pages.values())
    text = "\n".join(pages.values())
    assert [
        material.id for material in tenside.Catalogue.starter().materials() if f"| `{material.id}`<br>" not in text
    ] == []


def test_every_substance_has_what_the_law_says_of_it(part):
    page = part("law").pages()["law/substances.md"]
    assert sum(line.startswith("| ") for line in page.splitlines()) == len(tenside.Catalogue.starter().substances()) + 2
