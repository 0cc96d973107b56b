"""What is looked at: briefs, batches, sweeps, samples and corners as pages, many rows as their first ones."""

import pytest

import tenside as td
from tenside import measure as m

CATALOGUE = td.Catalogue.starter()
NAME = "<b>strong</b>"


def asked() -> td.Brief:
    brief = td.Brief("Salt <i>bar</i>", CATALOGUE, prices={"sci-powder": 6.4, "kaolin": 1.9}, currency="EUR")
    brief = brief.split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
    return brief.at_least(m.active_matter, 45, name=NAME).minimise(m.water)


def test_a_brief_shows_what_it_asks():
    text = str(asked())
    for part in (
        "DRAFT",
        "sci-powder",
        "to 100 %",
        "EUR per kg",
        "not stated",
        "split wash: sci-powder to capb-30 as 14 to 1 by active",
        "<b>strong</b> (active matter at least 45 %)",
        "minimise water",
    ):
        assert part in text
    assert asked().page.text() == text


def test_a_batch_shows_its_sheet():
    batch = asked().solve().formula.batch(mass="1 kg", readability="1 g")
    assert str(batch) == batch.sheet().text and repr(batch).startswith("<Batch of")


@pytest.mark.parametrize("rows", [50, 51])
def test_of_many_rows_the_first_are_shown_and_all_are_counted(rows):
    text = str(asked().samples(rows, seed=1))
    assert ("The first 50 of 51 rows." in text) == (rows == 51)
    table = asked().sweep(td.axis("wash.capb-30", td.linspace(1, 3, rows)))
    assert ("The first 50 of 51 rows." in str(table)) == (rows == 51)


def test_pages_are_escaped_and_reprs_are_short():
    brief = asked()
    shown = [
        brief,
        brief.solve().formula.batch(mass="1 kg", readability="1 g"),
        brief.sweep(td.axis("wash.capb-30", [1, 2])),
        brief.samples(1000, seed=1),
        brief.corners(),
    ]
    for value in shown:
        html = value._repr_html_()
        assert "<b>strong</b>" not in html and "<i>bar</i>" not in html
        assert len(repr(value)) < 5000


def test_numbers_of_a_table_are_readable():
    assert "83.3333" in str(asked().corners()) and "83.33333" not in str(asked().corners())
