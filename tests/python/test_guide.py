"""The parts of the guide that are made of code and data leave nothing out."""

import importlib
import sys

import pytest
import tenside
from printed import PROJECT
from tenside import schema

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
    names = part("rooms").names()
    assert sorted(names) == sorted(tenside.__all__)


def test_every_public_name_has_its_entry(part):
    pages = "\n".join(part("api").pages().values())
    entries = {
        line.partition("} ")[2].partition("(")[0]
        for line in pages.splitlines()
        if line.startswith((":::{py:", ":::::{py:"))
    }
    modules = {"errors", "measure", "words"}
    assert [name for name in tenside.__all__ if name not in entries | modules] == []


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
