"""Names that nobody can see are refused, those of every script are kept, and no name becomes markup."""

import csv
import json
import re
import sys

import pytest
import tenside as td
from tenside import measure as m

CATALOGUE = td.Catalogue.starter()
BAR = td.Formula("Bar", {"sci-powder": 60, "kaolin": 40}, CATALOGUE)
BRIEF = td.Brief("Wash", CATALOGUE).free("capb-30").free("kaolin").qs("water")


def material(**fields):
    row = {
        "id": "m",
        "name": "M",
        "form": "liquid",
        "source": "own",
        "constituents": [{"inci": "WATER", "typical": 100}],
        **fields,
    }
    return td.Catalogue.from_json(json.dumps({"tenside": "catalogue/1", "material": [row]}))


TAKING = {
    "title of a brief": lambda name: td.Brief(name, CATALOGUE),
    "title of a formula": lambda name: td.Formula(name, {"kaolin": 100}, CATALOGUE),
    "another title": lambda name: BAR.with_title(name),
    "title of a draft": lambda name: td.Draft(name, [("kaolin", "100 %")]),
    "currency": lambda name: td.Brief("x", CATALOGUE, prices={"kaolin": 1}, currency=name),
    "currency of a formula": lambda name: td.Formula(
        "x", {"kaolin": 100}, CATALOGUE, prices={"kaolin": 1}, currency=name
    ),
    "line": lambda name: BRIEF.line(name, "kaolin", low=1, high=2),
    "line of a formula": lambda name: td.Line(CATALOGUE.material("kaolin"), 40, name=name),
    "phase": lambda name: td.Line(CATALOGUE.material("kaolin"), 40, phase=name),
    "phase of a brief": lambda name: BRIEF.phase(name),
    "split": lambda name: BRIEF.split({"capb-30": 1, "kaolin": 2}, by="weight", name=name),
    "group": lambda name: BRIEF.group(name, ["kaolin"]),
    "requirement": lambda name: BRIEF.at_most(m.water, 50, name=name),
    "score": lambda name: m.score(name, {"kaolin": 1}),
    "lot": lambda name: td.Lot(name, "kaolin", ph=6),
    "method": lambda name: td.Lot("W", "kaolin", active=1, method=name),
    "premix": lambda name: BAR.with_title(name).to_material("own", form="powder"),
    "batch": lambda name: BAR.batch(mass="1 kg", readability="1 g", number=name),
    "water": lambda name: td.Reading(6, dilution="1+9", water=name),
    "instrument": lambda name: td.Reading(6, dilution="1+9", instrument=name),
    "raw material": lambda name: material(name=name),
    "alias": lambda name: material(aliases=[name]),
    "use": lambda name: material(use_levels=[{"use": name, "low": 0, "high": 1}]),
}


@pytest.mark.parametrize("taking", TAKING.values(), ids=TAKING)
def test_a_name_that_nobody_sees_is_refused(taking):
    for name in [
        "\u200b",
        "\u00ad",
        "\u2060",
        "\u200d",
        "\u200c\u200d",
        "\ufe0f",
        "\u3164",
        "\u200b \u00ad",
        "kao\u200blin",
        "kaolin\u200d",
    ]:
        with pytest.raises(td.errors.OutOfRange, match=r"invisible character \(found U\+"):
            taking(name)


@pytest.mark.parametrize("taking", TAKING.values(), ids=TAKING)
def test_names_of_every_script_are_kept(taking):
    for name in ["می\u200cخواهم", "ශ්\u200dරී", "👩\u200d🔬 soap", "☀\ufe0f", "e\u0301", "石鹸", "סבון", "Seife für Öl"]:
        assert taking(name) is not None


MARKS = [
    "1. limit",
    "2) limit",
    "- x",
    "+ x",
    "* x",
    "---",
    "- - -",
    "===",
    "# x",
    "> x",
    "+",
    "7.",
    "    code",
    "http://a.example",
    "www.a.example",
    "[x] y",
]


@pytest.mark.parametrize("name", MARKS)
def test_no_name_begins_a_list_or_a_link(name):
    answer = BRIEF.at_most(m.water, 50, name=name).at_least(m.water, 50, name=name + ".").solve()
    text = answer.page().markdown()
    items = [line[2:] for line in text.splitlines() if line.startswith("- ")]
    assert any(name.strip()[-4:] in item.replace("\\", "").replace("&gt;", ">") for item in items), text
    for item in items:
        assert not re.match(r"\d{1,9}[.)](\s|$)|[-+*](\s|$)|[-=\s]*$|\s|#|>", item), item
    assert not re.search(r"(?<!\\)://|www\.", text)


def test_a_label_of_a_picture_is_no_formula():
    pytest.importorskip("matplotlib")
    from tenside import plot

    answers = [BRIEF.target(m.water, water).solve() for water in (50, 60)]
    ax = plot.course([50, 60], answers, m.water.contributed_by(lines=["water"]), label="$\\frac$ of $x")
    ax.figure.canvas.draw()
    assert ax.get_xlabel() == r"\$\frac\$ of \$x"


@pytest.mark.parametrize("library", ["pyarrow", "polars"])
def test_no_name_of_a_column_is_a_formula(tmp_path, monkeypatch, library):
    pytest.importorskip(library)
    if library == "polars":
        for name in ["pyarrow", "pyarrow.csv"]:
            monkeypatch.setitem(sys.modules, name, None)
    for name in ["=1+1", "@x", "+x", "-x", "'=x", "x"]:
        own = {"inci": name, "class": "ester", "source": "own"}
        row = {"id": "m", "name": "M", "form": "oil", "source": "own", "constituents": [{"inci": name, "typical": 100}]}
        own = td.Catalogue.from_json(
            json.dumps({"tenside": "catalogue/1", "substance": [own], "material": [row]})
        ).merge(CATALOGUE)
        brief = td.Brief("x", own).between("m", 0, 50).qs("kaolin").target(m.constituent(name), 20)
        table = brief.sweep(td.axis("target.constituent", [1, 2]), measures=[m.constituent(name)])
        assert name in table.columns
        table.write_csv(tmp_path / "x.csv")
        header = next(csv.reader((tmp_path / "x.csv").read_text().splitlines()))
        assert (name if name == "x" else "'" + name) in header and not [cell for cell in header if cell[:1] in "=+-@"]
