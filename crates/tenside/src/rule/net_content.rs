//! What a market allows of the net content of packages: by how much one may fall short, and how a batch of them is
//! tested for it. Every value has its source in `data/net_content/`.

#![expect(clippy::disallowed_types, reason = "embedded data, read once")]

use std::sync::LazyLock;

use super::Market;
use crate::bounds::Quantity;
use crate::document::{Notation, Reader, TableView};
use crate::number::Exact;

/// The rules of one market.
pub(crate) struct NetRules {
    from: Exact,
    round_up_to: Option<Exact>,
    rows: Vec<Row>,
    rows_count_millilitres: bool,
    /// Where the tolerable shortfalls of masses come from.
    pub(crate) source: String,
    /// Where those of volumes come from, or why they are not known.
    pub(crate) volume_source: String,
    /// How a batch is tested.
    pub(crate) test: BatchTest,
}

/// Up to a content in grams: so many percent of it, or so many grams.
struct Row {
    to: Exact,
    percent: Option<Exact>,
    grams: Option<Exact>,
}

/// How a batch of packages is tested.
pub(crate) struct BatchTest {
    /// What the test is called.
    pub(crate) name: String,
    /// Where it comes from.
    pub(crate) source: String,
    /// No package may fall short by more than so many times the tolerable shortfall, where that is stated.
    pub(crate) never_beyond: Option<Exact>,
    /// The most packages of one batch, where that is stated.
    pub(crate) largest_batch: Option<u32>,
    plans: Vec<PlanRow>,
    factors: Vec<(u32, Exact)>,
    factors_of_all: Vec<(u32, Exact)>,
}

/// How many packages of a batch are weighed, and how many of them may fall short.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Plan {
    /// All of them; so many may be short.
    All {
        /// How many the batch has.
        batch: u32,
        /// The most that may be short.
        accept: u32,
    },
    /// A sample, or two where the first leaves it open.
    Sample {
        /// Packages of the first sample.
        first: u32,
        /// The most short ones that accept it.
        accept: u32,
        /// The fewest short ones that reject it.
        reject: u32,
        /// Packages of the second sample, and the most short ones of both that accept; none where the first decides.
        second: Option<(u32, u32)>,
        /// The mean is that of so many of the first sample.
        mean_of: u32,
    },
}

/// The plan of batches of up to so many packages.
struct PlanRow {
    to: Option<u32>,
    kind: PlanKind,
}

enum PlanKind {
    /// All are weighed; so many percent may be short.
    All(Exact),
    Sample(Plan),
}

impl Plan {
    /// How many packages are weighed before anything can be said.
    pub(crate) fn first(self) -> u32 {
        match self {
            Plan::All { batch, .. } => batch,
            Plan::Sample { first, .. } => first,
        }
    }

    /// Of how many the mean is taken.
    pub(crate) fn mean_of(self) -> u32 {
        match self {
            Plan::All { batch, .. } => batch,
            Plan::Sample { mean_of, .. } => mean_of,
        }
    }
}

static EU: LazyLock<NetRules> = LazyLock::new(|| embedded("eu.toml", include_str!("../../data/net_content/eu.toml")));
static US: LazyLock<NetRules> = LazyLock::new(|| embedded("us.toml", include_str!("../../data/net_content/us.toml")));

/// What a market allows.
pub(crate) fn net_rules(market: Market) -> &'static NetRules {
    match market {
        Market::Eu => &EU,
        Market::Us => &US,
    }
}

impl NetRules {
    /// By how many grams one package of that content may fall short; nothing outside the table.
    pub(crate) fn shortfall(&self, content: &Exact) -> Option<Exact> {
        let row = self.rows.iter().find(|row| *content <= row.to).filter(|_| *content >= self.from)?;
        let share = row.percent.as_ref().map(|percent| {
            let grams = content * percent / Exact::hundred();
            // Up to the next whole step.
            self.round_up_to.as_ref().map_or_else(|| grams.clone(), |step| -((-grams.clone()).floor_to(step)))
        });
        row.grams.clone().or(share)
    }

    /// By how many millilitres a package by volume may fall short; nothing outside the table and where none is carried.
    pub(crate) fn volume_shortfall(&self, content: &Exact) -> Option<Exact> {
        self.rows_count_millilitres.then(|| self.shortfall(content)).flatten()
    }

    /// The largest content of the table, grams.
    pub(crate) fn largest(&self) -> Exact {
        self.rows.last().map_or(Exact::ZERO, |row| row.to.clone())
    }

    /// The contents of the table, in words.
    pub(crate) fn contents(&self) -> String {
        format!("{} to {} g", self.from, self.largest())
    }
}

impl BatchTest {
    /// The plan for a batch of so many packages.
    pub(crate) fn plan(&self, batch: u32) -> Option<Plan> {
        let row = self.plans.iter().find(|row| row.to.is_none_or(|to| batch <= to))?;
        Some(match &row.kind {
            PlanKind::Sample(plan) => *plan,
            PlanKind::All(percent) => {
                let most = (Exact::from(batch) * percent / Exact::hundred()).floor_i64();
                Plan::All { batch, accept: most.and_then(|most| u32::try_from(most).ok())? }
            }
        })
    }

