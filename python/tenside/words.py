"""The closed lists of words, each a type: a checker of types knows a wrong word, and `typing.get_args` lists them.

Written from the core by `cargo xtask schemas`.

>>> from typing import get_args
>>> from tenside import words
>>> get_args(words.Market)
('EU', 'US')
"""

from typing import Literal, TypeAlias

__all__ = [
    "ActiveConvention",
    "Attribute",
    "Blend",
    "Bound",
    "Caution",
    "CaveatKind",
    "Certainty",
    "ChargeKind",
    "CheckKind",
    "Class",
    "Comparison",
    "ConstraintKind",
    "Contact",
    "CostBasis",
    "Criterion",
    "Crossing",
    "Decision",
    "Declaration",
    "Delimiter",
    "DesignKind",
    "Desired",
    "Direction",
    "Each",
    "Effect",
    "End",
    "FaceShape",
    "Fact",
    "FaultKind",
    "FigureUnit",
    "Fits",
    "Form",
    "ItemClass",
    "JudgedOn",
    "LineRole",
    "Mark",
    "Market",
    "MatchKind",
    "NameKind",
    "NoteKind",
    "Placing",
    "PointKind",
    "ProcessOrder",
    "ProductForm",
    "Purpose",
    "QuestionKind",
    "QuestionTopic",
    "ReadingOutcome",
    "Relation",
    "ResponseScale",
    "ResultUnit",
    "ScaleClass",
    "ScentAnswer",
    "ScentNames",
    "Search",
    "Severity",
    "Side",
    "SplitBasis",
    "Standing",
    "StatusKind",
    "StepKind",
    "Storage",
    "TableOf",
    "TestOutcome",
    "Use",
    "Verdict",
    "Volatility",
    "Winner",
]

ActiveConvention: TypeAlias = Literal["titrated", "solids less salt", "assay", "by difference"]
"""What a figure of active matter rests on."""

Attribute: TypeAlias = Literal["sulfate", "palm", "animal", "silicone", "ethoxylated"]
"""A yes-or-no property of an ingredient or raw material."""

Blend: TypeAlias = Literal["linear", "quadratic", "special-cubic", "full-cubic"]
"""Scheffé's canonical polynomials in the fractions of a mixture."""

Bound: TypeAlias = Literal["at_most", "below", "at_least", "above"]
"""What a limit asks for."""

Caution: TypeAlias = Literal[
    "irritant-dust",
    "nuisance-dust",
    "toxic",
    "toxic-by-inhalation",
    "reproductive-hazard",
    "corrosive",
    "eye-damage",
    "eye-irritant",
    "sensitising",
    "aspiration",
    "flammable",
    "environment",
    "heat-sensitive",
]
"""A caution for whoever handles the material. The H-phrases are those of the Globally Harmonized System that lead to it."""

CaveatKind: TypeAlias = Literal[
    "ionic-strength",
    "ion-pairing",
    "temperature",
    "substance",
    "unspecified",
    "other-solvent",
]
"""What a calculated pH is less certain for."""

Certainty: TypeAlias = Literal["possible", "typical-only", "certain"]
"""How certain a finding is, in rising order."""

ChargeKind: TypeAlias = Literal["neutral", "per mole", "per gram", "depends on pH", "unknown"]
"""How the charge of a substance is known."""

CheckKind: TypeAlias = Literal["mean", "short", "far-short"]
"""What a check of weights looks at."""

Class: TypeAlias = Literal[
    "anionic-surfactant",
    "amphoteric-surfactant",
    "nonionic-surfactant",
    "cationic-surfactant",
    "cationic-polymer",
    "soap",
    "fatty-acid",
    "fatty-alcohol",
    "ester",
    "oil-or-butter",
    "wax",
    "hydrocarbon",
    "silicone",
    "humectant",
    "protein",
    "vitamin",
    "water",
    "salt",
    "clay",
    "starch",
    "polymer",
    "mineral",
    "colourant",
    "preservative",
    "preservative-booster",
    "acid",
    "alkali",
    "buffer-salt",
    "chelant",
    "antioxidant",
    "solvent",
    "emulsifier",
    "essential-oil",
    "fragrance-constituent",
    "botanical",
    "scalp-active",
    "other",
    "unspecified",
]
"""The chemical or technical class of a constituent, as the trade sorts its shelf."""

Comparison: TypeAlias = Literal["<", "<=", ">", ">="]
"""How a column is compared with a value, as a program writes it."""

ConstraintKind: TypeAlias = Literal["line", "requirement", "split", "water-to-keep", "total"]
"""What a constraint is about."""

Contact: TypeAlias = Literal["rinse-off", "leave-on"]
"""Whether the product stays on skin and hair."""

CostBasis: TypeAlias = Literal["bar", "batch", "direct-costs"]
"""What a cost beside the raw materials is stated for."""

