"""What stands in the pictures of trials."""

import matplotlib

matplotlib.use("Agg")

import matplotlib.pyplot as plt
import numpy as np
import pytest

import tenside as td
from tenside import plot

LONG = ["sodium cocoyl isethionate, powder grade", "sodium cocoyl sulfate needles", "kaolin, $x$ white"]
BLENDS = [
    (100, 0, 0, 11),
    (100, 0, 0, 12.4),
    (50, 50, 0, 15),
    (0, 100, 0, 9),
    (0, 50, 50, 10),
    (0, 0, 100, 16),
    (50, 0, 50, 17),
    (50, 0, 50, 16.4),
]


def log(names=("sci-powder", "scs-needles", "kaolin")):
    runs = [td.trial.TrialRun(f"run {n}", dict(zip(names, parts)), {"hardness": y}) for n, (*parts, y) in enumerate(BLENDS)]
    return td.trial.TrialLog("Three", {"hardness": "N"}, runs)


@pytest.fixture(autouse=True)
def closed():
    yield
    plt.close("all")


def texts(ax):
    legend = ax.get_legend()
    return [text.get_text() for text in legend.get_texts()] if legend else []


@pytest.mark.parametrize("draw", [lambda log: plot.contours(log.fit("hardness")), plot.trial_design])
def test_no_corner_name_is_cut(draw):
    ax = draw(log(LONG))
    figure = ax.figure
    figure.canvas.draw()
    width, height = figure.canvas.get_width_height()
    for axis in (ax.taxis, ax.laxis, ax.raxis):
        box = axis.label.get_window_extent()
        assert box.x0 >= 0 and box.y0 >= 0 and box.x1 <= width and box.y1 <= height, axis.label.get_text()
    said = [axis.label.get_text().replace("\n", " ").replace("\\$", "$") for axis in (ax.taxis, ax.laxis, ax.raxis)]
    assert said == [f"{name} % of components" for name in LONG]
    title = ax.title.get_window_extent() if ax.get_title() else ax._left_title.get_window_extent()
    assert title.y1 <= height and title.x1 <= width


def test_contours_have_unit_runs_and_what_the_brief_allows():
    model = log().fit("hardness")
    brief = (
        td.Brief("Three", td.Catalogue.starter())
        .between("sci-powder", 10, 60)
        .between("scs-needles", 5, 40)
        .qs("kaolin")
    )
    ax = plot.contours(model, brief=brief)
    assert texts(ax) == ["what the brief allows", "8 runs, as made; numbers: runs in one place"]
    assert ax.figure.axes[-1].get_ylabel() == "hardness, N"
    with pytest.raises(ValueError, match="three components"):
        plot.contours(model, components=["sci-powder", "kaolin"])
    with pytest.raises(ValueError, match="no component 'talc'"):
        plot.contours(model, components=["sci-powder", "kaolin", "talc"])
    with pytest.raises(ValueError, match="no line"):
        plot.contours(model, brief=td.Brief("One", td.Catalogue.starter()).qs("kaolin"))


def test_a_trace_is_the_model_along_the_direction_of_cox():
    model = log().fit("hardness")
    ax = plot.trace(model, reference={"sci-powder": 0.5, "scs-needles": 0.25, "kaolin": 0.25})
    line = ax.lines[0]
    change = line.get_xdata()[0] / 100
    mixture = [0.5 + change, 0.25 * (0.5 - change) / 0.5, 0.25 * (0.5 - change) / 0.5]
    assert line.get_ydata()[0] == pytest.approx(model.values_at([mixture])[0])
    assert ax.get_ylabel() == "hardness, N" and len({line.get_color() for line in ax.lines[:3]}) == 3
    with pytest.raises(ValueError, match="sum to 1"):
        plot.trace(model, reference={"sci-powder": 0.5, "scs-needles": 0.5, "kaolin": 0.5})


def test_residuals_and_measured_values_are_those_of_the_model():
    model = log().fit("hardness", model="linear")
    points = plot.residuals(model).lines[-1]
    assert sorted(points.get_ydata()) == pytest.approx(sorted(run.studentised for run in model.runs))
    ax = plot.measured(model)
    assert np.array(ax.lines[2].get_ydata()) == pytest.approx(
        np.array([run.measured - run.residual / (1 - run.leverage) for run in model.runs])
    )
    saturated = log().fit("hardness")
    assert any("alone decide" in text for text in texts(plot.measured(saturated)))


def test_runs_of_other_than_three_components_stand_side_by_side():
    ax = plot.trial_design(log(), components=["sci-powder", "kaolin"])
    assert [tick.get_text() for tick in ax.get_xticklabels()] == ["sci-powder", "kaolin"]
    with pytest.raises(ValueError, match="three components"):
        plot.trial_design(
            log(), components=["sci-powder", "kaolin"], brief=td.Brief("One", td.Catalogue.starter()).qs("kaolin")
        )
    with pytest.raises(ValueError, match="no line 'talc'"):
        plot.trial_design(log(), components=["talc"])


def test_a_map_of_four_components_shows_what_the_brief_allows_at_the_fourth():
    names = ["sci-powder", "scs-needles", "kaolin", "corn-starch"]
    brief = td.Brief("Four", td.Catalogue.starter()).between("sci-powder", 30, 70).between("scs-needles", 5, 20)
    brief = brief.between("kaolin", 10, 60).between("corn-starch", 0, 20)
    formulas = brief.design("d-optimal", model="linear", runs=8, seed=1).formulas
    runs = [
        td.trial.TrialRun(str(n), formula, {"hardness": 20 + n % 3 + formula.line("kaolin").percent})
        for n, formula in enumerate(formulas)
    ]
    model = td.trial.TrialLog("Four", {"hardness": "N"}, runs).fit("hardness", model="linear")
    ax = plot.contours(model, components=names[:3], at={"corn-starch": 0.2}, brief=brief)
    outline = next(
        patch.get_xy() for patch in ax.patches if isinstance(patch, matplotlib.patches.Polygon) and not patch.fill
    )
    # Of 80 % beside the starch: where it stands lower, more of the others is allowed.
    shares = np.linalg.solve(np.vstack([ax.corners_data.T, np.ones(3)]), np.vstack([outline.T, np.ones(len(outline))]))
    assert np.allclose(shares.max(axis=1), np.array([65, 20, 45]) / 80)
    bar = ax.figure.axes[-1]
    assert bar.get_ylim()[0] > 20 and bar.get_ylim()[1] < 80
    with pytest.raises(td.errors.Unanswerable):
        plot.contours(model, components=names[:3], at={"corn-starch": 0.9}, brief=brief)
