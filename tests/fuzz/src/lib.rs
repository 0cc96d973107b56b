//! What every reader does with arbitrary text: no panic, and what it prints it reads back.
//!
//! A target is a file here with one function over bytes, a line in [`TARGETS`], a binary of the same name in `src/bin`
//! and a folder of seeds in `seeds`. `cargo xtask fuzz` builds the binaries with the fuzzer's runtime; in an ordinary
//! build they replay the files named on the command line, and the tests below replay the seeds.

mod brief;
mod catalogue;
mod catalogue_csv;
mod catalogue_json;
mod catalogue_toml;
mod draft;
mod formula;
mod number;
mod offers;
mod ph;
mod reading;
mod results;
mod rules;
mod substances;

pub use brief::brief;
pub use catalogue_csv::catalogue_csv;
pub use catalogue_json::catalogue_json;
pub use catalogue_toml::catalogue_toml;
pub use draft::draft;
pub use formula::formula;
pub use number::number;
pub use offers::offers;
pub use ph::ph;
pub use results::results;
pub use rules::rules;
pub use substances::substances;

/// What one target does with some bytes.
pub type Target = fn(&[u8]);

/// Every target by name.
pub const TARGETS: &[(&str, Target)] = &[
    ("brief", brief),
    ("catalogue_csv", catalogue_csv),
    ("catalogue_json", catalogue_json),
    ("catalogue_toml", catalogue_toml),
    ("draft", draft),
    ("formula", formula),
    ("number", number),
    ("offers", offers),
    ("ph", ph),
    ("results", results),
    ("rules", rules),
    ("substances", substances),
];

/// Makes the binary of a target: the fuzzer's entry under `cargo xtask fuzz`, a replay of named files otherwise.
#[macro_export]
macro_rules! target {
    ($function:path) => {
        #[cfg(fuzzing)]
        libfuzzer_sys::fuzz_target!(|bytes: &[u8]| $function(bytes));

        #[cfg(not(fuzzing))]
        fn main() -> std::io::Result<()> {
            for path in std::env::args_os().skip(1) {
                $function(&std::fs::read(path)?);
            }
            Ok(())
        }
    };
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;
    use std::path::Path;

    use super::TARGETS;

    fn entries(folder: &str) -> Vec<std::path::PathBuf> {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
        std::fs::read_dir(&folder)
            .unwrap_or_else(|error| panic!("{}: {error}", folder.display()))
            .map(|entry| entry.unwrap().path())
            .collect()
    }

    #[test]
    fn every_target_passes_its_seeds() {
        for (name, target) in TARGETS {
            let seeds = entries(&format!("seeds/{name}"));
            assert!(!seeds.is_empty(), "the target {name} has no seed");
            for seed in seeds {
                target(&std::fs::read(seed).unwrap());
            }
        }
    }

    #[test]
    fn every_target_has_a_binary_and_every_binary_a_target() {
        let binaries: BTreeSet<String> =
            entries("src/bin").iter().map(|path| path.file_stem().unwrap().to_string_lossy().into_owned()).collect();
        assert_eq!(binaries, TARGETS.iter().map(|(name, _)| (*name).to_string()).collect());
    }
}
