"""Every result leaves as a document that its schema describes, and comes back only as what comes of its question."""

import json
import pathlib
import pickle
import runpy
import subprocess
import sys

import jsonschema
import pytest
import tenside as td
import values
from tenside import measure as m
from tenside import schema

CATALOGUE = td.Catalogue.starter()
LOT = td.Lot("W-27", "capb-30", active=29.1, method="titrated", retest="2027-03-31")


def brief():
    prices = {"sci-powder": 6.4, "capb-30": 2.9, "cetyl-alcohol": 4.8, "kaolin": 1.9, "lavender-oil": 60}
    wash = td.Brief("Wash", CATALOGUE, prices=prices, currency="EUR").split(
        {"sci-powder": 14, "capb-30": 1}, by="active", name="wash"
    )
    wash = (
        wash.between("cetyl-alcohol", 3, 6)
        .fix("lavender-oil", 0.6)
        .qs("kaolin")
        .target(m.active_matter, 50)
        .at_most(m.water, 9)
    )
    return wash.minimise(m.cost)


def choices():
    asked = (
        td.Brief("One of two", CATALOGUE)
        .between("sci-powder", 20, 60)
        .absent_or_between("capb-30", 10, 20)
        .absent_or_between("coco-glucoside-50", 10, 20)
    )
    asked = asked.group("co-surfactants", ["capb-30", "coco-glucoside-50"]).at_most_of("co-surfactants", 1).qs("kaolin")
    return asked.at_least(m.active_matter, 57).minimise(m.water)


TRIAL = td.Brief("Trial", CATALOGUE).between("sci-powder", 40, 70).between("cetyl-alcohol", 3, 12).qs("kaolin")
ANSWER = brief().solve()
FORMULA = ANSWER.formula
WITH_LOT = td.Formula(
    "With a lot", [td.Line(CATALOGUE.material("capb-30").with_lot(LOT), 30), td.Line(CATALOGUE.material("kaolin"), 70)]
)
DECLARED = td.label.ScentDeclaration("lavender-oil", "supplier's declaration of 2026-03-02", {"LINALOOL": (30, 36)})
READING = td.Reading(
    5.5,
    dilution="1+9",
    temperature=22,
    water="deionised",
    instrument="glass electrode",
    after=30,
    method="in duplicate",
    on="2026-11-20",
)
STEPS = td.solve.Steps("0.5", lines={"lavender-oil": "0.1"}, half_a_step=True)

BATCH = FORMULA.batch(mass="200 g", readability="0.1 g", number="7", date="2026-11-24")
MADE = BATCH.as_made(
    {"kaolin": "52 g"},
    lots={"capb-30": LOT},
    added={"citric-acid-50": "0.4 g"},
    pressed="180 g",
    trim="2 g",
    trim_returned="1 g",
    rejected="0 g",
)
PRICED = FORMULA.with_prices(
    {"sci-powder": 6.4, "capb-30": 2.9, "cetyl-alcohol": 4.8, "kaolin": 1.9, "lavender-oil": 60}, currency="EUR"
)
NEAR = td.cost.Supplier("Near", [td.cost.Pack(line.name, "300 g", 2.75) for line in FORMULA.lines], currency="EUR")
FAR = td.cost.Supplier(
    "Far", [td.cost.Pack("kaolin", "1 lb", 1.05, breaks={3: 0.95})], currency="USD", freight=4.9, free_from=20, tax=19
)
OFFERS = td.cost.Offers([NEAR, FAR], CATALOGUE, currency="EUR", rates={"USD": 0.92})
LOTS = [td.cost.StockLot(line.name, "200 g", lot="A", price="7/3", use_by="2027-01-31") for line in FORMULA.lines]
STOCK = td.cost.Stock(LOTS, CATALOGUE, currency="EUR")

POINTS = [("0 g", 7.9), ("0.2 g", 6.8), ("0.4 g", 5.9), ("0.6 g", 5.2), ("0.8 g", 4.7)]
TITRATION = td.ph.Titration(POINTS, sample="100 g", reagent=CATALOGUE.material("citric-acid-50"), dilution="1+9")
RINSE = td.Formula("Rinse", {"citric-acid-50": 1, "water": 99}, CATALOGUE)

