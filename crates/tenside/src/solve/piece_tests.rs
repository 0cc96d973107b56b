//! Swept programs and their pieces against the same briefs compiled and solved at every point.

use rust_decimal::Decimal;

use super::linear::{Column, Program, solve};
use super::member::{Member, members, only};
use super::program::BriefProgram;
use super::{
    Conflict, Constraint, Form, Limit, Named, Outcome, Piece, Point, Span, SweptProgram, beyond_cost, conflict_piece, optimal_piece, program_of, solve_point,
};
use crate::brief::{Brief, Dial, Requirement, SplitBasis};
use crate::catalogue::{Catalogue, PriceList};
use crate::formula::{Formula, Line};
use crate::measure::{Basis, Measure, Scope};
use crate::number::{Exact, Ppm};

/// Three surfactants, two fats, water and clay; invented prices.
fn bar() -> Brief {
    let of = [("sci-powder", 52), ("scs-needles", 38), ("capb-30", 19), ("kaolin", 11), ("cetyl-alcohol", 41), ("stearic-acid", 23), ("panthenol", 230)];
    let prices = of.into_iter().chain([("water", 1)]).map(|(id, tenths)| (id.to_string(), Decimal::new(tenths, 1)));
    let brief = Brief::new("Bar", &Catalogue::starter()).unwrap().with_prices(&PriceList::new("EUR", prices.collect::<Vec<_>>()).unwrap()).unwrap();
    let brief = brief.split("wash", SplitBasis::Active, &[("sci-powder", 14), ("scs-needles", 5), ("capb-30", 1)]).unwrap();
    let brief = brief.fix("panthenol", "1.5").unwrap().between("cetyl-alcohol", 3, 9).unwrap().between("stearic-acid", 1, 12).unwrap();
    let brief = brief.free("water").unwrap().qs("kaolin").unwrap();
    let brief = brief.require(Requirement::at_least(Measure::active_matter(), Exact::from(40)).named("strong").unwrap()).unwrap();
    let brief = brief.require(Requirement::at_most(Measure::active_matter(), Exact::from(58)).named("mild").unwrap()).unwrap();
    brief.require(Requirement::at_most(Measure::water(), Exact::from(9)).named("dry").unwrap()).unwrap()
}

fn dear(brief: Brief) -> Brief {
    let dear = Requirement::at_most(Measure::cost().per(&Measure::active_matter()), Exact::from(8)).named("dear").unwrap();
    brief.require(dear).unwrap()
}

/// A finished basis, so that some water has to be charged.
fn finished(brief: Brief, keeps: i64) -> Brief {
    let basis = Basis::finished(Exact::from(keeps)).unwrap();
    brief.require(Requirement::at_least(Measure::active_matter(), Exact::from(30)).on(basis).named("washes").unwrap()).unwrap()
}

/// A limit on cost per active matter: what a powder does to its row is turned round where the limit is beyond what the powder itself costs.
fn per_active(powder: &str, more: &[&str]) -> Brief {
    let prices = [("sci-powder", 2), ("scs-needles", 4), ("kaolin", 1), ("panthenol", 0)].map(|(id, price)| (id.to_string(), Decimal::from(price)));
    let mut brief = Brief::new("Value", &Catalogue::starter()).unwrap().with_prices(&PriceList::new("EUR", prices).unwrap()).unwrap();
    brief = brief.between(powder, 10, 90).unwrap();
    for line in more {
        brief = brief.between(line, 5, 40).unwrap();
    }
    let dear = Requirement::at_most(Measure::cost().per(&Measure::active_matter()), Exact::ONE).named("dear").unwrap();
    brief.fix("panthenol", 1).unwrap().qs("kaolin").unwrap().require(dear).unwrap()
}

/// The formula that a least change starts from, with a line that the brief has no more.
fn base() -> Formula {
    let catalogue = Catalogue::starter();
    let lines = [("sci-powder", 40), ("cetyl-alcohol", 10), ("kaolin", 30), ("glycerin-86", 7), ("water", 13)];
    let line = |(id, percent): (&str, i64)| Line::new(id, catalogue.material(id).unwrap().clone(), Ppm::from_exact_percent(&Exact::from(percent)).unwrap());
    Formula::new("Base", lines.into_iter().map(|line_| line(line_).unwrap()).collect()).unwrap()
}

