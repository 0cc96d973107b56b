//! Why there is no formula on the steps, or none that makes the choices; and which finer step would do.

use tenside_lp::mixed::Tree;

use super::conflict::meets;
use super::proof::fails;
use super::question::{Best, Nothing, Question};
use super::steps::Steps;
use crate::brief::{Brief, BriefLine, Part, Role};
use crate::error::{Error, Fault, FaultKind};
use crate::number::Exact;

/// The finer steps that are tried, in hundredths of a percent.
const FINER: [i64; 5] = [50, 25, 10, 5, 1];
/// How many linear programs each of the smaller searches may solve, as a part of the whole search's.
const PART_OF_NODES: usize = 8;
const FEWEST_NODES: usize = 200;

/// No formula on the steps, or with the choices.
#[derive(Clone, Debug, PartialEq)]
pub struct Unmet {
    brief: Brief,
    steps: Option<Steps>,
    requirements: Vec<String>,
    is_proved: bool,
    is_irreducible: bool,
    is_answerable_without: bool,
    finer_step: Option<Exact>,
    would_do_within_half_a_step: bool,
    finer_lines: Option<FinerLines>,
    nodes: usize,
    node_limit: usize,
    tree: Option<Box<Tree>>,
    /// After how many turns its searches were ended by their watch, if they were.
    pub(super) ended_after: Option<usize>,
}

/// Finer steps of a few lines with which there is a formula: of those fixed between two multiples of their step, and of
/// the q.s. line.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct FinerLines {
    /// The lines.
    pub lines: Vec<String>,
    /// Their step; finer ones of their own stay.
    pub step: Exact,
    /// True where splits and targets are to be within half a step's effect as well.
    pub within_half_a_step: bool,
}

watched_by!(Unmet);

getters!(Unmet {
    /// The brief.
    brief: &Brief,
    /// The steps; nothing where only choices were to be made.
    steps: Option<&Steps>,
    /// The requirements, splits and ranges that forbid a formula together, in the words of the brief; empty where the
    /// search was cut off, and where the steps alone cannot sum to 100 %.
    requirements: &[String],
    /// True where there is no such formula; false where the search was cut off before it found one.
    is_proved: bool,
    /// True where leaving out any one of the requirements named would do; false where a smaller search was cut off, so
    /// that one of them may be named for nothing.
    is_irreducible: bool,
    /// True where the brief has a formula without steps and with every dose down to 0 allowed.
    is_answerable_without: bool,
    /// The coarsest of 0.5, 0.25, 0.1, 0.05 and 0.01 % with which a formula was found, lines with finer steps of their
    /// own keeping them.
    finer_step: Option<&Exact>,
    /// True where a formula was found on the same steps with every split and target that has no tolerance of its own
    /// within half a step's effect.
    would_do_within_half_a_step: bool,
    /// Finer steps of a few lines that would do, where half a step's effect alone does not; together with it only where
    /// finer steps of all lines would not do either.
    finer_lines: Option<&FinerLines>,
    /// How many linear programs the search solved.
    nodes: usize,
    /// How many it might have solved.
    node_limit: usize,
});

