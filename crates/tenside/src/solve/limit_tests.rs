//! What holds an answer where it is, and what a proof of a conflict uses, on seeded random briefs.

use tenside_lp::{Column, Crossing, Outcome as Linear, Program, combined, solve, verify};

use super::constraint::limit;
use super::member::{members, only, row_of, support, without};
use super::program::{RowName, frame};
use super::{Answer, BriefProgram, Limit, Outcome, Point, Side, sides, solve_point};
use crate::brief::{Brief, Role};
use crate::catalogue::Catalogue;
use crate::measure::{Measure, Scope};
use crate::number::{Exact, Ppm};
use crate::solve::tests::Numbers;

fn percent(seeded: &mut Numbers, most: u64) -> Exact {
    Exact::from(i64::try_from(seeded.below(most)).unwrap())
}

pub(super) const SHELF: [&str; 6] =
    ["sci-powder", "capb-30", "coco-glucoside-50", "cetyl-alcohol", "glycerin-86", "kaolin"];

pub(super) fn random_brief(seed: u64) -> Brief {
    let mut seeded = Numbers(seed.wrapping_mul(2).wrapping_add(1));
    let mut brief = Brief::new("random", &Catalogue::starter()).unwrap();
    for id in SHELF {
        brief = match seeded.below(5) {
            0 => brief.fix(id, percent(&mut seeded, 12)).unwrap(),
            1 | 2 => {
                let low = percent(&mut seeded, 20);
                let high = &low + percent(&mut seeded, 30);
                brief.between(id, low, high).unwrap()
            }
            _ => brief.free(id).unwrap(),
        };
    }
    for measure in [Measure::active_matter(), Measure::water(), Measure::water().per(&Measure::active_matter())] {
        let value = percent(&mut seeded, 60);
        brief = match seeded.below(4) {
            0 => brief.target(measure, value).unwrap(),
            1 => brief.at_least(measure, value).unwrap(),
            2 => brief.at_most(measure, value).unwrap(),
            _ => brief,
        };
    }
    let of = |ids: [&str; 2]| Measure::as_supplied().contributed_by(Scope::lines(ids).unwrap());
    if seeded.below(2) == 0 {
        brief.minimise(of(["sci-powder", "cetyl-alcohol"]))
    } else {
        brief.maximise(of(["kaolin", "capb-30"]))
    }
}

fn best(brief: &Brief) -> Exact {
    brief.solve().unwrap().objective().unwrap().clone()
}

/// The lines that stand at an end of their range, in the brief's order.
fn standing(answer: &Answer) -> Vec<(usize, Side)> {
    let lines = answer.brief().lines().iter().zip(answer.exact()).enumerate();
    let at_end = lines.filter_map(|(index, (line, value))| {
        let (low, high) = line.role().range();
        let side = match (matches!(line.role(), Role::Fixed(_)), value.cmp(&low.percent()), value.cmp(&high.percent()))
        {
            (true, ..) => None,
            (_, std::cmp::Ordering::Equal, _) => Some(Side::AtLowest),
            (.., std::cmp::Ordering::Equal) => Some(Side::AtHighest),
            _ => None,
        };
        side.map(|side| (index, side))
    });
    at_end.collect()
}