    /// By how many standard deviations the mean may fall short; nothing where it is held to the content itself.
    pub(crate) fn factor(&self, plan: Plan) -> Option<&Exact> {
        let factors = if matches!(plan, Plan::All { .. }) { &self.factors_of_all } else { &self.factors };
        factors.iter().find_map(|(number, factor)| (*number == plan.mean_of()).then_some(factor))
    }
}

fn embedded(file: &str, text: &str) -> NetRules {
    // The embedded files are read by a test; a fault there is a fault of the build.
    Reader::read(text, Notation::Toml, read).unwrap_or_else(|error| panic!("{file}: {error}"))
}

fn read(view: &TableView<'_>) -> Option<NetRules> {
    view.version("net-content/1");
    let grams = |view: &TableView<'_>, key| view.exact(key, Some(Quantity::Mass));
    let rows = view.tables("row", |view| {
        let (percent, absolute) = (view.exact("percent", Some(Quantity::Percent)), grams(view, "grams"));
        Some(Row { to: view.needed("to", |view| grams(view, "to"))?, percent, grams: absolute })
    });
    Some(NetRules {
        from: view.needed("from", |view| grams(view, "from"))?,
        round_up_to: grams(view, "round_up_to"),
        rows,
        rows_count_millilitres: view.needed("rows_count_millilitres", |view| view.boolean("rows_count_millilitres"))?,
        source: view.needed("source", |view| view.prose("source"))?,
        volume_source: view.needed("volume_source", |view| view.prose("volume_source"))?,
        test: view.needed("test", |view| view.table("test", read_test))?,
    })
}

fn read_test(view: &TableView<'_>) -> Option<BatchTest> {
    let factors = |key| {
        view.tables(key, |view| {
            let deviations = view.needed("deviations", |view| view.exact("deviations", None));
            Some((view.needed("of", |view| view.whole("of"))?, deviations?))
        })
    };
    Some(BatchTest {
        name: view.needed("name", |view| view.prose("name"))?,
        source: view.needed("source", |view| view.prose("source"))?,
        never_beyond: view.exact("never_beyond", None),
        largest_batch: view.whole("largest_batch"),
        plans: view.tables("plan", read_plan),
        factors: factors("factor"),
        factors_of_all: factors("factor_of_all"),
    })
}

fn read_plan(view: &TableView<'_>) -> Option<PlanRow> {
    let to = view.whole("to");
    let short_percent = view.exact("short_percent", Some(Quantity::Percent));
    let second = view.whole("second").zip(view.whole("accept_both"));
    let (first, accept, reject, mean_of) =
        (view.whole("first"), view.whole("accept"), view.whole("reject"), view.whole("mean_of"));
    let kind = match short_percent {
        Some(percent) => PlanKind::All(percent),
        None => {
            let accept = view.needed("accept", |_| accept)?;
            let (first, mean_of) = (view.needed("first", |_| first)?, view.needed("mean_of", |_| mean_of)?);
            PlanKind::Sample(Plan::Sample { first, accept, reject: reject.unwrap_or(accept + 1), second, mean_of })
        }
    };
    Some(PlanRow { to, kind })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_embedded_file_is_read() {
        for market in [Market::Eu, Market::Us] {
            let rules = net_rules(market);
            assert!(rules.rows.len() >= 7 && rules.test.plans.len() == 4);
            // Every row ends above the one before and has one way to calculate.
            assert!(rules.rows.windows(2).all(|pair| pair[0].to < pair[1].to));
            assert!(rules.rows.iter().all(|row| row.percent.is_some() != row.grams.is_some()));
            // Whatever the batch, it has a plan, and a sample has the factor of its mean.
            for batch in [2, 11, 12, 99, 100, 250, 251, 500, 501, 3200, 3201, 1_000_000] {
                let plan = rules.test.plan(batch).unwrap();
                assert!(plan.first() <= batch && plan.mean_of() <= plan.first());
                assert!(matches!(plan, Plan::All { .. }) || rules.test.factor(plan).is_some());
            }
        }
    }

    #[test]
    fn a_content_at_the_end_of_a_row_belongs_to_it() {
        let of = |market, content: &str| {
            net_rules(market).shortfall(&content.parse().unwrap()).map(|grams| grams.to_string())
        };
        for (content, grams) in [("54", "3.6"), ("54.01", "5.4"), ("81", "5.4"), ("117", "7.2"), ("117.01", "9")] {
            assert_eq!(of(Market::Us, content).as_deref(), Some(grams), "{content}");
        }
        assert_eq!(
            (of(Market::Eu, "4.99"), of(Market::Eu, "5").as_deref(), of(Market::Eu, "10000.1")),
            (None, Some("0.5"), None)
        );
        let volume = |market| net_rules(market).volume_shortfall(&"54".parse().unwrap());
        assert_eq!((volume(Market::Eu), volume(Market::Us)), (Some("4.5".parse().unwrap()), None));
    }
}