impl Unmet {
    /// Looks for what forbids a formula, after a search that found none.
    fn new(brief: &Brief, steps: Option<&Steps>, nothing: Nothing, limit: usize) -> Result<Self, Error> {
        let Nothing { proved, nodes, tree } = nothing;
        let each = (limit / PART_OF_NODES).max(FEWEST_NODES);
        let answerable = Question::whether(brief, steps, each)?.relaxed.outcome().optimum().is_some();
        let mut unmet = Unmet {
            brief: brief.clone(),
            steps: steps.cloned(),
            requirements: Vec::new(),
            is_proved: proved,
            is_irreducible: proved,
            is_answerable_without: answerable,
            finer_step: None,
            would_do_within_half_a_step: false,
            finer_lines: None,
            nodes,
            node_limit: limit,
            tree,
            ended_after: None,
        };
        if proved {
            unmet.narrow(each)?;
        }
        if let Some(steps) = steps.filter(|_| answerable) {
            let there_is = |steps: &Steps| {
                Ok::<bool, Error>(Question::whether(brief, Some(steps), each)?.has_formula()? == Some(true))
            };
            for step in finer_than(&steps.coarsest(brief)) {
                if there_is(&steps.no_coarser_than(&step))? {
                    unmet.finer_step = Some(step);
                    break;
                }
            }
            let loosened = steps.clone().within_half_a_step();
            unmet.would_do_within_half_a_step = loosened != *steps && there_is(&loosened)?;
            if !unmet.would_do_within_half_a_step {
                let loose = unmet.finer_step.is_none() && !steps.is_within_half_a_step();
                unmet.finer_lines = finer_lines(brief, steps, loose, &there_is)?;
            }
        }
        unmet.ended_after = brief.watched().ended_after();
        unmet.brief = brief.unwatched();
        Ok(unmet)
    }

    /// Takes out one part after the other and leaves it out if there is still no formula: what stays cannot hold
    /// together, and without any one of it there is a formula.
    fn narrow(&mut self, nodes: usize) -> Result<(), Error> {
        let mut out: Vec<Part> = Vec::new();
        for part in self.brief.parts() {
            out.push(part);
            let brief = self.brief.without_parts(&out);
            let known = Question::whether(&brief, self.steps.as_ref(), nodes)?.has_formula()?;
            if known != Some(false) {
                out.pop();
                self.requirements.push(self.brief.part_words(part));
                self.is_irreducible = self.is_irreducible && known.is_some();
            }
        }
        Ok(())
    }

    /// One sentence that says what is in the way and what would do.
    #[must_use]
    pub fn sentence(&self) -> String {
        let asked =
            self.steps.as_ref().map_or("with these choices".to_string(), |steps| format!("of {}", steps.words()));
        let mut sentence = match (self.is_proved, self.requirements.as_slice()) {
            (false, _) => format!("no formula {asked} was found in {}; there may be one", programs(self.nodes)),
            (true, []) => format!("no formula {asked} sums to 100 %"),
            (true, several) => format!("no formula {asked} {}", meets(several)),
        };
        if !self.is_answerable_without {
            let instead = if self.steps.is_some() { "no finer step would do" } else { "no other choice would do" };
            sentence.push_str(&format!("; {instead}, the brief itself cannot be answered"));
        } else if let Some(step) = &self.finer_step {
            sentence.push_str(&format!("; steps of {step} % would do"));
        } else if self.steps.is_some() && self.finer_lines.is_none() && !self.would_do_within_half_a_step {
            sentence.push_str("; with none of the finer steps tried, down to 0.01 %, was a formula found");
        }
        if self.would_do_within_half_a_step {
            sentence.push_str("; with splits and targets within half a step's effect (half_a_step) there is one");
        }
        if let Some(FinerLines { lines, step, within_half_a_step }) = &self.finer_lines {
            let lines = lines.join(", ");
            sentence.push_str(&match (&self.finer_step, within_half_a_step) {
                (Some(_), _) => format!("; so would steps of {step} % for {lines} alone"),
                (None, false) => format!("; steps of {step} % for {lines} would do"),
                (None, true) => format!(
                    "; steps of {step} % for {lines} would do with splits and targets within half a step's effect \
                     (half_a_step)"
                ),
            });
        }
        sentence
    }

    /// Checks the tree of the search, or the proof that the brief itself cannot be answered, without searching.
    ///
    /// # Errors
    /// What does not hold, and an unmet brief that was not proved to be one.
    pub fn verify(&self) -> Result<(), Error> {
        if !self.is_proved {
            return Err(fails("the search was cut off, so nothing is proved"));
        }
        Question::new(&self.brief, self.steps.as_ref(), 1)?.verify_nothing(self.tree.as_deref())
    }

