//! What is stated of a product, in documents.

use super::{Market, MostScent, OneScent, Placing, Product, ProductForm, ScentLimit, Storage, Use};
use crate::bounds::Quantity;
use crate::document::{Number, TableView, form, forms};
use crate::error::{Fault, FaultKind};
use crate::reading::{ReadingDocument, read_reading};

form! {
    /// The most of one scent that its certificate allows.
    OneScentDocument of OneScent, |it| {
        /// The id of its raw material.
        scent: String,
        /// Percent of the product.
        percent: Number,
    }
}

form! {
    /// The most scent that a product category allows: of all together (`percent`), or of `each`.
    ScentLimitDocument of ScentLimit, |it| {
        /// Of all scent together, percent of the product.
        #[serde(skip_serializing_if = "Option::is_none")]
        percent: Option<Number> = it.together().map(Number::from),
        /// Of single raw materials.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        each: Vec<OneScentDocument> = forms(it.each()),
        /// The product category of whoever states it.
        category: String,
    }
}

form! {
    /// What is stated of a product besides its formula.
    ProductDocument of Product, |it| {
        /// The market.
        market: Market = it.market(),
        /// The uses.
        uses: Vec<Use> = it.uses().to_vec(),
        /// The day.
        on: String = it.on().to_string(),
        /// Placed on the market, or made available.
        #[serde(skip_serializing_if = "Option::is_none")]
        placing: Option<Placing> = it.placing(),
        /// Solid, liquid or another form, where it is stated.
        #[serde(skip_serializing_if = "Option::is_none")]
        form: Option<ProductForm> = it.stated_form(),
        /// A pH reading.
        #[serde(skip_serializing_if = "Option::is_none")]
        reading: Option<ReadingDocument> = it.reading().map(ReadingDocument::from),
        /// Residual moisture, percent of the finished product.
        #[serde(skip_serializing_if = "Option::is_none")]
        moisture: Option<Number> = it.moisture().map(Number::from),
        /// How it is kept between uses.
        #[serde(skip_serializing_if = "Option::is_none")]
        kept: Option<Storage> = it.storage(),
        /// The water activity of the unused bar.
        #[serde(skip_serializing_if = "Option::is_none")]
        water_activity: Option<Number> = it.water_activity().map(Number::from),
        /// The scent limit of its product category.
        #[serde(skip_serializing_if = "Option::is_none")]
        scent_limit: Option<ScentLimitDocument> = it.scent_limit().map(ScentLimitDocument::from),
    }
}

pub(crate) fn read_product(view: &TableView<'_>) -> Option<Product> {
    let market = view.needed("market", |view| view.choice::<Market>("market"));
    let uses = view.choices::<Use>("uses");
    let on = view.needed("on", |view| view.date("on"));
    let (placing, kept) = (view.choice::<Placing>("placing"), view.choice::<Storage>("kept"));
    let form = view.choice::<ProductForm>("form");
    let reading = view.table("reading", read_reading);
    let moisture = view.exact("moisture", Some(Quantity::Moisture));
    let activity = view.decimal("water_activity", Quantity::WaterActivity);
    let scent = view.table("scent_limit", read_scent_limit);
    let mut product = view.accept("uses", Product::new(market?, &uses, on?))?;
    if let Some(placing) = placing {
        product = product.with_placing(placing);
    }
    if let Some(form) = form {
        product = product.with_form(form);
    }
    if let Some(kept) = kept {
        product = product.kept(kept);
    }
    if let Some(reading) = reading {
        product = product.with_reading(reading);
    }
    if let Some(moisture) = moisture {
        product = view.accept("moisture", product.with_moisture(moisture))?;
    }
    if let Some(activity) = activity {
        product = view.accept("water_activity", product.with_water_activity(activity))?;
    }
    match scent {
        Some((MostScent::Together(percent), category)) => {
            view.accept("scent_limit", product.with_scent_limit(percent, &category))
        }
        Some((MostScent::Each(each), category)) => {
            let limits = each.iter().map(|one| (one.scent.as_str(), one.percent.clone()));
            view.accept("scent_limit", product.with_scent_limits(limits, &category))
        }
        None => Some(product),
    }
}

fn read_scent_limit(view: &TableView<'_>) -> Option<(MostScent, String)> {
    let (together, category) = (view.exact("percent", Some(Quantity::Percent)), view.needed_name("category"));
    let each = view.tables("each", |view| {
        let (scent, percent) =
            (view.needed_slug("scent"), view.needed("percent", |view| view.exact("percent", Some(Quantity::Percent))));
        Some(OneScent { scent: scent?, percent: percent? })
    });
    if view.has("percent") == view.has("each") {
        let fault =
            Fault::new(FaultKind::Contradiction, "scent is limited all together or each by its own certificate");
        view.fault("", fault.allowed("one of percent, each"));
        return None;
    }
    let most = if view.has("each") { MostScent::Each(each) } else { MostScent::Together(together?) };
    Some((most, category?))
}