fn dial(word: &str) -> Dial {
    match word {
        "capb-30" | "scs-needles" | "sci-powder" => Dial::part("wash", word),
        "panthenol" => Dial::Fixed(word.to_string()),
        "most cetyl" => Dial::HighEnd("cetyl-alcohol".to_string()),
        "least stearic" => Dial::LowEnd("stearic-acid".to_string()),
        "strong" | "washes" => Dial::AtLeast(word.to_string()),
        "mild" | "dry" | "dear" => Dial::AtMost(word.to_string()),
        _ => Dial::Price(word.to_string()),
    }
}

/// A brief along some dials.
struct Case {
    brief: Brief,
    dials: Vec<(Dial, Exact)>,
    swept: SweptProgram,
}

impl Case {
    /// Nothing where it is no swept program.
    fn new(brief: &Brief, words: &[(&str, Exact)]) -> Option<Self> {
        let dials: Vec<(Dial, Exact)> = words.iter().map(|(word, _)| (dial(word), brief.dial_value(&dial(word)).unwrap())).collect();
        let steps: Vec<Exact> = words.iter().map(|(_, step)| step.clone()).collect();
        let start = program_of(brief).unwrap()?;
        let mut moved = Vec::new();
        for (place, step) in steps.iter().enumerate() {
            let offsets: Vec<Exact> = (0..steps.len()).map(|other| if other == place { step.clone() } else { Exact::ZERO }).collect();
            moved.push((compiled(brief, &dials, &offsets), step.clone()));
        }
        let swept = SweptProgram::new(&start, &moved, (&compiled(brief, &dials, &steps), &steps))?;
        Some(Case { brief: brief.clone(), dials, swept })
    }

    fn at(&self, offsets: &[Exact]) -> Brief {
        turned(&self.brief, &self.dials, offsets).unwrap()
    }

    /// From each point, boxes that lead to other points; at a corner of one the matrix of a basis may be singular.
    fn spans(here: &[Exact], step: &[Exact]) -> Vec<Span> {
        [1, -1, 2].map(|steps| here.iter().zip(step).map(|(here, step)| (here.clone(), here + step * Exact::from(steps))).collect()).to_vec()
    }
}

fn turned(brief: &Brief, dials: &[(Dial, Exact)], offsets: &[Exact]) -> Option<Brief> {
    let turn = |brief: Brief, ((dial, start), offset): (&(Dial, Exact), &Exact)| brief.turned(dial, &(start + offset)).ok();
    dials.iter().zip(offsets).try_fold(brief.clone(), turn)
}

fn compiled(brief: &Brief, dials: &[(Dial, Exact)], offsets: &[Exact]) -> BriefProgram {
    program_of(&turned(brief, dials, offsets).unwrap()).unwrap().unwrap()
}

fn value(form: &Form, offsets: &[Exact]) -> Exact {
    let product = |mask: usize| offsets.iter().enumerate().filter(|(dial, _)| mask >> dial & 1 == 1).fold(Exact::ONE, |product, (_, offset)| product * offset);
    form.iter().enumerate().map(|(mask, coefficient)| coefficient * product(mask)).sum()
}

fn holds(piece: &Piece, offsets: &[Exact]) -> bool {
    piece.strict.iter().all(|form| value(form, offsets).is_positive()) && piece.slacks.iter().all(|(form, _)| !value(form, offsets).is_negative())
}

fn sorted(mut limits: Vec<Limit>) -> Vec<Limit> {
    limits.sort();
    limits.dedup();
    limits
}