    /// The way out, in words.
    #[must_use]
    pub fn remedy(&self) -> String {
        if let Some(FinerLines { lines, step, within_half_a_step }) = &self.finer_lines {
            let loosened = if *within_half_a_step {
                ", and let splits and targets be within half a step's effect (half_a_step)"
            } else {
                ""
            };
            return format!("take steps of {step} % for {}{loosened}", lines.join(", "));
        }
        match (&self.finer_step, self.is_proved, &self.steps) {
            (Some(step), ..) => {
                format!("take steps of {step} %, state a tolerance for a split or target, or loosen one of them")
            }
            (None, _, Some(_)) if self.would_do_within_half_a_step => {
                "let splits and targets be within half a step's effect \
                                                              (half_a_step), or state a tolerance for one of them"
                    .to_string()
            }
            (None, false, _) => "let the search solve more linear programs".to_string(),
            (None, true, Some(_)) => "loosen one of them, or state a tolerance for a split or target".to_string(),
            (None, true, None) => "loosen one of them".to_string(),
        }
    }

    pub(super) fn into_error(self) -> Error {
        Fault::new(FaultKind::Contradiction, self.sentence()).remedy(self.remedy()).into()
    }
}

impl std::fmt::Display for Unmet {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter.write_str(&self.sentence())
    }
}

/// How much a search took, in words.
pub(super) fn programs(nodes: usize) -> String {
    format!("{nodes} linear {}", if nodes == 1 { "program" } else { "programs" })
}

/// The finer steps that are tried below one, coarsest first.
fn finer_than(step: &Exact) -> impl Iterator<Item = Exact> {
    FINER.map(|hundredths| Exact::ratio(hundredths, 100)).into_iter().filter(move |finer| finer < step)
}

/// The coarsest step for the lines fixed between two multiples of theirs and for the q.s. line with which there is a
/// formula; if need be, and where that is not asked for yet, with splits and targets within half a step's effect too.
fn finer_lines(
    brief: &Brief,
    steps: &Steps,
    loose: bool,
    there_is: &dyn Fn(&Steps) -> Result<bool, Error>,
) -> Result<Option<FinerLines>, Error> {
    let between = |line: &&BriefLine| match line.role() {
        Role::Fixed(percent) => {
            percent.percent().checked_div(steps.step_of(line.name())).is_some_and(|count| !count.is_whole())
        }
        Role::Qs => true,
        _ => false,
    };
    let lines: Vec<String> = brief.lines().iter().filter(between).map(|line| line.name().to_string()).collect();
    let Some(coarsest) = lines.iter().map(|line| steps.step_of(line)).max().cloned() else { return Ok(None) };
    for within_half_a_step in [false, true].into_iter().filter(|within| loose || !within) {
        let steps = if within_half_a_step { steps.clone().within_half_a_step() } else { steps.clone() };
        for step in finer_than(&coarsest) {
            let mut finer = steps.clone();
            for line in &lines {
                finer = finer.line(line, steps.step_of(line).min(&step))?;
            }
            if there_is(&finer)? {
                return Ok(Some(FinerLines { lines, step, within_half_a_step }));
            }
        }
    }
    Ok(None)
}

/// The best formula, or why there is none.
pub(super) fn best_or_unmet<'a>(
    brief: &'a Brief,
    steps: Option<&Steps>,
    nodes: usize,
) -> Result<Result<(Question<'a>, Best), Unmet>, Error> {
    let question = Question::new(brief, steps, nodes)?;
    match question.best()? {
        Ok(best) => Ok(Ok((question, best))),
        Err(nothing) => Unmet::new(brief, steps, nothing, nodes).map(Err),
    }
}

#[cfg(test)]
mod tests {
    use super::super::RoundedOutcome;
    use super::*;
    use crate::catalogue::Catalogue;
    use crate::measure::Measure;

    fn unmet(brief: &Brief, steps: &Steps) -> Unmet {
        let RoundedOutcome::Unmet(unmet) = brief.try_solve_rounded(steps).unwrap() else {
            panic!("there is a formula")
        };
        *unmet
    }

