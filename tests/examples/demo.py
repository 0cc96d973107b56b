"""The Python half of `cargo xtask demo`: the same brief, the same answer to the last digit."""

import pathlib

import tenside as td
from tenside import measure as m

text = (pathlib.Path(__file__).parents[2] / "notebooks" / "harbour-swim-bar.toml").read_text(encoding="utf-8")
brief = td.Brief.from_toml(text, td.Catalogue.starter())
answer = brief.solve()
answer.verify()

print("\nFrom Python, the same brief:")
for name, percent in answer.exact.items():
    print(f"  {name:<36} {str(percent):>12} = {float(percent):9.4f} %")
print(f"  cost {answer.formula.measure(m.cost).text()}")
