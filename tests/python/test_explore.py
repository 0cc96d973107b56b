"""The explorer, driven as a browser drives it: by the values of its sliders and fields, and by clicks on its buttons."""

import html.parser
import random
import re
import statistics
import subprocess
import sys
import time
from fractions import Fraction

import ipywidgets
import pytest
import tenside as td
from hypothesis import given
from hypothesis import strategies as draw
from tenside import measure as m
from tenside.explorer import _number, _track

CATALOGUE = td.Catalogue.starter()
PRICES = {
    "sci-powder": "6.2",
    "scs-needles": 7,
    "capb-30": "1.9",
    "kaolin": "1.1",
    "cetyl-alcohol": "3.4",
    "panthenol": 18,
    "water": 0,
}


def brief():
    return (
        td.Brief("Estuary bar", CATALOGUE, prices=PRICES, currency="EUR")
        .split({"sci-powder": 14, "scs-needles": 5, "capb-30": 1}, by="active", name="wash")
        .fix("panthenol", 1.5)
        .between("cetyl-alcohol", 3, 6)
        .between("water", 0, 5)
        .qs("kaolin")
        .target(m.active_matter, 58)
        .at_most(m.water, 9)
        .minimise(m.cost)
    )


def explored(*numbers, of=None):
    return td.explore(of or brief(), numbers or None)


def widgets(widget):
    """A widget and all that stand in it."""
    yield widget
    for child in getattr(widget, "children", ()):
        yield from widgets(child)


def page(explorer):
    """All HTML of the page; the words of buttons are set as text by ipywidgets."""
    return "\n".join(each.value for each in widgets(explorer.widget) if isinstance(each, ipywidgets.HTML))


def buttons(explorer):
    return {each.description: each for each in widgets(explorer.widget) if isinstance(each, ipywidgets.Button)}


def type_in(explorer, what, text):
    explorer.control(what).field.value = text


def test_the_package_is_imported_without_ipywidgets():
    code = "import sys, tenside; sys.exit('ipywidgets' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_without_ipywidgets_the_way_out_is_named(monkeypatch):
    monkeypatch.setitem(sys.modules, "ipywidgets", None)
    with pytest.raises(ImportError, match="the extra `explore`"):
        td.explore(brief())


def test_by_default_splits_and_requirements_have_sliders():
    explorer = explored()
    assert explorer.numbers == [
        "wash.sci-powder",
        "wash.scs-needles",
        "wash.capb-30",
        "target.active-matter",
        "at-most.water",
    ]
    assert explorer.brief == brief()
    plain = td.Brief("Plain bar", CATALOGUE).fix("sci-powder", 60).between("cetyl-alcohol", 3, 6).qs("kaolin")
    assert td.explore(plain).numbers == ["fix.sci-powder", "lowest.cetyl-alcohol", "highest.cetyl-alcohol"]
    with pytest.raises(td.errors.Missing, match="no number that could be moved"):
        td.explore(td.Brief("Clay", CATALOGUE).qs("kaolin"))


def test_a_moved_slider_is_the_brief_with_that_number():
    explorer = explored("wash", m.active_matter, "price.capb-30", "highest.cetyl-alcohol", "panthenol")
    control = explorer.control("target.active-matter")
    control.slider.value += 7
    expected = brief().with_parameter("target.active-matter", control.field.value)
    assert explorer.brief == expected != brief()
    assert explorer.outcome == expected.solve()
    assert explorer.outcome.page().html() in page(explorer)
    assert f"sci-powder {float(explorer.outcome.exact['sci-powder']):.2f}" in page(explorer)


@pytest.mark.parametrize(
    "what",
    [
        "wash.capb-30",
        "target.active-matter",
        "at-most.water",
        "price.capb-30",
        "highest.cetyl-alcohol",
        "fix.panthenol",
    ],
)
def test_every_place_of_a_slider_is_an_exact_decimal(what):
    explorer = explored(what)
    control = explorer.control(what)
    for place in random.Random(1).sample(range(control.slider.max + 1), 40):
        control.slider.value = place
        assert re.fullmatch(r"\d+(\.\d{1,4})?", control.field.value), control.field.value
        if explorer.brief.parameter_value(what) == Fraction(control.field.value):
            continue
        # The lowest end of the line's range was passed, which the brief refuses and the page says.
        assert "not taken" in page(explorer)


