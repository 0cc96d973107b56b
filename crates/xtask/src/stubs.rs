//! The typed stub of the compiled half: made from the binding, committed.

use std::fs;

use crate::environment::Environment;
use crate::failure::{Failure, Outcome};
use crate::process::Program;
use crate::project;

const COMMITTED: &str = "python/tenside/_native.pyi";
const GENERATED: &str = "target/stubs";
/// What the binding cannot say of itself: that a table is one of rows of a class, of what others are iterators. In
/// which class, if in one, what is generated there, and what is written for it.
const MENDED: [(&str, &str, &str); 6] = [
    (
        "",
        "from typing import Any, Final, SupportsFloat, SupportsIndex, final\n",
        "from types import GenericAlias\nfrom typing import Any, Final, Generic, SupportsFloat, SupportsIndex, \
         TypeVar, final, overload\n\n_Row = TypeVar(\"_Row\")\n",
    ),
    ("class Catalogue:\n", "    def __iter__(self, /) -> Iterator", "    def __iter__(self, /) -> Iterator[Material]"),
    (
        "class PriceList:\n",
        "    def __iter__(self, /) -> Iterator: ...\n",
        "    def __iter__(self, /) -> Iterator[str]: ...\n",
    ),
    (
        "class Table:\n",
        "    def __getitem__(self, index: Any, /) -> Any:\n",
        "    @overload\n    def __getitem__(self, index: slice, /) -> Table[_Row]: ...\n    @overload\n    def \
         __getitem__(self, index: SupportsIndex, /) -> _Row:\n",
    ),
    (
        "class Table:\n",
        "    def __iter__(self, /) -> Iterator: ...\n",
        "    def __iter__(self, /) -> Iterator[_Row]: ...\n    def __class_getitem__(cls, key: Any) -> GenericAlias: \
         ...\n",
    ),
    ("", "class Table:\n", "class Table(Generic[_Row]):\n"),
];

/// What the generator leaves open, and how strict checkers want it said, wherever it stands.
const CLOSED: [(&str, &str); 6] = [
    ("tuple[Any, tuple]:", "tuple[Any, tuple[Any, ...]]:"),
    ("tuple[tuple, dict[str, Any]]:", "tuple[tuple[Any, ...], dict[str, Any]]:"),
    ("SupportsFloat | str | tuple]", "SupportsFloat | str | tuple[Any, ...]]"),
    ("numbers: \"tuple\"", "numbers: tuple[Any, ...]"),
    ("bool | Callable | None", "bool | Callable[[int, int], object] | None"),
    (") -> Table: ...", ") -> Table[Any]: ..."),
];

/// Writes the committed stub anew.
pub(crate) fn write() -> Outcome {
    generate(&Environment::for_tests()?, |maturin| maturin)?;
    let stub = whole()?;
    fs::write(project::at(COMMITTED), stub)
        .map_err(|error| Failure::new(format!("{COMMITTED} could not be written ({error})")))?;
    println!("{COMMITTED} is written; look at the difference before you commit it");
    Ok(())
}

/// The committed stub is what the binding gives now.
pub(crate) fn check(environment: &Environment) -> Outcome {
    generate(environment, Program::linting)?;
    let stub = whole()?;
    let committed = fs::read_to_string(project::at(COMMITTED)).unwrap_or_default().replace("\r\n", "\n");
    if committed == stub {
        return Ok(());
    }
    let line = committed.lines().zip(stub.lines()).take_while(|(old, new)| old == new).count() + 1;
    Err(Failure::new(format!(
        "{COMMITTED} differs from the binding from line {line} on; run `cargo xtask stubs` and commit it"
    )))
}

/// Reads off the binding what it gives, from a build like that of the Rust tests.
fn generate(environment: &Environment, told: impl FnOnce(Program) -> Program) -> Outcome {
    let maturin =
        environment.python().arguments(&["-m", "maturin", "generate-stubs", "--profile", "dev", "--interpreter"]);
    told(maturin.argument(environment.base()).argument("--out").argument(project::at(GENERATED))).run()
}

/// What was generated last, mended.
fn whole() -> Outcome<String> {
    let file = project::at(GENERATED).join("tenside/_native.pyi");
    let generated = fs::read_to_string(&file)
        .map_err(|error| Failure::new(format!("maturin left no stub in {} ({error})", file.display())))?;
    let stub = MENDED.iter().try_fold(generated, |stub, (class, plain, written)| {
        let from = stub.find(class).ok_or_else(|| {
            Failure::new(format!("the generated stub has no {class:?}; mend MENDED in crates/xtask/src/stubs.rs"))
        })?;
        let (before, rest) = stub.split_at(from);
        // A class ends where the next one is decorated.
        let (inside, after) =
            rest.split_at(if class.is_empty() { rest.len() } else { rest.find("\n@final\n").unwrap_or(rest.len()) });
        let found = inside.matches(plain).count();
        if found != 1 {
            return Err(Failure::new(format!(
                "the generated stub has {plain:?} {found} times, not once; mend MENDED in crates/xtask/src/stubs.rs"
            )));
        }
        Ok([before, &inside.replace(plain, written), after].concat())
    })?;
    let stub = CLOSED.iter().try_fold(stub, |stub, (open, closed)| {
        if stub.contains(open) {
            return Ok(stub.replace(open, closed));
        }
        Err(Failure::new(format!(
            "the generated stub has no {open:?} any more; mend CLOSED in crates/xtask/src/stubs.rs"
        )))
    })?;
    Ok(format!("{}\n", stub.trim_end()))
}
