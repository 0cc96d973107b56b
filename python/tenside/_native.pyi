"""
The compiled half of the package `tenside`.
"""

from _typeshed import SupportsGetItem
from collections.abc import Iterable, Mapping
from decimal import Decimal
from fractions import Fraction
from typing import Any, Final, SupportsFloat, SupportsIndex, final

__all__ = ["__version__", "Answer", "BarMasses", "Basis", "Batch", "BatchNote", "Binding", "Brief", "BriefRequirement", "BriefRow", "BriefSplit", "Catalogue", "CertificateChange", "Choice", "Conflict", "Constituent", "Contained", "Departure", "Difference", "DifferenceLine", "Draft", "DraftDeparture", "DraftLine", "ExpandedRow", "Exposure", "Formula", "GridRefusal", "Interval", "KeepsOff", "Label", "LabelCheck", "LabelItem", "LabelQuestion", "LeftOut", "LimitRange", "Line", "Lot", "Material", "Measure", "Measured", "NetContent", "Page", "PhRange", "Phase", "Pressed", "PriceRange", "ProductType", "Proof", "ProofMember", "Question", "Reach", "Reading", "Relaxation", "ScentDeclaration", "ScentRow", "Settled", "Sheet", "Statement", "Substance", "SubstanceCharge", "SubstanceMolarMass", "Table", "UseLevel", "Weighing", "fault_kinds", "finished", "product_types", "scent_entries"]

__version__: Final[str]
"""
The version of the library.
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
    def binding(self, /) -> list[Binding]:
        """
        The requirements and ranges that the exact solution meets exactly.
        """
    @property
    def brief(self, /) -> Brief:
        """
        The brief.
        """
    @property
    def departures(self, /) -> list[Departure]:
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
        The grid formula: what is weighed. Raises Contradiction where `grid_refusal` says why there is none.
        """
    @property
    def grid_refusal(self, /) -> GridRefusal | None:
        """
        Why there is no grid formula, if there is none.
        """
    def limit_ranges(self, /) -> list[LimitRange]:
        """
        For every limit of a requirement or line: its shadow price and where that holds.

        >>> brief = td.Brief("Wash", td.Catalogue.starter(), prices={"capb-30": 3, "water": 0}, currency="EUR").free("capb-30").qs("water")
        >>> limit = brief.at_least(td.measure.active_matter, 12).minimise(td.measure.cost).solve().limit_ranges()[0]
        >>> limit.price, limit.low, limit.high
        (Fraction(1, 10), Fraction(0, 1), Fraction(30, 1))
        """
    @property
    def objective(self, /) -> Fraction | None:
        """
        Exact value of the objective, in its own unit.
        """
    def page(self, /, *bases: "Basis") -> Page:
        """
        The grid formula, its usual measures on these bases, what binds, and what is proved.
        """
    def price_ranges(self, /) -> list[PriceRange]:
        """
        For every priced raw material: the prices between which the exact solution stays best.
        """
    @property
    def proof(self, /) -> Proof:
        """
        The proof.
        """
    def verify(self, /) -> bool:
        """
        Checks everything again without the solver, the grid formula included: True, or Contradiction is raised.
        """

@final
class BarMasses:
    """
    What one bar weighs on its way, in grams; exact means over even bars.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
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
class Basis:
    """
    What a measure's hundred percent is: `as_charged`, or `finished(moisture=5)`.

    >>> td.Basis() == td.as_charged
    True
    >>> str(td.finished(moisture=5))
    'finished at 5 % residual moisture'
    """
    def __copy__(self, /) -> Basis: ...
    def __deepcopy__(self, memo: Any, /) -> Basis: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __getnewargs__(self, /) -> tuple[Fraction | None]: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, moisture: SupportsFloat | str | None = None) -> Basis: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    @property
    def moisture(self, /) -> Fraction | None:
        """
        Residual moisture in percent of the finished product; None as charged.
        """

@final
class Batch:
    """
    A formula weighed out: rounded masses that sum exactly to the batch, and what to know about them. Masses are in grams.

    >>> bar = td.Formula("Plain bar", {"sci-powder": 60, "cetyl-alcohol": 15, "kaolin": 25}, td.Catalogue.starter())
    >>> batch = bar.batch(mass="200 g", bars=3, readability="0.1 g")
    >>> sum(weighing.rounded for weighing in batch.weighings) == batch.weighed == 200
    True
    """
    def __copy__(self, /) -> Batch: ...
    def __deepcopy__(self, memo: Any, /) -> Batch: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
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
    @property
    def notes(self, /) -> list[BatchNote]:
        """
        What to know beyond the numbers, heat first.
        """
    @property
    def number(self, /) -> str | None:
        """
        The batch number, if one was given.
        """
    def pressed(self, /, masses: SupportsGetItem[int, str]) -> Pressed:
        """
        The bars pressed from it, as they were weighed before drying.

        >>> batch = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter()).batch(mass="200 g", bars=3, readability="0.1 g")
        >>> float(batch.pressed(["66.2 g", "66.9 g", "66.3 g"]).implied_process_loss)
        0.3
        """
    def sheet(self, /) -> Sheet:
        """
        The sheet to work by, with cautions; a page in a notebook.

        >>> sheet = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter()).batch(mass="200 g", readability="0.1 g").sheet()
        >>> "200.0 g" in sheet.text, "no safety data sheet" in sheet.markdown
        (True, True)
        """
    @property
    def weighed(self, /) -> Fraction:
        """
        The mass weighed: the exact sum of the rounded lines.
        """
    @property
    def weighings(self, /) -> list[Weighing]:
        """
        The lines to weigh, phase by phase in working order.
        """

@final
class BatchNote:
    """
    What to know beyond the numbers.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
    @property
    def kind(self, /) -> str:
        """
        Its stable name: "too-hot", "total-moved", "rest-elsewhere", "rest-passed-on", "too-small", "rounds-to-nothing".
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
class Binding:
    """
    A requirement or range that the exact solution meets exactly.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
    @property
    def decisive(self, /) -> bool:
        """
        True where the objective could be better without it.
        """
    @property
    def side(self, /) -> str:
        """
        "at lowest", "at highest" or "fixed".
        """
    @property
    def words(self, /) -> str:
        """
        In the words of the brief.
        """