def test_the_parts_of_a_split_stand_together_and_their_shares_follow():
    explorer = explored("wash", "at-most.water")
    (frame,) = (each for each in explorer._sliders.children if explorer.control("wash.capb-30").slider in widgets(each))
    assert all(explorer.control(f"wash.{line}").slider in widgets(frame) for line in ("sci-powder", "scs-needles"))
    assert explorer.control("at-most.water").slider not in widgets(frame)
    assert all(f"= {share} %" in page(explorer) for share in ("70.00", "25.00", "5.00"))
    explorer.set("wash.sci-powder", 34)
    assert all(f"= {share} %" in page(explorer) for share in ("85.00", "12.50", "2.50"))


def test_labels_carry_units():
    shown = page(explored("wash.capb-30", "target.active-matter", "price.capb-30"))
    assert all(f"<span>{unit}" in shown for unit in ("parts", "%", "EUR per kg"))


def test_a_value_beyond_the_slider_makes_it_longer_and_is_not_clamped():
    explorer = explored("at-most.water")
    control = explorer.control("at-most.water")
    assert control.track.high == 20
    type_in(explorer, "at-most.water", "33.125")
    assert explorer.brief.parameter_value("at-most.water") == Fraction("33.125")
    assert (control.field.value, control.slider.value, control.slider.max) == ("33.125", 331, 332)
    type_in(explorer, "at-most.water", "2")
    assert isinstance(explorer.outcome, td.solve.Conflict)
    assert explorer.outcome._repr_html_() in page(explorer)


@pytest.mark.parametrize("text", ["2,5", "none", "", "-1", "1e9"])
def test_what_the_brief_refuses_is_told_and_changes_nothing(text):
    explorer = explored("wash.capb-30")
    before = explorer.outcome
    type_in(explorer, "wash.capb-30", text)
    assert "not taken: " in page(explorer)
    assert (explorer.brief, explorer.outcome) == (brief(), before)
    with pytest.raises(td.TensideError):
        explorer.set("wash.capb-30", text)
    explorer.control("wash.capb-30").slider.value += 1
    assert "not taken" not in page(explorer)


def test_every_way_out_is_a_button_that_takes_it():
    explorer = explored("wash", "target.active-matter", "at-most.water")
    explorer.set("wash.capb-30", "1.1")
    explorer.set("target.active-matter", 71)
    stuck = explorer.brief
    ways = explorer.ways_out
    assert len(ways) == 5
    assert [way.sentence for way in ways] == [each for each in buttons(explorer) if each[:5] in ("raise", "lower")]
    for way in ways:
        buttons(explorer)[way.sentence].click()
        assert isinstance(explorer.outcome, td.solve.Answer) and explorer.outcome.verify()
        assert explorer.ways_out == [] and "No formula" not in page(explorer)
        (what,) = (
            what for what in explorer.numbers if explorer.brief.parameter_value(what) != stuck.parameter_value(what)
        )
        # The number that was taken is the one that the button said.
        assert re.search(rf"\b{re.escape(explorer.control(what).field.value)}\b", way.sentence)
        explorer.set("wash.capb-30", "1.1"), explorer.set("wash.sci-powder", 14), explorer.set("wash.scs-needles", 5)
        explorer.set("at-most.water", 9), explorer.set("target.active-matter", 71)
        assert explorer.brief == stuck and explorer.ways_out == ways


def drawn(chance):
    """A brief of which nobody knows whether it has a formula."""
    number = lambda low, high: str(round(chance.uniform(low, high), chance.choice([0, 1, 3])))  # noqa: E731
    asked = td.Brief("Drawn", CATALOGUE, prices=PRICES, currency="EUR").qs("kaolin")
    asked = asked.split(
        {"sci-powder": number(1, 20), "capb-30": number(1, 5)}, by=chance.choice(["active", "weight"]), name="wash"
    )
    asked = (
        asked.fix("panthenol", number(0, 5))
        .fix("cetyl-alcohol", number(5, 60))
        .between("water", number(0, 3), number(4, 30))
    )
    basis = chance.choice([td.as_charged, td.finished(moisture=number(1, 8))])
    asked = (
        asked.target(m.active_matter, number(10, 70), basis=basis)
        if chance.random() < 0.7
        else asked.at_least(m.active_matter, number(30, 80))
    )
    return asked.at_most(m.water, number(1, 20), for_every_composition=chance.random() < 0.3).minimise(m.cost)


