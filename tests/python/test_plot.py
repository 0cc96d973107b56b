"""Pictures of sweeps: what stands in the artists is what the table says, gaps are left out and said."""

import sys
import warnings

import matplotlib

matplotlib.use("Agg")

import matplotlib.pyplot as plt  # noqa: E402
import numpy as np  # noqa: E402
import pytest  # noqa: E402
import tenside as td  # noqa: E402
from matplotlib.collections import PolyCollection  # noqa: E402
from matplotlib.tri import TriContourSet  # noqa: E402
from tenside import measure as m  # noqa: E402
from tenside import plot  # noqa: E402

PRICES = {"sci-powder": 5.2, "scs-needles": 3.8, "capb-30": 1.9, "kaolin": 1.1, "cetyl-alcohol": 4.1}
WASH = {"sci-powder": 14, "scs-needles": 5, "capb-30": 1}


@pytest.fixture(autouse=True)
def closed():
    """No picture outlives its test, and none draws with a warning."""
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        yield
    plt.close("all")


def bar():
    brief = td.Brief("Bar", td.Catalogue.starter(), prices=PRICES, currency="EUR").split(WASH, by="active", name="wash")
    return brief.fix("cetyl-alcohol", 4).qs("kaolin").target(m.active_matter, 58).at_most(m.water, 9).minimise(m.cost)


@pytest.fixture(scope="module")
def table():
    """Some rows have no formula."""
    return bar().sweep(td.axis("wash.capb-30", td.linspace(0.5, 6, 12)), td.axis("target.active-matter", range(45, 62)))


@pytest.fixture(scope="module")
def mapped():
    return bar().sweep(td.axis("target.active-matter", [45, 55]), td.lattice("wash", 20))


def legend(ax):
    return [text.get_text() for text in ax.get_legend().get_texts()]


def drawn(ax):
    """The picture with every text laid out, as it would be saved."""
    ax.figure.canvas.draw()
    return ax


def line(ax, starts):
    (found,) = [line for line in ax.get_lines() if str(line.get_label()).startswith(starts)]
    return found


def test_a_front_is_drawn_where_its_rows_are(table):
    front = table.pareto(minimise=[m.water], maximise=["line.sci-powder"])
    ax = drawn(front.plot(among=table))
    stair = line(ax, "front")
    assert sorted(zip(*stair.get_data())) == sorted(zip(front.column("water"), front.column("line.sci-powder")))
    assert list(stair.get_xdata()) == sorted(front.column("water"))
    assert stair.get_drawstyle() == "steps-post"
    dots = line(ax, "all")
    held = [row for row in range(len(table)) if table.column("feasible")[row]]
    assert 0 < len(held) < len(table)
    assert list(dots.get_xdata()) == [table.column("water")[row] for row in held]
    assert list(dots.get_ydata()) == [table.column("line.sci-powder")[row] for row in held]
    assert ax.get_xlabel() == "water, % (less is better)" and ax.get_ylabel() == "sci-powder, % w/w (more is better)"
    assert legend(ax) == [
        f"front, {len(front)} rows",
        f"all {len(held)} rows",
        f"left out: {len(table) - len(held)} rows without formula",
    ]


def test_points_of_a_small_front_carry_their_places(table):
    front = table.pareto(minimise=[m.cost, m.water])
    picked = front.sweep.pick(front.rows[:3]).pareto(minimise=[m.cost, m.water])
    ax = picked.plot()
    at = {text.get_text(): text.xy for text in ax.texts}
    assert at == {
        str(place): (picked.column("cost")[place], picked.column("water")[place]) for place in range(len(picked))
    }
    assert front.plot().texts == [] if len(front) > 12 else True
    # Towards more, the stair is mounted before the step.
    assert line(table.pareto(maximise=[m.water, m.cost]).plot(), "front").get_drawstyle() == "steps-pre"