@final
class Brief:
    """
    What is asked for: lines, splits, requirements and an objective. Immutable: every method gives a new brief.

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
    def __new__(cls, /, title: str, catalogue: Catalogue, *, prices: Mapping[str, SupportsFloat | str] | None = None, currency: str = "currency") -> Brief: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str, Catalogue]]: ...
    def __repr__(self, /) -> str: ...
    def at_least(self, /, measure: Measure, value: SupportsFloat | str, *, basis: Basis | None = None, for_every_composition: bool = False, name: str | None = None) -> Brief:
        """
        With a measure at or above this value.
        """
    def at_most(self, /, measure: Measure, value: SupportsFloat | str, *, basis: Basis | None = None, for_every_composition: bool = False, name: str | None = None) -> Brief:
        """
        With a measure at or below this value.
        """
    def between(self, /, material: str | Material, low: SupportsFloat | str, high: SupportsFloat | str) -> Brief:
        """
        With a raw material between two percentages as supplied.
        """
    @property
    def catalogue(self, /) -> Catalogue:
        """
        Its catalogue.
        """
    def change_line(self, /, line: str, *, fix: SupportsFloat | str | None = None, low: SupportsFloat | str | None = None, high: SupportsFloat | str | None = None, qs: bool = False) -> Brief:
        """
        With another role for a line: fixed, between two percentages, filling to 100, or free.

        >>> brief = td.Brief("Plain", td.Catalogue.starter()).fix("sci-powder", 50).qs("kaolin")
        >>> brief.change_line("sci-powder", low=40, high=60).lines[0].role
        'between 40 and 60 %'
        """
    @property
    def currency(self, /) -> str | None:
        """
        The currency of the prices.
        """
    def drop_line(self, /, line: str) -> Brief:
        """
        Without a line; a line that a split needs stays.
        """
    def drop_requirement(self, /, name: str) -> Brief:
        """
        Without a requirement, by its name.

        >>> brief = td.Brief("Plain", td.Catalogue.starter()).qs("kaolin").at_most(td.measure.water, 9)
        >>> brief.drop_requirement("water at most 9 %").requirements
        []
        """
    def drop_split(self, /, name: str) -> Brief:
        """
        Without a split; its lines stay.
        """
    def fix(self, /, material: str | Material, percent: SupportsFloat | str) -> Brief:
        """
        With a raw material fixed at a percentage as supplied.
        """
    def free(self, /, material: str | Material) -> Brief:
        """
        With a raw material that may take any percentage.
        """
    @classmethod
    def from_json(cls, /, text: str, catalogue: Catalogue | None = None) -> Brief:
        """
        Reads a brief document in JSON; what it does not embed is looked up in the catalogue.
        """
    @classmethod
    def from_toml(cls, /, text: str, catalogue: Catalogue | None = None) -> Brief:
        """
        Reads a brief document in TOML; what it does not embed is looked up in the catalogue.

        >>> brief = td.Brief("Clay", td.Catalogue.starter()).qs("kaolin")
        >>> td.Brief.from_toml(brief.to_toml()) == brief == td.Brief.from_json(brief.to_json())
        True
        """
    def group(self, /, name: str, lines: str | Iterable[str]) -> Brief:
        """
        With lines joined into a named group, for scopes of measures.
        """
    def in_phase(self, /, line: str, phase: str) -> Brief:
        """
        With a line moved to another phase.
        """
    def in_stock(self, /, *entries: "str") -> Brief:
        """
        With what is in stock, lots or material ids: lots are used, and lines whose material is not named are required to be 0.
        """
    def least_change_from(self, /, formula: Formula) -> Brief:
        """
        Asking for the formula that changes least from a given one.
        """
    def line(self, /, name: str, material: str | Material, *, phase: str | None = None, lot: str | Lot | None = None, fix: SupportsFloat | str | None = None, low: SupportsFloat | str | None = None, high: SupportsFloat | str | None = None, qs: bool = False) -> Brief:
        """
        With a line that has a name of its own: fixed, between two percentages, filling to 100, or free.

        >>> brief = td.Brief("Two clays", td.Catalogue.starter()).line("on top", "kaolin", phase="cool-down", fix=2).qs("kaolin")
        >>> [(line.name, line.phase, line.role) for line in brief.lines]
        [('on top', 'cool-down', 'fixed at 2 %'), ('kaolin', 'powder', 'to 100 %')]
        """
    def line_ranges_within(self, /, extra: SupportsFloat | str) -> dict[str, tuple[Fraction, Fraction]]:
        """
        The lowest and highest percentage of each line among the formulas whose objective is at most `extra` worse than the best.

        >>> brief = td.Brief("Two", td.Catalogue.starter(), prices={"capb-30": 3, "water": 0}).between("capb-30", 10, 50).qs("water")
        >>> brief.minimise(td.measure.cost).line_ranges_within("0.3")["capb-30"]
        (Fraction(10, 1), Fraction(20, 1))
        """
    @property
    def lines(self, /) -> list[BriefRow]:
        """
        Its lines.
        """
    def materials_without_use_level(self, /, product_use: str) -> list[str]:
        """
        The raw materials that state no use level for a product use.
        """
    def maximise(self, /, measure: Measure, *, basis: Basis | None = None) -> Brief:
        """
        Asking for the formula with the greatest value of a measure.
        """
    def minimise(self, /, measure: Measure, *, basis: Basis | None = None) -> Brief:
        """
        Asking for the formula with the least value of a measure.
        """
    @property
    def objective(self, /) -> str | None:
        """
        Its objective in words; None asks for the middle of the ranges.
        """
    def phase(self, /, name: str, temperature: SupportsFloat | str | None = None) -> Brief:
        """
        With a phase and its temperature in °C; phases keep the order in which they are stated.
        """
    @property
    def phases(self, /) -> list[Phase]:
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

        >>> td.Brief("Two", td.Catalogue.starter()).between("capb-30", 10, 50).qs("water").reach(td.measure.active_matter)
        Reach(lowest=Fraction(3, 1), highest=Fraction(15, 1), unit='%')
        """
    def require(self, /, measure: Measure, *, equal: SupportsFloat | str | None = None, at_least: SupportsFloat | str | None = None, at_most: SupportsFloat | str | None = None, basis: Basis | None = None, for_every_composition: bool = False, name: str | None = None) -> Brief:
        """
        With a measure at `equal`, or `at_least` and `at_most`, or one of these.

        >>> brief = td.Brief("Wash", td.Catalogue.starter()).require(td.measure.water, at_least=5, at_most=9, name="workable")
        >>> brief.requirements[0].name
        'workable'
        """
    @property
    def requirements(self, /) -> list[BriefRequirement]:
        """
        Its requirements.
        """
    def solve(self, /) -> Answer:
        """
        Solves the brief; raises Unanswerable, which carries the conflict, where no formula meets it.

        >>> strong = td.Brief("Too strong", td.Catalogue.starter()).between("capb-30", 0, 50).qs("water").at_least(td.measure.active_matter, 40)
        >>> try: strong.solve()
        ... except td.Unanswerable as error: print(error.conflict.members[0])
        active matter at least 40 %
        """
    def split(self, /, parts: Mapping[str, SupportsFloat | str], *, by: str, name: str) -> Brief:
        """
        With a named ratio by "weight" as supplied, by "active" matter or by "mole" of active. Members that are no lines yet become free.
        """
    @property
    def splits(self, /) -> list[BriefSplit]:
        """
        Its splits.
        """
    def target(self, /, measure: Measure, value: SupportsFloat | str, *, basis: Basis | None = None, for_every_composition: bool = False, name: str | None = None) -> Brief:
        """
        With a measure at exactly this value.
        """
    @property
    def title(self, /) -> str:
        """
        Its title.
        """
    def to_json(self, /) -> str:
        """
        As a JSON document that embeds what the lines use.
        """
    def to_toml(self, /) -> str:
        """
        As a TOML document that embeds what the lines use.
        """
    def try_solve(self, /) -> Answer | Conflict:
        """
        Solves the brief: an Answer, or the Conflict.
        """
    def use_lot(self, /, line: str, lot: str | Lot) -> Brief:
        """
        With a lot, or one of the catalogue by its name, for a line.

        >>> lot = td.Lot("W-27", "capb-30", active=29.1, method="titrated")
        >>> brief = td.Brief("Wash", td.Catalogue.starter()).fix("capb-30", 10).qs("kaolin").use_lot("capb-30", lot)
        >>> brief.lines[0].material
        <Material "capb-30", lot "W-27">
        """
    def with_prices(self, /, prices: Mapping[str, SupportsFloat | str], *, currency: str = "currency") -> Brief:
        """
        With prices per kilogram by material id.
        """
    def with_title(self, /, title: str) -> Brief:
        """
        With another title.
        """
    def within(self, /, measure: Measure, low: SupportsFloat | str, high: SupportsFloat | str, *, basis: Basis | None = None, for_every_composition: bool = False, name: str | None = None) -> Brief:
        """
        With a measure between two values.
        """
    def within_use_levels(self, /, product_use: str) -> Brief:
        """
        With the recommended use levels of a product use as named requirements; `materials_without_use_level` lists what has none.
        """
    def without(self, /, attribute: str) -> Brief:
        """
        Without any raw material that has the attribute: "sulfate", "palm", "animal", "silicone" or "ethoxylated".
        """

