//! Costs as pages.

use super::change::PriceEffect;
use super::costing::{CostBasis, Costing};
use super::from_stock::BarsFromStock;
use super::mix::ProductMix;
use super::purchase::{Order, Purchase};
use super::stock::Stock;
use crate::number::{Exact, Mass, MassUnit};
use crate::render::{Alignment, Page, Part, Table, so_many};

/// Decimal places of money on a page.
const CENTS: u32 = 2;

pub(super) fn money(value: &Exact) -> String {
    value.rounded_text(CENTS)
}

impl Costing {
    /// Everything on one page: by line, by phase, and the whole. Money is rounded to the hundredth of a unit; the
    /// values behind it are exact.
    #[must_use]
    pub fn page(&self) -> Page {
        let right = Alignment::Right;
        let cost = format!("cost, {}", self.currency());
        let mut lines = Table::new(&[
            ("line", Alignment::Left),
            ("phase", Alignment::Left),
            ("%", right),
            ("g", right),
            ("per kg", right),
            (&cost, right),
            ("% of cost", right),
        ]);
        let charged = self.charged().grams();
        for line in self.lines() {
            lines.push([
                line.line.clone(),
                line.phase.clone(),
                (line.mass.grams() * Exact::hundred() / charged).rounded_text(2),
                line.mass.grams().rounded_text(2),
                money(&line.price),
                money(&line.cost),
                line.percent.rounded_text(1),
            ]);
        }
        let mut whole = Table::new(&[("", Alignment::Left), (&cost, right)]);
        whole.push(["raw materials".to_string(), money(self.raw_materials())]);
        if let (Some(lost), Some(percent)) = (self.lost(), &self.request.process_loss) {
            whole.push([format!("  of which stays in bowl and press, {percent} %"), money(&lost)]);
        }
        for extra in self.extras() {
            let basis = match extra.basis {
                CostBasis::Bar => format!("{} a bar", extra.stated),
                CostBasis::Batch => "the batch".to_string(),
                CostBasis::DirectCosts => format!("{} % of {}", extra.stated, money(self.direct())),
            };
            whole.push([format!("{}, {basis}", extra.name), money(&extra.cost)]);
        }
        whole.footer.push(vec!["the batch".to_string(), money(self.total())]);
        whole.footer.push(vec!["a kilogram weighed in".to_string(), money(&self.per_kilogram())]);
        if let (Some(bars), Some(bar)) = (self.bars(), self.per_bar()) {
            whole.footer.push(vec![format!("each of {}", so_many(bars, "bar", "bars")), money(&bar)]);
        }
        if let (Some(washes), Some(wash)) = (&self.request.washes, self.per_wash()) {
            whole.footer.push(vec![format!("each of {}", so_many(washes, "wash", "washes")), wash.rounded_text(4)]);
        }
        let mut phases = Table::new(&[("phase", Alignment::Left), (&cost, right)]);
        for (phase, cost) in self.phases() {
            phases.push([phase.to_string(), money(&cost)]);
        }
        Page::new(&format!("{}: what {} cost", self.formula().title(), self.charged()))
            .with(Part::Table(lines))
            .section("By phase", Part::Table(phases))
            .section("The whole", Part::Table(whole))
    }
}

/// A mass as one reads it on a pack.
fn pack(size: &Mass) -> String {
    let (grams, kilograms) = (size.grams(), size.in_unit(MassUnit::Kilogram));
    if kilograms >= Exact::ONE { format!("{} kg", plain(&kilograms)) } else { format!("{} g", plain(grams)) }
}

/// A decimal as it is, a fraction rounded and marked so.
fn plain(value: &Exact) -> String {
    value.decimal_text().filter(|text| text.len() <= 9).unwrap_or_else(|| format!("about {}", value.rounded_text(3)))
}

fn grams(mass: &Mass) -> String {
    mass.grams().rounded_text(2)
}

impl Purchase {
    /// The shopping list: supplier by supplier with freight, tax and totals, then where each raw material comes from.
    /// Money is rounded to the hundredth of a unit; the values behind it are exact.
    #[must_use]
    pub fn page(&self) -> Page {
        let (left, right) = (Alignment::Left, Alignment::Right);
        let mut page = Page::new("Shopping list");
        if !self.is_cheapest() {
            page = page.mark("NOT PROVED to be the cheapest: see below.");
        }
        let batch = |batch: &super::PlannedBatch| {
            let day = batch.day().map_or_else(String::new, |day| format!(" on {day}"));
            format!("{}, {} g{day}", batch.formula().title(), grams(batch.charged()))
        };
        page = page.section("For", Part::List(self.request().batches.iter().map(batch).collect()));
        if self.orders().is_empty() {
            page = page.with(Part::Text("Nothing is to be bought: the stock is enough.".to_string()));
        }
        for order in self.orders() {
            page = page.section(&order.supplier, Part::Table(self.order_table(order)));
        }
        let mut whole = Table::new(&[("supplier", left), (&format!("to pay, {}", self.currency()), right)]);
        self.orders().iter().for_each(|order| whole.push([order.supplier.clone(), money(&order.counted)]));
        whole.footer.push(vec!["all".to_string(), money(self.total())]);
        if self.orders().len() > 1 {
            page = page.section("Together", Part::Table(whole));
        }
        let mut sources = Table::new(&[
            ("raw material", left),
            ("needed, g", right),
            ("from stock, g", right),
            ("bought, g", right),
            ("left over, g", right),
        ]);
        for material in self.materials() {
            let masses = [&material.needed, &material.from_stock, &material.bought, &material.left_over].map(grams);
            sources.push([material.name.clone()].into_iter().chain(masses));
        }
        page.section("Where it comes from", Part::Table(sources)).section("To know", Part::List(self.notes()))
    }

