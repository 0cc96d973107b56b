//! What goes on the label.

use indexmap::IndexMap;
use pyo3::inspect::PyStaticExpr;
use pyo3::prelude::*;
use rust_decimal::Decimal;
use tenside::error::{Fault, FaultKind};
use tenside::label::{
    Contact, ItemClass, LabelRequest, Market, NetQuantity, Placing, QuestionTopic, ScentAnswer, ScentNames,
};

use crate::convert::column::batch_of;
use crate::convert::failure::{Failure, Outcome};
use crate::convert::input::{Day, Names, Number, Several, TEXT};
use crate::convert::interval::Interval;
use crate::convert::output::Fraction;
use crate::convert::page::Page;
use crate::convert::table::Rows;
use crate::convert::word::Word;
use crate::formula::Formula;
use crate::product::declaration::ScentDeclaration;

record! {
    "tenside.label",
    /// One name of the list of ingredients, with what it rests on.
    LabelItem of &tenside::label::LabelItem, |item| {
        /// The name as it is printed, "(nano)" included.
        name: String = item.name.clone(),
        /// The INCI names that go under it.
        inci: Vec<String> = item.inci.clone(),
        /// Percent as charged.
        percent: Interval = Interval(item.percent()),
        /// "ordered", "free" or "colour".
        order: Word<ItemClass> = Word(item.class),
        /// True if no composition inside the stated ranges would put it elsewhere.
        is_certain: bool = item.is_certain,
        /// The names it could change places with, inside what is stated.
        may_change_with: Vec<String> = item.may_change_with.clone(),
        /// The lines whose ranges would have to be narrower to settle its position.
        settled_by: Vec<String> = item.settled_by.clone(),
        /// The lines that bring it.
        lines: Vec<String> = item.lines.clone(),
        /// The entry of Annex III, where it is named because other ingredients contain it.
        entry: Option<u32> = item.entry,
    }
}

record! {
    "tenside.label",
    /// What suppliers do not declare as an ingredient, and so is not listed.
    LeftOut of &tenside::label::LeftOut, |row| {
        /// INCI name.
        inci: String = row.inci.clone(),
        /// Percent as charged.
        percent: Interval = Interval(row.percent()),
    }
}

record! {
    "tenside.label",
    /// Something for a person to settle: a sentence, and what it concerns by name. The sentence may cut a long list
    /// short; the names never are.
    LabelQuestion of &tenside::label::LabelQuestion, |question| {
        /// Its stable name, "scent-unknown" or "position" for example.
        topic: Word<QuestionTopic> = Word(question.topic),
        /// The question as a sentence.
        sentence: String = question.sentence.clone(),
        /// True if the label stays a draft until it is settled.
        keeps_draft: bool = question.keeps_draft,
        /// The lines it concerns.
        lines: Vec<String> = question.lines.clone(),
        /// The raw materials it concerns, by id: what brings the ingredient, or whose supplier to ask.
        materials: Vec<String> = question.materials.clone(),
        /// The names it concerns, as the list shows them; INCI names of what it does not show.
        ingredients: Vec<String> = question.ingredients.clone(),
        /// The entries of Annex III that it concerns.
        entries: Vec<u32> = question.entries.clone(),
    }
}

record! {
    "tenside.label",
    /// Something else that a label needs; no legal opinion.
    LabelCheck of &tenside::label::LabelCheck, |check| {
        /// Its stable name.
        slug: String = check.slug.to_string(),
        /// What is needed.
        text: String = check.text.to_string(),
        /// Where that comes from.
        source: String = check.source.to_string(),
    }
}

record! {
    "tenside.label",
    /// A net content in the words of the market.
    NetContent of &tenside::label::NetContent, |net| {
        /// What the label says.
        text: String = net.text().to_string(),
        /// True if a number of the text was rounded down.
        is_rounded: bool = net.is_rounded(),
        /// By how many grams, or millilitres of a volume, a single package may fall short; None outside the table, and
        /// where none is carried.
        tolerated_shortfall: Option<Fraction> = net.tolerated_shortfall().cloned().map(Fraction),
        /// Where that comes from, or why it is not known.
        source: String = net.shortfall_source().to_string(),
    }
}

record! {
    "tenside.label",
    /// The most of one raw material that keeps a scent constituent at or below its threshold, the rest bringing what it
    /// brings now.
    KeepsOff of &tenside::label::KeepsOff, |keeps| {
        /// The raw material.
        material: String = keeps.material.clone(),
        /// Parts per million of the formula, rounded down; None if the others exceed the threshold without it.
        most_ppm: Option<u32> = keeps.most.map(|most| most.parts()),
        /// True if the raw material's range is not stated to its end.
        typical_only: bool = keeps.typical_only,
    }
}

