//! Properties of numbers, masses and apportioning.

use proptest::prelude::*;
use tenside::number::{Date, Exact, Mass, MassUnit, Ppm, apportion};

proptest! {
    #[test]
    fn a_mass_comes_back_from_every_unit(numerator in 0i64..1_000_000_000, denominator in 1i64..1_000_000) {
        let grams = Exact::ratio(numerator, denominator);
        let mass = Mass::new(&grams, MassUnit::Gram)?;
        for &unit in MassUnit::ALL {
            prop_assert_eq!(&Mass::new(mass.in_unit(unit), unit)?, &mass);
        }
    }

    #[test]
    fn apportioned_shares_sum_to_the_whole_and_stay_within_one(weights in prop::collection::vec(0i64..1000, 1..20), total in 0i64..2_000_000) {
        let sum: i64 = weights.iter().sum();
        prop_assume!(sum > 0);
        let exact: Vec<Exact> = weights.iter().map(|&weight| Exact::from(weight)).collect();
        let shares = apportion(&exact, total)?.units;
        prop_assert_eq!(shares.iter().sum::<i64>(), total);
        for (share, weight) in shares.iter().zip(&weights) {
            let distance = (Exact::from(*share) - Exact::ratio(weight * total, sum)).abs();
            prop_assert!(distance < Exact::ONE, "{} parts for {} of {}", share, weight, sum);
        }
    }

    #[test]
    fn a_percentage_on_the_grid_is_read_as_printed(parts in 0u32..=1_000_000) {
        let percent = Ppm::from_parts(parts)?;
        prop_assert_eq!(Ppm::from_percent(percent.to_string())?, percent);
    }
}

#[test]
fn a_date_prints_as_it_is_written_and_is_written_one_way() -> Result<(), tenside::Error> {
    assert_eq!("2026-11-24".parse::<Date>()?.to_string(), "2026-11-24");
    for bad in ["20261124", "2026-11-24T00:00", "26-11-24", "2026-13-01", ""] {
        assert!(bad.parse::<Date>().is_err(), "{bad}");
    }
    Ok(())
}

/// A number may be given in any way that says the same.
#[test]
fn one_number_given_in_many_ways() {
    use rust_decimal::Decimal;
    use tenside::batch::Mould;
    use tenside::brief::Requirement;
    use tenside::measure::Measure;
    use tenside::reading::Reading;
    let reading = |ph: Reading| ph.to_string();
    let of = |ph: &str| reading(Reading::ph(ph, "1+9".parse().unwrap()).unwrap());
    assert_eq!(reading(Reading::ph(5.6, "1+9".parse().unwrap()).unwrap()), of("5.6"));
    assert_eq!(reading(Reading::ph(Decimal::new(56, 1), "1+9".parse().unwrap()).unwrap()), of("5.6"));
    // What was read to a tenth stays so.
    assert_eq!(of("6.0"), "pH 6.0 at 1+9 by mass");
    // A third is no decimal: it is refused where a decimal is kept, and kept where an exact number is.
    assert!(Reading::ph("16/3", "1+9".parse().unwrap()).unwrap_err().is_not_a_number());
    assert!(Mould::round("200/3").unwrap_err().is_not_a_number());
    let third = Requirement::at_most(Measure::water(), "1/3").unwrap();
    assert_eq!(third.high(), Some(&Exact::ratio(1, 3)));
    assert!(Requirement::at_most(Measure::water(), "a lot").unwrap_err().is_not_a_number());
    assert!(Requirement::equal(Measure::water(), f64::NAN).is_err());
    assert!(Reading::ph(17.5, "1+9".parse().unwrap()).unwrap_err().is_out_of_range());
    assert_eq!(Ppm::from_percent(12.5).unwrap(), Ppm::from_percent("12.5").unwrap());
    assert!(Ppm::from_percent("1/3").unwrap_err().is_out_of_range());
}