Criterion: TypeAlias = Literal["AICc", "PRESS"]
"""What models are compared by; less is better."""

Crossing: TypeAlias = Literal["added", "crossed"]
"""How the terms of process variables and of the mixture go together."""

Decision: TypeAlias = Literal["released", "rejected", "on-hold"]
"""What was decided of a batch."""

Declaration: TypeAlias = Literal["declared", "not-declared", "ask"]
"""Whether a supplier declares a constituent as an ingredient."""

Delimiter: TypeAlias = Literal["comma", "semicolon", "tab"]
"""What separates the cells of a row."""

DesignKind: TypeAlias = Literal[
    "simplex-lattice",
    "simplex-centroid",
    "axial",
    "extreme-vertices",
    "d-optimal",
    "i-optimal",
]
"""A kind of design."""

Desired: TypeAlias = Literal["larger", "smaller", "target"]
"""Which values of a property are wanted."""

Direction: TypeAlias = Literal["minimise", "maximise"]
"""Which way is better."""

Each: TypeAlias = Literal[
    "use-level-high",
    "use-level-low",
    "ph-window",
    "process-temperature",
    "heat-sensitive",
    "handling",
    "open-scent",
    "retest-date",
]
"""A check of each raw material against what is stated of it."""

Effect: TypeAlias = Literal["lowers", "raises"]
"""What an addition does to a pH."""

End: TypeAlias = Literal["low", "high", "both"]
"""Which end of what is asked."""

FaceShape: TypeAlias = Literal["round", "oval", "rectangular"]
"""The shape of a mould's face."""

Fact: TypeAlias = Literal["ph", "water-activity", "scent-limit", "phase-temperature"]
"""What is stated of a product besides its formula."""

FaultKind: TypeAlias = Literal[
    "out-of-range",
    "not-a-number",
    "syntax",
    "unknown-key",
    "unknown-name",
    "ambiguous-name",
    "duplicate",
    "missing",
    "contradiction",
    "unanswerable",
    "loop",
    "not-known",
    "question",
    "unsupported",
    "stopped",
    "no-memory",
]
"""What kind of fault it is."""

FigureUnit: TypeAlias = Literal["percent", "gram"]
"""What figures without a unit count."""

Fits: TypeAlias = Literal["weighable", "too-small", "too-large"]
"""Whether a line can be weighed."""

Form: TypeAlias = Literal["powder", "needles", "flakes", "granules", "paste", "liquid", "oil", "meltable-solid"]
"""How a raw material looks and handles."""

ItemClass: TypeAlias = Literal["ordered", "free", "colour"]
"""In which class of the list a name stands."""

JudgedOn: TypeAlias = Literal["every-basis", "as-charged", "finished-if-stated"]
"""On which bases a measure is judged."""

LineRole: TypeAlias = Literal["material", "heading", "columns", "total", "comment"]
"""What a line of a recipe is read as."""

Mark: TypeAlias = Literal["seen", "secondary", "computed", "from-memory", "common-practice", "stated"]
"""How a rule's value is known."""

Market: TypeAlias = Literal["EU", "US"]
"""A market whose lists are carried."""

MatchKind: TypeAlias = Literal["id", "name", "beginning", "word", "inside", "guess"]
"""How what was searched for stands in a name, from the surest on."""

NameKind: TypeAlias = Literal["id", "name", "alias", "inci", "label-name", "cas"]
"""What kind of name a raw material was found by."""

NoteKind: TypeAlias = Literal[
    "too-hot",
    "total-moved",
    "unusual-bar",
    "dries-further",
    "past-retest",
    "retest-not-compared",
    "rest-elsewhere",
    "rest-passed-on",
    "too-small",
    "rounds-to-nothing",
    "lot-changed",
    "lot-outside-range",
    "off-plan",
    "test-outside",
    "test-not-measured",
    "test-without-limit",
    "unaccounted",
    "not-weighed",
    "released-with-open-points",
]
"""What a note of a batch or of its record is about."""

Placing: TypeAlias = Literal["placed", "made-available"]
"""In which sense a product is on the market at the date of the review."""

PointKind: TypeAlias = Literal["vertex", "edge-centroid", "face-centroid", "centroid", "lattice-point", "axial-blend"]
"""Where in a region a point lies."""

ProcessOrder: TypeAlias = Literal["linear", "quadratic"]
"""How far a model follows process variables."""

ProductForm: TypeAlias = Literal["solid", "liquid"]
"""What a product is like: a bar dries, a liquid does not."""

Purpose: TypeAlias = Literal[
    "preservative",
    "anti-dandruff",
    "colour",
    "scent",
    "uv-filter",
    "ph-adjuster",
    "conditioning",
    "solvent",
    "other",
]
"""What a line is there for, as its maker states it. Some limits are those of one purpose only: salicylic acid that preserves has another one than salicylic acid against dandruff."""