def test_a_long_front_is_a_stair_without_marks():
    brief = bar().drop_requirement("water at most 9 %")
    front = brief.sweep(td.axis("wash.capb-30", td.linspace(1, 3, 120)), measures=[m.water]).pareto(
        minimise=[m.cost, m.water]
    )
    few = front.sweep.pick(front.rows[:80]).pareto(minimise=[m.cost, m.water])
    for table, points, mark in [(front, 120, ""), (few, 80, "o")]:
        stair = line(table.plot(), "front")
        assert (len(stair.get_xdata()), stair.get_marker()) == (points, mark)


def test_only_a_front_by_two_columns_is_a_scatter(table):
    with pytest.raises(ValueError, match=r"two columns \(found 0\); make one by table.pareto"):
        table.plot()
    with pytest.raises(ValueError, match=r"found 3"):
        table.pareto(minimise=[m.cost, m.water, "line.kaolin"]).plot()
    without = bar().sweep(td.axis("at-most.water", [0.1]))
    ax = without.pareto(minimise=[m.cost, m.water]).plot(among=without)
    assert legend(ax) == ["front, 0 rows", "all 0 rows", "left out: 1 row without formula"]


def test_a_map_has_its_colours_where_there_is_a_formula(mapped):
    ax = drawn(mapped.ternary(m.cost, at={"axis.target.active-matter": 55}))
    rows = [row for row in range(len(mapped)) if mapped.column("axis.target.active-matter")[row] == 55]
    assert len(rows) == 231
    held = [row for row in rows if mapped.column("feasible")[row]]
    assert 20 < len(held) < 211
    dots = line(ax, "formula (")
    # The corners of the triangle are the three surfactants alone, in the order top, left, right.
    shares = np.array([mapped.column(f"axis.share.wash.{member}") for member in WASH]).T[held] / 100
    assert np.allclose(np.array(dots.get_data()).T, shares @ ax.corners_data)
    assert np.allclose(ax.corners_data, [(0, 1), (-1 / np.sqrt(3), 0), (1 / np.sqrt(3), 0)])
    areas, contours = [found for found in ax.get_children() if isinstance(found, TriContourSet)]
    costs = np.array(mapped.column("cost"), dtype=float)[held]
    assert areas.filled and not contours.filled
    assert areas.levels[0] <= costs.min() and costs.max() <= areas.levels[-1] and len(areas.levels) > 3
    assert np.array_equal(contours.levels, areas.levels)
    assert legend(ax) == [f"no formula ({231 - len(held)} of 231 points)", f"formula ({len(held)} points)"]
    assert (ax.get_tlabel(), ax.get_llabel(), ax.get_rlabel()) == tuple(f"{member},\n% of wash" for member in WASH)
    (scale,) = [other for other in ax.figure.axes if other is not ax]
    assert scale.get_ylabel() == "cost, EUR per kg"
    assert ax.get_title(loc="left") == "Bar, lattice of 20 steps\ntarget.active-matter: 55"


def test_lines_carry_numbers_where_there_is_room(mapped):
    def numbers(table):
        ax = table.ternary(m.cost)
        (lines,) = [found for found in ax.get_children() if isinstance(found, TriContourSet) and not found.filled]
        texts = {text.get_text() for text in lines.axes.texts}
        assert texts <= {f"{level:.4g}" for level in lines.levels}
        return texts

    wide = (
        bar()
        .drop_requirement("water at most 9 %")
        .drop_requirement("active matter at 58 %")
        .target(m.active_matter, 20)
    )
    assert len(numbers(wide.sweep(td.lattice("wash", 20)))) > 2
    assert numbers(bar().sweep(td.lattice("wash", 20))) == set()


