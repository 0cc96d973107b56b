//! Ordered results by their ranks, which need no equal steps between categories.
//!
//! ```text
//! H = (12 / (N (N + 1)) sum R_j² / n_j - 3 (N + 1)) / (1 - sum (t³ - t) / (N³ - N))
//! ```
//!
//! with the sum of ranks `R_j` of the `n_j` results of blend j among all `N`, equal results sharing the mean of their
//! ranks, `t` of them at a time. If no blend is better than another, H follows chi-squared with one degree of freedom
//! less than there are blends, nearly (W. H. Kruskal and W. A. Wallis, Journal of the American Statistical Association
//! 47, 1952, 583-621; from memory).

use std::collections::HashMap;

use statrs::distribution::{ChiSquared, ContinuousCDF};

use super::{Response, TrialLog};
use crate::number::{Exact, Ppm};
use crate::render::{Alignment, Page, Part, Table, so_many};

/// The results of one blend by their ranks among all results.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct RankedBlend {
    /// The blend, or the first run of it where none is stated.
    pub blend: String,
    /// How many results it has.
    pub results: usize,
    /// The lowest.
    pub lowest: f64,
    /// The middle one, or the mean of the two in the middle.
    pub median: f64,
    /// The highest.
    pub highest: f64,
    /// The mean of their ranks, 1 for the lowest of all results.
    pub mean_rank: f64,
}

/// A property by ranks, blends with the highest mean rank first.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct RankSummary {
    /// The property.
    pub response: Response,
    /// Its blends.
    pub blends: Vec<RankedBlend>,
    /// The statistic H of Kruskal and Wallis; `None` for a single blend, or where all results are equal.
    pub statistic: Option<f64>,
    /// Its degrees of freedom.
    pub degrees_of_freedom: usize,
    /// How often chance alone gives such a statistic or a greater one, if no blend is better than another; by
    /// chi-squared.
    pub p: Option<f64>,
}

impl RankSummary {
    /// What to know about it.
    #[must_use]
    pub fn notes(&self) -> Vec<String> {
        let mut notes = vec!["ranks say which blends are higher, not by how much".to_string()];
        if self.blends.iter().any(|blend| blend.results < 5) {
            notes.push(
                "chi-squared is only near with fewer than five results a blend (common practice, no source)"
                    .to_string(),
            );
        }
        if self.blends.iter().any(|blend| blend.results > 1) {
            notes.push(
                "results are taken as independent: one judge who scores several bars makes them less so".to_string(),
            );
        }
        notes
    }

    /// The summary as a page.
    #[must_use]
    pub fn page(&self) -> Page {
        let right = Alignment::Right;
        let columns = [
            ("blend", Alignment::Left),
            ("results", right),
            ("lowest", right),
            ("median", right),
            ("highest", right),
            ("mean rank", right),
        ];
        let mut table = Table::new(&columns);
        for blend in &self.blends {
            let number = |value: f64| format!("{value:.4}").trim_end_matches('0').trim_end_matches('.').to_string();
            table.push([
                blend.blend.clone(),
                blend.results.to_string(),
                number(blend.lowest),
                number(blend.median),
                number(blend.highest),
                number(blend.mean_rank),
            ]);
        }
        let said = match (self.statistic, self.p) {
            (Some(statistic), Some(p)) => format!(
                "Kruskal and Wallis: H = {statistic:.4} with {}, p = {p:.4}.",
                so_many(self.degrees_of_freedom, "degree of freedom", "degrees of freedom")
            ),
            _ => "One blend, or all results equal: nothing to compare.".to_string(),
        };
        Page::new(&format!("{} by ranks", self.response.heading()))
            .with(Part::Text(said))
            .with(Part::Table(table))
            .section("To know about these", Part::List(self.notes()))
    }
}

impl TrialLog {
    /// The runs of each blend by their places, in the order in which they come up: runs that state the same blend, `apart`
    /// where they were made at other settings, and of those that state none, runs of the same percentages and settings.
    pub(in crate::trial) fn blends(&self, apart: bool) -> Vec<(String, Vec<usize>)> {
        #[derive(PartialEq, Eq, Hash)]
        enum Key<'a> {
            Named(&'a str, Vec<&'a Exact>),
            Made(Vec<Ppm>, Vec<&'a Exact>),
        }
        let mut places: HashMap<Key<'_>, usize> = HashMap::new();
        let mut blends: Vec<(String, Vec<usize>)> = Vec::new();
        for (index, run) in self.runs.iter().enumerate() {
            // Every run has its lines and settings in one order.
            let settings = || run.settings.iter().map(|(_, setting)| setting).collect();
            let key = match &run.blend {
                Some(blend) => Key::Named(blend, if apart { settings() } else { Vec::new() }),
                None => Key::Made(run.lines.iter().map(|(_, percent)| *percent).collect(), settings()),
            };
            let name = run.blend.as_ref().unwrap_or(&run.name);
            let place = *places.entry(key).or_insert_with(|| {
                blends.push((name.clone(), Vec::new()));
                blends.len() - 1
            });
            blends[place].1.push(index);
        }
        blends
    }

    /// A property by the ranks of its results, for panel scores and whatever has an order only.
    ///
    /// # Errors
    /// An unknown property, and one without results.
    pub fn ranks(&self, response: &str) -> Result<RankSummary, crate::error::Error> {
        let response = self.response(response)?;
        let results: Vec<Option<f64>> =
            self.runs.iter().map(|run| run.result(response.name()).map(Exact::to_f64)).collect();
        let mut order: Vec<(f64, usize)> =
            results.iter().enumerate().filter_map(|(index, result)| result.map(|result| (result, index))).collect();
        if order.is_empty() {
            return Err(super::no_results(response).into());
        }
        order.sort_by(|left, right| left.0.total_cmp(&right.0));
        let mut ranks = vec![0.0; results.len()];
        let (mut ties, mut start) = (0.0, 0);
        while start < order.len() {
            let end = start + order[start..].iter().take_while(|(result, _)| *result == order[start].0).count();
            let equal = (end - start) as f64;
            ties += equal.powi(3) - equal;
            order[start..end].iter().for_each(|(_, index)| ranks[*index] = (start + end + 1) as f64 / 2.0);
            start = end;
        }
        let all = order.len() as f64;
        let (mut blends, mut squares) = (Vec::new(), 0.0);
        for (blend, runs) in self.blends(false) {
            let mut own: Vec<f64> = runs.iter().filter_map(|run| results[*run]).collect();
            if own.is_empty() {
                continue;
            }
            own.sort_by(f64::total_cmp);
            let sum: f64 = runs.iter().filter(|run| results[**run].is_some()).map(|run| ranks[*run]).sum();
            let count = own.len();
            squares += sum * sum / count as f64;
            let median = (own[(count - 1) / 2] + own[count / 2]) / 2.0;
            blends.push(RankedBlend {
                blend,
                results: count,
                lowest: own[0],
                median,
                highest: own[count - 1],
                mean_rank: sum / count as f64,
            });
        }
        blends.sort_by(|left, right| right.mean_rank.total_cmp(&left.mean_rank));
        let degrees = blends.len() - 1;
        let correction = 1.0 - ties / (all.powi(3) - all);
        let statistic = (degrees > 0 && correction > 0.0)
            .then(|| (12.0 / (all * (all + 1.0)) * squares - 3.0 * (all + 1.0)) / correction);
        let p = statistic.and_then(|statistic| ChiSquared::new(degrees as f64).ok().map(|chi| chi.sf(statistic)));
        Ok(RankSummary { response: response.clone(), blends, statistic, degrees_of_freedom: degrees, p })
    }
}
