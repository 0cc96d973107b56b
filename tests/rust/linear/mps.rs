//! Programs of public collections (`tests/data/mps`): read from MPS, solved on the general path, proved, compared with
//! what is published.

use std::collections::BTreeMap;
use std::path::PathBuf;

use serde::Deserialize;
use tenside::number::Exact;
use tenside_lp::{Column, Outcome, Path, Program, Row, solve, solve_exactly, solve_on_path, verify};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Data {
    program: Vec<Published>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Published {
    file: String,
    source: String,
    mark: String,
    objective: Option<String>,
    /// Wider than the widest search.
    #[serde(default)]
    wide: bool,
}

fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("data/mps")
}

fn read(file: &str) -> String {
    std::fs::read_to_string(folder().join(file)).unwrap_or_else(|error| panic!("{file}: {error}"))
}

fn published() -> Vec<Published> {
    let data: Data = toml::from_str(&read("programs.toml")).unwrap();
    assert!(data.program.iter().all(|program| !program.source.is_empty() && !program.mark.is_empty()));
    data.program
}

/// MPS writes `10.` and `-.5`.
fn number(text: &str) -> Exact {
    let (sign, digits) = text.strip_prefix('-').map_or(("", text), |digits| ("-", digits));
    let (mantissa, exponent) = digits
        .split_once(['e', 'E'])
        .map_or((digits, String::new()), |(mantissa, power)| (mantissa, format!("e{power}")));
    format!("{sign}0{}{exponent}", mantissa.trim_end_matches('.'))
        .parse()
        .unwrap_or_else(|error| panic!("{text}: {error}"))
}

/// A program in MPS with names without blanks: columns at least 0 unless bounds say otherwise, the first free row
/// minimised. Source of the format: Netlib lp/data readme and B. A. Murtagh, Advanced Linear Programming, 1981, chapter
/// 9 (from memory).
fn parse(text: &str) -> Program {
    let mut kinds: Vec<(String, char)> = Vec::new();
    let mut place: BTreeMap<String, usize> = BTreeMap::new();
    let (mut columns, mut names): (Vec<Column>, BTreeMap<String, usize>) = (Vec::new(), BTreeMap::new());
    let mut entries: Vec<BTreeMap<usize, Exact>> = Vec::new();
    let (mut sides, mut ranges): (BTreeMap<usize, Exact>, BTreeMap<usize, Exact>) = (BTreeMap::new(), BTreeMap::new());
    let mut section = "";
    for line in text.lines().filter(|line| !line.starts_with('*') && !line.trim().is_empty()) {
        let words: Vec<&str> = line.split_whitespace().collect();
        if !line.starts_with(' ') {
            section = words[0];
            continue;
        }
        match (section, words.as_slice()) {
            ("ROWS", [kind, name]) => {
                place.insert((*name).to_string(), kinds.len());
                kinds.push(((*name).to_string(), kind.chars().next().unwrap()));
                entries.push(BTreeMap::new());
            }
            ("COLUMNS", [name, pairs @ ..]) => {
                let column = *names.entry((*name).to_string()).or_insert_with(|| {
                    columns.push(Column { low: Some(Exact::ZERO), high: None, cost: Exact::ZERO });
                    columns.len() - 1
                });
                for pair in pairs.chunks(2) {
                    entries[place[pair[0]]].insert(column, number(pair[1]));
                }
            }
            ("RHS" | "RANGES", [_, pairs @ ..]) => {
                let values = if section == "RHS" { &mut sides } else { &mut ranges };
                values.extend(pairs.chunks(2).map(|pair| (place[pair[0]], number(pair[1]))));
            }
            ("BOUNDS", [kind, _, name, value @ ..]) => {
                let column = &mut columns[names[*name]];
                let value = value.first().map(|value| number(value));
                match *kind {
                    "UP" => column.high = value,
                    "LO" => column.low = value,
                    "FX" => (column.low, column.high) = (value.clone(), value),
                    "FR" => (column.low, column.high) = (None, None),
                    other => panic!("a bound {other} is not read"),
                }
            }
            (section, words) => panic!("{section} {words:?}"),
        }
    }
    let objective = kinds.iter().position(|(_, kind)| *kind == 'N').unwrap();
    for (column, cost) in &entries[objective] {
        columns[*column].cost = cost.clone();
    }
    assert!(!sides.contains_key(&objective), "an objective with a constant is not read");
    let rows = kinds.iter().enumerate().filter(|(_, (_, kind))| *kind != 'N').map(|(index, (_, kind))| {
        let coefficients =
            (0..columns.len()).map(|column| entries[index].get(&column).cloned().unwrap_or_default()).collect();
        let side = sides.get(&index).cloned().unwrap_or_default();
        let range = ranges.get(&index);
        let (low, high) = match (kind, range) {
            ('L', None) => (None, Some(side)),
            ('G', None) => (Some(side), None),
            ('L', Some(range)) => (Some(&side - range.abs()), Some(side)),
            ('G', Some(range)) => (Some(side.clone()), Some(side + range.abs())),
            ('E', Some(range)) if range.is_negative() => (Some(&side + range), Some(side)),
            ('E', range) => (Some(side.clone()), Some(side + range.cloned().unwrap_or_default())),
            (kind, _) => panic!("a row {kind} is not read"),
        };
        Row { coefficients, low, high }
    });
    let rows = rows.collect();
    Program::new(columns, rows).unwrap()
}

