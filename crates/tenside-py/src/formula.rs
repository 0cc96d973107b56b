//! A formula on the grid of 0.0001 %.

use std::sync::Arc;

use indexmap::IndexMap;
use pyo3::inspect::PyStaticExpr;
use pyo3::prelude::*;
use pyo3::type_hint_union;
use pyo3::types::PyType;
use rust_decimal::Decimal;
use tenside::bounds::Quantity;
use tenside::catalogue::PriceList;
use tenside::document::Notation;
use tenside::formula::Expanded;
use tenside::label::{Contact, ScentNames};
use tenside::material::Form;
use tenside::rule::{Market, Placing, Storage};

use crate::again::{Again, Given};
use crate::basis::Basis;
use crate::batch::Batch;
use crate::candidates::Candidates;
use crate::catalogue::Catalogue;
use crate::declaration::ScentDeclaration;
use crate::difference::Difference;
use crate::exposure::{self, Exposure};
use crate::failure::{Failure, Outcome};
use crate::input::{AMass, AMaterial, AMeasure, ByName, Day, Measures, Names, Number, Several, Word};
use crate::interval::Interval;
use crate::label::{self, Label};
use crate::line::{Line, Phase};
use crate::material::Material;
use crate::measure::{Measure, Measured};
use crate::output::{Page, Table, WIDTH};
use crate::ph::{PhWindow, undissociated};
use crate::reading::Reading;
use crate::review::Review;
use crate::rule::{RuleList, Stated};
use crate::running::{reading, watched};
use crate::solution::Solution;
use crate::substitution::Substitution;
use crate::titration::Titration;

/// The lines of a formula: percentages by material of a catalogue, or lines.
pub(crate) enum Lines {
    Each(Vec<Line>),
    Percent(ByName),
}

impl<'a, 'py> FromPyObject<'a, 'py> for Lines {
    type Error = Failure;
    const INPUT_TYPE: PyStaticExpr = type_hint_union!(Several::<Line>::INPUT_TYPE, ByName::INPUT_TYPE);

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> Outcome<Self> {
        if object.hasattr("items")? { Ok(Lines::Percent(object.extract()?)) } else { Ok(Lines::Each(object.extract::<Several<Line>>()?.0)) }
    }
}

record! {
    /// One constituent of a formula as charged.
    ExpandedRow {
        /// INCI name.
        inci: String,
        /// Percent of the formula.
        percent: Interval,
        /// The lines that bring it.
        lines: Vec<String>,
        /// "declared", "not-declared" or "ask".
        declaration: String,
    }
}

/// Lines of raw materials in phases whose percentages sum to exactly 100. Immutable.
///
/// >>> cat = td.Catalogue.starter()
/// >>> bar = td.Formula("Plain bar", {"sci-powder": 60, "cetyl-alcohol": 15, "kaolin": 25}, cat)
/// >>> print(bar.measure(td.measure.active_matter).text())
/// 50.40 (49.20 to 52.20) %
#[pyclass(frozen, eq, from_py_object, module = "tenside")]
#[derive(Clone, PartialEq)]
pub(crate) struct Formula(pub(crate) tenside::formula::Formula);

value!(Formula, |it| (it.title(), it.lines().iter().map(|line| line.percent()).collect::<Vec<_>>()));

getters!(Formula {
    /// Its title.
    title: String = |it| it.title().to_string();
    /// Its lines, in the order given.
    lines: Vec<Line> = |it| it.lines().iter().cloned().map(Line).collect();
    /// Its phases, in working order.
    phases: Vec<Phase> = |it| it.phases().iter().map(Phase::from).collect();
    /// Percent as supplied by line.
    percentages: IndexMap<String, Decimal> = |it| it.lines().iter().map(|line| (line.name().to_string(), line.percent().decimal_percent())).collect();
    /// Prices per kilogram by material id, if it was given any.
    prices: Option<IndexMap<String, Decimal>> = |it| it.prices().map(|prices| price_by_id(prices));
    /// The currency of the prices.
    currency: Option<String> = |it| it.prices().map(|prices| prices.currency().to_string());
    /// True where it rests on values of the starter catalogue.
    is_draft: bool = |it| it.is_draft();
    /// The line that takes rounding rests.
    absorber: String = |it| it.lines()[it.absorber()].name().to_string();
});