def test_every_way_out_of_random_briefs_leads_out():
    chance, conflicts, taken = random.Random(7), 0, 0
    while conflicts < 30:
        explorer = td.explore(drawn(chance))
        conflicts += isinstance(explorer.outcome, td.solve.Conflict)
        for way in explorer.ways_out:
            other = td.explore(explorer.brief)
            other.take(way)
            assert isinstance(other.outcome, td.solve.Answer), (way.sentence, explorer.brief.to_toml(materials=False))
            taken += 1
    assert taken > 30


def test_a_way_out_without_a_slider_gets_one():
    strong = td.Brief("Strong", CATALOGUE).between("capb-30", 0, 50).qs("water").at_least(m.active_matter, 12)
    explorer = td.explore(strong, "at-least.active-matter")
    explorer.set("at-least.active-matter", 18)
    buttons(explorer)["raise line capb-30 between 0 and 50 % to 60 % or more"].click()
    assert explorer.numbers == ["at-least.active-matter", "highest.capb-30"]
    assert explorer.control("highest.capb-30").field.value == "60"


def test_a_fixed_line_off_the_grid_is_given_a_range():
    thirds = (
        td.Brief("Thirds", CATALOGUE)
        .fix("capb-30", 20)
        .fix("kaolin", 40)
        .qs("water")
        .target(m.active_matter, "7.00001")
    )
    explorer = td.explore(thirds)
    (way,) = (way for way in explorer.ways_out if way.constraint.kind == "line" and way.constraint.name == "capb-30")
    assert "a range" in way.sentence
    explorer.take(way)
    assert isinstance(explorer.outcome, td.solve.Answer)
    assert {"lowest.capb-30", "highest.capb-30"} <= set(explorer.numbers)
    explorer.reset()
    assert explorer.brief == thirds and not {"lowest.capb-30", "highest.capb-30"} & set(explorer.numbers)


def test_where_no_change_of_one_number_does_the_page_says_so():
    full = td.Brief("Twice full", CATALOGUE).fix("kaolin", 80).fix("corn-starch", 70)
    explorer = td.explore(full.at_least(m.water, 90).at_least(m.active_matter, 90))
    assert explorer.ways_out == [] and "no change of one number gives one" in page(explorer)
    with pytest.raises(LookupError, match="none of the changes"):
        explorer.take(td.explore(td.Brief("Not full", CATALOGUE).fix("kaolin", 60)).ways_out[0])


def test_variants_stand_side_by_side_with_their_difference():
    explorer = explored()
    explorer._name.value = "first"
    buttons(explorer)["keep this one"].click()
    explorer.set("target.active-matter", 60)
    explorer.keep()
    explorer.set("target.active-matter", 50)
    first, second = explorer.kept.values()
    assert list(explorer.kept) == ["first", "variant 1"] and first == brief().solve()
    shown = explorer._table.value
    assert all(f"<th>{name}</th>" in shown for name in ("first", "variant 1", "now"))
    for line in first.formula.difference(second.formula).lines:
        if line.change:
            assert f"<td>{float(line.after):.2f} <small>{float(line.change):+.2f}</small></td>" in shown
    assert f"<td>{first.formula.measure(m.active_matter).text()}</td>" in shown
    assert f"<td>{second.formula.measure(m.active_matter).text()} <small>+2.00</small></td>" in shown
    explorer.set("target.active-matter", 95)
    assert "no formula" in explorer._table.value
    for target, difference in (("58.004", r"\+0\.00\d\d"), ("58.00001", "by under 0.0001")):
        explorer.set("target.active-matter", target)
        assert re.search(f"<small>{difference}</small>", explorer._table.value)
    explorer.drop("first"), explorer.drop("variant 1")
    assert explorer.kept == {} and explorer._table.value == ""


def test_what_cannot_be_kept_is_refused():
    explorer = explored()
    explorer.keep("a")
    for name, error in (("a", td.errors.Duplicate), ("x" * 61, td.errors.OutOfRange), (7, TypeError)):
        with pytest.raises(error):
            explorer.keep(name)
    explorer._name.value = "a"
    buttons(explorer)["keep this one"].click()
    assert "there is a variant" in page(explorer)
    for _ in range(11):
        explorer.keep()
    with pytest.raises(td.errors.OutOfRange, match="12 variants"):
        explorer.keep()
    explorer.drop("a")
    explorer.set("target.active-matter", 95)
    with pytest.raises(td.errors.Contradiction, match="no formula to keep"):
        explorer.keep("none")
    with pytest.raises(LookupError, match="no variant 'b'"):
        explorer.drop("b")