def test_colour_ends_at_the_last_point_with_a_formula(mapped):
    ax = mapped.ternary("cost", at={"axis.target.active-matter": 55})
    areas = next(found for found in ax.get_children() if isinstance(found, TriContourSet))
    rows = [row for row in range(len(mapped)) if mapped.column("axis.target.active-matter")[row] == 55]
    shares = np.array([mapped.column(f"axis.share.wash.{member}") for member in WASH]).T[rows]
    has = {
        tuple(point): mapped.column("feasible")[row]
        for point, row in zip(np.rint(shares / 5).astype(int).tolist(), rows)
    }
    whole = coloured = 0
    for (i, j, k), _ in has.items():
        for corners in [
            [(i, j, k), (i + 1, j - 1, k), (i + 1, j, k - 1)],
            [(i, j, k), (i - 1, j + 1, k), (i - 1, j, k + 1)],
        ]:
            if not all(corner in has for corner in corners):
                continue
            middle = np.mean(corners, axis=0) / 20 @ ax.corners_data
            shown = any(path.contains_point(middle) for path in areas.get_paths())
            assert shown == all(has[corner] for corner in corners), corners
            whole, coloured = whole + 1, coloured + shown
    # Every small triangle of a lattice of 20 steps, seen from the one corner that stands for it.
    assert whole == 400 and 20 < coloured < 380


def test_maps_of_what_is_nowhere_or_everywhere_the_same(mapped):
    nothing = bar().sweep(td.axis("at-most.water", [0.1]), td.lattice("wash", 4))
    ax = nothing.ternary(m.cost)
    assert legend(ax) == ["no formula (15 of 15 points)"] and not any(
        isinstance(found, TriContourSet) for found in ax.get_children()
    )
    free = (
        bar()
        .drop_requirement("water at most 9 %")
        .change_line("kaolin", low=0, high=100)
        .drop_requirement("active matter at 58 %")
        .target(m.active_matter, 20)
    )
    ax = free.sweep(td.lattice("wash", 4)).ternary(m.active_matter)
    assert "everywhere 20" in ax.texts[0].get_text() and legend(ax) == ["formula (15 points)"]


def test_a_formula_without_a_value_is_marked():
    catalogue = td.Catalogue.starter()
    brief = (
        td.Brief("Wash", catalogue)
        .split({"coco-glucoside-50": 1, "capb-30": 1, "sci-powder": 1}, by="active", name="wash")
        .qs("kaolin")
        .target(m.active_matter, 20)
    )
    # The betaine over the anionic: where there is no anionic there is no quotient.
    ratio = m.material("capb-30").per(m.anionic_active)
    table = brief.sweep(td.lattice("wash", 4), measures=[ratio])
    name = table.column_name(ratio)
    gaps = sum(value is None and has for value, has in zip(table.column(name), table.column("feasible")))
    assert gaps == 5
    ax = table.ternary(ratio)
    assert len(line(ax, "formula, but no value").get_xdata()) == 5
    assert legend(ax) == ["formula (10 points)", "formula, but no value (5 points)"]
    front = table.pareto(minimise=[ratio], maximise=["line.capb-30"])
    assert legend(front.plot(among=table))[1:] == ["all 10 rows", "left out: 5 rows without a value"]
    assert legend(table.bands([ratio, "line.capb-30"]))[-1] == "left out: 5 rows without a value"