impl Formula {
    /// The call that reads a measure again.
    fn measured_again(&self, measure: &tenside::measure::Measure, basis: &tenside::measure::Basis) -> Again {
        Again::new(self, "measure").argument(Given::Measure(Measure(measure.clone()))).argument(Given::Basis(Basis(basis.clone())))
    }
}

#[pymethods]
impl Formula {
    #[new]
    #[pyo3(signature = (title, lines, catalogue=None, *, phases=None, prices=None, currency="currency"))]
    fn new(
        title: &str,
        lines: Lines,
        catalogue: Option<&Catalogue>,
        phases: Option<IndexMap<String, Option<Number>>>,
        prices: Option<ByName>,
        currency: &str,
    ) -> Outcome<Self> {
        let lines = match lines {
            Lines::Each(lines) => lines.into_iter().map(|line| line.0).collect(),
            Lines::Percent(percent) => {
                let none = tenside::catalogue::Catalogue::empty();
                let catalogue = catalogue.map_or(&none, |catalogue| &catalogue.0);
                let line = |(name, percent): (String, Number)| {
                    let material = catalogue.material(&name)?;
                    Ok(tenside::formula::Line::new(material.id(), Arc::clone(material), percent.ppm()?)?)
                };
                percent.0.into_iter().map(line).collect::<Outcome<_>>()?
            }
        };
        let mut formula = tenside::formula::Formula::new(title, lines)?;
        if let Some(phases) = phases {
            let phases: Vec<_> = phases.into_iter().map(|(name, temperature)| phase(&name, temperature)).collect::<Outcome<_>>()?;
            formula = formula.with_phases(&phases)?;
        }
        let mut prices = prices.map(|prices| price_list(&prices, currency)).transpose()?;
        if let (Some(prices), Some(catalogue)) = (&mut prices, catalogue) {
            *prices = prices.with_ids_of(&catalogue.0, formula.lines().iter().map(tenside::formula::Line::material))?;
        }
        Ok(Formula(formula.with_prices(prices.map(Arc::new))))
    }

    /// The line of that name.
    fn line(&self, name: &str) -> Outcome<Line> {
        Ok(Line(self.0.line(name)?.clone()))
    }

    /// The constituents as charged, largest first, with their intervals; a table in a notebook.
    ///
    /// >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
    /// >>> [row.inci for row in clay.expand()]
    /// ['KAOLIN']
    fn expand(&self, py: Python<'_>) -> Outcome<Table> {
        let rows = py.detach(|| self.0.expand());
        let formula = self.0.clone();
        Ok(Table::new(py, rows.iter().map(expanded), move || formula.constituent_page(&tenside::measure::Basis::AsCharged))?)
    }

    /// Reads a measure, for typical compositions and with its interval.
    ///
    /// >>> bar = td.Formula("Wash", {"capb-30": 50, "kaolin": 50}, td.Catalogue.starter())
    /// >>> float(bar.measure(td.measure.active_matter))
    /// 15.0
    /// >>> float(bar.measure(td.measure.active_matter, td.finished(moisture=5))) > 15
    /// True
    ///
    /// A substance or raw material is known by the formula or the starter catalogue, or else by the `catalogue` given. What a raw material
    /// leaves open has ends and no typical value.
    ///
    /// >>> td.Formula("Scented", {"kaolin": 99, "fragrance-oil": 1}, td.Catalogue.starter()).measure(td.measure.substance("LIMONENE")).text()
    /// 'not known (0.00 to 1.00) %'
    #[pyo3(signature = (measure, basis=None, *, catalogue=None))]
    fn measure(&self, py: Python<'_>, measure: AMeasure, basis: Option<Basis>, catalogue: Option<&Catalogue>) -> Outcome<Measured> {
        let basis = basis.map_or_else(Default::default, |basis| basis.0);
        let again = self.measured_again(&measure.0, &basis);
        let read = || match catalogue {
            Some(catalogue) => self.0.measure_with(&measure.0, &basis, &catalogue.0),
            None => self.0.measure(&measure.0, &basis),
        };
        Ok(Measured(py.detach(read)?, again.keyword("catalogue", catalogue.cloned().map(Given::Catalogue))))
    }

