//! Labels as documents, and back.

use super::{
    Contact, ItemClass, KeepsOff, Label, LabelCheck, LabelItem, LabelQuestion, LabelRequest, LeftOut, Market,
    NetContent, NetQuantity, Placing, QuestionTopic, ScentAnswer, ScentDeclaration, ScentNames, ScentReport, ScentRow,
};
use crate::bounds::Quantity;
use crate::catalogue::Catalogue;
use crate::document::{IntervalDocument, Notation, Number, TableView, form, forms, restore, written};
use crate::error::{Error, Fault, FaultKind};
use crate::formula::{FormulaDocument, read_formula};
use crate::number::{Ppm, Volume, VolumeUnit};

written! {
    /// What a supplier declares of one scent constituent.
    struct DeclaredShareDocument {
        /// The constituent, by any of its names or numbers.
        name: String,
        /// Lowest percent of the raw material.
        low: Number,
        /// Highest percent of the raw material.
        high: Number,
    }
}

form! {
    /// A supplier's declaration of scent constituents.
    ScentDeclarationDocument of ScentDeclaration, |it| {
        /// The raw material, by its id.
        material: String = it.material().to_string(),
        /// Who declared it, and when.
        source: String = it.source().to_string(),
        /// What it names.
        shares: Vec<DeclaredShareDocument> =
            it.shares().map(|(name, low, high)| DeclaredShareDocument { name: name.to_string(), low: low.into(), high: high.into() }).collect(),
        /// The most there can be of what it does not name, percent.
        reporting: Number = it.reporting().into(),
    }
}

form! {
    /// What a label is asked for.
    LabelRequestDocument of LabelRequest, |it| {
        /// The market.
        market: Market,
        /// The day.
        on: String = it.on.to_string(),
        /// What happens on it.
        placing: Placing,
        /// Rinsed off or left on.
        contact: Contact,
        /// How oils and scents are named.
        scent: ScentNames,
        /// Whether the scent is a flavour.
        flavour: bool,
        /// Whether it is sold without a wrapper.
        naked: bool,
        /// Net content by mass, grams.
        #[serde(skip_serializing_if = "Option::is_none")]
        net: Option<Number> = it.net.as_ref().and_then(NetQuantity::mass).map(Number::from),
        /// Net content by volume, millilitres.
        #[serde(skip_serializing_if = "Option::is_none")]
        net_volume: Option<Number> = it.net.as_ref().and_then(NetQuantity::volume).map(|net| net.millilitres().into()),
        /// Residual moisture, percent of the product as sold.
        #[serde(skip_serializing_if = "Option::is_none")]
        moisture: Option<Number> = it.moisture.as_ref().map(Number::from),
        /// What is a nanomaterial.
        nano: Vec<String>,
        /// Suppliers' declarations.
        declarations: Vec<ScentDeclarationDocument> = forms(&it.declarations),
    }
}

fn read_declaration(view: &TableView<'_>) -> Option<ScentDeclaration> {
    let material = view.needed("material", |view| view.text("material"));
    let source = view.needed("source", |view| view.text("source"));
    let reporting = view.ppm("reporting");
    let shares: Vec<(String, Ppm, Ppm)> = view.tables("shares", |view| {
        let name = view.needed("name", |view| view.text("name")).map(str::to_string);
        let low = view.needed("low", |view| view.ppm("low"));
        Some((name?, low?, view.needed("high", |view| view.ppm("high"))?))
    });
    let mut declaration = view.accept("material", ScentDeclaration::new(material?, source?))?;
    for (name, low, high) in shares {
        declaration = view.accept("shares", declaration.holding(&name, low, high))?;
    }
    view.accept("reporting", declaration.reporting_from(reporting.unwrap_or(Ppm::ZERO)))
}

fn read_net(view: &TableView<'_>) -> Option<NetQuantity> {
    let mass = view.grams("net").map(NetQuantity::Mass);
    let volume = view.exact("net_volume", None).and_then(|millilitres| {
        view.accept("net_volume", Volume::new(millilitres, VolumeUnit::Millilitre)).map(NetQuantity::Volume)
    });
    if view.has("net") && view.has("net_volume") {
        let fault = Fault::new(FaultKind::Contradiction, "a net content is stated by mass or by volume");
        view.fault("net_volume", fault.allowed("one of net, net_volume"));
    }
    mass.or(volume)
}