def test_what_a_map_needs_is_said(mapped, table):
    cases = [
        (lambda: mapped.ternary(m.cost), r"'axis.target.active-matter' takes several values"),
        (lambda: mapped.ternary(m.cost, at={"axis.target.active-matter": 50}), r"nowhere 50; it takes 45.0, 55.0"),
        (lambda: mapped.ternary(m.cost, at={"axis.activ": 50}), r"no axis has the column 'axis.activ'"),
        (lambda: mapped.ternary(m.cost, split="wax"), r"splits with a lattice: 'wash'"),
        (lambda: table.ternary(m.cost), r"splits with a lattice: none"),
        (lambda: mapped.sweep.pick([0, 1, 2]).ternary(m.cost), r"every point of the lattice once \(found 3 rows\)"),
        (lambda: mapped.ternary("feasible", at={"axis.target.active-matter": 55}), r"holds no numbers"),
        (
            lambda: mapped.ternary(m.cost, at={"axis.target.active-matter": 55}, ax=plt.figure().add_subplot()),
            r"projection='ternary'",
        ),
        (
            lambda: td.Sweep(bar(), td.lattice("wash", 4), columns=["cost"]).table().ternary(m.cost),
            "splits with a lattice: none",
        ),
    ]
    for call, says in cases:
        with pytest.raises(ValueError, match=says):
            call()
    with pytest.raises(td.errors.UnknownName, match="did you mean"):
        mapped.ternary("csot")
    two = (
        td.Brief("Wash", td.Catalogue.starter())
        .split({"sci-powder": 1, "capb-30": 1}, by="active", name="wash")
        .qs("kaolin")
        .target(m.active_matter, 30)
    )
    with pytest.raises(ValueError, match="shows three surfactants; split 'wash' has 2"):
        two.sweep(td.lattice("wash", 4)).ternary("line.kaolin")


def test_a_tornado_has_the_widest_bar_on_top():
    ends = {
        "price.kaolin": (1, 2.5),
        "wash.capb-30": (0.5, 20),
        m.active_matter: (54, 62),
        "price.sci-powder": ("4.2", "6.2"),
    }
    ax = drawn(plot.tornado(bar(), m.cost, ends))
    base = float(bar().solve().objective)
    widths = {}
    for patch in ax.patches:
        row = round(patch.get_y() + patch.get_height() / 2)
        widths.setdefault(row, []).append((patch.get_x(), patch.get_x() + patch.get_width(), patch.get_hatch()))
    names = [text.get_text() for text in ax.get_yticklabels()]
    assert sorted(names) == [
        "price.kaolin, EUR per kg",
        "price.sci-powder, EUR per kg",
        "target.active-matter, %",
        "wash.capb-30, parts",
    ]
    solved = {
        "price.kaolin, EUR per kg": [
            bar().sweep(td.axis("price.kaolin", [price])).column("cost")[0] for price in (1, 2.5)
        ],
        "target.active-matter, %": [
            bar().sweep(td.axis(m.active_matter, [target])).column("cost")[0] for target in (54, 62)
        ],
    }
    for name, costs in solved.items():
        found = widths[names.index(name)]
        for cost, (start, end, _) in zip(costs, found):
            assert start == pytest.approx(base, abs=2e-3) and end == pytest.approx(cost, abs=1e-9)
    # Twenty parts of betaine bring too much water: no bar, a hatched mark instead.
    gap = widths[names.index("wash.capb-30, parts")]
    assert [hatch for _, _, hatch in gap] == [None, "////"]
    ends_of = [[base, *(end for _, end, hatch in widths[row] if not hatch)] for row in range(4)]
    reach = [max(found) - min(found) for found in ends_of]
    assert reach == sorted(reach, reverse=True) and reach[0] > reach[-1]
    assert ax.get_ylim() == (3.5, -0.5)
    assert "20: no formula" in [text.get_text() for text in ax.texts] and {"1", "2.5", "54", "62"} <= {
        text.get_text() for text in ax.texts
    }
    assert ax.get_xlabel() == "cost, EUR per kg"
    assert legend(ax) == [
        "at the first value",
        "at the second value",
        f"the brief as it is: {base:.4g}",
        "no formula there",
    ]


