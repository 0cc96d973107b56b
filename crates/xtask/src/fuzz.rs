//! Fuzzing with the stable compiler: the targets are built with coverage counters and the fuzzer's runtime, then run.

use std::fs;
use std::path::Path;

use crate::failure::{Failure, Outcome};
use crate::process::Program;
use crate::project;

const TARGETS: &str = "tests/fuzz/src/bin";
const SEEDS: &str = "tests/fuzz/seeds";
const FOLDER: &str = "target/fuzz";
/// Longest input in bytes; every reader's text formats show their faults well below it.
const LONGEST_INPUT: u32 = 4096;
/// What a fuzzing tool would pass to the compiler. The flag `fuzzing` brings in the fuzzer's runtime.
const FLAGS: &str = "-Cpasses=sancov-module -Cllvm-args=-sanitizer-coverage-level=4 \
                     -Cllvm-args=-sanitizer-coverage-inline-8bit-counters -Cllvm-args=-sanitizer-coverage-pc-table \
                     -Cllvm-args=-sanitizer-coverage-trace-compares --cfg fuzzing -Cdebug-assertions";

pub(crate) fn run(target: Option<&str>, seconds: u32) -> Outcome {
    let all = targets()?;
    let chosen: Vec<&String> = all.iter().filter(|name| target.is_none_or(|wanted| wanted == name.as_str())).collect();
    if chosen.is_empty() {
        return Err(Failure::new(format!(
            "there is no fuzz target {:?}; the targets are {}",
            target.unwrap_or_default(),
            all.join(", ")
        )));
    }
    // Naming the host as a target keeps the flags away from build scripts and macros, which run on the host without the
    // runtime.
    let host = host()?;
    println!("The fuzz targets are built for {host} with coverage counters; this needs a C++ compiler.");
    Program::cargo(&[
        "build",
        "--quiet",
        "--release",
        "--package",
        "tenside-fuzz",
        "--bins",
        "--target",
        &host,
        "--target-dir",
        FOLDER,
    ])
    .variable("RUSTFLAGS", FLAGS)
    .without_variable("CARGO_ENCODED_RUSTFLAGS")
    .run()?;
    let programs = project::at(FOLDER).join(&host).join("release");
    let outcomes: Vec<Outcome> = chosen.iter().map(|name| run_one(&programs, name, seconds)).collect();
    outcomes.into_iter().collect()
}

fn targets() -> Outcome<Vec<String>> {
    let folder = fs::read_dir(project::at(TARGETS))
        .map_err(|error| Failure::new(format!("{TARGETS} could not be listed ({error})")))?;
    let mut names: Vec<String> =
        folder.filter_map(|entry| Some(entry.ok()?.path().file_stem()?.to_string_lossy().into_owned())).collect();
    names.sort();
    Ok(names)
}

fn host() -> Outcome<String> {
    let version = Program::new(std::env::var_os("RUSTC").unwrap_or_else(|| "rustc".into())).argument("-vV").read()?;
    version
        .lines()
        .find_map(|line| line.strip_prefix("host: "))
        .map(String::from)
        .ok_or_else(|| Failure::new("rustc -vV does not name its host"))
}

fn run_one(programs: &Path, name: &str, seconds: u32) -> Outcome {
    println!("{name}: {seconds} seconds of arbitrary input");
    let folder = |kind: &str| -> Outcome<std::path::PathBuf> {
        let folder = project::at(FOLDER).join(kind).join(name);
        fs::create_dir_all(&folder)
            .map_err(|error| Failure::new(format!("{} could not be made ({error})", folder.display())))?;
        Ok(folder)
    };
    let (corpus, artefacts) = (folder("corpus")?, folder("artefacts")?);
    let log = folder("log")?.join("last.txt");
    let (passed, text) = Program::new(programs.join(name))
        .argument(format!("-max_total_time={seconds}"))
        .argument(format!("-max_len={LONGEST_INPUT}"))
        .arguments(&["-print_final_stats=1", "-timeout=10", "-rss_limit_mb=2048"])
        .argument(format!("-artifact_prefix={}/", artefacts.display()))
        .argument(&corpus)
        .argument(project::at(SEEDS).join(name))
        .run_into(&log)?;
    if !passed {
        print!("{}", last_lines(&text, 40));
        let replay = format!("cargo run --package tenside-fuzz --bin {name} -- FILE");
        return Err(Failure::new(format!(
            "the fuzz target {name} found a fault; its input is in {}, and `{replay}` replays it",
            artefacts.display()
        )));
    }
    let executions = executions(&text).ok_or_else(|| {
        Failure::new(format!("the fuzz target {name} did not say how often it ran; see {}", log.display()))
    })?;
    println!("{name}: {executions} executions, no fault");
    Ok(())
}

fn executions(log: &str) -> Option<u64> {
    log.lines().find_map(|line| line.strip_prefix("stat::number_of_executed_units:")?.trim().parse().ok())
}

fn last_lines(text: &str, count: usize) -> String {
    let lines: Vec<&str> = text.lines().collect();
    lines[lines.len().saturating_sub(count)..].iter().map(|line| format!("{line}\n")).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_the_fuzzers_own_count() {
        assert_eq!(
            executions("Done 5 runs\nstat::number_of_executed_units: 126774\nstat::peak_rss_mb: 65\n"),
            Some(126_774)
        );
        assert_eq!(executions("Done 5 runs\n"), None);
    }

    #[test]
    fn the_end_of_a_long_log_is_shown() {
        assert_eq!(last_lines("a\nb\nc\n", 2), "b\nc\n");
        assert_eq!(last_lines("a\n", 2), "a\n");
    }
}
