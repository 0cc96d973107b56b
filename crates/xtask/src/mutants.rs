//! Mutation testing: the solver and the numbers are changed place by place, and every change that no test notices has to be explained.

use std::fs;

use crate::failure::{Failure, Outcome};
use crate::process::Program;
use crate::project;

const TOOLS: &str = "target/tools";
const FOLDER: &str = "target/mutants";
/// The rooms whose faults would be wrong proofs and wrong numbers.
const ROOMS: [&str; 2] = ["crates/tenside/src/solve/**", "crates/tenside/src/number/**"];

pub(crate) fn run(file: Option<&str>, again: Option<&str>, tests: Option<&str>) -> Outcome {
    let tool = project::at(TOOLS).join("bin").join(if cfg!(windows) { "cargo-mutants.exe" } else { "cargo-mutants" });
    if !tool.exists() {
        println!("cargo-mutants is not there yet: it is installed into {TOOLS}, which takes some minutes.");
        Program::cargo(&["install", "--quiet", "--locked", "cargo-mutants", "--root", TOOLS]).run()?;
    }
    let mut listing = Program::new(tool).arguments(&["mutants", "--list", "--json"]);
    for file in file.map_or(ROOMS.to_vec(), |file| vec![file]) {
        listing = listing.arguments(&["--file", file]);
    }
    let scope = match (again, tests) {
        (None, None) => vec![],
        (Some("again"), tests) => ["again"].into_iter().chain(tests).collect(),
        (None, Some(_)) => return Err(Failure::new("--tests is for changes that other tests have let through: say \"again\" too")),
        (Some(other), _) => return Err(Failure::new(format!("there is no use for {other:?} here; \"again\" leaves out what was noticed in the run before"))),
    };
    let listed = listing.read()?;
    let list = project::at(FOLDER).join("list.json");
    let kept = fs::create_dir_all(project::at(FOLDER)).and_then(|()| fs::write(&list, listed));
    kept.map_err(|error| Failure::new(format!("{} could not be written ({error})", list.display())))?;
    println!("All changes are built at once, each behind a switch; what became of each is kept in {FOLDER}/results.jsonl.");
    Program::cargo(&["run", "--quiet", "--release", "--package", "tenside-mutants", "--"]).argument(&list).argument(project::at(FOLDER)).arguments(&scope).run()
}
