//! The one entry of development: `cargo xtask <command>`.

mod bench;
mod browser;
mod demo;
mod docs;
mod environment;
mod failure;
mod fuzz;
mod options;
mod oracle;
mod printed;
mod process;
mod project;
mod python;
mod schemas;
mod steps;
mod stubs;
mod test;
mod tidy;
mod wasm;
mod wheel;

use std::process::ExitCode;

use failure::{Failure, Outcome};
use options::Options;

const USAGE: &str = "\
cargo xtask <command>

  test                            every check, in order; what CI runs
  demo                            builds both faces and shows what they do
  tidy                            the checks of the house rules alone
  stubs                           writes python/tenside/_native.pyi anew from the binding
  schemas                         writes python/tenside/schema/*.json and words.py anew from the core
  printed                         runs README, guide and notebooks, and stores what they print
  docs                            builds the guide into target/docs/html
  wheel                           builds the wheels and the source archive that others install, and tries them
  wasm                            builds the core for a browser as it is, and has Node.js call it
  oracle [--cases N]              random briefs and libraries from outside, with many more cases than `test` (default \
                     10000)
  fuzz [target] [--seconds N]     arbitrary bytes against every reader, or one (default 60 seconds each)
  bench [name]                    measures every bench, or one
  browser                         the explorer in JupyterLab in the machine's Chromium; saves pictures to be looked at
";

fn main() -> ExitCode {
    let mut words = std::env::args().skip(1);
    let command = words.next().unwrap_or_default();
    match run(&command, &Options::new(words.collect())) {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            eprintln!("cargo xtask {command}: {failure}");
            ExitCode::FAILURE
        }
    }
}

fn run(command: &str, options: &Options) -> Outcome {
    let (allowed, words) = match command {
        "oracle" => (&["--cases"][..], 0),
        "fuzz" => (&["--seconds"][..], 1),
        "bench" => (&[][..], 1),
        _ => (&[][..], 0),
    };
    options.check(allowed, words)?;
    match command {
        "test" => test::run(),
        "demo" => demo::run(),
        "tidy" => tidy::run(),
        "stubs" => stubs::write(),
        "schemas" => schemas::write(),
        "printed" => printed::store(),
        "docs" => docs::build(),
        "wheel" => wheel::build(),
        "wasm" => wasm::run(),
        "oracle" => oracle::run(options.number("--cases", 10_000)?),
        "fuzz" => fuzz::run(options.word(), options.number("--seconds", 60)?),
        "bench" => bench::run(options.word()),
        "browser" => browser::run(),
        "" | "help" | "--help" => {
            print!("{USAGE}");
            Ok(())
        }
        _ => Err(Failure::new(format!("there is no such command; the commands are:\n\n{USAGE}"))),
    }
}