    /// Active matter of 40 % exactly is not to be had in steps of 0.5 %, but within half a step's effect.
    fn bar() -> Brief {
        let brief = Brief::new("Bar", &Catalogue::starter())
            .unwrap()
            .between("sci-powder", 20, 70)
            .unwrap()
            .free("scs-needles")
            .unwrap();
        brief.free("capb-30").unwrap().qs("kaolin").unwrap().target(Measure::active_matter(), "40.03").unwrap()
    }

    #[test]
    fn a_proved_one_says_what_was_asked_and_how() {
        let steps = Steps::of("0.5").unwrap();
        let unmet = unmet(&bar(), &steps);
        unmet.verify().unwrap();
        assert!(
            unmet.is_proved()
                && unmet.is_irreducible()
                && unmet.is_answerable_without()
                && unmet.would_do_within_half_a_step()
        );
        assert_eq!((unmet.steps(), unmet.brief()), (Some(&steps), &bar()));
        assert_eq!(unmet.nodes(), unmet.tree.as_ref().unwrap().nodes());
        assert_eq!(unmet.to_string(), unmet.sentence());
        assert!(
            unmet.sentence().starts_with("no formula of multiples of 0.5 % meets this: active matter at 40.03 %; "),
            "{unmet}"
        );
    }

    /// Doses in tenths on steps of a half: what they leave is in tenths too, so the filler has to be. With a split that
    /// no half percents meet, that has to give as well.
    #[test]
    fn a_finer_filler_is_named_where_that_is_what_is_needed() {
        let start = || {
            Brief::new("Bar", &Catalogue::starter())
                .unwrap()
                .fix("citric-acid-50", "0.3")
                .unwrap()
                .fix("sodium-benzoate", "0.6")
                .unwrap()
        };
        let split = |brief: Brief| {
            brief.split("wash", crate::brief::SplitBasis::Active, [("sci-powder", "3.3331"), ("capb-30", "1")]).unwrap()
        };
        let brief = split(start()).qs("corn-starch").unwrap().at_least(Measure::active_matter(), 30).unwrap();
        let doses =
            || Steps::of("0.5").unwrap().line("citric-acid-50", "0.1").unwrap().line("sodium-benzoate", "0.1").unwrap();
        let tenth = Exact::ratio(1, 10);
        for (steps, finer, lines, loose) in [
            (doses().within_half_a_step(), Some(&tenth), vec!["corn-starch"], false),
            (doses(), None, vec!["corn-starch"], true),
            (Steps::of("0.5").unwrap(), None, vec!["citric-acid-50", "sodium-benzoate", "corn-starch"], true),
        ] {
            let unmet = unmet(&brief, &steps);
            assert_eq!((unmet.finer_step(), unmet.would_do_within_half_a_step()), (finer, false));
            let FinerLines { lines: named, step, within_half_a_step } = unmet.finer_lines().unwrap().clone();
            assert_eq!(
                (named.iter().map(String::as_str).collect::<Vec<_>>(), &step, within_half_a_step),
                (lines, &tenth, loose)
            );
            for text in [unmet.sentence(), unmet.remedy()] {
                assert!(
                    text.contains("steps of 0.1 % for ")
                        && text.contains("corn-starch")
                        && text.contains("half_a_step") == loose,
                    "{text}"
                );
            }
            assert!(!unmet.sentence().contains("none of the finer steps"), "{unmet}");
            // It is a way out.
            let mut done = steps.clone();
            for line in &named {
                done = done.line(line, steps.step_of(line).min(&step)).unwrap();
            }
            brief.solve_rounded(&if loose { done.within_half_a_step() } else { done }).unwrap().verify().unwrap();
        }
    }