@final
class BriefRequirement:
    """
    A measure and the values it may have.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
    @property
    def basis(self, /) -> Basis:
        """
        The basis.
        """
    @property
    def for_every_composition(self, /) -> bool:
        """
        True where it is to hold for every composition.
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
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
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
    def role(self, /) -> str:
        """
        In words: "fixed at 1.5 %", "to 100 %".
        """

@final
class BriefSplit:
    """
    Lines that stand in a stated ratio.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
    @property
    def by(self, /) -> str:
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
class Catalogue:
    """
    Raw materials with the substances they name, their lots and other names. Immutable: a change gives a new catalogue.

    >>> cat = td.Catalogue.starter()
    >>> cat.material("kaolin")
    <Material "kaolin">
    >>> try: cat.material("SCS")
    ... except td.AmbiguousName as error: print(error.faults[0].message)
    the name could mean several raw materials
    """
    def __contains__(self, name: str, /) -> bool: ...
    def __copy__(self, /) -> Catalogue: ...
    def __deepcopy__(self, memo: Any, /) -> Catalogue: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __len__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /) -> Catalogue:
        """
        Without any material, over the embedded substances.
        """
    def __reduce__(self, /) -> tuple[Any, Any]: ...
    def __repr__(self, /) -> str: ...
    def lot(self, /, name: str) -> Lot:
        """
        The lot of that name.
        """
    def lots(self, /) -> list[Lot]:
        """
        The lots, in the order added.
        """
    def material(self, /, name: str) -> Material:
        """
        The material meant by an id, a readable name or an alias; what could mean several is refused.
        """
    def materials(self, /) -> list[Material]:
        """
        The materials, in the order added.
        """
    def merge(self, /, other: Catalogue, *, winner: str = "neither") -> Catalogue:
        """
        Both catalogues in one. Where both have something of the same name with other values, `winner` decides: "ours", "theirs", or
        "neither", which refuses.

        >>> cat = td.Catalogue.starter()
        >>> cat.merge(cat) == cat
        True
        """
    @classmethod
    def read_csv(cls, /, materials: str, constituents: str, *, delimiter: str | None = None, decimal_comma: bool = False, source: str | None = None) -> Catalogue:
        """
        Reads a catalogue from two CSV sheets in any order of columns, given as text: one row a material, and one row a constituent.

        The `delimiter` ("comma", "semicolon" or "tab") is found from the header rows unless it is stated; `decimal_comma` reads 84,5;
        `source` is that of materials whose row states none.

        >>> materials = "id;name;form;source\\nhouse-glycerin;Glycerin 99,5 %;liquid;invented for this example\\n"
        >>> constituents = "material;constituent;typical\\nhouse-glycerin;GLYCERIN;99,5\\nhouse-glycerin;WATER;0,5\\n"
        >>> td.Catalogue.read_csv(materials, constituents, decimal_comma=True).material("house-glycerin").constituents[0].typical
        Decimal('99.5')
        """
    @classmethod
    def read_json(cls, /, text: str) -> Catalogue:
        """
        Reads a catalogue document in JSON.

        >>> len(td.Catalogue.read_json('{"tenside": "catalogue/1"}'))
        0
        """
    @classmethod
    def read_toml(cls, /, text: str) -> Catalogue:
        """
        Reads a catalogue document in TOML.

        >>> text = td.Catalogue.starter().to_toml()
        >>> td.Catalogue.read_toml(text) == td.Catalogue.starter()
        True
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
    def substances(self, /) -> list[Substance]:
        """
        The substances that materials may name.
        """
    def to_csv(self, /) -> tuple[str, str]:
        """
        As two CSV sheets: materials and constituents. Premixes and lots have no place there and are refused.

        >>> materials, constituents = td.Catalogue().with_material(td.Catalogue.starter().material("kaolin")).to_csv()
        >>> td.Catalogue.read_csv(materials, constituents).material("kaolin").constituents == td.Catalogue.starter().material("kaolin").constituents
        True
        """
    def to_json(self, /) -> str:
        """
        As JSON.
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

@final
class CertificateChange:
    """
    A share that a lot's certificate changed.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
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
        True where the lot's share lies outside the stated range.
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
    def __repr__(self, /) -> str: ...
    @property
    def label(self, /) -> str:
        """
        What it does, in words.
        """