fn read_request(view: &TableView<'_>) -> Option<LabelRequest> {
    let market = view.needed("market", |view| view.choice::<Market>("market"));
    let on = view.needed("on", |view| view.date("on"));
    let (placing, contact, scent) =
        (view.choice::<Placing>("placing"), view.choice::<Contact>("contact"), view.choice::<ScentNames>("scent"));
    let (flavour, naked) = (view.boolean("flavour").unwrap_or(false), view.boolean("naked").unwrap_or(false));
    let (net, moisture) = (read_net(view), view.exact("moisture", Some(Quantity::Moisture)));
    let nano = view.texts("nano");
    let declarations = view.tables("declarations", read_declaration);
    let mut request = LabelRequest::new(market?, on?).as_flavour(flavour).sold_naked(naked);
    request = placing.map_or(request.clone(), |placing| request.with_placing(placing));
    request = contact.map_or(request.clone(), |contact| request.with_contact(contact));
    request = scent.map_or(request.clone(), |scent| request.with_scent_names(scent));
    if let Some(net) = net {
        let key = if net.mass().is_some() { "net" } else { "net_volume" };
        request = view.accept(key, request.with_net(net))?;
    }
    if let Some(moisture) = moisture {
        request = view.accept("moisture", request.with_moisture(moisture))?;
    }
    for inci in nano {
        request = view.accept("nano", request.as_nano(inci))?;
    }
    for declaration in declarations {
        request = view.accept("declarations", request.with_declaration(declaration))?;
    }
    Some(request)
}

form! {
    /// One name of the list of ingredients.
    LabelItemDocument of LabelItem, |it| {
        /// As it is printed.
        name: String,
        /// The INCI names that go under it.
        inci: Vec<String>,
        /// Percent as charged.
        percent: IntervalDocument = (&it.percent()).into(),
        /// Where in the list it belongs.
        order: ItemClass = it.class,
        /// Whether no composition inside the stated ranges would put it elsewhere.
        is_certain: bool,
        /// The names it could change places with.
        may_change_with: Vec<String>,
        /// The lines whose ranges would have to be narrower to settle its position.
        settled_by: Vec<String>,
        /// The lines that bring it.
        lines: Vec<String>,
        /// The entry of Annex III, where it is named because other ingredients contain it.
        entry: Option<u32>,
    }
}

form! {
    /// What suppliers do not declare as an ingredient.
    LeftOutDocument of LeftOut, |it| {
        /// INCI name.
        inci: String,
        /// Percent as charged.
        percent: IntervalDocument = (&it.percent()).into(),
    }
}

form! {
    /// The most of one raw material that keeps a scent constituent at or below its threshold.
    KeepsOffDocument of KeepsOff, |it| {
        /// The raw material.
        material: String,
        /// Percent of the formula; null where the others exceed the threshold without it.
        most: Option<Number> = it.most.map(Number::from),
        /// Whether the raw material's range is not stated to its end.
        typical_only: bool,
    }
}

written! {
    /// One scent constituent that labels name, and what is known of it in the formula.
    struct ScentRowDocument {
        /// Its number in Annex III.
        entry: u32,
        /// Its name on the label.
        name: String,
        /// Whether it exceeds its threshold.
        answer: ScentAnswer,
        /// Whether it has to be named at all on the day.
        required: bool,
        /// Whether the list names it.
        is_listed: bool,
        /// Percent as charged, as far as it is known.
        percent: IntervalDocument,
        /// Percent as it is judged; null where all that is charged dries.
        percent_as_judged: Option<IntervalDocument>,
        /// The raw materials that are known to bring it.
        materials: Vec<String>,
        /// What would keep it off the list.
        keeps_off: Vec<KeepsOffDocument>,
    }
}

