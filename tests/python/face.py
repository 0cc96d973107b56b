"""The public face: every callable of the package with its parameters, and a right call of each.

What is public is found, not listed: a new method or function takes part by itself. A parameter gets a value by its
name (`VALUES`, with "Class.method.name" and "Class.name" before "name"), or by the class that the stub says of it
(`BY_CLASS`). A callable that has no value for a parameter fails its test until it is given one.
"""

from __future__ import annotations

import ast
import dataclasses
import importlib
import inspect
import pathlib
import pkgutil
import re
import tempfile
from collections.abc import Callable
from typing import Any

import matplotlib

matplotlib.use("Agg")

import tenside as td  # noqa: E402
import values  # noqa: E402
from tenside import _native, measure as m  # noqa: E402

# Modules that are no part of the face that a formulator calls, and why.
LEFT_OUT = {
    "tenside.atomic": "how files are written; it is reached through `write` and `write_csv`",
    "tenside.cluster": "needs a cluster; test_cluster.py has wrong arguments too",
    "tenside.errors": "what the library itself makes",
    "tenside.handover": "the bodies of methods of SweepTable, which are called as such",
    "tenside.progress": "the bar of `progress=True`",
}
SPECIAL = ["__getitem__", "__contains__", "__eq__", "__len__", "__float__", "__str__", "__repr__", "_repr_html_"]


@dataclasses.dataclass(frozen=True)
class Parameter:
    """One parameter of a callable."""

    name: str
    kind: Any
    annotation: str
    needed: bool


@dataclasses.dataclass(frozen=True)
class Public:
    """One callable: a function, a constructor, a method or an attribute of a class."""

    name: str
    function: Callable
    of: type | None
    parameters: tuple[Parameter, ...]

    def receiver(self) -> tuple[Any, ...]:
        """What it is a method of, or nothing."""
        if self.of is None:
            return ()
        return (
            RECEIVERS[self.name]
            if self.name in RECEIVERS
            else RECEIVERS.get(self.of.__name__) or values.WALKED[self.of][0],
        )

    def call(self, arguments: dict[str, Any]) -> Any:
        """Its result with these arguments, those after a `*` given as a tuple."""
        several = any(parameter.kind is inspect.Parameter.VAR_POSITIONAL for parameter in self.parameters)
        plain, named = list(self.receiver()), {}
        for parameter in self.parameters:
            if parameter.name not in arguments:
                continue
            if parameter.kind is inspect.Parameter.VAR_POSITIONAL:
                plain.extend(arguments[parameter.name])
            elif parameter.kind is inspect.Parameter.POSITIONAL_ONLY or (
                several and parameter.kind is inspect.Parameter.POSITIONAL_OR_KEYWORD
            ):
                plain.append(arguments[parameter.name])
            else:
                named[parameter.name] = arguments[parameter.name]
        return self.function(*plain, **named)

    def value(self, parameter: Parameter) -> Any:
        """A right value of a parameter."""
        words = re.findall(r"\w+", parameter.annotation)
        several = parameter.kind is inspect.Parameter.VAR_POSITIONAL
        whole, kind = f"{self.name}.{parameter.name}", self.name.partition(".")[0]
        for key in (whole, f"{kind}.{parameter.name}"):
            if key in VALUES:
                return VALUES[key]
        if words and words[0] in BY_CLASS and words[1:] in ([], ["None"]) and not several:
            return BY_CLASS[words[0]]
        if parameter.name in VALUES:
            return VALUES[parameter.name]
        for word in words:
            if word in BY_CLASS:
                return BY_CLASS[word]
        raise LookupError(f"say in VALUES which value the parameter {parameter.name!r} of {self.name} takes")

    def right(self, parameter: Parameter | None = None) -> dict[str, Any]:
        """The arguments of a right call: what is needed, what goes with it, and this parameter."""
        wanted = [each for each in self.parameters if each.needed or each == parameter]
        arguments = {each.name: self.value(each) for each in wanted}
        arguments = {**WITH.get(self.name, {}), **arguments}
        if parameter is not None:
            arguments |= WITH.get(f"{self.name}.{parameter.name}", WITH.get(parameter.name, {}))
        return {name: value for name, value in arguments.items() if value is not ABSENT}


def stub() -> dict[str, ast.arguments]:
    """The parameters that the stub states, by "Class.method" or "function"."""
    text = pathlib.Path(td.__file__).with_name("_native.pyi").read_text(encoding="utf-8")
    found = {}
    for node in ast.parse(text).body:
        for function in node.body if isinstance(node, ast.ClassDef) else [node]:
            if isinstance(function, ast.FunctionDef):
                found[f"{node.name}.{function.name}" if function is not node else node.name] = function.args
    return found


STUB = stub()


def stated(name: str, function: Callable) -> tuple[Parameter, ...]:
    """The parameters of a callable, as it says itself, with the annotations of the stub."""
    try:
        signature = inspect.signature(function)
    except ValueError:
        signature = inspect.Signature()
    arguments = STUB.get(name)
    every = (
        [
            *arguments.posonlyargs,
            *arguments.args,
            *arguments.kwonlyargs,
            *([arguments.vararg] if arguments.vararg else []),
        ]
        if arguments
        else []
    )
    notes = {each.arg: ast.unparse(each.annotation) for each in every if each.annotation}
    parameters = []
    for each in signature.parameters.values():
        if each.name in ("self", "cls"):
            continue
        own = each.annotation if isinstance(each.annotation, str) else ""
        needed = each.default is each.empty and each.kind is not each.VAR_POSITIONAL
        parameters.append(Parameter(each.name, each.kind, notes.get(each.name, own), needed))
    return tuple(parameters)


def members(kind: type) -> list[Public]:
    """The constructor, methods and attributes of a class."""
    found = []
    if "__new__" in vars(kind) and f"{kind.__name__}.__new__" in STUB:
        found.append(Public(kind.__name__, kind, None, stated(f"{kind.__name__}.__new__", kind)))
    for name, member in vars(kind).items():
        if name.startswith("_") and name not in SPECIAL:
            continue
        full = f"{kind.__name__}.{name}"
        if inspect.isgetsetdescriptor(member):
            found.append(Public(full, lambda value, name=name: getattr(value, name), kind, ()))
        elif isinstance(member, (classmethod, staticmethod)) or type(member).__name__ == "classmethod_descriptor":
            found.append(Public(full, getattr(kind, name), None, stated(full, getattr(kind, name))))
        elif callable(member):
            found.append(Public(full, member, kind, stated(full, member)))
    return found