@final
class Conflict:
    """
    Requirements that no formula meets together, with an exact proof; a table in a notebook.

    >>> conflict = td.Brief("Not full", td.Catalogue.starter()).fix("kaolin", 60).try_solve()
    >>> conflict.sentence, conflict.verify()
    ('no formula meets this: line kaolin fixed at 60 %', True)
    """
    def __copy__(self, /) -> Conflict: ...
    def __deepcopy__(self, memo: Any, /) -> Conflict: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Brief]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def brief(self, /) -> Brief:
        """
        The brief.
        """
    def least_changes(self, /) -> list[Relaxation]:
        """
        Changes that together make the brief answerable, their sum as small as can be, each in percent of its own limit.
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
        For every member, in their order, the least change that alone makes the brief answerable; None where no change of it does.

        >>> brief = td.Brief("Too strong", td.Catalogue.starter()).between("capb-30", 0, 50).qs("water").at_least(td.measure.active_matter, 18)
        >>> [change.sentence for change in brief.try_solve().relaxations()]
        ['lower active matter at least 18 % to 15 % or less', 'raise line capb-30 between 0 and 50 % to 60 % or more']
        """
    @property
    def sentence(self, /) -> str:
        """
        One sentence that names what cannot hold together.
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
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
    @property
    def declaration(self, /) -> str:
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
class Contained:
    """
    A substance contained in one ingredient, percent of that ingredient.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
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
class Departure:
    """
    An equation that the grid formula does not meet exactly.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
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
class Difference:
    """
    What differs between two formulas; a table in a notebook.

    >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
    >>> clay.difference(clay.with_title("Later")).after
    'Later'
    """
    def __copy__(self, /) -> Difference: ...
    def __deepcopy__(self, memo: Any, /) -> Difference: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
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
    def constituents(self, /) -> list[DifferenceLine]:
        """
        Every constituent of either, as charged, typical values; those that differ most first.
        """
    @property
    def lines(self, /) -> list[DifferenceLine]:
        """
        Every line of either.
        """

@final
class DifferenceLine:
    """
    One row: percent in both formulas, None where one does not have it.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
    @property
    def after(self, /) -> Fraction | None:
        """
        In the second.
        """
    @property
    def before(self, /) -> Fraction | None:
        """
        In the first.
        """
    @property
    def changed_otherwise(self, /) -> bool:
        """
        True where the raw material, its lot or its phase changed too.
        """
    @property
    def name(self, /) -> str:
        """
        What is compared.
        """

@final
class Draft:
    """
    A recipe as written. Immutable: an answer gives a new draft, in which the lines stand as they were written, counted from 1.

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
    def __new__(cls, /, title: str, lines: SupportsGetItem[int, DraftLine | tuple[str, str | None]]) -> Draft: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    def accept(self, /, question: str | Question) -> Draft:
        """
        Accepts what a question asks about as it stands.
        """
    def answer(self, /, question: str | Question, choice: Choice) -> Draft:
        """
        With one of a question's choices as its answer.

        >>> cat = td.Catalogue.starter()
        >>> draft = td.Draft("Clay", [("kaolin", "97.5 %")])
        >>> question = draft.questions(cat)[0]
        >>> question.found, question.choices[0].label
        ('97.5 %', 'scale every line to a total of 100')
        >>> draft.answer(question, question.choices[0]).questions(cat)
        []
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
        """
    @classmethod
    def from_text(cls, /, title: str, text: str) -> Draft:
        """
        Reads a pasted recipe: one line a raw material, the amount first or last.
        """
    @classmethod
    def from_toml(cls, /, text: str) -> Draft:
        """
        Reads a draft document in TOML.

        >>> draft = td.Draft("Clay", [("kaolin", "97.5 %")]).normalise()
        >>> td.Draft.from_toml(draft.to_toml()) == draft == td.Draft.from_json(draft.to_json())
        True
        """
    @property
    def is_normalised(self, /) -> bool:
        """
        True where the total is to be scaled to 100.
        """
    @property
    def lines(self, /) -> list[DraftLine]:
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
    def questions(self, /, catalogue: Catalogue) -> list[Question]:
        """
        Every open question, by line, then those about the recipe as a whole.
        """
    def rewrite(self, /, line: SupportsIndex, item: str, amount: str) -> Draft:
        """
        With what a line should have said.
        """
    def set_amount(self, /, line: SupportsIndex, amount: str) -> Draft:
        """
        With another amount for a line; the line keeps what was written.
        """
    def settle(self, /, catalogue: Catalogue) -> Settled:
        """
        The formula, with what each line departs from its exact percentage; raises OpenQuestion with all open questions.
        """
    @property
    def title(self, /) -> str:
        """
        Its title.
        """
    def to_formula(self, /, catalogue: Catalogue) -> Formula:
        """
        The formula; raises OpenQuestion with all open questions.
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
    def with_figures_in(self, /, unit: str) -> Draft:
        """
        With figures without a unit read as "percent" or as "gram".
        """

@final
class DraftDeparture:
    """
    What a line departs from its exact percentage for standing on the grid of 0.0001 %.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
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
    A line as written.

    >>> line = td.DraftLine("Rosemary oil", "3 drops", phase="cool-down", optional=True)
    >>> line.item, line.amount
    ('Rosemary oil', '3 drops')
    """
    def __copy__(self, /) -> DraftLine: ...
    def __deepcopy__(self, memo: Any, /) -> DraftLine: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, item: str, amount: str | None = None, *, phase: str | None = None, optional: bool = False, method_only: bool = False) -> DraftLine: ...
    def __repr__(self, /) -> str: ...
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
        True where an answer left it out.
        """
    @property
    def is_method_only(self, /) -> bool:
        """
        True where it stands in the method but not in the list.
        """
    @property
    def is_optional(self, /) -> bool:
        """
        True where it is said outright that it may be left out.
        """
    @property
    def item(self, /) -> str:
        """
        The raw material as written.
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
    def written(self, /) -> str | None:
        """
        The whole line of a pasted text, where it was one.
        """

