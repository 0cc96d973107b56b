//! The Rust half of `cargo xtask demo`.

use tenside::number::{Mass, MassUnit};

fn main() -> Result<(), tenside::Error> {
    let net: Mass = "60 g".parse()?;
    println!("Rust:   tenside {}, a bar of {net} is {} oz", env!("CARGO_PKG_VERSION"), net.in_unit(MassUnit::Ounce).rounded_text(2));
    Ok(())
}
