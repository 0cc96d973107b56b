//! What is measured on test bars: a name, a unit, a method, and what kind of numbers they are.

use crate::document::Named;
use crate::document::{check_name, named_enum, nearest, shown};
use crate::error::{Error, Fault, FaultKind};

/// What heads the columns of a table of runs that are no results.
pub(super) const RUN: &str = "run";
pub(super) const BLEND: &str = "blend";
pub(super) const WHOLE_PLOT: &str = "whole plot";
pub(super) const LINE: &str = "line.";
pub(super) const SETTING: &str = "setting.";

named_enum! {
    /// The unit of a measured property. Each property has one, for all runs.
    ResultUnit "unit" {
        /// A bare number: a ratio, an index.
        One = "1",
        /// pH.
        Ph = "pH",
        /// Points of a panel.
        Score = "score",
        /// A count.
        Count = "count",
        /// Percent.
        Percent = "%",
        /// Millimetre.
        Millimetre = "mm",
        /// Centimetre.
        Centimetre = "cm",
        /// Micrometre.
        Micrometre = "µm",
        /// Millilitre.
        Millilitre = "mL",
        /// Litre.
        Litre = "L",
        /// Milligram.
        Milligram = "mg",
        /// Gram.
        Gram = "g",
        /// Kilogram.
        Kilogram = "kg",
        /// Gram a wash.
        GramPerWash = "g/wash",
        /// Gram per millilitre.
        GramPerMillilitre = "g/mL",
        /// Newton.
        Newton = "N",
        /// Newton per millimetre.
        NewtonPerMillimetre = "N/mm",
        /// Kilopascal.
        Kilopascal = "kPa",
        /// Megapascal.
        Megapascal = "MPa",
        /// Millinewton per metre: surface tension.
        MillinewtonPerMetre = "mN/m",
        /// Millipascal second: viscosity.
        MillipascalSecond = "mPa.s",
        /// Second.
        Second = "s",
        /// Minute.
        Minute = "min",
        /// Hour.
        Hour = "h",
        /// Day.
        Day = "days",
        /// Degree Celsius.
        Celsius = "°C",
        /// Millimole per litre.
        MillimolePerLitre = "mmol/L",
        /// Nephelometric turbidity unit.
        Turbidity = "NTU",
    }
}

named_enum! {
    /// What kind of numbers a measured property is of.
    ResponseScale "scale" {
        /// Measured on a scale on which differences mean the same everywhere.
        Measured = "measured",
        /// Ordered categories, such as the points of a panel: more is more, but a point more need not mean the same
        /// everywhere.
        Ordered = "ordered",
    }
}

/// A property that is measured on every test bar.
///
/// ```
/// use tenside::trial::{Response, ResponseScale, ResultUnit};
/// let hardness = Response::new("hardness", ResultUnit::Newton)?.by("penetrometer, 24 h after pressing")?;
/// assert_eq!(hardness.heading(), "hardness, N");
/// assert_eq!(Response::new("slip", ResultUnit::Score)?.scale(), ResponseScale::Ordered);
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Response {
    name: String,
    unit: ResultUnit,
    scale: ResponseScale,
    method: Option<String>,
}

getters!(Response {
    /// Its name.
    name: &str,
    /// Its unit.
    unit: ResultUnit,
    /// What kind of numbers it is of.
    scale: ResponseScale,
});

impl Response {
    /// A property with its unit. Points of a panel are ordered, everything else is measured, unless
    /// [`on_scale`](Self::on_scale) says otherwise.
    ///
    /// # Errors
    /// A bad name, or one that means something else in a table of runs.
    pub fn new(name: &str, unit: ResultUnit) -> Result<Self, Error> {
        let name = check_name(name)?;
        if [RUN, BLEND, WHOLE_PLOT].contains(&name.as_str()) || name.starts_with(LINE) || name.starts_with(SETTING) {
            let fault = Fault::new(FaultKind::Duplicate, "this name means something else in a table of runs")
                .value(shown(&name));
            return Err(fault.remedy("call the measured property otherwise").into());
        }
        let scale = if unit == ResultUnit::Score { ResponseScale::Ordered } else { ResponseScale::Measured };
        Ok(Response { name, unit, scale, method: None })
    }

    /// Measured by this method.
    ///
    /// # Errors
    /// A bad name.
    pub fn by(mut self, method: &str) -> Result<Self, Error> {
        self.method = Some(check_name(method)?);
        Ok(self)
    }

    /// With numbers of another kind.
    #[must_use]
    pub fn on_scale(mut self, scale: ResponseScale) -> Self {
        self.scale = scale;
        self
    }

    /// From the heading of a column: `hardness, N`.
    ///
    /// # Errors
    /// No unit, or one that nobody knows.
    pub fn of_heading(heading: &str) -> Result<Self, Error> {
        let Some((name, unit)) = heading.rsplit_once(',') else {
            let fault = Fault::new(FaultKind::Missing, "a column of results without a unit")
                .value(shown(heading))
                .allowed("a name, a comma and a unit: \"hardness, N\"");
            return Err(fault
                .remedy(
                    "write the unit behind the name, \"1\" for a bare number; columns of lines begin with \"line.\", \
                     of settings with \"setting.\"",
                )
                .into());
        };
        Response::new(name, unit_of(unit.trim())?)
    }

    /// How it is measured, if stated.
    #[must_use]
    pub fn method(&self) -> Option<&str> {
        self.method.as_deref()
    }

    /// Name and unit, as columns and axes say them.
    #[must_use]
    pub fn heading(&self) -> String {
        format!("{}, {}", self.name, self.unit)
    }
}

/// The unit of that name, as written: `N` and `n` are two.
pub(super) fn unit_of(text: &str) -> Result<ResultUnit, Error> {
    // The two signs for micro look alike.
    let text = text.replace('\u{3bc}', "µ");
    ResultUnit::from_slug(&text).ok_or_else(|| {
        let known: Vec<&str> = ResultUnit::ALL.iter().map(|unit| unit.slug()).collect();
        let fault = Fault::new(FaultKind::UnknownName, "unknown unit").value(shown(&text)).allowed(known.join(", "));
        match nearest(&text, known.iter().copied()) {
            Some(near) => fault.remedy(format!("did you mean {near:?}?")).into(),
            None => {
                fault.remedy("convert the results to one of these, or give them as bare numbers with unit \"1\"").into()
            }
        }
    })
}