def test_a_tornado_of_ends_on_one_side_and_of_raw_materials():
    brief = td.Brief("Wash", td.Catalogue.starter(), prices={**PRICES, "coco-glucoside-50": 3}).split(
        WASH, by="active", name="wash"
    )
    brief = brief.qs("kaolin").target(m.active_matter, 40)
    ax = plot.tornado(brief, m.water, {"wash.capb-30": (2, 4), "material.capb-30": ("capb-30", "coco-glucoside-50")})
    assert "2 | 4" in [text.get_text() for text in ax.texts] and "capb-30" in " ".join(
        text.get_text() for text in ax.texts
    )
    with pytest.raises(ValueError, match="nothing to turn"):
        plot.tornado(brief, m.water, {})
    with pytest.raises(ValueError, match=r"takes two values, the lower first \(found 3\)"):
        plot.tornado(brief, m.water, {"wash.capb-30": (1, 2, 3)})
    with pytest.raises(ValueError, match=r"no bar to start from: active matter at 58 %; water at most 1 %"):
        plot.tornado(bar().drop_requirement("water at most 9 %").at_most(m.water, 1), m.cost, {"price.kaolin": (1, 2)})
    with pytest.raises(td.errors.UnknownName):
        plot.tornado(brief, m.water, {"wash.capb": (1, 2)})


def test_bands_are_quantiles_of_groups(table):
    ax = drawn(table.bands([m.cost, m.water, "line.kaolin"], groups=4))
    held = np.array([table.column(name) for name in ("cost", "water", "line.kaolin")], dtype=float)
    shown = ~np.isnan(held).any(axis=0)
    held = held[:, shown]
    low, high = held.min(axis=1), held.max(axis=1)
    edges = np.quantile(held[0], [0.25, 0.5, 0.75])
    lines = [found for found in ax.get_lines() if found.get_linestyle() != "None" and len(found.get_xdata()) == 3]
    filled = [found for found in ax.collections if isinstance(found, PolyCollection)]
    assert len(lines) == 4 == len(filled)
    total = 0
    for index, (middle, band) in enumerate(zip(lines, filled)):
        here = np.searchsorted(edges, held[0], side="left") == index
        total += here.sum()
        scaled = (held[:, here] - low[:, None]) / (high - low)[:, None]
        assert np.allclose(middle.get_ydata(), np.median(scaled, axis=1))
        heights = band.get_paths()[0].vertices[:, 1]
        assert heights.min() == pytest.approx(
            np.quantile(scaled, 0.1, axis=1).min()
        ) and heights.max() == pytest.approx(np.quantile(scaled, 0.9, axis=1).max())
        assert f"({here.sum()} rows)" in legend(ax)[index]
    assert total == shown.sum() < len(table)
    assert legend(ax)[-1] == f"left out: {len(table) - total} rows without formula"
    ends = {text.get_text() for text in ax.texts}
    assert {f"{value:.4g}" for value in [*low, *high]} == ends
    assert [text.get_text() for text in ax.get_xticklabels()] == ["cost,\nEUR per kg", "water,\n%", "kaolin,\n% w/w"]


def test_bands_of_equal_values_and_of_nothing(table):
    same = table.bands([m.cost, "line.cetyl-alcohol"], groups=2)
    assert {"4"} <= {text.get_text() for text in same.texts}
    assert all(
        found.get_ydata()[1] == 0.5
        for found in same.get_lines()
        if len(found.get_xdata()) == 2 and found.get_label().startswith("cost")
    )
    one = table.bands(["line.cetyl-alcohol", m.cost], groups=3)
    assert len([found for found in one.collections if isinstance(found, PolyCollection)]) == 1
    for call, says in [
        (lambda: table.bands([m.cost]), "two columns or more"),
        (lambda: table.bands("cost"), "found 1 columns"),
        (lambda: table.bands([m.cost, m.water], groups=0), "0 groups"),
        (lambda: bar().sweep(td.axis("at-most.water", [0.1])).bands([m.cost, m.water]), "nothing to draw"),
    ]:
        with pytest.raises(ValueError, match=says):
            call()