@final
class ExpandedRow:
    """
    One constituent of a formula as charged.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
    @property
    def declaration(self, /) -> str:
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
    def percent(self, /) -> Interval | None:
        """
        Percent of the formula; None where a composition has no typical values.
        """

@final
class Exposure:
    """
    The systemic exposure to one substance and the margin to a dose without adverse effect; a qualified safety assessor decides.

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
    @property
    def usual_margin(self, /) -> Fraction:
        """
        The margin that the guidance usually compares with.
        """

@final
class Formula:
    """
    Lines of raw materials in phases whose percentages sum to exactly 100. Immutable.

    >>> cat = td.Catalogue.starter()
    >>> bar = td.Formula("Plain bar", {"sci-powder": 60, "cetyl-alcohol": 15, "kaolin": 25}, cat)
    >>> print(bar.measure(td.measure.active_matter).text())
    50.40 (49.20 to 52.20) %
    """
    def __copy__(self, /) -> Formula: ...
    def __deepcopy__(self, memo: Any, /) -> Formula: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, title: str, lines: SupportsGetItem[int, Line] | Mapping[str, SupportsFloat | str], catalogue: Catalogue | None = None, *, phases: dict[str, SupportsFloat | str | None] | None = None, prices: Mapping[str, SupportsFloat | str] | None = None, currency: str = "currency") -> Formula: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def absorber(self, /) -> str:
        """
        The line that takes rounding rests.
        """
    def batch(self, /, *, bars: SupportsIndex | None = None, net: str | None = None, mass: str | None = None, drying_loss: SupportsFloat | str | None = None, process_loss: SupportsFloat | str | None = None, readability: str, readability_of: dict[str, str] | None = None, unit: str | None = None, tolerance: SupportsFloat | str | None = None, number: str | None = None, date: str | None = None) -> Batch:
        """
        The formula weighed out: so many `bars` of a `net` mass with what is lost on the way, or a `mass` (pressed as so many bars).

        `readability` is what the scale counts in, `readability_of` that of phases weighed on another one; `tolerance` is the rounding
        error in percent of a line that is accepted without a note.

        >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
        >>> batch = clay.batch(bars=24, net="60 g", drying_loss=8, process_loss=4, readability="0.1 g")
        >>> batch.weighed
        Fraction(8152, 5)
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
    def expand(self, /) -> Table:
        """
        The constituents as charged, largest first, with their intervals; a table in a notebook.

        >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
        >>> [row.inci for row in clay.expand()]
        ['KAOLIN']
        """
    def exposure(self, /, substance: str, *, product: str | None = None, amount: SupportsFloat | str | None = None, retention: SupportsFloat | str | None = None, absorption: SupportsFloat | str | None = None, oral_dose: SupportsFloat | str | None = None, oral_absorption: SupportsFloat | str | None = None, systemic_dose: SupportsFloat | str | None = None, body_weight: SupportsFloat | str | None = None, basis: Basis | None = None) -> Exposure:
        """
        The systemic exposure to a substance, as an ingredient and contained in others: of a `product` type of the SCCS Notes of Guidance, or
        of an `amount` in g a day of which the share `retention` stays. The dose without adverse effect is `oral_dose` or `systemic_dose`, in mg
        a day and kg of body weight; absorptions are percent, the guidance's defaults where none is given.

        >>> bar = td.Formula("Bar", {"kaolin": 99, "panthenol": 1}, td.Catalogue.starter())
        >>> bar.exposure("PANTHENOL", product="shampoo", absorption=10).margin is None
        True
        """
    @classmethod
    def from_json(cls, /, text: str) -> Formula:
        """
        Reads a formula document in JSON.
        """
    @classmethod
    def from_toml(cls, /, text: str) -> Formula:
        """
        Reads a formula document in TOML.

        >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
        >>> td.Formula.from_toml(clay.to_toml()) == clay == td.Formula.from_json(clay.to_json())
        True
        """
    @property
    def is_draft(self, /) -> bool:
        """
        True where it rests on values of the starter catalogue.
        """
    def label(self, /, *, market: str, on: str | None = None, placing: str | None = None, contact: str | None = None, scent: str | None = None, net: str | None = None, residual_moisture: SupportsFloat | str | None = None, nano: str | Iterable[str] | None = None, declarations: SupportsGetItem[int, ScentDeclaration] = ..., flavour: bool = False, naked: bool = False, others_unscented: bool = False) -> Label:
        """
        What goes on the label in a `market` ("EU", "US") on a day: `placing` is "placed" or "available", `contact` "rinse-off" or
        "leave-on", `scent` "own" (oils by name) or "together". `declarations` are suppliers' statements on scent constituents;
        `others_unscented` is your own that raw materials which are no scent, oil, extract or nameless remainder bring none.

        >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
        >>> clay.label(market="US", on="2026-11-24").ingredients
        'KAOLIN'
        """
    def line(self, /, name: str) -> Line:
        """
        The line of that name.
        """
    @property
    def lines(self, /) -> list[Line]:
        """
        Its lines, in the order given.
        """
    def measure(self, /, measure: Measure, basis: Basis | None = None) -> Measured:
        """
        Reads a measure, for typical compositions and with its interval.

        >>> bar = td.Formula("Wash", {"capb-30": 50, "kaolin": 50}, td.Catalogue.starter())
        >>> float(bar.measure(td.measure.active_matter))
        15.0
        >>> float(bar.measure(td.measure.active_matter, td.finished(moisture=5))) > 15
        True
        """
    def measures(self, /, basis: Basis | None = None) -> Table:
        """
        Reads the usual measures; a table in a notebook.

        >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
        >>> clay.measures()[0].measure.name
        'active matter'
        """
    def page(self, /, *bases: "Basis") -> Page:
        """
        Lines and usual measures on these bases, as charged where none is given.
        """
    @property
    def percentages(self, /) -> dict[str, Decimal]:
        """
        Percent as supplied by line.
        """
    @property
    def phases(self, /) -> list[Phase]:
        """
        Its phases, in working order.
        """
    @property
    def prices(self, /) -> dict[str, Decimal] | None:
        """
        Prices per kilogram by material id, if it was given any.
        """
    @property
    def title(self, /) -> str:
        """
        Its title.
        """
    def to_json(self, /) -> str:
        """
        As a JSON document that needs no catalogue.
        """
    def to_material(self, /, id: str, *, form: str) -> Material:
        """
        This formula as a raw material of another: a premix.

        >>> cat = td.Catalogue.starter()
        >>> wash = td.Formula("Wash powder", {"sci-powder": 80, "kaolin": 20}, cat).to_material("wash-powder", form="powder")
        >>> td.Formula("Bar", {"wash-powder": 90, "glycerin-99-5": 10}, cat.with_material(wash)).lines[0].material.id
        'wash-powder'
        """
    def to_toml(self, /) -> str:
        """
        As a TOML document that needs no catalogue.
        """
    def with_prices(self, /, prices: Mapping[str, SupportsFloat | str], *, currency: str = "currency") -> Formula:
        """
        With prices per kilogram by material id, so that cost can be read off it.

        >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter()).with_prices({"kaolin": 1.9}, currency="EUR")
        >>> clay.measure(td.measure.cost).text()
        '1.90 EUR per kg'
        """
    def with_title(self, /, title: str) -> Formula:
        """
        With another title.
        """

@final
class GridRefusal:
    """
    Why there is no formula of whole 0.0001 %.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
    @property
    def proved(self, /) -> bool:
        """
        True where there is none; False where the search was cut off.
        """
    @property
    def requirements(self, /) -> list[str]:
        """
        The requirements that leave less room than the grid needs.
        """

