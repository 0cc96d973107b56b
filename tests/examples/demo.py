"""The Python half of `cargo xtask demo`."""

import tenside as td

print(f"Python: tenside {td.__version__}, two sixteenths of a bar are {td.Exact('2/16')}")