def face() -> dict[str, Public]:
    """Every public callable by name."""
    modules = [td, *(importlib.import_module(each.name) for each in pkgutil.walk_packages(td.__path__, "tenside."))]
    found = {}
    for module in modules:
        if module.__name__ in LEFT_OUT:
            continue
        for name in getattr(module, "__all__", []):
            thing = getattr(module, name)
            compiled = getattr(_native, name, None) is thing
            if inspect.isclass(thing) and compiled:
                found |= {each.name: each for each in members(thing)}
            elif inspect.isroutine(thing):
                full = name if module is td or compiled else f"{module.__name__.removeprefix('tenside.')}.{name}"
                if thing not in [each.function for each in found.values()]:
                    found[full] = Public(full, thing, None, stated(name, thing))
    return found


ABSENT = object()
CATALOGUE = values.CATALOGUE
FORMULA = td.Formula("Bar", {"sci-powder": 60, "capb-30": 9, "lavender-oil": 1, "kaolin": 30}, CATALOGUE)
PRICES = {"sci-powder": "6.4", "capb-30": "2.9", "kaolin": "1.9", "cetyl-alcohol": "4.1"}
BRIEF = (
    td.Brief("Bar", CATALOGUE, prices=PRICES, currency="EUR")
    .split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash")
    .between("cetyl-alcohol", 3, 6)
    .qs("kaolin")
    .phase("melted", 75)
    .group("wet", ["capb-30"])
    .target(m.active_matter, 50)
    .at_most(m.water, 9)
    .minimise(m.cost)
)
TRIAL = (
    td.Brief("Trial", CATALOGUE)
    .split({"sci-powder": 14, "capb-30": 1}, by="weight", name="wash")
    .between("cetyl-alcohol", 3, 12)
    .between("glycerin-99-5", 0, 4)
    .qs("kaolin")
    .maximise(m.active_matter)
)
DESIGN = TRIAL.design("d-optimal", runs=5, seed=1)
OPEN = td.Brief("Open", CATALOGUE).free("kaolin").free("capb-30")
LOOSE = td.Brief("Loose", CATALOGUE).between("sci-powder", 20, 60).qs("kaolin").at_least(m.active_matter, 30)
CHOOSING = values.choosing()
DRAFT = td.Draft(
    "Half-written", [("kaolin", "10-15 %"), td.formula.DraftLine("Rosemary oil", "1 %", optional=True), ("kaolin", "80 %")]
)
SETTLED = td.Draft("Clay", [("kaolin", "60 %"), ("cetyl-alcohol", "40 %")])
RINSE = td.Formula("Rinse", {"citric-acid-50": 1, "water": 99}, CATALOGUE)
READING = td.Reading(7.9, dilution="1+9")
TITRATION, ADJUSTMENT = values.trials()[:2]
DAY = "2026-11-24"
PRODUCT = td.Product(market="EU", use="shampoo-bar", on=DAY)
AXES = (td.axis("wash.capb-30", [1, 2, 300]), td.axis("target.active-matter", [50, 51]))
SWEEP = td.Sweep(BRIEF, *AXES, measures=[m.water, m.active_matter], review=PRODUCT)
TABLE = SWEEP.table()
THREE = {"sci-powder": 14, "scs-needles": 5, "capb-30": 1}
LATTICE = (
    td.Brief("Three", CATALOGUE, prices={**PRICES, "scs-needles": 4})
    .split(THREE, by="active", name="wash")
    .qs("kaolin")
    .target(m.active_matter, 50)
    .minimise(m.cost)
    .sweep(td.lattice("wash", 6), measures=[m.water])
)
FRONT = LATTICE.pareto(minimise=["water", "objective"])
RULES = td.review.RuleList.from_toml(
    'tenside = "rules/1"\nid = "house"\ntitle = "House rules"\nsource = "house rule"\n'
    '[[rule]]\nslug = "dry-enough"\nseverity = "warning"\n'
    'title = "much water"\nmeasure = "water"\nat_most = 9\n'
)

BATCH = FORMULA.batch(mass="1 kg", readability="0.1 g", number="7", date=DAY)
MADE = BATCH.as_made({"kaolin": "310 g"}, pressed="990 g")
PH = td.batch.ProductTest("pH", at_least=5, at_most=6)
RECORD = td.batch.BatchRecord(MADE, tests=[PH], readings={"pH": 5.5})
PRICED = FORMULA.with_prices({**PRICES, "lavender-oil": 60}, currency="EUR")
PACKS = [td.cost.Pack(name, "250 g", 3) for name in ("sci-powder", "capb-30", "lavender-oil", "kaolin")]
SUPPLIER = td.cost.Supplier("Depot North", PACKS, currency="EUR")
OFFERS = td.cost.Offers([SUPPLIER], CATALOGUE, currency="EUR")
STOCK = td.cost.Stock([td.cost.StockLot("kaolin", "1 kg")], CATALOGUE, currency="EUR")
PLANNED = td.cost.PlannedBatch(FORMULA, "1 kg")
PIECES = td.cost.PlannedProduct(td.Formula("Clay", {"kaolin": 100}, CATALOGUE), "66 g", "2.40")

RESULTS = [
    OFFERS,
    STOCK,
    PRICED.costing("1 kg"),
    td.cost.purchase([PLANNED], OFFERS),
    FORMULA.bars_from_stock(STOCK, "66 g"),
    STOCK.best_mix([PIECES]),
    BRIEF.solve(),
    td.Brief("Not full", CATALOGUE).fix("kaolin", 60).try_solve(),
    LOOSE.try_solve_rounded(1),
    CHOOSING.try_choose(),
    td.Brief("On no step", CATALOGUE).fix("citric-acid-50", "0.3").qs("kaolin").try_solve_rounded(0.5),
    FORMULA.review(market="EU", use="shampoo-bar", on=DAY, rules=[RULES]),
    FORMULA.label(market="EU", on=DAY),
    FORMULA.batch(mass="1 kg", readability="0.1 g"),
    FORMULA.exposure("KAOLIN", product="shampoo"),
    MADE,
    FORMULA.rescue(MADE),
    DESIGN,
    RECORD,
    TITRATION,
    ADJUSTMENT,
    *[value for value in values.measured() if hasattr(value, "to_json")],
]