record! {
    "tenside.label",
    /// One scent constituent that labels name, and what is known of it in the formula.
    ScentRow {
        /// Its number in Annex III.
        entry: u32,
        /// Its name on the label.
        name: String,
        /// "certain", "possible", "below" or "unknown".
        answer: Word<ScentAnswer>,
        /// Whether it has to be named at all on the date.
        required: bool,
        /// Whether the list names it.
        is_listed: bool,
        /// Percent as charged, as far as it is known.
        percent: Interval,
        /// Percent as it is judged; None if all that is charged dries.
        percent_as_judged: Option<Interval>,
        /// As what it is judged: as sold at the moisture stated, or as charged.
        basis: String,
        /// The raw materials that are known to bring it.
        materials: Vec<String>,
        /// What would keep it off the list.
        keeps_off: Vec<KeepsOff>,
    }
}

/// The content of a label for one market and day: list of ingredients, scent constituents, net content, what to settle.
/// A page in a notebook.
///
/// >>> bar = td.Formula("Bar", {"kaolin": 99.4, "lavender-oil": 0.6}, td.Catalogue.starter())
/// >>> label = bar.label(market="EU", on="2026-11-24", net="60 g")
/// >>> label.ingredients[:48]
/// 'KAOLIN, LAVANDULA OIL/EXTRACT, PARFUM, LINALYL A'
/// >>> label.scent("linalool").answer, label.scent("geraniol").answer, label.is_draft
/// ('certain', 'unknown', True)
/// >>> bar.label(market="US", on="2026-11-24", net="60 g").net.text
/// 'Net Wt. 2.11 oz (60 g)'
/// >>> bar.label(market="US", on="2026-11-24", net="250 ml").net.text
/// 'Net 8.45 fl oz (250 ml)'
#[pyclass(frozen, eq, module = "tenside.label")]
#[derive(Clone, PartialEq)]
pub(crate) struct Label(pub(crate) tenside::label::Label);

shown!(Label, |it| it.0.page());
value!(Label, |it| it.ingredients());

arrow!(Label, |it, _py| batch_of(it.items())?);

document!(Label, |it| &it.0, back by tenside::label::Label);

getters!(Label {
    /// "EU" or "US".
    market: Word<Market> = |it| Word(it.request().market());
    /// The day.
    on: String = |it| it.request().on().to_string();
    /// The list as it is printed, without its heading.
    ingredients: String = |it| it.ingredients();
    /// The list in the order of the product as sold, where a moisture was stated and that order is another.
    ingredients_as_sold: Option<String> = |it| it.ingredients_as_sold();
    /// The names of the list with what they rest on.
    items: Rows<LabelItem> = |it| it.items().iter().map(LabelItem::from).collect();
    /// What suppliers do not declare.
    left_out: Rows<LeftOut> = |it| it.left_out().iter().map(LeftOut::from).collect();
    /// Percent that suppliers do not name, as charged.
    nameless: Interval = |it| Interval(it.nameless().clone());
    /// The rule on naming scent constituents: "in force" or "pending".
    scent_state: String = |it| it.scent().state.clone();
    /// What must be exceeded, percent; None if no rule is in force.
    scent_threshold: Option<Decimal> = |it| it.scent().threshold.map(|threshold| threshold.decimal_percent());
    /// Every scent constituent that labels name, by number; none if no rule is in force.
    scents: Rows<ScentRow> = |it| it.scent().every_entry().iter().map(|row| scent_row(it.scent(), row)).collect();
    /// Scent mixtures, oils and extracts without an allergen declaration or a complete list of what they contain.
    scent_to_ask: Vec<String> = |it| it.scent().to_ask.clone();
    /// The net content, where it was stated.
    net: Option<NetContent> = |it| it.net().map(NetContent::from);
    /// What a person has to settle.
    questions: Rows<LabelQuestion> = |it| it.questions().iter().map(LabelQuestion::from).collect();
    /// What else a label needs.
    checks: Rows<LabelCheck> = |it| it.checks().iter().map(LabelCheck::from).collect();
    /// True while a question keeps it a draft, or it rests on starter values.
    is_draft: bool = |it| it.is_draft();
    /// Everything on one page.
    page: Page = |it| Page(it.page());
});

#[pymethods]
impl Label {
    /// What is known of one scent constituent, by any of its names or CAS numbers; None if no rule is in force.
    /// `name` is any of them.
    ///
    /// >>> bar = td.Formula("Bar", {"kaolin": 99.4, "lavender-oil": 0.6}, td.Catalogue.starter())
    /// >>> bar.label(market="EU", on="2026-11-24").scent("78-70-6").keeps_off[0].most_ppm
    /// 222
    fn scent(&self, name: &str) -> Outcome<Option<ScentRow>> {
        let entry = tenside::label::ScentEntry::find(name)?;
        Ok(self.0.scent().every_entry().iter().find(|row| row.entry == entry).map(|row| scent_row(self.0.scent(), row)))
    }

    fn __repr__(&self) -> String {
        format!("<Label of {:?} for {}, {} names>", self.0.title(), self.0.request().market(), self.0.items().len())
    }
}

