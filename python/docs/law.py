"""What the embedded lists of law cover and what not, and what they say of each substance, counted from the data."""

import tenside as td

MARKETS = ("EU", "US")
HEAD = """# What is known of each substance

Of every substance of the table the gravest that an entry of the embedded lists does with it. **Where no entry was found, that is no clearance**,
and "not looked up" is what it says. In Python: {py:class}`tenside.substance.SubstanceStatus`; counted list by list: [what is covered](coverage.md).

"""


def said(inci: str, market: str) -> str:
    status = td.substance.SubstanceStatus.of(inci, market=market)
    return status.kind or {
        "by-cas-and-name": "none found by CAS number and name",
        "by-name-only": "none found by name only",
    }.get(status.searched, status.searched)


def pages() -> dict[str, str]:
    rows = [f"| {' | '.join(('substance', *MARKETS))} |", "| :-- | :-- | :-- |"]
    for inci in sorted(each.inci for each in td.Catalogue.starter().substances()):
        rows.append(f"| {' | '.join((inci, *(said(inci, market) for market in MARKETS)))} |")
    return {
        "law/coverage.md": td.review.RuleList.coverage().markdown() + "\n",
        "law/substances.md": HEAD + "\n".join(rows) + "\n",
    }
