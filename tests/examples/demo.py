"""The Python half of `cargo xtask demo`."""

import tenside as td

answer = td.Brief("Plain bar", td.Catalogue.starter()).fix("sci-powder", 60).between("cetyl-alcohol", 3, 6).qs("kaolin").solve()
print(f"Python: tenside {td.__version__}")
print(answer)