    fn order_table(&self, order: &Order) -> Table {
        let (left, right) = (Alignment::Left, Alignment::Right);
        let cost = format!("cost, {}", order.currency);
        let mut table =
            Table::new(&[("raw material", left), ("pack", right), ("packs", right), ("each", right), (&cost, right)]);
        let name = |id: &str| {
            self.materials()
                .iter()
                .find(|material| material.material == id)
                .map_or_else(|| id.to_string(), |material| material.name.clone())
        };
        for row in &order.rows {
            table.push([
                name(&row.material),
                pack(&row.size),
                row.packs.to_string(),
                money(&row.price),
                money(&row.cost),
            ]);
        }
        for (what, amount) in
            [("goods", &order.goods), ("freight", &order.freight), ("tax", &order.tax), ("to pay", &order.total)]
        {
            table.footer.push(vec![what.to_string(), String::new(), String::new(), String::new(), money(amount)]);
        }
        table
    }
}

impl Stock {
    /// What is left of each lot, and what it is worth.
    #[must_use]
    pub fn page(&self) -> Page {
        let (left, right) = (Alignment::Left, Alignment::Right);
        let worth = format!("worth, {}", self.currency());
        let mut table = Table::new(&[
            ("raw material", left),
            ("lot", left),
            ("left, g", right),
            ("per kg", right),
            (&worth, right),
            ("use by", left),
        ]);
        for lot in self.lots() {
            table.push([
                lot.material().to_string(),
                lot.name().unwrap_or_default().to_string(),
                grams(lot.left()),
                lot.price().map_or_else(|| "not stated".to_string(), money),
                lot.value().map_or_else(String::new, |value| money(&value)),
                lot.use_by().map_or_else(String::new, |day| day.to_string()),
            ]);
        }
        table.footer.push(vec!["all".to_string(), String::new(), String::new(), String::new(), money(&self.value())]);
        let unpriced = self
            .without_cost()
            .iter()
            .map(|lot| format!("what {} cost is not stated, so it is not in the sum", lot.words()))
            .collect();
        Page::new("Stock").with(Part::Table(table)).section("To know", Part::List(unpriced))
    }
}

impl BarsFromStock {
    /// How many bars, and what each raw material allows.
    #[must_use]
    pub fn page(&self) -> Page {
        let right = Alignment::Right;
        let mut table = Table::new(&[
            ("raw material", Alignment::Left),
            ("usable, g", right),
            ("a bar takes, g", right),
            ("enough for", right),
            ("left, g", right),
        ]);
        for material in self.materials() {
            table.push([
                material.material.clone(),
                grams(&material.usable),
                material.per_bar.grams().rounded_text(3),
                material.bars.to_string(),
                grams(&material.left),
            ]);
        }
        let is_none = |material: &str| !self.stock.names(material);
        let (none, short): (Vec<&str>, Vec<&str>) = self.runs_out_first().into_iter().partition(|it| is_none(it));
        let mut first = format!("The stock is enough for {}", so_many(self.bars(), "bar", "bars"));
        for (what, which) in [("not in stock", none), ("first to run out", short)] {
            if !which.is_empty() {
                first += &format!("; {what}: {}", which.join(", "));
            }
        }
        first.push('.');
        Page::new(&format!("{}: bars from stock", self.formula().title()))
            .with(Part::Text(first))
            .with(Part::Table(table))
            .section("To know", Part::List(self.notes()))
    }
}

impl ProductMix {
    /// How many of each product, and what becomes of the stock.
    #[must_use]
    pub fn page(&self) -> Page {
        let (left, right) = (Alignment::Left, Alignment::Right);
        let mut page = Page::new("Best mix from stock");
        if !self.is_best() {
            page = page.mark("NOT PROVED to be the best: see below.");
        }
        let worth = format!("worth, {}", self.currency());
        let mut products = Table::new(&[("product", left), ("pieces", right), (&worth, right)]);
        self.rows()
            .iter()
            .for_each(|row| products.push([row.product.clone(), row.pieces.to_string(), money(&row.value)]));
        products.footer.push(vec!["all".to_string(), String::new(), money(self.value())]);
        let mut stock =
            Table::new(&[("raw material", left), ("usable, g", right), ("used, g", right), ("left, g", right)]);
        for material in self.materials() {
            stock.push([
                material.material.clone(),
                grams(&material.usable),
                grams(&material.used),
                grams(&material.left),
            ]);
        }
        page.with(Part::Table(products))
            .section("The stock", Part::Table(stock))
            .section("To know", Part::List(self.notes()))
    }
}

/// What changed prices do to formulas, as a page.
#[must_use]
pub fn price_effects_page(effects: &[PriceEffect]) -> Page {
    let right = Alignment::Right;
    let currency = effects.first().map_or("", |effect| &effect.currency);
    let before = format!("a kilogram before, {currency}");
    let mut table =
        Table::new(&[("formula", Alignment::Left), (&before, right), ("after", right), ("added", right), ("%", right)]);
    for effect in effects {
        let percent = effect.percent.as_ref().map_or_else(String::new, |percent| percent.rounded_text(1));
        table.push([
            effect.formula.clone(),
            money(&effect.before),
            money(&effect.after),
            money(&effect.difference),
            percent,
        ]);
    }
    Page::new("Changed prices").with(Part::Table(table))
}