def test_words_of_a_user_are_no_formulas_of_mathematics():
    title = r"$\nosuchword$ bar, 5 $ a piece"
    brief = (
        td.Brief(title, td.Catalogue.starter(), prices=PRICES, currency="US$")
        .split(WASH, by="active", name="wash")
        .qs("kaolin")
        .target(m.active_matter, 20)
    )
    table = brief.minimise(m.cost).sweep(td.lattice("wash", 4), measures=[m.water])
    front = table.pareto(minimise=[m.cost, m.water])
    pictures = [
        table.ternary(m.cost),
        table.bands([m.cost, m.water]),
        front.plot(among=table),
        plot.tornado(brief, m.cost, {"price.kaolin": (1, 2)}),
    ]
    pictures.append(plot.composition({title: brief.minimise(m.cost).solve().formula}))
    for ax in pictures:
        drawn(ax)
    assert pictures[2].get_xlabel() == r"cost, US\$ per kg (less is better)"


def test_pictures_go_into_given_axes(table, mapped):
    figure, (left, right) = plt.subplots(1, 2)
    front = table.pareto(minimise=[m.cost, m.water])
    assert front.plot(ax=left) is left and table.bands([m.cost, m.water], ax=right) is right
    assert figure.axes == [left, right]


def test_colours_are_told_apart_by_everyone():
    """The two colours of a tornado and those of bands in the three common kinds of colour blindness (matrices: Machado, Oliveira and
    Fernandes, 2009; from memory)."""
    from matplotlib.colors import to_rgb
    from tenside.plot._style import COLOURS, graded

    kinds = {
        "protanopia": [
            [0.152286, 1.052583, -0.204868],
            [0.114503, 0.786281, 0.099216],
            [-0.003882, -0.048116, 1.051998],
        ],
        "deuteranopia": [
            [0.367322, 0.860646, -0.227968],
            [0.280085, 0.672501, 0.047413],
            [-0.011820, 0.042940, 0.968881],
        ],
        "tritanopia": [
            [1.255528, -0.076749, -0.178779],
            [-0.078411, 0.930809, 0.147602],
            [0.004733, 0.691367, 0.303900],
        ],
    }
    for kind, matrix in kinds.items():
        for colours in [COLOURS[:2], graded(3), graded(5)]:
            seen = np.clip(np.array([to_rgb(colour) for colour in colours]) @ np.array(matrix).T, 0, 1)
            for index in range(len(seen)):
                for other in range(index):
                    assert np.abs(seen[index] - seen[other]).max() > 0.12, (kind, colours, index, other)
    # In grey, as a laser printer prints them, groups are still in order.
    lightness = [np.dot(to_rgb(colour), [0.2126, 0.7152, 0.0722]) for colour in graded(5)]
    assert lightness == sorted(lightness) and min(np.diff(lightness)) > 0.08


def test_a_missing_extra_is_said_in_a_sentence(table, mapped, monkeypatch):
    monkeypatch.setitem(sys.modules, "mpltern", None)
    with pytest.raises(ImportError, match="pictures need mpltern: install tenside with the extra `plot`"):
        mapped.ternary(m.cost, at={"axis.target.active-matter": 55})
    monkeypatch.setitem(sys.modules, "matplotlib.pyplot", None)
    with pytest.raises(ImportError, match="pictures need matplotlib.pyplot: install tenside with the extra `plot`"):
        table.bands([m.cost, m.water])


def lettering(ax):
    """What is written outside the axes, as boxes of the drawn figure."""
    ax.figure.canvas.draw()
    texts = [ax.title, ax._left_title]
    texts += (
        [ax.taxis.label, ax.laxis.label, ax.raxis.label] if ax.name == "ternary" else [ax.xaxis.label, ax.yaxis.label]
    )
    boxes = {text.get_text(): text.get_window_extent() for text in texts if text.get_text()}
    return boxes, ax.get_legend().get_window_extent() if ax.get_legend() else None


