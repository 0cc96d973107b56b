//! The typed stub of the compiled half: made from the binding, committed.

use std::fs;

use crate::environment::Environment;
use crate::failure::{Failure, Outcome};
use crate::{project, wheel};

const COMMITTED: &str = "python/tenside/_native.pyi";
const GENERATED: &str = "target/stubs";
/// What the binding cannot say of itself: that a table is one of rows of a class. Each stands in the generated stub once.
const OF_ROWS: [(&str, &str); 4] = [
    (
        "from typing import Any, Final, SupportsFloat, SupportsIndex, final\n",
        "from types import GenericAlias\nfrom typing import Any, Final, Generic, SupportsFloat, SupportsIndex, TypeVar, final, overload\n\n_Row = TypeVar(\"_Row\")\n",
    ),
    ("class Table:\n", "class Table(Generic[_Row]):\n"),
    (
        "    def __getitem__(self, index: Any, /) -> Any:\n",
        "    @overload\n    def __getitem__(self, index: slice, /) -> Table[_Row]: ...\n    @overload\n    def __getitem__(self, index: SupportsIndex, /) -> _Row:\n",
    ),
    (
        "    def __iter__(self, /) -> Iterator: ...\n",
        "    def __iter__(self, /) -> Iterator[_Row]: ...\n    def __class_getitem__(cls, key: Any) -> GenericAlias: ...\n",
    ),
];

/// Writes the committed stub anew.
pub(crate) fn write() -> Outcome {
    let stub = whole(&Environment::for_tests()?)?;
    fs::write(project::at(COMMITTED), stub).map_err(|error| Failure::new(format!("{COMMITTED} could not be written ({error})")))?;
    println!("{COMMITTED} is written; look at the difference before you commit it");
    Ok(())
}

/// The committed stub is what the binding gives now.
pub(crate) fn check(environment: &Environment) -> Outcome {
    let stub = whole(environment)?;
    let committed = fs::read_to_string(project::at(COMMITTED)).unwrap_or_default().replace("\r\n", "\n");
    if committed == stub {
        return Ok(());
    }
    let line = committed.lines().zip(stub.lines()).take_while(|(old, new)| old == new).count() + 1;
    Err(Failure::new(format!("{COMMITTED} differs from the binding from line {line} on; run `cargo xtask stubs` and commit it")))
}

fn whole(environment: &Environment) -> Outcome<String> {
    let folder = project::at(GENERATED);
    let maturin = environment.python().arguments(&["-m", "maturin", "generate-stubs", "--profile", "release", "--interpreter"]);
    maturin.argument(environment.base()).argument("--out").argument(&folder).variable("CARGO_ENCODED_RUSTFLAGS", wheel::flags()).run()?;
    let file = folder.join("tenside/_native.pyi");
    let generated = fs::read_to_string(&file).map_err(|error| Failure::new(format!("maturin left no stub in {} ({error})", file.display())))?;
    let stub = OF_ROWS.iter().try_fold(generated, |stub, (plain, of_rows)| {
        let found = stub.matches(plain).count();
        if found != 1 {
            return Err(Failure::new(format!("the generated stub has {plain:?} {found} times, not once; mend OF_ROWS in crates/xtask/src/stubs.rs")));
        }
        Ok(stub.replace(plain, of_rows))
    })?;
    Ok(format!("{}\n", stub.trim_end()))
}
