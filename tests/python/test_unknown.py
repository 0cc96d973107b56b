"""Unknown is never nothing: what nobody knows is refused, what is left open has ends and no typical value."""

import pytest

import tenside as td
from tenside import measure as m

CATALOGUE = td.Catalogue.starter()


def bar(**percents):
    return td.Formula("Bar", {name.replace("_", "-"): percent for name, percent in percents.items()}, CATALOGUE)


def readings(formula):
    """Limonene as a measure, on a label and as an exposure; tests in Rust add what a rule sees."""
    label = formula.label(market="EU", on="2026-11-27")
    return [
        formula.measure(m.substance("LIMONENE")).value,
        label.scent("LIMONENE").percent,
        formula.exposure("LIMONENE", product="shampoo").percent,
    ]


def test_readings_of_one_question_are_one_answer():
    nothing = td.measure.Interval(0, low=0, high=0)
    assert readings(bar(kaolin=60, cetyl_alcohol=40)) == [nothing] * 3
    assert readings(bar(sci_powder=60, kaolin=40)) == [nothing] * 3
    assert readings(bar(sci_powder=60, fragrance_oil=1, kaolin=39)) == [td.measure.Interval(low=0, high=1)] * 3


def test_what_leaves_it_open_is_named_and_has_no_number():
    reading = bar(kaolin=99, fragrance_oil=1).measure(m.substance("LIMONENE"))
    assert 'line "fragrance-oil"' in str(reading.why_not[0]) and reading.text() == "not known (0.00 to 1.00) %"
    with pytest.raises(td.errors.NotKnown):
        float(reading)


@pytest.mark.parametrize(
    "measure, near",
    [(m.substance("LINALOL"), "LINALOOL"), (m.constituent("GLYCERINE"), "GLYCERIN"), (m.material("kaoline"), "kaolin")],
)
def test_unknown_names_are_refused_with_the_nearest(measure, near):
    with pytest.raises(td.errors.UnknownName, match=f'did you mean "{near}"'):
        bar(kaolin=99, lavender_oil=1).measure(measure)
    with pytest.raises(td.errors.UnknownName, match=f'did you mean "{near}"'):
        td.Brief("x", CATALOGUE).qs("kaolin").at_most(measure, 1)


def test_numbers_are_names_and_premixes_are_looked_through():
    lavender = bar(kaolin=99, lavender_oil=1)
    assert lavender.measure(m.substance("78-70-6")).value == lavender.measure(m.substance("LINALOOL")).value
    blend = bar(kaolin=75, capb_30=25).to_material("blend", form="paste")
    cat = CATALOGUE.with_material(blend)
    half = td.Formula("Bar", {"blend": 50, "corn-starch": 50}, cat)
    assert float(half.measure(m.material("kaolin"))) == 37.5


def test_a_limit_for_every_composition_bounds_what_is_open():
    wash = td.Brief("x", CATALOGUE).between("sci-powder", 20, 60).between("fragrance-oil", 0, 5).qs("kaolin")
    limited = (
        wash.at_most(m.substance("LIMONENE"), "0.01", for_every_composition=True)
        .maximise(m.material("fragrance-oil"))
        .solve()
    )
    assert limited.exact["fragrance-oil"] == td.measure.Interval("0.01").typical
    with pytest.raises(
        td.errors.NotKnown, match="fragrance-oil.*state its share under contained, or ask .* every composition"
    ):
        wash.at_most(m.substance("LIMONENE"), "0.01").solve()


def test_a_column_is_null_where_the_line_is_there():
    """Determined, optimal and solved row by row: each engine leaves the cell empty unless there is none of the line."""
    for brief in [
        td.Brief("Determined", CATALOGUE).fix("sci-powder", 50).fix("fragrance-oil", 1).qs("kaolin"),
        td.Brief("Optimal", CATALOGUE)
        .between("sci-powder", 20, 60)
        .fix("fragrance-oil", 1)
        .qs("kaolin")
        .minimise(m.water),
        td.Brief("Middle", CATALOGUE).between("sci-powder", 20, 60).fix("fragrance-oil", 1).qs("kaolin"),
    ]:
        table = brief.sweep(td.axis("fix.fragrance-oil", [0, 1, 2]), measures=[m.substance("LIMONENE")])
        column = [table.row(row)["LIMONENE, contained included"] for row in range(3)]
        assert column == [0.0, None, None], brief.title
    mixed = td.Brief("Mixed", CATALOGUE).fix("sci-powder", 50).fix("kaolin", 10).qs("corn-starch")
    table = mixed.sweep(td.axis("material.kaolin", ["kaolin", "fragrance-oil"]), measures=[m.substance("LIMONENE")])
    assert [table.row(row)["LIMONENE, contained included"] for row in range(2)] == [0.0, None]