    /// Reads the usual measures; a table in a notebook.
    ///
    /// >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
    /// >>> clay.measures()[0].measure.name
    /// 'active matter'
    #[pyo3(signature = (basis=None))]
    fn measures(&self, py: Python<'_>, basis: Option<Basis>) -> Outcome<Table> {
        let basis = basis.map_or_else(Default::default, |basis| basis.0);
        let readings = py.detach(|| self.0.measures(&basis))?;
        let rows = readings.into_iter().map(|reading| {
            let again = self.measured_again(&reading.measure, &basis);
            Measured(reading, again)
        });
        let (formula, on) = (self.0.clone(), basis.clone());
        Ok(Table::new(py, rows, move || formula.measure_page(&on))?)
    }

    /// This formula and a later one, side by side.
    ///
    /// >>> cat = td.Catalogue.starter()
    /// >>> first = td.Formula("First", {"sci-powder": 60, "kaolin": 40}, cat)
    /// >>> second = td.Formula("Second", {"sci-powder": 55, "corn-starch": 45}, cat)
    /// >>> [(row.name, row.before, row.after) for row in first.difference(second).lines][0]
    /// ('sci-powder', Fraction(60, 1), Fraction(55, 1))
    fn difference(&self, py: Python<'_>, after: &Self) -> Outcome<Difference> {
        Ok(py.detach(|| Difference::new(self, after))?)
    }

    /// Replaces the raw material of a line by another, keeping these measures exactly where that is possible, else as nearly as it is; the
    /// other lines change least. A name is looked up in the catalogue, in the starter catalogue where none is given.
    ///
    /// >>> wash = td.Formula("Wash", {"capb-30": 20, "glycerin-99-5": 5, "water": 75}, td.Catalogue.starter())
    /// >>> substitution = wash.substitute("capb-30", "coco-glucoside-50", keep=[td.measure.active_matter])
    /// >>> substitution.after.percentages["coco-glucoside-50"], substitution.is_exact
    /// (Decimal('11.7647'), True)
    /// >>> print(wash.substitute("water", "glycerin-99-5", keep=td.measure.water).sentence.split(";")[0])
    /// it cannot be done exactly
    #[pyo3(signature = (line, replacement, keep, catalogue=None))]
    fn substitute(&self, py: Python<'_>, line: &str, replacement: AMaterial, keep: Measures, catalogue: Option<&Catalogue>) -> Outcome<Substitution> {
        let replacement = replacement.find(&Catalogue::or_starter(catalogue).0)?;
        Ok(Substitution(watched(py, None, |watch| self.0.substitute_watched(line, &replacement, &keep.0, watch))?))
    }

    /// The raw materials of a catalogue (the starter one where none is given) that match a line's in class, form, pH range and attributes,
    /// ranked by how little they disturb the formula with these measures kept. What is not stated does not match.
    ///
    /// >>> bar = td.Formula("Bar", {"stearic-acid": 20, "kaolin": 80}, td.Catalogue.starter())
    /// >>> bar.candidates("stearic-acid", keep=td.measure.class_("fatty-acid")).line
    /// 'stearic-acid'
    #[pyo3(signature = (line, keep, catalogue=None))]
    fn candidates(&self, py: Python<'_>, line: &str, keep: Measures, catalogue: Option<&Catalogue>) -> Outcome<Candidates> {
        let catalogue = Catalogue::or_starter(catalogue);
        watched(py, None, |watch| Candidates::new(self, line, catalogue, keep.0, watch))
    }

