//! Every row of a data file has a source: its own, or the file's.

use super::files::File;
use super::finding::Finding;

const FOLDER: &str = "crates/tenside/data";
const WAY_OUT: &str = "give the row or the file a `source`, if only \"from memory\" or \"common practice, no source\"";

pub(super) fn check(files: &[File]) -> Vec<Finding> {
    files.iter().filter(|file| file.below(FOLDER).is_some()).flat_map(check_file).collect()
}

fn check_file(file: &File) -> Vec<Finding> {
    match file.path.rsplit_once('.').map(|(_, ending)| ending) {
        Some("toml") => check_toml(file),
        Some("csv") => check_csv(file),
        Some("md") => Vec::new(),
        _ => vec![Finding::new(&file.path, 1, "a data file is TOML or CSV, so that its sources can be checked")],
    }
}

fn check_toml(file: &File) -> Vec<Finding> {
    let table: toml::Table = match file.text.parse() {
        Ok(table) => table,
        Err(error) => return vec![Finding::new(&file.path, 1, format!("not readable as TOML: {error}"))],
    };
    if has_source(&table) {
        return Vec::new();
    }
    let mut findings = Vec::new();
    for (name, value) in &table {
        for (at, row) in value.as_array().into_iter().flatten().enumerate() {
            if !row.as_table().is_some_and(has_source) {
                findings.push(Finding::new(&file.path, 1, format!("{name}[{at}] has no source; {WAY_OUT}")));
            }
        }
        // A lone table is one row: metadata is plain values.
        if value.as_table().is_some_and(|row| !has_source(row)) {
            findings.push(Finding::new(&file.path, 1, format!("[{name}] has no source; {WAY_OUT}")));
        }
    }
    findings
}

fn has_source(table: &toml::Table) -> bool {
    match table.get("source") {
        Some(toml::Value::String(text)) => !text.trim().is_empty(),
        Some(toml::Value::Table(parts)) => !parts.is_empty(),
        _ => false,
    }
}

/// A file's own source is a first line `# source: ...`; otherwise there is a column.
fn check_csv(file: &File) -> Vec<Finding> {
    if file
        .text
        .lines()
        .next()
        .and_then(|line| line.strip_prefix("# source:"))
        .is_some_and(|text| !text.trim().is_empty())
    {
        return Vec::new();
    }
    let mut reader = csv::ReaderBuilder::new().flexible(true).comment(Some(b'#')).from_reader(file.text.as_bytes());
    let column = reader.headers().ok().and_then(|headers| headers.iter().position(|name| name.trim() == "source"));
    let Some(column) = column else {
        return vec![Finding::new(&file.path, 1, format!("there is no column source; {WAY_OUT}"))];
    };
    let mut findings = Vec::new();
    for record in reader.records() {
        let (line, sentence) = match record {
            Ok(record) if record.get(column).is_some_and(|text| !text.trim().is_empty()) => continue,
            Ok(record) => (record.position().map_or(1, csv::Position::line), format!("a row has no source; {WAY_OUT}")),
            Err(error) => (1, format!("not readable as CSV: {error}")),
        };
        findings.push(Finding::new(&file.path, usize::try_from(line).unwrap_or(1), sentence));
    }
    findings
}

#[cfg(test)]
mod tests {
    use super::*;

    fn findings(name: &str, text: &str) -> usize {
        check(&[File::new(&format!("{FOLDER}/{name}"), text)]).len()
    }

    #[test]
    fn a_row_or_its_file_has_a_source() {
        assert_eq!(findings("a.toml", "source = \"from memory\"\n[[row]]\nx = 1\n"), 0);
        assert_eq!(findings("a.toml", "[[row]]\nx = 1\nsource = \"a handbook, table 3\"\n"), 0);
        assert_eq!(findings("a.toml", "[[row]]\nx = 1\n[[row]]\nx = 2\nsource = \" \"\n"), 2);
        assert_eq!(findings("a.toml", "[limit]\nx = 1\n"), 1);
        assert_eq!(findings("a.toml", "x = \n"), 1);
    }

    #[test]
    fn a_table_of_values_too() {
        assert_eq!(findings("a.csv", "name,source\nx,a handbook\n\"y, z\",\"table 3, page 4\"\n"), 0);
        assert_eq!(findings("a.csv", "name,source\nx,\ny\n"), 2);
        assert_eq!(findings("a.csv", "name\nx\n"), 1);
        assert_eq!(findings("a.csv", "# source: a handbook, table 3\nname\nx\n"), 0);
    }

    #[test]
    fn other_files_are_refused_there_and_ignored_elsewhere() {
        assert_eq!(findings("a.json", "{}"), 1);
        assert_eq!(check(&[File::new("tests/a.json", "{}")]).len(), 0);
    }
}
