//! What is absent from the core: Python, `unsafe`, input and output, printing, the clock, global state, floats in a proof.

use super::files::File;
use super::finding::Finding;
use super::paths::{NamedPath, paths};
use super::tables::{CORE, EMBEDDED_DATA, WITHOUT_FLOATS};
use super::tokens::{Kind, Token, tokens, without_tests};

const MANIFEST: &str = "crates/tenside/Cargo.toml";
/// Paths and why they are absent.
const PATHS: &[(&[&str], &str)] = &[
    (&["pyo3"], "there is no Python in the core; put it into crates/tenside-py"),
    (&["std", "fs"], "the core reads given text only; let the caller open files"),
    (&["std", "net"], "the core reaches no network"),
    (&["std", "env"], "the core reads no environment; take it as an argument"),
    (&["std", "process"], "the core starts and ends no process"),
    (&["std", "io", "stdin"], "the core reads given text only"),
    (&["std", "io", "stdout"], "the core prints nothing; give text back"),
    (&["std", "io", "stderr"], "the core prints nothing; give text back"),
];
/// Names that are wrong wherever they stand.
const WORDS: &[(&str, &str)] = &[
    ("unsafe", "there is no unsafe code in the core"),
    ("SystemTime", "the core reads no clock; take the date as an argument"),
    ("Instant", "the core reads no clock; measure outside"),
    ("thread_local", "the core keeps no global state; pass the value on"),
    ("lazy_static", "the core keeps no global state; pass the value on"),
];
const MACROS: &[&str] = &["println", "print", "eprintln", "eprint", "dbg"];
const KEPT: &[&str] = &["OnceLock", "OnceCell", "LazyLock", "LazyCell"];

pub(super) fn check(files: &[File]) -> Vec<Finding> {
    let mut findings = Vec::new();
    for file in files {
        if file.path == MANIFEST && file.text.contains("pyo3") {
            findings.push(Finding::new(&file.path, 1, "there is no Python in the core; the binding depends on it, not it on the binding"));
        }
        // A file of tests alone may do what tests do.
        if file.below(CORE).is_some() && file.has_ending("rs") && !file.path.ends_with("/tests.rs") {
            findings.extend(check_code(file));
        }
    }
    findings
}

fn check_code(file: &File) -> Vec<Finding> {
    let tokens = without_tests(&tokens(&file.text));
    let mut findings: Vec<Finding> = paths(&tokens).iter().filter_map(|path| Some(Finding::new(&file.path, path.line, forbidden_path(path)?))).collect();
    let keeps_data = EMBEDDED_DATA.contains(&file.path.as_str());
    let without_floats = WITHOUT_FLOATS.iter().any(|folder| file.below(folder).is_some() || file.path == format!("{folder}.rs"));
    for (at, token) in tokens.iter().enumerate() {
        let sentence = forbidden_word(token, tokens.get(at + 1), keeps_data).or_else(|| {
            let is_float = token.kind == Kind::Float || token.is_word("f32") || token.is_word("f64");
            (without_floats && is_float).then_some("a proof rests on this code; work with exact numbers, and keep floats in a file outside it")
        });
        findings.extend(sentence.map(|sentence| Finding::new(&file.path, token.line, sentence)));
    }
    findings
}

fn forbidden_path(path: &NamedPath) -> Option<&'static str> {
    if path.segments.len() > 1 && path.segments.last().is_some_and(|last| last == "now") {
        return Some("the core reads no clock; take the date as an argument");
    }
    PATHS.iter().find(|(wanted, _)| path.starts_with(wanted)).map(|(_, why)| *why)
}

fn forbidden_word(token: &Token, next: Option<&Token>, keeps_data: bool) -> Option<&'static str> {
    let word = token.word()?;
    let is_macro = next.is_some_and(|next| next.is_mark('!'));
    if word == "static" && next.is_some_and(|next| next.is_word("mut")) {
        return Some("the core keeps no global state; pass the value on");
    }
    if MACROS.contains(&word) && is_macro {
        return Some("the core prints nothing; give text back");
    }
    if KEPT.contains(&word) && !keeps_data {
        return Some("only embedded data is kept, in the files of EMBEDDED_DATA in crates/xtask/src/tidy/tables.rs");
    }
    WORDS.iter().find(|(wanted, _)| *wanted == word).map(|(_, why)| *why)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn findings(place: &str, text: &str) -> usize {
        check(&[File::new(place, text)]).len()
    }

    fn in_core(text: &str) -> usize {
        findings("crates/tenside/src/formula/mod.rs", text)
    }

    #[test]
    fn each_absent_thing_is_noticed() {
        for text in [
            "use pyo3::prelude::*;",
            "use std::{fmt, fs};",
            "std::net::TcpStream::connect(place)",
            "let home = std::env::var(\"HOME\");",
            "std::process::exit(1)",
            "std::io::stdout()",
            "fn f() { unsafe { g() } }",
            "SystemTime::UNIX_EPOCH",
            "let start: Instant = given;",
            "let today = jiff::Zoned::now();",
            "println!(\"{x}\")",
            "dbg!(x)",
            "static mut COUNT: u32 = 0;",
            "thread_local! { static X: u8 = 0 }",
            "static TABLE: OnceLock<Table> = make();",
        ] {
            assert_eq!(in_core(text), 1, "{text}");
        }
    }

    #[test]
    fn what_only_looks_like_it_is_let_be() {
        for text in [
            "// println!(\"x\") and std::fs",
            "let s = \"unsafe std::fs\";",
            "fn f(x: &'static mut u8) {}",
            "let print = now;",
            "#[cfg(test)] mod tests { fn f() { println!(\"{}\", std::env::var(\"X\")); } }",
            "use std::fmt; let share = 0.5;",
        ] {
            assert_eq!(in_core(text), 0, "{text}");
        }
        assert_eq!(findings("crates/xtask/src/main.rs", "println!()"), 0);
        assert_eq!(findings(EMBEDDED_DATA[0], "static TABLE: LazyLock<Table> = make();"), 0);
    }

    #[test]
    fn floats_are_absent_only_where_proofs_rest() {
        for text in ["let x = 0.5;", "fn f(x: f64) {}", "y as f32"] {
            assert_eq!(findings("crates/tenside/src/solve/linear/pivot.rs", text), 1, "{text}");
            assert_eq!(findings("crates/tenside/src/solve/float.rs", text), 0, "{text}");
        }
        assert_eq!(findings(MANIFEST, "[dependencies]\npyo3 = \"0.30\"\n"), 1);
    }
}
