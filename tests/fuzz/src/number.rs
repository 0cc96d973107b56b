//! Numbers, percentages, masses, volumes, dates, CAS numbers and dilutions from arbitrary text.

use std::fmt::{Debug, Display};
use std::str::FromStr;

use tenside::Error;
use tenside::label::NetQuantity;
use tenside::number::{Date, Exact, HalfWay, Mass, MassUnit, Ppm, Volume};
use tenside::reading::Dilution;
use tenside::substance::Cas;

use crate::reading::accepted;

/// Reads `bytes` as every kind of number: none panics, a refusal says something, and what is read comes back from its
/// own print.
pub fn number(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    if let Some(value) = accepted(text.parse::<Exact>().map_err(Error::from)) {
        reads_back(&value);
        rounds_to_its_neighbour(&value);
    }
    if let Some(percent) = accepted(Ppm::from_percent(text)) {
        assert!(percent <= Ppm::WHOLE, "{text:?} was read as {percent:?}, above the whole");
        assert_eq!(Ppm::from_percent(percent.to_string()).ok(), Some(percent), "{text:?}");
        assert_eq!(Ppm::from_percent(percent.percent()).ok(), Some(percent), "{text:?}");
    }
    if let Some(mass) = accepted(text.parse::<Mass>()) {
        assert!(!mass.grams().is_negative(), "{text:?} was read as a mass below 0");
        assert_eq!(Mass::new(mass.in_unit(MassUnit::Ounce), MassUnit::Ounce).ok().as_ref(), Some(&mass), "{text:?}");
        // Past 28 digits a mass prints as a fraction, which is read back all the same.
        reads_back(&mass);
    }
    if let Some(volume) = accepted(text.parse::<Volume>()) {
        assert!(!volume.millilitres().is_negative(), "{text:?} was read as a volume below 0");
        reads_back(&volume);
    }
    if let Some(net) = accepted(text.parse::<NetQuantity>()) {
        reads_back(&net);
    }
    if let Some(date) = accepted(text.parse::<Date>()) {
        reads_back(&date);
    }
    if let Some(number) = accepted(text.parse::<Cas>()) {
        reads_back(&number);
    }
    if let Some(dilution) = accepted(text.parse::<Dilution>()) {
        reads_back(&dilution);
    }
}

fn reads_back<T: FromStr<Err: Display> + Display + Debug + PartialEq>(value: &T) {
    let printed = value.to_string();
    match printed.parse::<T>() {
        Ok(again) => assert_eq!(&again, value, "{printed:?} reads back as another value"),
        Err(error) => panic!("{printed:?} is not read back: {error}"),
    }
}

fn rounds_to_its_neighbour(value: &Exact) {
    let step = Exact::ratio(1, 100);
    let distance = (value.rounded_to(&step, HalfWay::ToEven) - value).abs();
    assert!(distance <= Exact::ratio(1, 200), "{value:?} was rounded by {distance:?}");
}