def test_corner_names_are_not_cut():
    """Saved as it is, without a box drawn tight around everything."""
    longest = ["sodium-cocoyl-glutamate-powder", "sodium-methyl-cocoyl-taurate-powder", "coco-glucoside-50"]
    brief = (
        td.Brief("Long", td.Catalogue.starter())
        .split(dict.fromkeys(longest, 1), by="active", name="wash")
        .qs("kaolin")
        .target(m.active_matter, 40)
    )
    ax = brief.sweep(td.lattice("wash", 4)).ternary("line.kaolin")
    assert ax.figure.dpi >= 110
    boxes, _ = lettering(ax)
    assert len(boxes) == 4
    for text, box in boxes.items():
        assert box.x0 >= 0 and box.y0 >= 0 and box.x1 <= ax.figure.bbox.x1 and box.y1 <= ax.figure.bbox.y1, text


@pytest.mark.parametrize("count", [1, 2, 5])
def test_the_legend_of_a_composition_is_below_its_axis(count):
    catalogue = td.Catalogue.starter()
    formulas = {
        f"formula {index}": td.Formula("Bar", {"sci-powder": 60, "kaolin": 40}, catalogue) for index in range(count)
    }
    ax = plot.composition(formulas)
    assert ax.figure.dpi >= 110
    boxes, legend = lettering(ax)
    assert legend.y1 < boxes["% w/w as supplied"].y0 and legend.y0 >= 0


def test_an_operating_curve_shows_the_rates_it_is_given():
    target = td.batch.TargetFill("60 g", market="EU", bars=240, standard_deviation="3 g", probability=95, drying_loss=4)
    ax = drawn(plot.operating_curve(target, points=31))
    curve = target.curve(31)
    for name, starts in (
        ("at_least", "all checks, at least"),
        ("mean", "mean of the sample"),
        ("short", "number of short bars"),
    ):
        found = line(ax, starts)
        assert list(found.get_xdata()) == curve.column("fill")
        assert list(found.get_ydata()) == [100 * rate for rate in curve.column(name)]
    assert line(ax, "nominal").get_xdata()[0] == pytest.approx(62.5)
    assert line(ax, "fill").get_xdata()[0] == float(target.fill)
    assert "4 % before drying" in " ".join(legend(ax))


def test_a_drying_curve_shows_weigh_ins_and_says_what_it_leaves_out():
    masses = [70.0, 68.2, 67.1, 66.3, 65.9, 65.6, 65.4]
    bars = {
        f"bar {index}": [(day, f"{mass + index / 10:.1f} g") for day, mass in enumerate(masses)] for index in range(10)
    }
    curve = td.batch.DryingCurve(bars, readability="0.1 g")
    ax = drawn(plot.drying(curve, tolerance=0.5))
    assert list(line(ax, "bar 3").get_ydata()) == [pytest.approx(mass + 0.3) for mass in masses]
    assert line(ax, "surely within 0.5 %").get_xdata()[0] == max(bar.sure_day for bar in curve.ready(tolerance=0.5))
    assert "left out: 2 bars" in legend(ax)
    assert not any(text.startswith("bar 9") for text in legend(ax))
    assert "surely" not in " ".join(legend(drawn(plot.drying(curve))))


def test_what_is_of_another_class_is_refused_in_words():
    with pytest.raises(TypeError, match="argument 'model': 'int' object is not an instance of 'FittedModel'"):
        plot.measured(3)
    # Not drawn as a gap, which is what a conflict is.
    with pytest.raises(TypeError, match="argument 'outcomes': 'int' object is not an instance of 'Answer' or 'Conflict'"):
        plot.course([1], [2], m.water, label="target")
    with pytest.raises(TypeError, match="argument 'formulas': 'list' object is not an instance of 'Mapping'"):
        plot.composition([1])
    with pytest.raises(TypeError, match="argument 'brief': 'str' object is not an instance of 'Brief' or None"):
        run = td.trial.TrialRun("1", {"kaolin": 100}, {"hardness": 40})
        plot.trial_design(td.trial.TrialLog("Kaolin", {"hardness": "N"}, [run]), brief="bar")