    /// Lines and usual measures on these bases, as charged where none is given.
    #[pyo3(signature = (*bases: "Basis"))]
    fn page(&self, bases: Vec<Basis>) -> Outcome<Page> {
        Ok(Page(self.0.page(&on(bases))?))
    }

    /// The formula weighed out: so many `bars` of a `net` mass with what is lost on the way, or a `mass` (pressed as so many bars).
    ///
    /// `readability` is what the scale counts in, `readability_of` that of phases weighed on another one; `tolerance` is the rounding
    /// error in percent of a line that is accepted without a note.
    ///
    /// >>> clay = td.Formula("Clay", {"kaolin": 85, "water": 15}, td.Catalogue.starter())
    /// >>> batch = clay.batch(bars=24, net="60 g", drying_loss=8, process_loss=4, readability="0.1 g")
    /// >>> batch.weighed
    /// Fraction(8152, 5)
    #[pyo3(signature = (*, bars=None, net=None, mass=None, drying_loss=None, process_loss=None, readability, readability_of=None, unit=None, tolerance=None, number=None, date=None))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn batch(
        &self,
        bars: Option<u32>,
        net: Option<AMass>,
        mass: Option<AMass>,
        drying_loss: Option<Number>,
        process_loss: Option<Number>,
        readability: AMass,
        readability_of: Option<IndexMap<String, AMass>>,
        unit: Option<&str>,
        tolerance: Option<Number>,
        number: Option<&str>,
        date: Option<Day>,
    ) -> Outcome<Batch> {
        let mass_text = |mass: &AMass| Given::Text(mass.0.to_string());
        let again = Again::new(self, "batch")
            .keyword("bars", bars.map(Given::Whole))
            .keyword("net", net.as_ref().map(mass_text))
            .keyword("mass", mass.as_ref().map(mass_text))
            .keyword("drying_loss", drying_loss.as_ref().map(|loss| loss.0.clone().into()))
            .keyword("process_loss", process_loss.as_ref().map(|loss| loss.0.clone().into()))
            .keyword("readability", Some(mass_text(&readability)))
            .keyword(
                "readability_of",
                readability_of.as_ref().map(|each| Given::ByName(each.iter().map(|(name, mass)| (name.clone(), mass.0.to_string())).collect())),
            )
            .keyword("unit", unit.map(|unit| Given::Text(unit.to_string())))
            .keyword("tolerance", tolerance.as_ref().map(|tolerance| tolerance.0.clone().into()))
            .keyword("number", number.map(|number| Given::Text(number.to_string())))
            .keyword("date", date.map(|day| Given::Text(day.0.to_string())));
        let size = Batch::size_of(bars, net, mass, drying_loss, process_loss)?;
        let scales = Batch::scales_of(readability, readability_of, unit, tolerance)?;
        let mut batch = self.0.batch(size, scales)?;
        if let Some(number) = number {
            batch = batch.numbered(number)?;
        }
        let batch = match date {
            Some(date) => batch.dated(date.0),
            None => batch,
        };
        Ok(Batch(batch, again))
    }

    /// What it is as a solution in its own water and that of a dilution by mass ("1+0" for none), for typical compositions. Whatever holds
    /// surfactant or free fatty acid is refused: a reading rules there.
    ///
    /// >>> rinse = td.Formula("Rinse", {"citric-acid-50": 1, "water": 99}, td.Catalogue.starter())
    /// >>> round(rinse.solution().ph, 2)
    /// 2.39
    #[pyo3(signature = (*, dilution="1+0", temperature=25.0))]
    fn solution(&self, py: Python<'_>, dilution: &str, temperature: f64) -> Outcome<Solution> {
        Solution::of(py, self, dilution, temperature)
    }

    /// A titration of a hundred grams of it with up to `most` of a raw material, reckoned by the model: for solutions without surfactant.
    ///
    /// >>> cat = td.Catalogue.starter()
    /// >>> rinse = td.Formula("Rinse", {"citric-acid-50": 1, "water": 99}, cat)
    /// >>> print(rinse.reckoned_titration(cat.material("sodium-hydroxide-10"), most="3 g").grams_at(5))
    /// 1.95 (typical only)
    #[pyo3(signature = (reagent, *, most, dilution="1+0", temperature=25.0))]
    fn reckoned_titration(&self, py: Python<'_>, reagent: Material, most: AMass, dilution: &str, temperature: f64) -> Outcome<Titration> {
        let again = Again::new(self, "reckoned_titration")
            .argument(Given::Material(reagent.clone()))
            .keyword("most", Some(Given::Text(most.0.to_string())))
            .keyword("dilution", Some(Given::Text(dilution.to_string())))
            .keyword("temperature", Some(Given::Float(temperature)));
        let dilution = dilution.parse()?;
        Ok(Titration(py.detach(|| self.0.reckoned_titration(reagent.0, &most.0, &dilution, temperature))?, Some(again)))
    }

    /// The formula of a batch to which so much of a raw material was added.
    ///
    /// >>> cat = td.Catalogue.starter()
    /// >>> bar = td.Formula("Bar", {"sci-powder": 60, "kaolin": 40}, cat)
    /// >>> bar.with_addition(cat.material("citric-acid-50"), "8 g", batch="2 kg").percentages["citric-acid-50"]
    /// Decimal('0.3984')
    #[pyo3(signature = (material, added, *, batch))]
    fn with_addition(&self, material: Material, added: AMass, batch: AMass) -> Outcome<Self> {
        Ok(Formula(self.0.with_addition(&material.0, &added.0, &batch.0)?))
    }

    /// The pH ranges of its raw materials together.
    ///
    /// >>> bar = td.Formula("Bar", {"sci-powder": 99, "sodium-benzoate": 1}, td.Catalogue.starter())
    /// >>> bar.ph_window().range
    /// (Decimal('5'), Decimal('5.5'))
    fn ph_window(&self) -> PhWindow {
        PhWindow(self.0.ph_window(), Again::new(self, "ph_window"))
    }

    /// How much of its acid preservatives is undissociated at a reading: an upper bound, against thresholds in percent of the product that
    /// you set by acid.
    ///
    /// >>> bar = td.Formula("Bar", {"sci-powder": 99.5, "sodium-benzoate": 0.5}, td.Catalogue.starter())
    /// >>> rows = bar.preservatives_at(td.Reading(5.5, dilution="1+9"), thresholds={"benzoic acid": 0.05})
    /// >>> rows[0].acid, round(rows[0].fraction, 3), rows[0].standing
    /// ('benzoic acid', 0.048, 'below, even at most')
    #[pyo3(signature = (reading, *, thresholds=None))]
    fn preservatives_at(&self, py: Python<'_>, reading: Reading, thresholds: Option<ByName>) -> Outcome<Table> {
        let thresholds = thresholds.map_or_else(|| Ok(Vec::new()), |thresholds| thresholds.decimals(Quantity::Percent))?;
        let thresholds: Vec<(&str, Decimal)> = thresholds.iter().map(|(name, value)| (name.as_str(), *value)).collect();
        let state = self.0.preservatives_at(&reading.0, &thresholds)?;
        let page = state.page();
        Ok(Table::new(py, state.rows().iter().map(undissociated), move || Ok(page.clone()))?)
    }

    /// This formula compared with the rules of a market for its uses on a day, with what else is stated of the product.
    ///
    /// `use` is one use or several; the product is judged for each. `ph` is a reading in a dispersion, `moisture` the residual moisture in
    /// percent of the finished bar, `kept` "wet" or "dry" between uses, `placing` "placed" or "made-available", `water_activity` that of
    /// the unused bar. A `scent_limit` in percent needs its `scent_category`. `rules` are lists of your own beside the embedded ones.
    ///
    /// >>> bar = td.Formula("Wet", {"water": 20, "kaolin": 80}, td.Catalogue.starter())
    /// >>> review = bar.review(market="US", use="cleansing-bar", on="2026-11-24", water_activity=0.9)
    /// >>> [finding.slug for finding in review.findings if finding.severity == "warning"][:2]
    /// ['water-activity-above-mark', 'use-level-high']
    #[pyo3(signature = (*, market, r#use, on=None, placing=None, ph=None, moisture=None, kept=None, water_activity=None, scent_limit=None, scent_category=None, rules=None))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn review(
        &self,
        py: Python<'_>,
        market: Word<Market>,
        r#use: Names,
        on: Option<Day>,
        placing: Option<Word<Placing>>,
        ph: Option<&Reading>,
        moisture: Option<Number>,
        kept: Option<Word<Storage>>,
        water_activity: Option<Number>,
        scent_limit: Option<Number>,
        scent_category: Option<&str>,
        rules: Option<Several<RuleList>>,
    ) -> Outcome<Review> {
        let stated = Stated::new(market, r#use, on, placing, ph, moisture, kept, water_activity, scent_limit, scent_category, rules)?;
        Review::new(py, self, stated)
    }

    /// What goes on the label in a `market` ("EU", "US") on a day: `placing` is "placed" or "made-available", `contact` "rinse-off" or
    /// "leave-on", `scent` "own" (oils by name) or "together". `declarations` are suppliers' statements on scent constituents.
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
        net: Option<AMass>,
        residual_moisture: Option<Number>,
        nano: Option<Names>,
        declarations: Several<ScentDeclaration>,
        flavour: bool,
        naked: bool,
    ) -> Outcome<Label> {
        let flags = [flavour, naked];
        let asked = label::Asked { market, on, placing, contact, scent, net, residual_moisture, nano, declarations: declarations.0, flags };
        let again = asked.again(self);
        let request = asked.request()?;
        Ok(Label(py.detach(|| self.0.label(&request))?, again))
    }

    /// The systemic exposure to a substance, as an ingredient and contained in others: of a `product` type of the SCCS Notes of Guidance, or
    /// of an `amount` in g a day of which `retained_percent` stays. The dose without adverse effect is `oral_dose` or `systemic_dose`, in mg
    /// a day and kg of body weight; absorptions are percent, the guidance's defaults where none is given.
    ///
    /// >>> bar = td.Formula("Bar", {"kaolin": 99, "panthenol": 1}, td.Catalogue.starter())
    /// >>> bar.exposure("PANTHENOL", product="shampoo", absorption=10).margin is None
    /// True
    #[pyo3(signature = (substance, *, product=None, amount=None, retained_percent=None, absorption=None, oral_dose=None, oral_absorption=None, systemic_dose=None, body_weight=None, basis=None))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn exposure(
        &self,
        py: Python<'_>,
        substance: &str,
        product: Option<&str>,
        amount: Option<Number>,
        retained_percent: Option<Number>,
        absorption: Option<Number>,
        oral_dose: Option<Number>,
        oral_absorption: Option<Number>,
        systemic_dose: Option<Number>,
        body_weight: Option<Number>,
        basis: Option<Basis>,
    ) -> Outcome<Exposure> {
        let asked = exposure::Asked { product, amount, retained_percent, absorption, oral_dose, oral_absorption, systemic_dose, body_weight };
        let again = asked.again(self, substance, basis.as_ref());
        let request = asked.request()?;
        let basis = basis.map_or_else(Default::default, |basis| basis.0);
        Ok(Exposure(py.detach(|| self.0.exposure(substance, &request, &basis))?, again))
    }

    /// This formula as a raw material of another: a premix.
    ///
    /// >>> cat = td.Catalogue.starter()
    /// >>> wash = td.Formula("Wash powder", {"sci-powder": 80, "kaolin": 20}, cat).to_material("wash-powder", form="powder")
    /// >>> td.Formula("Bar", {"wash-powder": 90, "glycerin-99-5": 10}, cat.with_material(wash)).lines[0].material.id
    /// 'wash-powder'
    #[pyo3(signature = (id, *, form))]
    fn to_material(&self, id: &str, form: Word<Form>) -> Outcome<Material> {
        Ok(Material(Arc::new(self.0.to_material(id, form.0)?)))
    }

    /// With prices per kilogram by material id, so that cost can be read off it.
    ///
    /// >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter()).with_prices({"kaolin": 1.9}, currency="EUR")
    /// >>> clay.measure(td.measure.cost).text()
    /// '1.90 EUR per kg'
    #[pyo3(signature = (prices, *, currency="currency"))]
    fn with_prices(&self, prices: ByName, currency: &str) -> Outcome<Self> {
        Ok(Formula(self.0.clone().with_prices(Some(Arc::new(price_list(&prices, currency)?)))))
    }

    /// With another title.
    fn with_title(&self, title: &str) -> Outcome<Self> {
        Ok(Formula(self.0.clone().with_title(title)?))
    }

    /// As a TOML document that needs no catalogue.
    fn to_toml(&self) -> Outcome<String> {
        Ok(self.0.write(Notation::Toml)?)
    }

    /// As a JSON document that needs no catalogue.
    fn to_json(&self) -> Outcome<String> {
        Ok(self.0.write(Notation::Json)?)
    }

    /// Reads a formula document in TOML.
    ///
    /// >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
    /// >>> td.Formula.from_toml(clay.to_toml()) == clay == td.Formula.from_json(clay.to_json())
    /// True
    #[classmethod]
    fn from_toml(_class: &Bound<'_, PyType>, py: Python<'_>, text: &str) -> Outcome<Self> {
        Ok(Formula(reading(py, [text], |[text]| tenside::formula::Formula::read(text, Notation::Toml))?))
    }

    /// Reads a formula document in JSON.
    #[classmethod]
    fn from_json(_class: &Bound<'_, PyType>, py: Python<'_>, text: &str) -> Outcome<Self> {
        Ok(Formula(reading(py, [text], |[text]| tenside::formula::Formula::read(text, Notation::Json))?))
    }

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> Outcome<(Bound<'py, PyAny>, (String,))> {
        Ok((slf.get_type().getattr("from_json")?, (slf.get().to_json()?,)))
    }

    fn _repr_html_(&self) -> Outcome<String> {
        Ok(self.0.page(&on(Vec::new()))?.html())
    }

    fn __str__(&self) -> Outcome<String> {
        Ok(self.0.page(&on(Vec::new()))?.text(WIDTH))
    }

    fn __repr__(&self) -> String {
        format!("<Formula {:?} of {} lines>", self.0.title(), self.0.lines().len())
    }
}

fn expanded(row: &Expanded) -> ExpandedRow {
    ExpandedRow {
        inci: row.substance.inci().to_string(),
        percent: Interval(row.percent.clone()),
        lines: row.lines.clone(),
        declaration: row.declaration.to_string(),
    }
}

/// The bases named, as charged where none is.
pub(crate) fn on(bases: Vec<Basis>) -> Vec<tenside::measure::Basis> {
    if bases.is_empty() { vec![tenside::measure::Basis::AsCharged] } else { bases.into_iter().map(|basis| basis.0).collect() }
}

pub(crate) fn phase(name: &str, temperature: Option<Number>) -> Outcome<tenside::formula::Phase> {
    let phase = tenside::formula::Phase::new(name)?;
    Ok(match temperature {
        Some(temperature) => phase.at(temperature.decimal(Quantity::Temperature)?)?,
        None => phase,
    })
}

pub(crate) fn price_list(prices: &ByName, currency: &str) -> Outcome<PriceList> {
    Ok(PriceList::new(currency, prices.decimals(Quantity::Price)?)?)
}

pub(crate) fn price_by_id(prices: &PriceList) -> IndexMap<String, Decimal> {
    prices.iter().map(|(id, price)| (id.to_string(), price)).collect()
}