QuestionKind: TypeAlias = Literal[
    "unreadable-line",
    "unknown-material",
    "unknown-lot",
    "ambiguous-material",
    "figure-in-name",
    "method-only",
    "optional-line",
    "amount-missing",
    "amount-unreadable",
    "amount-out-of-range",
    "approximate",
    "two-amounts",
    "decimal-mark",
    "range",
    "drops",
    "ounce",
    "volume-without-density",
    "active-figure",
    "same-material-twice",
    "qs-not-water",
    "qs-target",
    "several-qs",
    "unit-missing",
    "mixed-units",
    "batch-missing",
    "full-before-qs",
    "total-not-hundred",
    "total-disagrees",
]
"""What is asked."""

QuestionTopic: TypeAlias = Literal[
    "declaration",
    "unnamed-remainder",
    "no-typical-share",
    "position",
    "order-after-drying",
    "colour-name",
    "scent-possible",
    "scent-unknown",
    "entry-name",
    "reaction",
    "borderline",
]
"""What a question of a label is about."""

ReadingOutcome: TypeAlias = Literal["within", "outside", "not-measured", "no-limit"]
"""What the readings of a test come to."""

Relation: TypeAlias = Literal["answer", "as-made", "variant"]
"""How a formula came from its parent."""

ResponseScale: TypeAlias = Literal["measured", "ordered"]
"""What kind of numbers a measured property is of."""

ResultUnit: TypeAlias = Literal[
    "1",
    "pH",
    "score",
    "count",
    "%",
    "mm",
    "cm",
    "µm",
    "mL",
    "L",
    "mg",
    "g",
    "kg",
    "g/wash",
    "g/mL",
    "N",
    "N/mm",
    "kPa",
    "MPa",
    "mN/m",
    "mPa.s",
    "s",
    "min",
    "h",
    "days",
    "°C",
    "mmol/L",
    "NTU",
]
"""The unit of a measured property. Each property has one, for all runs."""

ScaleClass: TypeAlias = Literal["I", "II", "III", "IIII"]
"""An accuracy class of OIML R 76."""

ScentAnswer: TypeAlias = Literal["certain", "possible", "below", "unknown"]
"""How sure it is that a scent constituent is to be named."""

ScentNames: TypeAlias = Literal["own", "together"]
"""How oils and scent compounds stand in the list."""

Search: TypeAlias = Literal["by-cas-and-name", "by-name-only"]
"""How substances were looked up of which nothing was found."""

Severity: TypeAlias = Literal["error", "warning", "question", "information"]
"""How grave a finding is."""

Side: TypeAlias = Literal["at-lowest", "at-highest", "fixed"]
"""Which end binds."""

SplitBasis: TypeAlias = Literal["weight", "active", "mole"]
"""What a split's parts are parts of."""

Standing: TypeAlias = Literal["below", "typically-below", "not-below"]
"""How an upper bound stands to a threshold."""

StatusKind: TypeAlias = Literal[
    "prohibited",
    "limit",
    "condition",
    "trace",
    "label",
    "declaration",
    "colour",
    "hair-dye",
    "question",
    "pending",
    "none",
]
"""What an entry does with a substance, the gravest first."""

StepKind: TypeAlias = Literal[
    "melt",
    "blend-dry",
    "wet",
    "dissolve",
    "disperse",
    "knead",
    "add",
    "set-ph",
    "rest",
    "press",
    "fill",
    "chill",
    "set",
    "dry",
    "cure",
    "weigh-again",
]
"""What is done in a step."""

Storage: TypeAlias = Literal["wet", "dry"]
"""How the product is kept between uses."""

TableOf: TypeAlias = Literal["substances", "lots", "premixes"]
"""What the rows of a table are."""

TestOutcome: TypeAlias = Literal["accepted", "rejected", "second-sample", "no-test"]
"""What a test of weights came to."""

Use: TypeAlias = Literal[
    "rinse-off",
    "hair",
    "shampoo",
    "shampoo-bar",
    "conditioner",
    "conditioner-bar",
    "body",
    "cleansing-bar",
    "hand-wash",
    "face",
    "leave-on",
    "leave-on-hair",
    "leave-on-face",
    "leave-on-body",
    "oral",
]
"""What a product is used for. `rinse-off` covers everything that is rinsed off except in the mouth, `hair` a shampoo bar, and so on."""

Verdict: TypeAlias = Literal["rescued", "as-near-as-can-be", "throw-away"]
"""What can be done with a bowl."""

Volatility: TypeAlias = Literal["none", "water", "volatile", "unknown"]
"""Whether a constituent leaves on drying."""

Winner: TypeAlias = Literal["ours", "theirs", "neither"]
"""Which of two catalogues wins where both have something of the same name."""
