//! No files use each other in a circle.

use std::collections::{BTreeMap, BTreeSet};

use super::files::File;
use super::finding::Finding;
use super::paths::paths;
use super::tables::WITHOUT_CIRCLES;
use super::tokens::{Token, tokens, without_tests};

pub(super) fn check(files: &[File]) -> Vec<Finding> {
    let found = |folder: &&str| {
        let finding = |circle: BTreeSet<&str>| {
            let named: Vec<&str> = circle.into_iter().collect();
            let sentence =
                format!("files use each other in a circle: {}; part what both need from both", named.join(" "));
            Finding::new(folder, 1, sentence)
        };
        circles(&uses(files, folder)).into_iter().map(finding).collect::<Vec<_>>()
    };
    WITHOUT_CIRCLES.iter().flat_map(found).collect()
}

/// Which files of a crate each of its files names, by a `use` or by a path in code. A name that a module only hands on
/// is followed once to where it comes from, and handing on is no use.
fn uses<'f>(files: &'f [File], folder: &str) -> BTreeMap<&'f str, BTreeSet<&'f str>> {
    let of_code = files.iter().filter(|file| file.has_ending("rs") && !file.path.ends_with("tests.rs"));
    let own: Vec<(&str, Module, Vec<Token>)> = of_code
        .filter_map(|file| Some((file.path.as_str(), module(file.below(folder)?), without_tests(&tokens(&file.text)))))
        .collect();
    let by_module: BTreeMap<&[String], &str> = own.iter().map(|(path, module, _)| (module.as_slice(), *path)).collect();
    let handed_on: BTreeMap<&[String], Vec<Module>> = own
        .iter()
        .map(|(_, module, tokens)| {
            (module.as_slice(), part(tokens).0.iter().filter_map(|path| absolute(path, module)).collect())
        })
        .collect();
    let mut found = BTreeMap::new();
    for (path, here, tokens) in &own {
        let named: BTreeSet<&str> = part(tokens)
            .1
            .iter()
            .filter_map(|path| absolute(path, here))
            .filter_map(|path| home(&path, &by_module, &handed_on))
            .collect();
        found.insert(*path, named.into_iter().filter(|other| other != path).collect());
    }
    found
}

type Module = Vec<String>;

/// `number/mod.rs` is `number`, `number/exact.rs` is `number`, `exact`, `lib.rs` is the root.
fn module(below: &str) -> Module {
    let path = below.trim_end_matches(".rs").trim_end_matches("/mod");
    if path == "lib" { Vec::new() } else { path.split('/').map(String::from).collect() }
}

/// The paths that a file hands on with `pub use`, and all others.
fn part(tokens: &[Token]) -> (Vec<Module>, Vec<Module>) {
    let (mut handed_on, mut used) = (Vec::new(), Vec::new());
    let tokens = without_scopes(tokens);
    let mut rest = &tokens[..];
    while !rest.is_empty() {
        let length = rest.iter().position(|token| token.is_mark(';')).map_or(rest.len(), |end| end + 1);
        let statement = &rest[..length];
        // `pub use ...;` at the end of what stands before the semicolon.
        let start = statement.iter().rposition(|token| token.word() == Some("use"));
        let public = start.filter(|at| statement[..*at].last().is_some_and(|token| token.word() == Some("pub")));
        let all = |tokens: &[Token]| paths(tokens).into_iter().map(|path| path.segments).collect::<Vec<_>>();
        match public {
            Some(at) => {
                used.extend(all(&statement[..at]));
                handed_on.extend(all(&statement[at..]));
            }
            None => used.extend(all(statement)),
        }
        rest = &rest[length..];
    }
    (handed_on, used)
}

/// The same tokens with `pub` alone for `pub(crate)` and the like, which name a scope and use nothing.
fn without_scopes(tokens: &[Token]) -> Vec<Token> {
    let mut kept: Vec<Token> = Vec::new();
    let mut in_scope = false;
    for token in tokens {
        in_scope = if in_scope {
            !token.is_mark('}')
        } else {
            token.is_mark('{') && kept.last().is_some_and(|last| last.word() == Some("pub"))
        };
        if !(in_scope || token.is_mark('}') && kept.last().is_some_and(|last| last.word() == Some("pub"))) {
            kept.push(token.clone());
        }
    }
    kept
}