impl ScentRowDocument {
    fn of(report: &ScentReport, row: &ScentRow) -> Self {
        ScentRowDocument {
            entry: row.entry.number(),
            name: row.entry.name().to_string(),
            answer: row.answer,
            required: row.required,
            is_listed: row.is_listed(),
            percent: (&row.percent()).into(),
            percent_as_judged: report.percent_as_judged(row).as_ref().map(IntervalDocument::from),
            materials: row.materials.clone(),
            keeps_off: forms(&row.keeps_off),
        }
    }
}

form! {
    /// A net content in the words of the market.
    NetContentDocument of NetContent, |it| {
        /// What the label says.
        text: String = it.text().to_string(),
        /// Whether a number of the text was rounded down.
        is_rounded: bool = it.is_rounded(),
        /// By how many grams, or millilitres of a volume, a single package may fall short; null outside the table, and
        /// where none is carried.
        tolerated_shortfall: Option<Number> = it.tolerated_shortfall().map(Number::from),
        /// Where that comes from, or why it is not known.
        source: String = it.shortfall_source().to_string(),
    }
}

form! {
    /// Something for a person to settle.
    LabelQuestionDocument of LabelQuestion, |it| {
        /// What it is about.
        topic: QuestionTopic,
        /// The question.
        sentence: String,
        /// Whether the label stays a draft until it is settled.
        keeps_draft: bool,
        /// The lines it concerns.
        lines: Vec<String>,
        /// The raw materials it concerns, by id.
        materials: Vec<String>,
        /// The names it concerns.
        ingredients: Vec<String>,
        /// The entries of Annex III that it concerns.
        entries: Vec<u32>,
    }
}

form! {
    /// Something else that a label needs; no legal opinion.
    LabelCheckDocument of LabelCheck, |it| {
        /// Its stable name.
        slug: &'static str,
        /// What is needed.
        text: &'static str,
        /// Where that comes from.
        source: &'static str,
    }
}

form! {
    /// The content of a label for one market and day.
    LabelDocument of Label as "label/1", |it, materials| {
        /// The formula.
        formula: FormulaDocument = FormulaDocument::of(it.formula(), materials),
        /// What the label is asked for.
        request: LabelRequestDocument,
        /// Whether it rests on values of the starter catalogue or on questions not settled.
        is_draft: bool,
        /// The list as it is printed, without its heading.
        ingredients: String,
        /// The list in the order of the product as sold, where that is another.
        ingredients_as_sold: Option<String>,
        /// The names of the list with what they rest on.
        items: Vec<LabelItemDocument> = forms(it.items()),
        /// What suppliers do not declare.
        left_out: Vec<LeftOutDocument> = forms(it.left_out()),
        /// Percent that suppliers do not name, as charged.
        nameless: IntervalDocument,
        /// The rule on naming scent constituents: in force or pending.
        scent_state: String = it.scent().state.clone(),
        /// What must be exceeded, percent; null where no rule is in force.
        scent_threshold: Option<Number> = it.scent().threshold.map(Number::from),
        /// Every scent constituent that labels name.
        scents: Vec<ScentRowDocument> = it.scent().every_entry().iter().map(|row| ScentRowDocument::of(it.scent(), row)).collect(),
        /// What to ask suppliers for.
        scents_to_ask: Vec<String> = it.scent().to_ask.clone(),
        /// The net content, where one was stated.
        net: Option<NetContentDocument> = it.net().map(NetContentDocument::from),
        /// What to settle.
        questions: Vec<LabelQuestionDocument> = forms(it.questions()),
        /// What else a label needs.
        checks: Vec<LabelCheckDocument> = forms(it.checks()),
    }
}

impl Label {
    /// Reads a label back. It is believed where making it again gives just what it says; see
    /// [`crate::document::ResultDocument`].
    ///
    /// # Errors
    /// Every fault of the formula and request with line and column; else everything that is not what comes of them.
    pub fn read(text: &str, notation: Notation, catalogue: &Catalogue) -> Result<Self, Error> {
        restore(text, notation, &["formula", "request"], |view| {
            let formula = view.needed("formula", |view| view.table("formula", |view| read_formula(view, catalogue)));
            let request = view.needed("request", |view| view.table("request", read_request));
            view.accept("request", formula?.label(&request?))
        })
    }
}
