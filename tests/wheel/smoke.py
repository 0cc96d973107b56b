"""What an installed wheel must do: `python tests/wheel/smoke.py`, with the package installed and nothing else."""

import importlib.metadata
import importlib.resources
import sys

import tenside as td
from tenside import measure as m

brief = (
    td.Brief("Plain bar", td.Catalogue.starter(), prices={"sci-powder": 6.4, "capb-30": 2.9, "kaolin": 1.9, "cetyl-alcohol": 4.8})
    .split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash")
    .between("cetyl-alcohol", 3, 6)
    .qs("kaolin")
    .target(m.active_matter, 50)
    .minimise(m.cost)
)  # fmt: skip
answer = brief.solve()
assert answer.verify()
assert td.read(answer.to_json()) == answer
batch = answer.formula.batch(bars=24, net="60 g", drying_loss=8, readability="0.1 g")
assert "<table" in batch.sheet().html
outcome = brief.at_most(m.water, 1).try_solve()
assert isinstance(outcome, td.solve.Conflict) and outcome.relaxations()
try:
    td.finished(moisture=120)
except td.errors.OutOfRange as error:
    assert error.faults[0].kind == "out-of-range"
else:
    raise AssertionError("a moisture of 120 % was taken")

files = importlib.resources.files("tenside")
for name in ("py.typed", "_native.pyi", "schema/brief.json"):
    assert files.joinpath(name).is_file(), name
metadata = importlib.metadata.metadata("tenside")
assert metadata["Version"] == td.__version__
assert metadata["License-Expression"] == "MIT OR Apache-2.0"
assert len(metadata.get_all("License-File")) == 2
assert set(metadata.get_all("Provides-Extra")) == {"plot", "explore", "cluster", "trials", "notebooks"}
print(f"tenside {td.__version__} works with Python {sys.version_info.major}.{sys.version_info.minor}")