/// Half of the last digit that is published, or all of what is published without a power of ten.
fn half_a_digit(text: &str) -> Exact {
    let Some((mantissa, power)) = text.split_once('E') else { return Exact::ZERO };
    let digits = mantissa.split_once('.').map_or(0, |(_, digits)| digits.len());
    let power: i64 = power.parse().unwrap();
    number(&format!("0.5E{}", power - i64::try_from(digits).unwrap()))
}

fn is_published(found: &Exact, text: &str) -> bool {
    (found - number(text)).abs() <= half_a_digit(text)
}

#[test]
fn programs_of_public_collections_have_their_published_outcomes() {
    let all = published();
    let (mut optimal, mut infeasible, mut wide, mut general) = (0, 0, 0, 0);
    for known in &all {
        let program = parse(&read(&known.file));
        let (outcome, path) = solve_on_path(&program, &[]);
        let exactly = solve_exactly(&program, &[]);
        for outcome in [&outcome, &exactly] {
            verify(&program, outcome).unwrap_or_else(|error| panic!("{}: {error}", known.file));
            assert_eq!(outcome.optimum().is_some(), known.objective.is_some(), "{}", known.file);
            match (outcome, &known.objective) {
                (Outcome::Optimal(optimum), Some(text)) => {
                    assert!(is_published(&optimum.objective, text), "{}: {}", known.file, optimum.objective)
                }
                (Outcome::Infeasible(_), None) => {}
                _ => panic!("{}: {outcome:?}", known.file),
            }
        }
        assert_eq!(
            outcome.optimum().map(|optimum| &optimum.objective),
            exactly.optimum().map(|optimum| &optimum.objective)
        );
        assert!(path == Path::Exact || !known.wide, "{} went by {path:?}", known.file);
        general += usize::from(path == Path::Exact);
        assert_eq!(program.columns().len().max(program.rows().len()) > 64, known.wide, "{}", known.file);
        wide += usize::from(known.wide);
        *(if known.objective.is_some() { &mut optimal } else { &mut infeasible }) += 1;
    }
    // Beyond the wide ones, columns without an end where their cost wants one are no matter for the search.
    assert_eq!((optimal, infeasible, wide), (4, 5, 4));
    assert!(general > wide, "{general}");
}

/// A cost, a limit or a bound that is a little other is noticed.
#[test]
fn a_program_that_is_another_has_another_optimum() {
    let program = parse(&read("afiro.mps"));
    let text = "-4.6475314286E+02";
    let best = |program: &Program| solve(program).optimum().unwrap().objective.clone();
    assert!(is_published(&best(&program), text));
    let mut dearer = program.columns().to_vec();
    let used = solve(&program)
        .optimum()
        .unwrap()
        .values
        .iter()
        .zip(&dearer)
        .position(|(value, column)| value.is_positive() && !column.cost.is_zero())
        .unwrap();
    dearer[used].cost += Exact::ratio(1, 1000);
    assert!(!is_published(&best(&Program::new(dearer, program.rows().to_vec()).unwrap()), text));
}

#[test]
fn numbers_and_ranges_are_read_as_the_format_says() {
    assert_eq!(
        ["10.", "-.5", "1.5", "2E1", "0"].map(number),
        [Exact::from(10), Exact::ratio(-1, 2), Exact::ratio(3, 2), Exact::from(20), Exact::ZERO]
    );
    let rows = parse(
        "NAME\nROWS\n N c\n L l\n G g\n E up\n E down\nCOLUMNS\n x c 1 l 1\n x g 1 up 1\n x down 1\nRHS\n r l 5 g 5\n \
         r up 5 down 5\nRANGES\n s l 2 g 2\n s up 2 down -2\nBOUNDS\n FR b x\nENDATA",
    );
    let ends: Vec<_> = rows.rows().iter().map(|row| (row.low.clone().unwrap(), row.high.clone().unwrap())).collect();
    let whole = |low: i64, high: i64| (Exact::from(low), Exact::from(high));
    assert_eq!(ends, [whole(3, 5), whole(5, 7), whole(5, 7), whole(3, 5)]);
    assert_eq!((&rows.columns()[0].low, &rows.columns()[0].high), (&None, &None));
}