FOLDER = pathlib.Path(tempfile.mkdtemp(prefix="tenside-"))
LOGGED = values.trial()
LOG_OF_THREE = td.trial.TrialLog(
    "Three",
    {"hardness": "N"},
    [
        td.trial.TrialRun(str(n), {"sci-powder": a, "scs-needles": b, "kaolin": c}, {"hardness": y})
        for n, (a, b, c, y) in enumerate(
            [
                (100, 0, 0, 11),
                (100, 0, 0, 12.4),
                (50, 50, 0, 15),
                (0, 100, 0, 9),
                (0, 50, 50, 10),
                (0, 0, 100, 16),
                (50, 0, 50, 17),
                (50, 0, 50, 16.4),
            ]
        )
    ],
)
IN_PLOTS = td.trial.TrialLog(
    "In plots",
    {"hardness": "N"},
    [
        td.trial.TrialRun(str(n), {"sci-powder": 100 - k, "kaolin": k}, {"hardness": y}, whole_plot=str(n % 3))
        for n, (k, y) in enumerate([(20, 30.1), (20, 29.8), (40, 42.2), (60, 46.0), (60, 45.7), (80, 41.8), (100, 30.2)])
    ],
)
WEAK = td.Brief("Weak", CATALOGUE).between("capb-30", 0, 50).qs("water").at_least(m.active_matter, 18)
DOCUMENTS = {"brief": BRIEF, "catalogue": CATALOGUE, "draft": DRAFT, "formula": FORMULA, "rules": RULES}
for kind, document in DOCUMENTS.items():
    td.write(document, FOLDER / f"{kind}.toml")
PRICE_LIST = td.PriceList(PRICES, currency="EUR")
td.write(PRICE_LIST, FOLDER / "prices.toml")
for kind, sheet in zip(
    ("materials", "constituents", "names", "prices"),
    (*td.Catalogue.starter().to_csv(), PRICE_LIST.to_csv()),
    strict=True,
):
    (FOLDER / f"{kind}.csv").write_text(sheet, encoding="utf-8")

SHELF = {
    "Artikel": ["Kaolin weiss", "Betain 30"],
    "form": ["powder", "liquid"],
    "INCI": ["KAOLIN", "COCAMIDOPROPYL BETAINE"],
    "typical": [100, 30],
    "Preis": ["1.9", "2.9"],
    "Regal": [7, 8],
}

PREMIXES = {
    "Artikel": ["Two powders"] * 2,
    "form": ["powder"] * 2,
    "part": ["kaolin", "corn-starch"],
    "percent": [75, 25],
    "Regal": [7, 7],
}