@final
class Interval:
    """
    A typical value with its lowest and highest attainable value; an end that is None is not stated.

    >>> active = td.Interval(58, low="55.2", high="60.8")
    >>> active.text(1), float(active)
    ('58.0 (55.2 to 60.8)', 58.0)
    """
    def __copy__(self, /) -> Interval: ...
    def __deepcopy__(self, memo: Any, /) -> Interval: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __float__(self, /) -> float: ...
    def __getnewargs_ex__(self, /) -> tuple[tuple[Fraction], dict[str, Fraction | None]]: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, typical: SupportsFloat | str, *, low: SupportsFloat | str | None = None, high: SupportsFloat | str | None = None) -> Interval: ...
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
    def typical(self, /) -> Fraction:
        """
        The value for typical compositions.
        """

@final
class KeepsOff:
    """
    The most of one raw material that keeps a scent constituent at or below its threshold, the rest bringing what it brings now.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
    @property
    def material(self, /) -> str:
        """
        The raw material.
        """
    @property
    def most_ppm(self, /) -> int | None:
        """
        Parts per million of the formula, rounded down; None where the others exceed the threshold without it.
        """
    @property
    def typical_only(self, /) -> bool:
        """
        True where the raw material's range is not stated to its end.
        """

@final
class Label:
    """
    The content of a label for one market and day: list of ingredients, scent constituents, net content, what to settle. A page in a notebook.

    >>> bar = td.Formula("Bar", {"kaolin": 99.4, "lavender-oil": 0.6}, td.Catalogue.starter())
    >>> label = bar.label(market="EU", on="2026-11-24", net="60 g")
    >>> label.ingredients[:48]
    'KAOLIN, LAVANDULA ANGUSTIFOLIA OIL, LAVANDULA OI'
    >>> label.scent("linalool").answer, label.scent("geraniol").answer, label.is_draft
    ('certain', 'unknown', True)
    >>> bar.label(market="US", on="2026-11-24", net="60 g").net.text
    'Net Wt. 2.11 oz (60 g)'
    """
    def __copy__(self, /) -> Label: ...
    def __deepcopy__(self, memo: Any, /) -> Label: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def checks(self, /) -> list[LabelCheck]:
        """
        What else a label needs.
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
    def items(self, /) -> list[LabelItem]:
        """
        The names of the list with what they rest on.
        """
    @property
    def left_out(self, /) -> list[LeftOut]:
        """
        What suppliers do not declare.
        """
    @property
    def market(self, /) -> str:
        """
        "EU" or "US".
        """
    @property
    def nameless(self, /) -> Interval | None:
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
    def questions(self, /) -> list[LabelQuestion]:
        """
        What a person has to settle.
        """
    def scent(self, /, name: str) -> ScentRow | None:
        """
        What is known of one scent constituent, by any of its names or CAS numbers; None where no rule is in force.

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
        What must be exceeded, percent; None where no rule is in force.
        """
    @property
    def scent_to_ask(self, /) -> list[str]:
        """
        Scents, oils, extracts and nameless remainders without an allergen declaration.
        """
    @property
    def scent_unstated(self, /) -> list[str]:
        """
        Other raw materials of which nothing is stated.
        """
    @property
    def scents(self, /) -> list[ScentRow]:
        """
        Every scent constituent that labels name, by number; none where no rule is in force.
        """

@final
class LabelCheck:
    """
    Something else that a label needs; no legal opinion.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
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
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
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
        True where no composition inside the stated ranges would put it elsewhere.
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
    def order(self, /) -> str:
        """
        "ordered", "free" or "colour".
        """
    @property
    def percent(self, /) -> Interval | None:
        """
        Percent as charged; None where a composition has no typical shares.
        """
    @property
    def settled_by(self, /) -> list[str]:
        """
        The lines whose ranges would have to be narrower to settle its position.
        """

@final
class LabelQuestion:
    """
    Something for a person to settle.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
    @property
    def keeps_draft(self, /) -> bool:
        """
        True where the label stays a draft until it is settled.
        """
    @property
    def sentence(self, /) -> str:
        """
        The question as a sentence.
        """
    @property
    def topic(self, /) -> str:
        """
        Its stable name, "scent-unknown" or "position" for example.
        """

@final
class LeftOut:
    """
    What suppliers do not declare as an ingredient, and so is not listed.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
    @property
    def inci(self, /) -> str:
        """
        INCI name.
        """
    @property
    def percent(self, /) -> Interval | None:
        """
        Percent as charged; None where a composition has no typical shares.
        """

@final
class LimitRange:
    """
    A limit of the brief: what one more unit of it does to the objective, and from where to where that holds.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
    @property
    def high(self, /) -> Fraction | None:
        """
        The highest value for which that holds; None where there is none.
        """
    @property
    def low(self, /) -> Fraction | None:
        """
        The lowest value for which that holds; None where there is none.
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
    A raw material at a percentage as supplied, in a phase.

    >>> kaolin = td.Catalogue.starter().material("kaolin")
    >>> line = td.Line(kaolin, 40, name="clay on top", phase="cool-down")
    >>> line.name, line.percent
    ('clay on top', Decimal('40'))
    """
    def __copy__(self, /) -> Line: ...
    def __deepcopy__(self, memo: Any, /) -> Line: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, material: Material, percent: SupportsFloat | str, *, name: str | None = None, phase: str | None = None, groups: str | Iterable[str] | None = None, qs: bool = False, fixed: bool = False) -> Line: ...
    def __repr__(self, /) -> str: ...
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