RESULTS = {
    "adjustment": TITRATION.adjust("2 kg", td.Reading(7.9, dilution="1+9"), target=5.5).with_portion(
        "8 g", td.Reading(5.85, dilution="1+9")
    ),
    "costing": PRICED.costing(
        "2 kg",
        bars=30,
        washes=62.5,
        process_loss=3,
        per_bar={"wrapper": 0.12},
        percent_of_direct_costs={"overhead": "1/3"},
    ),
    "purchase": td.cost.purchase([td.cost.PlannedBatch(FORMULA, "2 kg", on="2026-12-01")], OFFERS, stock=STOCK),
    "purchase without stock": td.cost.purchase([td.cost.PlannedBatch(FORMULA, "2 kg")], OFFERS),
    "bars-from-stock": FORMULA.bars_from_stock(STOCK, "66 g", on="2026-12-01"),
    "product-mix": STOCK.best_mix([td.cost.PlannedProduct(FORMULA, "66 g", 2.4, most=9)], on="2026-12-01"),
    "answer": ANSWER,
    "answer without objective": td.Brief("Third", CATALOGUE)
    .split({"sci-powder": 1, "kaolin": 2}, by="weight", name="third")
    .solve(),
    "conflict": td.Brief("Too strong", CATALOGUE)
    .between("capb-30", 0, 50)
    .qs("water")
    .at_least(m.active_matter, 18)
    .try_solve(),
    "rounded": brief().try_solve_rounded(STEPS),
    "unmet": td.Brief("Plain bar", CATALOGUE)
    .between("sci-powder", 30, 70)
    .fix("citric-acid-50", "0.3")
    .qs("kaolin")
    .try_solve_rounded(0.5),
    "chosen": choices().choose(),
    "unmet choice": choices().at_most(m.water, "0.1").try_choose(),
    "review": FORMULA.review(
        market="EU", use=["shampoo-bar", "body"], on="2026-11-24", ph=READING, moisture=3, water_activity=0.6
    ),
    "review in the US": WITH_LOT.review(
        market="US", use="cleansing-bar", on="2026-11-24", scent_limit=5, scent_category="9"
    ),
    "review with a limit for each scent": FORMULA.review(
        market="EU",
        use="hair",
        on="2026-11-24",
        scent_limit={"lavender-oil": "0.1", "lemon-oil": "1/3"},
        scent_category="9",
    ),
    "label": FORMULA.label(market="EU", on="2026-11-24", net="60 g", residual_moisture=2, declarations=[DECLARED]),
    "label in the US": WITH_LOT.label(
        market="US", on="2026-11-24", net="60 g", contact="leave-on", placing="made-available"
    ),
    "batch": FORMULA.batch(
        mass="200 g",
        bars=3,
        readability="0.1 g",
        readability_of={"cool-down": "0.01 g"},
        unit="kg",
        tolerance=2,
        number="B-7",
        date="2026-11-24",
    ),
    "batch of bars": WITH_LOT.batch(
        bars=24, net="60 g", drying_loss=4, process_loss=4, readability="0.1 g", date="2026-11-24"
    ),
    "made": MADE,
    "rescue": brief().rescue(MADE, readability="0.1 g"),
    "design": TRIAL.design(
        "d-optimal",
        model="quadratic",
        runs=8,
        seed=2**60,
        replicates=2,
        blocks=2,
        process={"press force": ("kN", 10, "40.5")},
        whole_plot_ratio=1,
    ),
    "design that goes on": TRIAL.design(
        "i-optimal",
        runs=3,
        seed=2,
        made=[TRIAL.solve().formula] * 2,
        components=["sci-powder", "kaolin", "cetyl-alcohol"],
        starts=3,
    ),
    "rescue with too little": brief().rescue(MADE, most="210 g", stock={"sci-powder": "0 g"}),
    "batch record": td.batch.BatchRecord(WITH_LOT.batch(mass="200 g", readability="1 g")),
    "filled batch record": td.batch.BatchRecord(
        MADE,
        steps=FORMULA.usual_steps("solid"),
        equipment="press, 57 mm",
        made_by="maker A",
        tests=[td.batch.ProductTest("pH", at_least=5, at_most=6)],
        readings={"pH": [5.5, 6.1]},
        deviations="left for a day",
        decision="on-hold",
        decided_by="maker B",
        decided_on="2026-12-08",
    ),
    "exposure": FORMULA.exposure(
        "LINALOOL", product="shampoo", oral_dose=500, oral_absorption=50, absorption=10, basis=td.finished(moisture=1)
    ),
    "exposure of an amount": FORMULA.exposure(
        "LINALOOL", amount=10, retained_percent=1, systemic_dose=100, body_weight=60
    ),
    "difference": FORMULA.difference(WITH_LOT),
    "substitution": FORMULA.substitute("capb-30", "coco-glucoside-50", keep=[m.active_matter]),
}
for value in [*values.measured(), *values.trial()]:
    # A log is all question; test_trial.py has it.
    if hasattr(value, "to_json") and not isinstance(value, (td.trial.TrialLog, td.Formula)):
        name = type(value).__name__
        RESULTS[f"{name} {sum(each.startswith(name) for each in RESULTS)}"] = value
WRITTEN_ONLY = {"difference", "substitution"}
BACK = [name for name in RESULTS if name not in WRITTEN_ONLY]


def kind(result):
    return json.loads(result.to_json())["tenside"].split("/")[0]