/// A path from the root of the crate, if it is one that starts at `crate`, `super`, `self` or a module below this one.
fn absolute(path: &[String], here: &[String]) -> Option<Module> {
    let first = path.first()?.as_str();
    let climbs = path.iter().take_while(|segment| *segment == "super").count();
    let (base, rest) = match first {
        "crate" => (&here[..0], &path[1..]),
        "self" => (here, &path[1..]),
        "super" => (here.get(..here.len().checked_sub(climbs)?)?, &path[climbs..]),
        _ if path.len() > 1 => (here, path),
        _ => return None,
    };
    (!rest.is_empty()).then(|| base.iter().chain(rest).cloned().collect())
}

/// The file in which a path ends.
fn home<'f>(
    path: &[String],
    by_module: &BTreeMap<&[String], &'f str>,
    handed_on: &BTreeMap<&[String], Vec<Module>>,
) -> Option<&'f str> {
    let depth = (1..=path.len()).rev().find(|depth| by_module.contains_key(&path[..*depth]))?;
    let (module, rest) = path.split_at(depth);
    let comes_from = rest.first().and_then(|name| handed_on[module].iter().find(|from| from.last() == Some(name)));
    match comes_from {
        Some(from) => (1..from.len()).rev().find_map(|depth| by_module.get(&from[..depth])).copied(),
        None => by_module.get(module).copied(),
    }
}

/// Groups of files each of which reaches all others of its group.
fn circles<'f>(uses: &BTreeMap<&'f str, BTreeSet<&'f str>>) -> Vec<BTreeSet<&'f str>> {
    let reach = |from: &'f str| {
        let (mut found, mut open) = (BTreeSet::new(), vec![from]);
        while let Some(file) = open.pop() {
            open.extend(uses.get(file).into_iter().flatten().filter(|next| found.insert(**next)));
        }
        found
    };
    let reached: BTreeMap<&str, BTreeSet<&str>> = uses.keys().map(|file| (*file, reach(file))).collect();
    let circle = |file: &'f str| {
        reached[file]
            .iter()
            .copied()
            .filter(|other| reached.get(other).is_some_and(|back| back.contains(file)))
            .collect()
    };
    let all: BTreeSet<BTreeSet<&str>> = uses.keys().map(|file| circle(file)).collect();
    all.into_iter().filter(|circle| circle.len() > 1).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(files: &[(&str, &str)]) -> Vec<Vec<String>> {
        let files: Vec<File> = files.iter().map(|(path, text)| File::new(&format!("a/{path}"), text)).collect();
        circles(&uses(&files, "a")).iter().map(|circle| circle.iter().map(ToString::to_string).collect()).collect()
    }

    #[test]
    fn a_circle_is_found_through_code_and_what_is_handed_on() {
        let files = [
            ("lib.rs", "pub mod x; pub use x::One;"),
            ("x/mod.rs", "mod one; mod two; pub use one::One; pub(crate) use two::Two;"),
            ("x/one.rs", "use super::Two; pub struct One;"),
            ("x/two.rs", "pub(in crate::x) struct Two(pub(super) u8); fn f() -> crate::x::One { crate::x::one::One }"),
            ("x/three.rs", "use super::{One, Two};"),
        ];
        assert_eq!(found(&files), [["a/x/one.rs", "a/x/two.rs"]]);
    }

    #[test]
    fn what_goes_one_way_is_no_circle() {
        let files = [
            ("x/mod.rs", "mod one; pub use one::One; pub struct Own;"),
            ("x/one.rs", "use super::Own; pub struct One;"),
            ("y.rs", "use crate::x::One;"),
        ];
        assert!(found(&files).is_empty());
        let files = [("x/mod.rs", "mod one; fn f() -> one::One { todo() }"), ("x/one.rs", "use super::f;")];
        assert_eq!(found(&files).len(), 1);
    }
}
