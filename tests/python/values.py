"""Values of every class of the package, made once and shared by the tests that go through all of them."""

from fractions import Fraction

import tenside as td
from tenside import measure as m

CATALOGUE = td.Catalogue.starter().with_lot(td.Lot("W-27", "capb-30", active=29.1, method="titrated", salt="5.25"))

OWN = td.Material(
    "house-clay",
    "House clay",
    "powder",
    {"KAOLIN": (97, 98, 99)},
    unspecified=2,
    use_levels={"shampoo-bar": ("1/2", 30)},
    cautions="nuisance-dust",
)


def brief():
    return (
        td.Brief("Wash", CATALOGUE, prices={"capb-30": 2.9, "kaolin": 1.9, "sci-powder": 6.4})
        .line("wash", "capb-30", lot="W-27", low=0, high=60)
        .between("sci-powder", 10, 60)
        .qs("kaolin")
        .target(m.active_matter, "100/3")
        .minimise(m.cost)
    )


def choosing():
    brief = (
        td.Brief("Either", CATALOGUE)
        .between("sci-powder", 20, 60)
        .absent_or_between("capb-30", 10, 20)
        .free("glycerin-99-5")
        .qs("kaolin")
    )
    return (
        brief.group("liquids", ["capb-30", "glycerin-99-5"])
        .at_most_of("liquids", 1)
        .at_least(m.active_matter, 40)
        .minimise(m.water)
    )


def trials():
    """A trial that was read, and one that was calculated; each with a plan, the first with a portion in it."""
    acid = CATALOGUE.material("citric-acid-50")
    read = td.ph.Titration(
        [("0 g", 7.9), ("0.2 g", 6.8), ("0.4 g", 5.9), ("0.6 g", 5.2)],
        sample="100 g",
        reagent=acid,
        dilution="1+9",
        uncertainty=0.1,
    )
    plan = read.adjust("2 kg", td.Reading(7.9, dilution="1+9"), target=5.5).with_portion(
        "8 g", td.Reading(5.85, dilution="1+9")
    )
    rinse = td.Formula("Rinse", {"citric-acid-50": 1, "water": 99}, CATALOGUE)
    calculated = rinse.calculated_titration(CATALOGUE.material("sodium-hydroxide-10"), most="3 g", temperature=20)
    return [read, plan, calculated, calculated.adjust("1 kg", td.Reading(2.4, dilution="1+0"), target=4)]


def costs():
    """What is offered, in stock and planned, and what comes of it."""
    bar = td.Formula(
        "Plain bar",
        {"sci-powder": 60, "kaolin": 40},
        CATALOGUE,
        prices={"sci-powder": 9, "kaolin": "2.2"},
        currency="EUR",
    )
    near = td.cost.Supplier(
        "Near",
        [td.cost.Pack("sci-powder", "1 kg", "9.30", breaks={3: "8.80"}), td.cost.Pack("kaolin", "1/3 kg", 1)],
        currency="EUR",
        freight=4,
        free_from=60,
        tax=19,
    )
    far = td.cost.Supplier("Far", [td.cost.Pack("kaolin", "1 lb", "0.90")], currency="USD")
    offers = td.cost.Offers([near, far], CATALOGUE, currency="EUR", rates={"USD": "0.92"})
    stock = td.cost.Stock(
        [
            td.cost.StockLot("kaolin", "400 g", lot="K-7", price="2.10", use_by="2027-01-31"),
            td.cost.StockLot("sci-powder", "300 g"),
        ],
        CATALOGUE,
        currency="EUR",
    )
    batch, product = td.cost.PlannedBatch(bar, "2 kg", on="2026-12-01"), td.cost.PlannedProduct(bar, "66 g", "2.40", most=9)
    costing = bar.costing(
        "2 kg",
        bars=30,
        washes=60,
        process_loss="1/3",
        per_bar={"wrapper": "0.12"},
        per_batch={"labour": 18},
        percent_of_direct_costs={"overhead": 10},
    )
    bought = td.cost.purchase([batch], offers, stock=stock, steps=100_000)
    made = [bar.bars_from_stock(stock, "66 g", on="2026-12-01"), stock.best_mix([product], on="2026-12-01", nodes=70)]
    return [
        *near.packs,
        near,
        far,
        offers,
        *stock.lots,
        stock,
        batch,
        td.cost.PlannedBatch(bar, "1/3 kg"),
        product,
        costing,
        bought,
        *made,
        bar,
        *td.cost.price_effects([bar], {"kaolin": 3}),
    ]