@pytest.mark.parametrize("materials", [False, True])
@pytest.mark.parametrize("name", RESULTS)
def test_the_schema_describes_it(name, materials):
    document = RESULTS[name].to_dict(materials=materials)
    jsonschema.Draft202012Validator(json.loads(schema.text(kind(RESULTS[name])))).validate(document)
    assert json.loads(json.dumps(document)) == document


@pytest.mark.parametrize("name", BACK)
def test_it_comes_back_bit_for_bit(name):
    result = RESULTS[name]
    shelf = CATALOGUE.with_lot(LOT)
    for text in (result.to_json(), result.to_toml()):
        again = td.read(text, shelf)
        assert type(again) is type(result) and again == result
        assert again.to_json() == result.to_json() and again.to_toml() == result.to_toml()
    whole = result.to_json(materials=True)
    assert type(result).from_json(whole, td.Catalogue()) == result
    assert type(result).from_toml(result.to_toml(materials=True), td.Catalogue()) == result
    assert pickle.loads(pickle.dumps(result)) == result


def leaves(node, path=()):
    """Every number, text and truth of a document, with the way to it."""
    if isinstance(node, dict):
        for key, value in node.items():
            yield from leaves(value, (*path, key))
    elif isinstance(node, list):
        for index, value in enumerate(node):
            yield from leaves(value, (*path, index))
    elif node is not None:
        yield path, node


QUESTION = {
    "answer": ["brief"],
    "conflict": ["brief"],
    "rounded": ["brief", "steps"],
    "unmet": ["brief", "steps", "node_limit"],
    "chosen": ["brief", "node_limit"],
    "review": ["formula", "product"],
    "label": ["formula", "request"],
    "batch": ["formula", "size", "scales", "number", "date"],
    "made": ["plan", "actual", "formula"],
    "rescue": ["brief", "bowl", "contents", "means"],
    "design": ["brief", "request"],
    "batch-record": [
        "plan",
        "steps",
        "equipment",
        "made_by",
        "actual",
        "formula",
        "tests",
        "readings",
        "deviations",
        "release",
    ],
    "exposure": ["formula", "substance", "request", "basis"],
    "weights": ["masses", "bars", "drying_loss"],
    "weight-test": ["masses", "bars", "drying_loss", "nominal", "market"],
    "target-fill": ["nominal", "market", "bars", "standard_deviation", "probability", "drying_loss"],
    "drying-curve": ["bars", "readability"],
    "model": ["log", "response", "model"],
    "model-choice": ["fit", "criterion"],
    "best-on-model": ["brief", "fit", "direction", "settings", "confidence", "tolerance", "most_boxes"],
    "most-desirable": ["brief", "wanted", "settings", "confidence", "tolerance", "most_boxes"],
    "mixed-micelles": ["surfactants", "interactions"],
    "formula-micelles": ["formula", "dilution", "concentrations", "interactions"],
    "adjustment": ["titration", "batch", "start", "target", "portions"],
    "moulded-bar": ["mould", "given_mass", "given_height", "lowest_density", "highest_density"],
    "portions": ["mass", "sizes"],
    "weighable": ["lines", "scales", "tolerance"],
    "use-up": ["bars", "net", "active", "price"],
    "costing": ["formula", "request"],
    "purchase": ["offers", "stock", "batches", "step_limit"],
    "bars-from-stock": ["formula", "stock", "grams", "on"],
    "product-mix": ["stock", "products", "on", "node_limit"],
}