/// What a piece says at a point where its conditions hold, against the point solved by itself.
fn agrees(case: &Case, piece: &Piece, offsets: &[Exact], point: &Point, codes: bool) {
    match point {
        Point::Conflict(limits) => {
            assert!(piece.is_conflict);
            assert!(!codes || sorted(piece.limits.clone()) == sorted(limits.clone()), "{:?} and {limits:?}", piece.limits);
        }
        Point::Solved { values, objective, binding } => {
            assert!(!piece.is_conflict);
            let below = value(&piece.denominator, offsets);
            for (line, exact) in piece.lines.iter().zip(values) {
                assert_eq!(value(line, offsets), exact * &below);
            }
            let brief = case.at(offsets);
            let cost = value(&piece.cost, offsets) / &below;
            assert_eq!(solve(program_of(&brief).unwrap().unwrap().program()).optimum().unwrap().objective, cost);
            if let Some(objective) = objective {
                // What is maximised costs less the more there is of it.
                let sign = if brief.objective().unwrap().words().starts_with("maximise") { Exact::from(-1) } else { Exact::ONE };
                assert_eq!((cost + beyond_cost(&brief)) * sign, *objective);
            }
            let touched = piece.slacks.iter().filter(|(form, _)| value(form, offsets).is_zero()).filter_map(|(_, limit)| *limit);
            assert_eq!(sorted(piece.limits.iter().copied().chain(touched).collect()), sorted(binding.clone()));
            for (slack, limit) in &piece.slacks {
                let (Some(Limit::Low(line)) | Some(Limit::High(line))) = limit else { continue };
                let (low, high) = brief.lines()[*line].role().range();
                let distance = if *limit == Some(Limit::Low(*line)) { &values[*line] - low.percent() } else { high.percent() - &values[*line] };
                assert_eq!(value(slack, offsets), distance * &below);
            }
        }
    }
}

/// True where without any one member of the conflict all others can be met, so that there is no other.
fn is_the_only_one(conflict: &Conflict) -> bool {
    let (brief, program) = (conflict.brief(), conflict.proof().program());
    let all = members(brief, program);
    let answerable = |kept: Vec<Member>| solve(&only(brief, program, &kept).unwrap()).optimum().is_some();
    conflict.members.iter().all(|left_out| answerable(all.iter().copied().filter(|member| member != left_out).collect()))
}

#[derive(Debug, Default)]
struct Found {
    solved: usize,
    solved_by_own: usize,
    by_others: usize,
    refused: usize,
    only_conflicts: usize,
    with_water: usize,
}

fn compare(case: &Case, steps: &[Exact], found: &mut Found) {
    let count = 4usize;
    let points: Vec<(Vec<Exact>, Point)> = (0..count.pow(u32::try_from(steps.len()).unwrap()))
        .filter_map(|code| {
            let place = |dial: usize| i64::try_from(code / count.pow(u32::try_from(dial).unwrap()) % count).unwrap() - 1;
            let offsets: Vec<Exact> = steps.iter().enumerate().map(|(dial, step)| step * Exact::from(place(dial))).collect();
            // Some dials do not go so far.
            let point = solve_point(&turned(&case.brief, &case.dials, &offsets)?).unwrap();
            Some((offsets, point))
        })
        .collect();
    let mut pieces: Vec<(Piece, bool)> = Vec::new();
    for (offsets, point) in &points {
        let brief = case.at(offsets);
        let named = Named::at(&case.swept, offsets).unwrap();
        let spans = Case::spans(offsets, steps);
        let of_conflict = |codes: bool| spans.iter().find_map(|span| conflict_piece(&brief, &case.swept, span, codes).unwrap());
        match point {
            Point::Solved { .. } => {
                assert!(named.is_optimal());
                assert!(of_conflict(true).is_none() && of_conflict(false).is_none(), "there is a formula at {offsets:?}");
                found.solved += 1;
                let Some(piece) = spans.iter().find_map(|span| optimal_piece(&case.brief, &case.swept, &named, span)) else { continue };
                assert_eq!(value(&piece.denominator, offsets), Exact::ONE);
                found.solved_by_own += usize::from(holds(&piece, offsets));
                pieces.push((piece, true));
            }
            Point::Conflict(_) => {
                assert!(!named.is_optimal());
                assert!(optimal_piece(&case.brief, &case.swept, &named, &spans[0]).is_none());
                found.refused += 1;
                let plain = of_conflict(false).expect("a conflict without reasons is a piece");
                assert!(holds(&plain, offsets));
                assert_eq!(value(&plain.strict[0], offsets), Exact::ONE);
                pieces.push((plain, false));
                let Outcome::Conflict(conflict) = brief.try_solve().unwrap() else { panic!("a point is what the brief is") };
                let of_water = conflict.constraints().iter().any(|one| matches!(one, Constraint::WaterToKeep { .. }));
                let piece = of_conflict(true);
                if is_the_only_one(&conflict) {
                    assert!(piece.as_ref().is_some_and(|piece| holds(piece, offsets)), "{conflict} at {offsets:?}");
                    found.only_conflicts += 1;
                    found.with_water += usize::from(of_water);
                }
                pieces.extend(piece.map(|piece| (piece, true)));
            }
        }
    }
    for (piece, codes) in &pieces {
        for (offsets, point) in points.iter().filter(|(offsets, _)| holds(piece, offsets)) {
            agrees(case, piece, offsets, point, *codes);
            found.by_others += 1;
        }
    }
}