def test_back_to_the_brief_given():
    explorer = explored()
    explorer.set("wash.capb-30", 3)
    explorer.set("target.active-matter", 95)
    buttons(explorer)["back to the brief given"].click()
    assert explorer.brief == brief() and explorer.control("wash.capb-30").field.value == "1"


def test_a_requirement_is_found_again_after_its_value_changed():
    twice = (
        brief()
        .at_least(m.water, 2, name="workable")
        .within(m.amphoteric_active, 1, 6)
        .at_most(m.water, 8, basis=td.finished(moisture=5))
    )
    explorer = td.explore(twice)
    for what in explorer.numbers:
        value = explorer.brief.parameter_value(what) + Fraction(1, 8)
        type_in(explorer, what, _number.text(value))
        assert explorer.brief.parameter_value(what) == value, what
    assert len(explorer.numbers) == 3 + 6


def test_sliders_go_where_they_are_told():
    explorer = td.explore(brief(), {"wash.capb-30": ("0.5", 4, "0.1"), m.active_matter: (50, 62, 0.5)})
    control = explorer.control("wash.capb-30")
    assert (control.slider.max, control.slider.value) == (35, 5)
    control.slider.value = 35
    assert control.field.value == "4"
    explorer.control(m.active_matter).slider.value = 1
    assert explorer.brief.parameter_value(m.active_matter) == Fraction("50.5")


@pytest.mark.parametrize(
    ("numbers", "error", "words"),
    [
        ("no such thing", td.errors.UnknownName, "unknown axis"),
        ("moisture", td.errors.Unsupported, "more than one number"),
        (["wash", "wash.capb-30"], td.errors.Duplicate, "two sliders"),
        ([], td.errors.Missing, "no number that could be moved"),
        (7, TypeError, "words or measures"),
        ([7], TypeError, "a word or a measure"),
        ({"wash.capb-30": (1, 2)}, TypeError, "lowest, highest, step"),
        ({"wash.capb-30": "1-2"}, TypeError, "lowest, highest, step"),
        ({"wash.capb-30": (2, 1, 1)}, ValueError, "from a lower to a higher"),
        ({"wash.capb-30": (1, 2, 0)}, ValueError, "steps above 0"),
        ({"wash.capb-30": (1, 2, "0.3")}, ValueError, "does not reach 2"),
        ({"wash.capb-30": (1, 2, "1e-9")}, ValueError, "wider steps"),
        ({"wash.capb-30": (1, "two", 1)}, td.errors.NotANumber, "not a number"),
        ({"wash.capb-30": (1, None, 1)}, TypeError, "None"),
    ],
)
def test_wrong_numbers_are_refused_in_words(numbers, error, words):
    with pytest.raises(error, match=re.escape(words)):
        td.explore(brief(), numbers)


def test_too_many_sliders_and_bases_are_refused():
    many = td.Brief("Many", CATALOGUE).qs("kaolin")
    for count in range(61):
        many = many.at_most(m.water, 20 + count)
    with pytest.raises(td.errors.OutOfRange, match="more than 60 sliders"):
        td.explore(many)
    with pytest.raises(td.errors.OutOfRange, match="more than 20 bases"):
        td.explore(brief(), bases=[td.as_charged] * 21)
    with pytest.raises(TypeError, match="bases"):
        td.explore(brief(), bases=["as charged"])
    with pytest.raises(TypeError, match="a Brief"):
        td.explore("brief")


def test_any_brief_that_can_be_solved_is_explored():
    start = brief().solve().formula
    for asked in (
        brief().least_squares_from(start),
        brief().least_change_from(start),
        brief().maximise(m.active_matter.per(m.cost)),
    ):
        explorer = td.explore(asked)
        explorer.set("at-most.water", "8.5")
        assert explorer.outcome == explorer.brief.solve()
    with pytest.raises(td.errors.Unsupported, match="choose"):
        td.explore(brief().absent_or_between("lavender-oil", "0.1", 1))


def test_measures_are_shown_on_the_bases_asked_for():
    bases = [td.as_charged, td.finished(moisture=5)]
    explorer = td.explore(brief(), bases=bases)
    assert explorer.outcome.page(*bases).html() in page(explorer)
    explorer.keep()
    assert "measures, finished at 5 % residual moisture, and" in explorer._table.value


class Elements(html.parser.HTMLParser):
    """The elements of a page, and its text."""

    def __init__(self, text):
        super().__init__()
        self.elements, self.text = [], ""
        self.feed(text)
        self.close()

    def handle_starttag(self, tag, attrs):
        self.elements.append(tag)

    def handle_data(self, data):
        self.text += data