RECEIVERS: dict[str, Any] = {
    "Batch": BATCH,
    "BatchRecord": RECORD,
    "Made": MADE,
    "ProductTest": PH,
    "Records": td.batch.Records([RECORD]),
    "Rescue": FORMULA.rescue(MADE),
    "Step": td.batch.Step("rest", "Let it rest.", minutes=20),
    "Adjustment": ADJUSTMENT,
    "Answer": BRIEF.solve(),
    "Answer.rounded": LOOSE.solve(),
    "Brief": BRIEF,
    "Brief.design": TRIAL,
    "Design": DESIGN,
    "Brief.at_most_of": td.Brief("Either", CATALOGUE)
    .absent_or_between("capb-30", 10, 20)
    .group("liquids", ["capb-30"]),
    "Brief.choose": CHOOSING,
    "Brief.with_present": CHOOSING,
    "Brief.line": OPEN,
    "Brief.qs": OPEN,
    "Brief.solve_rounded": LOOSE,
    "Brief.try_choose": CHOOSING,
    "Catalogue.to_csv": td.Catalogue.starter(),
    "DryingCurve": values.measured()[6],
    "TrialLog": LOGGED[0],
    "TrialLog.best_model": IN_PLOTS,
    "TrialLog.fit": IN_PLOTS,
    "Relaxation": WEAK.try_solve().relaxations()[0],
    "FittedModel": LOGGED[6],
    "FittedModel.measure": LOGGED[7],
    "Brief.best_on": td.Brief("Hard", CATALOGUE).between("kaolin", 20, 90).qs("sci-powder"),
    "Brief.most_desirable": td.Brief("Hard", CATALOGUE).between("kaolin", 20, 90).qs("sci-powder"),
    "Mould": td.batch.Mould.round(57.15),
    "Draft": DRAFT,
    "Draft.accept": td.Draft("Filled", [("kaolin", "60 %"), ("cetyl-alcohol", "q.s.")]),
    "Draft.settle": SETTLED,
    "Draft.to_formula": SETTLED,
    "Formula": FORMULA,
    "Formula.calculated_titration": RINSE,
    "Formula.costing": PRICED,
    "Offers": OFFERS,
    "Pack": PACKS[0],
    "Stock": STOCK,
    "Supplier": SUPPLIER,
    "Formula.solution": RINSE,
    "PriceList": PRICE_LIST,
    "Material.lot_changes": CATALOGUE.material("capb-30"),
    "Material.with_lot": CATALOGUE.material("capb-30"),
    "Sweep": SWEEP,
    "SweepPart": SWEEP.parts(2)[0],
    "SweepTable": TABLE,
    "Table": FORMULA.lines,
    "SweepTable.plot": FRONT,
    "SweepTable.ternary": LATTICE,
    "Titration": TITRATION,
}
# What goes with a call besides what it needs; under "Class.method.name" or "name", what goes with that argument.
# ABSENT takes away.
FROM_SHELF = {
    "columns": {"name": "Artikel", "constituent": "INCI", "price_per_kg": "Preis"},
    "ignore": ["Regal"],
    "rest_unspecified": True,
    "source": "invented",
}
FROM_PREMIXES = {"columns": {"name": "Artikel"}, "ignore": ["Regal"], "source": "invented"}
WITH: dict[str, dict[str, Any]] = {
    "Catalogue.with_table": FROM_PREMIXES,
    "Catalogue.check_with_table": FROM_PREMIXES,
    "Basis.with_bound_water": {"moisture": 5},
    "Catalogue.from_table": FROM_SHELF,
    "Catalogue.check_table": FROM_SHELF,
    "PriceList.from_table": {"currency": "EUR", "ignore": ["Regal"]},
    "PriceList.check_table": {"currency": "EUR", "ignore": ["Regal"]},
    "Substance.charge": {"charge_value": -1},
    "Substance.charge_value": {"charge": "per mole"},
    "Substance.chains": {"molar_mass": 350},
    "severity": {"review": PRODUCT},
    "scent_category": {"scent_limit": 1},
    "scent_limit": {"scent_category": "9"},
    "Formula": {"catalogue": CATALOGUE},
    "Solution.ion.charge": {"name": "bromide"},
    "Titration.effect": {"reagent": CATALOGUE.material("corn-starch")},
    "Brief.design": {"runs": 6},
    "Brief.design.whole_plot_ratio": {"process": {"press force": ("kN", 10, 40)}},
    "Brief.line.lot": {"material": "capb-30", "name": "wash"},
    "Answer.parameter_range": {"what": "highest.sci-powder"},
    "Formula.label": {"on": DAY},
    "Mould.bar": {"mass": "66 g", "density": 1.1},
    "Mould.bar.height": {"density": ABSENT},
    "Portions": {"sizes": {"bar": "60 g"}},
    "Portions.counts": {"sizes": {"bar": "60 g"}},
    "Portions.bottles": {"sizes": ABSENT, "density": 1},
    "Portions.density": {"sizes": ABSENT, "bottles": {"bottle": 250}},
    "Formula.review": {"market": "EU", "use": "shampoo-bar", "on": DAY},
    "Formula.review.product": {"product": PRODUCT, "market": ABSENT, "use": ABSENT, "on": ABSENT},
    "Measure.terms": {"content": "sum"},
    "Measure.default": {"content": "score", "scores": {"kaolin": 3}},
    "Desirability.target": {"desired": "target"},
    "Desirability": {"desired": "target", "target": 5},
    "Product": {"market": "EU", "use": "shampoo-bar", "on": DAY},
    "Batch.as_made.trim_returned": {"trim": "4 g"},
    "PriceList.from_csv": {"currency": "EUR"},
    "PriceList": {"currency": "EUR"},
    "BatchRecord.decision": {"decided_by": "maker A", "decided_on": DAY},
    "BatchRecord.decided_by": {"decision": "on-hold", "decided_on": DAY},
    "BatchRecord.decided_on": {"decision": "on-hold", "decided_by": "maker A"},
    "BatchRecord.readings": {"tests": [PH]},
    "Reviewer": {"market": "EU", "use": "shampoo-bar", "on": DAY},
    "Reviewer.product": {"product": PRODUCT, "market": ABSENT, "use": ABSENT, "on": ABSENT},
    "SweepTable.pareto": {"minimise": m.water},
    "Review.from_json": {"rules": [RULES]},
    "Review.from_toml": {"rules": [RULES]},
    "SweepTable.filter": {"at_least": 1},
    "SweepTable.best": {"minimise": m.water},
    "SweepTable.best.maximise": {"minimise": ABSENT},
    "Formula.exposure.body_weight": {"product": ABSENT, "amount": 2, "retained_percent": 1},
    "Brief.change_line": {"low": 2},
    "Brief.in_stock.amounts": {"batch": "1 kg"},
    "Brief.in_stock.batch": {"amounts": {"kaolin": "900 g"}},
    "Formula.costing.per_bar": {"bars": 9},
    "Formula.costing.washes": {"bars": 9},
    "Offers": {"currency": "EUR"},
    "Offers.rates": {"currency": "USD"},
    "Brief.change_line.fix": {"low": ABSENT},
    "Brief.change_line.or_absent": {"high": 5},
    "Brief.change_line.qs": {"line": "kaolin", "low": ABSENT},
    "Brief.line.or_absent": {"low": 1, "high": 5},
    "Brief.require": {"at_most": 30},
    "Brief.require.equal": {"at_most": ABSENT},
    "Formula.batch": {"mass": "1 kg"},
    "Formula.batch.net": {"mass": ABSENT, "bars": 24},
    "Formula.exposure": {"product": "shampoo"},
    "Formula.exposure.amount": {"product": ABSENT, "retained_percent": 1},
    "Formula.exposure.retained_percent": {"product": ABSENT, "amount": 2},
    "Formula.exposure.oral_absorption": {"oral_dose": 100},
    "Lot": {"active": 29, "method": "titrated"},
    "Measure.factors": {"content": "substance-sum", "of": "acid"},
    "Measure.classes": {"content": "substance-sum", "of": "acid", "factors": {}},
    "Measure.of": {"content": "substance"},
    "Measure.scores": {"content": "score", "of": "slip"},
    "Measure.within": {"phase": "powder"},
    "Measure.within.group": {"phase": ABSENT},
    "Measure.within.lines": {"phase": ABSENT},
    "Measure.contributed_by": {"phase": "powder"},
    "Measure.contributed_by.group": {"phase": ABSENT},
    "Measure.contributed_by.lines": {"phase": ABSENT},
}
BY_CLASS: dict[str, Any] = {
    "Brief": BRIEF,
    "Catalogue": CATALOGUE,
    "Formula": FORMULA,
    "Reading": READING,
    "Measure": m.water,
    "Basis": td.finished(moisture=5, with_bound_water=True),
    "Lot": CATALOGUE.lot("W-27"),
    "Offers": OFFERS,
    "Stock": STOCK,
    "Material": CATALOGUE.material("corn-starch"),
    "Sweep": SWEEP,
    "bool": True,
}
VALUES: dict[str, Any] = {
    "Batch.as_made.added": {"citric-acid-50": "1 g"},
    "Batch.as_made.boiled_off": "0 g",
    "Batch.as_made.in_bowl": "1 kg",
    "Batch.as_made.lots": {"capb-30": CATALOGUE.lot("W-27")},
    "Batch.as_made.pressed": "990 g",
    "Batch.as_made.rejected": "5 g",
    "Batch.as_made.trim": "4 g",
    "Batch.as_made.trim_returned": "3 g",
    "Batch.as_made.weighed": {"kaolin": "310 g"},
    "Batch.recipe_card.substitutes": ["kaolin"],
    "BatchRecord.of": MADE,
    "BatchRecord.steps": [td.batch.Step("rest", "Let it rest.")],
    "Batch.recipe_card.steps": [td.batch.Step("rest", "Let it rest.")],
    "Brief.with_present.lines": ["capb-30"],
    "Brief.design.blocks": 2,
    "Brief.design.centroids": 1,
    "Brief.design.components": ["wash", "cetyl-alcohol", "glycerin-99-5", "kaolin"],
    "Brief.design.crossing": "crossed",
    "Brief.design.kind": "d-optimal",
    "Brief.design.made": [TRIAL.solve().formula],
    "Brief.design.model": "linear",
    "Brief.design.order": "linear",
    "Brief.design.process": {"press force": ("kN", 10, 40)},
    "Brief.design.replicates": 2,
    "Brief.design.runs": 6,
    "Brief.design.starts": 2,
    "Brief.design.within": "wash",
    "Brief.formula_at.point": BRIEF.solve().exact,
    "Design.efficiency_of.made": DESIGN.formulas,
    "Brief.rescue.bowl": {"sci-powder": "80 g", "capb-30": "20 g"},
    "Brief.rescue.most": "1 kg",
    "Brief.rescue.stock": {"kaolin": "50 g"},
    "Formula.dough.trials": [(FORMULA, "held well")],
    "Formula.rescue.bowl": MADE,
    "Formula.rescue.most": "2 kg",
    "Formula.rescue.stock": {"kaolin": "50 g"},
    "ProductTest.name": "pH",
    "ProductTest.unit": "pH",
    "ProductTest.at_most": 9,
    "Records.records": [RECORD],
    "Step.kind": "rest",
    "Step.temperature": 40,
    "dough_share.of": "liquid",
    "explore.numbers": ["wash", "target.active-matter"],
    "Formula.usual_steps.form": "solid",
    "caution": "hot", "check": "even", "decided_by": "maker A", "decided_on": DAY, "decision": "on-hold", "deviations": ["left for a day"],
    "equipment": ["press, 57 mm"], "made_by": "maker A", "minutes": 20, "readings": {"pH": 5.5},
    "tests": [PH], "words": "Let it rest.",
    "Acid.enthalpy": [10, 12],
    "Acid.named.name": "citric acid",
    "Brief.at_most_of.group": "liquids",
    "Brief.at_most_of.most": 1,
    "Brief.from_json.text": BRIEF.to_json(),
    "Brief.from_toml.text": BRIEF.to_toml(),
    "Brief.drop_split.name": "wash",
    "Brief.line.name": "starch",
    "Brief.parts": {"scs-needles": 2, "coco-glucoside-50": 1},
    "Brief.split.name": "second",
    "Brief.sweep.columns": ["feasible", "objective"],
    "Brief.use_lot.line": "capb-30",
    "Catalogue.decimal_comma": False,
    "Formula.costing.washes": 60,
    "Offers.currency": "EUR",
    "Offers.rates": {"EUR": "1.1"},
    "Pack.breaks": {5: 2},
    "Pack.packs": 5,
    "PlannedProduct.most": 9,
    "PlannedProduct.value": "2.40",
    "Stock.best_mix.products": [PIECES],
    "Supplier.tax": 19,
    "StockLot.price": 4,
    "break_even.fixed": 500,
    "Formula.with_parent.parent": PRICED, "Formula.with_parent.relation": "variant",
    "history.documents": [PRICED],
    "price_effects.formulas": [PRICED],
    "price_effects.prices": {"kaolin": 3},
    "purchase.batches": [PLANNED],
    "purchase.steps": 1000,
    "SweepTable.at": {},
    "Titration.reagent": CATALOGUE.material("citric-acid-50"),
    "Catalogue.__contains__.key": "kaolin",
    "Catalogue.__getitem__.key": "kaolin",
    "Catalogue.search.text": "betaine",
    "Catalogue.filter.without": "sulfate",
    "Catalogue.filter.having": "palm",
    "Catalogue.filter.use": "shampoo-bar",
    "Catalogue.filter.phase": "powder",
    "Catalogue.filter.holding": "WATER",
    "Catalogue.filter.starter": True,
    "Catalogue.filter.or_not_known": True,
    "Catalogue.table": SHELF,
    "Catalogue.with_table.of": "premixes",
    "Catalogue.with_table.table": PREMIXES,
    "Catalogue.with_table.columns": {"name": "Artikel"},
    "Catalogue.check_with_table.of": "premixes",
    "Catalogue.check_with_table.table": PREMIXES,
    "Catalogue.check_with_table.columns": {"name": "Artikel"},
    "PriceList.price_of.material": CATALOGUE.material("kaolin"),
    "Relaxation.taken.brief": WEAK,
    "Catalogue.columns": {"name": "Artikel", "constituent": "INCI", "price_per_kg": "Preis"},
    "Catalogue.ignore": ["Regal"],
    "Catalogue.rest_unspecified": True,
    "PriceList.table": {"id": ["kaolin"], "price_per_kg": ["1.9"], "Regal": ["7"]},
    "PriceList.columns": {"price_per_kg": "price_per_kg"},
    "PriceList.ignore": ["Regal"],
    "Material.constituents": {"KAOLIN": (98, 99, 100), "WATER": 1},
    "Material.declared": {"KAOLIN": "declared"},
    "Material.unspecified": 0,
    "Material.descending": False,
    "Material.use_levels": {"shampoo-bar": (1, 20)},
    "Material.ph_range": (3, 9),
    "Material.active_convention": "assay",
    "Material.difference_to": "WATER",
    "Material.melting_point": 60,
    "Material.highest_process_temperature": 80,
    "Material.bound_water": 2,
    "Material.attributes": {"palm": False},
    "Material.natural_origin": 100,
    "Material.contained": {"KAOLIN": {"LINALOOL": (0, 0, 1)}},
    "Material.scent_reported_above": 1,
    "Material.remainder_may_hold": ["salt"],
    "Material.cautions": ["nuisance-dust"],
    "Material.aliases": ["house clay"],
    "Substance.cas": "1332-58-7",
    "Substance.label_eu": "Kaolin",
    "Substance.label_us": "Kaolin",
    "Substance.counts_as_active": True,
    "Substance.charge": "per mole",
    "Substance.charge_value": -1,
    "Substance.chains": "coconut",
    "Substance.formula": "H2O",
    "Substance.volatility": "none",
    "Substance.attributes": {"palm": False},
    "Substance.natural_origin": 100,
    "Substance.inci": "HOUSE CLAY",
    "Substance.class_": "clay",
    "Catalogue.constituents": (FOLDER / "constituents.csv").read_text(encoding="utf-8"),
    "Catalogue.lot.name": "W-27",
    "Catalogue.with_lot.lot": td.Lot("W-28", "capb-30", active=30, method="titrated"),
    "Catalogue.materials": (FOLDER / "materials.csv").read_text(encoding="utf-8"),
    "Catalogue.names": (FOLDER / "names.csv").read_text(encoding="utf-8"),
    "Catalogue.delimiter": "comma",
    "Catalogue.from_json.text": "{\"tenside\": \"catalogue/1\"}",
    "Catalogue.from_toml.text": "tenside = \"catalogue/1\"",
    "Draft.accept.question": "qs-not-water@2",
    "Draft.choice": DRAFT.questions(CATALOGUE)[0].choices[0],
    "Draft.question": DRAFT.questions(CATALOGUE)[0],
    "Draft.choose.material": "kaolin",
    "Draft.choose_lot.lot": "K7",
    "Draft.read_as.role": "comment",
    "DraftLine.lot": "K7",
    "Draft.drop_optional.line": 2,
    "Draft.from_json.text": DRAFT.to_json(),
    "Draft.from_toml.text": DRAFT.to_toml(),
    "Draft.line": 1,
    "Draft.lines": [("kaolin", "60 %"), ("talc", "40 %")],
    "Draft.merge.line": 3,
    "Draft.with_figures_in.unit": "percent",
    "Formula.candidates.line": "capb-30",
    "Formula.exposure.amount": 2,
    "Formula.from_json.text": FORMULA.to_json(),
    "Formula.from_toml.text": FORMULA.to_toml(),
    "Formula.lines": {"kaolin": 100},
    "Formula.calculated_titration.reagent": CATALOGUE.material("sodium-hydroxide-10"),
    "Formula.substitute.line": "capb-30",
    "Formula.with_prices.prices": {"kaolin": 1},
    "PriceList.decimal_comma": False,
    "PriceList.delimiter": "comma",
    "PriceList.from_csv.text": PRICE_LIST.to_csv(),
    "PriceList.from_json.text": PRICE_LIST.to_json(),
    "PriceList.from_toml.text": PRICE_LIST.to_toml(),
    "PriceList.__contains__.key": "kaolin",
    "PriceList.__getitem__.key": "kaolin",
    "read_prices.path": FOLDER / "prices.toml",
    "read_prices_csv.decimal_comma": False,
    "read_prices_csv.delimiter": "comma",
    "read_prices_csv.path": FOLDER / "prices.csv",
    "Formula.prices": {"kaolin": 1},
    "Label.scent.name": "LINALOOL",
    "Line.groups": ["powders"],
    "Material.attribute.name": "sulfate",
    "Reading.value": "5.6",
    "Reading.water": "tap",
    "RuleList.from_json.text": RULES.to_json(),
    "RuleList.from_toml.text": RULES.to_toml(),
    "Solution.ion.name": "Na",
    "Substance.attribute.name": "sulfate",
    "Sweep.columns": ["feasible", "objective"],
    "Sweep.join.parts": [part.stream() for part in SWEEP.parts(2)],
    "SweepTable.write_csv.path": "table.csv",
    "SweepTable.write_parquet.path": "table.parquet",
    "Titration.grams_at.ph": 6,
    "measure.active_of_class.name": "anionic-surfactant",
    "measure.attribute.name": "sulfate",
    "measure.class_.name": "wax",
    "measure.form.name": "powder",
    "measure.identifier": "kaolin",
    "plot.bands.table": TABLE,
    "plot.ends": {"target.active-matter": (48, 52)},
    "plot.formulas": {"bar": FORMULA, "rinse": RINSE},
    "plot.at": {},
    "plot.label": "a part",
    "plot.outcomes": [BRIEF.try_solve(), BRIEF.at_most(m.water, 1).try_solve()],
    "plot.plan": ADJUSTMENT,
    "plot.table": LATTICE,
    "plot.front.table": FRONT,
    "plot.target": 5.5,
    "plot.trial": TITRATION,
    "read.text": FORMULA.to_json(),
    "read_document.path": FOLDER / "formula.toml",
    "Table.column.name": "percent",
    "read_brief.path": FOLDER / "brief.toml",
    "read_catalogue.path": FOLDER / "catalogue.toml",
    "read_catalogue_csv.decimal_comma": False,
    "read_catalogue_csv.constituents": FOLDER / "constituents.csv",
    "read_catalogue_csv.delimiter": "comma",
    "read_catalogue_csv.materials": FOLDER / "materials.csv",
    "read_catalogue_csv.names": FOLDER / "names.csv",
    "read_draft.path": FOLDER / "draft.toml",
    "read_formula.path": FOLDER / "formula.toml",
    "read_rules.path": FOLDER / "rules.toml",
    "write.document": FORMULA,
    "write.path": "formula.toml",
    "Formula.with_purposes.line": "kaolin",
    "Product.form": "solid",
    "Reviewer.form": "solid",
    "Formula.review.form": "solid",
    "Batch.weighable.tolerance": 2,
    "DryingCurve.at.day": 9,
    "Brief.best_on.model": LOGGED[6],
    "Brief.most_desirable.wanted": [(LOGGED[6], LOGGED[9])],
    "Desirability.desired": "target",
    "Desirability.low": 1,
    "Desirability.high": 9,
    "Desirability.target": 5,
    "Desirability.of.value": 5,
    "FittedModel.predict.formula": td.Formula("Bar", {"sci-powder": 60, "kaolin": 40}, CATALOGUE),
    "FittedModel.predict.settings": {},
    "FittedModel.values_at.settings": {},
    "FittedModel.values_at.mixtures": [[0.5, 0.5]],
    "FittedModel.measure.brief": td.Brief("Hard", CATALOGUE).between("kaolin", 20, 90).qs("sci-powder"),
    "FittedModel.measure.settings": {},
    "Formula.mixed_micelles.cmcs": {row.inci: 4 for row in FORMULA.expand() if CATALOGUE.substance(row.inci).counts_as_active},
    "Formula.mixed_micelles.interactions": {},
    "MicelleInteraction.first": "8.2",
    "MicelleInteraction.second": "0.11",
    "MicelleInteraction.mixtures": [("10", "0.115"), ("50", "0.168")],
    "MixedMicelles.surfactants": {"SDS": (1, "8.2"), "C12E8": (1, "0.11")},
    "MixedMicelles.interactions": {("SDS", "C12E8"): "-3.9"},
    "MixedMicelles.at.concentration": 1,
    "Response.name": "hardness",
    "Response.unit": "N",
    "Response.method": "penetrometer",
    "Response.scale": "measured",
    "TrialLog.responses": {"hardness": "N"},
    "TrialLog.runs": [td.trial.TrialRun("7", {"sci-powder": 50, "kaolin": 50}, {"hardness": 45})],
    "TrialLog.with_runs.runs": [td.trial.TrialRun("7", {"sci-powder": 50, "kaolin": 50}, {"hardness": 45}, settings={"force": 20})],
    "TrialLog.from_csv.responses": [td.trial.Response("hardness", "N")],
    "TrialLog.from_csv.delimiter": "semicolon",
    "TrialLog.from_csv.text": "run;line.sci-powder;line.kaolin;hardness, N\n1;70;30;41\n",
    "TrialLog.from_csv.decimal_comma": True,
    "TrialLog.from_table.responses": [td.trial.Response("hardness", "N")],
    "TrialLog.from_table.table": {"run": ["1"], "line.sci-powder": [70], "line.kaolin": [30], "hardness, N": [41]},
    "TrialLog.fit.model": "linear",
    "TrialLog.fit.components": ["sci-powder", "kaolin"],
    "TrialLog.best_model.components": ["sci-powder", "kaolin"],
    "TrialLog.fit.process": {},
    "TrialLog.best_model.process": {},
    "TrialLog.fit.order": "linear",
    "TrialLog.best_model.order": "linear",
    "TrialLog.fit.crossing": "added",
    "TrialLog.best_model.crossing": "added",
    "TrialLog.best_model.criterion": "AICc",
    "TrialRun.name": "1",
    "TrialRun.made": {"sci-powder": 60, "kaolin": 40},
    "TrialRun.results": {"hardness": 41},
    "TrialRun.settings": {"force": 20},
    "TrialRun.blend": "clay 40",
    "plot.contours.model": LOG_OF_THREE.fit("hardness"),
    "plot.contours.components": ["sci-powder", "scs-needles", "kaolin"],
    "plot.contours.settings": {},
    "plot.contours.brief": td.Brief("Three", CATALOGUE).between("sci-powder", 10, 60).between("scs-needles", 5, 40).qs("kaolin"),
    "plot.measured.model": LOGGED[6],
    "plot.residuals.model": LOGGED[6],
    "plot.trace.model": LOGGED[6],
    "plot.trace.reference": {"sci-powder": 0.4, "kaolin": 0.6},
    "plot.trace.settings": {},
    "plot.trial_design.log": LOG_OF_THREE,
    "plot.trial_design.components": ["sci-powder", "scs-needles", "kaolin"],
    "plot.trial_design.brief": td.Brief("Three", CATALOGUE).between("sci-powder", 10, 60).between("scs-needles", 5, 40).qs("kaolin"),
    "trial.next_trial.log": LOG_OF_THREE,
    "trial.next_trial.response": "hardness",
    "trial.next_trial.brief": td.Brief("Three", CATALOGUE).between("sci-powder", 10, 60).between("scs-needles", 5, 40).qs("kaolin"),
    "trial.next_trial.components": ["sci-powder", "scs-needles", "kaolin"],
    "trial.next_trial.direction": "minimise",
    "trial.next_trial.candidates": 50,
    "trial.Proposal.formula": FORMULA,
    "trial.Proposal.response": "hardness, N",
    "trial.Proposal.expected": 1.0,
    "trial.Proposal.deviation": 1.0,
    "trial.Proposal.improvement": 0.0,
    "trial.Proposal.best": 1.0,
    "trial.Proposal.kernel": "",
    "trial.Proposal.candidates": 1,
    "DryingCurve.weigh_ins": {"first": [(0, "70 g"), (1, "68.2 g"), (2, "67.1 g"), (3, "66.4 g"), (4, "66 g"), (5, "65.7 g")]},
    "DryingCurve.curve.points": 5,
    "Mould.bar.density": 1.1,
    "Mould.rectangular.length": 80,
    "Mould.volume.height": 25,
    "Portions.bottles": {"bottle": 250},
    "Portions.counts": {"bar": 3},
    "Portions.sizes": {"bar": "60 g"},
    "TargetFill.at.fill": 61,
    "TargetFill.curve.points": 5,
    "UseUp.net": "60 g",
    "UseUp.price": 6,
    "UseUp.weigh_ins": {"first": [(0, "60 g"), (7, "48 g")]},
    "VerifiedScale.class_": "II",
    "VerifiedScale.error.load": "100 g",
    "VerifiedScale.interval": "0.1 g",
    "Weighable.lines": {"kaolin": "600 g", "dye": "0.3 g"},
    "Weights.test.nominal": "60 g",
    "Weights.supported_nominal.step": "1 g",
    "plot.curve": values.measured()[6],
    "plot.operating_curve.target": values.measured()[4],
    "plot.operating_curve.points": 21,
    "plot.tolerance": 0.5,
    "corner": 8, "confidence": 90, "density": 1.1, "diameter": 57.15, "domes": (3, 1), "draft": 3, "height": 25, "largest": "3 kg",
    "length": 80, "nominal": "60 g", "probability": 95, "scales": values.measured()[-2:], "standard_deviation": "0.8 g",
    "amounts": {"kaolin": "900 g"}, "cost": "1.20", "free_from": 60, "freight": 4, "goods": 50, "left": "900 g",
    "lots": [td.cost.StockLot("kaolin", "1 kg")], "offers": OFFERS, "packs": PACKS, "per_bar": {"wrapper": "0.12"},
    "per_batch": {"labour": 18}, "percent_of_direct_costs": {"overhead": 10}, "price": "6.50", "size": "1 kg",
    "stock": STOCK, "suppliers": [SUPPLIER], "use_by": "2027-01-31",
    "absorption": "1/3", "acid": "citric acid", "active": 29, "added": "8 g", "after": 5, "among": LATTICE,
    "amount": "12 %", "attribute": "sulfate", "at": {"target.active-matter": 50}, "at_least": 5, "at_most": 30,
    "axes": (td.axis("wash.capb-30", [1, 2]),), "bars": 9, "bases": (td.as_charged, td.finished(moisture=5)),
    "batch": "1 kg", "best": (2, m.water), "body_weight": 60, "by": "active", "catalogue": CATALOGUE, "charge": 1,
    "class_": "anionic-surfactant", "classes": {"wax": 1}, "code": 0, "column": m.water, 
    "columns": [m.water, m.active_matter],
    "contact": "leave-on", "content": "water", "count": 3, "currency": "EUR", "date": "2026-11-24", "decimals": 3,
    "response": "hardness", "direction": "maximise", "settings": {}, "boxes": 300, "shape": 2, "whole_plot_ratio": 2, "whole_plot": "first", "default": 0,
    "micelles": (td.trial.MixedMicelles({"SODIUM COCOYL ISETHIONATE": (1, 4)}), "1+99"),
    "declarations": [td.label.ScentDeclaration("lavender-oil", "invented", {"LINALOOL": 30})], "delimiter": ";",
    "dilution": "1+9", "division": "0.1 g", "drying_loss": 1, "effect": "lowers", "end": 2, "enthalpy": [10],
    "entries": ("sci-powder", "W-27", "kaolin"), "equal": 9, "extra": 1, "factors": {"BENZOIC ACID": 1}, "first": 0,
    "fix": 2, "form": "powder", "free_fatty_acid": 1, "giving_up": ["wash"], "grid": "0.5", "group": "wet",
    "groups": 2, "high": 90, "histograms": {m.water: (0, 30, 3)}, "id": "mix", "index": 0, "instrument": "electrode",
    "item": "kaolin", "keep": [m.active_matter], "kept": "wet", "key": 0, "kind": "brief", "limit": 9,
    "line": "cetyl-alcohol", "lines": {"kaolin": "0.1"}, "loss_on_drying": 60, "lot": "W-27", "low": 1,
    "Measure.terms": [(m.water, 1), (m.active_matter, "1/2")],
    "market": "EU", "mass": "1 kg", "masses": ["66 g", "67 g"], "material": "corn-starch", "max_gib": 1,
    "maximise": "active matter", "measures": [m.water], "method": "titrated", "minimise": m.water, "moisture": 5,
    "molality": "0.1", "molar_mass": 350, "most": "3 g", "name": "kaolin", "nano": ["KAOLIN"], "net": "60 g",
    "nodes": 500, "number": "7", "of": "KAOLIN", "on": "2026-11-24", "only": [("water", "<=", 20)],
    "oral_absorption": 40, "oral_dose": 100, "other": m.active_matter, "parts": {"corn-starch": 2, "talc": 1},
    "per": m.active_matter, "percent": 3, "ph": 5, "phase": "melted", "phases": {"melted": 75}, "pka": [3, 5],
    "pkw": 14.1, "placing": "placed", "points": [("0 g", 7.9), ("0.2 g", 6.8), ("0.4 g", 5.9)], "prices": PRICES,
    "process_loss": 2, "purposes": ["scent"], "inci": "KAOLIN", "product": "shampoo", "product_use": "shampoo-bar", "progress": lambda done, total: None,
    "readability": "0.1 g", "readability_of": {"powder": "1 g"}, "reagent": CATALOGUE.material("citric-acid-50"),
    "replacement": "coco-glucoside-50", "reporting": 1, "requirement": "water at most 9 %", "residual_moisture": 5,
    "retained_percent": 1, "retest": "2027-01-01", "review": PRODUCT, "row": 0, "rows": [1, 0], "rules": [RULES],
    "salt": 5, "sample": "100 g", "scent": "together", "scent_category": "9", "scent_limit": 1,
    "scores": {"kaolin": 3}, "seconds": 60, "seed": 1, "severity": "error", "shares": {"LINALOOL": (30, 36)},
    "slug": "annex-v-1-rinse-off", "solids": 35, "source": "invented", "split": "wash", "start": 1, "step": "0.1",
    "steps": 1, "stop": 3, "substance": "KAOLIN", "summaries": [m.water], "systemic_dose": "1/7", "target": "5.5",
    "temperature": 20, "text": "kaolin 12 %", "thresholds": {"benzoic acid": "0.05"}, "title": "Bar", "tolerance": 1,
    "typical": 5, "uncertainty": "0.1", "unit": "g", "use": ["hair"], "value": 20, "values": [1, 2], "water": 2,
    "water_activity": "0.7", "what": "target.active-matter", "width": 60, "winner": "ours", "within": {"wash": "0.1"},
    "without": "findings.certain",
}  # fmt: skip
for result in (*RESULTS, *(LOGGED[place] for place in (0, 6, 8, 11, 12, 13, 15))):
    VALUES[f"{type(result).__name__}.from_json.text"] = result.to_json()
    VALUES[f"{type(result).__name__}.from_toml.text"] = result.to_toml()
