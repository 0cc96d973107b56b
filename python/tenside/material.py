"""What describes raw materials beside `Material`, `Lot` and `PriceList` themselves, and what can be looked up.

>>> import tenside as td
>>> [each.word for each in td.material.markets()]
['EU', 'US']
"""

from tenside._native import (
    CertificateChange,
    Constituent,
    Contained,
    ListedWord,
    PhRange,
    SearchHit,
    TableFault,
    UseLevel,
    attributes,
    cautions,
    classes,
    forms,
    markets,
    product_uses,
)

__all__ = [
    "CertificateChange",
    "Constituent",
    "Contained",
    "ListedWord",
    "PhRange",
    "SearchHit",
    "TableFault",
    "UseLevel",
    "attributes",
    "cautions",
    "classes",
    "forms",
    "markets",
    "product_uses",
]
