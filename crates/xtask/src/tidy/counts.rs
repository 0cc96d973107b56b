//! How many tests ran is not below a committed minimum, so that tests which silently stop running are noticed.

use super::files::File;
use super::finding::Finding;

const MINIMUM: &str = "tests/minimum.toml";

/// How many tests passed, by kind.
pub(crate) struct Counts {
    rust: u64,
    documentation: u64,
    python: u64,
}

impl Counts {
    /// Reads them off the closing lines of the runners.
    pub(crate) fn read(rust: &str, documentation: &str, python: &str) -> Self {
        Counts { rust: passed(rust), documentation: passed(documentation), python: passed(python) }
    }
}

/// The sum over every closing line: `test result: ok. 12 passed; ...` of cargo, `12 passed in 3.4s` of pytest.
fn passed(text: &str) -> u64 {
    text.lines().filter_map(passed_in_line).sum()
}

fn passed_in_line(line: &str) -> Option<u64> {
    let is_pytest = line.contains(" in ") && line.trim_end().ends_with(['s', '=', ')']);
    if !line.starts_with("test result: ") && !is_pytest {
        return None;
    }
    let (before, _) = line.split_once(" passed")?;
    before.rsplit(' ').next()?.parse().ok()
}

pub(super) fn check(ran: &Counts, files: &[File]) -> Vec<Finding> {
    let text = files.iter().find(|file| file.path == MINIMUM).map_or("", |file| file.text.as_str());
    let minimum = text.parse::<toml::Table>().unwrap_or_default();
    let kinds = [("rust", ran.rust), ("documentation", ran.documentation), ("python", ran.python)];
    kinds.iter().filter_map(|(kind, ran)| below(&minimum, kind, *ran)).collect()
}

fn below(minimum: &toml::Table, kind: &str, ran: u64) -> Option<Finding> {
    let Some(least) = minimum.get(kind).and_then(toml::Value::as_integer).and_then(|least| u64::try_from(least).ok())
    else {
        return Some(Finding::new(MINIMUM, 1, format!("there is no whole number for {kind}; {ran} tests ran")));
    };
    println!("tidy: {ran} {kind} tests ran, at least {least} are wanted");
    let sentence = format!(
        "{ran} {kind} tests ran; allowed: at least {least}; find those that no longer run, or lower the number if \
         they were taken out"
    );
    (ran < least).then(|| Finding::new(MINIMUM, 1, sentence))
}

#[cfg(test)]
mod tests {
    use super::*;

    const CARGO: &str = "running 3 tests\n...\ntest result: ok. 3 passed; 0 failed; 0 ignored; 0 measured; 0 filtered \
                         out; finished in 0.01s\n";

    fn findings(minimum: &str, ran: &Counts) -> usize {
        check(ran, &[File::new(MINIMUM, minimum)]).len()
    }

    #[test]
    fn closing_lines_are_summed() {
        assert_eq!(passed(&format!("{CARGO}\n{CARGO}")), 6);
        assert_eq!(passed("....\n12 passed, 1 skipped in 3.45s\n"), 12);
        assert_eq!(passed("== 7 passed in 63.20s (0:01:03) ==\n"), 7);
        assert_eq!(passed("the ship passed in 1899\n"), 0);
    }

    #[test]
    fn fewer_than_the_minimum_are_noticed() {
        let ran = Counts::read(CARGO, CARGO, "2 passed in 1.0s");
        assert_eq!(findings("rust = 3\ndocumentation = 2\npython = 2", &ran), 0);
        assert_eq!(findings("rust = 4\ndocumentation = 2\npython = 3", &ran), 2);
        assert_eq!(findings("rust = 3", &ran), 2);
    }
}
