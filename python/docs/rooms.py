"""The public names by room, in the order in which somebody meets them.

What a script starts from stands at the top of the package (`tenside.__all__`), everything else in the module of its room:
`tests/python/test_guide.py` compares them.
"""

ROOMS = {
    "materials": (
        "material",
        "Raw materials, lots and prices",
        "What comes in the drum. Start with `Catalogue`; a `Lot` is one delivery with its certificate, a `PriceList` what a kilogram costs.",
        "Catalogue SearchHit TableFault Material Constituent Contained UseLevel PhRange Lot CertificateChange PriceList "
        "ListedWord forms classes attributes cautions markets product_uses",
    ),
    "substances": (
        "substance",
        "Substances and what the law says of them",
        "A pure constituent, as an ingredient list names it, with what the embedded lists of law know of it.",
        "Substance SubstanceCharge SubstanceMolarMass SubstanceStatus StatusEntry Statement",
    ),
    "formulas": (
        "formula",
        "Formulas and recipes as written",
        "A `Formula` sums to exactly 100 %. A `Draft` is a recipe as somebody wrote it, with the questions that are open.",
        "Formula Line Phase ExpandedRow Difference DifferenceLine Parent history HistoryEntry "
        "Draft DraftLine Question Choice Settled DraftDeparture dough_share DoughShares Dough DoughTrial",
    ),
    "measures": (
        "measure",
        "Measures",
        "What can be read off a formula, asked of a brief and followed through a sweep. The module [measure](measure.md) has them ready made.",
        "Measure Basis as_charged finished Measured Interval",
    ),
    "briefs": (
        "brief",
        "Briefs",
        "The question: lines, splits, requirements and an objective.",
        "Brief BriefRow BriefSplit BriefRequirement Constraint Reach Corners Samples SolutionPath PathRegion explore",
    ),
    "answers": (
        "solve",
        "Answers, conflicts and roundings",
        "What comes of a brief: an `Answer` with its proof, or a `Conflict` with what each requirement would have to give.",
        "Answer Proof ProofMember Binding Departure GridRefusal LimitRange PriceRange ParameterRange RobustnessPrice RequirementPrice "
        "Conflict Relaxation Steps Rounded RoundedDeparture FinerLines Unmet Chosen "
        "Substitution Kept LineChange Candidates Candidate PassedOver",
    ),
    "sweeps": (
        "sweep",
        "Sweeps",
        "Many formulas at once, as tables that any library with Arrow takes.",
        "axis lattice linspace geomspace Axis Sweep SweepTable SweepPart KeptRow SweepHistogram AxisValueSummary StreamPart StreamResult",
    ),
    "batches": (
        "batch",
        "Batches, sheets and records",
        "From percent to grams, and what was really made.",
        "Batch Weighing BarMasses BatchNote PreDilution Sheet Pressed Made MadeLine MassBalance Rescue Addition Shortfall "
        "BatchRecord Step ProductTest TestResult RecordNote Records LotInBatch",
    ),
    "bars": (
        "batch",
        "Bars: weights, drying, moulds, scales and use",
        "What comes out of the press and leaves the shop.",
        "Weights WeightTest WeightCheck TargetFill AcceptRates DryingCurve DriedBar ReadyBar DayWeight Mould MouldedBar "
        "Portions Portioned VerifiedScale Weighable WeighableLine UseUp BarUse",
    ),
    "costs": (
        "cost",
        "Costs, offers and stock",
        "Exact, in one currency. Search for the cheapest packs and the best use of what is on the shelf.",
        "Costing LineCost ExtraCost price_from_margin price_from_markup break_even price_effects PriceEffect "
        "Offers Supplier Pack PackPrice Stock StockLot PlannedBatch purchase Purchase Order OrderRow MaterialPurchase LotUse "
        "BarsFromStock MaterialInStock PlannedProduct ProductMix MixRow MixMaterial",
    ),
    "trials": (
        "trial",
        "Trials: designs, logs, models and mixed micelles",
        "Which bars to press, what was measured on them, and what it teaches. Start with `Brief.design` and a `TrialLog`.",
        "Design DesignedRun BriefRegion TrialLog TrialRun Response RankSummary RankedBlend FittedModel FittedTerm FittedRun AnovaRow LackOfFit "
        "AliasedTerm Prediction ModelChoice ModelCandidate BestOnModel Desirability DesiredResponse MostDesirable "
        "MixedMicelles MixedSurfactant MicelleInteraction InteractionPair FormulaMicelles Dispersed next_trial Proposal",
    ),
    "ph": (
        "ph",
        "pH",
        "A reading rules. What is calculated is the pH of watery solutions without surfactant.",
        "Reading PhWindow PhWindowRow PhDistance Undissociated Titration Adjustment Portion Acid AcidForm Solution Equilibrium Caveat",
    ),
    "reviews": (
        "review",
        "Reviews and rules",
        "A formula compared with dated lists. Nothing here approves anything.",
        "Product Review Finding Unchecked Reviewer Flag RuleList Rule",
    ),
    "labels": (
        "label",
        "Labels",
        "What goes on the label in a market on a day.",
        "Label LabelItem LabelQuestion LabelCheck LeftOut ScentDeclaration ScentRow KeepsOff scent_entries NetContent",
    ),
    "exposures": (
        "exposure",
        "Exposure",
        "How much of a substance a user takes up, by the guidance for cosmetic products.",
        "Exposure ProductType product_types",
    ),
    "documents": (
        "document",
        "Documents, tables and pages",
        "How things leave and come back. The formats stand in [the file formats](../formats/index.md).",
        "read read_document read_catalogue read_catalogue_csv read_brief read_formula read_draft read_prices read_prices_csv read_rules write "
        "Table Page __version__",
    ),
    "errors": (
        "errors",
        "Errors",
        "Every error says the place, the value, what is allowed and the way out, and carries them as `faults`.",
        "TensideError Fault AmbiguousName Contradiction Duplicate Missing NoFormula NoMemory NotANumber NotKnown OpenQuestion OutOfRange "
        "PremixLoop Stopped SyntaxFault Unanswerable UnknownName Unsupported",
    ),
}
"""Of each page the module that holds what does not stand at the top, its title, a sentence, and its names."""


def names() -> list[str]:
    """Every name, in order."""
    return [name for *_, row in ROOMS.values() for name in row.split()]
