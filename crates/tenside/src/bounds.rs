//! The one table of every quantity: its unit, its lowest and highest value, and where the range comes from.
//!
//! Range messages are made from this table, so that a limit stands in one place.

use rust_decimal::Decimal;

use crate::error::{Error, Fault, FaultKind};
use crate::number::Exact;

/// A row of the table.
#[derive(Clone, Copy, Debug)]
pub struct Bound {
    /// What the quantity is called in messages.
    pub name: &'static str,
    /// Its unit.
    pub unit: &'static str,
    /// Lowest allowed value, in thousandths.
    lowest_thousandths: i64,
    /// Highest allowed value, in thousandths.
    highest_thousandths: i64,
    /// Where the range comes from.
    pub source: &'static str,
}

macro_rules! quantities {
    ($($(#[doc = $doc:literal])* $variant:ident: $name:literal, $unit:literal, $lowest:literal to $highest:literal, $source:literal;)*) => {
        /// A quantity that people type.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum Quantity {
            $($(#[doc = $doc])* $variant,)*
        }

        impl Quantity {
            /// Every quantity.
            pub const ALL: &[Quantity] = &[$(Quantity::$variant,)*];

            /// The row of the table.
            #[must_use]
            pub const fn bound(self) -> Bound {
                match self {
                    $(Quantity::$variant => Bound { name: $name, unit: $unit, lowest_thousandths: $lowest, highest_thousandths: $highest, source: $source },)*
                }
            }
        }
    };
}

quantities! {
    /// Percent by mass of a formula line or a composition share.
    Percent: "percentage", "% w/w", 0 to 100_000, "by definition";
    /// pH of a dispersion or solution.
    Ph: "pH", "", -2_000 to 16_000, "widest range met in water, common practice, no source";
    /// Molar mass.
    MolarMass: "molar mass", "g/mol", 1_000 to 10_000_000_000, "hydrogen to large polymers, common practice, no source";
    /// Acid dissociation constant, negative decadic logarithm.
    Pka: "pKa", "", -20_000 to 60_000, "widest range tabulated, common practice, no source";
    /// Density.
    Density: "density", "g/mL", 10 to 25_000, "aerogels to heavy metals, common practice, no source";
    /// A temperature.
    Temperature: "temperature", "°C", -100_000 to 400_000, "what a workshop can meet, common practice, no source";
    /// Charge number of a molecule.
    ChargePerMole: "charge", "elementary charges per molecule", -20_000 to 20_000, "small molecules, common practice, no source";
    /// Charge density of a polymer.
    ChargePerGram: "charge density", "mmol/g", -30_000 to 30_000, "strongest polyelectrolytes, common practice, no source";
    /// Number of lines of a brief or formula.
    Lines: "number of lines", "lines", 1_000 to 1_000_000, "longer than any recipe, common practice, no source";
    /// One part of a split.
    SplitPart: "part of a split", "parts", 1 to 1_000_000_000, "a part of nothing is no part; common practice, no source";
    /// Price of a raw material.
    Price: "price", "per kg", 0 to 1_000_000_000, "a disposal fee is a cost of its own and no price; common practice, no source";
    /// A batch or net mass.
    Mass: "mass", "g", 0 to 100_000_000_000, "up to a hundred tonnes, common practice, no source";
    /// A net volume.
    Volume: "volume", "ml", 0 to 100_000_000_000, "up to a hundred cubic metres, common practice, no source";
    /// Number of bars.
    Bars: "number of bars", "bars", 1_000 to 10_000_000_000, "at least one; common practice, no source";
    /// Net mass of one bar.
    UsualBar: "net mass of a bar", "g", 5_000 to 1_000_000, "guest soaps to soap blocks, common practice, no source";
    /// A loss in percent, below 100.
    Loss: "loss", "%", 0 to 99_900, "something must be left; by definition";
    /// Residual moisture of a finished product.
    Moisture: "residual moisture", "% of the finished product", 0 to 99_900, "something must be left; by definition";
    /// A scale's readability: one division of it.
    Readability: "scale division", "mg", 1 to 100_000_000_000, "microbalance to weighbridge, common practice, no source";
    /// The rounding error of a weighed line that is still accepted.
    RoundingTolerance: "rounding tolerance", "% of the line", 100 to 5_000, "usual are 1 to 2 %, common practice, no source";
    /// The step that percentages of a rounded formula are multiples of.
    RoundingStep: "rounding step", "% w/w", 1 to 100_000, "ten grid steps to the whole, common practice, no source";
    /// Temperature of a solution whose pH is calculated.
    SolutionTemperature: "temperature of a solution", "°C", 15_000 to 40_000, "the constants of water are tabulated for it";
    /// Concentration of one acid, base or ion in a solution whose pH is calculated.
    Molality: "concentration", "mol/kg of water", 0 to 3_000, "six times what the Davies equation holds for, our choice";
    /// All concentrations of such a solution together.
    MolalitySum: "sum of the concentrations", "mol/kg of water", 0 to 6_000, "twice the highest single one, our choice";
    /// The pH that may come out for a solution.
    SolutionPh: "pH of a solution", "", 0 to 14_000, "about 0.5 mol/kg of strong acid or alkali, our choice";
    /// Charge of the forms of an acid or base.
    AcidCharge: "charge of an acid's form", "elementary charges", -6_000 to 6_000, "small molecules, our choice";
    /// Dissociation constant of an acid or base in a solution whose pH is calculated.
    SolutionPka: "pKa in a solution", "", -10_000 to 24_000, "stronger acids and bases are strong ions in water, our choice";
    /// Enthalpy of one ionisation step.
    IonisationEnthalpy: "ionisation enthalpy", "kJ/mol", -200_000 to 200_000, "widest range tabulated, common practice, no source";
    /// Decimal logarithm of a constant of ion pairing.
    PairingConstant: "constant of ion pairing", "decimal logarithm", -3_000 to 10_000, "weak pairs of alkali ions, our choice";
    /// The Davies constant of water.
    DaviesConstant: "Davies constant", "(kg/mol)^(1/2)", 300 to 1_000, "water from 0 to 100 °C, from memory";
    /// Ion product of water, negative decadic logarithm.
    Pkw: "pKw", "", 12_000 to 16_000, "water from 0 to 100 °C, from memory";
    /// How many of an ion or acid a formula unit brings.
    IonCount: "number of ions in a formula unit", "ions", 1_000 to 12_000, "small molecules, our choice";
    /// Formulas and briefs of a history.
    Ancestry: "number of documents of a history", "documents", 0 to 10_000_000, "more than a maker keeps, our choice";
    /// Steps of a method, and what a record lists: tests, readings, equipment, deviations.
    RecordEntries: "number of entries of a record", "entries", 0 to 1_000_000, "a thousand, more than a day has, our choice";
    /// How long a step of a method takes.
    StepTime: "time of a step", "min", 0 to 1_000_000_000, "up to two years of curing, common practice, no source";
    /// What a pH reading may be off by.
    PhUncertainty: "uncertainty of a pH reading", "pH", 0 to 1_000, "a usual electrode reads to 0.02 to 0.1, common practice, no source";
    /// Time from dispersing to reading.
    Waiting: "time before the reading", "min", 0 to 100_000_000, "up to some months, common practice, no source";
    /// What one part of a substance counts in a sum of substances.
    SumFactor: "factor of a substance in a sum", "parts for one part", 0 to 1_000_000, "common practice, no source";
    /// Water activity.
    WaterActivity: "water activity", "", 0 to 1_000, "by definition";
    /// What a person uses of a product in a day.
    DailyAmount: "daily amount", "g a day", 0 to 1_000_000, "a kilogram a day is more than any cosmetic, common practice, no source";
    /// A dose without adverse effect.
    Dose: "dose", "mg/kg of body weight a day", 0 to 1_000_000_000, "up to all of the body weight, by definition";
    /// The weight of a person.
    BodyWeight: "body weight", "kg", 500 to 300_000, "newborn to heaviest, common practice, no source";
    /// A score a user gives a raw material.
    Score: "score", "", -1_000_000_000_000 to 1_000_000_000_000, "common practice, no source";
    /// Points on one axis of a what-if sweep.
    AxisPoints: "number of points on an axis", "points", 1_000 to 10_000_000_000, "ten million; what is kept of an axis";
    /// Steps of a simplex lattice.
    LatticeSteps: "number of steps of a lattice", "steps", 1_000 to 10_000_000, "shares of 100 to 0.01 %, common practice, no source";
    /// Requirements of a brief.
    Requirements: "number of requirements", "requirements", 0 to 10_000_000, "ten thousand; longer than any list of limits, our choice";
    /// A document that is read, or a sheet of one.
    DocumentLength: "length of a document", "bytes", 0 to 32_000_000_000, "32 million, twenty-five times the starter catalogue, our choice; reading one takes some 2 GB of memory";
    /// Bases that one page shows its measures on.
    Bases: "number of bases on a page", "bases", 0 to 20_000, "twenty; more columns than a page holds, our choice";
    /// Measures that a substitution keeps.
    KeptMeasures: "number of measures to keep", "measures", 0 to 100_000, "a hundred; each is a row of the program, our choice";
    /// Constituents of a raw material, and use levels and the like stated of it.
    Stated: "number of constituents or statements", "rows", 0 to 1_000_000, "a thousand, more than any data sheet has, our choice";
    /// Phases of a formula.
    Phases: "number of phases", "phases", 0 to 1_000_000, "a thousand, as many as lines";
    /// Things handed over one by one: names, measures, parts, readings.
    Entries: "number of entries", "entries", 0 to 1_000_000_000, "a million, our choice";
    /// Rows picked out of a sweep.
    PickedRows: "number of rows picked", "rows", 0 to 10_000_000_000, "ten million, as many as an axis has points";
    /// Corners of what a brief allows that are listed.
    Corners: "number of corners", "", 1_000 to 100_000_000, "a hundred thousand, our choice";
    /// Samples drawn at once.
    Samples: "number of samples", "", 1_000 to 10_000_000_000, "ten million, our choice";
    /// Bins of a histogram.
    Bins: "number of bins", "bins", 1_000 to 100_000_000, "a hundred thousand, our choice";
    /// Rows of a sweep that are kept as best.
    KeptRows: "number of rows to keep", "rows", 1_000 to 1_000_000_000, "a million, our choice";
    /// Parts that a sweep is cut into.
    SweepParts: "number of parts", "parts", 1_000 to 1_000_000_000, "a million, our choice";
    /// Time after which a search ends with what it has.
    Seconds: "time limit of a search", "s", 0 to 1_000_000_000_000, "some thirty years, our choice";
    /// How sure something is to be.
    Confidence: "confidence", "%", 50_000 to 99_999, "less is a coin, more no sample can give; our choice";
    /// The standard deviation of bars.
    Spread: "standard deviation", "g", 1 to 1_000_000, "a thousandth of a gram to a kilogram, our choice";
    /// A day of a weigh-in.
    Day: "day", "days", 0 to 10_000_000, "some thirty years, our choice";
    /// Weigh-ins that are fitted together.
    WeighIns: "number of weigh-ins", "weigh-ins", 4_000 to 100_000_000, "plateau, loss and rate need four; a hundred thousand, our choice";
    /// How near bars are to come to their final weight.
    DryingTolerance: "tolerance of the final weight", "%", 10 to 20_000, "balances see no less, bars lose little more; common practice, no source";
    /// A length of a mould or bar.
    Length: "length", "mm", 1_000 to 1_000_000, "from a sample to a block, common practice, no source";
    /// The height of a mould's dome, and the radius of its corners.
    Dome: "dome or corner of a mould", "mm", 0 to 500_000, "half of the longest mould, our choice";
    /// By how much the walls of a mould open.
    Draft: "draft of a mould", "degrees", 0 to 45_000, "usual are 1 to 10, common practice, no source";
    /// What a bar costs.
    BarPrice: "price of a bar", "per bar", 0 to 1_000_000_000, "common practice, no source";
    /// The number of points of a curve.
    CurvePoints: "number of points of a curve", "points", 2_000 to 10_000_000, "ten thousand, more than any picture shows, our choice";
    /// An amount of money.
    Amount: "amount of money", "", 0 to 1_000_000_000_000, "a thousand million of any currency, our choice";
    /// What one unit of a currency is in another.
    ExchangeRate: "exchange rate", "", 0 to 1_000_000_000_000, "a rate below 0.001 is exact as a fraction, our choice";
    /// Other currencies with a rate.
    Rates: "number of exchange rates", "rates", 0 to 200_000, "more than there are currencies, common practice, no source";
    /// A tax on purchases.
    Tax: "tax", "%", 0 to 100_000, "as much again as the goods, common practice, no source";
    /// Packs of one size that are bought.
    Packs: "number of packs", "packs", 1_000 to 1_000_000_000, "at least one; a million, our choice";
    /// Packs that a supplier offers, and that all offer of one raw material.
    PackSizes: "number of packs on offer", "packs", 0 to 1_000_000, "a thousand, our choice";
    /// Lots in stock.
    StockLots: "number of lots in stock", "lots", 0 to 10_000_000, "ten thousand, our choice";
    /// Suppliers that are compared.
    Suppliers: "number of suppliers", "suppliers", 0 to 64_000, "a bit of a word each, our choice";
    /// Batches or products that are planned together.
    Planned: "number of batches or products", "planned", 1_000 to 1_000_000, "a thousand, our choice";
    /// A cost in percent of the direct costs.
    Overhead: "overhead", "% of the direct costs", 0 to 1_000_000, "ten times the direct costs, our choice";
    /// A margin: percent of the price.
    Margin: "margin", "% of the price", 0 to 99_900, "a part of the price that leaves something for the cost; by definition";
    /// A markup: percent of the cost.
    Markup: "markup", "% of the cost", 0 to 10_000_000, "a hundred times the cost, our choice";
    /// Washes that one bar gives.
    Washes: "washes a bar gives", "washes", 1_000 to 100_000_000, "at least one; common practice, no source";
    /// Share of a member in its split.
    Share: "share of a split", "%", 0 to 100_000, "by definition";
    /// A setting of the process: press force, cure days.
    ProcessSetting: "setting of a process variable", "", -1_000_000_000 to 1_000_000_000, "a million of any unit, our choice";
    /// Runs that a design chooses.
    DesignRuns: "number of runs", "runs", 1_000 to 1_000_000, "a thousand, more bars than anybody presses for one question; our choice";
    /// How many times every run of a design is made.
    Replicates: "number of replicates", "replicates", 1_000 to 100_000, "a hundred, our choice";
    /// Blocks of a design.
    Blocks: "number of blocks", "blocks", 1_000 to 100_000, "a hundred, our choice";
    /// How many times a search for a design begins anew.
    SearchStarts: "number of starts", "starts", 1_000 to 1_000_000, "a thousand, our choice";
    /// Bars made already that a design goes on from.
    MadeRuns: "number of bars made already", "bars", 0 to 10_000_000, "ten thousand, our choice";
    /// Terms of a model of a mixture.
    ModelTerms: "number of terms of a model", "terms", 1_000 to 400_000, "four hundred, the full cubic of 12 components and more, our choice";
    /// Something measured on a test bar.
    TrialResult: "result of a trial", "", -1_000_000_000_000_000 to 1_000_000_000_000_000, "up to a million million of any unit, our choice";
    /// Batches of one trial.
    TrialRuns: "number of runs of a trial", "runs", 1_000 to 2_000_000, "two thousand, more than anyone presses, our choice";
    /// Properties measured in one trial.
    TrialResponses: "number of measured properties", "properties", 1_000 to 100_000, "at least one; a hundred, our choice";
    /// Columns of a table of runs.
    TrialColumns: "number of columns of a table of runs", "columns", 1_000 to 2_000_000, "a thousand lines and what is measured, our choice";
    /// The exponent of a desirability.
    DesirabilityShape: "shape of a desirability", "", 10 to 100_000, "from nearly a step to a needle, our choice";
    /// How many times the variance of a single run that of a whole plot is.
    WholePlotRatio: "ratio of the variance of whole plots to that of runs", "", 1 to 1_000_000, "a thousandth to a thousand, our choice";
    /// Boxes that a search for the best formula on a model looks at.
    SearchBoxes: "number of boxes of a search", "boxes", 1_000 to 10_000_000_000, "ten million, our choice";
    /// A critical micelle concentration.
    CriticalConcentration: "critical micelle concentration", "mmol/L", 0 to 10_000_000, "ten mol/L, more than any surfactant's, our choice";
    /// How mixed micelles depart from ideal ones.
    MicelleInteraction: "interaction parameter", "", -50_000 to 2_000, "beyond 2 regular solutions separate; published ones reach some -30, from memory";
    /// A mole share of a mixture of surfactants.
    MoleParts: "mole parts", "parts", 0 to 1_000_000_000, "a million, our choice";
    /// Surfactants of one mixed micelle.
    MixedSurfactants: "number of surfactants of a mixed micelle", "surfactants", 1_000 to 20_000, "twenty, more than any formula, our choice";
    /// A concentration of surfactants together.
    SurfactantConcentration: "concentration of surfactants", "mmol/L", 0 to 100_000_000, "a hundred mol/L, more than any solution, our choice";
}

impl Quantity {
    /// Lowest and highest allowed value.
    #[must_use]
    pub fn range(self) -> (Decimal, Decimal) {
        let bound = self.bound();
        (Decimal::new(bound.lowest_thousandths, 3).normalize(), Decimal::new(bound.highest_thousandths, 3).normalize())
    }

    /// The range as text with its unit.
    #[must_use]
    pub fn allowed(self) -> String {
        let (lowest, highest) = self.range();
        format!("{lowest} to {highest} {}", self.bound().unit).trim_end().to_string()
    }

    /// The fault for a value outside the range.
    #[must_use]
    pub fn fault(self, value: impl std::fmt::Display) -> Fault {
        Fault::new(FaultKind::OutOfRange, format!("{} out of range", self.bound().name))
            .value(value)
            .allowed(self.allowed())
    }

    /// Refuses a value outside the range.
    ///
    /// # Errors
    /// The value, with the allowed range.
    pub fn check(self, value: &Exact) -> Result<(), Error> {
        let (lowest, highest) = self.range();
        if *value < Exact::from(lowest) || *value > Exact::from(highest) {
            return Err(self.fault(value).into());
        }
        Ok(())
    }

    /// Refuses a count outside the range.
    pub(crate) fn check_count(self, count: impl Into<Decimal>) -> Result<(), Error> {
        self.check(&Exact::from(count.into()))
    }

    /// The float, if it is a finite number inside the range.
    ///
    /// # Errors
    /// The value, with the allowed range.
    pub fn checked_float(self, value: f64) -> Result<f64, Error> {
        if !value.is_finite() {
            let fault = Fault::new(FaultKind::NotANumber, format!("the {} is no finite number", self.bound().name));
            return Err(fault.value(value).allowed(self.allowed()).into());
        }
        let bound = self.bound();
        // A thousand times a float is rounded; the ends themselves are whole and come out exactly.
        if value * 1000.0 < bound.lowest_thousandths as f64 || value * 1000.0 > bound.highest_thousandths as f64 {
            return Err(self.fault(value).into());
        }
        Ok(value)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_has_a_source_and_an_ordered_range() {
        for quantity in Quantity::ALL {
            let (lowest, highest) = quantity.range();
            assert!(lowest < highest, "{quantity:?}");
            assert!(!quantity.bound().source.is_empty(), "{quantity:?}");
        }
    }

    #[test]
    fn floats_are_held_to_the_same_range() {
        assert_eq!(Quantity::Molality.checked_float(3.0).unwrap(), 3.0);
        assert!(Quantity::Molality.checked_float(3.001).unwrap_err().is_out_of_range());
        assert!(Quantity::Molality.checked_float(-1e-12).unwrap_err().is_out_of_range());
        assert!(Quantity::Molality.checked_float(f64::NAN).unwrap_err().is_not_a_number());
        assert!(Quantity::Molality.checked_float(f64::INFINITY).unwrap_err().is_not_a_number());
    }

    #[test]
    fn a_fault_names_value_and_range() {
        let error = Quantity::Percent.check(&Exact::from(103)).unwrap_err();
        assert_eq!(error.to_string(), "percentage out of range (found 103); allowed: 0 to 100 % w/w");
    }
}