@final
class Lot:
    """
    A lot with what its certificate of analysis states, percentages of the lot.

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
    def __new__(cls, /, id: str, material: str, *, active: SupportsFloat | str | None = None, method: str | None = None, molar_mass: SupportsFloat | str | None = None, solids: SupportsFloat | str | None = None, loss_on_drying: SupportsFloat | str | None = None, salt: SupportsFloat | str | None = None, free_fatty_acid: SupportsFloat | str | None = None, ph: SupportsFloat | str | None = None, retest: str | None = None) -> Lot: ...
    def __repr__(self, /) -> str: ...
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
        Molar mass in g/mol that the active matter was reckoned with.
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
class Material:
    """
    A raw material, typical or one lot of it.

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
    def __reduce__(self, /) -> tuple[Any, Any]: ...
    def __repr__(self, /) -> str: ...
    def active(self, /, class_: str | None = None) -> Fraction:
        """
        What counts as active, of one class or of all, percent of the material.

        >>> float(td.Catalogue.starter().material("capb-30").active("amphoteric-surfactant"))
        30.0
        """
    @property
    def active_convention(self, /) -> str | None:
        """
        What its active figure rests on.
        """
    @property
    def aliases(self, /) -> list[str]:
        """
        Unambiguous other names.
        """
    def attribute(self, /, name: str) -> Statement | None:
        """
        What is stated of "sulfate", "palm", "animal", "silicone" or "ethoxylated", for the whole or by its ingredients; None is unknown.

        >>> td.Catalogue.starter().material("scs-needles").attribute("sulfate").value
        True
        """
    @property
    def bound_water(self, /) -> Decimal | None:
        """
        Water held by starch, clay or hydrate that the composition does not list as water, percent.
        """
    @property
    def cautions(self, /) -> dict[str, str]:
        """
        Cautions for whoever handles it, each with what to do about it.
        """
    @property
    def certificate_changes(self, /) -> list[CertificateChange]:
        """
        What the lot's certificate changed against the typical material.
        """
    @property
    def constituents(self, /) -> list[Constituent]:
        """
        Ingredients; none for a premix, whose parts have their own.
        """
    @property
    def contained(self, /) -> list[Contained]:
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
    def form(self, /) -> str:
        """
        Powder, needles, flakes, granules, paste, liquid, oil or meltable-solid.
        """
    @property
    def has_typical(self, /) -> bool:
        """
        True where every share has a typical value.
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
        True where values are the starter catalogue's; output resting on them is a DRAFT.
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
    def lot_changes(self, /, lot: Lot) -> list[CertificateChange]:
        """
        What the certificate of a lot changes.

        >>> betaine = td.Catalogue.starter().material("capb-30")
        >>> [change.constituent for change in betaine.lot_changes(td.Lot("W-27", "capb-30", active=28, method="titrated"))]
        ['COCAMIDOPROPYL BETAINE', 'WATER']
        """
    @property
    def main_class(self, /) -> str:
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
        Share of natural origin in percent and its source, in the sense of ISO 16128-2 (from memory), where stated of the whole.
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
    def use_levels(self, /) -> list[UseLevel]:
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
class Measure:
    """
    A content over a content, each within a scope of lines. The module `measure` has them ready made.

    >>> td.Measure("water") == td.measure.water
    True
    >>> td.measure.cost.per(td.measure.active_matter).name
    'cost per active matter'
    """
    def __copy__(self, /) -> Measure: ...
    def __deepcopy__(self, memo: Any, /) -> Measure: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __getnewargs_ex__(self, /) -> tuple[tuple[str, str | None], dict[str, Any]]: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, content: str, of: str | None = None, *, scores: Mapping[str, SupportsFloat | str] | None = None, phase: str | None = None, group: str | None = None, lines: str | Iterable[str] | None = None, per: Measure | None = None) -> Measure:
        """
        As documents write it: a content, `of` what, counted in a phase, a group or lines only, `per` another measure.
        """
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def contributed_by(self, /, *, phase: str | None = None, group: str | None = None, lines: str | Iterable[str] | None = None) -> Measure:
        """
        Counting only what the lines of a phase, of a group, or named ones bring, over the whole formula.

        >>> td.measure.as_supplied.contributed_by(lines=["cetyl-alcohol", "stearic-acid"]).name
        'raw material as supplied from lines cetyl-alcohol, stearic-acid'
        """
    @property
    def is_ratio(self, /) -> bool:
        """
        True where the denominator is not the mass of the formula.
        """
    @property
    def name(self, /) -> str:
        """
        What it is called in tables and messages.
        """
    def per(self, /, other: Measure) -> Measure:
        """
        This content over the content of another measure: a ratio.

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
    def __repr__(self, /) -> str: ...
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
        The value; None where the denominator is 0 or something needed is not known.
        """
    @property
    def why_not(self, /) -> list[Any]:
        """
        Why there is no value, as faults.
        """

@final
class NetContent:
    """
    A net content in the words of the market.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
    @property
    def is_rounded(self, /) -> bool:
        """
        True where a number of the text was rounded down.
        """
    @property
    def source(self, /) -> str:
        """
        Where that comes from.
        """
    @property
    def text(self, /) -> str:
        """
        What the label says.
        """
    @property
    def tolerated_shortfall(self, /) -> Fraction | None:
        """
        By how many grams a single package may fall short; None outside the table.
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
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
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
        """

@final
class PhRange:
    """
    The pH range in which a raw material is stable.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
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
class Phase:
    """
    What is worked together, and at which temperature in °C where stated.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
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
class Pressed:
    """
    Bars as they came out of the press; masses in grams.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
    @property
    def highest(self, /) -> Fraction:
        """
        The heaviest.
        """
    @property
    def implied_process_loss(self, /) -> Fraction:
        """
        What did not become bars, percent of the mass weighed.
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
    def range(self, /) -> Fraction:
        """
        The heaviest less the lightest.
        """
    @property
    def sum(self, /) -> Fraction:
        """
        Their sum.
        """

