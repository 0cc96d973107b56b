//! Properties of numbers, masses and apportioning.

use proptest::prelude::*;
use tenside::number::{Date, Exact, Mass, MassUnit, Ppm, apportion};

proptest! {
    #[test]
    fn a_mass_comes_back_from_every_unit(numerator in 0i64..1_000_000_000, denominator in 1i64..1_000_000) {
        let grams = Exact::ratio(numerator, denominator);
        let mass = Mass::new(&grams, MassUnit::Gram)?;
        for &unit in MassUnit::ALL {
            prop_assert_eq!(&Mass::new(&mass.in_unit(unit), unit)?, &mass);
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
        prop_assert_eq!(Ppm::from_percent(&percent.to_string())?, percent);
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