#[test]
fn where_the_conditions_of_a_piece_hold_it_is_the_answer() {
    let pair = |first: &'static str, step: Exact, second: &'static str, other: i64| vec![(first, step), (second, Exact::from(other))];
    let half = Exact::ratio(1, 2);
    let cheap = bar().minimise(Measure::cost());
    let cases = [
        (cheap.clone(), pair("capb-30", half.clone(), "dry", 7)),
        (cheap.clone(), pair("most cetyl", half.clone(), "strong", 15)),
        (cheap.clone(), pair("strong", Exact::from(16), "dry", 4)),
        (cheap.clone(), pair("kaolin", half.clone(), "panthenol", 3)),
        (cheap.clone(), vec![("mild", Exact::from(20))]),
        (dear(cheap.clone()), pair("dear", Exact::from(2), "dry", 4)),
        (bar().maximise(Measure::active_matter()), pair("least stearic", half.clone(), "capb-30", 3)),
        (bar(), pair("scs-needles", half.clone(), "strong", 11)),
        (bar().least_change_from(&base()), pair("capb-30", half.clone(), "mild", 12)),
        (finished(cheap.clone(), 8), pair("washes", Exact::from(13), "dry", 3)),
        (per_active("sci-powder", &[]).minimise(Measure::water()), vec![("dear", Exact::ONE)]),
        // Nothing to choose by but the order of the lines.
        (
            per_active("sci-powder", &["scs-needles"]).minimise(Measure::as_supplied().contributed_by(Scope::lines(["panthenol"]).unwrap())),
            vec![("dear", Exact::from(2))],
        ),
        (finished(cheap, 3), pair("most cetyl", half, "dry", 7)),
    ];
    let mut found = Found::default();
    for (brief, words) in &cases {
        let case = Case::new(brief, words).unwrap_or_else(|| panic!("{words:?} move along lines"));
        let steps: Vec<Exact> = words.iter().map(|(_, step)| step.clone()).collect();
        compare(&case, &steps, &mut found);
    }
    assert!(found.solved > 60 && found.solved_by_own == found.solved, "{found:?}");
    assert!(found.by_others > 4 * (found.solved + found.refused), "{found:?}");
    assert!(found.refused > 30 && found.only_conflicts > 20 && found.with_water > 2, "{found:?}");
}