#[test]
fn what_binds_stands_at_its_end_and_what_is_not_decisive_can_go() {
    let (mut decisive, mut idle, mut highest, mut points) = (0, 0, 0, 0);
    for seed in 0..100 {
        let brief = random_brief(seed);
        let Ok(Outcome::Answered(answer)) = brief.try_solve() else { continue };
        let binding = answer.binding();
        let standing = standing(&answer);
        let of_lines = standing.iter().map(|(index, side)| {
            (format!("line {}, {}", brief.lines()[*index].name(), brief.lines()[*index].role().words()), *side)
        });
        let told: Vec<_> = binding
            .iter()
            .filter(|one| one.words.starts_with("line "))
            .map(|one| (one.words.clone(), one.side))
            .collect();
        assert_eq!(told, of_lines.collect::<Vec<_>>(), "seed {seed}");
        highest += standing.iter().filter(|(_, side)| *side == Side::AtHighest).count();

        let value = best(&brief);
        let program = answer.proof().program();
        let mut lines = standing.iter();
        for one in &binding {
            let rest = if one.words.starts_with("line ") {
                brief.with_role(lines.next().unwrap().0, Role::Free)
            } else {
                let row = program.names().iter().position(|name| name.words() == one.words).unwrap();
                without(&brief, limit(&program.names()[row]).unwrap())
            };
            let stays = best(&rest) == value;
            assert!(one.decisive || stays, "seed {seed}: {} is said not to matter", one.words);
            decisive += usize::from(one.decisive && !stays);
            idle += usize::from(!one.decisive);
        }

        let Ok(Point::Solved { values, objective, binding }) = solve_point(&brief) else {
            panic!("seed {seed} is answered")
        };
        assert_eq!((values.as_slice(), objective.as_ref()), (answer.exact(), answer.objective()));
        let mut expected: Vec<Limit> = Vec::new();
        for (index, line) in brief.lines().iter().enumerate().filter(|(_, line)| !matches!(line.role(), Role::Fixed(_)))
        {
            let (low, high) = line.role().range();
            expected.extend((values[index] == low.percent()).then_some(Limit::Low(index)));
            expected.extend((values[index] == high.percent()).then_some(Limit::High(index)));
        }
        for (index, requirement) in brief.requirements().iter().enumerate().filter(|(_, one)| one.low() != one.high()) {
            let (numerator, denominator) = sides(&brief, requirement.measure(), requirement.basis()).unwrap();
            let [above, below] = [numerator, denominator]
                .map(|all| all.iter().zip(&values).map(|(one, value)| one * value).sum::<Exact>());
            let met = |end: Option<&Exact>| end.is_some_and(|end| above == end * &below);
            for (end, upper) in [(requirement.low(), false), (requirement.high(), true)] {
                expected.extend(met(end).then_some(Limit::Requirement { index, upper }));
            }
        }
        expected.sort();
        let mut told = binding;
        told.sort();
        points += usize::from(told.iter().any(|limit| matches!(limit, Limit::Requirement { .. })));
        assert_eq!(told, expected, "seed {seed}");
    }
    assert!(decisive > 20 && idle > 5 && highest > 5 && points > 5, "{decisive} {idle} {highest} {points}");
}

/// The greatest value of the combination of the rows, with the lines of `program`.
fn greatest(sums: &[Exact], program: &Program) -> Exact {
    let reach = |(sum, column): (&Exact, &Column)| {
        [&column.low, &column.high].map(|end| sum * end.as_ref().unwrap()).into_iter().max().unwrap()
    };
    sums.iter().zip(program.columns()).map(reach).sum()
}

#[test]
fn the_support_of_a_proof_is_what_its_combination_uses_and_no_more() {
    let (mut lines, mut left_out) = (0, 0);
    for seed in 0..120 {
        let brief = random_brief(seed).with_objective(None);
        let frame = frame(&brief).unwrap();
        let program = BriefProgram::new(frame.columns, frame.rows, brief.lines().len()).unwrap();
        let Linear::Infeasible(farkas) = solve(program.program()) else { continue };
        let used = support(&brief, &program, &farkas);
        let kept = only(&program, &used);
        verify(&kept, &Linear::Infeasible(farkas.clone())).unwrap();
        if let Some(Crossing::Column(_) | Crossing::Row(_)) = farkas.crossing {
            continue;
        }
        let sums = combined(program.program(), &farkas.row_multipliers);
        for member in members(&brief, &program) {
            let is_used = match member {
                Limit::Line(line) => {
                    let loosened = brief.with_role(line, Role::Free);
                    let (low, high) = loosened.lines()[line].role().range();
                    assert_eq!((low, high), (Ppm::ZERO, Ppm::WHOLE));
                    let mut looser = program.program().clone();
                    let whole = |index: usize, column: &mut Column| {
                        if index == line {
                            (column.low, column.high) = (Some(low.percent()), Some(high.percent()));
                        }
                    };
                    looser.change(whole, |_, _| {});
                    greatest(&sums, &looser) != greatest(&sums, program.program())
                }
                row => !farkas.row_multipliers[row_of(&program, row).unwrap()].is_zero(),
            };
            assert_eq!(used.contains(&member), is_used, "seed {seed}: {member:?}");
            lines += usize::from(is_used && matches!(member, Limit::Line(_)));
            left_out += usize::from(!is_used);
        }
        assert!(program.names().iter().any(|name| matches!(name, RowName::Total)));
    }
    assert!(lines > 20 && left_out > 20, "{lines} {left_out}");
}
