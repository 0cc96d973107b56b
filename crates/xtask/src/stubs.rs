//! The typed stub of the compiled half: made from the binding, completed by a short list, committed.

use std::fs;

use crate::environment::Environment;
use crate::failure::{Failure, Outcome};
use crate::{project, wheel};

const COMMITTED: &str = "python/tenside/_native.pyi";
/// Definitions that the generator cannot see; they are put after what it makes. The file may be absent.
const COMPLETION: &str = "crates/tenside-py/completion.pyi";
const GENERATED: &str = "target/stubs";

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
    completed(generated.trim_end(), &fs::read_to_string(project::at(COMPLETION)).unwrap_or_default())
}

fn completed(generated: &str, completion: &str) -> Outcome<String> {
    let known: Vec<&str> = generated.lines().filter_map(defined).collect();
    if let Some(name) = completion.lines().filter_map(defined).find(|name| known.contains(name)) {
        return Err(Failure::new(format!("{COMPLETION} defines {name}, which the generator makes now; remove it there")));
    }
    let completion = completion.trim();
    Ok(if completion.is_empty() { format!("{generated}\n") } else { format!("{generated}\n\n{completion}\n") })
}

/// The name that a line at the outermost level defines.
fn defined(line: &str) -> Option<&str> {
    let is_name = |c: char| c.is_alphanumeric() || c == '_';
    if !line.starts_with(is_name) {
        return None;
    }
    let rest = ["class ", "def ", "async def "].iter().find_map(|word| line.strip_prefix(word));
    let (text, needs_colon) = rest.map_or((line, true), |rest| (rest, false));
    let end = text.find(|c| !is_name(c)).unwrap_or(text.len());
    (!needs_colon || text[end..].starts_with(':')).then_some(&text[..end])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_those_at_the_outermost_level() {
        assert_eq!(defined("class Exact:"), Some("Exact"));
        assert_eq!(defined("def solve(brief: Brief) -> Answer: ..."), Some("solve"));
        assert_eq!(defined("__version__: Final[str]"), Some("__version__"));
        for line in ["    def __str__(self) -> str: ...", "@final", "from typing import final", "\"\"\"", "", "__all__ = []"] {
            assert_eq!(defined(line), None, "{line}");
        }
    }

    #[test]
    fn the_completion_follows_and_repeats_nothing() {
        let generated = "class Exact:\n    def __str__(self) -> str: ...";
        assert_eq!(completed(generated, "").unwrap(), format!("{generated}\n"));
        assert_eq!(completed(generated, "\ndigits: int\n").unwrap(), format!("{generated}\n\ndigits: int\n"));
        assert!(completed(generated, "class Exact: ...").unwrap_err().to_string().contains("Exact"));
    }
}
