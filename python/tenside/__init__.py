"""Formulas of solid shampoos and other surfactant products, worked exactly.

Here stands what a script starts from. What comes of it, and whatever belongs to one subject, stands in a module named as
its room: `td.solve.Answer`, `td.cost.Offers`, `td.batch.Weights`, `td.trial.TrialLog`; every error in `td.errors`.

>>> import tenside as td
>>> from tenside import measure as m
>>> brief = td.Brief("Plain bar", td.Catalogue.starter()).fix("sci-powder", 60).between("cetyl-alcohol", 3, 6).qs("kaolin")
>>> answer = brief.at_most(m.water, 9).solve()
>>> answer.verify()
True
"""

from tenside import _native
from tenside._native import (
    Brief,
    Catalogue,
    Draft,
    Formula,
    Line,
    Lot,
    Material,
    PriceList,
    Product,
    Reading,
    Substance,
    Sweep,
    __version__,
    axis,
    finished,
    geomspace,
    lattice,
    linspace,
    read,
)

# As `typing` has it, which would take longer to import than all the rest.
TYPE_CHECKING = False
if TYPE_CHECKING:
    from tenside import batch as batch
    from tenside import brief as brief
    from tenside import cost as cost
    from tenside import document as document
    from tenside import errors as errors
    from tenside import exposure as exposure
    from tenside import formula as formula
    from tenside import label as label
    from tenside import material as material
    from tenside import measure as measure
    from tenside import ph as ph
    from tenside import review as review
    from tenside import solve as solve
    from tenside import substance as substance
    from tenside import sweep as sweep
    from tenside import trial as trial
    from tenside import words as words
    from tenside.errors import TensideError
    from tenside.explorer import explore
    from tenside.files import (
        read_brief,
        read_catalogue,
        read_catalogue_csv,
        read_document,
        read_draft,
        read_formula,
        read_prices,
        read_prices_csv,
        read_rules,
        write,
    )

as_charged = _native.Basis()
"""What was weighed in: the basis of a measure unless another is named."""

__all__ = [
    "Brief",
    "Catalogue",
    "Draft",
    "Formula",
    "Line",
    "Lot",
    "Material",
    "PriceList",
    "Product",
    "Reading",
    "Substance",
    "Sweep",
    "TensideError",
    "__version__",
    "as_charged",
    "axis",
    "explore",
    "finished",
    "geomspace",
    "lattice",
    "linspace",
    "read",
    "read_brief",
    "read_catalogue",
    "read_catalogue_csv",
    "read_document",
    "read_draft",
    "read_formula",
    "read_prices",
    "read_prices_csv",
    "read_rules",
    "write",
]

if not TYPE_CHECKING:
    # What is imported when it is first asked for, so that a script waits only for what it uses. Checkers of types do
    # not see this, so that they know a wrong name.
    _ROOMS = (
        "batch",
        "brief",
        "cost",
        "document",
        "errors",
        "exposure",
        "formula",
        "label",
        "material",
        "measure",
        "ph",
        "review",
        "solve",
        "substance",
        "sweep",
        "trial",
        "words",
    )
    _ELSEWHERE = {
        "TensideError": "errors",
        "explore": "explorer",
        "read_brief": "files",
        "read_catalogue": "files",
        "read_catalogue_csv": "files",
        "read_document": "files",
        "read_draft": "files",
        "read_formula": "files",
        "read_prices": "files",
        "read_prices_csv": "files",
        "read_rules": "files",
        "write": "files",
    }

    def __getattr__(name):
        from importlib import import_module

        if name in _ROOMS:
            return import_module(f"tenside.{name}")
        if name in _ELSEWHERE:
            value = getattr(import_module(f"tenside.{_ELSEWHERE[name]}"), name)
            globals()[name] = value
            return value
        message = f"the module 'tenside' has no {name!r}"
        if not name.startswith("_"):
            found = [room for room in _ROOMS if name in import_module(f"tenside.{room}").__all__]
            message += f"; it is tenside.{found[0]}.{name}" if found else ""
        raise AttributeError(message, name=name)

    def __dir__():
        return sorted({*globals(), *__all__, *_ROOMS})