/// A net content with its unit: "60 g", "250 ml".
struct Net(NetQuantity);

impl<'a, 'py> FromPyObject<'a, 'py> for Net {
    type Error = Failure;
    const INPUT_TYPE: PyStaticExpr = TEXT;

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> Outcome<Self> {
        // A bare number is refused by the same words as text without a unit.
        Ok(Net(object.str()?.to_cow()?.parse()?))
    }
}

/// What `Formula.label` was given.
struct LabelKeywords {
    market: Word<Market>,
    on: Option<Day>,
    placing: Option<Word<Placing>>,
    contact: Option<Word<Contact>>,
    scent: Option<Word<ScentNames>>,
    net: Option<Net>,
    residual_moisture: Option<Number>,
    nano: Option<Names>,
    declarations: Vec<ScentDeclaration>,
    /// Flavour, naked, others unscented.
    flags: [bool; 2],
}

impl LabelKeywords {
    fn request(self) -> Outcome<LabelRequest> {
        let Some(on) = self.on else {
            return Err(Fault::new(FaultKind::Missing, "a label without a date: rules change")
                .at("on")
                .allowed("a date such as 2026-11-24")
                .into());
        };
        let [flavour, naked] = self.flags;
        let mut request = LabelRequest::new(self.market.0, on.0).as_flavour(flavour).sold_naked(naked);
        request = request.with_placing(self.placing.map_or(Placing::Placed, |placing| placing.0));
        request = request.with_contact(self.contact.map_or(Contact::RinseOff, |contact| contact.0));
        if let Some(scent) = self.scent {
            request = request.with_scent_names(scent.0);
        }
        if let Some(net) = self.net {
            request = request.with_net(net.0)?;
        }
        if let Some(moisture) = self.residual_moisture {
            request = request.with_moisture(moisture.0)?;
        }
        for name in self.nano.iter().flat_map(Names::each) {
            request = request.as_nano(name)?;
        }
        for declaration in self.declarations {
            request = request.with_declaration(declaration.0)?;
        }
        Ok(request)
    }
}

fn scent_row(report: &tenside::label::ScentReport, row: &tenside::label::ScentRow) -> ScentRow {
    ScentRow {
        entry: row.entry.number(),
        name: row.entry.name().to_string(),
        answer: Word(row.answer),
        required: row.required,
        is_listed: row.is_listed(),
        percent: Interval(row.percent()),
        percent_as_judged: report.percent_as_judged(row).map(Interval),
        basis: report.basis(),
        materials: row.materials.clone(),
        keeps_off: row.keeps_off.iter().map(KeepsOff::from).collect(),
    }
}

/// The scent constituents that labels in the European Union name: entry and name, newer ones from 2023 on marked true.
///
/// >>> len(td.label.scent_entries()), td.label.scent_entries()[88]
/// (81, ('LIMONENE', False))
#[pyfunction]
pub(crate) fn scent_entries() -> IndexMap<u32, (String, bool)> {
    tenside::label::ScentEntry::all()
        .iter()
        .map(|entry| (entry.number(), (entry.name().to_string(), entry.is_newer())))
        .collect()
}

#[pymethods]
impl Formula {
    /// What goes on the label in a `market` ("EU", "US") on a day: `placing` is "placed" or "made-available", `contact`
    /// "rinse-off" or "leave-on", `scent` "together" (the usual) or "own" (oils by name). `declarations` are suppliers'
    /// statements on scent constituents. `net` is the net content by mass ("60 g", "2 oz") or, of a liquid, by volume
    /// ("250 ml", "25 cl", "8 fl oz"), `residual_moisture` percent of the bar as sold, `nano` what is a nanomaterial;
    /// `flavour` is True where the scent is one, `naked` True for a product sold without a pack.
    ///
    /// >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
    /// >>> clay.label(market="US", on="2026-11-24").ingredients
    /// 'KAOLIN'
    #[pyo3(signature = (*, market, on=None, placing=None, contact=None, scent=None, net=None, residual_moisture=None, nano=None, declarations=Several(Vec::new()), flavour=false, naked=false))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn label(
        &self,
        py: Python<'_>,
        market: Word<Market>,
        on: Option<Day>,
        placing: Option<Word<Placing>>,
        contact: Option<Word<Contact>>,
        scent: Option<Word<ScentNames>>,
        net: Option<Net>,
        residual_moisture: Option<Number>,
        nano: Option<Names>,
        declarations: Several<ScentDeclaration>,
        flavour: bool,
        naked: bool,
    ) -> Outcome<Label> {
        let flags = [flavour, naked];
        let keywords = LabelKeywords {
            market,
            on,
            placing,
            contact,
            scent,
            net,
            residual_moisture,
            nano,
            declarations: declarations.0,
            flags,
        };
        let request = keywords.request()?;
        Ok(Label(py.detach(|| self.0.label(&request))?))
    }
}
