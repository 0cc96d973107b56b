"""One document of each kind, all of one small bar: what the pages of the file formats show. Demo data: prices, lots and readings are invented."""

import tenside as td
from tenside import measure as m

UNCERTIFIED = td.Catalogue.from_toml("""
tenside = "catalogue/1"
source = "invented for this page"
[[material]]
id = "harbour-wash-30"
name = "Betaine of the harbour's supplier"
form = "liquid"
active_convention = "titrated"
ph_range = { low = 4.5, high = 8 }
cautions = ["eye-damage"]
aliases = ["harbour betaine"]
constituents = [
    { inci = "COCAMIDOPROPYL BETAINE", typical = 30, low = 29, high = 32 },
    { inci = "SODIUM CHLORIDE", typical = 5.5, low = 4.5, high = 6.5, declared = "not-declared" },
    { inci = "WATER", typical = 64.5 },
]
use_levels = [{ use = "shampoo-bar", low = 1, high = 20 }]
""")
SHELF = UNCERTIFIED.with_lot(td.Lot("H-31", "harbour-wash-30", active=29.4, method="titrated", ph=5.6))
PRICES = td.PriceList(
    {"sci-powder": 6.4, "capb-30": 2.9, "cetyl-alcohol": 4.8, "kaolin": 1.9, "rosemary-oil": 62}, currency="EUR"
)
RULES = td.review.RuleList.from_toml("""
tenside = "rules/1"
id = "harbour"
title = "What we ask of our bars"
source = "house rule"
[[rule]]
slug = "too-much-salt"
severity = "warning"
title = "salt makes the bar crumble"
measure = "constituent"
of = "SODIUM CHLORIDE"
at_most = 3
""")
STEPS = td.solve.Steps("0.5", lines={"rosemary-oil": "0.1", "kaolin": "0.1"}, half_a_step=True)


