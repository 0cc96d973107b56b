"""
The compiled half of the package `tenside`.
"""

from _typeshed import SupportsGetItem
from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import date
from decimal import Decimal
from os import PathLike
from tenside.number import Fraction
from tenside.words import ActiveConvention, Attribute, Blend, Bound, Caution, CaveatKind, Certainty, ChargeKind, CheckKind, Class, Comparison, ConstraintKind, Contact, CostBasis, Criterion, Crossing, Decision, Declaration, Delimiter, DesignKind, Desired, Direction, Effect, End, FaceShape, FigureUnit, Fits, Form, ItemClass, LineRole, Mark, Market, MatchKind, NameKind, NoteKind, Placing, PointKind, ProcessOrder, ProductForm, Purpose, QuestionKind, QuestionTopic, ReadingOutcome, Relation, ResponseScale, ResultUnit, ScaleClass, ScentAnswer, ScentNames, Severity, Side, SplitBasis, Standing, StatusKind, StepKind, Storage, TableOf, TestOutcome, Use, Verdict, Volatility, Winner
from types import GenericAlias
from typing import Any, Final, Generic, SupportsFloat, SupportsIndex, TypeVar, final, overload

_Row = TypeVar("_Row")

__all__ = ["__version__", "AcceptRates", "Acid", "AcidForm", "Addition", "Adjustment", "AliasedTerm", "AnovaRow", "Answer", "Axis", "AxisValueSummary", "BarMasses", "BarUse", "BarsFromStock", "Basis", "Batch", "BatchNote", "BatchRecord", "BestOnModel", "Binding", "Brief", "BriefRegion", "BriefRequirement", "BriefRow", "BriefSplit", "Candidate", "Candidates", "Catalogue", "Caveat", "CertificateChange", "Choice", "Chosen", "Conflict", "Constituent", "Constraint", "Contained", "Corners", "Costing", "DayWeight", "Departure", "Design", "DesignedRun", "Desirability", "DesiredResponse", "Difference", "DifferenceLine", "Dispersed", "Dough", "DoughShares", "DoughTrial", "Draft", "DraftDeparture", "DraftLine", "DriedBar", "DryingCurve", "Equilibrium", "ExpandedRow", "Exposure", "ExtraCost", "Finding", "FinerLines", "FittedModel", "FittedRun", "FittedTerm", "Flag", "Formula", "FormulaMicelles", "GridRefusal", "HistoryEntry", "InteractionPair", "Interval", "KeepsOff", "Kept", "KeptRow", "Label", "LabelCheck", "LabelItem", "LabelQuestion", "LackOfFit", "LeftOut", "LimitRange", "Line", "LineChange", "LineCost", "ListedWord", "Lot", "LotInBatch", "LotUse", "Made", "MadeLine", "MassBalance", "Material", "MaterialInStock", "MaterialPurchase", "Measure", "Measured", "MicelleInteraction", "MixMaterial", "MixRow", "MixedMicelles", "MixedSurfactant", "ModelCandidate", "ModelChoice", "MostDesirable", "Mould", "MouldedBar", "NetContent", "Offers", "Order", "OrderRow", "Pack", "PackPrice", "Page", "ParameterRange", "Parent", "PassedOver", "PathRegion", "PhDistance", "PhRange", "PhWindow", "PhWindowRow", "Phase", "PlannedBatch", "PlannedProduct", "Portion", "Portioned", "Portions", "PreDilution", "Prediction", "Pressed", "PriceEffect", "PriceList", "PriceRange", "Product", "ProductMix", "ProductTest", "ProductType", "Proof", "ProofMember", "Purchase", "Question", "RankSummary", "RankedBlend", "Reach", "Reading", "ReadyBar", "RecordNote", "Records", "Relaxation", "RequirementPrice", "Rescue", "Response", "Review", "Reviewer", "RobustnessPrice", "Rounded", "RoundedDeparture", "Rule", "RuleList", "Samples", "ScentDeclaration", "ScentRow", "SearchHit", "Settled", "Sheet", "Shortfall", "Solution", "SolutionPath", "Statement", "StatusEntry", "Step", "Steps", "Stock", "StockLot", "StreamPart", "StreamResult", "Substance", "SubstanceCharge", "SubstanceMolarMass", "SubstanceStatus", "Substitution", "Supplier", "Sweep", "SweepHistogram", "SweepPart", "SweepTable", "Table", "TableFault", "TargetFill", "TestResult", "Titration", "TrialLog", "TrialRun", "Unchecked", "Undissociated", "Unmet", "UseLevel", "UseUp", "VerifiedScale", "Weighable", "WeighableLine", "Weighing", "WeightCheck", "WeightTest", "Weights", "attributes", "axis", "break_even", "cautions", "classes", "dough_share", "finished", "forms", "geomspace", "history", "lattice", "linspace", "markets", "price_effects", "price_from_margin", "price_from_markup", "product_types", "product_uses", "purchase", "read", "scent_entries"]

__version__: Final[str]
"""
The version of the library.
"""

@final
class AcceptRates:
    """
    How often batches filled to one mean are accepted; masses in grams, rates from 0 to 1.
    """
    def __copy__(self, /) -> AcceptRates: ...
    def __deepcopy__(self, memo: Any, /) -> AcceptRates: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, fill: SupportsFloat | SupportsIndex, net: SupportsFloat | SupportsIndex, mean: SupportsFloat | SupportsIndex, short: SupportsFloat | SupportsIndex, far_short: SupportsFloat | SupportsIndex | None, at_least: SupportsFloat | SupportsIndex, at_most: SupportsFloat | SupportsIndex) -> AcceptRates: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, AcceptRates], page: Page | None) -> Table[Any]: ...
    @property
    def at_least(self, /) -> float:
        """
        All of it at least so often.
        """
    @property
    def at_most(self, /) -> float:
        """
        All of it at most so often.
        """
    @property
    def far_short(self, /) -> float | None:
        """
        How often no package of the whole batch is far short; None where the market does not ask for it.
        """
    @property
    def fill(self, /) -> float:
        """
        The mean as it is weighed, before drying.
        """
    @property
    def mean(self, /) -> float:
        """
        How often the mean of the sample is accepted.
        """
    @property
    def net(self, /) -> float:
        """
        The mean that drying leaves.
        """
    @property
    def short(self, /) -> float:
        """
        How often the number of short packages is accepted.
        """

@final
class Acid:
    """
    A weak acid or base with its constants; a base is named by its protonated form. `name` it as messages shall, with
    the `charge` of its form with every proton on, its `pka` values from there on, and the `enthalpy` of each ionisation
    in kJ/mol where they are known.

    >>> td.ph.Acid.named("citric acid").pka
    [3.128, 4.761, 6.396]
    >>> td.ph.Acid("buffer of mine, protonated", charge=1, pka=[7.2]).charges
    [1, 0]
    """
    def __copy__(self, /) -> Acid: ...
    def __deepcopy__(self, memo: Any, /) -> Acid: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, name: str, charge: SupportsIndex, pka: Iterable[SupportsFloat | SupportsIndex], enthalpy: Iterable[SupportsFloat | SupportsIndex] | None = None) -> Acid: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def all(cls, /) -> list[Acid]:
        """
        Every acid and base of the embedded table.

        >>> "lactic acid" in [acid.name for acid in td.ph.Acid.all()]
        True
        """
    @property
    def charge(self, /) -> int:
        """
        The charge of its form with every proton on.
        """
    @property
    def charges(self, /) -> list[int]:
        """
        The charges of its forms, from the fully protonated one on.
        """
    @property
    def enthalpy(self, /) -> list[float]:
        """
        The ionisation enthalpies in kJ/mol; empty if they are not known.
        """
    @property
    def is_preservative(self, /) -> bool:
        """
        True if it is used as a preservative whose undissociated form acts.
        """
    @property
    def name(self, /) -> str:
        """
        Its name.
        """
    @classmethod
    def named(cls, /, name: str) -> Acid:
        """
        The acid or base of that name in the embedded table.

        >>> td.ph.Acid.named("ammonium").charge
        1
        """
    @property
    def pka(self, /) -> list[float]:
        """
        The constants at 25 °C and no ionic strength, from the fully protonated form on.
        """
    @property
    def source(self, /) -> str:
        """
        Where charge, enthalpies and the rest come from.
        """
    def undissociated(self, /, ph: SupportsFloat | SupportsIndex) -> float:
        """
        The share, 0 to 1, of the form with every proton on at a pH, without regard to ionic strength.
        Without `ph` in the range of the scale it is refused.

        >>> round(td.ph.Acid.named("sorbic acid").undissociated(5), 4)
        0.3653
        """

@final
class AcidForm:
    """
    One form of an acid.
    """
    def __copy__(self, /) -> AcidForm: ...
    def __deepcopy__(self, memo: Any, /) -> AcidForm: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, charge: SupportsIndex, fraction: SupportsFloat | SupportsIndex) -> AcidForm: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, AcidForm], page: Page | None) -> Table[Any]: ...
    @property
    def charge(self, /) -> int:
        """
        Its charge.
        """
    @property
    def fraction(self, /) -> float:
        """
        Its share of the acid, 0 to 1.
        """

@final
class Addition:
    """
    So much of a line to add, in grams.
    """
    def __copy__(self, /) -> Addition: ...
    def __deepcopy__(self, memo: Any, /) -> Addition: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, line: str, exact: SupportsFloat | str, mass: SupportsFloat | str) -> Addition: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Addition], page: Page | None) -> Table[Any]: ...
    @property
    def exact(self, /) -> Fraction:
        """
        The exact mass.
        """
    @property
    def line(self, /) -> str:
        """
        The line of the brief.
        """
    @property
    def mass(self, /) -> Fraction:
        """
        The mass to weigh: whole divisions where a readability was stated.
        """

@final
class Adjustment:
    """
    How a batch is brought to a pH: portion by portion, each with a reading. Immutable: each portion gives a new one.

    >>> cat = td.Catalogue.starter()
    >>> points = [("0 g", 7.9), ("0.2 g", 6.8), ("0.4 g", 5.9), ("0.6 g", 5.2), ("0.8 g", 4.7)]
    >>> trial = td.ph.Titration(points, sample="100 g", reagent=cat.material("citric-acid-50"), dilution="1+9")
    >>> plan = trial.adjust("2 kg", td.Reading(7.9, dilution="1+9"), target=5.5)
    >>> plan.next_portion(division="0.1 g")
    Fraction(8, 1)
    >>> plan = plan.with_portion("8 g", td.Reading(5.85, dilution="1+9"))
    >>> plan.formula(td.Formula("Bar", {"sci-powder": 60, "kaolin": 40}, cat)).percentages["citric-acid-50"]
    Decimal('0.3984')
    """
    def __copy__(self, /) -> Adjustment: ...
    def __deepcopy__(self, memo: Any, /) -> Adjustment: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    def added(self, /) -> Fraction:
        """
        All that went in so far, in grams.
        """
    @property
    def batch(self, /) -> Fraction:
        """
        Grams of product before anything was added.
        """
    def formula(self, /, formula: Formula) -> Formula:
        """
        The formula with every portion in it.
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> Adjustment:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> Adjustment:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    @property
    def is_overshot(self, /) -> bool:
        """
        True if the last reading lies past the target.
        """
    @property
    def is_reached(self, /) -> bool:
        """
        True if the last reading is within what a reading may be off by of the target, or lies inside the range.
        """
    def next_portion(self, /, *, division: str) -> Fraction | None:
        """
        The next portion in grams, in whole divisions of the scale; None if the target is reached or less than a
        division is missing.
        """
    @property
    def notes(self, /) -> list[str]:
        """
        What to know, cautions included.
        """
    def page(self, /, *, division: str) -> Page:
        """
        The plan for people.
        `division` is that of the scale: "0.1 g".
        """
    @property
    def portions(self, /) -> Table[Portion]:
        """
        What went in so far.
        """
    @property
    def range(self, /) -> tuple[Decimal, Decimal] | None:
        """
        The ends of the range that is wanted; None where one pH is.
        """
    @property
    def reading(self, /) -> Reading:
        """
        The last reading.
        """
    def remaining(self, /) -> Interval:
        """
        The grams still missing, going by the last reading; none where that lies inside the range.
        """
    @property
    def start(self, /) -> Reading:
        """
        The reading before anything was added.
        """
    @property
    def target(self, /) -> Decimal:
        """
        The pH wanted; of a range the one in it that is nearest to the last reading.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def with_portion(self, /, added: str, reading: Reading) -> Adjustment:
        """
        With a portion as it was weighed in, and the reading after it.
        `added` is a mass: "8 g".
        """

@final
class AliasedTerm:
    """
    A term that the design cannot tell from others.
    """
    def __copy__(self, /) -> AliasedTerm: ...
    def __deepcopy__(self, memo: Any, /) -> AliasedTerm: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, term: str, of: dict[str, SupportsFloat | SupportsIndex]) -> AliasedTerm: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, AliasedTerm], page: Page | None) -> Table[Any]: ...
    @property
    def of(self, /) -> dict[str, float]:
        """
        The terms it is a sum of in every run, with their factors.
        """
    @property
    def term(self, /) -> str:
        """
        The term that was left out.
        """

@final
class AnovaRow:
    """
    A row of an analysis of variance.
    """
    def __copy__(self, /) -> AnovaRow: ...
    def __deepcopy__(self, memo: Any, /) -> AnovaRow: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, source: str, degrees_of_freedom: SupportsIndex, sum_of_squares: SupportsFloat | SupportsIndex, mean_square: SupportsFloat | SupportsIndex | None, f: SupportsFloat | SupportsIndex | None, p: SupportsFloat | SupportsIndex | None) -> AnovaRow: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, AnovaRow], page: Page | None) -> Table[Any]: ...
    @property
    def degrees_of_freedom(self, /) -> int:
        """
        Degrees of freedom.
        """
    @property
    def f(self, /) -> float | None:
        """
        Over the mean square it is compared with.
        """
    @property
    def mean_square(self, /) -> float | None:
        """
        That over the degrees of freedom.
        """
    @property
    def p(self, /) -> float | None:
        """
        How often chance alone gives such an F or a greater one.
        """
    @property
    def source(self, /) -> str:
        """
        Where the variation is from: model, inside it the steps of the model, each after those before it, residual,
        lack of fit, pure error, total.
        """
    @property
    def sum_of_squares(self, /) -> float:
        """
        Sum of squares.
        """

@final
class Answer:
    """
    The answer to a brief; a table in a notebook. The arithmetic is proved for the compositions given.

    >>> answer = td.Brief("Half", td.Catalogue.starter()).fix("sci-powder", 50).qs("kaolin").solve()
    >>> answer.exact
    {'sci-powder': Fraction(50, 1), 'kaolin': Fraction(50, 1)}
    >>> answer.formula
    <Formula "Half" of 2 lines>
    """
    def __copy__(self, /) -> Answer: ...
    def __deepcopy__(self, memo: Any, /) -> Answer: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Brief]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def binding(self, /) -> Table[Binding]:
        """
        The requirements and ranges that the exact solution meets exactly.
        """
    @property
    def brief(self, /) -> Brief:
        """
        The brief.
        """
    @property
    def departures(self, /) -> Table[Departure]:
        """
        Where the grid formula departs from an equation: splits and targets.
        """
    @property
    def exact(self, /) -> dict[str, Fraction]:
        """
        Exact percent by line: what the proof is about.
        """
    @property
    def formula(self, /) -> Formula:
        """
        The grid formula: what is weighed. Raises Contradiction if `grid_refusal` says why there is none.
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> Answer:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> Answer:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    @property
    def grid_refusal(self, /) -> GridRefusal | None:
        """
        Why there is no grid formula, if there is none.
        """
    def limit_ranges(self, /) -> Table[LimitRange]:
        """
        For every limit of a requirement or line: its shadow price and where that holds.

        >>> brief = td.Brief("Wash", td.Catalogue.starter(), prices={"capb-30": 3, "water": 0}, currency="EUR").free("capb-30").qs("water")
        >>> limit = brief.at_least(td.measure.active_matter, 12).minimise(td.measure.cost).solve().limit_ranges()[0]
        >>> limit.price, limit.low, limit.high
        (Fraction(1, 10), Fraction(0, 1), Fraction(30, 1))
        """
    @property
    def notes(self, /) -> list[str]:
        """
        What to know about what the brief asks: what the measures of its requirements and its objective leave out of the
        count, and ratios over nothing, which have no value and hold as one amount against so many times the other. Raises
        Contradiction where there is no grid formula.
        """
    @property
    def objective(self, /) -> Fraction | None:
        """
        Exact value of the objective, in its own unit.
        """
    @property
    def objective_unit(self, /) -> str | None:
        """
        The unit of the objective; None if the brief has none.
        """
    def page(self, /, *bases: "Basis") -> Page:
        """
        The grid formula, its usual measures on these bases, what binds, and what is proved.
        """
    def parameter_range(self, /, what: "str | Measure") -> ParameterRange | None:
        """
        From where to where one number of the brief, named as for `axis`, can go while the recipe keeps its structure:
        the same requirements bind, the same lines stand at their ends. The ends are exact, and no further than the
        number may go. None if several rows of the linear program move with the number, and if the answer stands just
        where two structures meet. `what` is its word.

        >>> brief = td.Brief("Powders", td.Catalogue.starter()).between("kaolin", 0, 10).between("corn-starch", 0, 30)
        >>> brief = brief.split({"kaolin": 1, "corn-starch": 1}, by="weight", name="powders").qs("water").minimise(td.measure.water)
        >>> brief.solve().parameter_range("powders.corn-starch").sentence
        'part of corn-starch in split powders at 1: the same structure up to 3.0000'
        """
    def price_of_robustness(self, /) -> RobustnessPrice:
        """
        What it costs, in the objective's unit, that requirements hold for every composition and not only for the
        typical ones.

        >>> brief = td.Brief("Wash", td.Catalogue.starter(), prices={"capb-30": 3, "water": 0}, currency="EUR").free("capb-30").qs("water")
        >>> sure = brief.at_least(td.measure.active_matter, 12, for_every_composition=True).minimise(td.measure.cost).solve()
        >>> price = sure.price_of_robustness()
        >>> price.robust - price.typical == price.price > 0, price.unit
        (True, 'EUR per kg')
        """
    def price_ranges(self, /) -> Table[PriceRange]:
        """
        For every priced raw material: the prices between which the exact solution stays best and keeps limits on the
        cost that is minimised or maximised. Refused where a requirement rests on prices in another way.
        """
    @property
    def proof(self, /) -> Proof:
        """
        The proof.
        """
    def ratio_ranges(self, /) -> Table[ParameterRange]:
        """
        The range of every part of every split that has one: how far the ratios can go while the recipe keeps its
        structure.

        >>> brief = td.Brief("Powders", td.Catalogue.starter()).between("kaolin", 0, 10).between("corn-starch", 0, 30)
        >>> brief = brief.split({"kaolin": 1, "corn-starch": 1}, by="weight", name="powders").qs("water").minimise(td.measure.water)
        >>> [(range.what, range.high) for range in brief.solve().ratio_ranges()]
        [('powders.kaolin', None), ('powders.corn-starch', Fraction(3, 1))]
        """
    def rounded(self, /, steps: Steps | SupportsFloat | str, *, seconds: SupportsFloat | str | None = None) -> Rounded:
        """
        The best formula of the same brief whose percentages are multiples of a step, or of steps, as
        `Brief.solve_rounded` finds it. The search ends after `seconds`, if they are stated, with what it has.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def verify(self, /) -> bool:
        """
        Checks everything again without the solver, the grid formula included: True, or Contradiction is raised.
        """

@final
class Axis:
    """
    What a sweep varies and the values it takes; made by `axis` and `lattice`, given to `Brief.sweep` or `Sweep`.

    >>> td.axis("wash.capb-30", [0.5, 1, 2])
    axis('wash.capb-30', [0.5, 1, 2])
    >>> len(td.axis(td.measure.active_matter, range(50, 63)))
    13
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __len__(self, /) -> int:
        """
        How many values it has; of a lattice, how many steps.
        """
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> Any: ...
    def __repr__(self, /) -> str: ...

@final
class AxisValueSummary:
    """
    What a column comes to over the rows with one value of an axis.
    """
    def __copy__(self, /) -> AxisValueSummary: ...
    def __deepcopy__(self, memo: Any, /) -> AxisValueSummary: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, column: str, axis: str, place: SupportsIndex, rows: SupportsIndex, least: SupportsFloat | SupportsIndex | None, greatest: SupportsFloat | SupportsIndex | None, mean: SupportsFloat | SupportsIndex | None) -> AxisValueSummary: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, AxisValueSummary], page: Page | None) -> Table[Any]: ...
    @property
    def axis(self, /) -> str:
        """
        The axis, as its column is named.
        """
    @property
    def column(self, /) -> str:
        """
        The column.
        """
    @property
    def greatest(self, /) -> float | None:
        """
        The greatest value; None if no row is kept.
        """
    @property
    def least(self, /) -> float | None:
        """
        The least value; None if no row is kept.
        """
    @property
    def mean(self, /) -> float | None:
        """
        The mean value; None if no row is kept.
        """
    @property
    def place(self, /) -> int:
        """
        The place of the value on the axis.
        """
    @property
    def rows(self, /) -> int:
        """
        Rows kept.
        """

@final
class BarMasses:
    """
    What one bar weighs on its way, in grams; exact means over even bars.
    """
    def __copy__(self, /) -> BarMasses: ...
    def __deepcopy__(self, memo: Any, /) -> BarMasses: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, bars: SupportsIndex, charged: SupportsFloat | str, pressed: SupportsFloat | str, dry: SupportsFloat | str) -> BarMasses: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, BarMasses], page: Page | None) -> Table[Any]: ...
    @property
    def bars(self, /) -> int:
        """
        How many.
        """
    @property
    def charged(self, /) -> Fraction:
        """
        Weighed in for one.
        """
    @property
    def dry(self, /) -> Fraction:
        """
        Left of that after drying.
        """
    @property
    def pressed(self, /) -> Fraction:
        """
        Left of it after bowl and press.
        """

@final
class BarUse:
    """
    What a wash takes of one bar.
    """
    def __copy__(self, /) -> BarUse: ...
    def __deepcopy__(self, memo: Any, /) -> BarUse: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, name: str, grams_a_wash: SupportsFloat | str) -> BarUse: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, BarUse], page: Page | None) -> Table[Any]: ...
    @property
    def grams_a_wash(self, /) -> Fraction:
        """
        Grams a wash, between the first and the last weigh-in.
        """
    @property
    def name(self, /) -> str:
        """
        What the bar, or who uses it, is called.
        """

@final
class BarsFromStock:
    """
    How many bars of a formula the stock is good for.

    >>> bar = td.Formula("Plain bar", {"sci-powder": 60, "kaolin": 40}, td.Catalogue.starter())
    >>> bars = bar.bars_from_stock(td.cost.Stock([td.cost.StockLot("sci-powder", "1 kg"), td.cost.StockLot("kaolin", "1 kg")]), "66 g")
    >>> bars.bars, bars.runs_out_first
    (25, ['sci-powder'])
    """
    def __arrow_c_schema__(self, /) -> "object":
        """
        The Arrow C schema of its columns.
        """
    def __arrow_c_stream__(self, /, requested_schema: "object | None" = None) -> "object":
        """
        The Arrow C stream of its columns: one record batch. A schema that is asked for is not converted to.
        """
    def __copy__(self, /) -> BarsFromStock: ...
    def __deepcopy__(self, memo: Any, /) -> BarsFromStock: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def bars(self, /) -> int:
        """
        How many bars.
        """
    @property
    def formula(self, /) -> Formula:
        """
        The formula.
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> BarsFromStock:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> BarsFromStock:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    @property
    def materials(self, /) -> Table[MaterialInStock]:
        """
        Every raw material, in the order of the formula.
        """
    @property
    def notes(self, /) -> list[str]:
        """
        What to know: lots that could not be used, and raw materials of which nothing is in stock.
        """
    @property
    def page(self, /) -> Page:
        """
        How many bars, and what each raw material allows.
        """
    @property
    def runs_out_first(self, /) -> list[str]:
        """
        What is too little for one bar more.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_pandas(self, /) -> "Any":
        """
        As a pandas data frame through pyarrow, its columns backed by Arrow.
        """
    def to_polars(self, /) -> "Any":
        """
        As a polars data frame.
        """
    def to_pyarrow(self, /) -> "Any":
        """
        As a pyarrow table.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """

@final
class Basis:
    """
    What a measure's hundred percent is: `as_charged`, or `finished(moisture=5)`.

    >>> td.measure.Basis() == td.as_charged
    True
    >>> str(td.finished(moisture=5))
    'finished at 5 % residual moisture'
    >>> td.finished(moisture=5, with_bound_water=True).with_bound_water
    True
    """
    def __copy__(self, /) -> Basis: ...
    def __deepcopy__(self, memo: Any, /) -> Basis: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __getnewargs_ex__(self, /) -> tuple[tuple[Fraction | None], dict[str, bool]]: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, moisture: SupportsFloat | str | None = None, *, with_bound_water: bool = False) -> Basis: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    @property
    def moisture(self, /) -> Fraction | None:
        """
        Residual moisture in percent of the finished product; None as charged.
        """
    @property
    def with_bound_water(self, /) -> bool:
        """
        Whether the water held by starches, clays and hydrates is counted in that.
        """

@final
class Batch:
    """
    A formula weighed out: rounded masses that sum exactly to the batch, and what to know about them. Masses are in
    grams.

    >>> bar = td.Formula("Plain bar", {"sci-powder": 60, "cetyl-alcohol": 15, "kaolin": 25}, td.Catalogue.starter())
    >>> batch = bar.batch(mass="200 g", bars=3, readability="0.1 g")
    >>> sum(weighing.rounded for weighing in batch.weighings) == batch.weighed == 200
    True
    """
    def __arrow_c_schema__(self, /) -> "object":
        """
        The Arrow C schema of its columns.
        """
    def __arrow_c_stream__(self, /, requested_schema: "object | None" = None) -> "object":
        """
        The Arrow C stream of its columns: one record batch. A schema that is asked for is not converted to.
        """
    def __copy__(self, /) -> Batch: ...
    def __deepcopy__(self, memo: Any, /) -> Batch: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    def as_made(self, /, weighed: Mapping[str, str] | None = None, *, lots: dict[str, str | Lot] | None = None, added: Mapping[str, str] | None = None, boiled_off: str | None = None, in_bowl: str | None = None, pressed: str | None = None, trim: str | None = None, trim_returned: str | None = None, rejected: str | None = None, catalogue: Catalogue | None = None) -> Made:
        """
        The batch as it was made. What is not stated was done as planned.

        `weighed` are the masses that lines really had ("0 g" for one left out), `lots` the lots they were really taken
        from; `added` is what was added beyond the plan, to a line or as a raw material of the `catalogue` (by default
        the starter catalogue). Water that left is `boiled_off`, or follows from the net mass `in_bowl` before pressing.
        `pressed` is the mass of all bars as pressed, `trim` what was trimmed off, `trim_returned` what of that went
        back, `rejected` what was thrown out.

        Raises NotKnown for a line that the batch does not have, OutOfRange for more water gone than the lines of water
        hold, Contradiction for more in the bowl than went in.

        >>> bar = td.Formula("Plain bar", {"sci-powder": 60, "cetyl-alcohol": 15, "kaolin": 25}, td.Catalogue.starter())
        >>> batch = bar.batch(mass="200 g", bars=3, readability="0.1 g")
        >>> made = batch.as_made(added={"water": "5 g"}, pressed="198.9 g", trim="4 g")
        >>> made.balance.in_bowl, made.balance.unaccounted
        (Fraction(205, 1), Fraction(21, 10))
        """
    @property
    def asked(self, /) -> Fraction:
        """
        The mass asked for, exact.
        """
    @property
    def bar_masses(self, /) -> BarMasses | None:
        """
        What one bar weighs on its way, where the number of bars is stated.
        """
    @property
    def date(self, /) -> str | None:
        """
        The date, if one was given.
        """
    @property
    def formula(self, /) -> Formula:
        """
        The formula.
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> Batch:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> Batch:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    @property
    def notes(self, /) -> Table[BatchNote]:
        """
        What to know beyond the numbers, heat first.
        """
    @property
    def number(self, /) -> str | None:
        """
        The batch number, if one was given.
        """
    def pressed(self, /, masses: Iterable[str]) -> Pressed:
        """
        The bars pressed from it, as they were weighed before drying: all of them, or some where the batch states how
        many there are. `masses` are theirs, one by one: "66 g".

        >>> batch = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter()).batch(mass="200 g", bars=3, readability="0.1 g")
        >>> float(batch.pressed(["66.2 g", "66.9 g", "66.3 g"]).implied_process_loss)
        0.3
        """
    def recipe_card(self, /, steps: Iterable[Step] | None = None, *, substitutes: str | Iterable[str] | None = None, catalogue: Catalogue | None = None) -> Page:
        """
        The recipe card to share with a class or with readers: cautions first, percent and masses with what each raw
        material brings, the `steps`, and what could stand in for the lines named in `substitutes`: raw materials of the
        `catalogue`, by default the starter catalogue, that keep active matter and water exactly.

        >>> bar = td.Formula("Plain bar", {"sci-powder": 60, "cetyl-alcohol": 15, "kaolin": 25}, td.Catalogue.starter())
        >>> card = bar.batch(mass="200 g", bars=3, readability="0.1 g").recipe_card(bar.usual_steps("solid"))
        >>> "typical values" in card.text()
        True
        """
    def sheet(self, /) -> Sheet:
        """
        The sheet to work by, with cautions; a page in a notebook.

        >>> sheet = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter()).batch(mass="200 g", readability="0.1 g").sheet()
        >>> "200.0 g" in sheet.text, "no safety data sheet" in sheet.markdown
        (True, True)
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_pandas(self, /) -> "Any":
        """
        As a pandas data frame through pyarrow, its columns backed by Arrow.
        """
    def to_polars(self, /) -> "Any":
        """
        As a polars data frame.
        """
    def to_pyarrow(self, /) -> "Any":
        """
        As a pyarrow table.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def weighable(self, /, scales: Iterable[VerifiedScale], *, tolerance: SupportsFloat | str) -> Weighable:
        """
        Which of its lines verified scales can weigh, each within so many percent of its own mass.

        >>> bar = td.Formula("Bar", {"sci-powder": 60, "kaolin": "39.9", "panthenol": "0.1"}, td.Catalogue.starter())
        >>> bench = td.batch.VerifiedScale("bench", "II", interval="0.1 g", largest="3 kg")
        >>> bar.batch(mass="2 kg", readability="0.1 g").weighable([bench], tolerance=2).rows[2].fits
        'too-small'
        """
    @property
    def weighed(self, /) -> Fraction:
        """
        The mass weighed: the exact sum of the rounded lines.
        """
    @property
    def weighings(self, /) -> Table[Weighing]:
        """
        The lines to weigh, phase by phase in working order.
        """

@final
class BatchNote:
    """
    What to know beyond the numbers.
    """
    def __copy__(self, /) -> BatchNote: ...
    def __deepcopy__(self, memo: Any, /) -> BatchNote: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, kind: NoteKind, line: str | None, sentence: str) -> BatchNote: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, BatchNote], page: Page | None) -> Table[Any]: ...
    @property
    def kind(self, /) -> NoteKind:
        """
        What it is about.
        """
    @property
    def line(self, /) -> str | None:
        """
        The line it is about, where it is about one.
        """
    @property
    def sentence(self, /) -> str:
        """
        The note as a sentence.
        """

@final
class BatchRecord:
    """
    The record of a batch: what was planned, what was done, what was read, and who released it; a page in a notebook, to
    print and to fill.

    `of` is a batch to be made, or one as it was made. `made_by` is who made it, `steps` are how it is worked,
    `equipment` what was used, `tests` the specification of the product with `readings` by test (one or several),
    `deviations` what went another way, in words. `decision` is "released", "rejected" or "on-hold", with `decided_by`
    and `decided_on`.

    Raises NotKnown for a reading of no test or a step of no phase, Duplicate for two tests of one name, Contradiction
    for a decision of a day before the batch.

    >>> bar = td.Formula("Plain bar", {"sci-powder": 60, "cetyl-alcohol": 15, "kaolin": 25}, td.Catalogue.starter())
    >>> batch = bar.batch(mass="200 g", readability="0.1 g", number="7", date="2026-11-24")
    >>> ph = td.batch.ProductTest("pH of a 10 % dispersion", at_least=5, at_most=6)
    >>> record = td.batch.BatchRecord(batch.as_made({"sci-powder": "124 g"}), tests=[ph], readings={"pH of a 10 % dispersion": 6.3})
    >>> [note.kind for note in record.notes]
    ['off-plan', 'test-outside', 'not-weighed']
    """
    def __copy__(self, /) -> BatchRecord: ...
    def __deepcopy__(self, memo: Any, /) -> BatchRecord: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, of: Made | Batch, *, steps: Iterable[Step] | None = None, equipment: str | Iterable[str] | None = None, made_by: str | None = None, tests: Iterable[ProductTest] | None = None, readings: dict[str, SupportsFloat | str | Iterable[SupportsFloat | str]] | None = None, deviations: str | Iterable[str] | None = None, decision: Decision | None = None, decided_by: str | None = None, decided_on: date | str | None = None) -> BatchRecord: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def batch(self, /) -> Batch:
        """
        The batch as planned.
        """
    @property
    def decision(self, /) -> Decision | None:
        """
        What was decided: "released", "rejected", "on-hold"; None where nothing was.
        """
    @property
    def deviations(self, /) -> list[str]:
        """
        What went another way.
        """
    @property
    def equipment(self, /) -> list[str]:
        """
        Equipment used.
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> BatchRecord:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> BatchRecord:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    @property
    def made(self, /) -> Made | None:
        """
        The batch as made, once it is.
        """
    @property
    def made_by(self, /) -> str | None:
        """
        Who made it.
        """
    @property
    def notes(self, /) -> Table[RecordNote]:
        """
        What to know about it: a line off its plan by more than the scales' tolerance, in percent of the line, mass
        unaccounted for by more than that beyond the process loss planned, in percent of what was in the bowl, and what
        nobody recorded.
        """
    @property
    def page(self, /) -> Page:
        """
        The record to print and fill, or as it was filled.
        """
    @property
    def results(self, /) -> Table[TestResult]:
        """
        Each test with its readings and what they come to.
        """
    @property
    def steps(self, /) -> Table[Step]:
        """
        How it is worked.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """

@final
class BestOnModel:
    """
    The best formula on a model: see `Brief.best_on`.
    """
    def __copy__(self, /) -> BestOnModel: ...
    def __deepcopy__(self, memo: Any, /) -> BestOnModel: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def bound(self, /) -> float:
        """
        What no formula of the brief is better than, by the model.
        """
    @property
    def boxes(self, /) -> int:
        """
        Boxes that were looked at.
        """
    @property
    def direction(self, /) -> Direction:
        """
        Whether little or much of it is wanted.
        """
    @property
    def formula(self, /) -> Formula:
        """
        The formula, on the grid.
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> BestOnModel:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> BestOnModel:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    @property
    def gap(self, /) -> float:
        """
        How far the formula may be from the best: bound and prediction apart.
        """
    @property
    def is_proved(self, /) -> bool:
        """
        True where that is within the tolerance and what rounding to the grid takes.
        """
    @property
    def page(self, /) -> Page:
        """
        The formula and what the model says of it on one page.
        """
    @property
    def prediction(self, /) -> Prediction:
        """
        What the model says of it.
        """
    @property
    def response(self, /) -> str:
        """
        The property, with its unit.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """

@final
class Binding:
    """
    A requirement or range that the exact solution meets exactly.
    """
    def __copy__(self, /) -> Binding: ...
    def __deepcopy__(self, memo: Any, /) -> Binding: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, constraint: Constraint, words: str, side: Side, decisive: bool) -> Binding: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Binding], page: Page | None) -> Table[Any]: ...
    @property
    def constraint(self, /) -> Constraint:
        """
        What it is about.
        """
    @property
    def decisive(self, /) -> bool:
        """
        True if the objective could be better without it.
        """
    @property
    def side(self, /) -> Side:
        """
        "at-lowest", "at-highest" or "fixed".
        """
    @property
    def words(self, /) -> str:
        """
        In the words of the brief.
        """

@final
class Brief:
    """
    What is asked for: lines, splits, requirements and an objective. Immutable: every method gives a new brief. It has a
    `title` and looks raw materials up in a `catalogue`; `prices` per kilogram are a `PriceList`, or numbers by name in
    a `currency`.

    >>> from tenside import measure as m
    >>> brief = (td.Brief("Plain bar", td.Catalogue.starter())
    ...     .split({"sci-powder": 14, "scs-needles": 5, "capb-30": 1}, by="active", name="wash")
    ...     .fix("panthenol", 1.5)
    ...     .between("cetyl-alcohol", 3, 6)
    ...     .qs("kaolin")
    ...     .target(m.active_matter, 58)
    ...     .at_most(m.water, 9))
    >>> answer = brief.solve()
    >>> answer.verify(), answer.formula.percentages["panthenol"]
    (True, Decimal('1.5'))
    """
    def __copy__(self, /) -> Brief: ...
    def __deepcopy__(self, memo: Any, /) -> Brief: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, title: str, catalogue: Catalogue, *, prices: PriceList | Mapping[str, SupportsFloat | str] | None = None, currency: str | None = None) -> Brief: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str, Catalogue]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    def absent_or_between(self, /, material: str | Material, low: SupportsFloat | str, high: SupportsFloat | str) -> Brief:
        """
        With a raw material that is either absent or between two percentages as supplied; `choose` decides.
        `low` and `high` are percent as supplied.

        >>> td.Brief("Bar", td.Catalogue.starter()).absent_or_between("cetyl-alcohol", 2, 6).lines[0].role
        'absent or between 2 and 6 %'
        """
    def at_least(self, /, measure: Measure, value: SupportsFloat | str, *, basis: Basis | None = None, for_every_composition: bool = False, name: str | None = None) -> Brief:
        """
        With a measure at or above this value. `basis` is what it is counted on, as charged unless stated;
        `for_every_composition` asks it of every composition inside the stated ranges, not of the typical one alone;
        `name` is what conflicts and axes call it.
        """
    def at_most(self, /, measure: Measure, value: SupportsFloat | str, *, basis: Basis | None = None, for_every_composition: bool = False, name: str | None = None) -> Brief:
        """
        With a measure at or below this value.
        `basis`, `for_every_composition` and `name` as for `at_least`.
        """
    def at_most_of(self, /, group: str, most: SupportsIndex) -> Brief:
        """
        With at most so many lines of a group present, a split's or one that `group` names; `choose` decides which.

        >>> brief = td.Brief("Bar", td.Catalogue.starter()).free("capb-30").free("coco-glucoside-50")
        >>> brief.group("co-surfactants", ["capb-30", "coco-glucoside-50"]).at_most_of("co-surfactants", 1).at_most_of_groups
        {'co-surfactants': 1}
        """
    @property
    def at_most_of_groups(self, /) -> dict[str, int]:
        """
        How many lines of a group may be present, by group.
        """
    def best_on(self, /, model: FittedModel, direction: Direction | None = None, *, settings: Mapping[str, SupportsFloat | str] | None = None, confidence: SupportsFloat | str | None = None, tolerance: SupportsFloat | SupportsIndex | None = None, boxes: SupportsIndex | None = None) -> BestOnModel:
        """
        The best formula of this brief on a fitted `model`, its own objective aside; by `direction` the greatest, unless
        it says `"minimise"`.

        Every formula of the brief has to have the same percentage of the model's components together. The search is
        branch and bound: each bound rests on a linear program that is proved exactly. It ends once nothing can be
        better by more than the `tolerance`, in the unit of the property (a hundredth of the residual deviation unless
        stated), or after so many `boxes` (20,000), with value and bound. `settings` by process variable and the
        `confidence` of the prediction in percent are those of `FittedModel.predict`.

        >>> results = enumerate([(20, 30.1), (20, 29.8), (40, 42.2), (60, 46.0), (60, 45.7), (80, 41.8), (100, 30.2)])
        >>> runs = [td.trial.TrialRun(str(n), {"sci-powder": 100 - k, "kaolin": k}, {"hardness": y}) for n, (k, y) in results]
        >>> model = td.trial.TrialLog("Kaolin", {"hardness": "N"}, runs).fit("hardness")
        >>> best = td.Brief("Hard", td.Catalogue.starter()).between("kaolin", 30, 90).qs("sci-powder").best_on(model)
        >>> best.is_proved, best.prediction.low < 46 < best.prediction.high
        (True, True)
        """
    def between(self, /, material: str | Material, low: SupportsFloat | str, high: SupportsFloat | str) -> Brief:
        """
        With a raw material between two percentages as supplied.
        From `low` to `high` percent.
        """
    @property
    def catalogue(self, /) -> Catalogue:
        """
        Its catalogue.
        """
    def change_line(self, /, line: str, *, fix: SupportsFloat | str | None = None, low: SupportsFloat | str | None = None, high: SupportsFloat | str | None = None, or_absent: bool = False, qs: bool = False) -> Brief:
        """
        With another role for a line: fixed, between two percentages (or absent), filling to 100, or free.
        `or_absent` lets it be absent too.

        >>> brief = td.Brief("Plain", td.Catalogue.starter()).fix("sci-powder", 50).qs("kaolin")
        >>> brief.change_line("sci-powder", low=40, high=60).lines[0].role
        'between 40 and 60 %'
        """
    def choose(self, /, nodes: SupportsIndex | None = None, *, seconds: SupportsFloat | str | None = None) -> Chosen:
        """
        Makes the choices of the brief, the best for its objective, in up to so many linear programs and about so many
        seconds; at either end it gives the best found, with `bound` and `gap`. Raises NoFormula, which carries an
        Unmet, where there is none or none was found. `nodes` are how many linear programs it may take, `seconds` how
        long.
        """
    def corners(self, /, limit: SupportsIndex = 1000) -> Corners:
        """
        The corners of what the brief allows, every formula that is no mixture of others, up to a limit.

        >>> brief = td.Brief("Powders", td.Catalogue.starter()).between("kaolin", 0, 30).free("corn-starch").qs("sci-powder")
        >>> corners = brief.corners(100)
        >>> corners.complete, corners.formulas[0]
        (True, {'kaolin': Fraction(0, 1), 'corn-starch': Fraction(0, 1), 'sci-powder': Fraction(100, 1)})
        """
    @property
    def currency(self, /) -> str | None:
        """
        The currency of the prices.
        """
    def design(self, /, kind: DesignKind, *, seed: SupportsIndex, model: Blend | None = None, runs: SupportsIndex | None = None, replicates: SupportsIndex = 1, blocks: SupportsIndex = 1, within: str | None = None, components: str | Iterable[str] | None = None, process: dict[str, tuple[str, SupportsFloat | str, SupportsFloat | str]] | None = None, order: ProcessOrder | None = None, crossing: Crossing | None = None, whole_plot_ratio: SupportsFloat | str | None = None, made: Iterable[tuple[Formula, dict[str, SupportsFloat | str]] | Formula] | None = None, steps: SupportsIndex = 2, centroids: SupportsIndex | None = None, starts: SupportsIndex = 10) -> Design:
        """
        A design of trials inside what the brief allows, whatever its objective: which bars to press so that they teach
        most, with a bound on what any design of as many could.

        `kind` is "d-optimal" or "i-optimal" (so many `runs` are chosen), "extreme-vertices", "axial", or, where the
        region is a simplex, "simplex-lattice" (of so many `steps`) or "simplex-centroid". `model` is what will be
        fitted: "linear", "quadratic", "special-cubic", "full-cubic". `seed` decides the order of the runs and where the
        search begins, `starts` times.

        Each run is made `replicates` times, in `blocks`. `within` names a split whose members alone are varied,
        everything else as in the brief's answer. `components` are those of the model, where a requirement binds them:
        the others follow. `centroids` is the greatest dimension of faces whose centroids are among the points (1:
        edges).

        `process` are process variables by name, each with its unit and the range in which it is varied, followed to
        this `order` ("linear" or "quadratic"), "added" to the mixture or "crossed" with it (`crossing`).
        `whole_plot_ratio` changes settings as seldom as can be (split-plot): all runs of one combination in a block are
        one whole plot, which shares a departure of so many times the variance of a run. Runs are chosen, and the
        efficiency is told, under that.

        `made` are bars made already: the design goes on from them. Each is a formula, or a formula with its settings by
        process variable.

        Raises Unanswerable for a brief that allows no formula, Contradiction for components that are bound by more than
        their sum (with what binds them) and for points that cannot tell terms apart, OutOfRange for fewer runs than
        terms (with the terms).

        >>> brief = td.Brief("Bar", td.Catalogue.starter()).between("sci-powder", 40, 70).between("cetyl-alcohol", 3, 12).qs("kaolin")
        >>> design = brief.design("d-optimal", model="quadratic", runs=8, seed=1, process={"press force": ("kN", 10, 40)})
        >>> design.terms[-1], design.efficiency > 0.9
        ('press force', True)
        >>> split = brief.design("d-optimal", runs=8, seed=1, blocks=2, process={"press force": ("kN", 10, 40)}, whole_plot_ratio=1)
        >>> max(run.whole_plot for run in split.runs)
        4
        >>> more = brief.design("d-optimal", runs=2, seed=1, made=[brief.solve().formula] * 3)
        >>> len(more.runs)
        2
        """
    def drop_line(self, /, line: str) -> Brief:
        """
        Without a line; a line that a split needs stays.
        """
    def drop_requirement(self, /, requirement: str | Constraint) -> Brief:
        """
        Without a requirement, by its name or by what a conflict's `constraints` say of it.

        >>> brief = td.Brief("Plain", td.Catalogue.starter()).qs("kaolin").at_most(td.measure.water, 9)
        >>> brief.drop_requirement("water at most 9 %").requirements
        []
        """
    def drop_split(self, /, name: str) -> Brief:
        """
        Without a split; its lines stay.
        `name` is the split's.
        """
    def fix(self, /, material: str | Material, percent: SupportsFloat | str) -> Brief:
        """
        With a raw material fixed at a percentage as supplied.
        It is `percent` of the product.
        """
    def formula_at(self, /, point: Mapping[str, SupportsFloat | str] | Iterable[SupportsFloat | str]) -> Formula:
        """
        The formula nearest to a `point`, on the grid: a corner, a sample, `Answer.exact`. `point` is the percentage of
        every line, by name or in the order of the lines.

        It is rounded as `solve` rounds: ranges and one-sided requirements hold exactly, splits and targets may be
        missed by what one part per million of the lines does. A point may lie outside by what half of that does, as
        samples in floats do.

        Raises OutOfRange for a point further outside, with every line and requirement that it does not meet.

        >>> brief = td.Brief("Powders", td.Catalogue.starter()).free("kaolin").free("corn-starch").qs("sci-powder")
        >>> third = brief.formula_at({"kaolin": "100/3", "corn-starch": "100/3", "sci-powder": "100/3"})
        >>> third.line("sci-powder").percent
        Decimal('33.3334')
        >>> [brief.formula_at(corner).title for corner in brief.corners().formulas]
        ['Powders', 'Powders', 'Powders']
        """
    def free(self, /, material: str | Material) -> Brief:
        """
        With a raw material that may take any percentage.
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> Brief:
        """
        Reads a brief document in JSON; what it does not embed is looked up in the catalogue.
        `text` is the document.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> Brief:
        """
        Reads a brief document in TOML; what it does not embed is looked up in the catalogue.
        `text` is the document.

        >>> brief = td.Brief("Clay", td.Catalogue.starter()).qs("kaolin")
        >>> td.Brief.from_toml(brief.to_toml()) == brief == td.Brief.from_json(brief.to_json())
        True
        """
    def group(self, /, name: str, lines: str | Iterable[str]) -> Brief:
        """
        With lines joined into a named group, for scopes of measures.
        `name` is the group's.
        """
    @property
    def has_choices(self, /) -> bool:
        """
        True if lines may be absent or a group is limited: such a brief is answered by `choose` and `solve_rounded`.
        """
    def in_phase(self, /, line: str, phase: str) -> Brief:
        """
        With a line moved to another phase.
        """
    def in_stock(self, /, *entries: "str", amounts: dict[str, str] | None = None, batch: str | None = None) -> Brief:
        """
        With what is in stock, `entries` being lots or material ids: a material serves all its lines, a lot the lines
        that name it and, if it is the only one of its material, those that name none; lines that nothing serves are
        required to be 0. Of those in `amounts`, masses by lot or id, the lines take no more together in a `batch` of
        which so much is weighed in.

        >>> brief = td.Brief("Plain bar", td.Catalogue.starter()).between("sci-powder", 40, 90).between("kaolin", 10, 60)
        >>> float(brief.in_stock("kaolin", amounts={"sci-powder": "900 g"}, batch="2 kg").solve().exact["sci-powder"])
        45.0
        """
    def least_change_from(self, /, formula: Formula) -> Brief:
        """
        Asking for the formula that changes least from a given one: the least sum of the changes, which falls to few
        lines.
        """
    def least_squares_from(self, /, formula: Formula) -> Brief:
        """
        Asking for the formula nearest to a given one by least squares: many small changes rather than a large one.

        >>> cat = td.Catalogue.starter()
        >>> base = td.Formula("Three", {"capb-30": 20, "glycerin-99-5": 40, "water": 40}, cat)
        >>> brief = td.Brief("Three", cat).between("capb-30", 23, 100).free("glycerin-99-5").qs("water")
        >>> brief.least_squares_from(base).solve().exact["water"]
        Fraction(77, 2)
        """
    def line(self, /, name: str, material: str | Material, *, phase: str | None = None, lot: str | Lot | None = None, fix: SupportsFloat | str | None = None, low: SupportsFloat | str | None = None, high: SupportsFloat | str | None = None, or_absent: bool = False, qs: bool = False) -> Brief:
        """
        With a line that has a name of its own: fixed, between two percentages (or absent), filling to 100, or free.
        Its `material`, or a `lot` of it; percentages from `low` to `high`, with `or_absent` also none.

        >>> brief = td.Brief("Two clays", td.Catalogue.starter()).line("on top", "kaolin", phase="cool-down", fix=2).qs("kaolin")
        >>> [(line.name, line.phase, line.role) for line in brief.lines]
        [('on top', 'cool-down', 'fixed at 2 %'), ('kaolin', 'powder', 'to 100 %')]
        """
    def line_ranges_within(self, /, extra: SupportsFloat | str) -> dict[str, tuple[Fraction, Fraction]]:
        """
        The lowest and highest percentage of each line among the formulas whose objective is at most `extra` worse than
        the best.

        >>> brief = td.Brief("Two", td.Catalogue.starter(), prices={"capb-30": 3, "water": 0}).between("capb-30", 10, 50).qs("water")
        >>> brief.minimise(td.measure.cost).line_ranges_within("0.3")["capb-30"]
        (Fraction(10, 1), Fraction(20, 1))
        """
    @property
    def lines(self, /) -> Table[BriefRow]:
        """
        Its lines.
        """
    def materials_without_use_level(self, /, product_use: str) -> list[str]:
        """
        The raw materials that state no use level for a product use.
        `product_use` is a word such as "shampoo-bar", or what a material of your own states.
        """
    def maximise(self, /, measure: Measure, *, basis: Basis | None = None) -> Brief:
        """
        Asking for the formula with the greatest value of a measure.
        `basis` is what it is counted on, as charged unless stated.
        """
    def minimise(self, /, measure: Measure, *, basis: Basis | None = None) -> Brief:
        """
        Asking for the formula with the least value of a measure.
        `basis` is what it is counted on, as charged unless stated.
        """
    def most_desirable(self, /, wanted: Iterable[tuple[FittedModel, Desirability]], *, settings: Mapping[str, SupportsFloat | str] | None = None, confidence: SupportsFloat | str | None = None, tolerance: SupportsFloat | SupportsIndex | None = None, boxes: SupportsIndex | None = None) -> MostDesirable:
        """
        The formula of this brief that is the most desirable on several models of the same components, its own objective
        aside. `wanted` are models, each with the desirability of its property; together they count by their geometric
        mean. `tolerance` is in desirability, 0.001 unless stated; the other keywords are those of `best_on`:
        `settings`, `confidence`, `boxes`.

        >>> results = enumerate([(20, 30, 9), (40, 42, 8), (60, 46, 6), (80, 42, 3), (100, 30, 1), (50, 45, 7)])
        >>> runs = [td.trial.TrialRun(str(n), {"sci-powder": 100 - k, "kaolin": k}, {"hardness": y, "foam": f}) for n, (k, y, f) in results]
        >>> log = td.trial.TrialLog("Kaolin", {"hardness": "N", "foam": "cm"}, runs)
        >>> wanted = [(log.fit("hardness"), td.trial.Desirability("larger", 30, 45)), (log.fit("foam"), td.trial.Desirability("larger", 5, 9))]
        >>> best = td.Brief("Both", td.Catalogue.starter()).between("kaolin", 20, 90).qs("sci-powder").most_desirable(wanted)
        >>> best.is_proved, 0.5 < best.desirability <= best.bound
        (True, True)
        """
    @property
    def objective(self, /) -> str | None:
        """
        Its objective in words; None asks for the middle of the ranges.
        """
    @property
    def page(self, /) -> Page:
        """
        The page that is shown: lines, splits, requirements, what is to be best.
        """
    def parameter_value(self, /, what: "str | Measure") -> Fraction:
        """
        The value of one number of the brief, named as for `axis`.
        `what` is its word.

        >>> td.Brief("Bar", td.Catalogue.starter()).between("cetyl-alcohol", 3, 6).parameter_value("highest.cetyl-alcohol")
        Fraction(6, 1)
        """
    def phase(self, /, name: str, temperature: SupportsFloat | str | None = None) -> Brief:
        """
        With a phase and its temperature in °C; phases keep the order in which they are stated.
        `name` is the phase's.
        """
    @property
    def phases(self, /) -> Table[Phase]:
        """
        Its phases, in working order.
        """
    @property
    def prices(self, /) -> dict[str, Decimal] | None:
        """
        Prices per kilogram by material id.
        """
    def qs(self, /, material: str | Material) -> Brief:
        """
        With the raw material that fills to 100.
        """
    def reach(self, /, measure: Measure, basis: Basis | None = None) -> Reach:
        """
        The lowest and highest value a measure can have under this brief, exact, whatever its objective.
        `basis` is what it is counted on, as charged unless stated.

        >>> reach = td.Brief("Two", td.Catalogue.starter()).between("capb-30", 10, 50).qs("water").reach(td.measure.active_matter)
        >>> reach
        Reach(lowest=Fraction(3, 1), highest=Fraction(15, 1), unit='%')
        >>> print(reach)
        3.0000 to 15.0000 %
        """
    def region(self, /) -> BriefRegion:
        """
        What the brief allows, whatever its objective, as plain matrices.

        >>> brief = td.Brief("Bar", td.Catalogue.starter()).between("sci-powder", 30, 70).qs("kaolin").at_most(td.measure.water, 9)
        >>> region = brief.region()
        >>> region.names, region.row_names[0], region.equalities
        (['sci-powder', 'kaolin'], 'the lines sum to 100 %', [0])
        """
    def require(self, /, measure: Measure, *, equal: SupportsFloat | str | None = None, at_least: SupportsFloat | str | None = None, at_most: SupportsFloat | str | None = None, basis: Basis | None = None, for_every_composition: bool = False, name: str | None = None) -> Brief:
        """
        With a measure at `equal`, or `at_least` and `at_most`, or one of these.
        `basis`, `for_every_composition` and `name` as for `at_least`.

        >>> brief = td.Brief("Wash", td.Catalogue.starter()).require(td.measure.water, at_least=5, at_most=9, name="workable")
        >>> brief.requirements[0].name
        'workable'
        """
    @property
    def requirements(self, /) -> Table[BriefRequirement]:
        """
        Its requirements.
        """
    def rescue(self, /, bowl: Made | Mapping[str, str], *, most: str | None = None, stock: Mapping[str, str] | None = None, readability: str | None = None) -> Rescue:
        """
        What to add to a `bowl` so that all of it meets this brief: the least total that does; where bowl or stock are
        too small for that, what comes nearest, with what is not met.

        `bowl` is what is in it, mixed: masses by line (a name that is no line is a raw material of the brief's
        catalogue: the wrong drum), or a batch as made. `most` is what the bowl can hold, `stock` what is left of lines,
        `readability` what the scale for additions counts in.

        Raises Missing for an empty bowl, Contradiction for more in it than it holds, Unsupported for a brief with
        choices.

        >>> brief = td.Brief("Wash", td.Catalogue.starter()).free("capb-30").qs("water").target(td.measure.active_matter, 12)
        >>> brief.rescue({"capb-30": "60 g", "water": "40 g"}).total
        Fraction(150, 1)
        >>> brief.rescue({"capb-30": "60 g", "water": "40 g"}, most="120 g").sentence
        'Bowl or stock are too small to bring everything back; that takes 150.0 g in all. As near as can be: add 20 g of water; not met: active matter at 12 % (is 15.0000, should be 12.0000 %). Or keep 80.0 g of the mix, throw the rest away, and bring that back.'
        """
    def samples(self, /, count: SupportsIndex, *, seed: SupportsIndex, progress: bool | Callable[[int, int], object] | None = None) -> Samples:
        """
        `count` formulas drawn evenly from all that the brief allows, whatever its objective; the same for the same
        seed. `progress` is True for a bar, or called with how many are drawn and how many in all.

        >>> brief = td.Brief("Powders", td.Catalogue.starter()).free("kaolin").free("corn-starch").qs("sci-powder")
        >>> samples = brief.samples(500, seed=1)
        >>> samples.dimension, samples.burn_in, len(samples.lines["kaolin"])
        (2, 1400, 500)
        """
    @property
    def sha256(self, /) -> str:
        """
        SHA-256 of its document as JSON, raw materials embedded, keys sorted, without white space.
        """
    def solution_path(self, /, what: "str | Measure") -> SolutionPath:
        """
        The answers of the brief as one of its numbers, named as for `axis`, moves.
        `what` is its word.
        """
    def solve(self, /) -> Answer:
        """
        Solves the brief; raises Unanswerable, which carries the conflict, where no formula meets it.

        >>> strong = td.Brief("Too strong", td.Catalogue.starter()).between("capb-30", 0, 50).qs("water").at_least(td.measure.active_matter, 40)
        >>> try: strong.solve()
        ... except td.errors.Unanswerable as error: print(error.conflict.members[0])
        active matter at least 40 %
        """
    def solve_rounded(self, /, steps: Steps | SupportsFloat | str, *, seconds: SupportsFloat | str | None = None) -> Rounded:
        """
        Solves the brief for percentages that are multiples of a step, or of steps; raises NoFormula, which carries an
        Unmet, where there is no such formula or none was found. The search ends after about so many seconds as after
        its linear programs: with the best found, `bound` and `gap`.

        >>> brief = td.Brief("Plain bar", td.Catalogue.starter()).between("sci-powder", 30, 70).fix("citric-acid-50", "0.3").qs("kaolin")
        >>> try: brief.solve_rounded(0.5)
        ... except td.errors.NoFormula as error: print(error.unmet.sentence)
        no formula of multiples of 0.5 % meets this: line citric-acid-50, fixed at 0.3 %; steps of 0.1 % would do; so would steps of 0.1 % for citric-acid-50, kaolin alone
        >>> brief.solve_rounded(td.solve.Steps(0.5, lines={"citric-acid-50": 0.3, "kaolin": 0.1})).verify()
        True
        """
    def split(self, /, parts: Mapping[str, SupportsFloat | str], *, by: SplitBasis, name: str) -> Brief:
        """
        With a named ratio by "weight" as supplied, by "active" matter or by "mole" of active. Members that are no lines
        yet become free. `parts` are numbers by line, in the ratio wanted; `name` is the split's.
        """
    @property
    def splits(self, /) -> Table[BriefSplit]:
        """
        Its splits.
        """
    def sweep(self, /, *axes: "Axis", measures: "Iterable[Measure | tuple[Measure, Basis]] | None" = None, columns: "str | Measure | Iterable[str | Measure] | None" = None, review: Product | None = None, severity: Severity | None = None, micelles: tuple[MixedMicelles, str] | None = None, progress: bool | Callable[[int, int], object] | None = None, max_gib: SupportsIndex | None = None) -> SweepTable:
        """
        Every combination of the axes' values worked out, the last axis fastest; see `Sweep` for what is too large to
        keep. The columns are the axes, the lines, the measures that requirements and objective name, `measures`, the
        objective, whether there is a formula, what binds and what conflicts, and what a `review` says (of `severity`),
        and mixed `micelles`, as for `Sweep`; or `columns` of these. `progress` is True for a bar, or called with rows
        done and rows in all; `max_gib` is how much memory the table may take.

        >>> brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
        >>> brief = brief.target(td.measure.active_matter, 50).at_most(td.measure.water, 9)
        >>> brief.sweep(td.axis("wash.capb-30", [0.5, 1, 8]), td.axis(td.measure.active_matter, range(50, 63)))
        <SweepTable of "Wash": 39 rows, 10 columns>
        >>> shampoo = td.Product(market="EU", use="shampoo-bar", on="2026-11-24")
        >>> brief = brief.fix("sodium-benzoate", 1).with_purposes("sodium-benzoate", "preservative")
        >>> table = brief.sweep(td.axis("sodium-benzoate", [1, 4]), review=shampoo, severity="error")
        >>> [table.read_findings(code) for code in table.column("findings")]
        [[], ['annex-v-1-rinse-off']]
        >>> brief.sweep(td.axis("sodium-benzoate", [1, 4]), columns=["line.kaolin", td.measure.solids]).columns
        ['line.kaolin', 'solids']
        """
    def target(self, /, measure: Measure, value: SupportsFloat | str, *, basis: Basis | None = None, for_every_composition: bool = False, name: str | None = None) -> Brief:
        """
        With a measure at exactly this value.
        `basis`, `for_every_composition` and `name` as for `at_least`.
        """
    @property
    def title(self, /) -> str:
        """
        Its title.
        """
    def to_json(self, /, *, materials: bool = True) -> str:
        """
        As a JSON document that embeds what the lines use; with `materials=False` one that names its raw materials only.
        """
    def to_toml(self, /, *, materials: bool = True) -> str:
        """
        As a TOML document that embeds what the lines use; with `materials=False` one that names its raw materials only.
        """
    def try_choose(self, /, nodes: SupportsIndex | None = None, *, seconds: SupportsFloat | str | None = None) -> Chosen | Unmet:
        """
        Makes the choices of the brief: a Chosen, or the Unmet.
        `nodes` are how many linear programs it may take, `seconds` how long.
        """
    def try_solve(self, /) -> Answer | Conflict:
        """
        Solves the brief: an Answer, or the Conflict.
        """
    def try_solve_rounded(self, /, steps: Steps | SupportsFloat | str, *, seconds: SupportsFloat | str | None = None) -> Rounded | Unmet:
        """
        Solves the brief for percentages that are multiples of a step, or of steps: a Rounded, or the Unmet.
        The search ends after `seconds`, if they are stated, with what it has.
        """
    def use_lot(self, /, line: str, lot: str | Lot) -> Brief:
        """
        With a lot, or one of the catalogue by its name, for a line.

        >>> lot = td.Lot("W-27", "capb-30", active=29.1, method="titrated")
        >>> brief = td.Brief("Wash", td.Catalogue.starter()).fix("capb-30", 10).qs("kaolin").use_lot("capb-30", lot)
        >>> brief.lines[0].material
        <Material "capb-30", lot "W-27">
        """
    def with_parameter(self, /, what: "str | Measure", value: SupportsFloat | str) -> Brief:
        """
        The brief with one number of it, named as for `axis`, at another value.
        `what` is its word.

        >>> brief = td.Brief("Bar", td.Catalogue.starter()).fix("panthenol", 1.5).qs("kaolin").at_most(td.measure.water, 9)
        >>> brief.with_parameter("panthenol", 2).with_parameter(td.measure.water, 8).requirements[0].name
        'water at most 8 %'
        """
    def with_present(self, /, lines: str | Iterable[str]) -> Brief:
        """
        With its choices made by hand: of the lines that may be absent or belong to a limited group, `lines` are in, the
        others fixed at 0. What is decided so can be solved and swept like any brief.

        >>> brief = td.Brief("Bar", td.Catalogue.starter()).absent_or_between("capb-30", 2, 10).qs("kaolin")
        >>> [line.role for line in brief.with_present("capb-30").lines], [line.role for line in brief.with_present([]).lines]
        (['between 2 and 10 %', 'to 100 %'], ['fixed at 0 %', 'to 100 %'])
        """
    def with_prices(self, /, prices: PriceList | Mapping[str, SupportsFloat | str], *, currency: str | None = None) -> Brief:
        """
        With prices per kilogram by the name of a raw material in the catalogue or of one of the lines, or a
        `PriceList`, which states its own currency.
        """
    def with_purposes(self, /, line: str, purposes: Purpose | Iterable[Purpose]) -> Brief:
        """
        With what a line is there for stated, all of it. Some limits are those of one purpose only.

        >>> brief = td.Brief("Scalp", td.Catalogue.starter()).fix("salicylic-acid", 2).qs("kaolin")
        >>> brief.with_purposes("salicylic-acid", "anti-dandruff").lines[0].purposes
        ['anti-dandruff']
        """
    def with_title(self, /, title: str) -> Brief:
        """
        With another title.
        """
    def within(self, /, measure: Measure, low: SupportsFloat | str, high: SupportsFloat | str, *, basis: Basis | None = None, for_every_composition: bool = False, name: str | None = None) -> Brief:
        """
        With a measure between two values.
        From `low` to `high`; `basis`, `for_every_composition` and `name` as for `at_least`.
        """
    def within_use_levels(self, /, product_use: str) -> Brief:
        """
        With the recommended use levels of a product use as named requirements, those of raw materials in premixes among
        them; `materials_without_use_level` lists what has none. `product_use` is a word such as "shampoo-bar", or what a material of your own states.
        """
    def without(self, /, attribute: Attribute) -> Brief:
        """
        Without any raw material that has the attribute: "sulfate", "palm", "animal", "silicone" or "ethoxylated".
        """

@final
class BriefRegion:
    """
    What a brief allows as plain matrices, for any optimiser: `low <= x <= high` and `lower <= A x <= upper`, with x
    the percentages of the lines.
    """
    def __copy__(self, /) -> BriefRegion: ...
    def __deepcopy__(self, memo: Any, /) -> BriefRegion: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, names: SupportsGetItem[int, str], low: SupportsGetItem[int, SupportsFloat | SupportsIndex], high: SupportsGetItem[int, SupportsFloat | SupportsIndex], matrix: SupportsGetItem[int, SupportsGetItem[int, SupportsFloat | SupportsIndex]], lower: SupportsGetItem[int, SupportsFloat | SupportsIndex], upper: SupportsGetItem[int, SupportsFloat | SupportsIndex], row_names: SupportsGetItem[int, str], equalities: SupportsGetItem[int, SupportsIndex], exact_matrix: SupportsGetItem[int, SupportsGetItem[int, SupportsFloat | str]], exact_lower: SupportsGetItem[int, SupportsFloat | str | None], exact_upper: SupportsGetItem[int, SupportsFloat | str | None]) -> BriefRegion: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, BriefRegion], page: Page | None) -> Table[Any]: ...
    @property
    def equalities(self, /) -> list[int]:
        """
        The rows whose least is their most.
        """
    @property
    def exact_lower(self, /) -> list[Fraction | None]:
        """
        The least of each row, exactly; None where it has no least.
        """
    @property
    def exact_matrix(self, /) -> list[list[Fraction]]:
        """
        A with exact fractions.
        """
    @property
    def exact_upper(self, /) -> list[Fraction | None]:
        """
        The most.
        """
    @property
    def high(self, /) -> list[float]:
        """
        The greatest.
        """
    @property
    def low(self, /) -> list[float]:
        """
        The least percentage of each line.
        """
    @property
    def lower(self, /) -> list[float]:
        """
        The least that each row may come to; minus infinity where it has no least.
        """
    @property
    def matrix(self, /) -> list[list[float]]:
        """
        A, row by row.
        """
    @property
    def names(self, /) -> list[str]:
        """
        The lines: what each column of A is.
        """
    @property
    def row_names(self, /) -> list[str]:
        """
        What each row says, in the words of the brief.
        """
    @property
    def upper(self, /) -> list[float]:
        """
        The most; infinity where it has none.
        """

@final
class BriefRequirement:
    """
    A measure and the values it may have.
    """
    def __copy__(self, /) -> BriefRequirement: ...
    def __deepcopy__(self, memo: Any, /) -> BriefRequirement: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, name: str, measure: Measure, basis: Basis, low: SupportsFloat | str | None, high: SupportsFloat | str | None, for_every_composition: bool) -> BriefRequirement: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, BriefRequirement], page: Page | None) -> Table[Any]: ...
    @property
    def basis(self, /) -> Basis:
        """
        The basis.
        """
    @property
    def for_every_composition(self, /) -> bool:
        """
        True if it is to hold for every composition.
        """
    @property
    def high(self, /) -> Fraction | None:
        """
        The highest allowed value.
        """
    @property
    def low(self, /) -> Fraction | None:
        """
        The lowest allowed value.
        """
    @property
    def measure(self, /) -> Measure:
        """
        The measure.
        """
    @property
    def name(self, /) -> str:
        """
        The user's name for it, else what it asks for.
        """

@final
class BriefRow:
    """
    A raw material in a brief and the percentages it may have.
    """
    def __copy__(self, /) -> BriefRow: ...
    def __deepcopy__(self, memo: Any, /) -> BriefRow: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, name: str, material: Material, phase: str, role: str, low: Decimal, high: Decimal, groups: SupportsGetItem[int, str], purposes: SupportsGetItem[int, Purpose]) -> BriefRow: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, BriefRow], page: Page | None) -> Table[Any]: ...
    @property
    def groups(self, /) -> list[str]:
        """
        The groups it belongs to, splits included.
        """
    @property
    def high(self, /) -> Decimal:
        """
        The highest percentage.
        """
    @property
    def low(self, /) -> Decimal:
        """
        The lowest percentage.
        """
    @property
    def material(self, /) -> Material:
        """
        Its raw material, typical or a lot.
        """
    @property
    def name(self, /) -> str:
        """
        Its name.
        """
    @property
    def phase(self, /) -> str:
        """
        Its phase.
        """
    @property
    def purposes(self, /) -> list[Purpose]:
        """
        What it is there for; empty if that is not stated.
        """
    @property
    def role(self, /) -> str:
        """
        In words: "fixed at 1.5 %", "to 100 %".
        """

@final
class BriefSplit:
    """
    Lines that stand in a stated ratio.
    """
    def __copy__(self, /) -> BriefSplit: ...
    def __deepcopy__(self, memo: Any, /) -> BriefSplit: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, name: str, by: SplitBasis, parts: SupportsGetItem[int, tuple[str, SupportsFloat | str]]) -> BriefSplit: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, BriefSplit], page: Page | None) -> Table[Any]: ...
    @property
    def by(self, /) -> SplitBasis:
        """
        What the parts are parts of: "weight", "active" or "mole".
        """
    @property
    def name(self, /) -> str:
        """
        Its name.
        """
    @property
    def parts(self, /) -> list[tuple[str, Fraction]]:
        """
        Parts by line.
        """

@final
class Candidate:
    """
    A raw material that matches, with what putting it in comes to.
    """
    def __copy__(self, /) -> Candidate: ...
    def __deepcopy__(self, memo: Any, /) -> Candidate: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, material: Material, substitution: Substitution) -> Candidate: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Candidate], page: Page | None) -> Table[Any]: ...
    @property
    def material(self, /) -> Material:
        """
        The raw material.
        """
    @property
    def substitution(self, /) -> Substitution:
        """
        What putting it in comes to.
        """

@final
class Candidates:
    """
    Raw materials that match a line's in class, form, pH range and attributes, those that disturb least first; a table
    in a notebook.

    >>> cat = td.Catalogue.starter()
    >>> bar = td.Formula("Bar", {"stearic-acid": 20, "kaolin": 80}, cat)
    >>> candidates = bar.candidates("stearic-acid", keep=td.measure.class_("fatty-acid"), catalogue=cat)
    >>> [candidate.material.id for candidate in candidates.ranked if candidate.substitution.is_exact][:2]
    ['stearic-acid-90', 'behenic-acid']
    """
    def __arrow_c_schema__(self, /) -> "object":
        """
        The Arrow C schema of its columns.
        """
    def __arrow_c_stream__(self, /, requested_schema: "object | None" = None) -> "object":
        """
        The Arrow C stream of its columns: one record batch. A schema that is asked for is not converted to.
        """
    def __copy__(self, /) -> Candidates: ...
    def __deepcopy__(self, memo: Any, /) -> Candidates: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Formula, str, list[Measure], Catalogue]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def line(self, /) -> str:
        """
        The line.
        """
    def page(self, /) -> Page:
        """
        The ranking as a table.
        """
    @property
    def passed_over(self, /) -> Table[PassedOver]:
        """
        Those of the same class that do not match, or of which it is not known.
        """
    @property
    def ranked(self, /) -> Table[Candidate]:
        """
        Those that match: by total departure of what is kept, then by the change of the other lines, of the line itself,
        then by id.
        """
    def to_pandas(self, /) -> "Any":
        """
        As a pandas data frame through pyarrow, its columns backed by Arrow.
        """
    def to_polars(self, /) -> "Any":
        """
        As a polars data frame.
        """
    def to_pyarrow(self, /) -> "Any":
        """
        As a pyarrow table.
        """

@final
class Catalogue:
    """
    Raw materials with the substances they name, their lots and other names. Immutable: a change gives a new catalogue.

    >>> cat = td.Catalogue.starter()
    >>> cat.material("kaolin")
    <Material "kaolin">
    >>> try: cat.material("SCS")
    ... except td.errors.AmbiguousName as error: print(error.faults[0].message)
    the name could mean several raw materials
    """
    def __arrow_c_schema__(self, /) -> "object":
        """
        The Arrow C schema of its columns.
        """
    def __arrow_c_stream__(self, /, requested_schema: "object | None" = None) -> "object":
        """
        The Arrow C stream of its columns: one record batch. A schema that is asked for is not converted to.
        """
    def __contains__(self, name: str | Material, /) -> bool:
        """
        True if the name means one of its raw materials, or for one of these.
        """
    def __copy__(self, /) -> Catalogue: ...
    def __deepcopy__(self, memo: Any, /) -> Catalogue: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __getitem__(self, name: str, /) -> Material:
        """
        As `material`.
        """
    def __hash__(self, /) -> int: ...
    def __iter__(self, /) -> Iterator[Material]:
        """
        Each raw material.
        """
    def __len__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /) -> Catalogue:
        """
        Without any material, over the embedded substances.
        """
    def __reduce__(self, /) -> tuple[Any, Any]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @classmethod
    def check_table(cls, /, table: str | Any, *, columns: dict[str, str] | None = None, ignore: str | Iterable[str] | None = None, delimiter: Delimiter | None = None, decimal_comma: bool | None = None, rest_unspecified: bool = False, source: str | None = None, catalogue: Catalogue | None = None) -> Table[TableFault]:
        """
        What is wrong with a `table` that `from_table` would read with the same `columns`, `ignore`, `delimiter`,
        `decimal_comma`, `rest_unspecified`, `source` and `catalogue`: a row for each fault, none if it can be read.

        >>> sheet = {"name": ["Kaolin", "Betain 30"], "form": ["powder", "liquid"], "constituent": ["KAOLIN", "COCAMIDOPROPYL BETAIN"], "typical": ["100", "1,234"]}
        >>> [(fault.line, fault.column) for fault in td.Catalogue.check_table(sheet, source="our shelf (invented)")]
        [(3, 3), (3, 4)]
        """
    def check_with_table(self, /, table: str | Any, of: TableOf, *, columns: dict[str, str] | None = None, ignore: str | Iterable[str] | None = None, delimiter: Delimiter | None = None, decimal_comma: bool | None = None, source: str | None = None) -> Table[TableFault]:
        """
        What is wrong with a `table` that `with_table` would read with the same `of`, `columns`, `ignore`, `delimiter`,
        `decimal_comma` and `source`: a row for each fault, none if it can be read.

        >>> frame = {"id": ["W-27", "W-28"], "material": ["capb-30", "unobtainium"], "ph": [17.2, 5]}
        >>> [(fault.line, fault.message) for fault in td.Catalogue.starter().check_with_table(frame, "lots")]
        [(2, 'pH out of range'), (3, 'unknown raw material')]
        """
    def filter(self, /, *, form: Form | Iterable[Form] | None = None, class_: Class | Iterable[Class] | None = None, having: Attribute | Iterable[Attribute] | None = None, without: Attribute | Iterable[Attribute] | None = None, use: str | Iterable[str] | None = None, phase: str | Iterable[str] | None = None, holding: str | Iterable[str] | None = None, starter: bool | None = None, or_not_known: bool = False) -> Table[Material]:
        """
        The raw materials that are all of what is asked: of one `form` (`td.material.forms()`), with a largest ingredient
        or a largest surfactant of one class (`class_`, `td.material.classes()`), stated to be `having` and `without` each
        attribute (`td.material.attributes()`), with a level for one product `use`, of one usual `phase`, `holding` a
        substance by name or CAS number, with `starter` values or without. Several words of one kind: one of them, but
        each attribute. What is not known of a raw material meets nothing; those are named on the page, and are rows too
        with `or_not_known`.

        >>> "btms-25" in [material.id for material in td.Catalogue.starter().filter(class_="cationic-surfactant")]
        True

        >>> cat = td.Catalogue.starter()
        >>> table = cat.filter(form="powder", class_="anionic-surfactant", without="sulfate", use="shampoo-bar")
        >>> "sci-powder" in [material.id for material in table]
        True
        >>> cat.filter(use="shampoo bar")
        Traceback (most recent call last):
        ...
        tenside.errors.UnknownName: unknown product use (found "shampoo bar"); allowed: cleansing-bar, conditioner-bar, rinse-off, scent-rinse-off, shampoo-bar; did you mean "shampoo-bar"?
        """
    @classmethod
    def from_csv(cls, /, materials: str, constituents: str, names: str | None = None, *, delimiter: Delimiter | None = None, decimal_comma: bool = False, source: str | None = None) -> Catalogue:
        """
        Reads a catalogue from CSV sheets in any order of columns, given as text: one row a material, one row a
        constituent, and if there is a third, one row a name that could mean several raw materials. `names` is the third
        sheet.

        The `delimiter` ("comma", "semicolon" or "tab") is found from the header rows unless it is stated;
        `decimal_comma` reads 84,5; `source` is that of materials whose row states none.

        >>> materials = "id;name;form;source\\nhouse-glycerin;Glycerin 99,5 %;liquid;invented for this example\\n"
        >>> constituents = "material;constituent;typical\\nhouse-glycerin;GLYCERIN;99,5\\nhouse-glycerin;WATER;0,5\\n"
        >>> td.Catalogue.from_csv(materials, constituents, decimal_comma=True).material("house-glycerin").constituents[0].typical
        Decimal('99.5')
        """
    @classmethod
    def from_json(cls, /, text: str) -> Catalogue:
        """
        Reads a catalogue document in JSON.
        `text` is the document.

        >>> len(td.Catalogue.from_json('{"tenside": "catalogue/1"}'))
        0
        """
    @classmethod
    def from_table(cls, /, table: str | Any, *, columns: dict[str, str] | None = None, ignore: str | Iterable[str] | None = None, delimiter: Delimiter | None = None, decimal_comma: bool | None = None, rest_unspecified: bool = False, source: str | None = None, catalogue: Catalogue | None = None) -> Catalogue:
        """
        Reads a catalogue from one `table` of your own: CSV text, a data frame, or a mapping of columns by heading.
        `columns` says under which heading each thing stands, {"name": "Bezeichnung"}; what is not said stands under its
        own name. Headings in `ignore` are not read; any other that is not known is refused.

        A raw material has `name` and `form`, an `id` (else made of the name), and whatever else `to_csv` writes. Its
        ingredients stand one a row under `constituent` with `typical`, `low`, `high`, `declared`, several rows for one
        id, or in the supplier's descending order in one cell under `inci_list`. With `rest_unspecified` what typical
        shares leave to 100 is "unspecified". Prices (`price_per_kg`, or `price` with `pack` or `pack_kg`; `currency`)
        may stand in the same table: `PriceList.from_table` reads them.

        The `delimiter` of text is found from the headings unless stated. `decimal_comma` reads 84,5 (True) or 84.5
        (False); by default each number is read by itself, and one that could be two, 1,234, is refused. `source` is
        that of rows that state none. Substances are those of the `catalogue`, by default the starter catalogue.

        >>> sheet = "Artikel;Form;INCI;Gehalt;Preis;Gebinde\\nKaolin weiß;powder;KAOLIN;100;47,50;25 kg\\nBetain 30;liquid;Cocamidopropyl Betaine;30;14,50;5 kg\\n"
        >>> columns = {"name": "Artikel", "constituent": "INCI", "typical": "Gehalt", "price": "Preis", "pack": "Gebinde"}
        >>> shelf = td.Catalogue.from_table(sheet, columns=columns, rest_unspecified=True, source="our shelf (invented)")
        >>> [material.id for material in shelf], float(shelf["betain-30"].active())
        (['kaolin-weiss', 'betain-30'], 30.0)
        >>> td.PriceList.from_table(sheet, shelf, columns=columns, currency="EUR")["kaolin-weiss"]
        Decimal('1.9')
        """
    @classmethod
    def from_toml(cls, /, text: str) -> Catalogue:
        """
        Reads a catalogue document in TOML.

        >>> text = td.Catalogue.starter().to_toml()
        >>> td.Catalogue.from_toml(text) == td.Catalogue.starter()
        True
        """
    def lot(self, /, name: str) -> Lot:
        """
        The lot of that name.
        """
    def lots(self, /) -> Table[Lot]:
        """
        The lots, in the order added.
        """
    def material(self, /, name: str) -> Material:
        """
        The material meant by an id, a readable name or an alias; what could mean several is refused.
        """
    def materials(self, /) -> Table[Material]:
        """
        The materials, in the order added.
        """
    def merge(self, /, other: Catalogue, *, winner: Winner = ...) -> Catalogue:
        """
        Both catalogues in one. Where both have something of the same name with other values, `winner` decides: "ours",
        "theirs", or "neither", which refuses.

        >>> cat = td.Catalogue.starter()
        >>> cat.merge(cat) == cat
        True
        """
    @property
    def page(self, /) -> Page:
        """
        Its page: how many raw materials of each class there are, and the first of them.
        """
    def phases(self, /) -> list[str]:
        """
        The phases that its raw materials go to unless a line says otherwise.
        """
    def product_uses(self, /) -> list[str]:
        """
        The product uses that its raw materials state levels for.

        >>> td.Catalogue.starter().product_uses()[-1]
        'shampoo-bar'
        """
    def search(self, /, text: str) -> Table[SearchHit]:
        """
        The raw materials that go by `text`: ids, readable names and aliases, and the INCI names, label names and CAS
        numbers of their ingredients, the surest first, and of ingredients that with the most of it. Only if nothing is
        called so, what is spelt alike follows as a "guess".

        >>> cat = td.Catalogue.starter()
        >>> [hit.id for hit in cat.search("cocamidopropyl betaine")][:2]
        ['capb-30', 'capb-powder']
        >>> cat.search("kaolinn")[0].id, cat.search("kaolinn")[0].matched
        ('kaolin', 'guess')
        >>> cat.search("56-81-5")[0].by
        'cas'
        """
    @classmethod
    def starter(cls, /) -> Catalogue:
        """
        The embedded catalogue of generic raw materials: typical values without prices. What rests on them is a DRAFT.

        >>> len(td.Catalogue.starter()) > 100
        True
        """
    def substance(self, /, name: str) -> Substance:
        """
        The substance of that INCI name.
        """
    def substances(self, /) -> Table[Substance]:
        """
        The substances that materials may name.
        """
    def to_csv(self, /) -> tuple[str, str, str]:
        """
        As three CSV sheets: materials, constituents, and names that could mean several. Premixes, lots and substances
        of its own have no place there and are refused. A text that a spreadsheet would take for a formula stands behind
        an apostrophe, which the reader takes off again.

        >>> materials, constituents, names = td.Catalogue.starter().to_csv()
        >>> td.Catalogue.from_csv(materials, constituents, names) == td.Catalogue.starter()
        True
        """
    def to_json(self, /) -> str:
        """
        As JSON.
        """
    def to_pandas(self, /) -> "Any":
        """
        As a pandas data frame through pyarrow, its columns backed by Arrow.
        """
    def to_polars(self, /) -> "Any":
        """
        As a polars data frame.
        """
    def to_pyarrow(self, /) -> "Any":
        """
        As a pyarrow table.
        """
    def to_toml(self, /) -> str:
        """
        As TOML.

        >>> td.Catalogue().to_toml().strip()
        'tenside = "catalogue/1"'
        """
    def with_lot(self, /, lot: Lot) -> Catalogue:
        """
        With one more lot.

        >>> cat = td.Catalogue.starter().with_lot(td.Lot("W-27", "capb-30", active=29.1, method="titrated"))
        >>> cat.lot("W-27").material
        'capb-30'
        """
    def with_material(self, /, material: Material) -> Catalogue:
        """
        With one more material, or another in place of one of the same id.

        >>> len(td.Catalogue().with_material(td.Catalogue.starter().material("kaolin")))
        1
        """
    def with_table(self, /, table: str | Any, of: TableOf, *, columns: dict[str, str] | None = None, ignore: str | Iterable[str] | None = None, delimiter: Delimiter | None = None, decimal_comma: bool | None = None, source: str | None = None) -> Catalogue:
        """
        The catalogue with what one `table` of your own lists, CSV text, a data frame or a mapping of columns by
        heading: `of` says whether its rows are "substances" (`inci`, `class`, as wanted `cas`, `molar_mass`, ...),
        "lots" (`id`, `material`, as wanted `active` with its `method`, `solids`, `ph`, `retest`, ...) or "premixes" (as
        raw materials, with a row for each `part` and its `percent`). Raw materials are named as the catalogue knows
        them. `columns`, `ignore`, `delimiter`, `decimal_comma` and `source` are as for `from_table`.

        >>> lots = "Charge;Artikel;WAS;Methode\\nW-27;CAPB 30;29,1;titrated\\n"
        >>> columns = {"id": "Charge", "material": "Artikel", "active": "WAS", "method": "Methode"}
        >>> cat = td.Catalogue.starter().with_table(lots, "lots", columns=columns)
        >>> cat.lot("W-27").material
        'capb-30'
        >>> frame = {"name": ["Two powders"] * 2, "form": ["powder"] * 2, "part": ["kaolin", "corn-starch"], "percent": [75, 25]}
        >>> cat = cat.with_table(frame, "premixes", source="our mixing book (invented)")
        >>> td.PriceList({"kaolin": 2, "corn-starch": 4}, currency="EUR").price_of(cat["two-powders"])
        Fraction(5, 2)
        """

@final
class Caveat:
    """
    What makes a calculated pH less certain.
    """
    def __copy__(self, /) -> Caveat: ...
    def __deepcopy__(self, memo: Any, /) -> Caveat: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, kind: CaveatKind, sentence: str) -> Caveat: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Caveat], page: Page | None) -> Table[Any]: ...
    @property
    def kind(self, /) -> CaveatKind:
        """
        Its stable name: "ionic-strength", "ion-pairing", "temperature", "substance", "unspecified",
        "other-solvent".
        """
    @property
    def sentence(self, /) -> str:
        """
        The caveat as a sentence.
        """

@final
class CertificateChange:
    """
    A share that a lot's certificate changed.
    """
    def __copy__(self, /) -> CertificateChange: ...
    def __deepcopy__(self, memo: Any, /) -> CertificateChange: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, constituent: str, typical: Decimal, lot: Decimal, takes_difference: bool, outside_range: bool) -> CertificateChange: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, CertificateChange], page: Page | None) -> Table[Any]: ...
    @property
    def constituent(self, /) -> str:
        """
        Whose.
        """
    @property
    def lot(self, /) -> Decimal:
        """
        The lot's share.
        """
    @property
    def outside_range(self, /) -> bool:
        """
        True if the lot's share lies outside the stated range.
        """
    @property
    def takes_difference(self, /) -> bool:
        """
        True for the constituent that takes the difference.
        """
    @property
    def typical(self, /) -> Decimal:
        """
        The typical share.
        """

@final
class Choice:
    """
    One way to answer a question of a draft; `label` says what it does.
    """
    def __copy__(self, /) -> Choice: ...
    def __deepcopy__(self, memo: Any, /) -> Choice: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, json: str) -> Choice: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Choice], page: Page | None) -> Table[Any]: ...
    @property
    def label(self, /) -> str:
        """
        What it does, in words.
        """

@final
class Chosen:
    """
    The best choice of lines with the exact solution and the grid formula; a table in a notebook.

    >>> brief = (td.Brief("One of two", td.Catalogue.starter())
    ...     .between("sci-powder", 20, 60)
    ...     .absent_or_between("capb-30", 10, 20)
    ...     .absent_or_between("coco-glucoside-50", 10, 20)
    ...     .group("co-surfactants", ["capb-30", "coco-glucoside-50"])
    ...     .at_most_of("co-surfactants", 1)
    ...     .qs("kaolin")
    ...     .at_least(td.measure.active_matter, 57)
    ...     .minimise(td.measure.water))
    >>> choice = brief.choose()
    >>> choice.present, choice.absent, choice.verify()
    (['sci-powder', 'coco-glucoside-50', 'kaolin'], ['capb-30'], True)
    """
    def __copy__(self, /) -> Chosen: ...
    def __deepcopy__(self, memo: Any, /) -> Chosen: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Brief, int]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def absent(self, /) -> list[str]:
        """
        The lines at 0.
        """
    @property
    def bound(self, /) -> Fraction | None:
        """
        No choice has a better objective than this.
        """
    @property
    def brief(self, /) -> Brief:
        """
        The brief.
        """
    @property
    def chosen_brief(self, /) -> Brief:
        """
        The brief with the choices made, absent lines fixed at 0: it can be solved, and asked how far its answer holds.
        """
    @property
    def departures(self, /) -> Table[Departure]:
        """
        Where the grid formula departs from an equation: splits and targets.
        """
    @property
    def exact(self, /) -> dict[str, Fraction]:
        """
        Exact percent by line: what the proof is about.
        """
    @property
    def formula(self, /) -> Formula:
        """
        The grid formula: what is weighed. Raises Contradiction if there is none.
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> Chosen:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> Chosen:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    @property
    def gap(self, /) -> Fraction:
        """
        The most by which another choice could be better: 0 where the search was complete.
        """
    @property
    def is_best(self, /) -> bool:
        """
        True if no choice is better.
        """
    @property
    def nodes(self, /) -> int:
        """
        How many linear programs it took.
        """
    @property
    def objective(self, /) -> Fraction | None:
        """
        Exact value of the objective, in its own unit.
        """
    def page(self, /, *bases: "Basis") -> Page:
        """
        The grid formula, its usual measures on these bases, what is absent, and what is proved.
        """
    @property
    def present(self, /) -> list[str]:
        """
        The lines above 0.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def verify(self, /) -> bool:
        """
        Checks everything again without the search, the grid formula included: True, or Contradiction is raised.
        """

@final
class Conflict:
    """
    Requirements that no formula meets together, with an exact proof; a table in a notebook.

    >>> conflict = td.Brief("Not full", td.Catalogue.starter()).fix("kaolin", 60).try_solve()
    >>> conflict.sentence, conflict.verify()
    ('no formula meets this: line kaolin fixed at 60 %; the lines sum to 100 %', True)
    """
    def __copy__(self, /) -> Conflict: ...
    def __deepcopy__(self, memo: Any, /) -> Conflict: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Brief]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, brief: Brief) -> Conflict:
        """
        The conflict of a brief, when it comes back from a pickle.
        """
    def _repr_html_(self, /) -> str: ...
    @property
    def brief(self, /) -> Brief:
        """
        The brief.
        """
    @property
    def constraints(self, /) -> Table[Constraint]:
        """
        What the members are about, as data, in the same order.

        >>> conflict = td.Brief("Too wet", td.Catalogue.starter()).free("water").fix("kaolin", 60).at_least(td.measure.water, 50).try_solve()
        >>> [(constraint.kind, constraint.name, constraint.end) for constraint in conflict.constraints]
        [('requirement', 'water at least 50 %', 'low'), ('line', 'kaolin', 'both')]
        """
    def correction_set(self, /) -> Table[Constraint]:
        """
        What could be left out of the brief so that it has a formula, none of it for nothing (a minimal correction set):
        one member where that does. There can be other such sets, and smaller ones.

        >>> m = td.measure
        >>> twice = td.Brief("Twice", td.Catalogue.starter()).between("capb-30", 0, 50).between("kaolin", 0, 20).qs("water")
        >>> twice = twice.at_least(m.active_matter, 18).at_least(m.material("kaolin"), 30)
        >>> [str(constraint) for constraint in twice.try_solve().correction_set()]
        ['low end of requirement active matter at least 18 %', 'low end of requirement raw material kaolin at least 30 %']
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> Conflict:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> Conflict:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    @property
    def members(self, /) -> list[str]:
        """
        What cannot hold together, in the words of the brief; without any one of them the others can be met.
        """
    @property
    def proof(self, /) -> Proof:
        """
        The proof: a combination of the requirements that nothing inside the lines' ranges can meet (Farkas' lemma).
        """
    def relaxations(self, /) -> list[Relaxation | None]:
        """
        For every member, in their order, the least change with which alone there is a formula that meets the brief; an
        objective that is a ratio is refused all the same where its denominator can be 0, of which `sentence` then warns.
        None if no change of it does, for the water that a finished basis keeps, and of a requirement for every
        composition where it asks for one value, divides by what can be 0 whatever the formula, or rests on a range that
        is not stated.

        >>> brief = td.Brief("Too strong", td.Catalogue.starter()).between("capb-30", 0, 50).qs("water").at_least(td.measure.active_matter, 18)
        >>> [change.sentence for change in brief.try_solve().relaxations()]
        ['lower active matter at least 18 % to 15 % or less', 'raise line capb-30 between 0 and 50 % to 60 % or more']
        """
    @property
    def sentence(self, /) -> str:
        """
        One sentence that names what cannot hold together.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def verify(self, /) -> bool:
        """
        Checks the proof without the solver, and that it is about this brief: True, or Contradiction is raised.
        """

@final
class Constituent:
    """
    One ingredient of a raw material, percent by mass. An end that is None is not stated.
    """
    def __copy__(self, /) -> Constituent: ...
    def __deepcopy__(self, memo: Any, /) -> Constituent: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, substance: Substance, low: Decimal | None, typical: Decimal | None, high: Decimal | None, stated_low: Decimal | None, stated_high: Decimal | None, declaration: Declaration) -> Constituent: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Constituent], page: Page | None) -> Table[Any]: ...
    @property
    def declaration(self, /) -> Declaration:
        """
        "declared", "not-declared" or "ask".
        """
    @property
    def high(self, /) -> Decimal | None:
        """
        The highest attainable share.
        """
    @property
    def low(self, /) -> Decimal | None:
        """
        The lowest attainable share.
        """
    @property
    def stated_high(self, /) -> Decimal | None:
        """
        The high end as the supplier states it.
        """
    @property
    def stated_low(self, /) -> Decimal | None:
        """
        The low end as the supplier states it.
        """
    @property
    def substance(self, /) -> Substance:
        """
        The substance.
        """
    @property
    def typical(self, /) -> Decimal | None:
        """
        The typical share.
        """

@final
class Constraint:
    """
    One thing that a brief asks of its formula: what a conflict's member, a binding, a change or a range is about.

    >>> brief = td.Brief("Too strong", td.Catalogue.starter()).between("capb-30", 0, 50).qs("water").at_least(td.measure.active_matter, 18)
    >>> for constraint in brief.try_solve().constraints: print(constraint)
    low end of requirement active matter at least 18 %
    high end of line capb-30
    """
    def __copy__(self, /) -> Constraint: ...
    def __deepcopy__(self, memo: Any, /) -> Constraint: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, kind: ConstraintKind, name: str | None, index: SupportsIndex | None, end: End, member: str | None, moisture: SupportsFloat | str | None, words: str) -> Constraint: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Constraint], page: Page | None) -> Table[Any]: ...
    @property
    def end(self, /) -> End:
        """
        Which end: "low", "high", or "both" of what is held at one value.
        """
    @property
    def index(self, /) -> int | None:
        """
        The place of the line, requirement or split in the brief, from 0; None of others.
        """
    @property
    def kind(self, /) -> ConstraintKind:
        """
        "line", "requirement", "split", "water-to-keep" or "total".
        """
    @property
    def member(self, /) -> str | None:
        """
        Of a split the line whose part it is, against that of the split's first line; None of others.
        """
    @property
    def moisture(self, /) -> Fraction | None:
        """
        Of the water that a finished product keeps its residual moisture in percent; None of others.
        """
    @property
    def name(self, /) -> str | None:
        """
        The name of the line, requirement or split; None of others.
        """
    @property
    def words(self, /) -> str:
        """
        In words.
        """

@final
class Contained:
    """
    A substance contained in one ingredient, percent of that ingredient.
    """
    def __copy__(self, /) -> Contained: ...
    def __deepcopy__(self, memo: Any, /) -> Contained: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, of: str, substance: Substance, low: Decimal | None, typical: Decimal | None, high: Decimal | None, source: str) -> Contained: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Contained], page: Page | None) -> Table[Any]: ...
    @property
    def high(self, /) -> Decimal | None:
        """
        The high end, if stated.
        """
    @property
    def low(self, /) -> Decimal | None:
        """
        The low end, if stated.
        """
    @property
    def of(self, /) -> str:
        """
        The ingredient.
        """
    @property
    def source(self, /) -> str:
        """
        Where the figures come from.
        """
    @property
    def substance(self, /) -> Substance:
        """
        The substance.
        """
    @property
    def typical(self, /) -> Decimal | None:
        """
        The typical share.
        """

@final
class Corners:
    """
    Corners of what a brief allows.
    """
    def __arrow_c_schema__(self, /) -> "object":
        """
        The Arrow C schema of its columns.
        """
    def __arrow_c_stream__(self, /, requested_schema: "object | None" = None) -> "object":
        """
        The Arrow C stream of its columns: one record batch. A schema that is asked for is not converted to.
        """
    def __copy__(self, /) -> Corners: ...
    def __deepcopy__(self, memo: Any, /) -> Corners: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, formulas: SupportsGetItem[int, dict[str, SupportsFloat | str]], complete: bool) -> Corners: ...
    def _repr_html_(self, /) -> str: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Corners], page: Page | None) -> Table[Any]: ...
    @property
    def complete(self, /) -> bool:
        """
        True if these are all; False if the limit was reached.
        """
    @property
    def formulas(self, /) -> list[dict[str, Fraction]]:
        """
        Exact percentages by line.
        """
    def to_pandas(self, /) -> "Any":
        """
        As a pandas data frame through pyarrow, its columns backed by Arrow.
        """
    def to_polars(self, /) -> "Any":
        """
        As a polars data frame.
        """
    def to_pyarrow(self, /) -> "Any":
        """
        As a pyarrow table.
        """

@final
class Costing:
    """
    What a batch costs by line, phase, bar, wash and whole: exact, in the currency of the formula's prices.

    >>> cat = td.Catalogue.starter()
    >>> bar = td.Formula("Bar", {"sci-powder": 60, "kaolin": 40}, cat, prices={"sci-powder": 9, "kaolin": "4.4"}, currency="EUR")
    >>> costing = bar.costing("2 kg", bars=30, per_bar={"wrapper": "0.12"}, per_batch={"labour": 18})
    >>> float(costing.raw_materials), float(costing.total), float(round(costing.per_bar, 2))
    (14.32, 35.92, 1.2)
    """
    def __arrow_c_schema__(self, /) -> "object":
        """
        The Arrow C schema of its columns.
        """
    def __arrow_c_stream__(self, /, requested_schema: "object | None" = None) -> "object":
        """
        The Arrow C stream of its columns: one record batch. A schema that is asked for is not converted to.
        """
    def __copy__(self, /) -> Costing: ...
    def __deepcopy__(self, memo: Any, /) -> Costing: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def bars(self, /) -> int | None:
        """
        How many bars it gives, if stated.
        """
    @property
    def charged(self, /) -> Fraction:
        """
        Grams weighed in.
        """
    @property
    def currency(self, /) -> str:
        """
        The currency.
        """
    @property
    def direct(self, /) -> Fraction:
        """
        The raw materials and everything that is stated for bar or batch.
        """
    @property
    def extras(self, /) -> Table[ExtraCost]:
        """
        What is beside the raw materials, in the order stated.
        """
    @property
    def formula(self, /) -> Formula:
        """
        The formula.
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> Costing:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> Costing:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    @property
    def lines(self, /) -> Table[LineCost]:
        """
        What each line costs; lines at 0 % are left out.
        """
    @property
    def lost(self, /) -> Fraction | None:
        """
        The part of it that stays in bowl and press, if a loss is stated.
        """
    @property
    def page(self, /) -> Page:
        """
        Everything on one page.
        """
    @property
    def per_bar(self, /) -> Fraction | None:
        """
        What one bar costs, if their number is stated.
        """
    @property
    def per_kilogram(self, /) -> Fraction:
        """
        What a kilogram weighed in costs.
        """
    @property
    def per_wash(self, /) -> Fraction | None:
        """
        What a wash costs, if bars and washes are stated.
        """
    @property
    def phases(self, /) -> dict[str, Fraction]:
        """
        What the lines of each phase cost, in working order.
        """
    @property
    def raw_materials(self, /) -> Fraction:
        """
        What the raw materials cost together.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_pandas(self, /) -> "Any":
        """
        As a pandas data frame through pyarrow, its columns backed by Arrow.
        """
    def to_polars(self, /) -> "Any":
        """
        As a polars data frame.
        """
    def to_pyarrow(self, /) -> "Any":
        """
        As a pyarrow table.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    @property
    def total(self, /) -> Fraction:
        """
        What the batch costs.
        """

@final
class DayWeight:
    """
    What one bar weighs on a day; masses in grams.
    """
    def __copy__(self, /) -> DayWeight: ...
    def __deepcopy__(self, memo: Any, /) -> DayWeight: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, name: str, day: SupportsFloat | SupportsIndex, mass: SupportsFloat | SupportsIndex, low: SupportsFloat | SupportsIndex, high: SupportsFloat | SupportsIndex) -> DayWeight: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, DayWeight], page: Page | None) -> Table[Any]: ...
    @property
    def day(self, /) -> float:
        """
        The day.
        """
    @property
    def high(self, /) -> float:
        """
        The high end.
        """
    @property
    def low(self, /) -> float:
        """
        The low end of what a weigh-in of that day shows with the confidence asked for.
        """
    @property
    def mass(self, /) -> float:
        """
        What it weighs by the fit.
        """
    @property
    def name(self, /) -> str:
        """
        What the bar is called.
        """

@final
class Departure:
    """
    An equation that the grid formula does not meet exactly.
    """
    def __copy__(self, /) -> Departure: ...
    def __deepcopy__(self, memo: Any, /) -> Departure: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, words: str, departure: SupportsFloat | str, bound: SupportsFloat | str, unit: str) -> Departure: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Departure], page: Page | None) -> Table[Any]: ...
    @property
    def bound(self, /) -> Fraction:
        """
        The most it may be.
        """
    @property
    def departure(self, /) -> Fraction:
        """
        How far it is from holding.
        """
    @property
    def unit(self, /) -> str:
        """
        The unit of both.
        """
    @property
    def words(self, /) -> str:
        """
        The equation, in the words of the brief.
        """

@final
class Design:
    """
    Which bars to press, in their order, and how near they come to the best there can be; a page in a notebook. See
    `Brief.design`.

    >>> brief = td.Brief("Bar", td.Catalogue.starter()).between("sci-powder", 40, 70).between("cetyl-alcohol", 3, 12).qs("kaolin")
    >>> design = brief.design("d-optimal", runs=6, seed=1)
    >>> [run.kind for run in design.runs].count("vertex"), design.efficiency > 0.9
    (6, True)
    """
    def __arrow_c_schema__(self, /) -> "object":
        """
        The Arrow C schema of its columns.
        """
    def __arrow_c_stream__(self, /, requested_schema: "object | None" = None) -> "object":
        """
        The Arrow C stream of its columns: one record batch. A schema that is asked for is not converted to.
        """
    def __copy__(self, /) -> Design: ...
    def __deepcopy__(self, memo: Any, /) -> Design: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    def batches(self, /, mass: str, *, readability: str, readability_of: dict[str, str] | None = None, unit: str | None = None, tolerance: SupportsFloat | str | None = None) -> list[Batch]:
        """
        Every run weighed out as a small batch of a `mass` on a scale of that `readability`, numbered as the runs are.
        `readability_of` is that of phases weighed on another scale, `unit` what sheets are in, `tolerance` the rounding
        error in percent of a line that is accepted without a note.

        >>> brief = td.Brief("Bar", td.Catalogue.starter()).between("sci-powder", 40, 70).between("cetyl-alcohol", 3, 12).qs("kaolin")
        >>> design = brief.design("d-optimal", runs=6, seed=1)
        >>> batches = design.batches("60 g", readability="0.1 g")
        >>> len(batches), batches[0].number
        (6, '1')
        >>> design.efficiency_of(batches) > 0.9
        True
        """
    @property
    def block_efficiency(self, /) -> float | None:
        """
        What blocks leave of the efficiency, from 0 to 1; None without blocks.
        """
    @property
    def bound_holds_everywhere(self, /) -> bool:
        """
        True if the bound is about every mixture of the region, not the candidates alone.
        """
    @property
    def brief(self, /) -> Brief:
        """
        The brief whose region it is in.
        """
    @property
    def candidates(self, /) -> dict[str, int]:
        """
        How many points of each kind the bound is about.
        """
    @property
    def components(self, /) -> list[str]:
        """
        The components of the mixture: lines, and splits whose members stand in one ratio.
        """
    @property
    def efficiency(self, /) -> float:
        """
        The share, from 0 to 1, that the design reaches at least of what any design of as many runs can, bars made
        already counted: of the root of the determinant, or of the reciprocal of the average variance.
        """
    @property
    def efficiency_as_rounded(self, /) -> float | None:
        """
        The same for the formulas on the grid; None where they no longer determine every term.
        """
    def efficiency_of(self, /, made: Iterable[Batch | Formula]) -> float | None:
        """
        The efficiency with what was `made` in place of the runs' own formulas, in their order: batches as weighed, or
        formulas. None where it no longer determines every term.
        """
    @property
    def formulas(self, /) -> list[Formula]:
        """
        The formulas of the runs, in their order, on the grid.
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> Design:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> Design:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    @property
    def kind(self, /) -> DesignKind:
        """
        The kind of design.
        """
    @property
    def model(self, /) -> Blend:
        """
        The polynomial of the mixture that it is for.
        """
    @property
    def page(self, /) -> Page:
        """
        The runs, how good they are, and what they rest on.
        """
    @property
    def runs(self, /) -> Table[DesignedRun]:
        """
        The runs, in the order in which they are made.
        """
    @property
    def sentence(self, /) -> str:
        """
        What the efficiency says.
        """
    @property
    def terms(self, /) -> list[str]:
        """
        What the model is a sum of.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_pandas(self, /) -> "Any":
        """
        As a pandas data frame through pyarrow, its columns backed by Arrow.
        """
    def to_polars(self, /) -> "Any":
        """
        As a polars data frame.
        """
    def to_pyarrow(self, /) -> "Any":
        """
        As a pyarrow table.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """

@final
class DesignedRun:
    """
    A run of a design: one bar to press.
    """
    def __copy__(self, /) -> DesignedRun: ...
    def __deepcopy__(self, memo: Any, /) -> DesignedRun: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, run: SupportsIndex, block: SupportsIndex, whole_plot: SupportsIndex | None, kind: PointKind, percents: dict[str, SupportsFloat | str], settings: dict[str, SupportsFloat | str], exact: dict[str, SupportsFloat | str]) -> DesignedRun: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, DesignedRun], page: Page | None) -> Table[Any]: ...
    @property
    def block(self, /) -> int:
        """
        Its block, from 1.
        """
    @property
    def exact(self, /) -> dict[str, Fraction]:
        """
        The exact percentages, by line, that the design was worked out for.
        """
    @property
    def kind(self, /) -> PointKind:
        """
        Where in the region it lies.
        """
    @property
    def percents(self, /) -> dict[str, Fraction]:
        """
        The percentages that are weighed, by line: on the grid.
        """
    @property
    def run(self, /) -> int:
        """
        Its place in the order, from 1.
        """
    @property
    def settings(self, /) -> dict[str, Fraction]:
        """
        Settings of the process, by variable.
        """
    @property
    def whole_plot(self, /) -> int | None:
        """
        Runs between which no setting is changed, from 1; None where every run is set up anew.
        """

@final
class Desirability:
    """
    How desirable the values of a property are, from 0 to 1: `desired` larger ones, nothing up to `low` and all from
    `high` on; smaller ones; or a `target` between them. The exponent `shape` is 1 where it is straight; above 1 only
    values near the best are worth much.

    >>> hard = td.trial.Desirability("larger", 30, 50, shape=2)
    >>> hard.of(20), hard.of(40), hard.of(60)
    (0.0, 0.25, 1.0)
    >>> td.trial.Desirability("target", "4.5", "6.5", target="5.5").of(6)
    0.5
    """
    def __copy__(self, /) -> Desirability: ...
    def __deepcopy__(self, memo: Any, /) -> Desirability: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, desired: Desired, low: SupportsFloat | str, high: SupportsFloat | str, *, target: SupportsFloat | str | None = None, shape: SupportsFloat | str | None = None) -> Desirability: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @property
    def desired(self, /) -> Desired:
        """
        Which values are wanted.
        """
    @property
    def high(self, /) -> Fraction:
        """
        The high end.
        """
    @property
    def low(self, /) -> Fraction:
        """
        The low end.
        """
    def of(self, /, value: SupportsFloat | SupportsIndex) -> float:
        """
        How desirable a `value` is, 0 to 1.
        """
    @property
    def shape(self, /) -> Fraction:
        """
        The exponent.
        """
    @property
    def target(self, /) -> Fraction | None:
        """
        The target, if one is wanted.
        """

@final
class DesiredResponse:
    """
    One property of the most desirable formula.
    """
    def __copy__(self, /) -> DesiredResponse: ...
    def __deepcopy__(self, memo: Any, /) -> DesiredResponse: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, response: str, prediction: Prediction, desirability: SupportsFloat | SupportsIndex) -> DesiredResponse: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, DesiredResponse], page: Page | None) -> Table[Any]: ...
    @property
    def desirability(self, /) -> float:
        """
        How desirable that is, 0 to 1.
        """
    @property
    def prediction(self, /) -> Prediction:
        """
        What its model says of the formula.
        """
    @property
    def response(self, /) -> str:
        """
        The property, with its unit.
        """

@final
class Difference:
    """
    What differs between two formulas; a table in a notebook.

    >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
    >>> clay.difference(clay.with_title("Later")).after
    'Later'
    """
    def __arrow_c_schema__(self, /) -> "object":
        """
        The Arrow C schema of its columns.
        """
    def __arrow_c_stream__(self, /, requested_schema: "object | None" = None) -> "object":
        """
        The Arrow C stream of its columns: one record batch. A schema that is asked for is not converted to.
        """
    def __copy__(self, /) -> Difference: ...
    def __deepcopy__(self, memo: Any, /) -> Difference: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Formula, Formula]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def after(self, /) -> str:
        """
        Title of the second.
        """
    @property
    def before(self, /) -> str:
        """
        Title of the first.
        """
    @property
    def constituents(self, /) -> Table[DifferenceLine]:
        """
        Every constituent of either, as charged, typical values; those that differ most first.
        """
    @property
    def lines(self, /) -> Table[DifferenceLine]:
        """
        Every line of either.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_pandas(self, /) -> "Any":
        """
        As a pandas data frame through pyarrow, its columns backed by Arrow.
        """
    def to_polars(self, /) -> "Any":
        """
        As a polars data frame.
        """
    def to_pyarrow(self, /) -> "Any":
        """
        As a pyarrow table.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """

@final
class DifferenceLine:
    """
    One row: percent in both formulas.
    """
    def __copy__(self, /) -> DifferenceLine: ...
    def __deepcopy__(self, memo: Any, /) -> DifferenceLine: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, name: str, before: SupportsFloat | str | None, after: SupportsFloat | str | None, change: SupportsFloat | str | None, changed_otherwise: bool) -> DifferenceLine: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, DifferenceLine], page: Page | None) -> Table[Any]: ...
    @property
    def after(self, /) -> Fraction | None:
        """
        In the second; None if it does not have it, or it is not known how much.
        """
    @property
    def before(self, /) -> Fraction | None:
        """
        In the first; None if it does not have it, or it is not known how much.
        """
    @property
    def change(self, /) -> Fraction | None:
        """
        By how much the second has more; None if one side is not known.
        """
    @property
    def changed_otherwise(self, /) -> bool:
        """
        True if the raw material, its lot or its phase changed too.
        """
    @property
    def name(self, /) -> str:
        """
        What is compared.
        """

@final
class Dispersed:
    """
    One surfactant at a concentration of all together.
    """
    def __copy__(self, /) -> Dispersed: ...
    def __deepcopy__(self, memo: Any, /) -> Dispersed: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, name: str, total: SupportsFloat | SupportsIndex, single: SupportsFloat | SupportsIndex, in_micelles: SupportsFloat | SupportsIndex | None) -> Dispersed: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Dispersed], page: Page | None) -> Table[Any]: ...
    @property
    def in_micelles(self, /) -> float | None:
        """
        Its mole share of the micelles; None where there are none.
        """
    @property
    def name(self, /) -> str:
        """
        What it is called.
        """
    @property
    def single(self, /) -> float:
        """
        Single, mmol/L.
        """
    @property
    def total(self, /) -> float:
        """
        In all, mmol/L.
        """

@final
class Dough:
    """
    A dough beside trials, the nearest first.
    """
    def __arrow_c_schema__(self, /) -> "object":
        """
        The Arrow C schema of its columns.
        """
    def __arrow_c_stream__(self, /, requested_schema: "object | None" = None) -> "object":
        """
        The Arrow C stream of its columns: one record batch. A schema that is asked for is not converted to.
        """
    def __copy__(self, /) -> Dough: ...
    def __deepcopy__(self, memo: Any, /) -> Dough: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def hint(self, /) -> str | None:
        """
        The nearest trial in words, which is a hint and no verdict; None without trials.
        """
    @property
    def page(self, /) -> Page:
        """
        The shares beside those of the trials.
        """
    @property
    def shares(self, /) -> DoughShares:
        """
        Its shares.
        """
    def to_pandas(self, /) -> "Any":
        """
        As a pandas data frame through pyarrow, its columns backed by Arrow.
        """
    def to_polars(self, /) -> "Any":
        """
        As a polars data frame.
        """
    def to_pyarrow(self, /) -> "Any":
        """
        As a pyarrow table.
        """
    @property
    def trials(self, /) -> Table[DoughTrial]:
        """
        The trials, the nearest first.
        """

@final
class DoughShares:
    """
    Shares of a mix in percent of it.
    """
    def __copy__(self, /) -> DoughShares: ...
    def __deepcopy__(self, memo: Any, /) -> DoughShares: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, liquid: SupportsFloat | str, oil: SupportsFloat | str, meltable: SupportsFloat | str, powder: SupportsFloat | str) -> DoughShares: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, DoughShares], page: Page | None) -> Table[Any]: ...
    @property
    def liquid(self, /) -> Fraction:
        """
        Watery liquids and pastes.
        """
    @property
    def meltable(self, /) -> Fraction:
        """
        Solids that are melted to be worked.
        """
    @property
    def oil(self, /) -> Fraction:
        """
        Oils.
        """
    @property
    def powder(self, /) -> Fraction:
        """
        Powders, needles, flakes and granules.
        """

@final
class DoughTrial:
    """
    A dough that was made before, and how it worked in the maker's own words.
    """
    def __copy__(self, /) -> DoughTrial: ...
    def __deepcopy__(self, memo: Any, /) -> DoughTrial: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, title: str, words: str, shares: DoughShares, distance: SupportsFloat | str) -> DoughTrial: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, DoughTrial], page: Page | None) -> Table[Any]: ...
    @property
    def distance(self, /) -> Fraction:
        """
        The part of the mix, in percent, that would have to be another to have the same shares.
        """
    @property
    def shares(self, /) -> DoughShares:
        """
        Its shares.
        """
    @property
    def title(self, /) -> str:
        """
        The title of its formula.
        """
    @property
    def words(self, /) -> str:
        """
        How it worked.
        """

@final
class Draft:
    """
    A recipe as written. Immutable: an answer gives a new draft, in which the lines stand as they were written, counted
    from 1. `title` is the recipe's.

    >>> cat = td.Catalogue.starter()
    >>> draft = td.Draft.from_text("Pasted bar", "sci-powder 60 %\\ncetyl alcohol: 10-15 %\\nRosemary oil 1 % (optional)\\nkaolin 25 %")
    >>> [question.id for question in draft.questions(cat)]
    ['range@2', 'optional-line@3']
    >>> draft.set_amount(2, "15 %").drop_optional(3).to_formula(cat).percentages["cetyl-alcohol"]
    Decimal('15')
    """
    def __copy__(self, /) -> Draft: ...
    def __deepcopy__(self, memo: Any, /) -> Draft: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, title: str, lines: Iterable[DraftLine | tuple[Material, str | None] | tuple[str, str | None]]) -> Draft: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    def accept(self, /, question: str | Question | Any) -> Draft:
        """
        Accepts what a question asks about as it stands.
        """
    def answer(self, /, question: str | Question | Any, choice: Choice | str | SupportsIndex | Any, catalogue: Catalogue | None = None) -> Draft:
        """
        With an answer to a question. `question` is one of `draft.questions(catalogue)`, or its identifier; `choice` is
        one of `question.choices`, its number from 0, or words of one's own: the id of a raw material, an amount, a lot,
        the mass of the batch. For the number of a choice of an identifier the `catalogue` is needed, which tells the
        choices.

        >>> cat = td.Catalogue.starter()
        >>> draft = td.Draft("Clay", [("kaolin", "97.5 %")])
        >>> question = draft.questions(cat)[0]
        >>> question.found, question.choices[0].label
        ('97.5 %', 'scale every line to a total of 100')
        >>> draft.answer(question, 0).questions(cat)
        []
        >>> draft.answer("total-not-hundred", 0, cat) == draft.answer(question, 0)
        True
        >>> draft = td.Draft.from_text("Two", "SCI - 60 %\\nkaolin - 40 %")
        >>> question = draft.questions(cat)[0]
        >>> draft.answer(question, "sci-powder").to_formula(cat).percentages["sci-powder"]
        Decimal('60')
        """
    @property
    def batch(self, /) -> Fraction | None:
        """
        Mass of the batch in grams, where an answer gave it.
        """
    def choose(self, /, line: SupportsIndex, material: str) -> Draft:
        """
        With a raw material chosen for a line, by its id.
        """
    def choose_lot(self, /, line: SupportsIndex, lot: str) -> Draft:
        """
        With a lot chosen for a line, by the name that the catalogue knows it by.
        """
    def drop_line(self, /, line: SupportsIndex) -> Draft:
        """
        Without a line; it stays in the draft as written.
        """
    def drop_optional(self, /, line: SupportsIndex) -> Draft:
        """
        Without a line that is marked optional.
        """
    def fill_with(self, /, line: SupportsIndex) -> Draft:
        """
        With one line that fills to 100; others that wanted to will be asked for a figure.
        """
    @classmethod
    def from_json(cls, /, text: str) -> Draft:
        """
        Reads a draft document in JSON.
        `text` is the document.
        """
    @classmethod
    def from_text(cls, /, title: str, text: str) -> Draft:
        """
        Reads a pasted recipe: a line is a raw material with its amount, first or last, with dashes, dots, brackets or
        cells between; headings become phases, totals are compared, remarks kept. What cannot be read becomes a
        question. `text` is the recipe as it was pasted, `title` what it is to be called.
        """
    @classmethod
    def from_toml(cls, /, text: str) -> Draft:
        """
        Reads a draft document in TOML.
        `text` is the document.

        >>> draft = td.Draft("Clay", [("kaolin", "97.5 %")]).normalise()
        >>> td.Draft.from_toml(draft.to_toml()) == draft == td.Draft.from_json(draft.to_json())
        True
        """
    @property
    def is_normalised(self, /) -> bool:
        """
        True if the total is to be scaled to 100.
        """
    @property
    def lines(self, /) -> Table[DraftLine]:
        """
        Its lines as written, those left out by an answer included.
        """
    def merge(self, /, line: SupportsIndex) -> Draft:
        """
        With a line added to the earlier one of the same raw material.
        """
    def merge_duplicates(self, /) -> Draft:
        """
        With every line added to an earlier one of the same raw material.
        """
    def name_line(self, /, line: SupportsIndex, name: str) -> Draft:
        """
        With a line kept under a name of its own.
        """
    def normalise(self, /) -> Draft:
        """
        Scaled so that the total is exactly 100.
        """
    def page(self, /, catalogue: Catalogue | None = None) -> Page:
        """
        What was read from which line; with a `catalogue` also the raw materials, the totals and every open question
        with its choices.

        >>> draft = td.Draft.from_text("Pasted", "Phase A\\nkaolin - 100 %\\nTotal 100 %")
        >>> "no question is open" in draft.page(td.Catalogue.starter()).text().lower()
        True
        """
    def questions(self, /, catalogue: Catalogue) -> Table[Question]:
        """
        Every open question, by line, then those about the recipe as a whole.
        Names are looked up in the `catalogue`.
        """
    def read_as(self, /, line: SupportsIndex, role: LineRole) -> Draft:
        """
        With a line read as something else: `role` is "material", "heading" (the name of the phase below it), "total" or
        "comment".

        >>> draft = td.Draft.from_text("Pasted", "Sturdy base\\nkaolin 100 %").read_as(1, "heading")
        >>> draft.lines[1].phase
        'Sturdy base'
        """
    def rewrite(self, /, line: SupportsIndex, item: str, amount: str) -> Draft:
        """
        With what a line should have said.
        `item` names the raw material, `amount` says how much.
        """
    def set_amount(self, /, line: SupportsIndex, amount: str) -> Draft:
        """
        With another amount for a line; the line keeps what was written.
        """
    def settle(self, /, catalogue: Catalogue) -> Settled:
        """
        The formula, with what each line departs from its exact percentage; raises OpenQuestion with all open questions.
        Names are looked up in the `catalogue`.
        """
    @property
    def title(self, /) -> str:
        """
        Its title.
        """
    def to_formula(self, /, catalogue: Catalogue) -> Formula:
        """
        The formula; raises OpenQuestion with all open questions.
        Names are looked up in the `catalogue`.
        """
    def to_json(self, /) -> str:
        """
        As a JSON document, what was answered included.
        """
    def to_toml(self, /) -> str:
        """
        As a TOML document, what was answered included.
        """
    def with_batch(self, /, mass: str) -> Draft:
        """
        With the mass of the whole batch, against which masses become percentages.
        """
    def with_figures_in(self, /, unit: FigureUnit) -> Draft:
        """
        With figures without a unit read as "percent" or as "gram".
        """

@final
class DraftDeparture:
    """
    What a line departs from its exact percentage for standing on the grid of 0.0001 %.
    """
    def __copy__(self, /) -> DraftDeparture: ...
    def __deepcopy__(self, memo: Any, /) -> DraftDeparture: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, line: str, exact: SupportsFloat | str, grid: Decimal, absorber: bool) -> DraftDeparture: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, DraftDeparture], page: Page | None) -> Table[Any]: ...
    @property
    def absorber(self, /) -> bool:
        """
        True for the line that took the rounding rests of the others.
        """
    @property
    def exact(self, /) -> Fraction:
        """
        The exact percentage.
        """
    @property
    def grid(self, /) -> Decimal:
        """
        The percentage on the grid.
        """
    @property
    def line(self, /) -> str:
        """
        The line's name in the formula.
        """

@final
class DraftLine:
    """
    A line as written; `lot` is the name of a lot that the catalogue has.
    `method_only` marks what the method adds and the formula does not count.

    >>> line = td.formula.DraftLine("Rosemary oil", "3 drops", phase="cool-down", optional=True)
    >>> line.item, line.amount
    ('Rosemary oil', '3 drops')
    """
    def __copy__(self, /) -> DraftLine: ...
    def __deepcopy__(self, memo: Any, /) -> DraftLine: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, item: str, amount: str | None = None, *, phase: str | None = None, lot: str | None = None, optional: bool = False, method_only: bool = False) -> DraftLine: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, json: str) -> DraftLine:
        """
        The line of a draft of one line, when it comes back from a pickle.
        """
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, DraftLine], page: Page | None) -> Table[Any]: ...
    @property
    def amount(self, /) -> str | None:
        """
        The amount as written.
        """
    @property
    def current_amount(self, /) -> str:
        """
        The amount that counts: as answered, else as written.
        """
    @property
    def is_dropped(self, /) -> bool:
        """
        True if an answer left it out.
        """
    @property
    def is_method_only(self, /) -> bool:
        """
        True if it stands in the method but not in the list.
        """
    @property
    def is_optional(self, /) -> bool:
        """
        True if it is said outright that it may be left out.
        """
    @property
    def item(self, /) -> str:
        """
        The raw material as written.
        """
    @property
    def lot(self, /) -> str | None:
        """
        The lot of the raw material, if one is named.
        """
    @property
    def material(self, /) -> str | None:
        """
        The id of the raw material chosen for it.
        """
    @property
    def phase(self, /) -> str | None:
        """
        The phase, if one is given.
        """
    @property
    def role(self, /) -> LineRole:
        """
        What it is read as: "material", "heading", "columns", "total", "comment". Only raw materials count.
        """
    @property
    def written(self, /) -> str | None:
        """
        The whole line of a pasted text, where it was one.
        """

@final
class DriedBar:
    """
    What one bar comes to; standard errors are those of the linearised fit.
    """
    def __copy__(self, /) -> DriedBar: ...
    def __deepcopy__(self, memo: Any, /) -> DriedBar: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, name: str, plateau: SupportsFloat | SupportsIndex, plateau_error: SupportsFloat | SupportsIndex, loss: SupportsFloat | SupportsIndex, loss_error: SupportsFloat | SupportsIndex) -> DriedBar: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, DriedBar], page: Page | None) -> Table[Any]: ...
    @property
    def loss(self, /) -> float:
        """
        What leaves it from the first weigh-in on, percent of what it weighs then by the fit.
        """
    @property
    def loss_error(self, /) -> float:
        """
        The standard error of that.
        """
    @property
    def name(self, /) -> str:
        """
        What the bar is called.
        """
    @property
    def plateau(self, /) -> float:
        """
        Its final weight, grams.
        """
    @property
    def plateau_error(self, /) -> float:
        """
        The standard error of that.
        """

@final
class DryingCurve:
    """
    Bars that dry to their final weights, each to its own and all at one rate. `weigh_ins` are by bar its days, counted
    from any day, and what it weighed; `readability` is the division of the balance, by which readings may seem to rise.
    In the place of every day a `datetime.date` can stand; the earliest is day 0 then.

    >>> masses = ["70.0 g", "68.2 g", "67.1 g", "66.3 g", "65.9 g", "65.6 g", "65.4 g"]
    >>> drying = td.batch.DryingCurve({"first": list(enumerate(masses))}, readability="0.1 g")
    >>> loss, error = drying.loss
    >>> round(loss, 1), error < 0.2
    (7.0, True)
    >>> td.batch.DryingCurve({"first": [(0, "70 g"), (1, "70 g"), (2, "70 g"), (3, "70 g")]})
    Traceback (most recent call last):
    ...
    tenside.errors.Contradiction: bar "first": every weigh-in is the same (found 70 g and then 70 g); a bar that does not dry has its final weight already; leave it out
    """
    def __copy__(self, /) -> DryingCurve: ...
    def __deepcopy__(self, memo: Any, /) -> DryingCurve: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, weigh_ins: dict[str, Iterable[tuple[SupportsFloat | str | date, str]]], *, readability: str | None = None) -> DryingCurve: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    def at(self, /, day: SupportsFloat | str | date, *, confidence: SupportsFloat | str | None = None) -> Table[DayWeight]:
        """
        What each bar weighs on a day, or on a date where the weigh-ins are by date, with the interval in which a
        weigh-in lies with the confidence in percent.

        >>> masses = ["70.0 g", "68.2 g", "67.1 g", "66.3 g", "65.9 g", "65.6 g", "65.4 g"]
        >>> day = td.batch.DryingCurve({"first": list(enumerate(masses))}, readability="0.1 g").at(14)[0]
        >>> day.low < day.mass < day.high
        True
        """
    @property
    def bars(self, /) -> Table[DriedBar]:
        """
        What each bar comes to.
        """
    def curve(self, /, points: SupportsIndex = 61, *, confidence: SupportsFloat | str | None = None) -> Table[DayWeight]:
        """
        What each bar weighs at so many `points` in time, evenly from the first weigh-in until hardly anything is left
        to dry; `confidence` as for `at`.

        >>> masses = ["70.0 g", "68.2 g", "67.1 g", "66.3 g", "65.9 g", "65.6 g", "65.4 g"]
        >>> len(td.batch.DryingCurve({"first": list(enumerate(masses))}, readability="0.1 g").curve(20))
        20
        """
    @property
    def day_zero(self, /) -> str | None:
        """
        The date that is day 0, if the weigh-ins are by date.
        """
    @property
    def degrees_of_freedom(self, /) -> int:
        """
        Weigh-ins less what was fitted.
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> DryingCurve:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> DryingCurve:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    @property
    def half_time(self, /) -> tuple[float, float]:
        """
        The days in which half of what is still to leave does, with their standard error.
        """
    @property
    def loss(self, /) -> tuple[float, float]:
        """
        What leaves a bar from its first weigh-in on, percent: the mean over the bars, with its standard error.
        """
    @property
    def notes(self, /) -> list[str]:
        """
        What to know about it.
        """
    @property
    def page(self, /) -> Page:
        """
        Rate and final weights on one page.
        """
    @property
    def rate(self, /) -> tuple[float, float]:
        """
        The rate, per day, with its standard error.
        """
    @property
    def readability(self, /) -> Fraction | None:
        """
        The division of the balance, grams, if stated.
        """
    def ready(self, /, *, tolerance: SupportsFloat | str, confidence: SupportsFloat | str | None = None) -> Table[ReadyBar]:
        """
        When each bar is within so many percent of its final weight: by the fit, and with the confidence in percent.

        >>> masses = ["70.0 g", "68.2 g", "67.1 g", "66.3 g", "65.9 g", "65.6 g", "65.4 g"]
        >>> ready = td.batch.DryingCurve({"first": list(enumerate(masses))}, readability="0.1 g").ready(tolerance=0.5)[0]
        >>> 5 < ready.day < ready.sure_day < 10
        True
        """
    @property
    def residual_deviation(self, /) -> float:
        """
        The standard deviation of a weigh-in about the curve, grams.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    @property
    def weigh_ins(self, /) -> dict[str, list[tuple[Fraction, Fraction]]]:
        """
        The weigh-ins by bar: day, and grams.
        """

@final
class Equilibrium:
    """
    A solution at equilibrium: what its charges balance at.

    >>> state = td.ph.Solution(25).acid("acetic acid", 0.2).ion("Na", 0.1).solve()
    >>> round(state.ph, 2), round(state.fraction("acetic acid", charge=0), 3), state.caveats
    (4.65, 0.5, [])
    """
    def __copy__(self, /) -> Equilibrium: ...
    def __deepcopy__(self, memo: Any, /) -> Equilibrium: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __float__(self, /) -> float: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[()]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def buffer_capacity(self, /) -> float:
        """
        How steeply strong alkali raises the pH here: mol of strong base per kg of water and per unit of pH, activity
        coefficients kept as they are. Over a whole unit the amount differs.
        """
    @property
    def caveats(self, /) -> Table[Caveat]:
        """
        What makes the pH less certain.
        """
    @property
    def forms(self, /) -> dict[str, list[AcidForm]]:
        """
        The forms of each acid, from the fully protonated one on.
        """
    def fraction(self, /, acid: str, charge: SupportsIndex) -> float | None:
        """
        The share, 0 to 1, of the form of that charge; None if there is no such form.
        `acid` is one of `acids`.
        """
    @property
    def hydrogen(self, /) -> float:
        """
        Hydrogen ion, mol per kg of water.
        """
    @property
    def hydroxide(self, /) -> float:
        """
        Hydroxide ion, mol per kg of water.
        """
    @property
    def imbalance(self, /) -> float:
        """
        Positive less negative charges, mol per kg of water: what the arithmetic leaves.
        """
    @property
    def ionic_strength(self, /) -> float:
        """
        The ionic strength, mol per kg of water.
        """
    def page(self, /) -> Page:
        """
        The same for people.
        """
    @property
    def ph(self, /) -> float:
        """
        The pH: the negative decimal logarithm of the activity of the hydrogen ion.
        """
    @property
    def temperature(self, /) -> float:
        """
        The temperature in °C.
        """

@final
class ExpandedRow:
    """
    One constituent of a formula as charged.
    """
    def __copy__(self, /) -> ExpandedRow: ...
    def __deepcopy__(self, memo: Any, /) -> ExpandedRow: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, inci: str, percent: Interval, lines: SupportsGetItem[int, str], declaration: Declaration) -> ExpandedRow: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, ExpandedRow], page: Page | None) -> Table[Any]: ...
    @property
    def declaration(self, /) -> Declaration:
        """
        "declared", "not-declared" or "ask".
        """
    @property
    def inci(self, /) -> str:
        """
        INCI name.
        """
    @property
    def lines(self, /) -> list[str]:
        """
        The lines that bring it.
        """
    @property
    def percent(self, /) -> Interval:
        """
        Percent of the formula.
        """

@final
class Exposure:
    """
    The systemic exposure to one substance and the margin to a dose without adverse effect; a qualified safety assessor
    decides.

    >>> bar = td.Formula("Bar", {"kaolin": 99, "panthenol": 1}, td.Catalogue.starter())
    >>> exposure = bar.exposure("PANTHENOL", product="shampoo", systemic_dose=100)
    >>> float(round(exposure.dose.typical, 5)), float(exposure.usual_margin)
    (0.0075, 100.0)
    """
    def __copy__(self, /) -> Exposure: ...
    def __deepcopy__(self, memo: Any, /) -> Exposure: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def absorption(self, /) -> Fraction:
        """
        What the skin is taken to let through, percent.
        """
    @property
    def dose(self, /) -> Interval:
        """
        The systemic exposure dose, mg a day and kg of body weight.
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> Exposure:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> Exposure:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    @property
    def margin(self, /) -> Interval | None:
        """
        The margin of safety, where a dose to compare with was stated; its low end is what counts.
        """
    @property
    def notes(self, /) -> list[str]:
        """
        What to know about these numbers.
        """
    @property
    def page(self, /) -> Page:
        """
        The numbers with what they rest on.
        """
    @property
    def percent(self, /) -> Interval:
        """
        Its share of the product, percent.
        """
    @property
    def product_exposure(self, /) -> Fraction:
        """
        The product that stays, mg a day and kg of body weight.
        """
    @property
    def reference_dose(self, /) -> Fraction | None:
        """
        The systemic dose without adverse effect that was stated.
        """
    @property
    def substance(self, /) -> str:
        """
        The substance asked for.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    @property
    def usual_margin(self, /) -> Fraction:
        """
        The margin that the guidance usually compares with.
        """

@final
class ExtraCost:
    """
    A cost beside the raw materials.
    """
    def __copy__(self, /) -> ExtraCost: ...
    def __deepcopy__(self, memo: Any, /) -> ExtraCost: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, name: str, basis: CostBasis, stated: SupportsFloat | str, cost: SupportsFloat | str) -> ExtraCost: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, ExtraCost], page: Page | None) -> Table[Any]: ...
    @property
    def basis(self, /) -> CostBasis:
        """
        What it is stated for: "bar", "batch", "direct-costs".
        """
    @property
    def cost(self, /) -> Fraction:
        """
        What it comes to in the batch.
        """
    @property
    def name(self, /) -> str:
        """
        What it is called.
        """
    @property
    def stated(self, /) -> Fraction:
        """
        Money for one bar or batch, or percent of the direct costs.
        """

@final
class Finding:
    """
    One finding of a review.
    """
    def __copy__(self, /) -> Finding: ...
    def __deepcopy__(self, memo: Any, /) -> Finding: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, slug: str, severity: Severity, certainty: Certainty, caveat: str | None, begins: str | None, title: str, lines: SupportsGetItem[int, str], value: Interval | None, bound: Bound | None, limit: SupportsFloat | str | None, basis: str | None, numbers: str | None, label: str | None, source: str, mark: Mark, sentence: str) -> Finding: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Finding], page: Page | None) -> Table[Any]: ...
    @property
    def basis(self, /) -> str | None:
        """
        On which basis a measure was judged: "as charged", "finished at 5 % residual moisture".
        """
    @property
    def begins(self, /) -> str | None:
        """
        The later day from which it holds; None if it holds already.
        """
    @property
    def bound(self, /) -> Bound | None:
        """
        "at_most", "below", "at_least" or "above" the limit.
        """
    @property
    def caveat(self, /) -> str | None:
        """
        Why it is less grave than its rule, with the way out; None if it is as grave.
        """
    @property
    def certainty(self, /) -> Certainty:
        """
        "certain", "typical-only" or "possible".
        """
    @property
    def label(self, /) -> str | None:
        """
        Words that are due on the label, or their sense.
        """
    @property
    def limit(self, /) -> Fraction | None:
        """
        The limit that is not kept.
        """
    @property
    def lines(self, /) -> list[str]:
        """
        The lines it is about; empty if it is about the whole.
        """
    @property
    def mark(self, /) -> Mark:
        """
        How that is known.
        """
    @property
    def numbers(self, /) -> str | None:
        """
        Value and limit in words.
        """
    @property
    def sentence(self, /) -> str:
        """
        The finding in sentences.
        """
    @property
    def severity(self, /) -> Severity:
        """
        "error", "warning", "question" or "information".
        """
    @property
    def slug(self, /) -> str:
        """
        Its stable name: that of the rule.
        """
    @property
    def source(self, /) -> str:
        """
        Who says so.
        """
    @property
    def title(self, /) -> str:
        """
        What it is about, in words.
        """
    @property
    def value(self, /) -> Interval | None:
        """
        The number that was compared or is shown, with its interval; None if it is none or not known.
        """

@final
class FinerLines:
    """
    Finer steps of a few lines with which there is a formula: of those fixed between two multiples of their step,
    and of the q.s. line.
    """
    def __copy__(self, /) -> FinerLines: ...
    def __deepcopy__(self, memo: Any, /) -> FinerLines: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, lines: SupportsGetItem[int, str], step: SupportsFloat | str, half_a_step: bool) -> FinerLines: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, FinerLines], page: Page | None) -> Table[Any]: ...
    @property
    def half_a_step(self, /) -> bool:
        """
        True if splits and targets are to be within half a step's effect as well (`half_a_step`).
        """
    @property
    def lines(self, /) -> list[str]:
        """
        The lines.
        """
    @property
    def step(self, /) -> Fraction:
        """
        Their step; finer ones of their own stay.
        """

@final
class FittedModel:
    """
    A model of one measured property, fitted to the batches as they were made: see `TrialLog.fit`.

    >>> shares = [100, 100, 50, 50, 50, 0, 0]
    >>> results = ["11.0", "12.4", "15.0", "14.8", "16.1", "8.8", "10.0"]
    >>> runs = [td.trial.TrialRun(str(n), {"sci-powder": s, "kaolin": 100 - s}, {"hardness": y}) for n, (s, y) in enumerate(zip(shares, results))]
    >>> model = td.trial.TrialLog("Two parts", {"hardness": "N"}, runs).fit("hardness")
    >>> [(row.term, round(row.coefficient, 3), round(row.error, 3)) for row in model.terms]
    [('sci-powder', 11.7, 0.579), ('kaolin', 9.4, 0.579), ('sci-powder*kaolin', 19.0, 2.501)]
    """
    def __copy__(self, /) -> FittedModel: ...
    def __deepcopy__(self, memo: Any, /) -> FittedModel: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def adjusted(self, /) -> float:
        """
        The same by mean squares, which more terms do not raise by themselves.
        """
    @property
    def aicc(self, /) -> float | None:
        """
        Akaike's criterion with the correction for few results; None with too few of them.
        """
    @property
    def aliased(self, /) -> Table[AliasedTerm]:
        """
        Terms that were left out because the design cannot tell them from those before them.
        """
    @property
    def anova(self, /) -> Table[AnovaRow]:
        """
        The analysis of variance.
        """
    @property
    def components(self, /) -> list[str]:
        """
        The components of the mixture.
        """
    @property
    def degrees_of_freedom(self, /) -> int:
        """
        Results less fitted terms.
        """
    @property
    def digits(self, /) -> int:
        """
        Decimal digits to which the coefficients are worked out.
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> FittedModel:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> FittedModel:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    @property
    def lack_of_fit(self, /) -> LackOfFit | None:
        """
        Whether more is left than repetitions explain; None without repeated blends, with no more blends than terms, or
        in whole plots.
        """
    @property
    def log(self, /) -> TrialLog:
        """
        The log that it was fitted to.
        """
    def measure(self, /, brief: Brief, *, settings: Mapping[str, SupportsFloat | str] | None = None) -> Measure:
        """
        A linear model as a measure of formulas of a `brief`, which can then ask for it as for any other, exactly;
        `settings` as for `predict`.

        >>> runs = [td.trial.TrialRun(str(n), {"sci-powder": 100 - k, "kaolin": k}, {"hardness": y}) for n, (k, y) in enumerate([(30, 41), (40, 44), (50, 48)])]
        >>> model = td.trial.TrialLog("Kaolin", {"hardness": "N"}, runs).fit("hardness", model="linear")
        >>> brief = td.Brief("Hard", td.Catalogue.starter()).between("kaolin", 20, 60).qs("sci-powder")
        >>> round(float(brief.maximise(model.measure(brief)).solve().objective), 3)
        51.333
        """
    @property
    def model(self, /) -> Blend:
        """
        The polynomial of the mixture.
        """
    @property
    def notes(self, /) -> list[str]:
        """
        What to know about it.
        """
    @property
    def page(self, /) -> Page:
        """
        Coefficients, analysis of variance and what to know on one page.
        """
    def predict(self, /, formula: Formula, *, settings: Mapping[str, SupportsFloat | str] | None = None, confidence: SupportsFloat | str | None = None) -> Prediction:
        """
        What the model says of a `formula` made with these `settings`, by process variable, with the `confidence` in
        percent.

        >>> runs = [td.trial.TrialRun(str(n), {"sci-powder": 100 - k, "kaolin": k}, {"hardness": y}) for n, (k, y) in enumerate([(30, 41), (40, 44), (50, 48)])]
        >>> model = td.trial.TrialLog("Kaolin", {"hardness": "N"}, runs).fit("hardness", model="linear")
        >>> bar = td.Formula("Bar", {"sci-powder": 60, "kaolin": 40}, td.Catalogue.starter())
        >>> round(model.predict(bar).value, 3), model.predict(bar).is_extrapolation
        (44.333, False)
        """
    @property
    def predicted(self, /) -> float | None:
        """
        The share of the variation that it predicts of results it was not fitted to; None where a run alone decides a
        term.
        """
    @property
    def press(self, /) -> float | None:
        """
        The sum of squares by which it misses each result when fitted without it; None where a run alone decides a term.
        """
    @property
    def process(self, /) -> dict[str, tuple[str, Fraction, Fraction]]:
        """
        The process variables: unit, the setting that is -1 in the model, the one that is 1.
        """
    @property
    def r_squared(self, /) -> float:
        """
        The share of the variation about the mean that it explains.
        """
    @property
    def residual_deviation(self, /) -> float:
        """
        The standard deviation of results about it, in the unit of the property.
        """
    @property
    def response(self, /) -> Response:
        """
        The property that it is a model of.
        """
    @property
    def runs(self, /) -> Table[FittedRun]:
        """
        The runs with their residuals.
        """
    @property
    def terms(self, /) -> Table[FittedTerm]:
        """
        The coefficients with their standard errors.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def values_at(self, /, mixtures: Iterable[Iterable[SupportsFloat | SupportsIndex]], *, settings: Mapping[str, SupportsFloat | str] | None = None) -> list[float]:
        """
        The values alone at many `mixtures`, for maps: fractions of the components in their order, which sum to 1;
        `settings` as for `predict`.

        >>> runs = [td.trial.TrialRun(str(n), {"sci-powder": 100 - k, "kaolin": k}, {"hardness": y}) for n, (k, y) in enumerate([(0, 40), (50, 45), (100, 50)])]
        >>> model = td.trial.TrialLog("Kaolin", {"hardness": "N"}, runs).fit("hardness", model="linear")
        >>> [round(value, 6) for value in model.values_at([[1, 0], [0.25, 0.75]])]
        [40.0, 47.5]
        """
    @property
    def whole_plot_ratio(self, /) -> Fraction | None:
        """
        How many times the variance of a single run that of a whole plot is; None where every run is set up anew.
        """

@final
class FittedRun:
    """
    A run in a fitted model.
    """
    def __copy__(self, /) -> FittedRun: ...
    def __deepcopy__(self, memo: Any, /) -> FittedRun: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, run: str, measured: SupportsFloat | SupportsIndex, fitted: SupportsFloat | SupportsIndex, residual: SupportsFloat | SupportsIndex, leverage: SupportsFloat | SupportsIndex, studentised: SupportsFloat | SupportsIndex | None, cook: SupportsFloat | SupportsIndex | None) -> FittedRun: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, FittedRun], page: Page | None) -> Table[Any]: ...
    @property
    def cook(self, /) -> float | None:
        """
        Cook's distance: how far leaving the run out moves all coefficients.
        """
    @property
    def fitted(self, /) -> float:
        """
        What the model says.
        """
    @property
    def leverage(self, /) -> float:
        """
        What share of its fitted value its own result decides, 0 to 1; in whole plots the variance of its fitted
        value over that of a run, without that of its whole plot.
        """
    @property
    def measured(self, /) -> float:
        """
        What was measured.
        """
    @property
    def residual(self, /) -> float:
        """
        Measured less fitted.
        """
    @property
    def run(self, /) -> str:
        """
        The run.
        """
    @property
    def studentised(self, /) -> float | None:
        """
        The residual over its own standard error; None where it has none.
        """

@final
class FittedTerm:
    """
    A coefficient of a fitted model.
    """
    def __copy__(self, /) -> FittedTerm: ...
    def __deepcopy__(self, memo: Any, /) -> FittedTerm: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, term: str, coefficient: SupportsFloat | SupportsIndex, error: SupportsFloat | SupportsIndex, t: SupportsFloat | SupportsIndex | None, p: SupportsFloat | SupportsIndex | None) -> FittedTerm: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, FittedTerm], page: Page | None) -> Table[Any]: ...
    @property
    def coefficient(self, /) -> float:
        """
        Its coefficient, in the unit of the property; that of a component alone is the value fitted for it pure.
        """
    @property
    def error(self, /) -> float:
        """
        The standard error of that.
        """
    @property
    def p(self, /) -> float | None:
        """
        How often chance alone gives a t so far from 0, if the coefficient is 0.
        """
    @property
    def t(self, /) -> float | None:
        """
        One over the other; None where the model passes through every result.
        """
    @property
    def term(self, /) -> str:
        """
        The term.
        """

@final
class Flag:
    """
    What one rule says of one formula: a column over many formulas.
    """
    def __copy__(self, /) -> Flag: ...
    def __deepcopy__(self, memo: Any, /) -> Flag: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, certainty: Certainty | None, value: Interval | None, checked: bool) -> Flag: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Flag], page: Page | None) -> Table[Any]: ...
    @property
    def certainty(self, /) -> Certainty | None:
        """
        "certain", "typical-only" or "possible"; None if nothing was found.
        """
    @property
    def checked(self, /) -> bool:
        """
        False if the rule could not be asked.
        """
    @property
    def value(self, /) -> Interval | None:
        """
        The value it was found with, where it is a number.
        """

@final
class Formula:
    """
    Lines of raw materials in phases whose percentages sum to exactly 100. Immutable. `title` is its own; `lines` are
    `Line`s, or percentages by name that are looked up in the `catalogue`; `prices` per kilogram are a `PriceList`, or
    numbers by name in a `currency`.

    >>> cat = td.Catalogue.starter()
    >>> bar = td.Formula("Plain bar", {"sci-powder": 60, "cetyl-alcohol": 15, "kaolin": 25}, cat)
    >>> print(bar.measure(td.measure.active_matter).text())
    50.40 (49.20 to 52.20) %
    """
    def __arrow_c_schema__(self, /) -> "object":
        """
        The Arrow C schema of its columns.
        """
    def __arrow_c_stream__(self, /, requested_schema: "object | None" = None) -> "object":
        """
        The Arrow C stream of its columns: one record batch. A schema that is asked for is not converted to.
        """
    def __copy__(self, /) -> Formula: ...
    def __deepcopy__(self, memo: Any, /) -> Formula: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, title: str, lines: Iterable[Line] | Mapping[str, SupportsFloat | str], catalogue: Catalogue | None = None, *, phases: dict[str, SupportsFloat | str | None] | None = None, prices: PriceList | Mapping[str, SupportsFloat | str] | None = None, currency: str | None = None) -> Formula: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def absorber(self, /) -> str:
        """
        The line that takes rounding rests.
        """
    def bars_from_stock(self, /, stock: Stock, mass: str, *, on: date | str | None = None) -> BarsFromStock:
        """
        How many bars the `stock` is good for if a `mass` is weighed in for each, `on` a day. A premix of which something
        usable is in stock is taken as such, and a note says so, since more of it could be made of its parts; any other is
        taken as its parts. A raw material that is not in stock allows no bar.
        """
    def batch(self, /, *, bars: SupportsIndex | None = None, net: str | None = None, mass: str | None = None, drying_loss: SupportsFloat | str | None = None, process_loss: SupportsFloat | str | None = None, readability: str, readability_of: dict[str, str] | None = None, unit: str | None = None, tolerance: SupportsFloat | str | None = None, number: str | None = None, date: date | str | None = None) -> Batch:
        """
        The formula weighed out: so many `bars` of a `net` mass with what is lost on the way, or a `mass` (pressed as so
        many bars). The sheet is in `unit` ("g", "kg", "oz", "lb"), in which a scale must be able to count, and carries
        the batch's `number` and `date`.

        `readability` is what the scale counts in, `readability_of` that of phases weighed on another one; `tolerance`
        is the rounding error in percent of a line that is accepted without a note.

        >>> clay = td.Formula("Clay", {"kaolin": 85, "water": 15}, td.Catalogue.starter())
        >>> batch = clay.batch(bars=24, net="60 g", drying_loss=8, process_loss=4, readability="0.1 g")
        >>> batch.weighed
        Fraction(8152, 5)
        """
    def calculated_titration(self, /, reagent: Material, *, most: str, dilution: str = "1+0", temperature: SupportsFloat | SupportsIndex = 25.0) -> Titration:
        """
        A titration of a hundred grams of it with up to `most` of a raw material, calculated by the model: for solutions
        without surfactant. `reagent` is that raw material, `dilution` that of the sample ("1+9"), `temperature` in °C.

        >>> cat = td.Catalogue.starter()
        >>> rinse = td.Formula("Rinse", {"citric-acid-50": 1, "water": 99}, cat)
        >>> print(rinse.calculated_titration(cat.material("sodium-hydroxide-10"), most="3 g").grams_at(5))
        1.95 (typical only)
        """
    def candidates(self, /, line: str, keep: Measure | Iterable[Measure], catalogue: Catalogue | None = None) -> Candidates:
        """
        The raw materials of a catalogue (the starter one where none is given) that match a line's in class, form, pH
        range and attributes, ranked by how little they disturb the formula with these measures kept. What is not stated
        does not match.

        >>> bar = td.Formula("Bar", {"stearic-acid": 20, "kaolin": 80}, td.Catalogue.starter())
        >>> bar.candidates("stearic-acid", keep=td.measure.class_("fatty-acid")).line
        'stearic-acid'
        """
    def costing(self, /, mass: Batch | str, *, bars: SupportsIndex | None = None, washes: SupportsFloat | str | None = None, process_loss: SupportsFloat | str | None = None, per_bar: Mapping[str, SupportsFloat | str] | None = None, per_batch: Mapping[str, SupportsFloat | str] | None = None, percent_of_direct_costs: Mapping[str, SupportsFloat | str] | None = None) -> Costing:
        """
        What a batch costs of which a `mass` is weighed in, at the formula's prices: by line, phase and whole. A batch of it
        in place of a mass says its bars and its process loss too; what is given here goes before that. A line costs by
        its percentage, not by the scale's last division, and a line at 0 % is left out.

        It gives so many `bars` to be sold, each good for so many `washes`; of the raw materials, `process_loss` percent
        stay in bowl and press, which is told apart and not added. Named costs are stated `per_bar` (packaging),
        `per_batch` (labour), or as `percent_of_direct_costs` (overhead): percent of the raw materials and everything
        stated for bar or batch.

        Raises Contradiction for a batch of another formula, Missing for prices that are not there and for `washes` or
        costs `per_bar` without a number of bars, NotKnown for a raw material without a price.

        >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter(), prices={"kaolin": 2}, currency="EUR")
        >>> clay.costing("1 kg", percent_of_direct_costs={"overhead": 15}).total
        Fraction(23, 10)
        >>> batch = clay.batch(bars=24, net="60 g", readability="0.1 g")
        >>> clay.costing(batch).per_bar
        Fraction(3, 25)
        """
    @property
    def currency(self, /) -> str | None:
        """
        The currency of the prices.
        """
    def difference(self, /, after: Formula) -> Difference:
        """
        This formula and a later one, side by side.

        >>> cat = td.Catalogue.starter()
        >>> first = td.Formula("First", {"sci-powder": 60, "kaolin": 40}, cat)
        >>> second = td.Formula("Second", {"sci-powder": 55, "corn-starch": 45}, cat)
        >>> [(row.name, row.before, row.after) for row in first.difference(second).lines][0]
        ('sci-powder', Fraction(60, 1), Fraction(55, 1))
        """
    def dough(self, /, trials: Iterable[tuple[Formula, str]] | None = None) -> Dough:
        """
        How wet a dough of this formula is, beside `trials` made before: formulas with how they worked, in words.

        >>> cat = td.Catalogue.starter()
        >>> dry, wet = td.Formula("Trial 1", {"sci-powder": 92, "water": 8}, cat), td.Formula("Trial 2", {"sci-powder": 80, "water": 20}, cat)
        >>> dough = td.Formula("New", {"sci-powder": 90, "water": 10}, cat).dough([(dry, "crumbles"), (wet, "sticks")])
        >>> dough.trials[0].title, float(dough.shares.liquid)
        ('Trial 1', 10.0)
        """
    def expand(self, /) -> Table[ExpandedRow]:
        """
        The constituents as charged, largest first, with their intervals; a table in a notebook.

        >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
        >>> [row.inci for row in clay.expand()]
        ['KAOLIN']
        """
    def exposure(self, /, substance: str, *, product: str | None = None, amount: SupportsFloat | str | None = None, retained_percent: SupportsFloat | str | None = None, absorption: SupportsFloat | str | None = None, oral_dose: SupportsFloat | str | None = None, oral_absorption: SupportsFloat | str | None = None, systemic_dose: SupportsFloat | str | None = None, body_weight: SupportsFloat | str | None = None, basis: Basis | None = None) -> Exposure:
        """
        The systemic exposure to a substance, as an ingredient and contained in others: of a `product` type of the SCCS
        Notes of Guidance, or of an `amount` in g a day of which `retained_percent` stays. The dose without adverse
        effect is `oral_dose` or `systemic_dose`, in mg a day and kg of body weight; absorptions are percent, the
        guidance's defaults where none is given. `oral_absorption` is percent absorbed from the gut, `body_weight` kg
        for an `amount`, `basis` what the substance is counted on.

        >>> bar = td.Formula("Bar", {"kaolin": 99, "panthenol": 1}, td.Catalogue.starter())
        >>> bar.exposure("PANTHENOL", product="shampoo", absorption=10).margin is None
        True
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> Formula:
        """
        Reads a formula document in JSON; what it does not embed is looked up in the catalogue.
        `text` is the document.

        >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
        >>> td.Formula.from_json(clay.to_json(materials=False), td.Catalogue.starter()) == clay
        True
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> Formula:
        """
        Reads a formula document in TOML; what it does not embed is looked up in the catalogue.
        `text` is the document.

        >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
        >>> td.Formula.from_toml(clay.to_toml()) == clay == td.Formula.from_json(clay.to_json())
        True
        """
    @property
    def is_draft(self, /) -> bool:
        """
        True if it rests on values of the starter catalogue.
        """
    def label(self, /, *, market: Market, on: date | str | None = None, placing: Placing | None = None, contact: Contact | None = None, scent: ScentNames | None = None, net: str | None = None, residual_moisture: SupportsFloat | str | None = None, nano: str | Iterable[str] | None = None, declarations: Iterable[ScentDeclaration] = ..., flavour: bool = False, naked: bool = False) -> Label:
        """
        What goes on the label in a `market` ("EU", "US") on a day: `placing` is "placed" or "made-available", `contact`
        "rinse-off" or "leave-on", `scent` "together" (the usual) or "own" (oils by name). `declarations` are suppliers'
        statements on scent constituents. `net` is the net content by mass ("60 g", "2 oz") or, of a liquid, by volume
        ("250 ml", "25 cl", "8 fl oz"), `residual_moisture` percent of the bar as sold, `nano` what is a nanomaterial;
        `flavour` is True where the scent is one, `naked` True for a product sold without a pack.

        >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
        >>> clay.label(market="US", on="2026-11-24").ingredients
        'KAOLIN'
        """
    def line(self, /, name: str) -> Line:
        """
        The line of that name.
        """
    @property
    def lines(self, /) -> Table[Line]:
        """
        Its lines, in the order given.
        """
    def measure(self, /, measure: Measure, basis: Basis | None = None, *, catalogue: Catalogue | None = None) -> Measured:
        """
        Reads a measure, for typical compositions and with its interval.
        `basis` is what it is counted on, as charged unless stated.

        >>> bar = td.Formula("Wash", {"capb-30": 50, "kaolin": 50}, td.Catalogue.starter())
        >>> float(bar.measure(td.measure.active_matter))
        15.0
        >>> float(bar.measure(td.measure.active_matter, td.finished(moisture=5))) > 15
        True

        A substance or raw material is known by the formula or the starter catalogue, or else by the `catalogue` given.
        What a raw material leaves open has ends and no typical value.

        >>> td.Formula("Scented", {"kaolin": 99, "fragrance-oil": 1}, td.Catalogue.starter()).measure(td.measure.substance("LIMONENE")).text()
        'not known (0.00 to 1.00) %'
        """
    def measures(self, /, basis: Basis | None = None) -> Table[Measured]:
        """
        Reads the usual measures; a table in a notebook.
        `basis` is what they are counted on, as charged unless stated.

        >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
        >>> clay.measures()[0].measure.name
        'active matter'
        """
    def mixed_micelles(self, /, dilution: str, *, cmcs: Mapping[str, SupportsFloat | str], interactions: dict[tuple[str, str], SupportsFloat | str] | None = None) -> FormulaMicelles:
        """
        The mixed micelles of the active matter of this formula at a `dilution` with water by mass: `cmcs` are the
        critical micelle concentrations in mmol/L of every substance of it that counts as active, by INCI name,
        `interactions` the parameters of pairs. By typical shares and molar masses; a litre of the dilution is taken as
        a kilogram. Concentrations for one temperature and salinity: the example's are invented.

        >>> bar = td.Formula("Bar", {"sci-powder": 60, "kaolin": 40}, td.Catalogue.starter())
        >>> bar.mixed_micelles("1+999", cmcs={"SODIUM COCOYL ISETHIONATE": 4}).concentration < 4
        True
        """
    def page(self, /, *bases: "Basis") -> Page:
        """
        Lines and usual measures on these bases, as charged where none is given.
        """
    @property
    def parent(self, /) -> Parent | None:
        """
        What it came from; None if it does not say so.
        """
    @property
    def percentages(self, /) -> dict[str, Decimal]:
        """
        Percent as supplied by line.
        """
    def ph_window(self, /) -> PhWindow:
        """
        The pH ranges of its raw materials together.

        >>> bar = td.Formula("Bar", {"sci-powder": 99, "sodium-benzoate": 1}, td.Catalogue.starter())
        >>> bar.ph_window().range
        (Decimal('5'), Decimal('5.5'))
        """
    @property
    def phases(self, /) -> Table[Phase]:
        """
        Its phases, in working order.
        """
    def preservatives_at(self, /, reading: Reading, *, thresholds: Mapping[str, SupportsFloat | str] | None = None) -> Table[Undissociated]:
        """
        How much of its acid preservatives is undissociated at a reading: an upper bound, against thresholds in percent
        of the product that you set by acid.

        >>> bar = td.Formula("Bar", {"sci-powder": 99.5, "sodium-benzoate": 0.5}, td.Catalogue.starter())
        >>> rows = bar.preservatives_at(td.Reading(5.5, dilution="1+9"), thresholds={"benzoic acid": 0.05})
        >>> rows[0].acid, round(rows[0].fraction, 3), rows[0].standing
        ('benzoic acid', 0.048, 'below')
        """
    @property
    def prices(self, /) -> dict[str, Decimal] | None:
        """
        Prices per kilogram by material id, if it was given any.
        """
    def rescue(self, /, bowl: Made | Mapping[str, str], *, most: str | None = None, stock: Mapping[str, str] | None = None, readability: str | None = None, catalogue: Catalogue | None = None) -> Rescue:
        """
        What to add to a `bowl` so that all of it is this formula again, every percentage exactly: a larger batch.
        `most`, `stock` and `readability` are as for `Brief.rescue`; a name in the bowl that is no line is a raw
        material of the `catalogue`, by default the starter catalogue.

        >>> bar = td.Formula("Plain bar", {"sci-powder": 60, "cetyl-alcohol": 15, "kaolin": 25}, td.Catalogue.starter())
        >>> rescue = bar.rescue({"sci-powder": "132 g", "cetyl-alcohol": "30 g", "kaolin": "50 g"})
        >>> rescue.total, [(added.line, added.mass) for added in rescue.additions]
        (Fraction(220, 1), [('cetyl-alcohol', Fraction(3, 1)), ('kaolin', Fraction(5, 1))])
        """
    def review(self, /, product: Product | None = None, *, market: Market | None = None, use: Use | Iterable[Use] | None = None, on: date | str | None = None, placing: Placing | None = None, form: ProductForm | None = None, ph: Reading | None = None, moisture: SupportsFloat | str | None = None, kept: Storage | None = None, water_activity: SupportsFloat | str | None = None, scent_limit: SupportsFloat | str | Mapping[str, SupportsFloat | str] | None = None, scent_category: str | None = None, rules: Iterable[RuleList] | None = None) -> Review:
        """
        This formula compared with the rules of a market for its uses on a day. The `product` is a `Product`, or stated
        by the same keywords: `market`, `use`, `on`, `placing`, `form`, `ph`, `moisture`, `kept`, `water_activity`,
        `scent_limit`, `scent_category`, `rules`.

        >>> bar = td.Formula("Wet", {"water": 20, "kaolin": 80}, td.Catalogue.starter())
        >>> review = bar.review(market="US", use="cleansing-bar", on="2026-11-24", water_activity=0.9)
        >>> [finding.slug for finding in review.findings if finding.severity == "warning"][:2]
        ['water-activity-above-mark', 'use-level-high']
        """
    @property
    def sha256(self, /) -> str:
        """
        SHA-256 of its document as JSON, raw materials embedded, keys sorted, without white space; its parent counts
        too.
        """
    def solution(self, /, *, dilution: str = "1+0", temperature: SupportsFloat | SupportsIndex = 25.0) -> Solution:
        """
        What it is as a solution in its own water and that of a dilution by mass ("1+0" for none), for typical
        compositions. Whatever holds surfactant or free fatty acid is refused: a reading rules there. `temperature` is
        in °C.

        >>> rinse = td.Formula("Rinse", {"citric-acid-50": 1, "water": 99}, td.Catalogue.starter())
        >>> round(rinse.solution().ph, 2)
        2.39
        """
    def substitute(self, /, line: str, replacement: str | Material, keep: Measure | Iterable[Measure], catalogue: Catalogue | None = None) -> Substitution:
        """
        Replaces the raw material of a line by another, keeping these measures exactly where that is possible, else as
        nearly as it is; the other lines change least. Of what a ratio divides by, a thousandth at least stays. A name is
        looked up in the catalogue, in the starter catalogue where none is given. `replacement` is a raw material or its
        name.

        >>> wash = td.Formula("Wash", {"capb-30": 20, "glycerin-99-5": 5, "water": 75}, td.Catalogue.starter())
        >>> substitution = wash.substitute("capb-30", "coco-glucoside-50", keep=[td.measure.active_matter])
        >>> substitution.after.percentages["coco-glucoside-50"], substitution.is_exact
        (Decimal('11.7647'), True)
        >>> print(wash.substitute("water", "glycerin-99-5", keep=td.measure.water).sentence.split(";")[0])
        it cannot be done exactly
        """
    @property
    def title(self, /) -> str:
        """
        Its title.
        """
    def to_json(self, /, *, materials: bool = True) -> str:
        """
        As a JSON document that needs no catalogue; with `materials=False` one that names its raw materials only.
        """
    def to_material(self, /, id: str, *, form: Form) -> Material:
        """
        This formula as a raw material of another: a premix.

        >>> cat = td.Catalogue.starter()
        >>> wash = td.Formula("Wash powder", {"sci-powder": 80, "kaolin": 20}, cat).to_material("wash-powder", form="powder")
        >>> td.Formula("Bar", {"wash-powder": 90, "glycerin-99-5": 10}, cat.with_material(wash)).lines[0].material.id
        'wash-powder'
        """
    def to_pandas(self, /) -> "Any":
        """
        As a pandas data frame through pyarrow, its columns backed by Arrow.
        """
    def to_polars(self, /) -> "Any":
        """
        As a polars data frame.
        """
    def to_pyarrow(self, /) -> "Any":
        """
        As a pyarrow table.
        """
    def to_toml(self, /, *, materials: bool = True) -> str:
        """
        As a TOML document that needs no catalogue; with `materials=False` one that names its raw materials only.
        """
    def usual_steps(self, /, form: ProductForm) -> Table[Step]:
        """
        The usual steps of making it as a product of this `form`, "solid" or "liquid"; they can be replaced, left out
        and put in another order.

        >>> bar = td.Formula("Plain bar", {"sci-powder": 60, "cetyl-alcohol": 15, "kaolin": 25}, td.Catalogue.starter())
        >>> [step.kind for step in bar.usual_steps("solid")][:3]
        ['melt', 'blend-dry', 'knead']
        """
    def with_addition(self, /, material: Material, added: str, *, batch: str) -> Formula:
        """
        The formula of a batch to which so much of a raw material was added.

        >>> cat = td.Catalogue.starter()
        >>> bar = td.Formula("Bar", {"sci-powder": 60, "kaolin": 40}, cat)
        >>> bar.with_addition(cat.material("citric-acid-50"), "8 g", batch="2 kg").percentages["citric-acid-50"]
        Decimal('0.3984')
        """
    def with_parent(self, /, parent: Brief | Formula, relation: Relation) -> Formula:
        """
        With what it came from: the `parent`, a formula or a brief, and its `relation` to it, `answer` of a brief,
        `variant` of a formula or what was really weighed of one, `as-made`. The parent is named by what it holds, so
        that a parent changed later is no longer it.

        >>> bar = td.Formula("Bar", {"sci-powder": 60, "kaolin": 40}, td.Catalogue.starter())
        >>> bar.with_title("Bar 2").with_parent(bar, "variant").parent.sha256 == bar.sha256
        True
        """
    def with_prices(self, /, prices: PriceList | Mapping[str, SupportsFloat | str], *, currency: str | None = None) -> Formula:
        """
        With prices per kilogram by material id, or a `PriceList`, so that cost can be read off it.

        >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter()).with_prices({"kaolin": 1.9}, currency="EUR")
        >>> clay.measure(td.measure.cost).text()
        '1.90 EUR per kg'
        """
    def with_purposes(self, /, line: str, purposes: Purpose | Iterable[Purpose]) -> Formula:
        """
        With what a line is there for stated, all of it. Some limits are those of one purpose only.

        >>> bar = td.Formula("Scalp bar", {"salicylic-acid": 2, "kaolin": 98}, td.Catalogue.starter())
        >>> bar.with_purposes("salicylic-acid", "anti-dandruff").line("salicylic-acid").purposes
        ['anti-dandruff']
        """
    def with_title(self, /, title: str) -> Formula:
        """
        With another title.
        """

@final
class FormulaMicelles:
    """
    The mixed micelles of a formula, and what is single and what is in micelles in use: see `Formula.mixed_micelles`.
    """
    def __copy__(self, /) -> FormulaMicelles: ...
    def __deepcopy__(self, memo: Any, /) -> FormulaMicelles: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def cmc(self, /) -> float:
        """
        The critical micelle concentration of the mixture, mmol/L.
        """
    @property
    def concentration(self, /) -> float:
        """
        All surfactants together at that dilution, mmol/L.
        """
    @property
    def dilution(self, /) -> str:
        """
        The dilution with water by mass.
        """
    @property
    def dispersed(self, /) -> Table[Dispersed]:
        """
        Each at that dilution.
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> FormulaMicelles:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> FormulaMicelles:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    @property
    def notes(self, /) -> list[str]:
        """
        What to know about it.
        """
    @property
    def page(self, /) -> Page:
        """
        The surfactants and their first micelles on one page.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """

@final
class GridRefusal:
    """
    Why there is no formula of whole 0.0001 %.
    """
    def __copy__(self, /) -> GridRefusal: ...
    def __deepcopy__(self, memo: Any, /) -> GridRefusal: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, requirements: SupportsGetItem[int, str], proved: bool, sentence: str) -> GridRefusal: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, GridRefusal], page: Page | None) -> Table[Any]: ...
    @property
    def proved(self, /) -> bool:
        """
        True if there is none; False if the search was cut off.
        """
    @property
    def requirements(self, /) -> list[str]:
        """
        The requirements, splits and ranges that leave no room together; where the search was cut off, those that
        the exact solution meets without room to spare.
        """
    @property
    def sentence(self, /) -> str:
        """
        What leaves no room, in one sentence.
        """

@final
class HistoryEntry:
    """
    One document of a history.
    """
    def __copy__(self, /) -> HistoryEntry: ...
    def __deepcopy__(self, memo: Any, /) -> HistoryEntry: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, title: str, sha256: str, relation: Relation | None, parent: str | None, parent_title: str | None, generation: SupportsIndex) -> HistoryEntry: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, HistoryEntry], page: Page | None) -> Table[Any]: ...
    @property
    def generation(self, /) -> int:
        """
        How many of its ancestors are among the documents, in one line.
        """
    @property
    def parent(self, /) -> str | None:
        """
        The hash of its parent; None if it names none.
        """
    @property
    def parent_title(self, /) -> str | None:
        """
        The title of its parent; None if that is not among the documents.
        """
    @property
    def relation(self, /) -> Relation | None:
        """
        How it came from its parent; None if it names none.
        """
    @property
    def sha256(self, /) -> str:
        """
        SHA-256 of its document.
        """
    @property
    def title(self, /) -> str:
        """
        Its title.
        """

@final
class InteractionPair:
    """
    One measured mixture of two surfactants.
    """
    def __copy__(self, /) -> InteractionPair: ...
    def __deepcopy__(self, memo: Any, /) -> InteractionPair: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, share: SupportsFloat | SupportsIndex, measured: SupportsFloat | SupportsIndex, fitted: SupportsFloat | SupportsIndex, alone: SupportsFloat | SupportsIndex | None, in_micelles: SupportsFloat | SupportsIndex) -> InteractionPair: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, InteractionPair], page: Page | None) -> Table[Any]: ...
    @property
    def alone(self, /) -> float | None:
        """
        The parameter that this mixture alone gives; None if none in range does.
        """
    @property
    def fitted(self, /) -> float:
        """
        That of the fitted parameter.
        """
    @property
    def in_micelles(self, /) -> float:
        """
        The share of the first in the micelles.
        """
    @property
    def measured(self, /) -> float:
        """
        The measured critical micelle concentration, mmol/L.
        """
    @property
    def share(self, /) -> float:
        """
        The mole share of the first.
        """

@final
class Interval:
    """
    A typical value with its lowest and highest attainable value. An end that is None is not stated, a typical value
    that is None is not known.

    >>> active = td.measure.Interval(58, low="55.2", high="60.8")
    >>> active.text(1), float(active)
    ('58.0 (55.2 to 60.8)', 58.0)
    """
    def __copy__(self, /) -> Interval: ...
    def __deepcopy__(self, memo: Any, /) -> Interval: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __float__(self, /) -> float: ...
    def __getnewargs_ex__(self, /) -> tuple[tuple[Fraction | None], dict[str, Fraction | None]]: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, typical: SupportsFloat | str | None = None, *, low: SupportsFloat | str | None = None, high: SupportsFloat | str | None = None) -> Interval: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    @property
    def high(self, /) -> Fraction | None:
        """
        The highest attainable value, if stated.
        """
    @property
    def low(self, /) -> Fraction | None:
        """
        The lowest attainable value, if stated.
        """
    def text(self, /, decimals: SupportsIndex = 2) -> str:
        """
        Typical value and ends with that many decimals; the ends are rounded outwards, so that what is shown holds.
        """
    @property
    def typical(self, /) -> Fraction | None:
        """
        The value for typical compositions, if it is known.
        """

@final
class KeepsOff:
    """
    The most of one raw material that keeps a scent constituent at or below its threshold, the rest bringing what it
    brings now.
    """
    def __copy__(self, /) -> KeepsOff: ...
    def __deepcopy__(self, memo: Any, /) -> KeepsOff: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, material: str, most_ppm: SupportsIndex | None, typical_only: bool) -> KeepsOff: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, KeepsOff], page: Page | None) -> Table[Any]: ...
    @property
    def material(self, /) -> str:
        """
        The raw material.
        """
    @property
    def most_ppm(self, /) -> int | None:
        """
        Parts per million of the formula, rounded down; None if the others exceed the threshold without it.
        """
    @property
    def typical_only(self, /) -> bool:
        """
        True if the raw material's range is not stated to its end.
        """

@final
class Kept:
    """
    A measure that was to be kept.
    """
    def __copy__(self, /) -> Kept: ...
    def __deepcopy__(self, memo: Any, /) -> Kept: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, measure: Measure, unit: str, before: SupportsFloat | str, after: SupportsFloat | str, is_exact: bool) -> Kept: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Kept], page: Page | None) -> Table[Any]: ...
    @property
    def after(self, /) -> Fraction:
        """
        Its value in the new formula.
        """
    @property
    def before(self, /) -> Fraction:
        """
        Its value before.
        """
    @property
    def is_exact(self, /) -> bool:
        """
        True if the exact solution keeps it; the grid formula then departs by less than rounding to 0.0001 % can.
        """
    @property
    def measure(self, /) -> Measure:
        """
        The measure.
        """
    @property
    def unit(self, /) -> str:
        """
        Its unit.
        """

@final
class KeptRow:
    """
    A row of a sweep and what some columns say of it.
    """
    def __copy__(self, /) -> KeptRow: ...
    def __deepcopy__(self, memo: Any, /) -> KeptRow: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, row: SupportsIndex, values: dict[str, SupportsFloat | SupportsIndex]) -> KeptRow: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, KeptRow], page: Page | None) -> Table[Any]: ...
    @property
    def row(self, /) -> int:
        """
        The row; `Sweep.answer` solves it exactly.
        """
    @property
    def values(self, /) -> dict[str, float]:
        """
        Values by column.
        """

@final
class Label:
    """
    The content of a label for one market and day: list of ingredients, scent constituents, net content, what to settle.
    A page in a notebook.

    >>> bar = td.Formula("Bar", {"kaolin": 99.4, "lavender-oil": 0.6}, td.Catalogue.starter())
    >>> label = bar.label(market="EU", on="2026-11-24", net="60 g")
    >>> label.ingredients[:48]
    'KAOLIN, LAVANDULA OIL/EXTRACT, PARFUM, LINALYL A'
    >>> label.scent("linalool").answer, label.scent("geraniol").answer, label.is_draft
    ('certain', 'unknown', True)
    >>> bar.label(market="US", on="2026-11-24", net="60 g").net.text
    'Net Wt. 2.11 oz (60 g)'
    >>> bar.label(market="US", on="2026-11-24", net="250 ml").net.text
    'Net 8.45 fl oz (250 ml)'
    """
    def __arrow_c_schema__(self, /) -> "object":
        """
        The Arrow C schema of its columns.
        """
    def __arrow_c_stream__(self, /, requested_schema: "object | None" = None) -> "object":
        """
        The Arrow C stream of its columns: one record batch. A schema that is asked for is not converted to.
        """
    def __copy__(self, /) -> Label: ...
    def __deepcopy__(self, memo: Any, /) -> Label: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def checks(self, /) -> Table[LabelCheck]:
        """
        What else a label needs.
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> Label:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> Label:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    @property
    def ingredients(self, /) -> str:
        """
        The list as it is printed, without its heading.
        """
    @property
    def ingredients_as_sold(self, /) -> str | None:
        """
        The list in the order of the product as sold, where a moisture was stated and that order is another.
        """
    @property
    def is_draft(self, /) -> bool:
        """
        True while a question keeps it a draft, or it rests on starter values.
        """
    @property
    def items(self, /) -> Table[LabelItem]:
        """
        The names of the list with what they rest on.
        """
    @property
    def left_out(self, /) -> Table[LeftOut]:
        """
        What suppliers do not declare.
        """
    @property
    def market(self, /) -> Market:
        """
        "EU" or "US".
        """
    @property
    def nameless(self, /) -> Interval:
        """
        Percent that suppliers do not name, as charged.
        """
    @property
    def net(self, /) -> NetContent | None:
        """
        The net content, where it was stated.
        """
    @property
    def on(self, /) -> str:
        """
        The day.
        """
    @property
    def page(self, /) -> Page:
        """
        Everything on one page.
        """
    @property
    def questions(self, /) -> Table[LabelQuestion]:
        """
        What a person has to settle.
        """
    def scent(self, /, name: str) -> ScentRow | None:
        """
        What is known of one scent constituent, by any of its names or CAS numbers; None if no rule is in force.
        `name` is any of them.

        >>> bar = td.Formula("Bar", {"kaolin": 99.4, "lavender-oil": 0.6}, td.Catalogue.starter())
        >>> bar.label(market="EU", on="2026-11-24").scent("78-70-6").keeps_off[0].most_ppm
        222
        """
    @property
    def scent_state(self, /) -> str:
        """
        The rule on naming scent constituents: "in force" or "pending".
        """
    @property
    def scent_threshold(self, /) -> Decimal | None:
        """
        What must be exceeded, percent; None if no rule is in force.
        """
    @property
    def scent_to_ask(self, /) -> list[str]:
        """
        Scent mixtures, oils and extracts without an allergen declaration or a complete list of what they contain.
        """
    @property
    def scents(self, /) -> Table[ScentRow]:
        """
        Every scent constituent that labels name, by number; none if no rule is in force.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_pandas(self, /) -> "Any":
        """
        As a pandas data frame through pyarrow, its columns backed by Arrow.
        """
    def to_polars(self, /) -> "Any":
        """
        As a polars data frame.
        """
    def to_pyarrow(self, /) -> "Any":
        """
        As a pyarrow table.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """

@final
class LabelCheck:
    """
    Something else that a label needs; no legal opinion.
    """
    def __copy__(self, /) -> LabelCheck: ...
    def __deepcopy__(self, memo: Any, /) -> LabelCheck: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, slug: str, text: str, source: str) -> LabelCheck: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, LabelCheck], page: Page | None) -> Table[Any]: ...
    @property
    def slug(self, /) -> str:
        """
        Its stable name.
        """
    @property
    def source(self, /) -> str:
        """
        Where that comes from.
        """
    @property
    def text(self, /) -> str:
        """
        What is needed.
        """

@final
class LabelItem:
    """
    One name of the list of ingredients, with what it rests on.
    """
    def __copy__(self, /) -> LabelItem: ...
    def __deepcopy__(self, memo: Any, /) -> LabelItem: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, name: str, inci: SupportsGetItem[int, str], percent: Interval, order: ItemClass, is_certain: bool, may_change_with: SupportsGetItem[int, str], settled_by: SupportsGetItem[int, str], lines: SupportsGetItem[int, str], entry: SupportsIndex | None) -> LabelItem: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, LabelItem], page: Page | None) -> Table[Any]: ...
    @property
    def entry(self, /) -> int | None:
        """
        The entry of Annex III, where it is named because other ingredients contain it.
        """
    @property
    def inci(self, /) -> list[str]:
        """
        The INCI names that go under it.
        """
    @property
    def is_certain(self, /) -> bool:
        """
        True if no composition inside the stated ranges would put it elsewhere.
        """
    @property
    def lines(self, /) -> list[str]:
        """
        The lines that bring it.
        """
    @property
    def may_change_with(self, /) -> list[str]:
        """
        The names it could change places with, inside what is stated.
        """
    @property
    def name(self, /) -> str:
        """
        The name as it is printed, "(nano)" included.
        """
    @property
    def order(self, /) -> ItemClass:
        """
        "ordered", "free" or "colour".
        """
    @property
    def percent(self, /) -> Interval:
        """
        Percent as charged.
        """
    @property
    def settled_by(self, /) -> list[str]:
        """
        The lines whose ranges would have to be narrower to settle its position.
        """

@final
class LabelQuestion:
    """
    Something for a person to settle: a sentence, and what it concerns by name. The sentence may cut a long list
    short; the names never are.
    """
    def __copy__(self, /) -> LabelQuestion: ...
    def __deepcopy__(self, memo: Any, /) -> LabelQuestion: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, topic: QuestionTopic, sentence: str, keeps_draft: bool, lines: SupportsGetItem[int, str], materials: SupportsGetItem[int, str], ingredients: SupportsGetItem[int, str], entries: SupportsGetItem[int, SupportsIndex]) -> LabelQuestion: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, LabelQuestion], page: Page | None) -> Table[Any]: ...
    @property
    def entries(self, /) -> list[int]:
        """
        The entries of Annex III that it concerns.
        """
    @property
    def ingredients(self, /) -> list[str]:
        """
        The names it concerns, as the list shows them; INCI names of what it does not show.
        """
    @property
    def keeps_draft(self, /) -> bool:
        """
        True if the label stays a draft until it is settled.
        """
    @property
    def lines(self, /) -> list[str]:
        """
        The lines it concerns.
        """
    @property
    def materials(self, /) -> list[str]:
        """
        The raw materials it concerns, by id: what brings the ingredient, or whose supplier to ask.
        """
    @property
    def sentence(self, /) -> str:
        """
        The question as a sentence.
        """
    @property
    def topic(self, /) -> QuestionTopic:
        """
        Its stable name, "scent-unknown" or "position" for example.
        """

@final
class LackOfFit:
    """
    Whether more is left than repetitions explain.
    """
    def __copy__(self, /) -> LackOfFit: ...
    def __deepcopy__(self, memo: Any, /) -> LackOfFit: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, f: SupportsFloat | SupportsIndex | None, p: SupportsFloat | SupportsIndex | None, degrees_of_freedom: SupportsIndex, pure_error_degrees_of_freedom: SupportsIndex, pure_error_deviation: SupportsFloat | SupportsIndex) -> LackOfFit: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, LackOfFit], page: Page | None) -> Table[Any]: ...
    @property
    def degrees_of_freedom(self, /) -> int:
        """
        Blends less fitted terms.
        """
    @property
    def f(self, /) -> float | None:
        """
        What the model leaves between blends over what repetitions differ by; None where repetitions do not differ.
        """
    @property
    def p(self, /) -> float | None:
        """
        How often chance alone gives such an F or a greater one: small where the model is too simple.
        """
    @property
    def pure_error_degrees_of_freedom(self, /) -> int:
        """
        Runs less blends.
        """
    @property
    def pure_error_deviation(self, /) -> float:
        """
        The standard deviation of repetitions, in the unit of the property.
        """

@final
class LeftOut:
    """
    What suppliers do not declare as an ingredient, and so is not listed.
    """
    def __copy__(self, /) -> LeftOut: ...
    def __deepcopy__(self, memo: Any, /) -> LeftOut: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, inci: str, percent: Interval) -> LeftOut: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, LeftOut], page: Page | None) -> Table[Any]: ...
    @property
    def inci(self, /) -> str:
        """
        INCI name.
        """
    @property
    def percent(self, /) -> Interval:
        """
        Percent as charged.
        """

@final
class LimitRange:
    """
    A limit of the brief: what one more unit of it does to the objective, and from where to where that holds.
    """
    def __copy__(self, /) -> LimitRange: ...
    def __deepcopy__(self, memo: Any, /) -> LimitRange: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, constraint: Constraint, words: str, value: SupportsFloat | str, unit: str, price: SupportsFloat | str, low: SupportsFloat | str | None, high: SupportsFloat | str | None, sentence: str) -> LimitRange: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, LimitRange], page: Page | None) -> Table[Any]: ...
    @property
    def constraint(self, /) -> Constraint:
        """
        What it is about.
        """
    @property
    def high(self, /) -> Fraction | None:
        """
        The highest value for which that holds; None if there is none.
        """
    @property
    def low(self, /) -> Fraction | None:
        """
        The lowest value for which that holds; None if there is none.
        """
    @property
    def price(self, /) -> Fraction:
        """
        Change of the objective for one more unit of the limit.
        """
    @property
    def sentence(self, /) -> str:
        """
        All of it in one sentence.
        """
    @property
    def unit(self, /) -> str:
        """
        Its unit.
        """
    @property
    def value(self, /) -> Fraction:
        """
        Its value.
        """
    @property
    def words(self, /) -> str:
        """
        The limit, in the words of the brief.
        """

@final
class Line:
    """
    A raw material at a percentage as supplied, in a phase, for one or more purposes ("preservative", "anti-dandruff",
    "colour", "scent", "uv-filter", "ph-adjuster", "conditioning", "solvent", "other") where they are stated. `groups`
    are those it belongs to; `qs` marks the line that fills to 100, `fixed` one whose percentage is the user's own.

    >>> kaolin = td.Catalogue.starter().material("kaolin")
    >>> line = td.Line(kaolin, 40, name="clay on top", phase="cool-down")
    >>> line.name, line.percent
    ('clay on top', Decimal('40'))
    """
    def __copy__(self, /) -> Line: ...
    def __deepcopy__(self, memo: Any, /) -> Line: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __getnewargs_ex__(self, /) -> tuple[tuple[Material, Decimal], dict[str, Any]]: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, material: Material, percent: SupportsFloat | str, *, name: str | None = None, phase: str | None = None, groups: str | Iterable[str] | None = None, purposes: Purpose | Iterable[Purpose] | None = None, qs: bool = False, fixed: bool = False) -> Line: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Line], page: Page | None) -> Table[Any]: ...
    @property
    def groups(self, /) -> list[str]:
        """
        The groups it belongs to, splits included.
        """
    @property
    def is_fixed(self, /) -> bool:
        """
        True for a line whose percentage the user fixed.
        """
    @property
    def is_qs(self, /) -> bool:
        """
        True for the line that fills to 100.
        """
    @property
    def material(self, /) -> Material:
        """
        Its raw material, typical or a lot.
        """
    @property
    def name(self, /) -> str:
        """
        Its name.
        """
    @property
    def percent(self, /) -> Decimal:
        """
        Percent as supplied, as charged.
        """
    @property
    def phase(self, /) -> str:
        """
        Its phase.
        """
    @property
    def purposes(self, /) -> list[Purpose]:
        """
        What it is there for; empty if that is not stated.
        """

@final
class LineChange:
    """
    A line at another percentage.
    """
    def __copy__(self, /) -> LineChange: ...
    def __deepcopy__(self, memo: Any, /) -> LineChange: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, line: str, before: SupportsFloat | str, after: SupportsFloat | str) -> LineChange: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, LineChange], page: Page | None) -> Table[Any]: ...
    @property
    def after(self, /) -> Fraction:
        """
        Percent after.
        """
    @property
    def before(self, /) -> Fraction:
        """
        Percent before.
        """
    @property
    def line(self, /) -> str:
        """
        The line.
        """

@final
class LineCost:
    """
    What a line of the formula costs.
    """
    def __copy__(self, /) -> LineCost: ...
    def __deepcopy__(self, memo: Any, /) -> LineCost: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, line: str, material: str, phase: str, grams: SupportsFloat | str, price: SupportsFloat | str, cost: SupportsFloat | str, percent: SupportsFloat | str) -> LineCost: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, LineCost], page: Page | None) -> Table[Any]: ...
    @property
    def cost(self, /) -> Fraction:
        """
        What it costs in the batch.
        """
    @property
    def grams(self, /) -> Fraction:
        """
        Grams weighed in.
        """
    @property
    def line(self, /) -> str:
        """
        The line's name.
        """
    @property
    def material(self, /) -> str:
        """
        The id of its raw material.
        """
    @property
    def percent(self, /) -> Fraction:
        """
        Its share of the raw materials' cost, percent.
        """
    @property
    def phase(self, /) -> str:
        """
        Its phase.
        """
    @property
    def price(self, /) -> Fraction:
        """
        What a kilogram costs.
        """

@final
class ListedWord:
    """
    A word of a closed list.
    """
    def __copy__(self, /) -> ListedWord: ...
    def __deepcopy__(self, memo: Any, /) -> ListedWord: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, word: str, meaning: str) -> ListedWord: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, ListedWord], page: Page | None) -> Table[Any]: ...
    @property
    def meaning(self, /) -> str:
        """
        What it means.
        """
    @property
    def word(self, /) -> str:
        """
        The word.
        """

@final
class Lot:
    """
    A lot with what its certificate of analysis states, percentages of the lot. `id` is the lot's; `molar_mass` is in
    g/mol, `loss_on_drying` and `free_fatty_acid` are percent of the lot, `ph` is as certified.

    What is stated replaces the typical values of the material; the difference goes to the constituent named for it.

    >>> lot = td.Lot("W-27", "capb-30", active=29.1, method="solids less salt", salt=5.2, retest="2027-03-31")
    >>> lot.active, lot.retest
    (Decimal('29.1'), '2027-03-31')
    """
    def __copy__(self, /) -> Lot: ...
    def __deepcopy__(self, memo: Any, /) -> Lot: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __getnewargs_ex__(self, /) -> tuple[tuple[str, str], dict[str, Any]]: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, id: str, material: str, *, active: SupportsFloat | str | None = None, method: str | None = None, molar_mass: SupportsFloat | str | None = None, solids: SupportsFloat | str | None = None, loss_on_drying: SupportsFloat | str | None = None, salt: SupportsFloat | str | None = None, free_fatty_acid: SupportsFloat | str | None = None, ph: SupportsFloat | str | None = None, retest: date | str | None = None) -> Lot: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Lot], page: Page | None) -> Table[Any]: ...
    @property
    def active(self, /) -> Decimal | None:
        """
        Active matter.
        """
    @property
    def free_fatty_acid(self, /) -> Decimal | None:
        """
        Free fatty acid.
        """
    @property
    def id(self, /) -> str:
        """
        What the lot is called.
        """
    @property
    def loss_on_drying(self, /) -> Decimal | None:
        """
        Loss on drying.
        """
    @property
    def material(self, /) -> str:
        """
        Id of its raw material.
        """
    @property
    def method(self, /) -> str | None:
        """
        How the active matter was found.
        """
    @property
    def molar_mass(self, /) -> Decimal | None:
        """
        Molar mass in g/mol that the active matter was calculated with.
        """
    @property
    def page(self, /) -> Page:
        """
        Its page: what its certificate states.
        """
    @property
    def ph(self, /) -> Decimal | None:
        """
        pH as measured by the supplier.
        """
    @property
    def retest(self, /) -> str | None:
        """
        Date by which it is to be tested again.
        """
    @property
    def salt(self, /) -> Decimal | None:
        """
        Salt.
        """
    @property
    def solids(self, /) -> Decimal | None:
        """
        Solids.
        """

@final
class LotInBatch:
    """
    So much of a lot in a batch.
    """
    def __copy__(self, /) -> LotInBatch: ...
    def __deepcopy__(self, memo: Any, /) -> LotInBatch: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, lot: str, material: str, batch: str | None, date: str | None, product: str, line: str, mass: SupportsFloat | str, is_made: bool) -> LotInBatch: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, LotInBatch], page: Page | None) -> Table[Any]: ...
    @property
    def batch(self, /) -> str | None:
        """
        The batch number.
        """
    @property
    def date(self, /) -> str | None:
        """
        The day of the batch.
        """
    @property
    def is_made(self, /) -> bool:
        """
        False where the batch is recorded as planned only, and not as made.
        """
    @property
    def line(self, /) -> str:
        """
        The line.
        """
    @property
    def lot(self, /) -> str:
        """
        The lot.
        """
    @property
    def mass(self, /) -> Fraction:
        """
        How much of the lot is in the batch, in grams; of a lot in a premix its part of the premix.
        """
    @property
    def material(self, /) -> str:
        """
        The raw material.
        """
    @property
    def product(self, /) -> str:
        """
        The product.
        """

@final
class LotUse:
    """
    What is taken of a lot in stock, in grams.
    """
    def __copy__(self, /) -> LotUse: ...
    def __deepcopy__(self, memo: Any, /) -> LotUse: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, material: str, lot: str | None, taken: SupportsFloat | str, left: SupportsFloat | str) -> LotUse: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, LotUse], page: Page | None) -> Table[Any]: ...
    @property
    def left(self, /) -> Fraction:
        """
        What is left of it.
        """
    @property
    def lot(self, /) -> str | None:
        """
        The name of the lot, if it has one.
        """
    @property
    def material(self, /) -> str:
        """
        The raw material.
        """
    @property
    def taken(self, /) -> Fraction:
        """
        What is taken.
        """

@final
class Made:
    """
    A batch as it was made: what was really weighed, and the formula that came of it.

    >>> bar = td.Formula("Plain bar", {"sci-powder": 60, "cetyl-alcohol": 15, "kaolin": 25}, td.Catalogue.starter())
    >>> made = bar.batch(mass="200 g", readability="0.1 g").as_made({"sci-powder": "130 g"})
    >>> float(made.lines[0].percent.typical), made.lines[0].is_stated, made.lines[1].is_stated
    (61.904761904761905, True, False)
    """
    def __arrow_c_schema__(self, /) -> "object":
        """
        The Arrow C schema of its columns.
        """
    def __arrow_c_stream__(self, /, requested_schema: "object | None" = None) -> "object":
        """
        The Arrow C stream of its columns: one record batch. A schema that is asked for is not converted to.
        """
    def __copy__(self, /) -> Made: ...
    def __deepcopy__(self, memo: Any, /) -> Made: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def balance(self, /) -> MassBalance:
        """
        Where the mass went.
        """
    @property
    def batch(self, /) -> Batch:
        """
        The batch as planned.
        """
    @property
    def formula(self, /) -> Formula:
        """
        The formula that came of it: with the plan's names, phases and temperatures, and the lots really used.
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> Made:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> Made:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    @property
    def lines(self, /) -> Table[MadeLine]:
        """
        The lines: those planned in their order, then additions.
        """
    def measure(self, /, measure: Measure, basis: Basis | None = None) -> Measured:
        """
        A measure of what was made: typical at the masses weighed, its interval over all masses that the scales could
        have meant and all compositions together. The `basis` is as charged, or `td.finished(moisture=...)`.

        >>> bar = td.Formula("Wash", {"capb-30": 50, "kaolin": 50}, td.Catalogue.starter())
        >>> made = bar.batch(mass="200 g", readability="1 g").as_made({"capb-30": "110 g"})
        >>> made.measure(td.measure.material("kaolin")).text()
        '47.62 (47.38 to 47.86) %'
        """
    def missed(self, /, brief: Brief) -> Table[Shortfall]:
        """
        What this batch, as it was made, misses of a `brief`, for typical compositions: ranges of lines, splits and
        requirements, and what it holds that the brief has no line for. What if 5 g of water are kneaded in?

        >>> brief = td.Brief("Bar", td.Catalogue.starter()).fix("sci-powder", 90).between("water", 5, 10)
        >>> batch = brief.solve().formula.batch(mass="100 g", readability="0.1 g")
        >>> [missed.asked for missed in batch.as_made(added={"water": "5 g"}).missed(brief)]
        ['line sci-powder fixed at 90 %', 'line water between 5 and 10 %']
        """
    @property
    def page(self, /) -> Page:
        """
        The lines beside the plan, and where the mass went.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_pandas(self, /) -> "Any":
        """
        As a pandas data frame through pyarrow, its columns backed by Arrow.
        """
    def to_polars(self, /) -> "Any":
        """
        As a polars data frame.
        """
    def to_pyarrow(self, /) -> "Any":
        """
        As a pyarrow table.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """

@final
class MadeLine:
    """
    A line as it was made; masses in grams.
    """
    def __copy__(self, /) -> MadeLine: ...
    def __deepcopy__(self, memo: Any, /) -> MadeLine: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, line: str, planned: SupportsFloat | str | None, is_stated: bool, mass: SupportsFloat | str, percent: Interval, deviation_percent: SupportsFloat | str | None, deviation_of_batch: SupportsFloat | str) -> MadeLine: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, MadeLine], page: Page | None) -> Table[Any]: ...
    @property
    def deviation_of_batch(self, /) -> Fraction:
        """
        The same in percent of the batch as planned.
        """
    @property
    def deviation_percent(self, /) -> Fraction | None:
        """
        By how much it is more (below 0: less) than planned, percent of the line; None where nothing was planned.
        """
    @property
    def is_stated(self, /) -> bool:
        """
        False where nothing was stated, so that it counts as planned.
        """
    @property
    def line(self, /) -> str:
        """
        The line's name.
        """
    @property
    def mass(self, /) -> Fraction:
        """
        The mass in the batch: weighed, added, less water that left.
        """
    @property
    def percent(self, /) -> Interval:
        """
        Its share of the batch in percent, with what the scales could not see.
        """
    @property
    def planned(self, /) -> Fraction | None:
        """
        The mass that the sheet asked for; None where the plan does not have it.
        """

@final
class MassBalance:
    """
    The mass of a batch from the scale to the bars, in grams.
    """
    def __copy__(self, /) -> MassBalance: ...
    def __deepcopy__(self, memo: Any, /) -> MassBalance: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, weighed: SupportsFloat | str, added: SupportsFloat | str, boiled_off: SupportsFloat | str, in_bowl: SupportsFloat | str, trim: SupportsFloat | str, rejected: SupportsFloat | str, pressed: SupportsFloat | str | None, unaccounted: SupportsFloat | str | None, unaccounted_percent: SupportsFloat | str | None) -> MassBalance: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, MassBalance], page: Page | None) -> Table[Any]: ...
    @property
    def added(self, /) -> Fraction:
        """
        Added beyond the plan.
        """
    @property
    def boiled_off(self, /) -> Fraction:
        """
        Water that left before pressing.
        """
    @property
    def in_bowl(self, /) -> Fraction:
        """
        In the bowl before pressing.
        """
    @property
    def pressed(self, /) -> Fraction | None:
        """
        The bars as pressed, together; None where they were not weighed.
        """
    @property
    def rejected(self, /) -> Fraction:
        """
        Rejected.
        """
    @property
    def trim(self, /) -> Fraction:
        """
        Trimmed off and not returned.
        """
    @property
    def unaccounted(self, /) -> Fraction | None:
        """
        What is left of the mass in the bowl after trim, rejects and bars; None where the bars were not weighed.
        """
    @property
    def unaccounted_percent(self, /) -> Fraction | None:
        """
        The same in percent of the mass in the bowl.
        """
    @property
    def weighed(self, /) -> Fraction:
        """
        Weighed in as planned or instead.
        """

@final
class Material:
    """
    A raw material, typical or one lot of it.

    One of your own is made of its `id` (lower-case letters, digits, hyphens), its `name`, its `form` (`td.material.forms()`) and
    its `constituents`: the percent of each by INCI name, label name, CAS number or `Substance`. A percentage is typical
    (30), a range (29, 32), or low, typical and high (29, 30, 32), None where an end is not stated; together they are
    100, with what the supplier does not say as `unspecified`. Where no typical share is stated, `descending` says that
    they stand in the supplier's descending order. `declared` is what the supplier declares on labels: "declared",
    "not-declared", or "ask", for all or by constituent.

    As wanted: `phase` (by default the usual one of the form); `use_levels`, lowest and highest percent by product use;
    `ph_range`, the lowest and highest pH in which it is stable; `active_convention`; `difference_to`, the constituent
    that takes the difference of a lot; `density` in g/mL; `melting_point` and `highest_process_temperature` in °C;
    `bound_water` in percent; `attributes`, yes or no by `words.Attribute` (what is not stated is not known);
    `natural_origin` in percent; `contained`, shares of an ingredient by substance; `scent_reported_above`, the percent
    above which all scent constituents are in that list; `remainder_may_hold`, classes; `cautions` (`td.material.cautions()`);
    `aliases`. `source` says where all that comes from. Names of substances are looked up in the `catalogue`, by default
    the starter catalogue.

    >>> glycerite = td.Material(
    ...     "marigold-glycerite", "Marigold glycerite", "liquid",
    ...     {"glycerin": (57, 60, 63), "aqua": 32, "CALENDULA OFFICINALIS FLOWER EXTRACT": 3}, unspecified=5, declared="declared",
    ...     use_levels={"shampoo-bar": (1, 5)}, source="our own maceration, weighed",
    ... )
    >>> glycerite.phase, float(glycerite.solids()), glycerite.constituents[0].declaration
    ('liquid', 68.0, 'declared')
    >>> cat = td.Catalogue.starter().with_material(glycerite)

    >>> betaine = td.Catalogue.starter().material("capb-30")
    >>> betaine.form, float(betaine.active())
    ('liquid', 30.0)
    >>> [(row.substance.inci, row.typical) for row in betaine.constituents][0]
    ('COCAMIDOPROPYL BETAINE', Decimal('30'))
    """
    def __copy__(self, /) -> Material: ...
    def __deepcopy__(self, memo: Any, /) -> Material: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, id: str, name: str, form: Form, constituents: Mapping[str, SupportsFloat | str | tuple[SupportsFloat | str | None, SupportsFloat | str | None] | tuple[SupportsFloat | str | None, SupportsFloat | str | None, SupportsFloat | str | None] | None] | Mapping[Substance, SupportsFloat | str | tuple[SupportsFloat | str | None, SupportsFloat | str | None] | tuple[SupportsFloat | str | None, SupportsFloat | str | None, SupportsFloat | str | None] | None] | Mapping[str | Substance, SupportsFloat | str | tuple[SupportsFloat | str | None, SupportsFloat | str | None] | tuple[SupportsFloat | str | None, SupportsFloat | str | None, SupportsFloat | str | None] | None], *, declared: Declaration | Mapping[str, Declaration] = ..., unspecified: SupportsFloat | str = ..., descending: bool = False, phase: str | None = None, use_levels: dict[str, tuple[SupportsFloat | str, SupportsFloat | str]] | None = None, ph_range: tuple[SupportsFloat | str, SupportsFloat | str] | None = None, active_convention: ActiveConvention | None = None, difference_to: str | None = None, density: SupportsFloat | str | None = None, melting_point: SupportsFloat | str | None = None, highest_process_temperature: SupportsFloat | str | None = None, bound_water: SupportsFloat | str | None = None, attributes: Mapping[Attribute, bool] | None = None, natural_origin: SupportsFloat | str | None = None, contained: dict[str, Mapping[str, SupportsFloat | str | tuple[SupportsFloat | str | None, SupportsFloat | str | None] | tuple[SupportsFloat | str | None, SupportsFloat | str | None, SupportsFloat | str | None] | None] | Mapping[Substance, SupportsFloat | str | tuple[SupportsFloat | str | None, SupportsFloat | str | None] | tuple[SupportsFloat | str | None, SupportsFloat | str | None, SupportsFloat | str | None] | None] | Mapping[str | Substance, SupportsFloat | str | tuple[SupportsFloat | str | None, SupportsFloat | str | None] | tuple[SupportsFloat | str | None, SupportsFloat | str | None, SupportsFloat | str | None] | None]] | None = None, scent_reported_above: SupportsFloat | str | None = None, remainder_may_hold: Class | Iterable[Class] | None = None, cautions: Caution | Iterable[Caution] | None = None, aliases: str | Iterable[str] | None = None, source: str = "stated by the user", catalogue: Catalogue | None = None) -> Material: ...
    def __reduce__(self, /) -> tuple[Any, Any]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Material], page: Page | None) -> Table[Any]: ...
    def active(self, /, class_: Class | None = None) -> Fraction:
        """
        What counts as active, of one class or of all, percent of the material.
        `class_` is a class of `words.Class`.

        >>> float(td.Catalogue.starter().material("capb-30").active("amphoteric-surfactant"))
        30.0
        """
    @property
    def active_convention(self, /) -> ActiveConvention | None:
        """
        What its active figure rests on.
        """
    @property
    def aliases(self, /) -> list[str]:
        """
        Unambiguous other names.
        """
    def attribute(self, /, name: Attribute) -> Statement | None:
        """
        What is stated of "sulfate", "palm", "animal", "silicone" or "ethoxylated", for the whole or by its ingredients;
        None is unknown. `name` is one of `words.Attribute`.

        >>> td.Catalogue.starter().material("scs-needles").attribute("sulfate").value
        True
        """
    @property
    def bound_water(self, /) -> Decimal | None:
        """
        Water held by starch, clay or hydrate that the composition does not list as water, percent.
        """
    @property
    def cautions(self, /) -> dict[Caution, str]:
        """
        Cautions for whoever handles it, each with what to do about it.
        """
    @property
    def certificate_changes(self, /) -> Table[CertificateChange]:
        """
        What the lot's certificate changed against the typical material.
        """
    @property
    def constituents(self, /) -> Table[Constituent]:
        """
        Ingredients; none for a premix, whose parts have their own.
        """
    @property
    def contained(self, /) -> Table[Contained]:
        """
        Substances contained in its ingredients.
        """
    @property
    def density(self, /) -> Decimal | None:
        """
        Density in g/mL, if stated.
        """
    @property
    def difference_to(self, /) -> str:
        """
        The constituent that takes a lot's difference.
        """
    @property
    def form(self, /) -> Form:
        """
        Powder, needles, flakes, granules, paste, liquid, oil or meltable-solid.
        """
    @property
    def has_typical(self, /) -> bool:
        """
        True if every share has a typical value.
        """
    @property
    def highest_process_temperature(self, /) -> Decimal | None:
        """
        Highest temperature in °C at which it may be worked, if stated.
        """
    @property
    def id(self, /) -> str:
        """
        Identifier.
        """
    @property
    def is_starter(self, /) -> bool:
        """
        True if values are the starter catalogue's; output resting on them is a DRAFT.
        """
    @property
    def leaves(self, /) -> list[tuple[Material, Fraction]]:
        """
        Raw materials without premixes that make it up, each with its share of the whole (0 to 1).
        """
    @property
    def lot(self, /) -> Lot | None:
        """
        The lot it stands for, if it is one.
        """
    def lot_changes(self, /, lot: Lot) -> Table[CertificateChange]:
        """
        What the certificate of a lot changes.

        >>> betaine = td.Catalogue.starter().material("capb-30")
        >>> [change.constituent for change in betaine.lot_changes(td.Lot("W-27", "capb-30", active=28, method="titrated"))]
        ['COCAMIDOPROPYL BETAINE', 'WATER']
        """
    @property
    def main_class(self, /) -> Class:
        """
        The class of its largest named constituent.
        """
    @property
    def melting_point(self, /) -> Decimal | None:
        """
        Melting point in °C, if stated.
        """
    @property
    def name(self, /) -> str:
        """
        Readable name.
        """
    @property
    def natural_origin(self, /) -> tuple[Decimal, str] | None:
        """
        Share of natural origin in percent and its source, in the sense of ISO 16128-2 (from memory), where stated of
        the whole.
        """
    @property
    def page(self, /) -> Page:
        """
        Its page: cautions, names, active matter, composition with ranges, use levels, the lot, sources.
        """
    @property
    def ph_range(self, /) -> PhRange | None:
        """
        The pH range in which it is stable, if stated.
        """
    @property
    def phase(self, /) -> str:
        """
        The phase it goes to unless a line says otherwise.
        """
    def solids(self, /) -> Fraction:
        """
        What is left when water and volatile constituents are gone, percent of the material.

        >>> float(td.Catalogue.starter().material("capb-30").solids())
        37.0
        """
    @property
    def source(self, /) -> str:
        """
        Where its values come from.
        """
    @property
    def typical(self, /) -> Material | None:
        """
        The typical material that this is a lot of.
        """
    @property
    def use_levels(self, /) -> Table[UseLevel]:
        """
        Recommended use levels.
        """
    def with_lot(self, /, lot: Lot) -> Material:
        """
        This material as one lot of it.

        >>> betaine = td.Catalogue.starter().material("capb-30")
        >>> weak = betaine.with_lot(td.Lot("W-27", "capb-30", active=28, method="titrated"))
        >>> float(weak.active()), weak.lot.id
        (28.0, 'W-27')
        >>> [(change.constituent, change.lot) for change in weak.certificate_changes][0]
        ('COCAMIDOPROPYL BETAINE', Decimal('28'))
        """

@final
class MaterialInStock:
    """
    What the stock gives of one raw material.
    """
    def __copy__(self, /) -> MaterialInStock: ...
    def __deepcopy__(self, memo: Any, /) -> MaterialInStock: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, material: str, usable: SupportsFloat | str, per_bar: SupportsFloat | str, bars: SupportsIndex, left: SupportsFloat | str) -> MaterialInStock: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, MaterialInStock], page: Page | None) -> Table[Any]: ...
    @property
    def bars(self, /) -> int:
        """
        For how many bars it would be enough alone.
        """
    @property
    def left(self, /) -> Fraction:
        """
        Grams left when as many bars are made as all of them allow.
        """
    @property
    def material(self, /) -> str:
        """
        The raw material.
        """
    @property
    def per_bar(self, /) -> Fraction:
        """
        Grams that one bar takes.
        """
    @property
    def usable(self, /) -> Fraction:
        """
        Grams that may be used on the day.
        """

@final
class MaterialPurchase:
    """
    Where a raw material comes from; masses in grams.
    """
    def __copy__(self, /) -> MaterialPurchase: ...
    def __deepcopy__(self, memo: Any, /) -> MaterialPurchase: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, material: str, name: str, needed: SupportsFloat | str, from_stock: SupportsFloat | str, bought: SupportsFloat | str, left_over: SupportsFloat | str) -> MaterialPurchase: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, MaterialPurchase], page: Page | None) -> Table[Any]: ...
    @property
    def bought(self, /) -> Fraction:
        """
        What is in the packs bought.
        """
    @property
    def from_stock(self, /) -> Fraction:
        """
        What the stock gives.
        """
    @property
    def left_over(self, /) -> Fraction:
        """
        What of them is left when the batches are made.
        """
    @property
    def material(self, /) -> str:
        """
        The raw material.
        """
    @property
    def name(self, /) -> str:
        """
        Its name.
        """
    @property
    def needed(self, /) -> Fraction:
        """
        What the batches need of it.
        """

@final
class Measure:
    """
    A content over a content, each within a scope of lines. The module `measure` has them ready made. `scores` are a
    number for each raw material, `default` that of every other, `factors` and `classes` what substances and classes of
    them count, `terms` measures with the factor of each; `phase`, `group` and `lines` are the scope.

    >>> td.measure.Measure("water") == td.measure.water
    True
    >>> td.measure.cost.per(td.measure.active_matter).name
    'cost per active matter'
    """
    def __add__(self, other: object, /) -> Measure:
        """
        The sum of two measures over one denominator, in one unit. Measures can be subtracted and multiplied by a number
        as well.

        >>> from tenside import measure as m
        >>> (m.form("liquid") + m.form("oil")).per(m.form("powder")).unit
        'kg/kg'
        >>> m.water + m.active_matter * "1/2" - m.unspecified
        measure.water + measure.active_matter * 0.5 - measure.unspecified
        """
    def __copy__(self, /) -> Measure: ...
    def __deepcopy__(self, memo: Any, /) -> Measure: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __getnewargs_ex__(self, /) -> tuple[tuple[str, str | None], dict[str, Any]]: ...
    def __hash__(self, /) -> int: ...
    def __mul__(self, factor: object, /) -> Measure: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __neg__(self, /) -> Measure: ...
    def __new__(cls, /, content: str, of: str | None = None, *, scores: Mapping[str, SupportsFloat | str] | None = None, default: SupportsFloat | str | None = None, factors: Mapping[str, SupportsFloat | str | tuple[Any, ...]] | None = None, classes: Mapping[str, SupportsFloat | str | tuple[Any, ...]] | None = None, terms: Iterable[tuple[Measure, SupportsFloat | str]] | None = None, phase: str | None = None, group: str | None = None, lines: str | Iterable[str] | None = None, per: Measure | None = None) -> Measure:
        """
        As documents write it: a content, `of` what, counted in a phase, a group or lines only, `per` another measure; a
        "sum" has terms, each a measure with its factor.
        """
    def __radd__(self, other: object, /) -> Measure:
        """
        The sum that Python begins with 0.
        """
    def __repr__(self, /) -> str: ...
    def __rmul__(self, factor: object, /) -> Measure: ...
    def __rsub__(self, other: object, /) -> Measure:
        """
        Only from 0: `0 - measure`.
        """
    def __rtruediv__(self, number: object, /) -> Measure:
        """
        Refused: a number over a measure is no measure.
        """
    def __str__(self, /) -> str: ...
    def __sub__(self, other: object, /) -> Measure: ...
    def __truediv__(self, divisor: object, /) -> Measure: ...
    def contributed_by(self, /, *, phase: str | None = None, group: str | None = None, lines: str | Iterable[str] | None = None) -> Measure:
        """
        Counting only what the lines of a phase, of a group, or named ones bring, over the whole formula.

        >>> td.measure.as_supplied.contributed_by(lines=["cetyl-alcohol", "stearic-acid"]).name
        'raw material as supplied from lines cetyl-alcohol, stearic-acid'
        """
    @property
    def is_ratio(self, /) -> bool:
        """
        True if the denominator is not the mass of the formula.
        """
    @property
    def name(self, /) -> str:
        """
        What it is called in tables and messages.
        """
    def per(self, /, other: Measure) -> Measure:
        """
        This content over the content of another measure: a ratio.
        `other` is the measure below.

        >>> td.measure.cationic_charge.per(td.measure.anionic_charge).unit
        'mol/mol'
        """
    @property
    def unit(self, /) -> str:
        """
        Its unit; a cost's is in the currency of the price list.
        """
    def within(self, /, *, phase: str | None = None, group: str | None = None, lines: str | Iterable[str] | None = None) -> Measure:
        """
        Both sides over the lines of a phase, of a group, or named ones: percent of the phase, cost of the group.

        >>> td.measure.water.within(phase="liquid").name
        'water within phase liquid'
        """

@final
class Measured:
    """
    What was read off a formula, with the interval that the composition ranges allow.

    >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
    >>> reading = clay.measure(td.measure.active_matter)
    >>> reading.value.typical, reading.unit
    (Fraction(0, 1), '%')
    """
    def __copy__(self, /) -> Measured: ...
    def __deepcopy__(self, memo: Any, /) -> Measured: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __float__(self, /) -> float: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Measured], page: Page | None) -> Table[Any]: ...
    @property
    def basis(self, /) -> Basis:
        """
        On which basis.
        """
    @property
    def measure(self, /) -> Measure:
        """
        What was measured.
        """
    @property
    def notes(self, /) -> list[str]:
        """
        What was left out of the count.
        """
    def text(self, /) -> str:
        """
        Value, interval and unit with two decimals, or "not known".
        """
    @property
    def unit(self, /) -> str:
        """
        Its unit.
        """
    @property
    def value(self, /) -> Interval | None:
        """
        The value; None if the denominator is 0 or something needed is not known.
        """
    @property
    def why_not(self, /) -> list[Any]:
        """
        Why there is no value, as faults.
        """

@final
class MicelleInteraction:
    """
    The interaction parameter of two surfactants, fitted to measured critical micelle concentrations: those of the
    `first` and the `second` alone, and of each of `mixtures` the first one's share in mol % and what was measured; all
    concentrations in mmol/L. Concentrations count by their logarithms.

    >>> fit = td.trial.MicelleInteraction("8.2", "0.11", [("10", "0.115291"), ("50", "0.167272"), ("90", "0.494733")])
    >>> round(fit.parameter, 3), fit.error < 0.001
    (-3.9, True)
    """
    def __copy__(self, /) -> MicelleInteraction: ...
    def __deepcopy__(self, memo: Any, /) -> MicelleInteraction: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, first: SupportsFloat | str, second: SupportsFloat | str, mixtures: Iterable[tuple[SupportsFloat | str, SupportsFloat | str]]) -> MicelleInteraction: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def deviation(self, /) -> float | None:
        """
        By what part measured concentrations lie from the fitted ones, standard deviation; None for a single mixture.
        """
    @property
    def error(self, /) -> float | None:
        """
        Its standard error; None for a single mixture, which tells none.
        """
    def interval(self, /, *, confidence: SupportsFloat | str | None = None) -> tuple[float, float] | None:
        """
        Where the parameter lies with a `confidence` in percent; None for a single mixture.
        """
    @property
    def page(self, /) -> Page:
        """
        The parameter and its mixtures on one page.
        """
    @property
    def pairs(self, /) -> Table[InteractionPair]:
        """
        The mixtures.
        """
    @property
    def parameter(self, /) -> float:
        """
        The parameter, in units of RT.
        """

@final
class MixMaterial:
    """
    What a raw material comes to in a mix.
    """
    def __copy__(self, /) -> MixMaterial: ...
    def __deepcopy__(self, memo: Any, /) -> MixMaterial: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, material: str, usable: SupportsFloat | str, used: SupportsFloat | str, left: SupportsFloat | str) -> MixMaterial: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, MixMaterial], page: Page | None) -> Table[Any]: ...
    @property
    def left(self, /) -> Fraction:
        """
        Grams left.
        """
    @property
    def material(self, /) -> str:
        """
        The raw material.
        """
    @property
    def usable(self, /) -> Fraction:
        """
        Grams that may be used on the day.
        """
    @property
    def used(self, /) -> Fraction:
        """
        Grams used.
        """

@final
class MixRow:
    """
    What a product comes to in a mix.
    """
    def __copy__(self, /) -> MixRow: ...
    def __deepcopy__(self, memo: Any, /) -> MixRow: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, product: str, pieces: SupportsIndex, value: SupportsFloat | str) -> MixRow: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, MixRow], page: Page | None) -> Table[Any]: ...
    @property
    def pieces(self, /) -> int:
        """
        How many pieces.
        """
    @property
    def product(self, /) -> str:
        """
        The title of its formula.
        """
    @property
    def value(self, /) -> Fraction:
        """
        What they are worth together.
        """

@final
class MixedMicelles:
    """
    Surfactants that form micelles together, by regular solution theory: `surfactants` by name, each with its mole parts
    and its critical micelle concentration alone in mmol/L; `interactions` are the parameters of pairs in units of RT, 0
    where none is given: an ideal mixture.

    >>> mixed = td.trial.MixedMicelles({"SDS": (1, "8.2"), "C12E8": (1, "0.11")}, interactions={("SDS", "C12E8"): "-3.9"})
    >>> round(mixed.cmc, 6), round(mixed.ideal_cmc, 6)
    (0.167272, 0.217088)
    >>> [round(row.in_micelles, 6) for row in mixed.surfactants]
    [0.159923, 0.840077]
    """
    def __copy__(self, /) -> MixedMicelles: ...
    def __deepcopy__(self, memo: Any, /) -> MixedMicelles: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, surfactants: dict[str, tuple[SupportsFloat | str, SupportsFloat | str]], *, interactions: dict[tuple[str, str], SupportsFloat | str] | None = None) -> MixedMicelles: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    def at(self, /, concentration: SupportsFloat | str) -> Table[Dispersed]:
        """
        What is single and what is in micelles at a `concentration` of all surfactants together, mmol/L.

        >>> mixed = td.trial.MixedMicelles({"SDS": (1, "8.2"), "C12E8": (1, "0.11")})
        >>> [row.in_micelles for row in mixed.at("0.1")]
        [None, None]
        >>> [round(row.single, 3) for row in mixed.at(10)]
        [2.649, 0.074]
        """
    @property
    def cmc(self, /) -> float:
        """
        The critical micelle concentration of the mixture, mmol/L.
        """
    @property
    def error(self, /) -> float:
        """
        The largest part by which the results miss their equations.
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> MixedMicelles:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> MixedMicelles:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    @property
    def ideal_cmc(self, /) -> float:
        """
        That of an ideal mixture, mmol/L.
        """
    @property
    def notes(self, /) -> list[str]:
        """
        What to know about it.
        """
    @property
    def page(self, /) -> Page:
        """
        The surfactants and their first micelles on one page.
        """
    @property
    def surfactants(self, /) -> Table[MixedSurfactant]:
        """
        The surfactants, and the micelles that form first.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """

@final
class MixedSurfactant:
    """
    One surfactant of mixed micelles.
    """
    def __copy__(self, /) -> MixedSurfactant: ...
    def __deepcopy__(self, memo: Any, /) -> MixedSurfactant: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, name: str, share: SupportsFloat | SupportsIndex, cmc: SupportsFloat | SupportsIndex, in_micelles: SupportsFloat | SupportsIndex, activity: SupportsFloat | SupportsIndex) -> MixedSurfactant: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, MixedSurfactant], page: Page | None) -> Table[Any]: ...
    @property
    def activity(self, /) -> float:
        """
        Its activity coefficient in them.
        """
    @property
    def cmc(self, /) -> float:
        """
        Its critical micelle concentration alone, mmol/L.
        """
    @property
    def in_micelles(self, /) -> float:
        """
        Its mole share of the first micelles.
        """
    @property
    def name(self, /) -> str:
        """
        What it is called.
        """
    @property
    def share(self, /) -> float:
        """
        Its mole share of all surfactants.
        """

@final
class ModelCandidate:
    """
    A model that was tried.
    """
    def __copy__(self, /) -> ModelCandidate: ...
    def __deepcopy__(self, memo: Any, /) -> ModelCandidate: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, model: Blend, terms: SupportsIndex, value: SupportsFloat | SupportsIndex | None, predicted: SupportsFloat | SupportsIndex | None, residual_deviation: SupportsFloat | SupportsIndex | None, refused: str | None) -> ModelCandidate: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, ModelCandidate], page: Page | None) -> Table[Any]: ...
    @property
    def model(self, /) -> Blend:
        """
        Its polynomial.
        """
    @property
    def predicted(self, /) -> float | None:
        """
        Its predicted R-squared.
        """
    @property
    def refused(self, /) -> str | None:
        """
        Why it is not in the choice.
        """
    @property
    def residual_deviation(self, /) -> float | None:
        """
        Its residual deviation, in the unit of the property.
        """
    @property
    def terms(self, /) -> int:
        """
        How many terms it has.
        """
    @property
    def value(self, /) -> float | None:
        """
        Its criterion; None if it has none.
        """

@final
class ModelChoice:
    """
    The models that were tried, and the one with the least criterion: see `TrialLog.best_model`.
    """
    def __copy__(self, /) -> ModelChoice: ...
    def __deepcopy__(self, memo: Any, /) -> ModelChoice: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def best(self, /) -> FittedModel:
        """
        The one with the least criterion, the simplest of equals.
        """
    @property
    def candidates(self, /) -> Table[ModelCandidate]:
        """
        Every polynomial, from the simplest.
        """
    @property
    def criterion(self, /) -> Criterion:
        """
        What they were compared by.
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> ModelChoice:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> ModelChoice:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    @property
    def page(self, /) -> Page:
        """
        The models that were tried on one page.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """

@final
class MostDesirable:
    """
    The most desirable formula on several models: see `Brief.most_desirable`.
    """
    def __copy__(self, /) -> MostDesirable: ...
    def __deepcopy__(self, memo: Any, /) -> MostDesirable: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def bound(self, /) -> float:
        """
        What no formula of the brief is above, by the models.
        """
    @property
    def boxes(self, /) -> int:
        """
        Boxes that were looked at.
        """
    @property
    def desirability(self, /) -> float:
        """
        The geometric mean of what its properties are worth, 0 to 1.
        """
    @property
    def formula(self, /) -> Formula:
        """
        The formula, on the grid.
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> MostDesirable:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> MostDesirable:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    @property
    def is_proved(self, /) -> bool:
        """
        True where desirability and bound are within the tolerance and what rounding to the grid takes.
        """
    @property
    def page(self, /) -> Page:
        """
        The formula and what the models say of it on one page.
        """
    @property
    def responses(self, /) -> Table[DesiredResponse]:
        """
        The properties.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """

@final
class Mould:
    """
    A press or mould: its lower face in mm, `draft` by which its walls open upwards in degrees, and the `domes` of its
    upper and lower face in mm.

    >>> press = td.batch.Mould.round(57.15)
    >>> [round(float(press.bar(mass="66 g", density=density).height.typical), 1) for density in (1, 1.1, 1.2)]
    [25.7, 23.4, 21.4]
    """
    def __copy__(self, /) -> Mould: ...
    def __deepcopy__(self, memo: Any, /) -> Mould: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[FaceShape, Fraction, Fraction, Fraction, Fraction, Fraction, Fraction]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, shape: FaceShape, length: SupportsFloat | str, width: SupportsFloat | str, corner: SupportsFloat | str, draft: SupportsFloat | str, dome: SupportsFloat | str, dome_below: SupportsFloat | str) -> Mould: ...
    def bar(self, /, *, mass: str | None = None, density: SupportsFloat | str | tuple[SupportsFloat | str, SupportsFloat | str] | None = None, height: SupportsFloat | str | None = None) -> MouldedBar:
        """
        A bar of it: of `mass`, `density` in g/mL (one, or the lowest and the highest) and `height` over all in mm two
        are given, and the third follows.

        >>> press = td.batch.Mould.round(57.15)
        >>> press.bar(mass="67 g", height=23.7).density.text(3)
        '1.102'
        >>> press.bar(mass="66 g", density=("1.05", "1.15")).height.text(2)
        '23.39 (22.37 to 24.51)'
        """
    @property
    def corner(self, /) -> Fraction:
        """
        The radius of its corners, mm.
        """
    @property
    def domes(self, /) -> tuple[Fraction, Fraction]:
        """
        The domes of the upper and the lower face, mm.
        """
    @property
    def draft(self, /) -> Fraction:
        """
        By how many degrees its walls open upwards.
        """
    @property
    def face(self, /) -> tuple[Fraction, Fraction]:
        """
        Length and width of the lower face, mm; the diameter twice of a round one.
        """
    @staticmethod
    def oval(length: SupportsFloat | str, width: SupportsFloat | str, *, draft: SupportsFloat | str | None = None, domes: tuple[SupportsFloat | str, SupportsFloat | str] | None = None) -> Mould:
        """
        An oval mould of those axes, `length` and `width`, mm; `draft` and `domes` as of the class.

        >>> td.batch.Mould.oval(80, 55)
        <Mould: oval, 80 x 55 mm>
        """
    @staticmethod
    def rectangular(length: SupportsFloat | str, width: SupportsFloat | str, *, corner: SupportsFloat | str | None = None, draft: SupportsFloat | str | None = None, domes: tuple[SupportsFloat | str, SupportsFloat | str] | None = None) -> Mould:
        """
        A rectangular mould of those sides, `length` and `width`, mm, with corners rounded at the radius `corner`;
        `draft` and `domes` as of the class.

        >>> td.batch.Mould.rectangular(80, 55, corner=8, domes=(3, 3))
        <Mould: rectangular, 80 x 55 mm, corners of 8 mm, upper face domed by 3 mm, lower face domed by 3 mm>
        """
    @staticmethod
    def round(diameter: SupportsFloat | str, *, draft: SupportsFloat | str | None = None, domes: tuple[SupportsFloat | str, SupportsFloat | str] | None = None) -> Mould:
        """
        A round mould of that diameter, mm; `draft` and `domes` as of the class.

        >>> td.batch.Mould.round(57.15, draft=3)
        <Mould: round, 57.15 mm, draft of 3 degrees>
        """
    @property
    def shape(self, /) -> FaceShape:
        """
        The shape of its face: "round", "oval", "rectangular".
        """
    def volume(self, /, height: SupportsFloat | str) -> float:
        """
        The volume in mL of a bar of that height over all, mm.

        >>> round(td.batch.Mould.round(57.15).volume(25), 2)
        64.13
        """

@final
class MouldedBar:
    """
    A bar from a mould: mass in grams, density in g/mL, height over all in mm, each with the ends that a range of the
    density gives.

    >>> bar = td.batch.Mould.round(57.15).bar(mass="67 g", height=15)
    >>> bar.question.startswith("a density of 1.74 g/mL is unusual")
    True
    """
    def __copy__(self, /) -> MouldedBar: ...
    def __deepcopy__(self, memo: Any, /) -> MouldedBar: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def density(self, /) -> Interval:
        """
        Its density.
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> MouldedBar:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> MouldedBar:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    @property
    def height(self, /) -> Interval:
        """
        Its height over all.
        """
    @property
    def mass(self, /) -> Interval:
        """
        Its mass.
        """
    @property
    def mould(self, /) -> Mould:
        """
        The mould.
        """
    @property
    def page(self, /) -> Page:
        """
        Mass, density and height on one page.
        """
    @property
    def question(self, /) -> str | None:
        """
        What to ask where the density is not that of a pressed bar; else None.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """

@final
class NetContent:
    """
    A net content in the words of the market.
    """
    def __copy__(self, /) -> NetContent: ...
    def __deepcopy__(self, memo: Any, /) -> NetContent: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, text: str, is_rounded: bool, tolerated_shortfall: SupportsFloat | str | None, source: str) -> NetContent: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, NetContent], page: Page | None) -> Table[Any]: ...
    @property
    def is_rounded(self, /) -> bool:
        """
        True if a number of the text was rounded down.
        """
    @property
    def source(self, /) -> str:
        """
        Where that comes from, or why it is not known.
        """
    @property
    def text(self, /) -> str:
        """
        What the label says.
        """
    @property
    def tolerated_shortfall(self, /) -> Fraction | None:
        """
        By how many grams, or millilitres of a volume, a single package may fall short; None outside the table, and
        where none is carried.
        """

@final
class Offers:
    """
    What suppliers offer, counted in one currency. Raw materials are looked up by id or name in the catalogue, by
    default the starter catalogue. A supplier in another currency needs one of the `rates`: what one unit of it is in
    this one.

    >>> north = td.cost.Supplier("Depot North", [td.cost.Pack("SCI powder", "1 kg", 9), td.cost.Pack("kaolin", "500 g", "2.20")], currency="EUR")
    >>> offers = td.cost.Offers([north], currency="EUR")
    >>> prices = offers.price_list()
    >>> prices["sci-powder"], prices["kaolin"], prices.currency
    (Decimal('9'), Decimal('4.4'), 'EUR')
    """
    def __copy__(self, /) -> Offers: ...
    def __deepcopy__(self, memo: Any, /) -> Offers: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, suppliers: Iterable[Supplier], catalogue: Catalogue | None = None, *, currency: str = "currency", rates: Mapping[str, SupportsFloat | str] | None = None) -> Offers: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, suppliers: SupportsGetItem[int, Supplier], currency: str, rates: Mapping[str, SupportsFloat | str]) -> Offers:
        """
        The ids are those of some catalogue already, and are not looked up again.
        """
    @property
    def currency(self, /) -> str:
        """
        The currency that offers are compared in.
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> Offers:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> Offers:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    @property
    def packs(self, /) -> Table[PackPrice]:
        """
        Every price of every pack, in the currency of the offers.
        """
    def price_list(self, /) -> PriceList:
        """
        Of each raw material the lowest price per kilogram at which a single pack is to be had, with the supplier's tax,
        without freight, as `prices=` of briefs and formulas takes it. Rounded to the sixth decimal place; `packs` has
        the prices exact.
        """
    @property
    def rates(self, /) -> dict[str, Fraction]:
        """
        What one unit of another currency is in this one.
        """
    @property
    def suppliers(self, /) -> list[Supplier]:
        """
        The suppliers.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """

@final
class Order:
    """
    What is bought of one supplier, in the supplier's currency.
    """
    def __copy__(self, /) -> Order: ...
    def __deepcopy__(self, memo: Any, /) -> Order: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, supplier: str, currency: str, rows: SupportsGetItem[int, OrderRow], goods: SupportsFloat | str, freight: SupportsFloat | str, tax: SupportsFloat | str, total: SupportsFloat | str, counted: SupportsFloat | str) -> Order: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Order], page: Page | None) -> Table[Any]: ...
    @property
    def counted(self, /) -> Fraction:
        """
        What is to be paid, in the currency of the offers.
        """
    @property
    def currency(self, /) -> str:
        """
        The currency of the invoice.
        """
    @property
    def freight(self, /) -> Fraction:
        """
        The freight, before tax.
        """
    @property
    def goods(self, /) -> Fraction:
        """
        What the packs cost together, before tax.
        """
    @property
    def rows(self, /) -> list[OrderRow]:
        """
        The packs.
        """
    @property
    def supplier(self, /) -> str:
        """
        The supplier.
        """
    @property
    def tax(self, /) -> Fraction:
        """
        The tax on goods and freight.
        """
    @property
    def total(self, /) -> Fraction:
        """
        What is to be paid.
        """

@final
class OrderRow:
    """
    One kind of pack that is bought, in the supplier's currency.
    """
    def __copy__(self, /) -> OrderRow: ...
    def __deepcopy__(self, memo: Any, /) -> OrderRow: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, material: str, grams: SupportsFloat | str, packs: SupportsIndex, price: SupportsFloat | str, cost: SupportsFloat | str) -> OrderRow: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, OrderRow], page: Page | None) -> Table[Any]: ...
    @property
    def cost(self, /) -> Fraction:
        """
        What they cost together, before tax.
        """
    @property
    def grams(self, /) -> Fraction:
        """
        Grams in a pack.
        """
    @property
    def material(self, /) -> str:
        """
        The raw material.
        """
    @property
    def packs(self, /) -> int:
        """
        How many packs.
        """
    @property
    def price(self, /) -> Fraction:
        """
        What each costs, before tax.
        """

@final
class Pack:
    """
    A pack of a raw material as it is offered: its `size` with unit, its `price` before tax, and as `breaks` what each
    costs from so many packs on.

    >>> td.cost.Pack("sci-powder", "1 kg", 9, breaks={5: "8.10"}).price_of(5)
    Fraction(81, 2)
    """
    def __copy__(self, /) -> Pack: ...
    def __deepcopy__(self, memo: Any, /) -> Pack: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __getnewargs_ex__(self, /) -> tuple[tuple[str, str, Fraction], dict[str, Any]]: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, material: str, size: str, price: SupportsFloat | str, *, breaks: dict[SupportsIndex, SupportsFloat | str] | None = None) -> Pack: ...
    def __repr__(self, /) -> str: ...
    @property
    def breaks(self, /) -> dict[int, Fraction]:
        """
        What each costs from so many packs on.
        """
    @property
    def grams(self, /) -> Fraction:
        """
        Grams in the pack.
        """
    @property
    def material(self, /) -> str:
        """
        The raw material.
        """
    @property
    def price(self, /) -> Fraction:
        """
        What one pack costs, before tax.
        """
    def price_of(self, /, packs: SupportsIndex) -> Fraction:
        """
        What so many `packs` cost together, before tax.
        """

@final
class PackPrice:
    """
    One price of a pack, in the currency of the offers.
    """
    def __copy__(self, /) -> PackPrice: ...
    def __deepcopy__(self, memo: Any, /) -> PackPrice: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, supplier: str, material: str, grams: SupportsFloat | str, from_packs: SupportsIndex, price: SupportsFloat | str, per_kilogram: SupportsFloat | str) -> PackPrice: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, PackPrice], page: Page | None) -> Table[Any]: ...
    @property
    def from_packs(self, /) -> int:
        """
        From how many packs on it holds.
        """
    @property
    def grams(self, /) -> Fraction:
        """
        Grams in the pack.
        """
    @property
    def material(self, /) -> str:
        """
        The raw material.
        """
    @property
    def per_kilogram(self, /) -> Fraction:
        """
        What a kilogram costs, with the supplier's tax.
        """
    @property
    def price(self, /) -> Fraction:
        """
        What one pack costs, before tax.
        """
    @property
    def supplier(self, /) -> str:
        """
        The supplier.
        """

@final
class Page:
    """
    A page for a notebook (escaped HTML), a terminal or a document.

    >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
    >>> clay.page(td.as_charged, td.finished(moisture=1)).markdown().splitlines()[0]
    '# Clay'
    """
    def __copy__(self, /) -> Page: ...
    def __deepcopy__(self, memo: Any, /) -> Page: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, json: str) -> Page: ...
    def _repr_html_(self, /) -> str: ...
    def html(self, /) -> str:
        """
        As an HTML element, everything escaped.
        """
    def html_document(self, /) -> str:
        """
        As a whole HTML document that prints on its own.
        """
    def markdown(self, /) -> str:
        """
        As Markdown, markup in names escaped.
        """
    def text(self, /, width: SupportsIndex = 80) -> str:
        """
        As plain text of at most that many columns.
        `width` is how many.
        """

@final
class ParameterRange:
    """
    One number of a brief and the range in which the recipe keeps its structure.
    """
    def __copy__(self, /) -> ParameterRange: ...
    def __deepcopy__(self, memo: Any, /) -> ParameterRange: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, what: str, value: SupportsFloat | str, low: SupportsFloat | str | None, high: SupportsFloat | str | None, sentence: str) -> ParameterRange: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, ParameterRange], page: Page | None) -> Table[Any]: ...
    @property
    def high(self, /) -> Fraction | None:
        """
        The highest value; None if there is no highest.
        """
    @property
    def low(self, /) -> Fraction | None:
        """
        The lowest value; None if there is no lowest.
        """
    @property
    def sentence(self, /) -> str:
        """
        All of it in one sentence.
        """
    @property
    def value(self, /) -> Fraction:
        """
        Its value.
        """
    @property
    def what(self, /) -> str:
        """
        The number, spelt as for `axis`: "wash.capb-30".
        """

@final
class Parent:
    """
    What a formula came from.
    """
    def __copy__(self, /) -> Parent: ...
    def __deepcopy__(self, memo: Any, /) -> Parent: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, relation: Relation, sha256: str) -> Parent: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Parent], page: Page | None) -> Table[Any]: ...
    @property
    def relation(self, /) -> Relation:
        """
        How it came from it.
        """
    @property
    def sha256(self, /) -> str:
        """
        SHA-256 of the parent's document as JSON, raw materials embedded, keys sorted, without white space.
        """

@final
class PassedOver:
    """
    A raw material of the same class that does not match, or of which it is not known.
    """
    def __copy__(self, /) -> PassedOver: ...
    def __deepcopy__(self, memo: Any, /) -> PassedOver: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, material: str, reasons: SupportsGetItem[int, str]) -> PassedOver: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, PassedOver], page: Page | None) -> Table[Any]: ...
    @property
    def material(self, /) -> str:
        """
        Its id.
        """
    @property
    def reasons(self, /) -> list[str]:
        """
        Why.
        """

@final
class PathRegion:
    """
    A critical region of a solution path: a stretch in which the recipe keeps its structure.
    """
    def __copy__(self, /) -> PathRegion: ...
    def __deepcopy__(self, memo: Any, /) -> PathRegion: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, low: SupportsFloat | str, high: SupportsFloat | str, answered: bool) -> PathRegion: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, PathRegion], page: Page | None) -> Table[Any]: ...
    @property
    def answered(self, /) -> bool:
        """
        True if the brief has a formula there.
        """
    @property
    def high(self, /) -> Fraction:
        """
        Where it ends.
        """
    @property
    def low(self, /) -> Fraction:
        """
        Where it begins.
        """

@final
class PhDistance:
    """
    How far a reading is inside one range; below 0 where it is outside.
    """
    def __copy__(self, /) -> PhDistance: ...
    def __deepcopy__(self, memo: Any, /) -> PhDistance: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, row: PhWindowRow, above_low: Decimal, below_high: Decimal, is_inside: bool) -> PhDistance: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, PhDistance], page: Page | None) -> Table[Any]: ...
    @property
    def above_low(self, /) -> Decimal:
        """
        The reading less the low edge.
        """
    @property
    def below_high(self, /) -> Decimal:
        """
        The high edge less the reading.
        """
    @property
    def is_inside(self, /) -> bool:
        """
        True if the reading is inside.
        """
    @property
    def row(self, /) -> PhWindowRow:
        """
        The range.
        """

@final
class PhRange:
    """
    The pH range in which a raw material is stable.
    """
    def __copy__(self, /) -> PhRange: ...
    def __deepcopy__(self, memo: Any, /) -> PhRange: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, low: Decimal, high: Decimal, source: str) -> PhRange: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, PhRange], page: Page | None) -> Table[Any]: ...
    @property
    def high(self, /) -> Decimal:
        """
        The highest pH.
        """
    @property
    def low(self, /) -> Decimal:
        """
        The lowest pH.
        """
    @property
    def source(self, /) -> str:
        """
        Who says so.
        """

@final
class PhWindow:
    """
    The pH ranges of a formula's raw materials together. What states no range sets no edge, and is named.

    >>> bar = td.Formula("Bar", {"sci-powder": 98, "sodium-benzoate": 1, "calcium-carbonate": 1}, td.Catalogue.starter())
    >>> window = bar.ph_window()
    >>> window.range, [row.line for row in window.clash]
    (None, ['calcium-carbonate', 'sodium-benzoate'])
    """
    def __copy__(self, /) -> PhWindow: ...
    def __deepcopy__(self, memo: Any, /) -> PhWindow: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def clash(self, /) -> tuple[PhWindowRow, PhWindowRow] | None:
        """
        The pair that leaves no pH for all: the one whose range begins highest, and the one whose range ends lowest.
        """
    def distances(self, /, reading: Reading) -> Table[PhDistance]:
        """
        How far a reading is from every edge.

        >>> bar = td.Formula("Bar", {"sci-powder": 99, "sodium-benzoate": 1}, td.Catalogue.starter())
        >>> [(far.row.line, str(far.below_high)) for far in bar.ph_window().distances(td.Reading("5.8", dilution="1+9")) if not far.is_inside]
        [('sodium-benzoate', '-0.3')]
        """
    def page(self, /, reading: Reading | None = None) -> Page:
        """
        The ranges for people, with a reading where there is one.
        """
    @property
    def range(self, /) -> tuple[Decimal, Decimal] | None:
        """
        Low and high edge; None if no material states a range, or no pH suits all.
        """
    @property
    def rows(self, /) -> Table[PhWindowRow]:
        """
        The ranges, in the order of the lines.
        """
    @property
    def unstated(self, /) -> list[str]:
        """
        The raw materials that state no range.
        """

@final
class PhWindowRow:
    """
    The pH range of one raw material.
    """
    def __copy__(self, /) -> PhWindowRow: ...
    def __deepcopy__(self, memo: Any, /) -> PhWindowRow: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, line: str, material: str, low: Decimal, high: Decimal, source: str) -> PhWindowRow: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, PhWindowRow], page: Page | None) -> Table[Any]: ...
    @property
    def high(self, /) -> Decimal:
        """
        Highest pH.
        """
    @property
    def line(self, /) -> str:
        """
        The line that brings it.
        """
    @property
    def low(self, /) -> Decimal:
        """
        Lowest pH.
        """
    @property
    def material(self, /) -> str:
        """
        The raw material, by name.
        """
    @property
    def source(self, /) -> str:
        """
        Who says so.
        """

@final
class Phase:
    """
    What is worked together, and at which temperature in °C where stated.
    """
    def __copy__(self, /) -> Phase: ...
    def __deepcopy__(self, memo: Any, /) -> Phase: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, name: str, temperature: Decimal | None) -> Phase: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Phase], page: Page | None) -> Table[Any]: ...
    @property
    def name(self, /) -> str:
        """
        Its name.
        """
    @property
    def temperature(self, /) -> Decimal | None:
        """
        °C.
        """

@final
class PlannedBatch:
    """
    A batch that is to be made: of what, the `mass` weighed in, and the day. Only what may be used on that day counts as
    stock.

    >>> td.cost.PlannedBatch(td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter()), "2 kg", on="2026-12-01")
    PlannedBatch(formula="Clay", grams=2000, on=2026-12-01)
    """
    def __copy__(self, /) -> PlannedBatch: ...
    def __deepcopy__(self, memo: Any, /) -> PlannedBatch: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __getnewargs_ex__(self, /) -> tuple[tuple[Formula, str], dict[str, Any]]: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, formula: Formula, mass: str, *, on: date | str | None = None) -> PlannedBatch: ...
    def __repr__(self, /) -> str: ...
    @property
    def formula(self, /) -> Formula:
        """
        The formula.
        """
    @property
    def grams(self, /) -> Fraction:
        """
        Grams weighed in.
        """
    @property
    def on(self, /) -> str | None:
        """
        The day, if stated.
        """

@final
class PlannedProduct:
    """
    A product that could be made: pieces (bars, or whole batches) of a formula, for each of which a `mass` is weighed
    in, and which are worth a `value`: what each of them earns beyond what it costs to make. No more than `most` can be
    sold.

    >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
    >>> td.cost.PlannedProduct(clay, "66 g", "2.40", most=100)
    PlannedProduct(formula="Clay", grams=66, value=2.4, most=100)
    """
    def __copy__(self, /) -> PlannedProduct: ...
    def __deepcopy__(self, memo: Any, /) -> PlannedProduct: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __getnewargs_ex__(self, /) -> tuple[tuple[Formula, str, Fraction], dict[str, Any]]: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, formula: Formula, mass: str, value: SupportsFloat | str, *, most: SupportsIndex | None = None) -> PlannedProduct: ...
    def __repr__(self, /) -> str: ...
    @property
    def formula(self, /) -> Formula:
        """
        The formula.
        """
    @property
    def grams(self, /) -> Fraction:
        """
        Grams weighed in for one piece.
        """
    @property
    def most(self, /) -> int | None:
        """
        How many can be sold, if that is limited.
        """
    @property
    def value(self, /) -> Fraction:
        """
        What one is worth.
        """

@final
class Portion:
    """
    One portion, as it was weighed in, and the reading after it.
    """
    def __copy__(self, /) -> Portion: ...
    def __deepcopy__(self, memo: Any, /) -> Portion: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, added: SupportsFloat | str, reading: Reading) -> Portion: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Portion], page: Page | None) -> Table[Any]: ...
    @property
    def added(self, /) -> Fraction:
        """
        Grams added.
        """
    @property
    def reading(self, /) -> Reading:
        """
        The reading after it.
        """

@final
class Portioned:
    """
    How many of one size a batch gives; masses in grams.
    """
    def __copy__(self, /) -> Portioned: ...
    def __deepcopy__(self, memo: Any, /) -> Portioned: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, name: str, mass: SupportsFloat | str, count: SupportsIndex, total: SupportsFloat | str) -> Portioned: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Portioned], page: Page | None) -> Table[Any]: ...
    @property
    def count(self, /) -> int:
        """
        How many.
        """
    @property
    def mass(self, /) -> Fraction:
        """
        What one takes.
        """
    @property
    def name(self, /) -> str:
        """
        What the size is called.
        """
    @property
    def total(self, /) -> Fraction:
        """
        What they take together.
        """

@final
class Portions:
    """
    So much `mass` divided into bars (`sizes`, by name what one takes) and bottles (`bottles`, by name how many mL, of a
    product of that `density` in g/mL): those whose number is decided (`counts`) first, then as many as the rest gives
    of the one size that has none. Exact; masses in grams.

    >>> portions = td.batch.Portions("1 kg", {"large": "100 g", "small": "60 g"}, counts={"large": 3})
    >>> [(row.name, row.count) for row in portions.rows], portions.left_over
    ([('large', 3), ('small', 11)], Fraction(40, 1))
    >>> td.batch.Portions("5 kg", bottles={"bottle": 250}, density=1.02).rows[0].count
    19
    """
    def __arrow_c_schema__(self, /) -> "object":
        """
        The Arrow C schema of its columns.
        """
    def __arrow_c_stream__(self, /, requested_schema: "object | None" = None) -> "object":
        """
        The Arrow C stream of its columns: one record batch. A schema that is asked for is not converted to.
        """
    def __copy__(self, /) -> Portions: ...
    def __deepcopy__(self, memo: Any, /) -> Portions: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, mass: str, sizes: dict[str, str] | None = None, *, bottles: dict[str, SupportsFloat | str] | None = None, density: SupportsFloat | str | None = None, counts: dict[str, SupportsIndex] | None = None) -> Portions: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> Portions:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> Portions:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    @property
    def left_over(self, /) -> Fraction:
        """
        What is left over.
        """
    @property
    def mass(self, /) -> Fraction:
        """
        What was divided.
        """
    @property
    def page(self, /) -> Page:
        """
        How many of each size, and what is left over, on one page.
        """
    @property
    def rows(self, /) -> Table[Portioned]:
        """
        How many of each size.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_pandas(self, /) -> "Any":
        """
        As a pandas data frame through pyarrow, its columns backed by Arrow.
        """
    def to_polars(self, /) -> "Any":
        """
        As a polars data frame.
        """
    def to_pyarrow(self, /) -> "Any":
        """
        As a pyarrow table.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """

@final
class PreDilution:
    """
    A dilution to weigh instead of a line that is too small; masses in grams.
    """
    def __copy__(self, /) -> PreDilution: ...
    def __deepcopy__(self, memo: Any, /) -> PreDilution: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, parts: SupportsIndex, material: SupportsFloat | str, carrier: SupportsFloat | str, portion: SupportsFloat | str) -> PreDilution: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, PreDilution], page: Page | None) -> Table[Any]: ...
    @property
    def carrier(self, /) -> Fraction:
        """
        The carrier to weigh for it: a line of the same phase that it goes into.
        """
    @property
    def material(self, /) -> Fraction:
        """
        The material to weigh for it.
        """
    @property
    def parts(self, /) -> int:
        """
        Parts of carrier to one part of material.
        """
    @property
    def portion(self, /) -> Fraction:
        """
        How much of the dilution goes into the batch.
        """

@final
class Prediction:
    """
    What a model says of one formula, in the unit of the property.
    """
    def __copy__(self, /) -> Prediction: ...
    def __deepcopy__(self, memo: Any, /) -> Prediction: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, value: SupportsFloat | SupportsIndex, error: SupportsFloat | SupportsIndex, confidence_low: SupportsFloat | SupportsIndex, confidence_high: SupportsFloat | SupportsIndex, low: SupportsFloat | SupportsIndex, high: SupportsFloat | SupportsIndex, leverage: SupportsFloat | SupportsIndex, is_extrapolation: bool) -> Prediction: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Prediction], page: Page | None) -> Table[Any]: ...
    @property
    def confidence_high(self, /) -> float:
        """
        The high end.
        """
    @property
    def confidence_low(self, /) -> float:
        """
        Where the mean of many such batches lies: the low end.
        """
    @property
    def error(self, /) -> float:
        """
        Its standard error.
        """
    @property
    def high(self, /) -> float:
        """
        The high end.
        """
    @property
    def is_extrapolation(self, /) -> bool:
        """
        True if it is further out than every run, or a line that is no component stands where no run had it: the
        model was not checked there.
        """
    @property
    def leverage(self, /) -> float:
        """
        How far the formula is from the middle of the runs, as their leverages are.
        """
    @property
    def low(self, /) -> float:
        """
        Where the result of one further batch lies: the low end.
        """
    @property
    def value(self, /) -> float:
        """
        The value.
        """

@final
class Pressed:
    """
    Bars as they came out of the press; masses in grams.
    """
    def __copy__(self, /) -> Pressed: ...
    def __deepcopy__(self, memo: Any, /) -> Pressed: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, masses: SupportsGetItem[int, SupportsFloat | str], sum: SupportsFloat | str, mean: SupportsFloat | str, lowest: SupportsFloat | str, highest: SupportsFloat | str, range: SupportsFloat | str, bars: SupportsIndex | None, words: str, implied_process_loss: SupportsFloat | str | None, notes: SupportsGetItem[int, str]) -> Pressed: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Pressed], page: Page | None) -> Table[Any]: ...
    @property
    def bars(self, /) -> int | None:
        """
        How many bars the batch was pressed as, if stated.
        """
    @property
    def highest(self, /) -> Fraction:
        """
        The heaviest.
        """
    @property
    def implied_process_loss(self, /) -> Fraction | None:
        """
        What did not become bars, percent of the mass weighed; None if only some of the bars were weighed.
        """
    @property
    def lowest(self, /) -> Fraction:
        """
        The lightest.
        """
    @property
    def masses(self, /) -> list[Fraction]:
        """
        The bars, in the order recorded.
        """
    @property
    def mean(self, /) -> Fraction:
        """
        Their mean.
        """
    @property
    def notes(self, /) -> list[str]:
        """
        What to know about them: weights that stand far from the others.
        """
    @property
    def range(self, /) -> Fraction:
        """
        The heaviest less the lightest.
        """
    @property
    def sum(self, /) -> Fraction:
        """
        Their sum.
        """
    @property
    def words(self, /) -> str:
        """
        How many were weighed, of how many: "12 of 24 bars".
        """

@final
class PriceEffect:
    """
    What changed prices do to one formula.
    """
    def __copy__(self, /) -> PriceEffect: ...
    def __deepcopy__(self, memo: Any, /) -> PriceEffect: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, formula: str, currency: str, before: SupportsFloat | str, after: SupportsFloat | str, difference: SupportsFloat | str, percent: SupportsFloat | str | None) -> PriceEffect: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, PriceEffect], page: Page | None) -> Table[Any]: ...
    @property
    def after(self, /) -> Fraction:
        """
        What they cost afterwards.
        """
    @property
    def before(self, /) -> Fraction:
        """
        What the raw materials of a kilogram cost before.
        """
    @property
    def currency(self, /) -> str:
        """
        The currency.
        """
    @property
    def difference(self, /) -> Fraction:
        """
        What is added.
        """
    @property
    def formula(self, /) -> str:
        """
        The title of the formula.
        """
    @property
    def percent(self, /) -> Fraction | None:
        """
        The same in percent of what they cost before.
        """

@final
class PriceList:
    """
    Prices per kilogram as supplied, in one currency, by the id of the raw material; given as `prices` of a brief or
    formula. Read from TOML, JSON or CSV, or made of a mapping by name or a data frame with the columns "material",
    "price_per_kg" and, unless it is stated here, "currency". Names are looked up in the catalogue, by default the
    starter catalogue. Every fault is said at once.

    >>> prices = td.PriceList({"kaolin": 1.9, "SCI powder": "6.40"}, currency="EUR")
    >>> prices["sci-powder"], prices.currency, len(prices)
    (Decimal('6.4'), 'EUR', 2)
    >>> td.PriceList({"kaoline": 1.9}, currency="EUR")
    Traceback (most recent call last):
    ...
    tenside.errors.UnknownName: file prices, line 1, column 1: price of "kaoline": unknown raw material (found "kaoline"); did you mean "kaolin"?
    >>> brief = td.Brief("Clay", td.Catalogue.starter(), prices=prices).qs("kaolin").minimise(td.measure.cost)
    >>> brief.currency
    'EUR'
    """
    def __arrow_c_schema__(self, /) -> "object":
        """
        The Arrow C schema of its columns.
        """
    def __arrow_c_stream__(self, /, requested_schema: "object | None" = None) -> "object":
        """
        The Arrow C stream of its columns: one record batch. A schema that is asked for is not converted to.
        """
    def __contains__(self, material: str, /) -> bool: ...
    def __copy__(self, /) -> PriceList: ...
    def __deepcopy__(self, memo: Any, /) -> PriceList: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __getitem__(self, material: str, /) -> Decimal: ...
    def __hash__(self, /) -> int: ...
    def __iter__(self, /) -> Iterator[str]: ...
    def __len__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, prices: "Mapping[str, SupportsFloat | str] | Any", *, currency: str | None = None, catalogue: Catalogue | None = None) -> PriceList: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, prices: Mapping[str, SupportsFloat | str], currency: str) -> PriceList: ...
    @classmethod
    def check_table(cls, /, table: str | Any, catalogue: Catalogue | None = None, *, columns: dict[str, str] | None = None, ignore: str | Iterable[str] | None = None, currency: str | None = None, delimiter: Delimiter | None = None, decimal_comma: bool | None = None) -> Table[TableFault]:
        """
        What is wrong with a `table` that `from_table` would read with the same `catalogue`, `columns`, `ignore`,
        `currency`, `delimiter` and `decimal_comma`: a row for each fault, none if it can be read.

        >>> frame = {"id": ["kaoline"], "price": [47.5]}
        >>> [fault.message for fault in td.PriceList.check_table(frame, currency="EUR")]
        ['the price of a pack without its size']
        """
    @property
    def currency(self, /) -> str:
        """
        The currency.
        """
    @classmethod
    def from_csv(cls, /, text: str, catalogue: Catalogue | None = None, *, currency: str | None = None, delimiter: Delimiter | None = None, decimal_comma: bool = False) -> PriceList:
        """
        Reads a sheet with the columns "material" and "price_per_kg" in any order, and "currency" unless `currency`
        states it for all rows. The `delimiter` ("comma", "semicolon" or "tab") is found from the header row unless it
        is stated; `decimal_comma` reads 6,40. Names are looked up in the `catalogue`, by default the starter catalogue.
        `text` is the sheet.

        >>> sheet = "material;price_per_kg\\nkaolin;1,90\\nSCI powder;6,40\\n"
        >>> td.PriceList.from_csv(sheet, currency="EUR", decimal_comma=True)["sci-powder"]
        Decimal('6.40')
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> PriceList:
        """
        Reads a JSON document, as `from_toml` does.
        `text` is the document; names are looked up in the `catalogue`.

        >>> prices = td.PriceList({"kaolin": 1.9}, currency="EUR")
        >>> td.PriceList.from_json(prices.to_json()) == td.PriceList.from_csv(prices.to_csv()) == prices
        True
        """
    @classmethod
    def from_table(cls, /, table: str | Any, catalogue: Catalogue | None = None, *, columns: dict[str, str] | None = None, ignore: str | Iterable[str] | None = None, currency: str | None = None, delimiter: Delimiter | None = None, decimal_comma: bool | None = None) -> PriceList:
        """
        Reads the prices of a `table` that `Catalogue.from_table` reads too, with the same `columns`, `ignore`,
        `delimiter` and `decimal_comma`: `price_per_kg`, or `price` for a `pack` ("25 kg") or for `pack_kg` kilograms,
        of what the `catalogue`, by default the starter catalogue, has under the `id`, else the `name`. `currency`
        states the currency unless a column does. A row without a price is not priced. A price per kg that has no end as
        a decimal is rounded to ten places.

        >>> frame = {"id": ["kaolin", "sci-powder"], "price": [47.5, 19.2], "pack_kg": [25, 3]}
        >>> td.PriceList.from_table(frame, currency="EUR").items()
        [('kaolin', Decimal('1.9')), ('sci-powder', Decimal('6.4'))]
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> PriceList:
        """
        Reads a TOML document: `tenside = "prices/1"`, `currency`, and under `[per_kg]` a price for each raw material,
        by id or another name in the `catalogue`, by default the starter catalogue. `text` is the document.

        >>> td.PriceList.from_toml('tenside = "prices/1"\\ncurrency = "EUR"\\n[per_kg]\\nkaolin = 1.9\\n')
        <PriceList of 1 price in EUR>
        """
    def items(self, /) -> list[tuple[str, Decimal]]:
        """
        Id and price of each.
        """
    def keys(self, /) -> list[str]:
        """
        The ids of what is priced.
        """
    def price_of(self, /, material: Material) -> Fraction:
        """
        What a kilogram of a raw `material` costs: its own price, or for a premix without one what its parts come to, of
        which each then needs one.

        >>> float(td.PriceList({"kaolin": 1.9}, currency="EUR").price_of(td.Catalogue.starter()["kaolin"]))
        1.9
        """
    def to_csv(self, /) -> str:
        """
        As a sheet that `from_csv` reads: commas, decimal points.
        """
    def to_dict(self, /) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values.
        """
    def to_json(self, /) -> str:
        """
        As a JSON document.
        """
    def to_pandas(self, /) -> "Any":
        """
        As a pandas data frame through pyarrow, its columns backed by Arrow.
        """
    def to_polars(self, /) -> "Any":
        """
        As a polars data frame.
        """
    def to_pyarrow(self, /) -> "Any":
        """
        As a pyarrow table.
        """
    def to_toml(self, /) -> str:
        """
        As a TOML document.
        """
    def values(self, /) -> list[Decimal]:
        """
        The prices.
        """

@final
class PriceRange:
    """
    The price of a raw material and the range in which the recipe stays the same.
    """
    def __copy__(self, /) -> PriceRange: ...
    def __deepcopy__(self, memo: Any, /) -> PriceRange: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, material: str, price: SupportsFloat | str, low: SupportsFloat | str | None, high: SupportsFloat | str | None, sentence: str) -> PriceRange: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, PriceRange], page: Page | None) -> Table[Any]: ...
    @property
    def high(self, /) -> Fraction | None:
        """
        The highest price; None if there is none.
        """
    @property
    def low(self, /) -> Fraction | None:
        """
        The lowest price; None if there is none.
        """
    @property
    def material(self, /) -> str:
        """
        The material's id.
        """
    @property
    def price(self, /) -> Fraction:
        """
        Its price per kilogram.
        """
    @property
    def sentence(self, /) -> str:
        """
        All of it in one sentence.
        """

@final
class Product:
    """
    What a review is about besides the formula: where, for what, on which day, and what was read; and the user's own
    lists of rules.

    `use` is one use or several; the product is judged for each. `ph` is a reading in a dispersion, `moisture` the
    residual moisture in percent of the finished bar, `kept` "wet" or "dry" between uses, `placing` "placed" or
    "made-available", `form` "solid" or "liquid" (a bar is solid by its use), `water_activity` that of the unused bar. A
    `scent_limit` in percent needs its `scent_category`: one number for all scent together, or what the certificate of
    each allows, by the id of its raw material. `rules` are lists of your own beside the embedded ones.

    >>> product = td.Product(market="EU", use=["shampoo-bar", "body"], on="2026-11-24", moisture=5)
    >>> product.market, product.uses, product.on
    ('EU', ['shampoo-bar', 'body'], '2026-11-24')
    >>> td.Product(market="EU", use="shampoo-bar")
    Traceback (most recent call last):
    ...
    tenside.errors.Missing: a review without a date: lists change; give on="2026-11-24" or the day you mean
    """
    def __copy__(self, /) -> Product: ...
    def __deepcopy__(self, memo: Any, /) -> Product: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __getnewargs_ex__(self, /) -> tuple[tuple[()], dict[str, Any]]: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, *, market: Market | None = None, use: Use | Iterable[Use] | None = None, on: date | str | None = None, placing: Placing | None = None, form: ProductForm | None = None, ph: Reading | None = None, moisture: SupportsFloat | str | None = None, kept: Storage | None = None, water_activity: SupportsFloat | str | None = None, scent_limit: SupportsFloat | str | Mapping[str, SupportsFloat | str] | None = None, scent_category: str | None = None, rules: Iterable[RuleList] | None = None) -> Product: ...
    def __repr__(self, /) -> str: ...
    @property
    def market(self, /) -> Market:
        """
        The market.
        """
    @property
    def on(self, /) -> str:
        """
        The day.
        """
    @property
    def rules(self, /) -> list[RuleList]:
        """
        The user's own lists of rules.
        """
    @property
    def uses(self, /) -> list[Use]:
        """
        The uses; it is judged for each.
        """

@final
class ProductMix:
    """
    The products of a stock that are worth the most together, or the best mix that a search found.

    >>> clay = td.cost.PlannedProduct(td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter()), "66 g", "2.40")
    >>> mix = td.cost.Stock([td.cost.StockLot("kaolin", "1 kg")], currency="EUR").best_mix([clay])
    >>> mix.rows[0].pieces, mix.value, mix.verify()
    (15, Fraction(36, 1), True)
    """
    def __arrow_c_schema__(self, /) -> "object":
        """
        The Arrow C schema of its columns.
        """
    def __arrow_c_stream__(self, /, requested_schema: "object | None" = None) -> "object":
        """
        The Arrow C stream of its columns: one record batch. A schema that is asked for is not converted to.
        """
    def __copy__(self, /) -> ProductMix: ...
    def __deepcopy__(self, memo: Any, /) -> ProductMix: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def bound(self, /) -> Fraction:
        """
        No mix is worth more that takes the premixes in stock as such; the notes name those.
        """
    @property
    def currency(self, /) -> str:
        """
        The currency of the values.
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> ProductMix:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> ProductMix:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    @property
    def gap(self, /) -> Fraction:
        """
        By how much another could be worth more: 0 where none is.
        """
    @property
    def is_best(self, /) -> bool:
        """
        True if no such mix is worth more, as `bound` says.
        """
    @property
    def materials(self, /) -> Table[MixMaterial]:
        """
        Each raw material, in the order in which products first take it.
        """
    @property
    def node_limit(self, /) -> int:
        """
        How many it might have taken; where the clock ended it, how many that were.
        """
    @property
    def nodes(self, /) -> int:
        """
        How many linear programs it took.
        """
    @property
    def notes(self, /) -> list[str]:
        """
        What to know: lots that could not be used, raw materials of which nothing is in stock, and whether it is proved.
        """
    @property
    def page(self, /) -> Page:
        """
        How many of each product, and what becomes of the stock.
        """
    @property
    def rows(self, /) -> Table[MixRow]:
        """
        Each product, in the order given.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_pandas(self, /) -> "Any":
        """
        As a pandas data frame through pyarrow, its columns backed by Arrow.
        """
    def to_polars(self, /) -> "Any":
        """
        As a polars data frame.
        """
    def to_pyarrow(self, /) -> "Any":
        """
        As a pyarrow table.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    @property
    def value(self, /) -> Fraction:
        """
        What they are worth together.
        """
    def verify(self, /) -> bool:
        """
        Checks the proof without the search. True, or Contradiction with what does not hold.
        """

@final
class ProductTest:
    """
    A test of a product by its `name`, with the lowest and highest value allowed (`at_least`, `at_most`), in its `unit`,
    which holds no figures.

    >>> td.batch.ProductTest("pH of a 10 % dispersion", at_least=5, at_most=6).limits
    '5 to 6'
    """
    def __copy__(self, /) -> ProductTest: ...
    def __deepcopy__(self, memo: Any, /) -> ProductTest: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, name: str, unit: str = "", *, at_least: SupportsFloat | str | None = None, at_most: SupportsFloat | str | None = None) -> ProductTest: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str, str, Fraction | None, Fraction | None]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, name: str, unit: str, at_least: SupportsFloat | str | None, at_most: SupportsFloat | str | None) -> ProductTest: ...
    @property
    def at_least(self, /) -> Fraction | None:
        """
        Its lowest allowed value.
        """
    @property
    def at_most(self, /) -> Fraction | None:
        """
        Its highest allowed value.
        """
    @property
    def limits(self, /) -> str:
        """
        Its limits in words.
        """
    @property
    def name(self, /) -> str:
        """
        Its name.
        """
    @property
    def unit(self, /) -> str:
        """
        Its unit.
        """

@final
class ProductType:
    """
    A product type of the SCCS Notes of Guidance, its columns as printed.
    """
    def __copy__(self, /) -> ProductType: ...
    def __deepcopy__(self, memo: Any, /) -> ProductType: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, slug: str, name: str, amount: SupportsFloat | str, amount_per_body_weight: SupportsFloat | str | None, retention: SupportsFloat | str, exposure: SupportsFloat | str, exposure_per_body_weight: SupportsFloat | str, mark: str) -> ProductType: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, ProductType], page: Page | None) -> Table[Any]: ...
    @property
    def amount(self, /) -> Fraction:
        """
        Grams a day.
        """
    @property
    def amount_per_body_weight(self, /) -> Fraction | None:
        """
        Milligrams a day and kg of body weight, where the table gives it.
        """
    @property
    def exposure(self, /) -> Fraction:
        """
        Grams a day that stay.
        """
    @property
    def exposure_per_body_weight(self, /) -> Fraction:
        """
        Milligrams a day and kg of body weight that stay.
        """
    @property
    def mark(self, /) -> str:
        """
        How sure the row is.
        """
    @property
    def name(self, /) -> str:
        """
        Its name in the guidance.
        """
    @property
    def retention(self, /) -> Fraction:
        """
        The share that is taken to stay, 0 to 1.
        """
    @property
    def slug(self, /) -> str:
        """
        Its stable name.
        """

@final
class Proof:
    """
    The linear program of a brief and the certificate of its outcome, exact. It holds for the compositions given,
    nothing else.

    >>> answer = td.Brief("Clay", td.Catalogue.starter()).qs("kaolin").solve()
    >>> answer.proof.outcome, answer.proof.verify()
    ('optimal', True)
    """
    def __copy__(self, /) -> Proof: ...
    def __deepcopy__(self, memo: Any, /) -> Proof: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @property
    def outcome(self, /) -> str:
        """
        "optimal" or "infeasible".
        """
    @property
    def rows(self, /) -> Table[ProofMember]:
        """
        The rows of the program, each with its exact multiplier.
        """
    def verify(self, /) -> bool:
        """
        Checks the certificate in exact arithmetic, without the solver: True, or Contradiction is raised.
        """

@final
class ProofMember:
    """
    A requirement or range and its weight in a proof.
    """
    def __copy__(self, /) -> ProofMember: ...
    def __deepcopy__(self, memo: Any, /) -> ProofMember: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, words: str, multiplier: SupportsFloat | str) -> ProofMember: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, ProofMember], page: Page | None) -> Table[Any]: ...
    @property
    def multiplier(self, /) -> Fraction:
        """
        Its weight.
        """
    @property
    def words(self, /) -> str:
        """
        In the words of the brief.
        """

@final
class Purchase:
    """
    The cheapest purchase for a set of batches, or the best that a search found: a shopping list by supplier.

    >>> near = td.cost.Supplier("Near", [td.cost.Pack("kaolin", "1 kg", 5)], freight=0, tax=0)
    >>> far = td.cost.Supplier("Far", [td.cost.Pack("kaolin", "1 kg", 3)], freight=7, free_from=12, tax=0)
    >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
    >>> bought = td.cost.purchase([td.cost.PlannedBatch(clay, "2500 g")], td.cost.Offers([near, far]))
    >>> bought.orders[0].supplier, bought.orders[0].rows[0].packs, bought.total, bought.is_cheapest
    ('Far', 4, Fraction(12, 1), True)
    """
    def __copy__(self, /) -> Purchase: ...
    def __deepcopy__(self, memo: Any, /) -> Purchase: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def bound(self, /) -> Fraction:
        """
        No purchase of what the batches take costs less than this.
        """
    @property
    def currency(self, /) -> str:
        """
        The currency of the total.
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> Purchase:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> Purchase:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    @property
    def gap(self, /) -> Fraction:
        """
        By how much another could be cheaper: 0 where none is.
        """
    @property
    def is_cheapest(self, /) -> bool:
        """
        True if no purchase of what the batches take is cheaper, which the search then has proved.
        """
    @property
    def lots(self, /) -> Table[LotUse]:
        """
        What is taken of the lots in stock.
        """
    @property
    def materials(self, /) -> Table[MaterialPurchase]:
        """
        Where each raw material comes from, in the order in which the batches first need it.
        """
    @property
    def notes(self, /) -> list[str]:
        """
        What to know: lots that could not be used, premixes that are taken as such, freight and tax that nobody stated, and
        whether it is proved.
        """
    @property
    def orders(self, /) -> Table[Order]:
        """
        What is bought, by supplier.
        """
    @property
    def page(self, /) -> Page:
        """
        The shopping list.
        """
    @property
    def step_limit(self, /) -> int:
        """
        How many it might have taken; where the clock ended it, how many that were.
        """
    @property
    def steps(self, /) -> int:
        """
        How many steps the search took.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    @property
    def total(self, /) -> Fraction:
        """
        What is to be paid in all, freight and tax included.
        """

@final
class Question:
    """
    One question of a draft, with the ways to answer it.

    >>> draft = td.Draft("Clay", [("kaolin", "97.5 %")])
    >>> question = draft.questions(td.Catalogue.starter())[0]
    >>> question.id, question.found, question.choices[0].label
    ('total-not-hundred', '97.5 %', 'scale every line to a total of 100')
    """
    def __copy__(self, /) -> Question: ...
    def __deepcopy__(self, memo: Any, /) -> Question: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, json: str) -> Question: ...
    def _repr_html_(self, /) -> str: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Question], page: Page | None) -> Table[Any]: ...
    @property
    def allowed(self, /) -> str:
        """
        What a formula can take.
        """
    @property
    def call(self, /) -> str:
        """
        The call of a draft that answers it in words of one's own.
        """
    @property
    def choices(self, /) -> list[Choice]:
        """
        Ways to answer. Where a name is only guessed at, the first leaves it open.
        """
    @property
    def found(self, /) -> str:
        """
        What was found.
        """
    @property
    def id(self, /) -> str:
        """
        Its identifier, kind and line: "range@3".
        """
    @property
    def kind(self, /) -> QuestionKind:
        """
        What kind of question: "range", "total-not-hundred".
        """
    @property
    def line(self, /) -> int | None:
        """
        The line it is about, counted from 1; None for the recipe as a whole.
        """
    @property
    def message(self, /) -> str:
        """
        What is asked about.
        """
    @property
    def page(self, /) -> Page:
        """
        The question with its numbered choices.
        """
    @property
    def place(self, /) -> str:
        """
        Where: the line with what stands there, or the recipe.
        """

@final
class RankSummary:
    """
    A property by the ranks of its results.
    """
    def __copy__(self, /) -> RankSummary: ...
    def __deepcopy__(self, memo: Any, /) -> RankSummary: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def blends(self, /) -> Table[RankedBlend]:
        """
        Its blends, the highest mean rank first.
        """
    @property
    def degrees_of_freedom(self, /) -> int:
        """
        Its degrees of freedom.
        """
    @property
    def notes(self, /) -> list[str]:
        """
        What to know about it.
        """
    @property
    def p(self, /) -> float | None:
        """
        How often chance alone gives such a statistic or a greater one, if no blend is better than another; by
        chi-squared.
        """
    @property
    def page(self, /) -> Page:
        """
        The summary as a page.
        """
    @property
    def response(self, /) -> Response:
        """
        The property.
        """
    @property
    def statistic(self, /) -> float | None:
        """
        The statistic H of Kruskal and Wallis; None for a single blend, or where all results are equal.
        """

@final
class RankedBlend:
    """
    The results of one blend by their ranks among all results.
    """
    def __copy__(self, /) -> RankedBlend: ...
    def __deepcopy__(self, memo: Any, /) -> RankedBlend: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, blend: str, results: SupportsIndex, lowest: SupportsFloat | SupportsIndex, median: SupportsFloat | SupportsIndex, highest: SupportsFloat | SupportsIndex, mean_rank: SupportsFloat | SupportsIndex) -> RankedBlend: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, RankedBlend], page: Page | None) -> Table[Any]: ...
    @property
    def blend(self, /) -> str:
        """
        The blend, or the first run of it where none is stated.
        """
    @property
    def highest(self, /) -> float:
        """
        The highest.
        """
    @property
    def lowest(self, /) -> float:
        """
        The lowest.
        """
    @property
    def mean_rank(self, /) -> float:
        """
        The mean of their ranks, 1 for the lowest of all results.
        """
    @property
    def median(self, /) -> float:
        """
        The middle one, or the mean of the two in the middle.
        """
    @property
    def results(self, /) -> int:
        """
        How many results it has.
        """

@final
class Reach:
    """
    How far a measure can go; an end is None if there is none: a ratio's denominator is 0, or can come as near to it
    as one likes.
    """
    def __copy__(self, /) -> Reach: ...
    def __deepcopy__(self, memo: Any, /) -> Reach: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, lowest: SupportsFloat | str | None, highest: SupportsFloat | str | None, unit: str) -> Reach: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Reach], page: Page | None) -> Table[Any]: ...
    @property
    def highest(self, /) -> Fraction | None:
        """
        The highest attainable value.
        """
    @property
    def lowest(self, /) -> Fraction | None:
        """
        The lowest attainable value.
        """
    @property
    def unit(self, /) -> str:
        """
        Its unit.
        """

@final
class Reading:
    """
    A pH as somebody read it in a dispersion: "1+9" is one part of product and nine of water by mass. `after` is in
    minutes. `value` is the pH, `method` how it was read, `on` which day.

    >>> str(td.Reading(5.6, dilution="1+9", temperature=22))
    'pH 5.6 at 1+9 by mass, 22 °C'
    >>> str(td.Reading(5.6, dilution="1+9", water="deionised", instrument="glass electrode", after=30))
    'pH 5.6 at 1+9 by mass, in deionised water, after 30 min, glass electrode'
    """
    def __copy__(self, /) -> Reading: ...
    def __deepcopy__(self, memo: Any, /) -> Reading: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __getnewargs_ex__(self, /) -> tuple[tuple[Decimal], dict[str, Any]]: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, value: SupportsFloat | str, *, dilution: str, temperature: SupportsFloat | str | None = None, water: str | None = None, instrument: str | None = None, after: SupportsFloat | str | None = None, method: str | None = None, on: date | str | None = None) -> Reading: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Reading], page: Page | None) -> Table[Any]: ...
    @property
    def after(self, /) -> Decimal | None:
        """
        Minutes from dispersing to reading, if stated.
        """
    @property
    def dilution(self, /) -> str:
        """
        Parts of product + parts of water by mass.
        """
    @property
    def instrument(self, /) -> str | None:
        """
        The instrument, if stated.
        """
    @property
    def method(self, /) -> str | None:
        """
        What else matters of how it was got, if stated.
        """
    @property
    def on(self, /) -> str | None:
        """
        The day, if stated.
        """
    @property
    def temperature(self, /) -> Decimal | None:
        """
        Temperature in °C, if stated.
        """
    @property
    def value(self, /) -> Decimal:
        """
        The pH.
        """
    @property
    def water(self, /) -> str | None:
        """
        The water it was dispersed in, if stated.
        """

@final
class ReadyBar:
    """
    When one bar is within a tolerance of its final weight.
    """
    def __copy__(self, /) -> ReadyBar: ...
    def __deepcopy__(self, memo: Any, /) -> ReadyBar: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, name: str, day: SupportsFloat | SupportsIndex, error: SupportsFloat | SupportsIndex, sure_day: SupportsFloat | SupportsIndex) -> ReadyBar: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, ReadyBar], page: Page | None) -> Table[Any]: ...
    @property
    def day(self, /) -> float:
        """
        The day on which it is, by the fit; the first weigh-in, where the fit gives an earlier one.
        """
    @property
    def error(self, /) -> float:
        """
        The standard error of the day that the fit gives, which may lie before the first weigh-in.
        """
    @property
    def name(self, /) -> str:
        """
        What the bar is called.
        """
    @property
    def sure_day(self, /) -> float:
        """
        The day by which it is with the confidence asked for; the first weigh-in at the earliest.
        """

@final
class RecordNote:
    """
    What to know about a record.
    """
    def __copy__(self, /) -> RecordNote: ...
    def __deepcopy__(self, memo: Any, /) -> RecordNote: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, kind: NoteKind, about: str | None, sentence: str) -> RecordNote: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, RecordNote], page: Page | None) -> Table[Any]: ...
    @property
    def about(self, /) -> str | None:
        """
        The line or test that it is about.
        """
    @property
    def kind(self, /) -> NoteKind:
        """
        What it is about.
        """
    @property
    def sentence(self, /) -> str:
        """
        The note as a sentence.
        """

@final
class Records:
    """
    A set of records: which batches a lot went into. It goes into any data frame as one row a lot and batch.

    >>> lot = td.Lot("W-27", "capb-30", active=29.1, method="titrated")
    >>> wash = td.Formula("Wash", [td.Line(td.Catalogue.starter().material("capb-30").with_lot(lot), 100)])
    >>> records = td.batch.Records([td.batch.BatchRecord(wash.batch(mass="200 g", readability="1 g", number="7"))])
    >>> [(use.batch, float(use.mass)) for use in records.batches_using("W-27")]
    [('7', 200.0)]
    """
    def __arrow_c_schema__(self, /) -> "object":
        """
        The Arrow C schema of its columns.
        """
    def __arrow_c_stream__(self, /, requested_schema: "object | None" = None) -> "object":
        """
        The Arrow C stream of its columns: one record batch. A schema that is asked for is not converted to.
        """
    def __copy__(self, /) -> Records: ...
    def __deepcopy__(self, memo: Any, /) -> Records: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __len__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, records: Iterable[BatchRecord]) -> Records: ...
    def __reduce__(self, /) -> tuple[Any, tuple[list[BatchRecord]]]: ...
    def __repr__(self, /) -> str: ...
    def batches_using(self, /, lot: str) -> Table[LotInBatch]:
        """
        The batches that a `lot` went into, as made where that is recorded; none for a lot that no record names.
        """
    @property
    def lot_uses(self, /) -> Table[LotInBatch]:
        """
        Every lot in every batch, lots in premixes included.
        """
    @property
    def records(self, /) -> list[BatchRecord]:
        """
        The records, in the order given.
        """
    def to_pandas(self, /) -> "Any":
        """
        As a pandas data frame through pyarrow, its columns backed by Arrow.
        """
    def to_polars(self, /) -> "Any":
        """
        As a polars data frame.
        """
    def to_pyarrow(self, /) -> "Any":
        """
        As a pyarrow table.
        """

@final
class Relaxation:
    """
    A change of one limit.
    """
    def __copy__(self, /) -> Relaxation: ...
    def __deepcopy__(self, memo: Any, /) -> Relaxation: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, constraint: Constraint, words: str, limit: SupportsFloat | str, to: SupportsFloat | str, until: SupportsFloat | str | None, unit: str, sentence: str) -> Relaxation: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Relaxation], page: Page | None) -> Table[Any]: ...
    @property
    def constraint(self, /) -> Constraint:
        """
        What is changed.
        """
    @property
    def limit(self, /) -> Fraction:
        """
        The limit as it is.
        """
    @property
    def sentence(self, /) -> str:
        """
        A sentence to act on; what it says can be typed as it stands, and does.
        """
    def taken(self, /, brief: Brief) -> Brief:
        """
        The brief with this change made, on the very value that the sentence says.

        >>> brief = td.Brief("Weak", td.Catalogue.starter()).between("capb-30", 0, 50).qs("water").at_least(td.measure.active_matter, 18)
        >>> change = brief.try_solve().relaxations()[0]
        >>> change.taken(brief).solve().formula.line("capb-30").percent
        Decimal('50')
        """
    @property
    def to(self, /) -> Fraction:
        """
        The nearest limit that would do.
        """
    @property
    def unit(self, /) -> str:
        """
        Its unit.
        """
    @property
    def until(self, /) -> Fraction | None:
        """
        The farthest value that would do, where one value is asked for: `to` itself where nothing else does; None if
        every farther one does.
        """
    @property
    def words(self, /) -> str:
        """
        What is changed, in the words of the brief.
        """

@final
class RequirementPrice:
    """
    What one requirement for every composition costs, in the objective's unit. Prices of several do not add up.
    """
    def __copy__(self, /) -> RequirementPrice: ...
    def __deepcopy__(self, memo: Any, /) -> RequirementPrice: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, words: str, alone: SupportsFloat | str, beside_the_others: SupportsFloat | str) -> RequirementPrice: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, RequirementPrice], page: Page | None) -> Table[Any]: ...
    @property
    def alone(self, /) -> Fraction:
        """
        By how much the best value is worse with this one alone for every composition, all others for typical ones.
        """
    @property
    def beside_the_others(self, /) -> Fraction:
        """
        By how much the best value would be better with this one for typical compositions, all others as the brief
        asks.
        """
    @property
    def words(self, /) -> str:
        """
        In the words of the brief.
        """

@final
class Rescue:
    """
    What to add to a bowl in which something went wrong; a page in a notebook.

    >>> brief = td.Brief("Plain bar", td.Catalogue.starter()).fix("sci-powder", 60).between("cetyl-alcohol", 10, 15).qs("kaolin")
    >>> rescue = brief.rescue({"sci-powder": "132 g", "cetyl-alcohol": "30 g", "kaolin": "50 g"}, readability="0.1 g")
    >>> rescue.verdict, [(added.line, float(added.mass)) for added in rescue.additions], float(rescue.total)
    ('rescued', [('kaolin', 8.0)], 220.0)
    """
    def __arrow_c_schema__(self, /) -> "object":
        """
        The Arrow C schema of its columns.
        """
    def __arrow_c_stream__(self, /, requested_schema: "object | None" = None) -> "object":
        """
        The Arrow C stream of its columns: one record batch. A schema that is asked for is not converted to.
        """
    def __copy__(self, /) -> Rescue: ...
    def __deepcopy__(self, memo: Any, /) -> Rescue: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def additions(self, /) -> Table[Addition]:
        """
        What to add, in the order of the brief.
        """
    @property
    def answer(self, /) -> Answer | None:
        """
        The proved answer: what is in the bowl and what is added as lines of one formula.
        """
    @property
    def conflict(self, /) -> Conflict | None:
        """
        Why no addition brings everything back.
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> Rescue:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> Rescue:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    @property
    def keep(self, /) -> Fraction | None:
        """
        So much of the bowl can be brought back with what there is, if the rest of it is thrown away first; there may be
        ways to keep more.
        """
    @property
    def needed(self, /) -> Fraction | None:
        """
        The total that would bring everything back, where bowl or stock are too small for it.
        """
    @property
    def page(self, /) -> Page:
        """
        What to add and what is not met.
        """
    @property
    def sentence(self, /) -> str:
        """
        In a sentence.
        """
    @property
    def shortfalls(self, /) -> Table[Shortfall]:
        """
        What is not met then.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_pandas(self, /) -> "Any":
        """
        As a pandas data frame through pyarrow, its columns backed by Arrow.
        """
    def to_polars(self, /) -> "Any":
        """
        As a polars data frame.
        """
    def to_pyarrow(self, /) -> "Any":
        """
        As a pyarrow table.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    @property
    def total(self, /) -> Fraction | None:
        """
        The mass of everything then, as weighed; None where only throwing away is left.
        """
    @property
    def verdict(self, /) -> Verdict:
        """
        "rescued", "as-near-as-can-be" where bowl or stock are too small, "throw-away" where no addition brings
        everything back.
        """

@final
class Response:
    """
    A property that is measured on every test bar, in a `unit`, by a `method`, on a `scale`: points of a panel are
    ordered, all else is measured unless it says otherwise. `name` is what it is called.

    >>> td.trial.Response("hardness", "N", method="penetrometer, 24 h after pressing").heading
    'hardness, N'
    >>> td.trial.Response("slip", "score").scale
    'ordered'
    """
    def __copy__(self, /) -> Response: ...
    def __deepcopy__(self, memo: Any, /) -> Response: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, name: str, unit: ResultUnit, *, method: str | None = None, scale: ResponseScale | None = None) -> Response: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @property
    def heading(self, /) -> str:
        """
        Name and unit, as columns and axes say them.
        """
    @property
    def method(self, /) -> str | None:
        """
        How it is measured, if stated.
        """
    @property
    def name(self, /) -> str:
        """
        What it is called.
        """
    @property
    def scale(self, /) -> ResponseScale:
        """
        What kind of numbers it is of.
        """
    @property
    def unit(self, /) -> ResultUnit:
        """
        Its unit.
        """

@final
class Review:
    """
    A formula compared with the rules of published sources and of the trade. It never approves: with no finding it says
    how many checks found none, what was not checked and what is not covered.

    >>> bar = td.Formula("Soothing", {"sodium-benzoate": 3.5, "glycerin-99-5": 96.5}, td.Catalogue.starter())
    >>> bar = bar.with_purposes("sodium-benzoate", "preservative")
    >>> review = bar.review(market="EU", use=["shampoo-bar"], on="2026-11-24")
    >>> [finding.slug for finding in review.findings if finding.severity == "error"]
    ['annex-v-1-rinse-off']
    >>> "findings among" in review.summary
    True
    """
    def __arrow_c_schema__(self, /) -> "object":
        """
        The Arrow C schema of its columns.
        """
    def __arrow_c_stream__(self, /, requested_schema: "object | None" = None) -> "object":
        """
        The Arrow C stream of its columns: one record batch. A schema that is asked for is not converted to.
        """
    def __copy__(self, /) -> Review: ...
    def __deepcopy__(self, memo: Any, /) -> Review: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Formula, Product]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def checks(self, /) -> int:
        """
        The number of checks made.
        """
    @property
    def findings(self, /) -> Table[Finding]:
        """
        The findings, gravest first.
        """
    @property
    def formula(self, /) -> Formula:
        """
        The formula.
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None, *, rules: Iterable[RuleList] = ...) -> Review:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the starter
        catalogue, judged by the embedded `rules` and by these lists of your own. It is believed where reviewing again
        gives just what it says.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None, *, rules: Iterable[RuleList] = ...) -> Review:
        """
        Reads `text`, a TOML document, back, with a `catalogue` and `rules` as `from_json` does.
        """
    @property
    def gravest(self, /) -> Severity | None:
        """
        The gravest severity found; None if there is no finding.
        """
    @property
    def is_draft(self, /) -> bool:
        """
        True if the formula rests on values of the starter catalogue.
        """
    @property
    def lists(self, /) -> list[RuleList]:
        """
        The lists used.
        """
    @property
    def not_covered(self, /) -> list[str]:
        """
        What the lists do not cover.
        """
    @property
    def open_checks(self, /) -> int:
        """
        Checks that found nothing for typical compositions although a range end that could change that is not stated.
        """
    def page(self, /) -> Page:
        """
        The review as a page.
        """
    @property
    def statuses(self, /) -> Table[SubstanceStatus]:
        """
        What the market's law is known to say of each substance in the formula, the gravest first.

        >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
        >>> [(each.name, each.kind) for each in clay.review(market="EU", use="shampoo-bar", on="2026-11-24").statuses][0]
        ('KAOLIN', 'colour')
        """
    @property
    def summary(self, /) -> str:
        """
        How many checks were made and what they found.
        """
    @property
    def title(self, /) -> str:
        """
        The title of the formula.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_pandas(self, /) -> "Any":
        """
        As a pandas data frame through pyarrow, its columns backed by Arrow.
        """
    def to_polars(self, /) -> "Any":
        """
        As a polars data frame.
        """
    def to_pyarrow(self, /) -> "Any":
        """
        As a pyarrow table.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    @property
    def unchecked(self, /) -> Table[Unchecked]:
        """
        What could not be checked.
        """

@final
class Reviewer:
    """
    Rules compiled once for the raw materials of a catalogue, to review many formulas. The `product` is a `Product`, or
    stated by the same keywords: `market`, `use`, `on`, `placing`, `form`, `ph`, `moisture`, `kept`, `water_activity`,
    `scent_limit`, `scent_category`, `rules`.

    >>> cat = td.Catalogue.starter()
    >>> reviewer = td.review.Reviewer(cat, market="EU", use="shampoo-bar", on="2026-11-24")
    >>> bars = [td.Formula("Bar", {"sodium-benzoate": share, "kaolin": 100 - share}, cat) for share in (1, 3, 5)]
    >>> [reviewer.flag("annex-v-1-rinse-off", bar).certainty for bar in bars]
    [None, 'certain', 'certain']
    """
    def __getnewargs__(self, /) -> tuple[Catalogue, Product]: ...
    def __new__(cls, /, catalogue: Catalogue, product: Product | None = None, *, market: Market | None = None, use: Use | Iterable[Use] | None = None, on: date | str | None = None, placing: Placing | None = None, form: ProductForm | None = None, ph: Reading | None = None, moisture: SupportsFloat | str | None = None, kept: Storage | None = None, water_activity: SupportsFloat | str | None = None, scent_limit: SupportsFloat | str | Mapping[str, SupportsFloat | str] | None = None, scent_category: str | None = None, rules: Iterable[RuleList] | None = None) -> Reviewer: ...
    def __repr__(self, /) -> str: ...
    def flag(self, /, slug: str, formula: Formula) -> Flag:
        """
        One rule on one formula.
        `slug` is the rule's name.
        """
    def review(self, /, formula: Formula) -> Review:
        """
        Reviews a formula.
        """
    @property
    def slugs(self, /) -> list[str]:
        """
        The names of the rules that concern the product.
        """

@final
class RobustnessPrice:
    """
    What it costs that requirements hold for every composition.
    """
    def __copy__(self, /) -> RobustnessPrice: ...
    def __deepcopy__(self, memo: Any, /) -> RobustnessPrice: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, robust: SupportsFloat | str, typical: SupportsFloat | str, price: SupportsFloat | str, unit: str, requirements: SupportsGetItem[int, RequirementPrice], sentence: str) -> RobustnessPrice: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, RobustnessPrice], page: Page | None) -> Table[Any]: ...
    @property
    def price(self, /) -> Fraction:
        """
        By how much the first is worse than the second; 0 or more.
        """
    @property
    def requirements(self, /) -> list[RequirementPrice]:
        """
        Each requirement for every composition, in the brief's order.
        """
    @property
    def robust(self, /) -> Fraction:
        """
        The best value of the objective, as the brief asks.
        """
    @property
    def sentence(self, /) -> str:
        """
        All together in one sentence.
        """
    @property
    def typical(self, /) -> Fraction:
        """
        The best value were every requirement asked of typical compositions only.
        """
    @property
    def unit(self, /) -> str:
        """
        The unit of all of them.
        """

@final
class Rounded:
    """
    The best formula whose percentages are multiples of steps; a table in a notebook.

    >>> brief = td.Brief("Wash", td.Catalogue.starter()).between("capb-30", 10, 40).qs("water").at_least(td.measure.active_matter, "10.1")
    >>> rounded = brief.minimise(td.measure.active_matter).solve_rounded(0.5)
    >>> rounded.formula.percentages["capb-30"], rounded.is_best, rounded.verify()
    (Decimal('34'), True, True)
    """
    def __copy__(self, /) -> Rounded: ...
    def __deepcopy__(self, memo: Any, /) -> Rounded: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Brief, Steps]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def bound(self, /) -> Fraction | None:
        """
        No formula on the steps has a better objective than this.
        """
    @property
    def brief(self, /) -> Brief:
        """
        The brief.
        """
    @property
    def departures(self, /) -> Table[RoundedDeparture]:
        """
        Where it departs from a split or target, as the steps allowed.
        """
    @property
    def formula(self, /) -> Formula:
        """
        The formula; its percentages are exact.
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> Rounded:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> Rounded:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    @property
    def gap(self, /) -> Fraction:
        """
        The most by which another formula on the steps could be better: 0 where the search was complete. Without
        objective, in half-widths of the written ranges.
        """
    @property
    def is_best(self, /) -> bool:
        """
        True if no formula on the steps is better.
        """
    @property
    def loosened(self, /) -> list[str]:
        """
        The splits and targets that the steps loosened, each with how far, in words.
        """
    @property
    def nodes(self, /) -> int:
        """
        How many linear programs it took.
        """
    @property
    def objective(self, /) -> Fraction | None:
        """
        Exact value of the objective, in its own unit.
        """
    @property
    def objective_without_steps(self, /) -> Fraction | None:
        """
        The objective without steps (and with every dose down to 0 allowed), splits and targets being as loose as here:
        the steps alone cost the difference.
        """
    @property
    def objective_without_tolerance(self, /) -> Fraction | None:
        """
        The objective without steps and with every split and target met exactly, which is the answer's if there are no
        choices. None if the brief has no objective, and where nothing meets all of them exactly.
        """
    def page(self, /, *bases: "Basis") -> Page:
        """
        The formula, its usual measures on these bases, where it departs from an equation, and what is proved.
        """
    @property
    def steps(self, /) -> Steps:
        """
        The steps.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def verify(self, /) -> bool:
        """
        Checks everything again without the search: True, or Contradiction is raised.
        """

@final
class RoundedDeparture:
    """
    An equation that a rounded formula does not meet exactly, because the steps allowed it.
    """
    def __copy__(self, /) -> RoundedDeparture: ...
    def __deepcopy__(self, memo: Any, /) -> RoundedDeparture: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, words: str, departure: SupportsFloat | str, tolerance: SupportsFloat | str | None, unit: str) -> RoundedDeparture: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, RoundedDeparture], page: Page | None) -> Table[Any]: ...
    @property
    def departure(self, /) -> Fraction:
        """
        The measure's value less the target; for a split, what the member brings too much.
        """
    @property
    def tolerance(self, /) -> Fraction | None:
        """
        The most it may be; None if the equation was given up.
        """
    @property
    def unit(self, /) -> str:
        """
        The unit of both.
        """
    @property
    def words(self, /) -> str:
        """
        The equation, in the words of the brief.
        """

@final
class Rule:
    """
    A rule of a list.
    """
    def __copy__(self, /) -> Rule: ...
    def __deepcopy__(self, memo: Any, /) -> Rule: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, slug: str, severity: Severity, title: str, source: str, mark: Mark, valid_from: str | None, available_from: str | None, valid_until: str | None, purpose: Purpose | None, status: StatusKind | None, act: str | None, advice: str | None) -> Rule: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Rule], page: Page | None) -> Table[Any]: ...
    @property
    def act(self, /) -> str | None:
        """
        The act that made it what it is, or changed it last, if stated.
        """
    @property
    def advice(self, /) -> str | None:
        """
        What to do about a finding, if it says so.
        """
    @property
    def available_from(self, /) -> str | None:
        """
        The first day on which what was placed on the market before may not be made available any more, if it is a
        later one.
        """
    @property
    def mark(self, /) -> Mark:
        """
        How its value is known: "seen", "secondary", "computed", "from-memory", "common-practice", "stated".
        """
    @property
    def purpose(self, /) -> Purpose | None:
        """
        The purpose of the lines that it is about, if it is about one.
        """
    @property
    def severity(self, /) -> Severity:
        """
        "error", "warning", "question" or "information".
        """
    @property
    def slug(self, /) -> str:
        """
        Its stable name, which its findings carry.
        """
    @property
    def source(self, /) -> str:
        """
        Who says so, with the entry.
        """
    @property
    def status(self, /) -> StatusKind | None:
        """
        What it does with the substances that it names, if it is an entry of law: "prohibited", "limit", "condition"
        and others.
        """
    @property
    def title(self, /) -> str:
        """
        What its findings say, without numbers.
        """
    @property
    def valid_from(self, /) -> str | None:
        """
        The first day it holds, if stated.
        """
    @property
    def valid_until(self, /) -> str | None:
        """
        The last day it holds, if stated.
        """

@final
class RuleList:
    """
    Rules of one source, written in TOML or JSON. A rule without a source says "house rule".

    >>> ours = td.review.RuleList.from_toml('''
    ... tenside = "rules/1"
    ... id = "ours"
    ... title = "What we ask of our bars"
    ... source = "house rule"
    ... [[rule]]
    ... slug = "too-much-salt"
    ... severity = "warning"
    ... title = "salt makes the bar crumble"
    ... measure = "constituent"
    ... of = "SODIUM CHLORIDE"
    ... at_most = 3
    ... ''')
    >>> ours.rules[0].slug
    'too-much-salt'
    >>> bar = td.Formula("Salty", {"sodium-chloride": 5, "kaolin": 95}, td.Catalogue.starter())
    >>> review = bar.review(market="EU", use="shampoo-bar", on="2026-11-24", rules=[ours])
    >>> "too-much-salt" in [finding.slug for finding in review.findings]
    True
    """
    def __copy__(self, /) -> RuleList: ...
    def __deepcopy__(self, memo: Any, /) -> RuleList: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __len__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @property
    def consolidated(self, /) -> str | None:
        """
        The date of the consolidated text, if stated: amendments after it are not in the list.
        """
    @classmethod
    def coverage(cls, /) -> Page:
        """
        What the embedded lists carry, list by list and act by act, what they say of the substances of the table in each
        market and how that is known, and what they do not cover.

        >>> "Regulation (EU) 2026/909" in td.review.RuleList.coverage().text(120)
        True
        """
    @classmethod
    def from_json(cls, /, text: str) -> RuleList:
        """
        Reads a list in JSON.
        `text` is the document.
        """
    @classmethod
    def from_toml(cls, /, text: str) -> RuleList:
        """
        Reads a list in TOML.
        `text` is the document.
        """
    @property
    def heading(self, /) -> str:
        """
        Title, source, date and mark in one line.
        """
    @property
    def id(self, /) -> str:
        """
        Its identifier.
        """
    @property
    def mark(self, /) -> Mark:
        """
        How its values are known.
        """
    @property
    def markets(self, /) -> list[Market]:
        """
        The markets it is for; all where it is empty.
        """
    @property
    def not_covered(self, /) -> list[str]:
        """
        What it does not cover.
        """
    @property
    def note(self, /) -> str | None:
        """
        What to know about the list.
        """
    @property
    def rules(self, /) -> Table[Rule]:
        """
        Its rules.
        """
    @property
    def source(self, /) -> str:
        """
        The document it was taken from.
        """
    @classmethod
    def starter(cls, /) -> list[RuleList]:
        """
        The embedded lists that every review uses.

        >>> [each.consolidated for each in td.review.RuleList.starter() if each.id == "eu-annex-v"]
        ['2026-05-18']
        """
    @property
    def title(self, /) -> str:
        """
        What it is called.
        """
    def to_json(self, /) -> str:
        """
        As a JSON document.
        """
    def to_toml(self, /) -> str:
        """
        As a TOML document.

        >>> first = td.review.RuleList.starter()[0]
        >>> td.review.RuleList.from_toml(first.to_toml()) == first == td.review.RuleList.from_json(first.to_json())
        True
        """

@final
class Samples:
    """
    Formulas drawn evenly from what a brief allows.
    """
    def __arrow_c_schema__(self, /) -> "object":
        """
        The Arrow C schema of its columns.
        """
    def __arrow_c_stream__(self, /, requested_schema: "object | None" = None) -> "object":
        """
        The Arrow C stream of its columns: one record batch. A schema that is asked for is not converted to.
        """
    def __copy__(self, /) -> Samples: ...
    def __deepcopy__(self, memo: Any, /) -> Samples: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, lines: dict[str, SupportsGetItem[int, SupportsFloat | SupportsIndex]], dimension: SupportsIndex, burn_in: SupportsIndex, thinning: SupportsIndex) -> Samples: ...
    def _repr_html_(self, /) -> str: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Samples], page: Page | None) -> Table[Any]: ...
    @property
    def burn_in(self, /) -> int:
        """
        Steps thrown away before the first sample.
        """
    @property
    def dimension(self, /) -> int:
        """
        How many directions the brief leaves free.
        """
    @property
    def lines(self, /) -> dict[str, list[float]]:
        """
        Percentages by line, one entry a sample.
        """
    @property
    def thinning(self, /) -> int:
        """
        Steps from one sample to the next.
        """
    def to_pandas(self, /) -> "Any":
        """
        As a pandas data frame through pyarrow, its columns backed by Arrow.
        """
    def to_polars(self, /) -> "Any":
        """
        As a polars data frame.
        """
    def to_pyarrow(self, /) -> "Any":
        """
        As a pyarrow table.
        """

@final
class ScentDeclaration:
    """
    A supplier's allergen declaration for one raw material, percent of the material. What it does not name is declared
    to be absent, or at most the `reporting` limit. `source` says who declared it and when; `shares` are percent by
    name, one number or lowest and highest.

    >>> declared = td.label.ScentDeclaration("lavender-oil", "supplier, 2026-03-02", {"LINALOOL": (30, 36), "d-limonene": 0.5}, reporting=0.01)
    >>> bar = td.Formula("Bar", {"kaolin": 99.4, "lavender-oil": 0.6}, td.Catalogue.starter())
    >>> label = bar.label(market="EU", on="2026-11-24", declarations=[declared])
    >>> label.scent("linalool").answer, label.scent("limonene").answer, label.scent("geraniol").answer
    ('certain', 'below', 'below')
    """
    def __copy__(self, /) -> ScentDeclaration: ...
    def __deepcopy__(self, memo: Any, /) -> ScentDeclaration: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __getnewargs_ex__(self, /) -> tuple[tuple[str, str], dict[str, Any]]: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, material: str, source: str, shares: dict[str, tuple[SupportsFloat | str, SupportsFloat | str] | SupportsFloat | str] | None = None, *, reporting: SupportsFloat | str | None = None) -> ScentDeclaration: ...
    def __repr__(self, /) -> str: ...
    @property
    def material(self, /) -> str:
        """
        The id of the raw material.
        """
    @property
    def reporting(self, /) -> Decimal:
        """
        The most there can be of what it does not name, percent.
        """
    @property
    def shares(self, /) -> dict[str, tuple[Decimal, Decimal]]:
        """
        Lowest and highest percent by name.
        """
    @property
    def source(self, /) -> str:
        """
        Who declared it, and when.
        """

@final
class ScentRow:
    """
    One scent constituent that labels name, and what is known of it in the formula.
    """
    def __copy__(self, /) -> ScentRow: ...
    def __deepcopy__(self, memo: Any, /) -> ScentRow: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, entry: SupportsIndex, name: str, answer: ScentAnswer, required: bool, is_listed: bool, percent: Interval, percent_as_judged: Interval | None, basis: str, materials: SupportsGetItem[int, str], keeps_off: SupportsGetItem[int, KeepsOff]) -> ScentRow: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, ScentRow], page: Page | None) -> Table[Any]: ...
    @property
    def answer(self, /) -> ScentAnswer:
        """
        "certain", "possible", "below" or "unknown".
        """
    @property
    def basis(self, /) -> str:
        """
        As what it is judged: as sold at the moisture stated, or as charged.
        """
    @property
    def entry(self, /) -> int:
        """
        Its number in Annex III.
        """
    @property
    def is_listed(self, /) -> bool:
        """
        Whether the list names it.
        """
    @property
    def keeps_off(self, /) -> list[KeepsOff]:
        """
        What would keep it off the list.
        """
    @property
    def materials(self, /) -> list[str]:
        """
        The raw materials that are known to bring it.
        """
    @property
    def name(self, /) -> str:
        """
        Its name on the label.
        """
    @property
    def percent(self, /) -> Interval:
        """
        Percent as charged, as far as it is known.
        """
    @property
    def percent_as_judged(self, /) -> Interval | None:
        """
        Percent as it is judged; None if all that is charged dries.
        """
    @property
    def required(self, /) -> bool:
        """
        Whether it has to be named at all on the date.
        """

@final
class SearchHit:
    """
    A raw material that a search found.
    """
    def __copy__(self, /) -> SearchHit: ...
    def __deepcopy__(self, memo: Any, /) -> SearchHit: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, id: str, matched: MatchKind, by: NameKind, found: str, material: Material) -> SearchHit: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, SearchHit], page: Page | None) -> Table[Any]: ...
    @property
    def by(self, /) -> NameKind:
        """
        Which kind of name it is.
        """
    @property
    def found(self, /) -> str:
        """
        The name.
        """
    @property
    def id(self, /) -> str:
        """
        Its id.
        """
    @property
    def matched(self, /) -> MatchKind:
        """
        How the name was met, from the surest on: "id", "name", "beginning", "word", "inside", or "guess" for what
        is only spelt alike.
        """
    @property
    def material(self, /) -> Material:
        """
        The raw material.
        """

@final
class Settled:
    """
    A draft that became a formula.
    """
    def __copy__(self, /) -> Settled: ...
    def __deepcopy__(self, memo: Any, /) -> Settled: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, formula: Formula, departures: SupportsGetItem[int, DraftDeparture]) -> Settled: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Settled], page: Page | None) -> Table[Any]: ...
    @property
    def departures(self, /) -> list[DraftDeparture]:
        """
        The lines that are not on the grid exactly.
        """
    @property
    def formula(self, /) -> Formula:
        """
        The formula.
        """

@final
class Sheet:
    """
    A batch sheet: plain text, Markdown, or a page of HTML that prints.

    >>> sheet = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter()).batch(mass="200 g", readability="0.1 g").sheet()
    >>> sheet.html.startswith("<!DOCTYPE html>")
    True
    """
    def __copy__(self, /) -> Sheet: ...
    def __deepcopy__(self, memo: Any, /) -> Sheet: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Batch]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def html(self, /) -> str:
        """
        A whole page of HTML that prints on A4 and US Letter.
        """
    @property
    def markdown(self, /) -> str:
        """
        Markdown with pipe tables.
        """
    @property
    def text(self, /) -> str:
        """
        Plain text of at most 80 columns.
        """

@final
class Shortfall:
    """
    What a rescue does not bring back.
    """
    def __copy__(self, /) -> Shortfall: ...
    def __deepcopy__(self, memo: Any, /) -> Shortfall: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, asked: str, value: SupportsFloat | str | None, limit: SupportsFloat | str, unit: str, is_rounding: bool) -> Shortfall: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Shortfall], page: Page | None) -> Table[Any]: ...
    @property
    def asked(self, /) -> str:
        """
        The range, split or requirement, in words.
        """
    @property
    def is_rounding(self, /) -> bool:
        """
        True if the exact additions meet it and their rounding alone does not, or if what was made meets it within
        half a division of each line's scale.
        """
    @property
    def limit(self, /) -> Fraction:
        """
        The limit that it should keep.
        """
    @property
    def unit(self, /) -> str:
        """
        The unit of both.
        """
    @property
    def value(self, /) -> Fraction | None:
        """
        Its value then, for typical compositions; None where it is not known.
        """

@final
class Solution:
    """
    Acids, bases and strong ions in water by their totals, in mol per kg of water. Immutable; each call gives a new
    solution. `temperature` is in °C, `pkw` that of water where it is not the usual one.

    >>> buffer = td.ph.Solution(25).acid("citric acid", 0.07).ion("Na", 0.06)
    >>> round(buffer.ph, 2), buffer.diluted(9).ph > buffer.ph
    (3.54, True)
    """
    def __copy__(self, /) -> Solution: ...
    def __deepcopy__(self, memo: Any, /) -> Solution: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, temperature: SupportsFloat | SupportsIndex = 25.0, *, pkw: SupportsFloat | SupportsIndex | None = None) -> Solution: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, water: tuple[SupportsFloat | SupportsIndex, SupportsFloat | SupportsIndex], acids: SupportsGetItem[int, tuple[Acid, SupportsFloat | SupportsIndex]], ions: SupportsGetItem[int, tuple[str, SupportsIndex | None, SupportsFloat | SupportsIndex]], inert: SupportsFloat | SupportsIndex, origin: tuple[Formula, str, SupportsFloat | SupportsIndex] | None) -> Solution: ...
    def acid(self, /, acid: str | Acid, molality: SupportsFloat | str) -> Solution:
        """
        With so much more of an acid or base in all its forms, mol per kg of water.
        `molality` is how much.
        """
    @property
    def acids(self, /) -> dict[str, float]:
        """
        Totals of the acids and bases.
        """
    @property
    def davies(self, /) -> float:
        """
        The constant A of the Davies equation.
        """
    def diluted(self, /, water: SupportsFloat | str) -> Solution:
        """
        With so many more kilograms of water to each kilogram of it.
        """
    @property
    def inert(self, /) -> float:
        """
        What is dissolved without charge.
        """
    def ion(self, /, name: str, molality: SupportsFloat | str, *, charge: SupportsIndex | None = None) -> Solution:
        """
        With so much more of a strong ion, mol per kg of water; `charge` for one that the table does not have.
        `name` is its symbol, `molality` how much.

        >>> td.ph.Solution().ion("iodide", 0.1, charge=-1).ion("Na", 0.1).ph == td.ph.Solution().ion("Cl", 0.1).ion("Na", 0.1).ph
        True
        """
    @property
    def ions(self, /) -> dict[str, float]:
        """
        Totals of the strong ions.
        """
    @property
    def ph(self, /) -> float:
        """
        The pH alone.
        """
    @property
    def pkw(self, /) -> float:
        """
        The negative decimal logarithm of the ion product of water.
        """
    def solve(self, /) -> Equilibrium:
        """
        The equilibrium: pH, forms, ionic strength, buffer capacity, and what makes it less certain.
        """
    @property
    def temperature(self, /) -> float:
        """
        The temperature in °C.
        """
    def with_inert(self, /, molality: SupportsFloat | str) -> Solution:
        """
        With so much more of what dissolves without charge, mol per kg of water.
        `molality` is how much.
        """

@final
class SolutionPath:
    """
    The answers of a brief as one of its numbers moves; `Brief.solution_path` makes it.

    Between two values of the number the structure of the recipe often stays: such a critical region is worked out once,
    exactly; every further point in it is a few operations per line. Every point is the same as from cold. Pickling it
    keeps the brief and the number.

    >>> brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
    >>> path = brief.between("cetyl-alcohol", 3, 6).target(td.measure.active_matter, 50).minimise(td.measure.water).solution_path("wash.capb-30")
    >>> [round(path.percents(part)["capb-30"], 4) for part in (1, 2, 3)]
    [11.1111, 20.8333, 29.4118]
    >>> path
    <SolutionPath "wash.capb-30" of "Wash">
    """
    def __reduce__(self, /) -> tuple[Any, tuple[Brief, str]]: ...
    def __repr__(self, /) -> str: ...
    @property
    def brief(self, /) -> Brief:
        """
        The brief, the number where it was.
        """
    def percents(self, /, value: SupportsFloat | str) -> dict[str, float] | None:
        """
        Percent by line of the one canonical answer where the number is `value`, each the float nearest to the exact
        solution; None if no formula meets the brief there.
        """
    def regions(self, /, low: SupportsFloat | str, high: SupportsFloat | str) -> Table[PathRegion]:
        """
        The critical regions of the path between two values of the number, in order: in each of them the recipe keeps
        its structure, and where two meet, lines and limits change their roles. Raises Unsupported if several numbers of
        the linear program move with it. From `low` to `high`.

        >>> m = td.measure
        >>> brief = td.Brief("Wash", td.Catalogue.starter()).between("capb-30", 0, 50).between("sci-powder", 0, 10).qs("water")
        >>> path = brief.target(m.active_matter, 5).minimise(m.material("sci-powder")).solution_path(m.active_matter)
        >>> [(float(region.high), region.answered) for region in path.regions(1, 30)]
        [(15.0, True), (23.4, True), (30.0, False)]
        """
    def solve(self, /, value: SupportsFloat | str) -> Answer | Conflict:
        """
        The Answer or the Conflict where the number is `value`: exact solution, proof and grid formula; solved from
        cold.
        """
    @property
    def what(self, /) -> str:
        """
        The number, spelt as for `axis`.
        """

@final
class Statement:
    """
    What is said of a substance or raw material, and by whom.
    """
    def __copy__(self, /) -> Statement: ...
    def __deepcopy__(self, memo: Any, /) -> Statement: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, value: bool, source: str) -> Statement: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Statement], page: Page | None) -> Table[Any]: ...
    @property
    def source(self, /) -> str:
        """
        Who says so.
        """
    @property
    def value(self, /) -> bool:
        """
        Yes or no.
        """

@final
class StatusEntry:
    """
    One entry of law that speaks of a substance.
    """
    def __copy__(self, /) -> StatusEntry: ...
    def __deepcopy__(self, memo: Any, /) -> StatusEntry: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, kind: StatusKind, slug: str | None, valid_from: str | None, mark: Mark, membership_mark: Mark | None, sentence: str) -> StatusEntry: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, StatusEntry], page: Page | None) -> Table[Any]: ...
    @property
    def kind(self, /) -> StatusKind:
        """
        "prohibited", "limit", "condition", "trace", "label", "declaration", "colour", "hair-dye", "question",
        "pending" or "none".
        """
    @property
    def mark(self, /) -> Mark:
        """
        How what it says is known.
        """
    @property
    def membership_mark(self, /) -> Mark | None:
        """
        How it is known that it covers the substance, if not because it names it.
        """
    @property
    def sentence(self, /) -> str:
        """
        What it says, and who says so.
        """
    @property
    def slug(self, /) -> str | None:
        """
        The rule that reviews judge by; None for what no rule judges.
        """
    @property
    def valid_from(self, /) -> str | None:
        """
        The first day it holds, if stated.
        """

@final
class Step:
    """
    A step of a method: its `kind`, what is done in `words`; the `phase` it belongs to, the `temperature` of the mass in
    °C, the `minutes` it usually takes, a `caution`, and what to `check` before the next step.

    >>> td.batch.Step("rest", "Let it rest under a cloth.", minutes=20, check="no skin on it")
    Step('rest', 'Let it rest under a cloth.', minutes=Decimal('20'), check='no skin on it')
    """
    def __copy__(self, /) -> Step: ...
    def __deepcopy__(self, memo: Any, /) -> Step: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __getnewargs_ex__(self, /) -> tuple[tuple[StepKind, str], dict[str, Any]]: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, kind: StepKind, words: str, *, phase: str | None = None, temperature: SupportsFloat | str | None = None, minutes: SupportsFloat | str | None = None, caution: str | None = None, check: str | None = None) -> Step: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Step], page: Page | None) -> Table[Any]: ...
    @property
    def caution(self, /) -> str | None:
        """
        Its caution.
        """
    @property
    def check(self, /) -> str | None:
        """
        What is looked at before the next step.
        """
    @property
    def kind(self, /) -> StepKind:
        """
        What is done: "melt", "blend-dry", "wet", "dissolve", "disperse", "knead", "add", "set-ph", "rest", "press",
        "fill", "chill", "set", "dry", "cure", "weigh-again".
        """
    @property
    def minutes(self, /) -> Decimal | None:
        """
        The minutes that it usually takes.
        """
    @property
    def phase(self, /) -> str | None:
        """
        The phase that it belongs to; None where it is all of the batch.
        """
    @property
    def sentence(self, /) -> str:
        """
        Words with temperature and time.
        """
    @property
    def temperature(self, /) -> Decimal | None:
        """
        The temperature of the mass in °C.
        """
    @property
    def words(self, /) -> str:
        """
        In words.
        """

@final
class Steps:
    """
    The steps that percentages are multiples of, and how splits and targets are taken; everything else always holds
    exactly. `giving_up` names splits and targets that need not be kept.

    `lines` have steps of their own. A split or target, by its name, may be `within` a tolerance in its unit (a split:
    in percent points of what a member brings) or be given up; with `half_a_step` every other one may depart by what
    half a step, moved from one line to another, does to it. A search solves at most so many linear programs, its
    `nodes`.

    >>> td.solve.Steps("0.5", lines={"panthenol": "0.1"}, within={"wash": "0.2"}).words
    'multiples of 0.5 %, panthenol of 0.1 %'
    >>> try: td.solve.Steps("0.3")
    ... except td.errors.OutOfRange as error: print(error.faults[0].message)
    the step does not go into 100 %
    """
    def __copy__(self, /) -> Steps: ...
    def __deepcopy__(self, memo: Any, /) -> Steps: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __getnewargs_ex__(self, /) -> tuple[tuple[Fraction], dict[str, Any]]: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, step: SupportsFloat | str, *, lines: Mapping[str, SupportsFloat | str] | None = None, within: Mapping[str, SupportsFloat | str] | None = None, giving_up: str | Iterable[str] | None = None, half_a_step: bool = False, nodes: SupportsIndex | None = None) -> Steps: ...
    def __repr__(self, /) -> str: ...
    @property
    def giving_up(self, /) -> list[str]:
        """
        The splits and targets that are not asked for.
        """
    @property
    def half_a_step(self, /) -> bool:
        """
        True if every other split and target may depart by half a step's effect.
        """
    @property
    def lines(self, /) -> dict[str, Fraction]:
        """
        The lines with steps of their own, in percent.
        """
    @property
    def nodes(self, /) -> int:
        """
        How many linear programs a search may solve.
        """
    @classmethod
    def of_weighing(cls, /, batch: str, division: str, *, lines: Mapping[str, SupportsFloat | str] | None = None, within: Mapping[str, SupportsFloat | str] | None = None, giving_up: str | Iterable[str] | None = None, half_a_step: bool = False, nodes: SupportsIndex | None = None) -> Steps:
        """
        Every line a whole number of a scale's divisions in a batch of this mass.
        `division` is the scale's; `lines`, `within`, `giving_up`, `half_a_step` and `nodes` as for `Steps`.

        >>> td.solve.Steps.of_weighing("2 kg", "1 g").step
        Fraction(1, 20)
        """
    @property
    def step(self, /) -> Fraction:
        """
        The step of every line that has none of its own, in percent.
        """
    @property
    def within(self, /) -> dict[str, Fraction]:
        """
        The splits and targets with a tolerance of their own.
        """
    @property
    def words(self, /) -> str:
        """
        In words.
        """

@final
class Stock:
    """
    What is in stock, valued in a currency. Raw materials are looked up by id or name in the catalogue, by default the
    starter catalogue.

    >>> lots = [td.cost.StockLot("kaolin", "1 kg", price=4), td.cost.StockLot("kaolin", "3 kg", price=5), td.cost.StockLot("SCI powder", "500 g")]
    >>> stock = td.cost.Stock(lots, currency="EUR")
    >>> stock.value, stock.price_list()["kaolin"], [lot.material for lot in stock.without_cost]
    (Fraction(19, 1), Decimal('4.75'), ['sci-powder'])
    """
    def __arrow_c_schema__(self, /) -> "object":
        """
        The Arrow C schema of its columns.
        """
    def __arrow_c_stream__(self, /, requested_schema: "object | None" = None) -> "object":
        """
        The Arrow C stream of its columns: one record batch. A schema that is asked for is not converted to.
        """
    def __copy__(self, /) -> Stock: ...
    def __deepcopy__(self, memo: Any, /) -> Stock: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, lots: Iterable[StockLot], catalogue: Catalogue | None = None, *, currency: str = "currency") -> Stock: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, lots: SupportsGetItem[int, StockLot], currency: str) -> Stock:
        """
        The ids are those of some catalogue already, and are not looked up again.
        """
    def _repr_html_(self, /) -> str: ...
    def best_mix(self, /, products: Iterable[PlannedProduct], *, on: date | str | None = None, nodes: SupportsIndex | None = None, seconds: SupportsFloat | str | None = None) -> ProductMix:
        """
        The mix of `products` that are worth the most together, made on a day from what may be used on it: whole pieces,
        exact. Searches in up to so many linear programs (`nodes`) and about so many `seconds`; at either end it gives
        the best found, with `bound` and `gap`.

        >>> cat = td.Catalogue.starter()
        >>> rich = td.cost.PlannedProduct(td.Formula("Rich", {"sci-powder": 80, "kaolin": 20}, cat), "100 g", 3)
        >>> plain = td.cost.PlannedProduct(td.Formula("Plain", {"sci-powder": 40, "kaolin": 60}, cat), "100 g", 2)
        >>> mix = td.cost.Stock([td.cost.StockLot("sci-powder", "1 kg"), td.cost.StockLot("kaolin", "1 kg")]).best_mix([rich, plain])
        >>> {row.product: row.pieces for row in mix.rows}, mix.is_best
        ({'Rich': 5, 'Plain': 15}, True)
        """
    @property
    def currency(self, /) -> str:
        """
        The currency that it is valued in.
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> Stock:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> Stock:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    @property
    def lots(self, /) -> Table[StockLot]:
        """
        The lots, in the order given.
        """
    @property
    def page(self, /) -> Page:
        """
        What is left of each lot, and what it is worth.
        """
    def price_list(self, /) -> PriceList:
        """
        The prices per kilogram of the stock at cost, as `prices=` of briefs and formulas takes them: of each raw
        material the mean over its lots by mass, rounded to the sixth decimal place. A raw material of which a lot has
        no stated cost has none.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_pandas(self, /) -> "Any":
        """
        As a pandas data frame through pyarrow, its columns backed by Arrow.
        """
    def to_polars(self, /) -> "Any":
        """
        As a polars data frame.
        """
    def to_pyarrow(self, /) -> "Any":
        """
        As a pyarrow table.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    @property
    def value(self, /) -> Fraction:
        """
        What is left is worth at cost, without lots whose cost is not stated.
        """
    @property
    def without_cost(self, /) -> Table[StockLot]:
        """
        The lots whose cost is not stated.
        """

@final
class StockLot:
    """
    What is left of a lot of a raw material: the name of the lot, what a kilogram of it cost, and the last day on which
    it is used (that of its expiry, or that before it is to be tested again).

    >>> td.cost.StockLot("kaolin", "1.2 kg", lot="K-7", price="4.40", use_by="2027-01-31").value
    Fraction(132, 25)
    """
    def __copy__(self, /) -> StockLot: ...
    def __deepcopy__(self, memo: Any, /) -> StockLot: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __getnewargs_ex__(self, /) -> tuple[tuple[str, str], dict[str, Any]]: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, material: str, left: str, *, lot: str | None = None, price: SupportsFloat | str | None = None, use_by: date | str | None = None) -> StockLot: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, StockLot], page: Page | None) -> Table[Any]: ...
    @property
    def grams(self, /) -> Fraction:
        """
        Grams left.
        """
    @property
    def lot(self, /) -> str | None:
        """
        The name of the lot, if stated.
        """
    @property
    def material(self, /) -> str:
        """
        The raw material.
        """
    @property
    def price(self, /) -> Fraction | None:
        """
        What a kilogram of it cost, if stated.
        """
    @property
    def use_by(self, /) -> str | None:
        """
        The last day on which it is used, if stated.
        """
    @property
    def value(self, /) -> Fraction | None:
        """
        What is left of it is worth at cost, if that is stated.
        """

@final
class StreamPart:
    """
    What was gathered of one part; `Sweep.join` puts the parts of a sweep together.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, Any]: ...
    def __repr__(self, /) -> str: ...
    @property
    def feasible(self, /) -> int:
        """
        Rows with a formula.
        """
    @property
    def kept(self, /) -> int:
        """
        Rows with a formula that meet the comparisons.
        """
    @property
    def part(self, /) -> SweepPart:
        """
        The part.
        """
    @property
    def query(self, /) -> dict[str, Any]:
        """
        The keywords of `SweepPart.stream` that it was gathered for, columns by name.
        """

@final
class StreamResult:
    """
    What a stream kept of a sweep.
    """
    def __copy__(self, /) -> StreamResult: ...
    def __deepcopy__(self, memo: Any, /) -> StreamResult: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, rows: SupportsIndex, feasible: SupportsIndex, kept: SupportsIndex, best: SupportsGetItem[int, KeptRow], front: SupportsGetItem[int, KeptRow], histograms: SupportsGetItem[int, SweepHistogram], summaries: SupportsGetItem[int, AxisValueSummary]) -> StreamResult: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, StreamResult], page: Page | None) -> Table[Any]: ...
    @property
    def best(self, /) -> list[KeptRow]:
        """
        The best rows, the best first.
        """
    @property
    def feasible(self, /) -> int:
        """
        Rows with a formula.
        """
    @property
    def front(self, /) -> list[KeptRow]:
        """
        The Pareto front, by its first column.
        """
    @property
    def histograms(self, /) -> list[SweepHistogram]:
        """
        The histograms asked for.
        """
    @property
    def kept(self, /) -> int:
        """
        Rows with a formula that meet the comparisons.
        """
    @property
    def rows(self, /) -> int:
        """
        Rows worked out.
        """
    @property
    def summaries(self, /) -> list[AxisValueSummary]:
        """
        The summaries asked for, one entry for every value of every axis.
        """

@final
class Substance:
    """
    A pure constituent, as an ingredient list or a composition names it.

    One of your own is made of its INCI name (`inci`) and its class (`class_`, `td.material.classes()`). As wanted: `cas`,
    numbers with right check digits; `label_eu` and `label_us`, where a label names it otherwise; `counts_as_active`, by
    default true of anionic, amphoteric and nonionic surfactants; `charge`, a kind, with the signed `charge_value` for
    "per mole" and "per gram" (mmol/g); `molar_mass` in g/mol, or (low, typical, high) of a mixture with its `chains`;
    `formula` in Hill order; `pka`, from the fully protonated form on; `volatility`, by default "water" of water and
    "unknown" of the rest; `attributes`, yes or no by `words.Attribute`; `natural_origin` in percent. `source` says where
    all that comes from. A number that the starter catalogue has under another name makes the two one for limits and
    measures.

    >>> ester = td.Substance("HOUSE ESTER", "ester", charge="neutral", molar_mass="284.48", source="our supplier's data sheet")
    >>> ester.charge.kind, ester.volatility
    ('neutral', 'unknown')
    >>> td.Material("house-ester", "House ester", "oil", {ester: 100}).main_class
    'ester'

    >>> salt = td.Catalogue.starter().substance("sodium chloride")
    >>> salt.inci, salt.cas, salt.class_
    ('SODIUM CHLORIDE', ['7647-14-5'], 'salt')
    """
    def __copy__(self, /) -> Substance: ...
    def __deepcopy__(self, memo: Any, /) -> Substance: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, inci: str, class_: Class, *, cas: str | Iterable[str] | None = None, label_eu: str | None = None, label_us: str | None = None, counts_as_active: bool | None = None, charge: ChargeKind = ..., charge_value: SupportsFloat | str | None = None, molar_mass: tuple[SupportsFloat | str, SupportsFloat | str, SupportsFloat | str] | SupportsFloat | str | None = None, chains: str | None = None, formula: str | None = None, pka: Iterable[SupportsFloat | str] | None = None, volatility: Volatility | None = None, attributes: Mapping[Attribute, bool] | None = None, natural_origin: SupportsFloat | str | None = None, source: str = "stated by the user") -> Substance: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Catalogue, str]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Substance], page: Page | None) -> Table[Any]: ...
    @property
    def annex_iii_entry(self, /) -> int | None:
        """
        Entry of Annex III of Regulation (EC) No 1223/2009 that asks for its declaration as a fragrance constituent.
        """
    def attribute(self, /, name: Attribute) -> Statement | None:
        """
        What is stated of "sulfate", "palm", "animal", "silicone" or "ethoxylated"; None is unknown, never no.
        `name` is one of `words.Attribute`.

        >>> td.Catalogue.starter().substance("water").attribute("sulfate")
        Statement(value=False, source=...)
        """
    @property
    def cas(self, /) -> list[str]:
        """
        CAS numbers, check digits verified.
        """
    @property
    def charge(self, /) -> SubstanceCharge:
        """
        Charge; unknown stays unknown.
        """
    @property
    def class_(self, /) -> Class:
        """
        Chemical or technical class.
        """
    @property
    def counts_as_active(self, /) -> bool:
        """
        Whether it counts as active matter, apart from its class.
        """
    @property
    def declared_since_2023(self, /) -> bool:
        """
        Whether that entry came with Regulation (EU) 2023/1545.
        """
    @property
    def formula(self, /) -> str | None:
        """
        Molecular formula in Hill order, for defined compounds.
        """
    @property
    def inci(self, /) -> str:
        """
        INCI name.
        """
    @property
    def label_eu(self, /) -> str:
        """
        Name on an EU label.
        """
    @property
    def label_us(self, /) -> str:
        """
        Name on a US label.
        """
    @property
    def molar_mass(self, /) -> SubstanceMolarMass | None:
        """
        Molar mass, if known.
        """
    @property
    def natural_origin(self, /) -> tuple[Decimal, str] | None:
        """
        Share of natural origin in percent and its source, in the sense of ISO 16128-2 (from memory).
        """
    @property
    def page(self, /) -> Page:
        """
        Its page: names, numbers, class, charge, what is stated of it and by whom.
        """
    @property
    def pka(self, /) -> list[Decimal]:
        """
        Acid dissociation constants from the fully protonated form on.
        """
    @property
    def source(self, /) -> str:
        """
        Where the values come from.
        """
    @property
    def volatility(self, /) -> Volatility:
        """
        Whether it leaves on drying: "none", "water", "volatile" or "unknown".
        """

@final
class SubstanceCharge:
    """
    A charge: how it is calculated, and the figure where there is one.
    """
    def __copy__(self, /) -> SubstanceCharge: ...
    def __deepcopy__(self, memo: Any, /) -> SubstanceCharge: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, kind: ChargeKind, value: Decimal | None) -> SubstanceCharge: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, SubstanceCharge], page: Page | None) -> Table[Any]: ...
    @property
    def kind(self, /) -> ChargeKind:
        """
        "neutral", "per mole", "per gram" (mmol/g), "depends on pH" or "unknown".
        """
    @property
    def value(self, /) -> Decimal | None:
        """
        The signed figure.
        """

@final
class SubstanceMolarMass:
    """
    A molar mass in g/mol, with the range and chain basis of a mixture.
    """
    def __copy__(self, /) -> SubstanceMolarMass: ...
    def __deepcopy__(self, memo: Any, /) -> SubstanceMolarMass: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, low: Decimal | None, typical: Decimal, high: Decimal | None, basis: str | None) -> SubstanceMolarMass: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, SubstanceMolarMass], page: Page | None) -> Table[Any]: ...
    @property
    def basis(self, /) -> str | None:
        """
        The chains of a mixture.
        """
    @property
    def high(self, /) -> Decimal | None:
        """
        The highest, if stated.
        """
    @property
    def low(self, /) -> Decimal | None:
        """
        The lowest, if stated.
        """
    @property
    def typical(self, /) -> Decimal:
        """
        The typical value.
        """

@final
class SubstanceStatus:
    """
    What is known of a substance in a market. That nothing was found is no clearance.

    >>> status = td.substance.SubstanceStatus.of("ZINC PYRITHIONE", market="EU")
    >>> status.kind, status.entries[0].valid_from
    ('prohibited', '2022-03-01')
    >>> td.substance.SubstanceStatus.of("AN INVENTED NAME", market="EU").searched
    'not looked up'
    """
    def __copy__(self, /) -> SubstanceStatus: ...
    def __deepcopy__(self, memo: Any, /) -> SubstanceStatus: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, name: str, market: Market, kind: StatusKind | None, entries: SupportsGetItem[int, StatusEntry], searched: str | None, sentence: str) -> SubstanceStatus: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, SubstanceStatus], page: Page | None) -> Table[Any]: ...
    @property
    def entries(self, /) -> list[StatusEntry]:
        """
        What speaks of it, the gravest first.
        """
    @property
    def kind(self, /) -> StatusKind | None:
        """
        The gravest that an entry does with it; None where no entry speaks of it.
        """
    @property
    def market(self, /) -> Market:
        """
        The market.
        """
    @property
    def name(self, /) -> str:
        """
        Its INCI name.
        """
    @classmethod
    def of(cls, /, inci: str, *, market: Market) -> SubstanceStatus:
        """
        What the embedded lists say of a substance, by its INCI name.
        `inci` is that name, `market` a word of `words.Market`.
        """
    @property
    def searched(self, /) -> str | None:
        """
        "by-cas-and-name" or "by-name-only" where nothing was found so, "not looked up" where nobody looked; None
        where entries speak.
        """
    @property
    def sentence(self, /) -> str:
        """
        What is known of it in a sentence.
        """

@final
class Substitution:
    """
    A formula with one raw material replaced; a table in a notebook. What is kept is equal in composition, not in foam
    or feel.

    >>> cat = td.Catalogue.starter()
    >>> bar = td.Formula("Bar", {"sci-powder": 40, "stearic-acid": 20, "kaolin": 40}, cat)
    >>> noodles = bar.substitute("sci-powder", "sci-noodles", keep=[td.measure.active_matter, td.measure.class_("fatty-acid")])
    >>> noodles.is_exact, noodles.after.percentages["stearic-acid"] < 20
    (True, True)
    """
    def __copy__(self, /) -> Substitution: ...
    def __deepcopy__(self, memo: Any, /) -> Substitution: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Formula, str, Material, list[Measure]]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Substitution], page: Page | None) -> Table[Any]: ...
    @property
    def after(self, /) -> Formula:
        """
        The new formula: the exact one, or the nearest where a measure cannot be kept.
        """
    @property
    def before(self, /) -> Formula:
        """
        The formula before.
        """
    @property
    def changes(self, /) -> Table[LineChange]:
        """
        The other lines that change.
        """
    def difference(self, /) -> Difference:
        """
        The two formulas side by side.
        """
    @property
    def disturbance(self, /) -> Fraction:
        """
        The sum of the changes of the other lines, in percent points.
        """
    @property
    def exact(self, /) -> dict[str, Fraction]:
        """
        Exact percent by line of the new formula.
        """
    @property
    def is_exact(self, /) -> bool:
        """
        True if every measure is kept exactly, before rounding to 0.0001 %.
        """
    @property
    def kept(self, /) -> Table[Kept]:
        """
        The kept measures, before and after.
        """
    @property
    def line(self, /) -> str:
        """
        The line whose raw material is replaced, as it was called before.
        """
    @property
    def needed(self, /) -> Fraction | None:
        """
        Percent of the new raw material that brings what the line brought of the first kept measure; it can be
        above 100.
        """
    @property
    def new_line(self, /) -> str:
        """
        What the line of the new raw material is called.
        """
    def page(self, /) -> Page:
        """
        The kept measures and the lines, before and after.
        """
    @property
    def replacement(self, /) -> Material:
        """
        The new raw material.
        """
    @property
    def sentence(self, /) -> str:
        """
        One sentence: what becomes of the line, and what cannot be kept.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    @property
    def total_departure(self, /) -> Fraction:
        """
        The sum of the departures of the kept measures at the exact percentages, each in parts of its value before (of one
        unit where that was 0): the least there is, but where a ratio is kept beside other measures the least that was
        found.
        """
    def verify(self, /) -> bool:
        """
        Checks the certificates and the new formula without the solver: True, or Contradiction is raised.
        """
    @property
    def would_have_to_give(self, /) -> Table[LineChange]:
        """
        The lines that stay as they are (fixed, or dosed with care) and would have to give for the measures to be kept.
        """

@final
class Supplier:
    """
    A supplier by name, with packs and terms: the currency of the invoice, the freight of an order, the value of goods
    before tax from which on there is none, the tax on goods and freight in percent. Freight and tax that are not stated
    count as none, and purchases say so.

    >>> td.cost.Supplier("Depot North", [td.cost.Pack("kaolin", "1 kg", 4)], currency="EUR", freight="8.90", free_from=150, tax=19).freight_of(149)
    Fraction(89, 10)
    """
    def __copy__(self, /) -> Supplier: ...
    def __deepcopy__(self, memo: Any, /) -> Supplier: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __getnewargs_ex__(self, /) -> tuple[tuple[str, list[Pack]], dict[str, Any]]: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, name: str, packs: Iterable[Pack], *, currency: str = "currency", freight: SupportsFloat | str | None = None, free_from: SupportsFloat | str | None = None, tax: SupportsFloat | str | None = None) -> Supplier: ...
    def __repr__(self, /) -> str: ...
    @property
    def currency(self, /) -> str:
        """
        The currency of the invoice.
        """
    @property
    def free_from(self, /) -> Fraction | None:
        """
        The value of goods before tax from which on there is no freight, if stated.
        """
    @property
    def freight(self, /) -> Fraction | None:
        """
        The freight of an order before tax, if stated.
        """
    def freight_of(self, /, goods: SupportsFloat | str) -> Fraction:
        """
        The freight, before tax, of an order of `goods` of this value before tax.
        """
    @property
    def name(self, /) -> str:
        """
        The name.
        """
    @property
    def packs(self, /) -> list[Pack]:
        """
        The packs.
        """
    @property
    def tax(self, /) -> Fraction | None:
        """
        The tax on goods and freight in percent, if stated.
        """

@final
class Sweep:
    """
    A brief varied along axes: one formula for every combination of their values, the last axis fastest. `Brief.sweep`
    makes one and works it out; one that is kept can stream what is too large to keep. `measures` are further columns,
    each a measure or one with its basis; `review` is a `Product` that every row is reviewed for, with findings at least
    as grave as `severity`; `micelles` are mixed micelles at a dilution.

    >>> brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
    >>> sweep = td.Sweep(brief.target(td.measure.active_matter, 50), td.axis("wash.capb-30", [1, 2, 3]), td.axis(td.measure.active_matter, range(40, 60)))
    >>> len(sweep), sweep.columns[:3]
    (60, ['axis.wash.capb-30', 'axis.target.active-matter', 'line.sci-powder'])
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __getnewargs_ex__(self, /) -> tuple[tuple[Any, ...], dict[str, Any]]: ...
    def __len__(self, /) -> int:
        """
        How many formulas.
        """
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, brief: Brief, *axes: "Axis", measures: "Iterable[Measure | tuple[Measure, Basis]] | None" = None, columns: "str | Measure | Iterable[str | Measure] | None" = None, review: Product | None = None, severity: Severity | None = None, micelles: tuple[MixedMicelles, str] | None = None) -> Sweep:
        """
        `measures` are columns besides those that requirements and objective name: measures, or pairs of a measure and a
        basis. With `review`, a Product, there are columns of what a review of each row's formula says: "findings",
        "findings.certain", "findings.unchecked" and "use-levels", codes of rules at least as grave as `severity`
        ("information") and of lines. With `micelles`, a pair of MixedMicelles and a dilution by mass such as "1+99",
        there are columns of the mixed micelles of each row's active matter: "micelles.cmc" (mmol/L), and by INCI name
        "micelles.share. ..." (mole share of the micelles at the dilution) and "micelles.single. ..." (mmol/L). Names,
        critical concentrations and interactions of the pair's first count, parts are the row's own; a cell is null
        where something of an active substance is not known. `columns` leaves only these, axes too: by name, or measures,
        which become columns if they are none yet.
        """
    def __repr__(self, /) -> str: ...
    def answer(self, /, row: SupportsIndex) -> Answer:
        """
        The exact answer of a row; raises Unanswerable if it has none.
        """
    @property
    def axes(self, /) -> list[Axis]:
        """
        Its axes, the fastest last.
        """
    @property
    def binding_legend(self, /) -> list[str]:
        """
        What the bits of the column "binding" stand for, the lowest first.
        """
    @property
    def brief(self, /) -> Brief:
        """
        The brief that is swept.
        """
    def brief_at(self, /, row: SupportsIndex) -> Brief:
        """
        The brief of a row.
        """
    @property
    def columns(self, /) -> list[str]:
        """
        The names of its columns.
        """
    @property
    def conflict_legend(self, /) -> list[str]:
        """
        What the bits of the column "conflict" stand for, the lowest first.
        """
    @property
    def findings_legend(self, /) -> list[str]:
        """
        What the bits of the columns "findings", "findings.certain" and "findings.unchecked" stand for, the lowest
        first: names of rules. Empty without a review.
        """
    def join(self, /, parts: Iterable[StreamPart]) -> StreamResult:
        """
        What the parts of this sweep gathered, in whatever order they come, as one: what `stream` would have kept, bit
        for bit. Rows that no part has, or two, are refused.
        """
    def outcome(self, /, row: SupportsIndex) -> Answer | Conflict:
        """
        What a row comes to: an Answer, or the Conflict.
        """
    def parts(self, /, count: SupportsIndex) -> list[SweepPart]:
        """
        The sweep in so many parts of consecutive rows, as even as may be: fewer where there are fewer rows.
        `count` is how many.
        """
    def pick(self, /, rows: "Iterable[int]") -> SweepTable:
        """
        Some rows worked out and kept.
        """
    @property
    def size_in_bytes(self, /) -> int:
        """
        How many bytes its table takes.
        """
    def stream(self, /, *, only: Iterable[tuple[str | Measure, Comparison, SupportsFloat | str]] | None = None, without: str | Iterable[str] | None = None, best: tuple[SupportsIndex, str | Measure] | None = None, maximise_best: bool = False, minimise: "str | Measure | Iterable[str | Measure] | None" = None, maximise: "str | Measure | Iterable[str | Measure] | None" = None, histograms: "Mapping[str | Measure, tuple[float, float, int]] | None" = None, summaries: "str | Measure | Iterable[str | Measure] | None" = None, progress: bool | Callable[[int, int], object] | None = None) -> StreamResult:
        """
        Every row worked out, and kept of it in constant memory: how many there are, the `best` rows by a column, the
        Pareto front of columns to `minimise` and to `maximise`, histograms by column as (from, to, bins), and summaries
        along every axis. Columns are named, or are measures. `only` keeps rows that meet all its comparisons, as
        ("water", "<", 9), each with the float nearest to its number; rows without formula are never kept. Of rows that
        tie on the front, the earliest is kept. `without` keeps rows of which these columns of a review say nothing, such
        as "findings.certain". `progress` is True for a bar, or called with rows done and rows in all.

        >>> brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
        >>> brief = brief.target(td.measure.active_matter, 50).at_most(td.measure.water, 30)
        >>> sweep = td.Sweep(brief, td.axis("wash.capb-30", range(1, 15)))
        >>> seen = sweep.stream(only=[(td.measure.water, "<", 9)], best=(2, "line.capb-30"), maximise_best=True)
        >>> seen.rows, seen.kept, [kept.row for kept in seen.best]
        (14, 1, [0])
        """
    def table(self, /, *, progress: bool | Callable[[int, int], object] | None = None, max_gib: SupportsIndex | None = None) -> SweepTable:
        """
        Every row worked out and kept. A table of more than `max_gib` GiB (8) is refused. `progress` is True for a bar,
        if tqdm is there, or is called with rows done and rows in all. A sweep that is kept works its next table out in
        the memory of the last, once nobody needs that any more, which takes less time.
        """
    @property
    def units(self, /) -> list[str]:
        """
        The units of its columns; empty if there is none.
        """
    @property
    def use_levels_legend(self, /) -> list[str]:
        """
        What the bits of the column "use-levels" stand for, the lowest first. Empty without a review.
        """

@final
class SweepHistogram:
    """
    How many rows fall into each bin of a column.
    """
    def __copy__(self, /) -> SweepHistogram: ...
    def __deepcopy__(self, memo: Any, /) -> SweepHistogram: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, column: str, edges: SupportsGetItem[int, SupportsFloat | SupportsIndex], counts: SupportsGetItem[int, SupportsIndex], below: SupportsIndex, above: SupportsIndex) -> SweepHistogram: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, SweepHistogram], page: Page | None) -> Table[Any]: ...
    @property
    def above(self, /) -> int:
        """
        Rows above the last edge.
        """
    @property
    def below(self, /) -> int:
        """
        Rows below the first edge.
        """
    @property
    def column(self, /) -> str:
        """
        The column.
        """
    @property
    def counts(self, /) -> list[int]:
        """
        Rows in each bin; one on an edge counts in the bin above, one on the last in the last.
        """
    @property
    def edges(self, /) -> list[float]:
        """
        The edges of the bins, one more than bins.
        """

@final
class SweepPart:
    """
    Consecutive rows of a sweep: a piece of work of its own that can be pickled, does not know of the other parts, and
    comes to the same numbers wherever and whenever it is done. `Sweep.parts` makes them; `tenside.cluster` sends them
    to other machines. It ends before the row `end`.

    >>> brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
    >>> sweep = td.Sweep(brief.target(td.measure.active_matter, 50), td.axis("wash.capb-30", range(1, 11)))
    >>> first, second = sweep.parts(2)
    >>> first.rows, second.rows
    (range(0, 5), range(5, 10))
    >>> second.table().column("line.kaolin") == sweep.table().column("line.kaolin")[5:]
    True
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __getnewargs__(self, /) -> tuple[Sweep, int, int]: ...
    def __len__(self, /) -> int:
        """
        How many rows.
        """
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, sweep: Sweep, first: SupportsIndex, end: SupportsIndex) -> SweepPart:
        """
        The rows from `first` to before `end`.
        """
    def __repr__(self, /) -> str: ...
    def _restored(self, /, numbers: tuple[Any, ...], *, only: Iterable[tuple[str | Measure, Comparison, SupportsFloat | str]] | None = None, without: str | Iterable[str] | None = None, best: tuple[SupportsIndex, str | Measure] | None = None, maximise_best: bool = False, minimise: "str | Measure | Iterable[str | Measure] | None" = None, maximise: "str | Measure | Iterable[str | Measure] | None" = None, histograms: "Mapping[str | Measure, tuple[float, float, int]] | None" = None, summaries: "str | Measure | Iterable[str | Measure] | None" = None, progress: bool | Callable[[int, int], object] | None = None) -> StreamPart:
        """
        What was gathered of it, when it comes back from a pickle.
        """
    @property
    def rows(self, /) -> Any:
        """
        Which rows of the sweep these are.
        """
    def stream(self, /, *, only: Iterable[tuple[str | Measure, Comparison, SupportsFloat | str]] | None = None, without: str | Iterable[str] | None = None, best: tuple[SupportsIndex, str | Measure] | None = None, maximise_best: bool = False, minimise: "str | Measure | Iterable[str | Measure] | None" = None, maximise: "str | Measure | Iterable[str | Measure] | None" = None, histograms: "Mapping[str | Measure, tuple[float, float, int]] | None" = None, summaries: "str | Measure | Iterable[str | Measure] | None" = None, progress: bool | Callable[[int, int], object] | None = None) -> StreamPart:
        """
        What `Sweep.stream` keeps, of these rows alone; `Sweep.join` puts the parts together. `only`, `without`, `best`,
        `maximise_best`, `minimise`, `maximise`, `histograms`, `summaries` and `progress` are those of `Sweep.stream`.

        >>> brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
        >>> sweep = td.Sweep(brief.target(td.measure.active_matter, 50), td.axis("wash.capb-30", range(1, 11)), measures=[td.measure.water])
        >>> parts = [part.stream(best=(1, td.measure.water)) for part in sweep.parts(3)]
        >>> sweep.join(parts) == sweep.stream(best=(1, td.measure.water))
        True
        """
    @property
    def sweep(self, /) -> Sweep:
        """
        The sweep.
        """
    def table(self, /, *, progress: bool | Callable[[int, int], object] | None = None, max_gib: SupportsIndex | None = None) -> SweepTable:
        """
        The rows worked out and kept, as `Sweep.table` does. `progress` is True for a bar, or called with rows done and
        rows in all; `max_gib` is how much memory the table may take.
        """

@final
class SweepTable:
    """
    Formulas by the row, what is known of them by the column. Its names, units and codes are those of the sweep. Any
    library that takes Arrow takes it without a copy: `polars.DataFrame(table)`, `pyarrow.table(table)`, DuckDB by the
    name of the variable.

    >>> brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
    >>> table = brief.target(td.measure.active_matter, 50).sweep(td.axis("wash.capb-30", [1, 2, 3]))
    >>> table.column("line.kaolin")
    [33.333333333333336, 27.083333333333332, 21.568627450980394]
    """
    def __arrow_c_schema__(self, /) -> "object":
        """
        The Arrow C schema of its columns.
        """
    def __arrow_c_stream__(self, /, requested_schema: "object | None" = None) -> "object":
        """
        The Arrow C stream of its columns: one record batch. A schema that is asked for is not converted to.
        """
    def __len__(self, /) -> int:
        """
        How many rows.
        """
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    def answer(self, /, index: SupportsIndex) -> Answer:
        """
        The exact answer of a row, with its proof and grid formula; raises Unanswerable if there is none.
        `index` is the row's, from 0.
        """
    def bands(self, /, columns: "Iterable[str | Measure]", *, groups: SupportsIndex = 3, ax: "Any" = None) -> "Any":
        """
        Bands across parallel scales, one a column: the rows in as many groups by the first column. Gives the matplotlib
        axes. Needs the extra `plot`; see `tenside.plot.bands`. `columns` are two or more, named or a measure's; `ax` is
        the picture's place, a new one unless given.
        """
    def best(self, /, count: SupportsIndex = 5, *, minimise: "str | Measure | None" = None, maximise: "str | Measure | None" = None) -> SweepTable:
        """
        The best rows by one column, the best first; rows without a formula are none of them.
        `count` is how many; the column is named by `minimise` or `maximise`.

        >>> brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
        >>> table = brief.target(td.measure.active_matter, 50).sweep(td.axis("wash.capb-30", [1, 2, 3]))
        >>> table.best(1, minimise="line.kaolin").column("axis.wash.capb-30")
        [3.0]
        """
    def brief(self, /, index: SupportsIndex) -> Brief:
        """
        The brief of a row.
        `index` is the row's, from 0.
        """
    def column(self, /, column: "str | Measure") -> list[Any]:
        """
        The cells of a column, named or a measure's; None if there is nothing.
        """
    def column_name(self, /, column: "str | Measure") -> str:
        """
        The name of a column that is named or a measure's.
        """
    @property
    def columns(self, /) -> list[str]:
        """
        The names of its columns.
        """
    def filter(self, /, column: "str | Measure", *, at_least: SupportsFloat | str | None = None, at_most: SupportsFloat | str | None = None, equal: "bool | SupportsFloat | str | None" = None) -> SweepTable:
        """
        The rows in which a column has at least, at most or exactly so much; rows in which it has nothing are left out.
        They are named by `at_least`, `at_most` and `equal`; of the first two the nearest float counts, as in a stream.

        >>> brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
        >>> table = brief.target(td.measure.active_matter, 50).sweep(td.axis("wash.capb-30", [1, 2, 3]))
        >>> table.filter("line.kaolin", at_least=25).rows, table.filter("feasible", equal=False).rows
        ([0, 1], [])
        """
    @property
    def front_of(self, /) -> tuple[list[str], list[str]]:
        """
        What these rows are the front of, as columns to minimise and to maximise; both empty if they are none.
        """
    def outcome(self, /, index: SupportsIndex) -> Answer | Conflict:
        """
        What a row comes to: an Answer, or the Conflict.
        `index` is the row's, from 0.
        """
    def pareto(self, /, *, minimise: "str | Measure | Iterable[str | Measure] | None" = None, maximise: "str | Measure | Iterable[str | Measure] | None" = None) -> SweepTable:
        """
        The rows that no other row is as good as in every one of these columns and better in one.
        Better is less in the columns of `minimise`, more in those of `maximise`.
        """
    def plot(self, /, *, among: "SweepTable | None" = None, ax: "Any" = None) -> "Any":
        """
        A picture of a front by two columns, over the rows of the table that it is the front of if that is given as
        `among`; gives the matplotlib axes. Needs the extra `plot`; see `tenside.plot.front`. `ax` is the picture's
        place, a new one unless given.
        """
    def read_binding(self, /, code: SupportsIndex) -> list[str]:
        """
        What a code of the column "binding" says.
        """
    def read_conflict(self, /, code: SupportsIndex) -> list[str]:
        """
        What a code of the column "conflict" says.
        """
    def read_findings(self, /, code: SupportsIndex) -> list[str]:
        """
        The names of the rules in a code of the columns "findings", "findings.certain" and "findings.unchecked". Raises
        Missing where no review was asked for.
        """
    def read_use_levels(self, /, code: SupportsIndex) -> list[str]:
        """
        What a code of the column "use-levels" says. Raises Missing where no review was asked for.
        """
    def row(self, /, index: SupportsIndex) -> dict[str, Any]:
        """
        A row as cells by column.
        `index` is the row's, from 0.
        """
    @property
    def rows(self, /) -> list[int]:
        """
        Which rows of the sweep these are.
        """
    def sort(self, /, column: "str | Measure", *, descending: bool = False) -> SweepTable:
        """
        The rows by a column, from its lowest value up; rows in which it has nothing come last, rows in which it is
        equal as they stood.

        >>> brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
        >>> table = brief.target(td.measure.active_matter, 50).sweep(td.axis("wash.capb-30", [1, 2, 3]))
        >>> table.sort("line.kaolin").rows, table.sort("line.kaolin", descending=True).rows
        ([2, 1, 0], [0, 1, 2])
        """
    @property
    def sweep(self, /) -> Sweep:
        """
        The sweep.
        """
    def ternary(self, /, column: "str | Measure", *, split: "str | None" = None, at: "Mapping[str, float | str] | None" = None, ax: "Any" = None) -> "Any":
        """
        A map of a column over three surfactants that share a split, by the lattice axis of the sweep; gives the
        matplotlib axes. Needs the extra `plot`; see `tenside.plot.ternary`. `at` states the values of the other axes;
        `ax` is the picture's place, a new one unless given.
        """
    def to_pandas(self, /) -> "Any":
        """
        As a pandas data frame through pyarrow, its columns backed by Arrow.
        """
    def to_polars(self, /) -> "Any":
        """
        As a polars data frame.
        """
    def to_pyarrow(self, /) -> "Any":
        """
        As a pyarrow table.
        """
    def write_csv(self, /, path: str | bytes | PathLike[str] | PathLike[bytes]) -> None:
        """
        Writes a CSV file by pyarrow or polars, whole or not at all.
        `path` is the file's.
        """
    def write_parquet(self, /, path: str | bytes | PathLike[str] | PathLike[bytes]) -> None:
        """
        Writes a Parquet file by pyarrow or polars, whole or not at all.
        `path` is the file's.
        """

@final
class Table(Generic[_Row]):
    """
    Records by the row: an index gives one, a notebook shows them all, and any library that takes Arrow takes their
    fields as columns: `polars.DataFrame(table)`, `pyarrow.table(table)`, DuckDB by the name of the variable. Exact
    numbers become the nearest doubles there; of an interval, `percent` is the typical value beside `percent.low` and
    `percent.high`.

    >>> cat = td.Catalogue.starter()
    >>> rows = td.Formula("Half and half", {"sci-powder": 50, "kaolin": 50}, cat).expand()
    >>> rows[0].inci, len(rows) > 2
    ('KAOLIN', True)
    >>> rows.columns
    ['inci', 'percent', 'percent.low', 'percent.high', 'lines', 'declaration']
    >>> rows.column("percent")[0]
    50.0
    """
    def __arrow_c_schema__(self, /) -> "object":
        """
        The Arrow C schema of its columns.
        """
    def __arrow_c_stream__(self, /, requested_schema: "object | None" = None) -> "object":
        """
        The Arrow C stream of its columns: one record batch. A schema that is asked for is not converted to.
        """
    def __copy__(self, /) -> Table[Any]: ...
    def __deepcopy__(self, memo: Any, /) -> Table[Any]: ...
    def __eq__(self, other: object, /) -> bool:
        """
        Equal to a table, list or tuple of equal rows.
        """
    @overload
    def __getitem__(self, index: slice, /) -> Table[_Row]: ...
    @overload
    def __getitem__(self, index: SupportsIndex, /) -> _Row:
        """
        A row, or the table of the rows of a slice.
        """
    def __hash__(self, /) -> int: ...
    def __iter__(self, /) -> Iterator[_Row]: ...
    def __class_getitem__(cls, key: Any) -> GenericAlias: ...
    def __len__(self, /) -> int: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    def column(self, /, name: str) -> list[Any]:
        """
        The cells of a column; None if there is nothing.
        `name` is one of `columns`.
        """
    @property
    def columns(self, /) -> list[str]:
        """
        The names of its columns: the fields of its rows, one of a record inside a record as `constraint.name`.
        """
    @property
    def page(self, /) -> Page:
        """
        The page that is shown.
        """
    def to_pandas(self, /) -> "Any":
        """
        As a pandas data frame through pyarrow, its columns backed by Arrow.
        """
    def to_polars(self, /) -> "Any":
        """
        As a polars data frame.
        """
    def to_pyarrow(self, /) -> "Any":
        """
        As a pyarrow table.
        """

@final
class TableFault:
    """
    Something wrong with a table.
    """
    def __copy__(self, /) -> TableFault: ...
    def __deepcopy__(self, memo: Any, /) -> TableFault: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, line: SupportsIndex | None, column: SupportsIndex | None, place: str, message: str, value: str | None, allowed: str | None, remedy: str | None) -> TableFault: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, TableFault], page: Page | None) -> Table[Any]: ...
    @property
    def allowed(self, /) -> str | None:
        """
        What is allowed.
        """
    @property
    def column(self, /) -> int | None:
        """
        The number of the cell in its line, from 1.
        """
    @property
    def line(self, /) -> int | None:
        """
        The line, from 1; the headings are line 1.
        """
    @property
    def message(self, /) -> str:
        """
        What is wrong.
        """
    @property
    def place(self, /) -> str:
        """
        Where, in words.
        """
    @property
    def remedy(self, /) -> str | None:
        """
        The way out.
        """
    @property
    def value(self, /) -> str | None:
        """
        What was found.
        """

@final
class TargetFill:
    """
    The mean to fill to, so that a batch of `bars` is accepted at least with the chosen `probability` in percent, and
    drying leaves the nominal content on average, given the standard deviation of bars as they are weighed and what they
    lose on drying after that, percent. Masses in grams.

    >>> target = td.batch.TargetFill("60 g", market="EU", bars=240, standard_deviation="0.8 g", probability=99, drying_loss=4)
    >>> float(target.fill), round(target.rates.net, 2)
    (62.5, 60.0)
    >>> target.at(62.3).at_least < 0.99 <= target.rates.at_least
    True
    """
    def __copy__(self, /) -> TargetFill: ...
    def __deepcopy__(self, memo: Any, /) -> TargetFill: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, nominal: str, *, market: Market, bars: SupportsIndex, standard_deviation: str, probability: SupportsFloat | str, drying_loss: SupportsFloat | str | None = None) -> TargetFill: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    def at(self, /, fill: SupportsFloat | str) -> AcceptRates:
        """
        How often batches filled to another mean, `fill`, are accepted; grams before drying.

        >>> target = td.batch.TargetFill("60 g", market="US", bars=240, standard_deviation="0.8 g", probability=99)
        >>> round(target.at(60).mean, 3)
        0.975
        """
    @property
    def bars(self, /) -> int:
        """
        How many bars a batch has.
        """
    def curve(self, /, points: SupportsIndex = 41) -> Table[AcceptRates]:
        """
        The operating curve: the rates at so many `points`, evenly from where hardly any batch can be accepted to where
        hardly any is not.

        >>> target = td.batch.TargetFill("60 g", market="EU", bars=240, standard_deviation="0.8 g", probability=99)
        >>> curve = target.curve(5)
        >>> len(curve), curve[0].at_most < 0.01, curve[4].at_least > 0.99
        (5, True, True)
        """
    @property
    def drying_loss(self, /) -> Fraction:
        """
        What the bars lose on drying after they are weighed, percent.
        """
    @property
    def fill(self, /) -> Fraction:
        """
        The mean to fill to, before drying: the least hundredth of a gram that will do.
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> TargetFill:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> TargetFill:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    @property
    def market(self, /) -> Market:
        """
        The market.
        """
    @property
    def nominal(self, /) -> Fraction:
        """
        The nominal content.
        """
    @property
    def notes(self, /) -> list[str]:
        """
        What to know about it.
        """
    @property
    def page(self, /) -> Page:
        """
        The fill and its rates on one page.
        """
    @property
    def probability(self, /) -> Fraction:
        """
        The probability with which a batch is to be accepted, percent.
        """
    @property
    def rates(self, /) -> AcceptRates:
        """
        How often batches filled so are accepted.
        """
    @property
    def sources(self, /) -> list[str]:
        """
        Where plan and tolerable shortfall come from.
        """
    @property
    def standard_deviation(self, /) -> Fraction:
        """
        The standard deviation of bars as they are weighed.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """

@final
class TestResult:
    """
    A test with its readings.
    """
    def __copy__(self, /) -> TestResult: ...
    def __deepcopy__(self, memo: Any, /) -> TestResult: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, test: str, limits: str, values: SupportsGetItem[int, SupportsFloat | str], outcome: ReadingOutcome) -> TestResult: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, TestResult], page: Page | None) -> Table[Any]: ...
    @property
    def limits(self, /) -> str:
        """
        Its limits in words.
        """
    @property
    def outcome(self, /) -> ReadingOutcome:
        """
        "within", "outside", "not-measured", of which nothing is known, or "no-limit", where there is none that the
        readings could keep.
        """
    @property
    def test(self, /) -> str:
        """
        The test.
        """
    @property
    def values(self, /) -> list[Fraction]:
        """
        The readings, in the order recorded.
        """

@final
class Titration:
    """
    A trial titration: to a sample of the product, dispersed at one dilution, so much of one raw material was added in
    all, and the pH read. An `effect` ("lowers" or "raises") is stated for a raw material of which nothing is known
    here. `uncertainty` is how far a pH may be off.

    >>> acid = td.Catalogue.starter().material("citric-acid-50")
    >>> points = [("0 g", 7.9), ("0.2 g", 6.8), ("0.4 g", 5.9), ("0.6 g", 5.2), ("0.8 g", 4.7)]
    >>> trial = td.ph.Titration(points, sample="100 g", reagent=acid, dilution="1+9")
    >>> print(trial.grams_at(5.5))
    0.51 (0.40 to 0.60)
    """
    def __copy__(self, /) -> Titration: ...
    def __deepcopy__(self, memo: Any, /) -> Titration: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, points: Iterable[tuple[str, SupportsFloat | str]], *, sample: str, reagent: Material, dilution: str, uncertainty: SupportsFloat | str | None = None, effect: Effect | None = None) -> Titration: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    def adjust(self, /, batch: str, reading: Reading, *, target: tuple[SupportsFloat | str, SupportsFloat | str] | SupportsFloat | str) -> Adjustment:
        """
        How a batch is brought from a measured pH to a target, or by the least dose into a range of it: to the end that
        is nearer, and with nothing from inside. `reading` is the pH read in the batch, `target` a pH or a pair of them.

        >>> acid = td.Catalogue.starter().material("citric-acid-50")
        >>> trial = td.ph.Titration([("0 g", 8), ("1 g", 6), ("2 g", 5)], sample="100 g", reagent=acid, dilution="1+9")
        >>> print(trial.adjust("2 kg", td.Reading(8, dilution="1+9"), target=5.5).remaining())
        28.81 (20.00 to 40.00)
        >>> plan = trial.adjust("2 kg", td.Reading(8, dilution="1+9"), target=(5.2, 5.5))
        >>> plan.target, plan.range
        (Decimal('5.5'), (Decimal('5.2'), Decimal('5.5')))
        """
    @property
    def dilution(self, /) -> str:
        """
        How the sample was dispersed, by mass.
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> Titration:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> Titration:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    def grams_at(self, /, ph: SupportsFloat | str) -> Interval:
        """
        The grams, for the sample, at which it has that pH: by monotone interpolation, between the points that are
        surely before and past it. `ph` is that pH.
        """
    @property
    def is_calculated(self, /) -> bool:
        """
        True if the points were calculated by the model and not read.
        """
    @property
    def points(self, /) -> list[tuple[Fraction, Decimal]]:
        """
        Grams added in all and the pH then read.
        """
    @property
    def reagent(self, /) -> Material:
        """
        What was added.
        """
    @property
    def sample(self, /) -> Fraction:
        """
        Grams of product titrated.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    @property
    def uncertainty(self, /) -> Decimal:
        """
        What a reading may be off by, in pH.
        """

@final
class TrialLog:
    """
    Test batches as they were made, and what was measured on them. `title` is what the trial is called, `responses` are
    what is measured, units by name or each as a response, `runs` the batches, all of the same lines. As an Arrow table
    it has one row a run.

    >>> runs = [td.trial.TrialRun(str(kaolin), {"sci-powder": 100 - kaolin, "kaolin": kaolin}, {"hardness": newtons}) for kaolin, newtons in [(30, 41), (40, 44)]]
    >>> log = td.trial.TrialLog("Kaolin", {"hardness": "N"}, runs)
    >>> print(log.to_csv().splitlines()[1])
    30,70,30,41
    >>> td.trial.TrialLog.from_csv("Kaolin", log.to_csv()) == log
    True
    >>> td.trial.TrialLog("Kaolin", {"foam": "mm"}, runs[:1])
    Traceback (most recent call last):
    ...
    tenside.errors.UnknownName: run "30": unknown measured property (found "hardness")
    """
    def __arrow_c_schema__(self, /) -> "object":
        """
        The Arrow C schema of its columns.
        """
    def __arrow_c_stream__(self, /, requested_schema: "object | None" = None) -> "object":
        """
        The Arrow C stream of its columns: one record batch. A schema that is asked for is not converted to.
        """
    def __copy__(self, /) -> TrialLog: ...
    def __deepcopy__(self, memo: Any, /) -> TrialLog: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, title: str, responses: Mapping[str, ResultUnit] | Iterable[Response], runs: Iterable[TrialRun]) -> TrialLog: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    def best_model(self, /, response: str, *, criterion: Criterion | None = None, components: str | Iterable[str] | None = None, process: dict[str, tuple[str, SupportsFloat | str, SupportsFloat | str]] | None = None, order: ProcessOrder | None = None, crossing: Crossing | None = None, whole_plot_ratio: SupportsFloat | str | None = None) -> ModelChoice:
        """
        Fits every polynomial to the results of a property, `response`, and takes the one with the least `criterion`,
        AICc unless it says otherwise; those with terms that the design does not tell apart are left out. The other
        keywords are those of `fit`: `components`, `process`, `order`, `crossing`, `whole_plot_ratio`.

        >>> results = enumerate([(0, 9), (0, 10), (50, 15), (50, 16), (100, 11), (100, 12)])
        >>> runs = [td.trial.TrialRun(str(n), {"sci-powder": 100 - k, "kaolin": k}, {"hardness": y}) for n, (k, y) in results]
        >>> choice = td.trial.TrialLog("Kaolin", {"hardness": "N"}, runs).best_model("hardness", criterion="PRESS")
        >>> choice.best.model
        'quadratic'
        """
    def fit(self, /, response: str, *, model: Blend | None = None, components: str | Iterable[str] | None = None, process: dict[str, tuple[str, SupportsFloat | str, SupportsFloat | str]] | None = None, order: ProcessOrder | None = None, crossing: Crossing | None = None, whole_plot_ratio: SupportsFloat | str | None = None) -> FittedModel:
        """
        Fits a `model` to the results of a property, `response`: least squares over the runs that have one, by what was
        in the bowl.

        `components` are the lines that were varied, by default those that differ between runs by more than 0.5 % w/w;
        the fraction of each is its percentage over that of all of them. `process` are process variables by name, each
        with its unit and the range in which it was varied, followed to this `order` and added to the mixture's terms
        or, by `crossing`, times each of them.

        `whole_plot_ratio` says that runs of one whole plot share a departure, of so many times the variance of a run:
        the fit is by generalised least squares, so that less is known of what is only changed between whole plots. 1
        where nothing is known of it (common practice, no source).

        >>> runs = [td.trial.TrialRun(str(n), {"sci-powder": 100 - k, "kaolin": k}, {"hardness": 40}) for n, k in enumerate([30, 40, 50])]
        >>> td.trial.TrialLog("Kaolin", {"hardness": "N"}, runs).fit("hardness", model="linear")
        Traceback (most recent call last):
        ...
        tenside.errors.Contradiction: hardness: every run has the same result: there is nothing to fit (found 40); read the instrument to more digits, or vary the blends more
        """
    @classmethod
    def from_csv(cls, /, title: str, text: str, *, responses: Mapping[str, ResultUnit] | Iterable[Response] | None = None, delimiter: Delimiter | None = None, decimal_comma: bool = False) -> TrialLog:
        """
        A log from CSV `text` with a header row: `run`; `blend` and `whole plot`, if wanted; `line.kaolin` for the
        percentage of each line; `setting.press force` for each process setting; and one column a property, headed by
        its name and unit: `hardness, N`. An empty cell is a missing value. `responses` say units, scales and methods
        that do not stand in the header; the `delimiter` is found from it; `decimal_comma` is for decimals written 84,5;
        `title` is what the trial is called.

        >>> log = td.trial.TrialLog.from_csv("Kaolin", "run;line.sci-powder;line.kaolin;hardness, N\\n1;70;30;41,5\\n2;60;40;\\n", decimal_comma=True)
        >>> [run.results for run in log.runs]
        [{'hardness': Fraction(83, 2)}, {}]
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> TrialLog:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_table(cls, /, title: str, table: Any, *, responses: Mapping[str, ResultUnit] | Iterable[Response] | None = None) -> TrialLog:
        """
        A log from a `table` of any kind, its columns headed as in `from_csv`: a mapping of columns, or a data frame or
        Arrow table (through pyarrow). None and not-a-number are missing values. `responses` and `title` as for
        `from_csv`.

        >>> columns = {"run": ["1", "2"], "line.sci-powder": [70, 60], "line.kaolin": [30, 40], "hardness, N": [41.5, None]}
        >>> td.trial.TrialLog.from_table("Kaolin", columns).runs[1].results
        {}
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> TrialLog:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    @property
    def lines(self, /) -> list[str]:
        """
        The lines of every run.
        """
    @property
    def page(self, /) -> Page:
        """
        The log as a page.
        """
    def ranks(self, /, response: str) -> RankSummary:
        """
        A property, `response`, by the ranks of its results, for panel scores and whatever has an order only.

        >>> runs = [td.trial.TrialRun(str(n), {"sci-powder": 100 - k, "kaolin": k}, {"slip": s}) for n, (k, s) in enumerate([(30, 2), (30, 3), (40, 4), (40, 5)])]
        >>> ranks = td.trial.TrialLog("Kaolin", {"slip": "score"}, runs).ranks("slip")
        >>> [blend.mean_rank for blend in ranks.blends], round(ranks.statistic, 3)
        ([3.5, 1.5], 2.4)
        """
    @property
    def responses(self, /) -> list[Response]:
        """
        What is measured.
        """
    @property
    def runs(self, /) -> list[TrialRun]:
        """
        The batches.
        """
    @property
    def settings(self, /) -> list[str]:
        """
        The process settings of every run.
        """
    @property
    def title(self, /) -> str:
        """
        What the trial is called.
        """
    def to_csv(self, /) -> str:
        """
        The log as CSV, headed as `from_csv` reads it. Methods and scales of the properties do not stand in it;
        `to_json` has them.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_pandas(self, /) -> "Any":
        """
        As a pandas data frame through pyarrow, its columns backed by Arrow.
        """
    def to_polars(self, /) -> "Any":
        """
        As a polars data frame.
        """
    def to_pyarrow(self, /) -> "Any":
        """
        As a pyarrow table.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    @property
    def varied(self, /) -> list[str]:
        """
        The lines that differ between runs by more than 0.5 % w/w: the components of a model where nobody names them.
        """
    def with_runs(self, /, runs: Iterable[TrialRun]) -> TrialLog:
        """
        With further `runs`, as they come off the bench.

        >>> log = td.trial.TrialLog("Kaolin", {"hardness": "N"}, [td.trial.TrialRun("1", {"sci-powder": 70, "kaolin": 30}, {"hardness": 41})])
        >>> len(log.with_runs([td.trial.TrialRun("2", {"sci-powder": 60, "kaolin": 40})]).runs)
        2
        """

@final
class TrialRun:
    """
    One test batch. `made` is the formula as it was made, not as it was planned, or its percentages by line; `results`
    are by property and `settings` by process variable, both in their units. Runs of one `blend` were planned alike and
    tell the error of making and measuring; between those of one `whole_plot` nothing of the process was changed, so
    that they share what went wrong with it. `name` is what the run is called.

    >>> run = td.trial.TrialRun("1", {"sci-powder": 70, "kaolin": 30}, {"hardness": "41.5"})
    >>> run.results
    {'hardness': Fraction(83, 2)}
    """
    def __copy__(self, /) -> TrialRun: ...
    def __deepcopy__(self, memo: Any, /) -> TrialRun: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, name: str, made: Formula | Mapping[str, SupportsFloat | str], results: Mapping[str, SupportsFloat | str] | None = None, *, settings: Mapping[str, SupportsFloat | str] | None = None, blend: str | None = None, whole_plot: str | None = None) -> TrialRun: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @property
    def blend(self, /) -> str | None:
        """
        The blend that it repeats, if stated.
        """
    @property
    def made(self, /) -> dict[str, Fraction]:
        """
        What it was made of: percentages by line.
        """
    @property
    def name(self, /) -> str:
        """
        What it is called.
        """
    @property
    def results(self, /) -> dict[str, Fraction]:
        """
        What was measured.
        """
    @property
    def settings(self, /) -> dict[str, Fraction]:
        """
        How it was made.
        """
    @property
    def whole_plot(self, /) -> str | None:
        """
        The whole plot that it is in, if stated.
        """

@final
class Unchecked:
    """
    Something a review could not check.
    """
    def __copy__(self, /) -> Unchecked: ...
    def __deepcopy__(self, memo: Any, /) -> Unchecked: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, slug: str, lines: SupportsGetItem[int, str], sentence: str) -> Unchecked: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Unchecked], page: Page | None) -> Table[Any]: ...
    @property
    def lines(self, /) -> list[str]:
        """
        The lines it could not be asked of; empty if it is the rule as a whole.
        """
    @property
    def sentence(self, /) -> str:
        """
        What and why.
        """
    @property
    def slug(self, /) -> str:
        """
        The rule's stable name.
        """

@final
class Undissociated:
    """
    An acid preservative at a reading.
    """
    def __copy__(self, /) -> Undissociated: ...
    def __deepcopy__(self, memo: Any, /) -> Undissociated: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, acid: str, brought_by: SupportsGetItem[int, str], total: Interval, fraction: SupportsFloat | SupportsIndex, at_most: Interval, threshold: Decimal | None, standing: Standing | None) -> Undissociated: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Undissociated], page: Page | None) -> Table[Any]: ...
    @property
    def acid(self, /) -> str:
        """
        The acid.
        """
    @property
    def at_most(self, /) -> Interval:
        """
        The undissociated acid, percent of the product as charged: an upper bound of what can act.
        """
    @property
    def brought_by(self, /) -> list[str]:
        """
        The substances that bring it, by INCI name.
        """
    @property
    def fraction(self, /) -> float:
        """
        The undissociated share of it, 0 to 1.
        """
    @property
    def standing(self, /) -> Standing | None:
        """
        How the upper bound stands to the threshold; None without one.
        """
    @property
    def threshold(self, /) -> Decimal | None:
        """
        The threshold that was set for it.
        """
    @property
    def total(self, /) -> Interval:
        """
        All of it, as acid, percent of the product as charged.
        """

@final
class Unmet:
    """
    No formula on the steps, or with the choices; a table in a notebook.

    >>> brief = td.Brief("Plain bar", td.Catalogue.starter()).between("sci-powder", 30, 70).fix("citric-acid-50", "0.3").qs("kaolin")
    >>> unmet = brief.try_solve_rounded(0.5)
    >>> unmet.requirements, str(unmet.finer_step)
    (['line citric-acid-50, fixed at 0.3 %'], '1/10')
    """
    def __copy__(self, /) -> Unmet: ...
    def __deepcopy__(self, memo: Any, /) -> Unmet: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Brief, Steps | None, int]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, brief: Brief, steps: Steps | None, nodes: SupportsIndex) -> Unmet:
        """
        What forbids a formula of a brief, when it comes back from a pickle: on steps, or with its choices in up to so
        many programs.
        """
    def _repr_html_(self, /) -> str: ...
    @property
    def brief(self, /) -> Brief:
        """
        The brief.
        """
    @property
    def finer_lines(self, /) -> FinerLines | None:
        """
        Finer steps of a few lines that would do, where half a step's effect alone does not; together with it only where
        finer steps of all lines would not do either.
        """
    @property
    def finer_step(self, /) -> Fraction | None:
        """
        The coarsest of 0.5, 0.25, 0.1, 0.05 and 0.01 % with which a formula was found.
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> Unmet:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> Unmet:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    @property
    def is_answerable_without(self, /) -> bool:
        """
        True if the brief has a formula without steps and with every dose down to 0 allowed.
        """
    @property
    def is_irreducible(self, /) -> bool:
        """
        True if leaving out any one of the requirements named would do.
        """
    @property
    def is_proved(self, /) -> bool:
        """
        True if there is no such formula; False if the search was cut off before it found one.
        """
    @property
    def nodes(self, /) -> int:
        """
        How many linear programs the search solved.
        """
    def page(self, /) -> Page:
        """
        What forbids a formula, and what would do.
        """
    @property
    def remedy(self, /) -> str:
        """
        The way out, in words.
        """
    @property
    def requirements(self, /) -> list[str]:
        """
        What forbids a formula together, in the words of the brief; empty if the search was cut off, and where the steps
        alone cannot sum to 100 %.
        """
    @property
    def sentence(self, /) -> str:
        """
        One sentence that says what is in the way and what would do.
        """
    @property
    def steps(self, /) -> Steps | None:
        """
        The steps; None if only choices were to be made.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def verify(self, /) -> bool:
        """
        Checks without searching that there is no such formula: True, or Contradiction is raised, also where the search
        was cut off.
        """
    @property
    def would_do_within_half_a_step(self, /) -> bool:
        """
        True if a formula was found with every split and target within half a step's effect.
        """

@final
class UseLevel:
    """
    A recommended use level, percent of the product as supplied.
    """
    def __copy__(self, /) -> UseLevel: ...
    def __deepcopy__(self, memo: Any, /) -> UseLevel: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, product_use: str, low: Decimal, high: Decimal, source: str) -> UseLevel: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, UseLevel], page: Page | None) -> Table[Any]: ...
    @property
    def high(self, /) -> Decimal:
        """
        The highest recommended percentage.
        """
    @property
    def low(self, /) -> Decimal:
        """
        The lowest recommended percentage.
        """
    @property
    def product_use(self, /) -> str:
        """
        The product use it applies to.
        """
    @property
    def source(self, /) -> str:
        """
        Who says so.
        """

@final
class UseUp:
    """
    How bars are used up. `weigh_ins` are by bar the washes so far and what the dry bar weighed; `net` is the net
    content of a new bar, `active` its active matter in percent, `price` what it costs in any currency.

    >>> used = td.batch.UseUp({"first": [(0, "60 g"), (10, "48 g")], "second": [(0, "60 g"), (10, "45 g")]}, net="60 g", active=50, price=6)
    >>> float(used.grams_a_wash), round(float(used.washes_a_bar), 1), float(used.active_a_wash), float(used.cost_a_wash)
    (1.35, 44.4, 0.675, 0.135)
    """
    def __copy__(self, /) -> UseUp: ...
    def __deepcopy__(self, memo: Any, /) -> UseUp: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, weigh_ins: dict[str, Iterable[tuple[SupportsIndex, str]]], *, net: str, active: SupportsFloat | str | None = None, price: SupportsFloat | str | None = None) -> UseUp: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def active(self, /) -> Fraction | None:
        """
        The active matter of the bar, percent, if stated.
        """
    @property
    def active_a_wash(self, /) -> Fraction | None:
        """
        Grams of active matter a wash, where its percentage is stated.
        """
    @property
    def bars(self, /) -> Table[BarUse]:
        """
        What a wash takes of each bar.
        """
    @property
    def cost_a_wash(self, /) -> Fraction | None:
        """
        What a wash costs, where the price of a bar is stated.
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> UseUp:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> UseUp:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    @property
    def grams_a_wash(self, /) -> Fraction:
        """
        Grams a wash: the mean over the bars.
        """
    def interval(self, /, confidence: SupportsFloat | str | None = None) -> tuple[float, float] | None:
        """
        Between which means of many bars the true one lies with so many percent of confidence, grams a wash; None of one
        bar. The low end is no less than 0; where it is 0, the scatter is too great for an interval.

        >>> used = td.batch.UseUp({"first": [(0, "60 g"), (10, "48 g")], "second": [(0, "60 g"), (10, "45 g")]}, net="60 g")
        >>> low, high = used.interval(90)
        >>> round(low, 2), round(high, 2)
        (0.4, 2.3)
        """
    @property
    def net(self, /) -> Fraction:
        """
        The net content of a new bar, grams.
        """
    @property
    def notes(self, /) -> list[str]:
        """
        What to know about it.
        """
    @property
    def page(self, /) -> Page:
        """
        Figures on one page.
        """
    @property
    def price(self, /) -> Fraction | None:
        """
        What a bar costs, if stated.
        """
    @property
    def standard_deviation(self, /) -> float | None:
        """
        The standard deviation between the bars, grams a wash; None of one bar.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    @property
    def washes_a_bar(self, /) -> Fraction:
        """
        How many washes a bar gives.
        """

@final
class VerifiedScale:
    """
    A verified scale: its `name`, its accuracy class `class_` ("I" to "IIII"), its verification `interval` e and its
    `largest` load, as its plate says.

    >>> bench = td.batch.VerifiedScale("bench", "II", interval="0.1 g", largest="3 kg")
    >>> bench.smallest, bench.error("100 g"), bench.error("1 g")
    (Fraction(5, 1), Fraction(1, 10), None)
    """
    def __copy__(self, /) -> VerifiedScale: ...
    def __deepcopy__(self, memo: Any, /) -> VerifiedScale: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __getnewargs_ex__(self, /) -> tuple[tuple[str, ScaleClass], dict[str, str]]: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, name: str, class_: ScaleClass, *, interval: str, largest: str) -> VerifiedScale: ...
    def __repr__(self, /) -> str: ...
    @property
    def class_(self, /) -> ScaleClass:
        """
        Its class.
        """
    def error(self, /, load: str) -> Fraction | None:
        """
        The most it may be off at a load in service, grams; None outside of what it weighs.

        >>> td.batch.VerifiedScale("kitchen", "III", interval="1 g", largest="3 kg").error("1500 g")
        Fraction(2, 1)
        """
    @property
    def interval(self, /) -> Fraction:
        """
        Its verification interval, grams.
        """
    @property
    def largest(self, /) -> Fraction:
        """
        Its largest load, grams.
        """
    @property
    def name(self, /) -> str:
        """
        Its name.
        """
    @property
    def smallest(self, /) -> Fraction:
        """
        Its minimum capacity, below which it is not used, grams.
        """

@final
class Weighable:
    """
    Which lines verified scales can weigh, each within so many percent of its own mass (`tolerance`), and how to dilute
    what is too small: with another of the lines, if one is large enough; in a batch, with one of its phase.

    >>> bench = td.batch.VerifiedScale("bench", "II", interval="0.1 g", largest="3 kg")
    >>> weighable = td.batch.Weighable({"kaolin": "600 g", "dye": "0.8 g"}, [bench], tolerance=2)
    >>> [(row.line, row.fits) for row in weighable.rows]
    [('kaolin', 'weighable'), ('dye', 'too-small')]
    >>> weighable.rows[1].dilution
    PreDilution(parts=9, material=Fraction(5, 1), carrier=Fraction(45, 1), portion=Fraction(8, 1))
    """
    def __arrow_c_schema__(self, /) -> "object":
        """
        The Arrow C schema of its columns.
        """
    def __arrow_c_stream__(self, /, requested_schema: "object | None" = None) -> "object":
        """
        The Arrow C stream of its columns: one record batch. A schema that is asked for is not converted to.
        """
    def __copy__(self, /) -> Weighable: ...
    def __deepcopy__(self, memo: Any, /) -> Weighable: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, lines: dict[str, str], scales: Iterable[VerifiedScale], *, tolerance: SupportsFloat | str) -> Weighable: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> Weighable:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> Weighable:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    @property
    def notes(self, /) -> list[str]:
        """
        What to know about it.
        """
    @property
    def page(self, /) -> Page:
        """
        Each line with its scale on one page, and the dilutions.
        """
    @property
    def rows(self, /) -> Table[WeighableLine]:
        """
        What the scales say of each line.
        """
    @property
    def scales(self, /) -> list[VerifiedScale]:
        """
        The scales.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_pandas(self, /) -> "Any":
        """
        As a pandas data frame through pyarrow, its columns backed by Arrow.
        """
    def to_polars(self, /) -> "Any":
        """
        As a polars data frame.
        """
    def to_pyarrow(self, /) -> "Any":
        """
        As a pyarrow table.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    @property
    def tolerance(self, /) -> Fraction:
        """
        The relative error asked for, percent of each line.
        """

@final
class WeighableLine:
    """
    What scales say of one line; masses in grams.
    """
    def __copy__(self, /) -> WeighableLine: ...
    def __deepcopy__(self, memo: Any, /) -> WeighableLine: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, line: str, mass: SupportsFloat | str, scale: str | None, error: SupportsFloat | str | None, fits: Fits, least: SupportsFloat | str | None, dilution: PreDilution | None) -> WeighableLine: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, WeighableLine], page: Page | None) -> Table[Any]: ...
    @property
    def dilution(self, /) -> PreDilution | None:
        """
        How to dilute it, where it is too small and another line of its phase is large enough for it.
        """
    @property
    def error(self, /) -> Fraction | None:
        """
        The most that scale may be off, if it takes it.
        """
    @property
    def fits(self, /) -> Fits:
        """
        Whether it can be weighed: "weighable", "too-small", "too-large".
        """
    @property
    def least(self, /) -> Fraction | None:
        """
        The smallest load that scale weighs within the error asked for.
        """
    @property
    def line(self, /) -> str:
        """
        The line.
        """
    @property
    def mass(self, /) -> Fraction:
        """
        What is to be weighed.
        """
    @property
    def scale(self, /) -> str | None:
        """
        The scale that weighs it best, if any takes it.
        """

@final
class Weighing:
    """
    A line to weigh; masses in grams.
    """
    def __copy__(self, /) -> Weighing: ...
    def __deepcopy__(self, memo: Any, /) -> Weighing: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, line: str, label: str, phase: str, division: SupportsFloat | str, exact: SupportsFloat | str, rounded: SupportsFloat | str, takes_rest: bool, error_percent: SupportsFloat | str) -> Weighing: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, Weighing], page: Page | None) -> Table[Any]: ...
    @property
    def division(self, /) -> Fraction:
        """
        What its scale counts in.
        """
    @property
    def error_percent(self, /) -> Fraction:
        """
        The rounding error in percent of the line.
        """
    @property
    def exact(self, /) -> Fraction:
        """
        What the percentage asks for.
        """
    @property
    def label(self, /) -> str:
        """
        The line as the sheet names it.
        """
    @property
    def line(self, /) -> str:
        """
        The line's name.
        """
    @property
    def phase(self, /) -> str:
        """
        Its phase.
        """
    @property
    def rounded(self, /) -> Fraction:
        """
        What is weighed: whole divisions.
        """
    @property
    def takes_rest(self, /) -> bool:
        """
        True for the line that takes the rounding rest of the others.
        """

@final
class WeightCheck:
    """
    One check of a test of weights.
    """
    def __copy__(self, /) -> WeightCheck: ...
    def __deepcopy__(self, memo: Any, /) -> WeightCheck: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any, ...]]: ...
    def __repr__(self, /) -> str: ...
    @classmethod
    def _of(cls, /, kind: CheckKind, packages: SupportsIndex, found: SupportsFloat | str, limit: SupportsFloat | SupportsIndex, is_met: bool | None) -> WeightCheck: ...
    @classmethod
    def _table(cls, /, rows: SupportsGetItem[int, WeightCheck], page: Page | None) -> Table[Any]: ...
    @property
    def found(self, /) -> Fraction:
        """
        The mean in grams, or how many packages were found.
        """
    @property
    def is_met(self, /) -> bool | None:
        """
        Whether it holds; None where too few were weighed to say so.
        """
    @property
    def kind(self, /) -> CheckKind:
        """
        What it looks at: "mean", "short" (bars that fall short by more than is tolerable), "far-short" (by more
        than twice of it).
        """
    @property
    def limit(self, /) -> float:
        """
        The least mean in grams, or the most packages.
        """
    @property
    def packages(self, /) -> int:
        """
        How many packages it looks at.
        """

@final
class WeightTest:
    """
    A test of net content. It rehearses the law's test; an inspector's own sample decides, by the rules in force where
    it is sold.

    >>> test = td.batch.Weights(["62 g", "61 g", "55.4 g", "62 g"], bars=4).test("60 g", market="EU")
    >>> test.outcome, [(check.kind, check.is_met) for check in test.checks]
    ('rejected', [('mean', True), ('short', False), ('far-short', True)])
    >>> test.plan
    'reference test of the average system: all 4 packages, of which 0 may be short'
    """
    def __copy__(self, /) -> WeightTest: ...
    def __deepcopy__(self, memo: Any, /) -> WeightTest: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def capability(self, /) -> tuple[float, float] | None:
        """
        By how many times three standard deviations the mean lies above T1, with its standard error; None where the bars
        show no spread.
        """
    @property
    def checks(self, /) -> Table[WeightCheck]:
        """
        The checks, the mean first.
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> WeightTest:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> WeightTest:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    @property
    def least_single(self, /) -> Fraction:
        """
        The mass below which a package is short, T1.
        """
    @property
    def market(self, /) -> Market:
        """
        The market.
        """
    @property
    def nominal(self, /) -> Fraction:
        """
        The content that the label states.
        """
    @property
    def notes(self, /) -> list[str]:
        """
        What to know about it.
        """
    @property
    def outcome(self, /) -> TestOutcome:
        """
        What it came to: "accepted", "rejected", "second-sample" (the first leaves it open), "no-test" (too few were
        weighed).
        """
    @property
    def page(self, /) -> Page:
        """
        Checks and outcome on one page.
        """
    @property
    def plan(self, /) -> str:
        """
        How many packages the test takes, and what it allows.
        """
    @property
    def sources(self, /) -> list[str]:
        """
        Where plan and tolerable shortfall come from.
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    @property
    def tolerable_shortfall(self, /) -> Fraction:
        """
        By how many grams one package may fall short: the tolerable negative error, or the maximum allowable variation.
        """
    @property
    def weights(self, /) -> Weights:
        """
        The weights.
        """

@final
class Weights:
    """
    Bars of one batch as they were weighed, without packaging: some, or all of the `bars` that the batch has.
    `drying_loss` is what they still lose after this weighing, percent; all but `masses` is of what that leaves, in
    grams.

    >>> weights = td.batch.Weights(["62.1 g", "61.8 g", "62.6 g", "62.0 g", "61.5 g", "62.3 g"], bars=6)
    >>> float(weights.mean), round(weights.standard_deviation, 3)
    (62.05, 0.383)
    >>> weights.test("60 g", market="EU").outcome
    'accepted'
    >>> td.batch.Weights(["60 g"])
    Traceback (most recent call last):
    ...
    tenside.errors.Missing: weights: one bar has no spread (found 1); allowed: two bars or more; weigh at least two bars of the batch, or read the single mass for itself
    """
    def __copy__(self, /) -> Weights: ...
    def __deepcopy__(self, memo: Any, /) -> Weights: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, masses: Iterable[str], *, bars: SupportsIndex | None = None, drying_loss: SupportsFloat | str | None = None) -> Weights: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def bars(self, /) -> int | None:
        """
        How many bars the batch has, if stated.
        """
    @property
    def drying_loss(self, /) -> Fraction:
        """
        What they still lose after this weighing, percent.
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> Weights:
        """
        Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
        starter catalogue. It is believed where asking its question again gives just what it says; else
        Contradiction says where it differs.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> Weights:
        """
        Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
        """
    @property
    def highest(self, /) -> Fraction:
        """
        The heaviest.
        """
    @property
    def is_whole(self, /) -> bool:
        """
        True if every bar of the batch was weighed.
        """
    @property
    def lowest(self, /) -> Fraction:
        """
        The lightest.
        """
    @property
    def masses(self, /) -> list[Fraction]:
        """
        The masses as they were weighed, in the order given.
        """
    @property
    def mean(self, /) -> Fraction:
        """
        Their mean.
        """
    def mean_interval(self, /, confidence: SupportsFloat | str | None = None) -> tuple[float, float]:
        """
        Between which means of the whole batch the true one lies with so many percent of confidence: Student's t, for
        weights that are normally distributed. Of a batch whose every bar was weighed the mean is known. The low end is
        no less than 0; where it is 0, the scatter is too great for an interval.

        >>> low, high = td.batch.Weights(["60 g", "61 g", "62 g"]).mean_interval(95)
        >>> round(low, 3), round(high, 3)
        (58.516, 63.484)
        """
    @property
    def net(self, /) -> list[Fraction]:
        """
        The net masses: what drying leaves of each.
        """
    @property
    def notes(self, /) -> list[str]:
        """
        What to know about them: weights that stand far from the others, and a scatter that is too great for an interval
        of the mean.
        """
    @property
    def page(self, /) -> Page:
        """
        Mean and spread on one page.
        """
    @property
    def relative_standard_deviation(self, /) -> float:
        """
        The standard deviation in percent of the mean: how even the bars are.
        """
    @property
    def standard_deviation(self, /) -> float:
        """
        Their standard deviation: that of a sample, over one less than their number.
        """
    def supported_nominal(self, /, *, market: Market, step: str) -> Fraction:
        """
        The largest multiple of `step` in grams that the market's test accepts as nominal content of these bars.

        >>> weights = td.batch.Weights(["62.1 g", "61.8 g", "62.6 g", "62.0 g", "61.5 g", "62.3 g"], bars=6)
        >>> weights.supported_nominal(market="EU", step="1 g"), weights.supported_nominal(market="US", step="1 g")
        (Fraction(62, 1), Fraction(62, 1))
        """
    def test(self, /, nominal: str, *, market: Market) -> WeightTest:
        """
        The test of a `market` on the `nominal` content that the label states: the reference test of the average system
        (EU), or the Category A test (US). A sample smaller than the plan takes is no test, and says so.

        >>> half = td.batch.Weights(["60.2 g", "60.4 g"] * 6, bars=24)
        >>> half.test("60 g", market="EU").outcome, half.test("60 g", market="US").outcome
        ('no-test', 'accepted')
        """
    def to_dict(self, /, *, materials: bool = False) -> "dict[str, Any]":
        """
        The JSON document as a dict, list and plain values; `materials` as for `to_json`.
        """
    def to_json(self, /, *, materials: bool = False) -> str:
        """
        As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    def to_toml(self, /, *, materials: bool = False) -> str:
        """
        As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
        `materials=True`.
        """
    @property
    def words(self, /) -> str:
        """
        How many were weighed, of how many: "12 of 24 bars".
        """

def attributes() -> Table[ListedWord]:
    """
    The yes-or-no attributes of substances and raw materials, `words.Attribute`, each with what it means.

    >>> td.material.attributes()[1].meaning
    'Made from palm or palm-kernel oil.'
    """

def axis(what: "str | Measure", values: "Iterable[SupportsFloat | str | Material]") -> Axis:
    """
    An axis: what is varied, by its spelling or by the measure that a requirement limits, and its values.

    | spelling | what is varied |
    |---|---|
    | "wash.capb-30" | a part of split "wash" |
    | "share.wash.capb-30" | its share of the split in percent, the others in proportion |
    | "fix.panthenol" | a fixed line |
    | "lowest.cetyl-alcohol", "highest.cetyl-alcohol" | an end of a line's range |
    | "target.active-matter", "at-least.water", "at-most.water" | what a requirement asks for |
    | "price.sci-powder" | a price |
    | "material.capb-30" | the raw material of a line; the values are raw materials |
    | "moisture" | the residual moisture of every finished basis |

    A bare name is enough where it means one thing. A float counts as the shortest decimal that prints it.
    """

def break_even(fixed: SupportsFloat | str, price: SupportsFloat | str, cost: SupportsFloat | str) -> Fraction:
    """
    How many have to be sold at a `price`, each at a `cost`, before `fixed` costs are earned.

    >>> td.cost.break_even(500, "6.50", "1.20")
    Fraction(95, 1)
    """

def cautions() -> Table[ListedWord]:
    """
    The cautions of raw materials, `words.Caution`, each with what it means.

    >>> "eye-damage" in [row.word for row in td.material.cautions()]
    True
    """

def classes() -> Table[ListedWord]:
    """
    The classes of substances, `words.Class`, each with what it means.

    >>> td.material.classes()[0].word
    'anionic-surfactant'
    """

def dough_share(of: str) -> Measure:
    """
    The share of raw materials that are worked as "liquid" (watery liquids and pastes), "oil", "meltable" or "powder",
    as a measure.

    >>> bar = td.Formula("Bar", {"sci-powder": 92, "water": 8}, td.Catalogue.starter())
    >>> float(bar.measure(td.formula.dough_share("liquid")))
    8.0
    """

def finished(*, moisture: SupportsFloat | str, with_bound_water: bool = False) -> Basis:
    """
    Dried to a residual moisture, percent of the finished product; `with_bound_water` counts the water in it that
    starches, clays and hydrates hold, as a balance does that dries a sample.

    >>> td.finished(moisture=5)
    finished(moisture=5)
    """

def forms() -> Table[ListedWord]:
    """
    The forms of raw materials, `words.Form`, each with what it means.

    >>> [row.word for row in td.material.forms()][:3]
    ['powder', 'needles', 'flakes']
    """

def geomspace(start: SupportsFloat | str, stop: SupportsFloat | str, count: SupportsIndex, *, grid: SupportsFloat | str | None = None) -> list[Fraction]:
    """
    `count` values from `start` to `stop` in a constant ratio, each rounded to a multiple of `grid`.

    >>> [str(value) for value in td.geomspace(1, 100, 3)]
    ['1', '10', '100']
    """

def history(documents: Iterable[Brief | Formula]) -> Table[HistoryEntry]:
    """
    Which of these `documents`, formulas and briefs, came from which: each once, every parent before its children, else
    in the order given.

    >>> cat = td.Catalogue.starter()
    >>> brief = td.Brief("Plain bar", cat).fix("sci-powder", 60).qs("kaolin")
    >>> planned = brief.solve().formula.with_parent(brief, "answer")
    >>> made = td.Formula("Plain bar, batch 7", {"sci-powder": 61, "kaolin": 39}, cat).with_parent(planned, "as-made")
    >>> [(entry.generation, entry.title, entry.relation) for entry in td.formula.history([made, planned, brief])]
    [(0, 'Plain bar', None), (1, 'Plain bar', 'answer'), (2, 'Plain bar, batch 7', 'as-made')]
    """

def lattice(split: str, steps: SupportsIndex) -> Axis:
    """
    An axis of all ways to share a split out among its members in whole steps: of three members in steps of 5 %, 231.

    >>> brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 1, "scs-needles": 1, "capb-30": 1}, by="active", name="wash")
    >>> brief = brief.qs("kaolin").target(td.measure.active_matter, 40)
    >>> len(brief.sweep(td.lattice("wash", 20)))
    231
    """

def linspace(start: SupportsFloat | str, stop: SupportsFloat | str, count: SupportsIndex, *, grid: SupportsFloat | str | None = None) -> list[Fraction]:
    """
    `count` values from `start` to `stop`, evenly spaced, each rounded to a multiple of `grid`, so that all are short
    exact decimals.

    >>> [str(value) for value in td.linspace(0, 1, 4)]
    ['0', '3333/10000', '6667/10000', '1']
    """

def markets() -> Table[ListedWord]:
    """
    The markets whose lists reviews and labels know, `words.Market`, each with what it means.

    >>> [row.word for row in td.material.markets()]
    ['EU', 'US']
    """

def price_effects(formulas: Iterable[Formula], prices: Mapping[str, SupportsFloat | str]) -> Table[PriceEffect]:
    """
    What changed prices per kilogram do to each of these formulas: what the raw materials of a kilogram cost before and
    afterwards.

    >>> bar = td.Formula("Bar", {"sci-powder": 60, "kaolin": 40}, td.Catalogue.starter(), prices={"sci-powder": 6, "kaolin": 2}, currency="EUR")
    >>> [(row.formula, float(row.difference)) for row in td.cost.price_effects([bar], {"sci-powder": 7})]
    [('Bar', 0.6)]
    """

def price_from_margin(cost: SupportsFloat | str, percent: SupportsFloat | str) -> Fraction:
    """
    The price of which `percent` is the margin, `cost / (1 - percent / 100)`. A percentage of the cost is a markup.

    >>> float(round(td.cost.price_from_margin(1, 35), 2)), float(round(td.cost.price_from_markup(1, 35), 2))
    (1.54, 1.35)
    """

def price_from_markup(cost: SupportsFloat | str, percent: SupportsFloat | str) -> Fraction:
    """
    The `cost` with `percent` of it added. A percentage of the price is a margin.

    >>> float(td.cost.price_from_markup("2.40", 50))
    3.6
    """

def product_types() -> Table[ProductType]:
    """
    The product types of the SCCS Notes of Guidance that are carried, as printed.

    >>> [float(row.exposure_per_body_weight) for row in td.exposure.product_types() if row.slug == "shampoo"]
    [1.51]
    """

def product_uses() -> Table[ListedWord]:
    """
    What products are used for, `words.Use`, each with what it means: what reviews, labels and use levels know.

    >>> "shampoo-bar" in [row.word for row in td.material.product_uses()]
    True
    """

def purchase(batches: Iterable[PlannedBatch], offers: Offers, *, stock: Stock | None = None, steps: SupportsIndex | None = None, seconds: SupportsFloat | str | None = None) -> Purchase:
    """
    The cheapest whole packs that the `offers` have for these `batches` beyond the `stock`: price breaks, freight and
    tax included, exact and proved. Bought is only what the batches need, or more of it where that is cheaper; what the
    stock covers is bought too where that saves freight, and what no batch takes, itself or as a part of a premix, never.
    The search takes up to so many `steps` and about so many `seconds`; at either end it gives the best found, with
    `bound` and `gap`.

    A premix is taken from stock as far as it reaches. What is short of it is bought as such or made of its parts,
    whichever is cheaper, where both can be had; some of each is not looked at, so that `bound` is then what everything
    else costs at least.
    """

def read(text: str, catalogue: Catalogue | None = None, *, rules: Iterable[RuleList] = ...) -> Adjustment | Answer | BarsFromStock | Batch | BatchRecord | BestOnModel | Brief | Catalogue | Chosen | Conflict | Costing | Design | Draft | DryingCurve | Exposure | FittedModel | Formula | FormulaMicelles | Label | Made | MixedMicelles | ModelChoice | MostDesirable | MouldedBar | Offers | Portions | PriceList | ProductMix | Purchase | Rescue | Review | Rounded | RuleList | Stock | TargetFill | Titration | TrialLog | Unmet | UseUp | Weighable | WeightTest | Weights:
    """
    Reads a document of any kind, in TOML or JSON: what it says that it is. Materials that it only names are looked up
    in the catalogue, by default the starter catalogue. A result is believed where asking its question again gives just
    what it says. `text` is the document; `rules` are lists of your own that a review in it was made with.

    >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
    >>> td.read(clay.to_toml()) == td.read(clay.to_json(materials=False)) == clay
    True
    >>> td.read(clay.batch(mass="200 g", readability="0.1 g").to_json())
    <Batch of "Clay", 200 g>
    """

def scent_entries() -> dict[int, tuple[str, bool]]:
    """
    The scent constituents that labels in the European Union name: entry and name, newer ones from 2023 on marked true.

    >>> len(td.label.scent_entries()), td.label.scent_entries()[88]
    (81, ('LIMONENE', False))
    """