def values():
    premix = td.Formula("Wash powder", {"sci-powder": 80, "kaolin": 20}, CATALOGUE).to_material(
        "wash-powder", form="powder"
    )
    answer = brief().solve()
    later = answer.formula.with_parent(brief(), "answer")
    return [
        later,
        later.parent,
        *td.formula.history([later]),
        *costs(),
        *designed(),
        CATALOGUE,
        td.Catalogue.starter(),
        td.Catalogue(),
        CATALOGUE.material("kaolin"),
        CATALOGUE.material("capb-30").with_lot(CATALOGUE.lot("W-27")),
        premix,
        CATALOGUE.lot("W-27"),
        brief(),
        answer,
        answer.formula,
        td.Draft("Half-written", [("kaolin", "10-15 %"), ("Rosemary oil", None)]).set_amount(1, "12 %").drop_line(2),
        td.Brief("Not full", CATALOGUE).fix("kaolin", 60).try_solve(),
        choosing(),
        choosing().choose(nodes=500),
        choosing().at_least(m.active_matter, 70).try_choose(nodes=700),
        td.solve.Steps(0.5, lines={"kaolin": "0.1"}, within={"a": "1/3"}, giving_up=["b"], half_a_step=True, nodes=77),
        choosing().solve_rounded(td.solve.Steps(0.5, lines={"kaolin": 0.1})),
        brief().try_solve_rounded(0.5),
        answer.formula.substitute("wash", "coco-glucoside-50", keep=[m.active_matter, m.water]),
        answer.formula.candidates("wash", m.active_matter, CATALOGUE),
        m.water,
        m.cost.contributed_by(lines=["a"]).per(m.score("slip", {"kaolin": "2.5"}).contributed_by(phase="p")),
        m.active_matter.within(group="g"),
        td.as_charged,
        td.finished(moisture="1/3"),
        td.measure.Interval(Fraction(1, 3), high=1),
        td.Reading(5.6, dilution="1+9", on="2026-11-24"),
        *trials(),
        td.ph.Solution(20, pkw=14.1)
        .acid("citric acid", 0.07)
        .acid(td.ph.Acid("mine", 1, [7.2]), 0.01)
        .ion("Na", 0.06)
        .ion("iodide", 0.01, charge=-1)
        .with_inert(0.1),
        td.ph.Solution(30).acid("acetic acid", 0.2).ion("Na", 0.1).diluted(3).solve(),
        td.Formula("Rinse", {"citric-acid-50": 1, "glycerin-99-5": 1, "water": 98}, CATALOGUE)
        .solution(temperature=20)
        .ion("Na", 0.01)
        .solve(),
        answer.formula.ph_window(),
        answer.formula.label(
            market="EU",
            on="2026-11-24",
            net="60 g",
            residual_moisture="1/3",
            nano=["KAOLIN"],
            naked=True,
            placing="made-available",
            contact="leave-on",
            declarations=[td.label.ScentDeclaration("capb-30", "invented", {"LINALOOL": 0.001})],
            scent="together",
        ),
        answer.formula.label(market="US", on="2026-11-24"),
        answer.formula.exposure(
            "COCAMIDOPROPYL BETAINE",
            product="shampoo",
            absorption="1/3",
            oral_dose=100,
            oral_absorption=40,
            basis=td.finished(moisture=5),
        ),
        answer.formula.exposure("KAOLIN", amount=2, retained_percent=1, systemic_dose="1/7", body_weight=55),
        answer.formula.review(market="EU", use="shampoo-bar", on="2026-11-24", moisture=5),
        td.Product(
            market="US",
            use=["hair", "body"],
            on="2026-11-24",
            placing="placed",
            form="solid",
            ph=td.Reading(6, dilution="1+9"),
            scent_limit=1,
            scent_category="9",
        ),
        td.Product(
            market="EU",
            use="hair",
            on="2026-11-24",
            scent_limit={"lavender-oil": "1/3", "lemon-oil": 0.5},
            scent_category="9",
        ),
        td.label.ScentDeclaration("lavender-oil", "invented", {"LINALOOL": (30, 36), "5989-27-5": 0.4}, reporting=0.01),
        td.PriceList({"capb-30": "2.9", "kaolin": 1.9}, currency="EUR"),
        td.Substance(
            "HOUSE ESTER",
            "ester",
            charge="neutral",
            molar_mass=(280, "284.5", 290),
            chains="C18",
            attributes={"palm": False},
        ),
        OWN,
    ]


def designed():
    """A design, what it is made of, and a region as matrices."""
    trial = td.Brief("Trial", CATALOGUE).between("sci-powder", 40, 70).between("cetyl-alcohol", 3, 12).qs("kaolin")
    design = trial.design("d-optimal", runs=5, seed=1, process={"press force": ("kN", 10, 40)}, whole_plot_ratio=1)
    return [design, design.runs, design.runs[0], trial.at_most(m.water, 9).region()]