def documents() -> dict[str, object]:
    """By kind."""
    starter = td.Catalogue.starter()
    brief = td.Brief("Harbour bar", starter, prices=PRICES).split(
        {"sci-powder": 12, "capb-30": 1}, by="active", name="wash"
    )
    brief = (
        brief.between("cetyl-alcohol", 3, 6)
        .fix("rosemary-oil", 0.6)
        .qs("kaolin")
        .target(m.active_matter, 50)
        .at_most(m.water, 9)
        .minimise(m.cost)
    )
    answer = brief.solve()
    formula = answer.formula
    choosing = td.Brief("One of two", starter).between("sci-powder", 20, 60).qs("kaolin").at_least(m.active_matter, 50)
    choosing = choosing.absent_or_between("capb-30", 10, 20).absent_or_between("coco-glucoside-50", 10, 20)
    choosing = (
        choosing.group("co-surfactants", ["capb-30", "coco-glucoside-50"])
        .at_most_of("co-surfactants", 1)
        .minimise(m.water)
    )
    batch = formula.batch(mass="2 kg", bars=30, readability="0.1 g", number="7", date="2026-11-24")
    made = batch.as_made({"kaolin": "530 g"}, pressed="1950 g")
    supplier = td.cost.Supplier(
        "North quay",
        [td.cost.Pack(line.name, "1 kg", 6.2, breaks={3: 5.8}) for line in formula.lines],
        currency="EUR",
        freight=4.9,
    )
    offers = td.cost.Offers([supplier], starter, currency="EUR")
    stock = td.cost.Stock(
        [td.cost.StockLot(line.name, "700 g", lot="A", price=5) for line in formula.lines], starter, currency="EUR"
    )
    weights = td.batch.Weights([f"{60 + index % 5}.{index % 7} g" for index in range(30)], bars=240, drying_loss="0.5")
    masses = ["70.0 g", "68.2 g", "67.1 g", "66.3 g", "65.9 g", "65.6 g", "65.4 g"]
    scale = td.batch.VerifiedScale("bench", "II", interval="0.1 g", largest="3 kg")
    results = [(20, 30), (20, "29.5"), (40, 42), (60, 46), (80, 42), (100, 30)]
    runs = [
        td.trial.TrialRun(str(number), {"sci-powder": 100 - clay, "kaolin": clay}, {"hardness": newtons})
        for number, (clay, newtons) in enumerate(results)
    ]
    log = td.trial.TrialLog("Clay and hardness", {"hardness": "N"}, runs)
    points = [("0 g", 7.9), ("0.2 g", 6.8), ("0.4 g", 5.9), ("0.6 g", 5.2), ("0.8 g", 4.7)]
    titration = td.ph.Titration(
        points, sample="100 g", reagent=starter.material("citric-acid-50"), dilution="1+9"
    )
    press = td.batch.Mould.rectangular(80, 55, corner=8, draft=2)
    return {
        "catalogue": SHELF,
        "prices": PRICES,
        "brief": brief,
        "formula": formula,
        "draft": td.Draft.from_text("Pasted bar", "sci-powder 60 %\ncetyl alcohol 10-15 %\nkaolin 25 %").set_amount(
            2, "15 %"
        ),
        "rules": RULES,
        "offers": offers,
        "stock": stock,
        "answer": answer,
        "conflict": brief.at_most(m.water, 1).try_solve(),
        "rounded": brief.try_solve_rounded(STEPS),
        "chosen": choosing.choose(),
        "unmet": choosing.at_most(m.water, "0.1").try_choose(),
        "substitution": formula.substitute("capb-30", "coco-glucoside-50", keep=[m.active_matter]),
        "difference": formula.difference(brief.change_line("rosemary-oil", fix=0.8).solve().formula),
        "batch": batch,
        "made": made,
        "rescue": brief.rescue(made, readability="0.1 g"),
        "batch-record": td.batch.BatchRecord(
            made, made_by="maker A", decision="released", decided_by="maker B", decided_on="2026-12-08"
        ),
        "costing": formula.costing(
            "2 kg", bars=30, process_loss=3, per_bar={"wrapper": 0.12}, per_batch={"labour": 18}
        ),
        "purchase": td.cost.purchase([td.cost.PlannedBatch(formula, "2 kg")], offers, stock=stock),
        "bars-from-stock": formula.bars_from_stock(stock, "66 g", on="2026-12-01"),
        "product-mix": stock.best_mix([td.cost.PlannedProduct(formula, "66 g", 2.4, most=9)], on="2026-12-01"),
        "review": formula.review(market="EU", use="shampoo-bar", on="2026-11-24", ph=td.Reading(5.6, dilution="1+9")),
        "label": formula.label(market="EU", on="2026-11-24", net="60 g", residual_moisture=4),
        "exposure": formula.exposure("COCAMIDOPROPYL BETAINE", product="shampoo", absorption=10),
        "titration": titration,
        "adjustment": titration.adjust("2 kg", td.Reading(7.9, dilution="1+9"), target=5.5).with_portion(
            "8 g", td.Reading(5.85, dilution="1+9")
        ),
        "design": brief.drop_requirement(brief.requirements[0].name).design(
            "d-optimal", model="linear", runs=4, seed=1
        ),
        "trial-log": log,
        "model": log.fit("hardness"),
        "model-choice": log.best_model("hardness"),
        "best-on-model": td.Brief("Hard", td.Catalogue.starter())
        .between("kaolin", 20, 60)
        .qs("sci-powder")
        .best_on(log.fit("hardness")),
        "most-desirable": td.Brief("Hard and light", td.Catalogue.starter())
        .between("kaolin", 20, 60)
        .qs("sci-powder")
        .most_desirable([(log.fit("hardness"), td.trial.Desirability("larger", 20, 50))]),
        "formula-micelles": td.Formula("Bar", {"sci-powder": 60, "kaolin": 40}, td.Catalogue.starter()).mixed_micelles(
            "1+999", cmcs={"SODIUM COCOYL ISETHIONATE": 4}
        ),
        "mixed-micelles": td.trial.MixedMicelles(
            {"SDS": (1, "8.2"), "C12E8": (1, "0.11")}, interactions={("SDS", "C12E8"): "-3.9"}
        ),
        "weights": weights,
        "weight-test": weights.test("60 g", market="EU"),
        "target-fill": td.batch.TargetFill("60 g", market="EU", bars=240, standard_deviation="0.8 g", probability=99),
        "drying-curve": td.batch.DryingCurve({"first": list(enumerate(masses))}, readability="0.1 g"),
        "moulded-bar": press.bar(mass="66 g", density=1.1),
        "portions": td.batch.Portions("2 kg", {"large": "100 g", "small": "60 g"}, counts={"large": 8}),
        "weighable": batch.weighable([scale], tolerance=1),
        "use-up": td.batch.UseUp({"first": [(0, "60 g"), (10, "48 g")]}, net="60 g"),
    }