    #[test]
    fn half_a_step_is_named_where_that_is_what_is_needed() {
        let brief = bar()
            .fix("panthenol", "1.5")
            .unwrap()
            .split("wash", crate::brief::SplitBasis::Active, [("sci-powder", 17), ("scs-needles", 5)])
            .unwrap();
        let unmet = unmet(&brief, &Steps::of("0.5").unwrap());
        assert!(unmet.would_do_within_half_a_step() && unmet.finer_step().is_none() && unmet.finer_lines().is_none());
        assert!(
            unmet
                .sentence()
                .ends_with("; with splits and targets within half a step's effect (half_a_step) there is one"),
            "{unmet}"
        );
        assert!(
            unmet.remedy().contains("(half_a_step)") && !unmet.sentence().contains("none of the finer steps"),
            "{unmet}"
        );
    }

    #[test]
    fn what_contradicts_itself_is_not_laid_to_the_steps() {
        let brief = bar().at_most(Measure::active_matter(), 39).unwrap();
        let unmet = unmet(&brief, &Steps::of("0.5").unwrap());
        unmet.verify().unwrap();
        assert!(unmet.is_proved() && !unmet.is_answerable_without() && !unmet.would_do_within_half_a_step());
        assert_eq!(unmet.finer_step(), None);
        assert!(unmet.sentence().ends_with("no finer step would do, the brief itself cannot be answered"), "{unmet}");
    }

    /// 84 % and 30 % active in steps of 0.5 % make multiples of 0.03 %, of which none is here; trying the powder's
    /// steps shows it.
    fn between_two_multiples() -> Brief {
        let brief = Brief::new("Bar", &Catalogue::starter())
            .unwrap()
            .between("sci-powder", 40, 46)
            .unwrap()
            .free("capb-30")
            .unwrap()
            .qs("kaolin")
            .unwrap();
        brief.at_least(Measure::active_matter(), "40.03").unwrap().at_most(Measure::active_matter(), "40.04").unwrap()
    }

    #[test]
    fn a_search_cut_off_proves_nothing() {
        for nodes in [1, 3] {
            let unmet = unmet(&between_two_multiples(), &Steps::of("0.5").unwrap().up_to_nodes(nodes).unwrap());
            assert!(!unmet.is_proved());
            assert!(!unmet.is_irreducible() && unmet.requirements().is_empty());
            assert!(unmet.verify().unwrap_err().to_string().contains("cut off"));
            assert_eq!((unmet.nodes(), unmet.node_limit()), (nodes, nodes));
            let programs =
                if nodes == 1 { "1 linear program;".to_string() } else { format!("{nodes} linear programs;") };
            assert!(unmet.sentence().contains(&programs), "{unmet}");
        }
    }

    /// Where a smaller search is cut off, a requirement may be named for nothing, and that is said.
    #[test]
    fn a_smaller_search_cut_off_leaves_it_open_whether_all_is_needed() {
        let mut cut = unmet(&between_two_multiples(), &Steps::of("0.5").unwrap());
        cut.verify().unwrap();
        assert!(cut.is_irreducible() && cut.nodes() > 3);
        cut.narrow(1).unwrap();
        assert!(!cut.is_irreducible() && !cut.requirements().is_empty());
    }

    #[test]
    fn a_proof_that_is_gone_or_about_another_brief_is_not_verified() {
        let of = |brief: Brief| brief.fix("citric-acid-50", "0.3").unwrap().qs("kaolin").unwrap();
        let start = || Brief::new("Bar", &Catalogue::starter()).unwrap().between("sci-powder", 30, 70).unwrap();
        let RoundedOutcome::Unmet(unmet) = of(start()).try_solve_rounded(&Steps::of("0.5").unwrap()).unwrap() else {
            panic!("0.3 % is no multiple")
        };
        unmet.verify().unwrap();
        let refused = |change: &dyn Fn(&mut Unmet)| {
            let mut forged = (*unmet).clone();
            change(&mut forged);
            assert!(forged.verify().is_err());
        };
        refused(&|forged| forged.tree = None);
        refused(&|forged| forged.steps = Some(Steps::of("0.1").unwrap()));
        refused(&|forged| forged.brief = start().fix("citric-acid-50", "0.5").unwrap().qs("kaolin").unwrap());
        refused(&|forged| forged.is_proved = false);
    }
}