def measured():
    """What comes of weigh-ins, moulds and scales: results that leave as documents, and what they are made of."""
    weights = td.batch.Weights([f"{60 + index % 5}.{index % 7} g" for index in range(30)], bars=240, drying_loss="0.5")
    masses = ["70.0 g", "68.2 g", "67.1 g", "66.3 g", "65.9 g", "65.6 g", "65.4 g"]
    drying = td.batch.DryingCurve(
        {"first": list(enumerate(masses)), "second": [(day, mass) for day, mass in enumerate(masses) if day % 2 == 0]},
        readability="0.1 g",
    )
    press = td.batch.Mould.rectangular(80, "55.5", corner=8, draft="2.5", domes=(3, 1))
    scales = [
        td.batch.VerifiedScale("bench", "II", interval="0.1 g", largest="3 kg"),
        td.batch.VerifiedScale("fine", "II", interval="0.01 g", largest="200 g"),
    ]
    return [
        weights,
        td.batch.Weights(["60 g", "1/3 kg"]),
        weights.test("60 g", market="EU"),
        td.batch.Weights(["60.5 g", "61 g"], bars=9).test("60 g", market="US"),
        td.batch.TargetFill("60 g", market="EU", bars=240, standard_deviation="0.8 g", probability=99, drying_loss=4),
        td.batch.TargetFill("60 g", market="US", bars=9, standard_deviation="0.8 g", probability=95),
        drying,
        press.bar(mass="66 g", density=("1.05", "1.15")),
        press.bar(height=25, density=1.1),
        press.bar(mass="66 g", height=16),
        td.batch.Portions("1 kg", {"large": "100 g", "small": "60 g"}, counts={"large": 3}),
        td.batch.Portions("5 kg", bottles={"bottle": 250}, density="1.02"),
        td.batch.Weighable({"kaolin": "600 g", "dye": "0.3 g", "all": "4 kg"}, scales, tolerance=1),
        td.batch.UseUp(
            {"first": [(0, "60 g"), (10, "48 g")], "second": [(0, "60 g"), (10, "45 g")]},
            net="60 g",
            active=50,
            price=6,
        ),
        td.batch.UseUp({"first": [(0, "60 g"), (7, "48 g")]}, net="60 g"),
        press,
        td.batch.Mould.round("57.15"),
        td.batch.Mould.oval(80, 55, draft=3),
        *scales,
    ]


def measured_records():
    """The rows of their tables."""
    weights, _, test, _, target, _, drying, *_ = measured()
    portions, weighable, used = (
        next(each for each in measured() if isinstance(each, kind)) for kind in (td.batch.Portions, td.batch.Weighable, td.batch.UseUp)
    )
    tables = [
        test.checks,
        target.curve(3),
        drying.bars,
        drying.ready(tolerance=1),
        drying.at(9),
        portions.rows,
        weighable.rows,
        used.bars,
    ]
    return [*tables, *[row.dilution for row in weighable.rows if row.dilution], weights]


def trial():
    """A log, models of it, what is best on them, and mixed micelles: the results are invented."""
    results = [(20, 30, 9), (20, 29.5, 8.8), (40, 42, 8), (60, 46, 6), (80, 42, 3), (100, 30, 1)]
    runs = [
        td.trial.TrialRun(
            str(number),
            {"sci-powder": 100 - kaolin, "kaolin": kaolin},
            {"hardness": newtons, "slip": points},
            settings={"force": 20},
            blend=f"clay {kaolin}",
        )
        for number, (kaolin, newtons, points) in enumerate(results)
    ]
    log = td.trial.TrialLog(
        "Kaolin", [td.trial.Response("hardness", "N", method="penetrometer"), td.trial.Response("slip", "score")], runs
    )
    hard, slip = log.fit("hardness"), log.fit("slip", model="linear")
    brief = td.Brief("Hard", CATALOGUE).between("kaolin", 20, 90).qs("sci-powder")
    wanted = [(hard, td.trial.Desirability("larger", 30, 45)), (slip, td.trial.Desirability("target", 2, 9, target="6.5", shape=2))]
    best, both = brief.best_on(hard, tolerance=0.5), brief.most_desirable(wanted, boxes=300)
    mixed = td.trial.MixedMicelles({"SDS": (1, "8.2"), "C12E8": (1, "0.11")}, interactions={("SDS", "C12E8"): "-3.9"})
    pair = td.trial.MicelleInteraction("8.2", "0.11", [("10", "0.115"), ("50", "0.168")])
    bar = td.Formula("Bar", {"sci-powder": 60, "kaolin": 40}, CATALOGUE)
    return [
        log,
        *runs[:2],
        *log.responses,
        log.ranks("slip"),
        hard,
        slip,
        log.best_model("hardness", criterion="PRESS"),
        wanted[0][1],
        wanted[1][1],
        best,
        both,
        mixed,
        pair,
        bar.mixed_micelles("1+99", cmcs={"SODIUM COCOYL ISETHIONATE": 4}),
    ]