@final
class PriceRange:
    """
    The price of a raw material and the range in which the recipe stays the same.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
    @property
    def high(self, /) -> Fraction | None:
        """
        The highest price; None where there is none.
        """
    @property
    def low(self, /) -> Fraction | None:
        """
        The lowest price; None where there is none.
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
class ProductType:
    """
    A product type of the SCCS Notes of Guidance, its columns as printed.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
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
    The linear program of a brief and the certificate of its outcome, exact. It holds for the compositions given, nothing else.

    >>> answer = td.Brief("Clay", td.Catalogue.starter()).qs("kaolin").solve()
    >>> answer.proof.outcome, answer.proof.verify()
    ('optimal', True)
    """
    def __copy__(self, /) -> Proof: ...
    def __deepcopy__(self, memo: Any, /) -> Proof: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
    @property
    def outcome(self, /) -> str:
        """
        "optimal" or "infeasible".
        """
    @property
    def rows(self, /) -> list[ProofMember]:
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
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
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
class Question:
    """
    One question of a draft, with the ways to answer it.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
    @property
    def allowed(self, /) -> str:
        """
        What a formula can take.
        """
    @property
    def choices(self, /) -> list[Choice]:
        """
        Ways to answer.
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
    def kind(self, /) -> str:
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
    def place(self, /) -> str:
        """
        Where: the line with what stands there, or the recipe.
        """

@final
class Reach:
    """
    How far a measure can go; an end is None where a ratio's denominator can be 0.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
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
    A pH as somebody read it in a dispersion: "1+9" is one part of product and nine of water by mass.

    >>> str(td.Reading(5.6, dilution="1+9", temperature=22))
    'pH 5.6 at 1+9 by mass, 22 °C'
    """
    def __copy__(self, /) -> Reading: ...
    def __deepcopy__(self, memo: Any, /) -> Reading: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __getnewargs_ex__(self, /) -> tuple[tuple[Decimal], dict[str, Any]]: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, value: SupportsFloat | str, *, dilution: str, temperature: SupportsFloat | str | None = None, method: str | None = None, on: str | None = None) -> Reading: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    @property
    def dilution(self, /) -> str:
        """
        Parts of product + parts of water by mass.
        """
    @property
    def method(self, /) -> str | None:
        """
        Instrument, water and so on, if stated.
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

@final
class Relaxation:
    """
    A change of one limit.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
    @property
    def limit(self, /) -> Fraction:
        """
        The limit as it is.
        """
    @property
    def sentence(self, /) -> str:
        """
        A sentence to act on, the limit rounded so that it does.
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
    def words(self, /) -> str:
        """
        What is changed, in the words of the brief.
        """

@final
class ScentDeclaration:
    """
    A supplier's allergen declaration for one raw material, percent of the material. What it does not name is declared to be absent, or at
    most the `reporting` limit.

    >>> declared = td.ScentDeclaration("lavender-oil", "supplier, 2026-03-02", {"LINALOOL": (30, 36), "d-limonene": 0.5}, reporting=0.01)
    >>> bar = td.Formula("Bar", {"kaolin": 99.4, "lavender-oil": 0.6}, td.Catalogue.starter())
    >>> label = bar.label(market="EU", on="2026-11-24", declarations=[declared], others_unscented=True)
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
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
    @property
    def answer(self, /) -> str:
        """
        "certain", "possible", "below" or "unknown".
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
    def percent(self, /) -> Interval | None:
        """
        Percent as charged, as far as it is known.
        """
    @property
    def required(self, /) -> bool:
        """
        Whether it has to be named at all on the date.
        """

@final
class Settled:
    """
    A draft that became a formula.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
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
class Statement:
    """
    What is said of a substance or raw material, and by whom.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
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
class Substance:
    """
    A pure constituent, as an ingredient list or a composition names it.

    >>> salt = td.Catalogue.starter().substance("sodium chloride")
    >>> salt.inci, salt.cas, salt.class_
    ('SODIUM CHLORIDE', ['7647-14-5'], 'salt')
    """
    def __copy__(self, /) -> Substance: ...
    def __deepcopy__(self, memo: Any, /) -> Substance: ...
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
    @property
    def annex_iii_entry(self, /) -> int | None:
        """
        Entry of Annex III of Regulation (EC) No 1223/2009 that asks for its declaration as a fragrance constituent.
        """
    def attribute(self, /, name: str) -> Statement | None:
        """
        What is stated of "sulfate", "palm", "animal", "silicone" or "ethoxylated"; None is unknown, never no.

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
    def class_(self, /) -> str:
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
    def volatility(self, /) -> str:
        """
        Whether it leaves on drying: "none", "water", "volatile" or "unknown".
        """

@final
class SubstanceCharge:
    """
    A charge: how it is reckoned, and the figure where there is one.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
    @property
    def kind(self, /) -> str:
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
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
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
class Table:
    """
    Rows that are also shown as a page: an index gives a row, a notebook shows the whole.

    >>> cat = td.Catalogue.starter()
    >>> rows = td.Formula("Half and half", {"sci-powder": 50, "kaolin": 50}, cat).expand()
    >>> rows[0].inci, len(rows) > 2
    ('KAOLIN', True)
    """
    def __getitem__(self, index: SupportsIndex, /) -> Any: ...
    def __len__(self, /) -> int: ...
    def __repr__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def page(self, /) -> Page:
        """
        The page that is shown.
        """

@final
class UseLevel:
    """
    A recommended use level, percent of the product as supplied.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
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
class Weighing:
    """
    A line to weigh; masses in grams.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
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

def fault_kinds() -> list[str]:
    """
    The stable names of every kind of fault.

    >>> "out-of-range" in td.fault_kinds()
    True
    """

def finished(*, moisture: SupportsFloat | str) -> Basis:
    """
    Dried to a residual moisture, percent of the finished product.

    >>> td.finished(moisture=5)
    finished(moisture=5)
    """

def product_types() -> list[ProductType]:
    """
    The product types of the SCCS Notes of Guidance that are carried, as printed.

    >>> [float(row.exposure_per_body_weight) for row in td.product_types() if row.slug == "shampoo"]
    [1.51]
    """

def scent_entries() -> dict[int, tuple[str, bool]]:
    """
    The scent constituents that labels in the European Union name: entry and name, newer ones from 2023 on marked true.

    >>> len(td.scent_entries()), td.scent_entries()[88]
    (80, ('LIMONENE', False))
    """