@pytest.mark.parametrize(
    "hostile",
    [
        "<script>alert(1)</script>",
        "<img src=x onerror=alert(1)>",
        '" onmouseover="a()',
        "</td></table><b>",
        "{{ 7 * 7 }}",
    ],
)
def test_hostile_names_are_shown_as_text(hostile):
    def shown(name):
        asked = (
            td.Brief(name, CATALOGUE, prices=PRICES, currency=name)
            .line(name, "sci-powder", low=10, high=80)
            .fix("capb-30", 10)
            .split({name: 5, "capb-30": 1}, by="active", name=name)
            .qs("kaolin")
            .at_most(m.water, 40, name=name)
        )
        explorer = td.explore(asked, [name, f"at-most.{name}", "price.kaolin", f"highest.{name}"])
        explorer.keep(name)
        explorer.set("fix.capb-30", 20)
        yield page(explorer)
        type_in(explorer, "price.kaolin", name)
        yield page(explorer)
        explorer.set(f"highest.{name}", 11)
        yield page(explorer)

    for found, plain in zip(shown(hostile), shown("p" * len(hostile)), strict=True):
        assert Elements(found).elements == Elements(plain).elements
        assert hostile in Elements(found).text


def test_many_lines_have_a_bar_of_their_own_each():
    names = [material.id for material in CATALOGUE.materials()][:20]
    shares = {name: 4 for name in names[:-1]}
    asked = td.Brief("Twenty", CATALOGUE)
    for name, share in shares.items():
        asked = asked.fix(name, share)
    shown = td.explore(asked.qs(names[-1]))._bar.value
    fills = re.findall(r"width: [\d.]+%; (background: [^;]+);", shown)
    assert len(set(fills)) == len(fills) == 20
    assert all(f"{name} 4.00" in shown for name in shares)


def test_moves_leave_no_widgets_behind():
    explorer = explored()
    explorer.set("target.active-matter", 95)
    count = len(ipywidgets.widgets.widget._instances)
    for value in (50, 71, 95, 60, 80):
        explorer.set("target.active-matter", value)
    explorer.set("target.active-matter", 95)
    most = len(ipywidgets.widgets.widget._instances)
    for value in (50, 71, 95, 60, 80):
        explorer.set("target.active-matter", value)
    assert count <= len(ipywidgets.widgets.widget._instances) == most


def test_a_move_takes_the_kernel_less_than_50_ms():
    explorer = explored()
    slider, took = explorer.control("target.active-matter").slider, []
    for place in range(60, 180, 4):
        start = time.process_time()
        slider.value = place
        took.append(1000 * (time.process_time() - start))
    print(f"\n{len(took)} moves, median {statistics.median(took):.1f} ms, slowest {max(took):.1f} ms")
    assert statistics.median(took) < 50


def test_it_shows_itself_and_says_what_it_is():
    explorer = explored()
    shown = explorer._repr_mimebundle_()
    assert "application/vnd.jupyter.widget-view+json" in shown and shown["text/plain"] == repr(explorer)
    assert repr(explorer) == '<Explorer of "Estuary bar": 5 numbers, a formula>'
    explorer.set("target.active-matter", 95)
    assert repr(explorer) == '<Explorer of "Estuary bar": 5 numbers, no formula>'
    with pytest.raises(LookupError, match="no slider for 'fix.panthenol'"):
        explorer.control("fix.panthenol")


DECIMALS = draw.decimals(0, 1_000_000, allow_nan=False, places=4).map(Fraction)


@given(DECIMALS, DECIMALS, draw.sampled_from(["parts", "%", "% w/w", "EUR per kg"]))
def test_a_track_reaches_every_value(value, farther, unit):
    track = _track.usual(value, unit)
    assert track.low <= value <= track.high and 1 <= track.last <= _track.MOST_PLACES
    longer = track.reaching(farther)
    assert (
        longer.low <= min(track.low, farther)
        and longer.high >= max(track.high, farther)
        and longer.last <= _track.MOST_PLACES
    )
    assert abs(longer.value(longer.nearest(farther)) - farther) <= longer.step / 2
    assert Fraction(_number.text(longer.value(longer.last))) == longer.high


@given(draw.fractions())
def test_a_number_is_written_as_it_is_read(value):
    assert Fraction(_number.text(value)) == value