def trial_records():
    """The rows of their tables."""
    log, *rest = trial()
    hard, choice, best, both, mixed, pair = rest[5], rest[7], rest[10], rest[11], rest[12], rest[13]
    alone = [td.trial.TrialRun(str(each), {"sci-powder": 50, "kaolin": 50}, {"hardness": each}) for each in range(4)]
    aliased = (
        td.trial.TrialLog("Alike", {"hardness": "N"}, alone)
        .fit("hardness", components=["sci-powder", "kaolin"], model="linear")
        .aliased
    )
    return [
        hard.terms,
        hard.runs,
        hard.anova,
        hard.lack_of_fit,
        aliased,
        choice.candidates,
        best.prediction,
        both.responses,
        mixed.surfactants,
        mixed.at(1),
        pair.pairs,
        log.ranks("slip").blends,
    ]


def records():
    """Of every kind of record that what is reviewed, labelled, exposed and dissolved is made of, all that there are."""
    bar = td.Formula(
        "Bar", {"sci-powder": 60, "capb-30": 9, "sodium-benzoate": 4, "lavender-oil": 1, "kaolin": 26}, CATALOGUE
    )
    read = td.Reading(7.1, dilution="1+9")
    label, review = (
        bar.label(market="EU", on="2026-11-24", net="60 g"),
        bar.review(market="EU", use="shampoo-bar", on="2026-11-24", ph=read),
    )
    reviewer = td.review.Reviewer(CATALOGUE, market="EU", use="shampoo-bar", on="2026-11-24")
    state = td.ph.Solution(20).acid("citric acid", 0.4).ion("Na", 0.9).solve()
    window, plan = bar.ph_window(), trials()[1]
    parts = [
        label.items,
        label.left_out,
        label.questions,
        label.checks,
        [label.net],
        label.scents,
        [keeps for row in label.scents for keeps in row.keeps_off],
    ]
    parts += [
        td.exposure.product_types(),
        window.rows,
        window.distances(read),
        list(bar.preservatives_at(read, thresholds={"benzoic acid": 0.05})),
    ]
    parts += [
        review.statuses,
        [entry for status in review.statuses for entry in status.entries],
        review.findings,
        review.unchecked,
        [reviewer.flag("annex-v-1-rinse-off", bar)],
        state.caveats,
        state.forms["citric acid"],
        plan.portions,
    ]
    return [*parts, review.lists[0].rules]


def making_day(bar):
    """A batch as it was made, a bowl and its rescue, a record and what is read off them."""
    batch = bar.batch(mass="1 kg", readability="0.1 g", number="M-1", date="2026-11-24")
    made = batch.as_made({"kaolin": "310 g"}, added={"water": "1/2 g"}, pressed="990 g")
    test, step = (
        td.batch.ProductTest("pH", at_least=5, at_most="19/3"),
        td.batch.Step("rest", "Let it rest.", minutes=20, temperature="30.5", check="even"),
    )
    record = td.batch.BatchRecord(
        made,
        steps=[step],
        tests=[test],
        readings={"pH": [5.5, 7]},
        equipment="press",
        decision="on-hold",
        decided_by="maker A",
        decided_on="2026-12-01",
    )
    dough = bar.dough([(bar, "held well")])
    masses = {line.line: f"{float(line.rounded)} g" for line in batch.weighings}
    rescue = bar.rescue({**masses, batch.weighings[0].line: "700.3 g"}, readability="1 g")
    return [
        made,
        made.balance,
        rescue,
        rescue.additions,
        rescue.shortfalls,
        record,
        record.results,
        record.notes,
        td.batch.Records([record]),
        test,
        step,
        dough,
        dough.shares,
        dough.trials,
    ]