#[test]
fn a_swept_program_is_the_brief_compiled_at_every_point() {
    let number = |tenths: i64| Exact::ratio(tenths, 10);
    let objectives = [bar().minimise(Measure::cost()), bar().maximise(Measure::active_matter()), bar(), bar().least_change_from(&base())];
    for (kind, brief) in objectives.iter().enumerate() {
        let brief = finished(dear(brief.clone()), 4);
        // Without objective a range is the middle of something too, so that its ends move two rows and a column.
        let ranges: &[&str] = if kind == 2 { &[] } else { &["most cetyl", "least stearic"] };
        let words: Vec<&str> = ["capb-30", "panthenol", "strong", "dear", "kaolin", "washes", "dry"].iter().chain(ranges).copied().collect();
        let dials: Vec<(&str, Exact)> = words.iter().map(|word| (*word, number(5))).collect();
        // Prices move the row of what is dear too, beside the costs.
        assert_eq!(Case::new(&brief, &dials).is_some(), kind != 0);
        let brief = if kind == 0 { brief.drop_requirement("dear").unwrap() } else { brief };
        let dials: Vec<(&str, Exact)> = dials.into_iter().filter(|(word, _)| kind != 0 || *word != "dear").collect();
        let case = Case::new(&brief, &dials).expect("each moves one thing");
        assert_eq!(case.swept.lines(), brief.lines().len());
        for (place, (word, _)) in dials.iter().enumerate() {
            // Where nothing costs anything, a price moves the row of what is dear.
            assert_eq!(case.swept.moves_only_costs(place), kind == 0 && *word == "kaolin", "{word} with objective {kind}");
        }
        for turn in 0..6i64 {
            let offsets: Vec<Exact> = (0..dials.len()).map(|place| number((turn * 3 + i64::try_from(place).unwrap() * 7) % 10 - 4)).collect();
            let brief = case.at(&offsets);
            let program = program_of(&brief).unwrap().unwrap();
            assert_eq!(case.swept.at(&offsets), *program.program(), "{offsets:?}");
            let all = members(&brief, &program);
            let kept: Vec<Member> =
                all.iter().copied().enumerate().filter(|(place, _)| place % 3 != usize::try_from(turn % 3).unwrap()).map(|(_, member)| member).collect();
            for kept in [kept, all, Vec::new()] {
                let expected = only(&brief, &program, &kept).unwrap();
                let columns = expected.columns().iter().map(|column| Column { cost: Exact::ZERO, ..column.clone() }).collect();
                let expected = Program::new(columns, expected.rows().to_vec()).unwrap();
                assert_eq!(case.swept.only(&kept).at(&offsets), expected);
            }
        }
    }
}

#[test]
fn what_does_not_move_along_lines_is_no_swept_program() {
    let cheap = bar().minimise(Measure::cost());
    let step = Exact::ONE;
    // Each row of a split is about its first member.
    assert!(Case::new(&cheap, &[("sci-powder", step.clone())]).is_none());
    assert!(Case::new(&bar(), &[("most cetyl", step.clone())]).is_none());
    assert!(Case::new(&cheap.clone().minimise(Measure::cost().per(&Measure::active_matter())), &[("dry", step.clone())]).is_none());
    // Moved together they are not the sum of what they are alone.
    let dials = [(dial("dry"), Exact::from(9)), (dial("strong"), Exact::from(40))];
    let (start, far) = (program_of(&cheap).unwrap().unwrap(), [Exact::ONE, Exact::from(2)]);
    let moved: Vec<(BriefProgram, Exact)> = [[1, 0], [0, 1]].iter().map(|offsets| (compiled(&cheap, &dials, &offsets.map(Exact::from)), Exact::ONE)).collect();
    let all = compiled(&cheap, &dials, &far);
    assert!(SweptProgram::new(&start, &moved, (&all, &far)).is_some());
    assert!(SweptProgram::new(&start, &moved, (&all, &[Exact::ONE, Exact::ONE])).is_none());
    // Another number of rows, alone or together.
    let other = program_of(&cheap.clone().drop_requirement("mild").unwrap()).unwrap().unwrap();
    assert!(SweptProgram::new(&start, &moved, (&other, &far)).is_none());
    assert!(SweptProgram::new(&start, &[moved[0].clone(), (other, Exact::ONE)], (&all, &far)).is_none());
}

#[test]
fn what_a_least_change_loses_with_a_line_is_beyond_its_cost() {
    assert_eq!(beyond_cost(&bar().least_change_from(&base())), Exact::from(7));
    assert!(beyond_cost(&bar()).is_zero() && beyond_cost(&bar().minimise(Measure::cost())).is_zero());
}
