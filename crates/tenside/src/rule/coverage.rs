//! What lists carry and what they do not, counted from the lists.

use super::{Mark, Market, Rule, RuleBook, Search, Status, StatusEntry, StatusKind};
use crate::document::Named;
use crate::render::{Alignment, Page, Part, Table};
use crate::substance::SubstanceTable;

const STANDING: &str = "Counted from the lists. What stands in none of them is not known here, and that nothing was \
                        found is no clearance.";

impl RuleBook {
    /// What its lists carry, list by list and act by act, what they say of a table's substances in each market, and
    /// what they do not cover.
    ///
    /// ```
    /// use tenside::rule::RuleBook;
    /// use tenside::substance::SubstanceTable;
    /// let page = RuleBook::starter().coverage(&SubstanceTable::starter());
    /// let text = page.text(120);
    /// assert!(text.contains("Regulation (EU) 2026/909") && text.contains("not looked up"));
    /// ```
    #[must_use]
    pub fn coverage(&self, substances: &SubstanceTable) -> Page {
        let mut page = Page::new("What is covered").with(Part::Text(STANDING.to_string()));
        page = page.section("What is carried", Part::Table(self.carried()));
        page = page.section("Acts that rules come from or were changed by last", Part::Table(self.acts()));
        for market in Market::ALL {
            let statuses: Vec<Status> =
                substances.iter().map(|substance| self.status(*market, substance.inci())).collect();
            page = page.section(
                &format!("What is known of {} substances in the {market}", statuses.len()),
                Part::Table(known(&statuses)),
            );
        }
        let not_covered = self
            .lists()
            .iter()
            .flat_map(|list| list.not_covered().iter().map(move |what| format!("{}: {what}", list.title())));
        page.section("What is not covered", Part::List(not_covered.collect()))
    }

    fn carried(&self) -> Table {
        let columns = [
            ("list", Alignment::Left),
            ("taken from", Alignment::Left),
            ("text of", Alignment::Left),
            ("how it is known", Alignment::Left),
        ];
        let numbers = [("rules", Alignment::Right), ("statements", Alignment::Right)];
        let mut table = Table::new(&columns.into_iter().chain(numbers).collect::<Vec<_>>());
        let (mut rules, mut statements) = (0, 0);
        for list in self.lists() {
            let day = list.consolidated().map_or_else(|| "not stated".to_string(), |day| day.to_string());
            let counted = (self.rules_of(list).count(), list.statements().len());
            table.push([
                list.title(),
                list.source(),
                &day,
                list.mark().words(),
                &counted.0.to_string(),
                &counted.1.to_string(),
            ]);
            rules += counted.0;
            statements += counted.1;
        }
        table
            .footer
            .push(["all", "", "", "", &rules.to_string(), &statements.to_string()].map(str::to_string).to_vec());
        table
    }

    fn acts(&self) -> Table {
        let mut counted: Vec<(&str, usize)> = Vec::new();
        for act in self.lists().iter().flat_map(|list| list.acts()) {
            if !counted.iter().any(|(title, _)| *title == act.title) {
                let names = |rule: &&std::sync::Arc<Rule>| rule.act().is_some_and(|own| own.title == act.title);
                counted.push((&act.title, self.rules().filter(names).count()));
            }
        }
        let mut table = Table::new(&[("act", Alignment::Left), ("rules", Alignment::Right)]);
        counted.into_iter().for_each(|(title, rules)| table.push([title, &rules.to_string()]));
        table
    }
}

/// Substances by the gravest that an entry does with them and by the weaker of its marks; those without an entry by how
/// they were looked up.
fn known(statuses: &[Status]) -> Table {
    let marks: Vec<Mark> =
        Mark::ALL.iter().copied().filter(|mark| statuses.iter().any(|status| weaker(status) == Some(*mark))).collect();
    let columns =
        std::iter::once(("what", Alignment::Left)).chain(marks.iter().map(|mark| (mark.words(), Alignment::Right)));
    let mut table = Table::new(&columns.chain([("all", Alignment::Right)]).collect::<Vec<_>>());
    let row = |what: String, is: &dyn Fn(&Status) -> bool| {
        let of: Vec<&Status> = statuses.iter().filter(|status| is(status)).collect();
        let by_mark = marks.iter().map(|mark| of.iter().filter(|status| weaker(status) == Some(*mark)).count());
        std::iter::once(what)
            .chain(by_mark.map(|count| count.to_string()))
            .chain([of.len().to_string()])
            .collect::<Vec<String>>()
    };
    for kind in StatusKind::ALL.iter().filter(|kind| statuses.iter().any(|status| status.gravest() == Some(**kind))) {
        table.rows.push(row(kind.to_string(), &|status| status.gravest() == Some(*kind)));
    }
    for how in Search::ALL {
        let is = |status: &Status| {
            status.entries.is_empty() && status.searched.as_ref().is_some_and(|(known, ..)| known == how)
        };
        table.rows.push(row(format!("none found {}", how.words()), &is));
    }
    table.rows.push(row("not looked up".to_string(), &Status::is_not_looked_up));
    table.footer.push(row("all".to_string(), &|_| true));
    table
}

/// How the gravest entry, or the search, is known: the weaker of its mark and that of its covering the substance.
fn weaker(status: &Status) -> Option<Mark> {
    let of_entry = |entry: &StatusEntry| entry.membership().map_or(entry.mark(), |known| known.mark.max(entry.mark()));
    status.entries.first().map(of_entry).or_else(|| status.searched.as_ref().map(|(.., mark)| *mark))
}