def made():
    """What only methods give, and what everything else is read off."""
    cat = CATALOGUE
    priced = (
        td.Brief("Wash", cat, prices={"capb-30": 3, "water": 1})
        .between("capb-30", 10, 50)
        .qs("water")
        .at_least(m.active_matter, 9)
        .minimise(m.cost)
    )
    ratio = (
        td.Brief("Wash", cat)
        .split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash")
        .qs("kaolin")
        .target(m.active_matter, 50)
    )
    conflict = (
        td.Brief("Too strong", cat).between("capb-30", 0, 50).qs("water").at_least(m.active_matter, 18).try_solve()
    )
    robust = (
        td.Brief("Robust", cat)
        .between("capb-30", 10, 90)
        .qs("kaolin")
        .at_least(m.active_matter, 10, for_every_composition=True)
        .minimise(m.water)
    )
    draft = td.Draft(
        "Half-written", [("kaolin", "10-15 %"), td.formula.DraftLine("Rosemary oil", "1 %", optional=True)]
    ).set_amount(1, "12 %")
    settled = td.Draft("Clay", [("kaolin", "1 %"), ("water", "2 %")]).normalise().settle(cat)
    batch = (
        brief()
        .solve()
        .formula.batch(
            mass="1 kg",
            bars=9,
            drying_loss="0.5",
            process_loss="1.25",
            readability="0.1 g",
            readability_of={brief().solve().formula.lines[0].phase: "1/2 g"},
            unit="kg",
            tolerance="0.5",
            number="B7",
            date="2026-11-24",
        )
    )
    bar = td.Formula("Bar", {"sci-powder": 60, "capb-30": 9, "lavender-oil": 1, "kaolin": 30}, cat)
    axis = td.axis("wash.capb-30", [1, 2, 3])
    sweep = td.Sweep(ratio, axis, measures=[m.water])
    lot = cat.lot("W-27")
    answer = priced.solve()
    return [
        *values(),
        *measured(),
        *measured_records(),
        *trial(),
        *trial_records(),
        *records(),
        *making_day(brief().solve().formula),
        answer,
        answer.limit_ranges(),
        answer.price_ranges(),
        answer.parameter_range("at-least.active-matter"),
        conflict,
        conflict.relaxations(),
        ratio,
        priced.solution_path("at-least.active-matter"),
        *priced.solution_path("at-least.active-matter").regions(1, 20),
        robust.solve().price_of_robustness(),
        draft,
        draft.questions(cat),
        settled,
        batch,
        batch.sheet(),
        batch.pressed(["66 g", "1/3 kg"]),
        bar.difference(bar.with_title("Later")),
        bar.expand(),
        bar.page(),
        bar.measures(),
        bar.measure(m.cost),
        bar.measure(m.active_matter, td.finished(moisture=5)),
        priced.reach(m.active_matter),
        priced.samples(3, seed=1),
        priced.corners(9),
        sweep,
        sweep.parts(2),
        sweep.table(),
        sweep.stream(best=(1, m.water), histograms={m.water: (0, 9, 3)}, summaries=[m.water]),
        sweep.parts(2)[0].stream(best=(1, m.water)),
        cat.material("capb-30").lot_changes(lot),
        axis,
        cat.substance("water"),
        cat.material("lavender-oil").contained,
        bar.batch(mass="1 kg", readability="9 g").notes,
        cat.substance("water").attribute("sulfate"),
        ratio.splits,
        td.ph.Acid("mine", 1, [7.2]),
        ratio.solve_rounded(td.solve.Steps("0.5", half_a_step=True)),
        td.solve.GridRefusal._of(["a"], True, "b"),
        ratio.fix("citric-acid-50", "0.3").try_solve_rounded(td.solve.Steps("0.5", half_a_step=True)),
        cat.search("betaine")[:3],
        td.material.forms(),
        td.Catalogue.check_table({"name": ["Clay"], "form": ["powdr"]}),
        td.review.Reviewer(cat, market="EU", use="shampoo-bar", on="2026-11-24"),
        td.Formula("Rinse", {"citric-acid-50": 1, "water": 99}, cat).solution(),
    ]


def walked():
    """Up to three of every class, found in attributes of attributes."""
    found, stack = {}, made()[::-1]
    while stack:
        value = stack.pop()
        if isinstance(value, (list, tuple, td.document.Table)) or (
            isinstance(value, dict) and (value := list(value.values())) is not None
        ):
            found.setdefault(type(value), []).append(value)
            stack.extend(list(value)[:40])
        elif (
            getattr(td._native, type(value).__name__, None) is type(value)
            and len(found.setdefault(type(value), [])) < 3
            and value not in found[type(value)]
        ):
            found[type(value)].append(value)
            for name, attribute in vars(type(value)).items():
                if type(attribute).__name__ == "getset_descriptor":
                    try:
                        stack.append(getattr(value, name))
                    except td.TensideError:
                        pass
    return {kind: rows for kind, rows in found.items() if getattr(td._native, kind.__name__, None) is kind}


WALKED = walked()
