"""Whatever a name holds, the HTML shows it as text."""

import functools
import html.parser

import pytest
import tenside as td
from hypothesis import given
from hypothesis import strategies as draw
from tenside import measure as m

CATALOGUE = td.Catalogue.starter()
HOSTILE = [
    "<script>alert(1)</script>",
    "<img src=x onerror=alert(1)>",
    "a & b < c > d \" e ' f",
    "</td></table><b>",
    "&lt;b&gt;",
    "{{ 7 * 7 }}",
    "javascript:alert(1)",
]


class Page(html.parser.HTMLParser):
    """The elements of a page with their attributes, and its text."""

    def __init__(self, text):
        super().__init__()
        self.elements, self.text = [], ""
        self.feed(text)
        self.close()

    def handle_starttag(self, tag, attrs):
        self.elements.append((tag, attrs))

    def handle_data(self, data):
        self.text += data + "\n"


def shown(hostile):
    """Everything that shows itself as HTML, with the name in every place that takes one."""
    brief = (
        td.Brief(hostile, CATALOGUE, prices={"kaolin": 2}, currency=hostile)
        .line(hostile, "kaolin", phase=hostile, fix=40)
        .fix("sci-powder", 30)
        .qs("water")
        .at_most(m.as_supplied.contributed_by(lines=hostile), 40, name=hostile)
    )
    answer = brief.solve()
    formula = answer.formula
    conflict = brief.at_least(m.water, 90, name=hostile + "!").try_solve()
    with pytest.raises(td.errors.Unanswerable) as caught:
        conflict.brief.solve()
    rounded = brief.solve_rounded(td.solve.Steps(1, nodes=200))
    unmet = brief.target(m.water, "1/3", name=hostile + "!").try_solve_rounded(1)
    choice = brief.group("either", [hostile, "sci-powder"]).at_most_of("either", 2).choose()
    substitution = formula.substitute(hostile, "corn-starch", keep=m.water, catalogue=CATALOGUE)
    candidates = td.Formula(hostile, [td.Line(CATALOGUE.material("kaolin"), 100, name=hostile)]).candidates(
        hostile, [], CATALOGUE
    )
    difference = formula.difference(formula.with_title(hostile + "?"))
    reading = td.Reading(5, dilution="1+9", instrument=hostile)
    standing = [formula.ph_window(), formula.ph_window().page(reading), formula.preservatives_at(reading)]
    solved = [answer, conflict, caught.value, rounded, unmet, choice, substitution, candidates]
    return [
        *standing,
        *solved,
        formula,
        difference,
        formula.expand(),
        formula.measures(),
        formula.page(td.as_charged, td.finished(moisture=1)),
    ]


@functools.cache
def plain_pages(length):
    """The same with a plain name as long as the hostile one: only the length of a cell may make a difference."""
    return [Page(value._repr_html_()) for value in shown("p" * length)]


def check(hostile):
    values = shown(hostile)
    for page, plain in zip([Page(value._repr_html_()) for value in values], plain_pages(len(hostile)), strict=True):
        assert page.elements == plain.elements
        assert hostile in page.text
    formula = next(value for value in values if isinstance(value, td.Formula))
    sheet = formula.batch(mass="1 kg", readability="0.1 g").sheet()
    page = Page(sheet.html)
    assert hostile in page.text
    assert "script" not in dict(page.elements)
    (frame,) = Page(sheet._repr_html_()).elements
    assert dict(frame[1])["srcdoc"] == sheet.html
    assert "sandbox" in dict(frame[1])


@pytest.mark.parametrize("hostile", HOSTILE)
def test_a_hostile_name_is_shown_as_text(hostile):
    check(hostile)


@given(draw.text(draw.sampled_from("<>&\"'/=a {}%;"), min_size=1, max_size=20).map(str.strip).filter(bool))
def test_any_markup_is_shown_as_text(text):
    check(text)