@pytest.mark.parametrize("name", BACK)
def test_a_result_edited_by_hand_is_refused(name):
    result = RESULTS[name]
    document = result.to_dict()
    shelf = CATALOGUE.with_lot(LOT)
    said = [
        (path, value)
        for path, value in leaves(document)
        if path[0] not in QUESTION[kind(result)] and path != ("tenside",)
    ]
    assert len(said) > 3
    for path, value in said[:: max(1, len(said) // 25)]:
        forged = json.loads(json.dumps(document))
        place = forged
        for step in path[:-1]:
            place = place[step]
        place[path[-1]] = (
            not value if isinstance(value, bool) else value + 1 if isinstance(value, (int, float)) else f"{value}1"
        )
        with pytest.raises(td.TensideError) as caught:
            td.read(json.dumps(forged), shelf)
        fault = caught.value.faults[0]
        # Half of a number that is text is a number no more; everything else is said to differ.
        assert fault.kind == "contradiction", (path, str(fault))
        assert fault.position is not None and "ask the question again" in fault.remedy
    for change in ({"note": "a key of mine"}, {}):
        forged = {**document, **change}
        if not change:
            del forged[said[0][0][0]]
        with pytest.raises(td.TensideError):
            td.read(json.dumps(forged), shelf)


def test_a_titration_comes_back_and_a_calculated_one_is_calculated_again():
    calculated = RINSE.calculated_titration(CATALOGUE.material("sodium-hydroxide-10"), most="3 g")
    for trial in (TITRATION, calculated):
        validator = jsonschema.Draft202012Validator(json.loads(schema.text("titration")))
        for materials in (False, True):
            validator.validate(trial.to_dict(materials=materials))
        for text in (trial.to_json(), trial.to_toml(), trial.to_json(materials=True)):
            again = td.read(text)
            assert again == trial and again.is_calculated == trial.is_calculated and again.to_json() == trial.to_json()
    forged = calculated.to_dict()
    forged["points"][3]["added"] = 0.2251
    with pytest.raises(td.errors.Contradiction, match="another titration"):
        td.read(json.dumps(forged))
    forged = TITRATION.to_dict()
    forged["effect"] = "raises"
    with pytest.raises(td.errors.Contradiction):
        td.read(json.dumps(forged))


def test_an_answer_to_another_question_is_refused():
    document = ANSWER.to_dict()
    document["brief"]["requirement"][0]["equal"] = 51
    with pytest.raises(td.errors.Contradiction) as caught:
        td.solve.Answer.from_json(json.dumps(document))
    assert "objective" in {fault.place for fault in caught.value.faults}
    document["brief"]["requirement"][0]["equal"] = 99
    with pytest.raises(td.errors.Contradiction, match="conflict/1"):
        td.solve.Answer.from_json(json.dumps(document))
    document["formula"]["line"][0]["percent"] = 60
    document["brief"]["requirement"][0]["equal"] = 50
    with pytest.raises(td.errors.Contradiction, match="percent"):
        td.solve.Answer.from_json(json.dumps(document))


def test_other_materials_give_another_result():
    with pytest.raises(td.TensideError, match="kaolin|raw material"):
        td.solve.Answer.from_json(ANSWER.to_json(), td.Catalogue())


def test_another_kind_or_version_is_refused():
    with pytest.raises(td.errors.UnknownName, match="answer/1"):
        td.read(ANSWER.to_json().replace("answer/1", "answer/2"))
    with pytest.raises(td.TensideError, match="conflict/1"):
        td.solve.Conflict.from_json(ANSWER.to_json())
    with pytest.raises(td.errors.Unsupported, match="written only"):
        td.read(RESULTS["difference"].to_json())
    for text in ("", "{}", "[]", "title = 1", "{", "\x00"):
        with pytest.raises(td.TensideError):
            td.read(text)


def test_documents_are_read_and_written_as_files(tmp_path):
    for suffix in (".json", ".toml"):
        path = tmp_path / f"answer{suffix}"
        td.write(ANSWER, path)
        assert td.read_document(path) == ANSWER
    td.write(RESULTS["difference"], tmp_path / "difference.json")


def check(*arguments):
    outcome = subprocess.run(
        [sys.executable, "-m", "tenside", "check", *map(str, arguments)], capture_output=True, text=True
    )
    return outcome.returncode, outcome.stdout, outcome.stderr


def test_the_command_line_prints_every_fault(tmp_path):
    good, bad = tmp_path / "good.toml", tmp_path / "bad.json"
    td.write(FORMULA, good)
    document = ANSWER.to_dict()
    document["objective"], document["objective_unit"] = 1, "GBP"
    bad.write_text(json.dumps(document))
    assert check(good) == (0, f"{good}: read without a fault (Formula)\n", "")
    status, printed, _ = check(good, bad, tmp_path / "none.toml")
    assert status == 1
    assert printed.count(str(bad)) == 2 and "objective_unit" in printed and "No such file" in printed
    shelf = tmp_path / "shelf.toml"
    td.write(td.Catalogue(), shelf)
    assert check("--catalogue", shelf, bad)[0] == 1
    assert check("--catalogue", tmp_path / "none.toml", good)[0] == 2
    assert check()[0] == 2


def test_the_example_answers_as_a_service_would():
    module = runpy.run_path(str(pathlib.Path(__file__).parents[1] / "examples" / "answer_in_json.py"))
    respond, asked = module["respond"], brief().to_json(materials=False)
    status, body = respond(asked)
    assert status == 200 and {part["tenside"] for part in body.values()} == {
        "answer/1",
        "batch/1",
        "review/1",
        "label/1",
    }
    json.dumps(body)
    status, body = respond(asked.replace('"equal": 50', '"equal": 99'))
    assert status == 409 and body["members"][0]["constraint"]["kind"] in ("line", "requirement", "split")
    for change, expected in [
        (("active-matter", "foam"), 404),
        (('"objective"', '"objektive"'), 400),
        (('"high": 6', '"high": 2'), 422),
        (("{", ""), 400),
    ]:
        assert respond(asked.replace(*change, 1))[0] == expected, change
